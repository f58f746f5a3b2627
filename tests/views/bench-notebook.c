/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bench-notebook.h"

#include "wb-app-query.h"
#include "wb-clock.h"

#include <math.h>

enum { VESSEL_ID = -1, WAX_ID = -2, WICK_ID = -3, PROTOCOL_ID = -4, PROFILE_ID = -5, EXPERIMENT_ID = -6, CELL_ID = -7,
       FRAGRANCE_ID = -8 };

static gpointer
add (GPtrArray          *records,
     const WbRecordType *type,
     gint64              id)
{
  WbRecord *record = wb_record_new (type);

  record->id = id;
  g_ptr_array_add (records, record);
  return record;
}

/* smell_cure_days NAN: not scented. */
static void
add_materials (GPtrArray *records,
               double     smell_cure_days)
{
  WbVessel *vessel = add (records, &wb_vessel_type, VESSEL_ID);
  WbWax *wax = add (records, &wb_wax_type, WAX_ID);
  WbWick *wick = add (records, &wb_wick_type, WICK_ID);

  vessel->name = g_strdup ("Tern");
  vessel->inner_diameter_mm = 76;
  vessel->wax_height_mm = 80;
  vessel->wall_mm = 3;
  wax->name = g_strdup ("Marsh soft");
  wax->density = 0.9;
  wax->smell_cure_days = smell_cure_days;
  if (!isnan (smell_cure_days))
    ((WbFragrance *) add (records, &wb_fragrance_type, FRAGRANCE_ID))->name = g_strdup ("Quimber leaf");
  wick->series = g_strdup ("Sedge");
  wick->size = g_strdup ("S-3");
  wick->step = 3;
}

static void
add_protocol (GPtrArray  *records,
              const char *asked)
{
  WbProtocol *protocol = wb_protocol_new_house ();
  WbProfile *profile = wb_profile_new_house ();
  g_autoptr (GPtrArray) limits = wb_limits_new_house ();

  protocol->record.id = PROTOCOL_ID;
  g_free (protocol->ask_round);
  g_free (protocol->ask_before_snuffing);
  g_free (protocol->ask_lighting);
  protocol->ask_round = g_strdup (asked);
  protocol->ask_before_snuffing = g_strdup (asked);
  protocol->ask_lighting = g_strdup ("mass_g");
  profile->record.id = PROFILE_ID;
  g_ptr_array_add (records, protocol);
  g_ptr_array_add (records, profile);
  g_ptr_array_set_free_func (limits, NULL);
  for (guint i = 0; i < limits->len; i++)
    {
      WbLimit *limit = g_ptr_array_index (limits, i);

      limit->protocol = PROTOCOL_ID;
      g_ptr_array_add (records, limit);
    }
}

static void
add_experiment (GPtrArray *records,
                guint      n_samples,
                gboolean   scented,
                guint      n_wicks)
{
  WbExperiment *experiment = add (records, &wb_experiment_type, EXPERIMENT_ID);
  WbCell *cell = add (records, &wb_cell_type, CELL_ID);

  experiment->code = g_strdup ("TN-1");
  experiment->title = g_strdup ("Sedge for the Tern");
  experiment->wax = WAX_ID;
  experiment->protocol = PROTOCOL_ID;
  experiment->profile = PROFILE_ID;
  experiment->samples_per_cell = n_samples;
  experiment->seed = 1;
  cell->experiment = EXPERIMENT_ID;
  cell->vessel = VESSEL_ID;
  cell->wick = WICK_ID;
  cell->wick_count = n_wicks;
  cell->load_pct = scented ? 6 : 0;
  cell->fragrance = scented ? FRAGRANCE_ID : 0;
  cell->load_basis = WB_BASIS_WAX;
  for (guint i = 0; i < n_samples; i++)
    {
      WbSample *sample = add (records, &wb_sample_type, 0);

      sample->experiment = EXPERIMENT_ID;
      sample->cell = CELL_ID;
      sample->code = g_strdup_printf ("T%u", i + 1);
      sample->poured_on = wb_instant_get_day (wb_clock_now (wb_clock_get ())) - 20;
    }
}

/* smell_cure_days NAN: not scented. */
static gint64
write_notebook (const char *path,
                guint       n_samples,
                const char *asked,
                double      smell_cure_days,
                guint       n_wicks)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbAppNotebook) notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_CREATE, "Bench", &error);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GArray) ids = NULL;
  gint64 experiment = 0;

  g_assert_no_error (error);
  add_materials (records, smell_cure_days);
  add_protocol (records, asked);
  add_experiment (records, n_samples, !isnan (smell_cure_days), n_wicks);
  wb_app_notebook_save_sync (notebook, "Write a test's bench", records, &ids, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < records->len; i++)
    if (((WbRecord *) g_ptr_array_index (records, i))->type == &wb_experiment_type)
      experiment = g_array_index (ids, gint64, i);
  wb_app_notebook_close (notebook);
  return experiment;
}

gint64
bench_notebook_write (const char *path,
                      guint       n_samples,
                      const char *asked)
{
  return write_notebook (path, n_samples, asked, NAN, 1);
}

gint64
bench_notebook_write_scented (const char *path,
                              guint       n_samples,
                              const char *asked,
                              double      smell_cure_days)
{
  return write_notebook (path, n_samples, asked, smell_cure_days, 1);
}

gint64
bench_notebook_write_wicks (const char *path,
                            guint       n_samples,
                            const char *asked,
                            guint       n_wicks)
{
  return write_notebook (path, n_samples, asked, NAN, n_wicks);
}

gint64
bench_notebook_add_other (WbAppNotebook *notebook,
                          gint64         like)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = wb_app_query_dataset_sync (notebook, like, &error);
  g_autoptr (GArray) ids = NULL;
  WbExperiment *experiment;
  WbCell *cell;
  WbSample *sample;

  g_assert_no_error (error);
  experiment = wb_record_copy (data->experiment);
  cell = wb_record_copy (g_ptr_array_index (data->cells, 0));
  sample = wb_record_copy (wb_dataset_get_sample (data, 0));
  experiment->record.id = EXPERIMENT_ID;
  memset (&experiment->uuid, 0, sizeof experiment->uuid);
  memset (&sample->uuid, 0, sizeof sample->uuid);
  g_free (experiment->code);
  g_free (experiment->title);
  experiment->code = g_strdup ("TN-2");
  experiment->title = g_strdup ("Sedge for the Tern, once more");
  cell->record.id = CELL_ID;
  cell->experiment = EXPERIMENT_ID;
  sample->record.id = 0;
  sample->cell = CELL_ID;
  sample->experiment = EXPERIMENT_ID;
  g_free (sample->code);
  sample->code = g_strdup ("T9");
  g_ptr_array_add (records, experiment);
  g_ptr_array_add (records, cell);
  g_ptr_array_add (records, sample);
  wb_app_notebook_save_sync (notebook, "Write another experiment", records, &ids, &error);
  g_assert_no_error (error);
  return g_array_index (ids, gint64, 0);
}
