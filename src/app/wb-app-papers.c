/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-papers.h"

#include "wb-app-paper-order-private.h"

#include <math.h>
#include <string.h>

#include "wb-report-batch.h"
#include "wb-report-log-sheet.h"

static void
set_options (WbReportOptions  *options,
             const WbNotebook *notebook,
             int               paper)
{
  wb_report_options_init (options, notebook);
  if (paper >= 0)
    options->paper = (WbReportPaper) paper;
}

static char *
dup_experiment (const WbDataset *data)
{
  return g_strdup_printf ("%s · %s", data->experiment->code, data->experiment->title);
}

/* ---- Batch sheet ---- */

/* Candles of one cell; owns what the line borrows. */
typedef struct
{
  guint      cell;
  char      *wick;
  GPtrArray *codes;   /* borrowed texts, NULL-terminated once it is full */
} Portion;

static void
portion_free (gpointer data)
{
  Portion *self = data;

  g_free (self->wick);
  g_ptr_array_unref (self->codes);
  g_free (self);
}

static Portion *
get_portion (GPtrArray       *portions,
             const WbDataset *data,
             guint            cell)
{
  Portion *self;

  for (guint i = 0; i < portions->len; i++)
    {
      self = g_ptr_array_index (portions, i);
      if (self->cell == cell)
        return self;
    }
  self = g_new0 (Portion, 1);
  self->cell = cell;
  /* nobody can look the series up at the pouring table */
  self->wick = wb_dataset_dup_wick_title (data, cell);
  self->codes = g_ptr_array_new ();
  g_ptr_array_add (portions, self);
  return self;
}

static WbCraftBatchFill
get_fill (const WbAppPourBatch *batch,
          const WbVessel       *vessel)
{
  for (guint i = 0; i < batch->lines->len; i++)
    {
      const WbAppPourLine *line = &g_array_index (batch->lines, WbAppPourLine, i);

      if (line->vessel == vessel)
        return g_array_index (batch->sheet->fills, WbCraftBatchFill, i);
    }
  return (WbCraftBatchFill) { NAN, NAN, NAN, NAN };
}

static GPtrArray *
gather_portions (const WbDataset      *data,
                 const WbAppPourBatch *batch)
{
  GPtrArray *portions = g_ptr_array_new_with_free_func (portion_free);

  for (guint i = 0; i < batch->samples->len; i++)
    {
      const WbSample *sample = g_ptr_array_index (batch->samples, i);
      guint index = wb_dataset_find_sample (data, sample->record.id);

      if (index != G_MAXUINT)
        g_ptr_array_add (get_portion (portions, data, g_array_index (data->sample_cell, guint, index))->codes, sample->code);
    }
  for (guint i = 0; i < portions->len; i++)
    g_ptr_array_add (((Portion *) g_ptr_array_index (portions, i))->codes, NULL);
  return portions;
}

static const WbFragrance *
find_fragrance (const WbDataset *data,
                gint64           id)
{
  for (guint i = 0; i < data->fragrances->len; i++)
    if (((const WbFragrance *) g_ptr_array_index (data->fragrances, i))->record.id == id)
      return g_ptr_array_index (data->fragrances, i);
  return NULL;
}

WbReportDocument *
wb_app_papers_batch_new (WbAppPour *pour,
                         guint      batch,
                         int        paper)
{
  const WbDataset *data = wb_app_pour_get_data (pour);
  const GPtrArray *batches = wb_app_pour_get_batches (pour);
  g_autoptr (GPtrArray) portions = NULL;
  g_autofree WbReportBatchLine *lines = NULL;
  g_autofree char *experiment = NULL;
  const WbAppPourBatch *from;
  WbReportOptions options;
  WbReportBatch sheet;

  g_return_val_if_fail (data != NULL && batches != NULL && batch < batches->len, NULL);

  from = g_ptr_array_index (batches, batch);
  if (from->sheet == NULL)
    return NULL;
  portions = gather_portions (data, from);
  lines = g_new0 (WbReportBatchLine, MAX (portions->len, 1));
  for (guint i = 0; i < portions->len; i++)
    {
      const Portion *portion = g_ptr_array_index (portions, i);
      const WbVessel *vessel = wb_dataset_get_vessel (data, portion->cell);

      WbCraftBatchFill fill = get_fill (from, vessel);

      lines[i] = (WbReportBatchLine) { vessel, portion->wick, portion->codes->len - 1, fill.fill_g, fill.first_g,
                                       (const char *const *) portion->codes->pdata };
    }
  experiment = dup_experiment (data);
  sheet = (WbReportBatch) {
    .experiment = experiment, .batch = from->batch->code, .scent = from->title, .wax = data->wax,
    .fragrance = find_fragrance (data, from->batch->fragrance), .dye = data->dye, .additive = data->additive,
    .load_pct = from->batch->load_pct, .load_basis = from->batch->load_basis, .overage_pct = from->batch->overage_pct,
    .hold_back_pct = from->batch->hold_back_pct, .resolution_g = from->batch->resolution_g, .sheet = from->sheet,
    .steps = from->steps, .lines = lines, .n_lines = portions->len,
  };
  set_options (&options, data->notebook, paper);
  return wb_report_batch_new (&sheet, &options);
}

/* ---- Log sheet ---- */

static gboolean
belongs (WbAppBenchSample *sample)
{
  WbAppBenchState state = wb_app_bench_sample_get_state (sample);

  return (state == WB_APP_BENCH_FIT && wb_app_bench_sample_get_waits_for_cohort (sample) == 0) || state == WB_APP_BENCH_ALIGHT;
}

/* Who is there of the experiment, to speak for its protocol; NULL: nobody. Caller unrefs. */
static WbAppBenchSample *
find_speaker (WbAppBench *bench,
              gint64      experiment)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (bench));

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (WbAppBenchSample) sample = g_list_model_get_item (G_LIST_MODEL (bench), i);

      if (experiment == 0 || wb_app_bench_sample_get_experiment (sample) == experiment)
        return g_steal_pointer (&sample);
    }
  return NULL;
}

WbReportDocument *
wb_app_papers_log_new (WbAppBench       *bench,
                       const WbNotebook *notebook,
                       gint64            experiment,
                       int               paper)
{
  g_autoptr (WbAppBenchSample) speaker = NULL;
  g_autoptr (GPtrArray) samples = NULL;
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (WbReportLogRow));
  g_autofree char *code = NULL;
  WbReportLogSheet sheet = { 0 };
  WbReportOptions options;

  g_return_val_if_fail (WB_IS_APP_BENCH (bench) && notebook != NULL, NULL);

  speaker = find_speaker (bench, experiment);
  if (speaker == NULL)
    return NULL;
  g_object_get (speaker, "experiment-code", &code, NULL);
  samples = wb_app_paper_order_dup (bench, wb_app_bench_sample_get_experiment (speaker));
  for (guint i = 0; i < samples->len; i++)
    {
      WbAppBenchSample *sample = g_ptr_array_index (samples, i);
      WbReportLogRow row = { wb_app_bench_sample_get_code (sample), wb_app_bench_sample_get_title (sample), wb_app_bench_sample_get_place (sample),
                             (guint) MAX (wb_app_bench_sample_get_burn_number (sample), 0),
                             wb_app_bench_sample_get_last_inch_min (sample) < wb_app_bench_sample_get_protocol (sample)->burn_s / 60 };

      if (belongs (sample))
        g_array_append_val (rows, row);
    }
  sheet.experiment = code;
  sheet.protocol = wb_app_bench_sample_get_protocol (speaker);
  sheet.limits = wb_app_bench_sample_get_limits (speaker);
  sheet.rows = (const WbReportLogRow *) rows->data;
  sheet.n_rows = rows->len;
  set_options (&options, notebook, paper);
  return wb_report_log_sheet_new (&sheet, &options);
}
