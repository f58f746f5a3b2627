/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-labels.h"

#include "wb-cure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static char *
dup_cell (const WbDataset *data,
          guint            index)
{
  guint cell = g_array_index (data->sample_cell, guint, index);
  g_autofree char *vessel = wb_material_dup_title (wb_dataset_get_vessel (data, cell));
  /* a label stands by itself, beside those of other experiments */
  g_autofree char *wick = wb_dataset_dup_wick_title (data, cell);
  g_autofree char *scent = wb_dataset_dup_scent_name (data, cell);

  return g_strdup_printf ("%s · %s · %s", vessel, wick, scent);
}

/* All that a thread needs to set them, with nothing of the notebook's. */
typedef struct
{
  GArray          *labels;  /* WbReportLabel */
  GPtrArray       *texts;   /* owns what they borrow */
  WbAppLabelsTerms terms;
  WbReportOptions  options;
} Work;

static void
work_free (gpointer data)
{
  Work *self = data;

  g_array_unref (self->labels);
  g_ptr_array_unref (self->texts);
  g_free (self);
}

/* Takes the text. */
static const char *
keep (Work *self,
      char *text)
{
  g_ptr_array_add (self->texts, text);
  return text;
}

/* The later of two; WB_DAY_NONE where one is not known. */
static WbDay
later (WbDay a,
       WbDay b)
{
  return a == WB_DAY_NONE || b == WB_DAY_NONE ? WB_DAY_NONE : MAX (a, b);
}

static WbCureFit
later_fit (WbCureFit a,
           WbCureFit b)
{
  if (a.day == WB_DAY_NONE || b.day == WB_DAY_NONE)
    return a.day == WB_DAY_NONE ? a : b; /* not known either */
  return a.at.utc_us >= b.at.utc_us ? a : b;
}

/* The last day on which a reference is kept; WB_DAY_NONE where none is. */
static WbDay
get_last_kept (const WbDataset *data)
{
  WbDay last = WB_DAY_NONE;

  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);

      if (sample->retained && sample->keep_until != WB_DAY_NONE)
        last = last == WB_DAY_NONE ? sample->keep_until : MAX (last, sample->keep_until);
    }
  return last;
}

/*
 * Of blind labels: the latest dates of all samples. Each one's own would tell its scent, which has its own melt and may have its own
 * cure; and none is burnt before its time by a later one. Of references alike: none is thrown out too early.
 */
static void
hide_dates (Work            *self,
            const WbDataset *data)
{
  WbCureFit burn_from = wb_cure_fit (WB_DAY_NONE, WB_INSTANT_NONE, NAN), smell_from = burn_from;
  WbDay poured_on = WB_DAY_NONE, keep_until;
  gboolean scented = FALSE;

  keep_until = get_last_kept (data);
  for (guint i = 0; i < data->samples->len; i++)
    {
      const WbSample *sample = wb_dataset_get_sample (data, i);
      WbCureFit burn = wb_cure_fit_to_burn (data, i), smell = wb_cure_fit_to_smell (data, i);

      poured_on = i == 0 ? sample->poured_on : later (poured_on, sample->poured_on);
      burn_from = i == 0 ? burn : later_fit (burn_from, burn);
      /* The control has no such date of its own, and bears the others': it is not told by it. */
      if (wb_dataset_get_fragrance (data, g_array_index (data->sample_cell, guint, i)) == NULL)
        continue;
      smell_from = scented ? later_fit (smell_from, smell) : smell;
      scented = TRUE;
    }
  for (guint i = 0; i < self->labels->len; i++)
    {
      WbReportLabel *label = &g_array_index (self->labels, WbReportLabel, i);

      label->poured_on = poured_on;
      label->burn_from = burn_from;
      label->smell_from = smell_from;
      if (label->reference)
        label->keep_until = keep_until;
    }
}

static void
add_label (Work            *self,
           const WbDataset *data,
           const WbSample  *sample)
{
  guint index = wb_dataset_find_sample (data, sample->record.id);
  WbReportLabel label = { .uuid = sample->uuid, .code = keep (self, g_strdup (sample->code)),
                          .experiment = keep (self, g_strdup (data->experiment->code)), .poured_on = sample->poured_on,
                          .burn_from = wb_cure_fit (WB_DAY_NONE, WB_INSTANT_NONE, NAN), .reference = sample->retained,
                          .keep_until = sample->retained ? sample->keep_until : WB_DAY_NONE };

  label.smell_from = label.burn_from;

  if (index != G_MAXUINT)
    {
      label.burn_from = wb_cure_fit_to_burn (data, index);
      label.smell_from = wb_cure_fit_to_smell (data, index);
    }
  if (self->terms.blind)
    label.blind_code = (guint) MAX (sample->blind_code, 0);
  else if (index != G_MAXUINT)
    label.cell = keep (self, dup_cell (data, index));
  g_array_append_val (self->labels, label);
}

/* Borrowed WbSample of a batch, or of all. */
static GPtrArray *
gather (WbAppPour *pour,
        guint      batch)
{
  const GPtrArray *batches = wb_app_pour_get_batches (pour);
  GPtrArray *samples = g_ptr_array_new ();

  for (guint i = 0; i < batches->len; i++)
    {
      const WbAppPourBatch *from = g_ptr_array_index (batches, i);

      for (guint k = 0; (batch == G_MAXUINT || batch == i) && k < from->samples->len; k++)
        g_ptr_array_add (samples, g_ptr_array_index (from->samples, k));
    }
  return samples;
}

static gboolean
have_codes (const GPtrArray *samples,
            GError         **error)
{
  for (guint i = 0; i < samples->len; i++)
    {
      const WbSample *sample = g_ptr_array_index (samples, i);

      if (sample->blind_code > 0)
        continue;
      g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("%s has no blind code yet: draw the blind codes first."), sample->code);
      return FALSE;
    }
  return TRUE;
}

static Work *
work_new_empty (WbAppPour              *pour,
                const WbAppLabelsTerms *terms)
{
  Work *self = g_new0 (Work, 1);

  self->labels = g_array_new (FALSE, FALSE, sizeof (WbReportLabel));
  self->texts = g_ptr_array_new_with_free_func (g_free);
  self->terms = *terms;
  wb_report_options_init (&self->options, wb_app_pour_get_data (pour)->notebook);
  self->options.letterhead = self->options.address = self->options.fingerprint = self->options.date = NULL; /* not on a label */
  return self;
}

/* NULL with an error. */
static Work *
work_new (WbAppPour              *pour,
          guint                   batch,
          const WbAppLabelsTerms *terms,
          GError                **error)
{
  const WbDataset *data = wb_app_pour_get_data (pour);
  g_autoptr (GPtrArray) samples = gather (pour, batch);
  guint n = samples->len, places = wb_report_label_sheet_get_places (&terms->sheet);
  Work *self;

  if (terms->blind && !have_codes (samples, error))
    return NULL;
  self = work_new_empty (pour, terms);
  if (terms->one_page && terms->first < places)
    n = MIN (n, places - terms->first);
  for (guint i = 0; i < n; i++)
    add_label (self, data, g_ptr_array_index (samples, i));
  if (terms->blind)
    hide_dates (self, data);
  return self;
}

static WbReportDocument *
work_set (const Work *self,
          GError    **error)
{
  const WbAppLabelsTerms *terms = &self->terms;
  const WbReportLabel *labels = (const WbReportLabel *) self->labels->data;

  if (terms->kind == WB_APP_LABELS_BASE)
    return wb_report_labels_new (labels, self->labels->len, &terms->sheet, terms->first, terms->outlines, &self->options, error);
  return wb_report_cards_new (labels, self->labels->len, &terms->sheet, terms->first, terms->outlines,
                              terms->kind == WB_APP_LABELS_FOLDED_CARDS, &self->options, error);
}

static void
set_in_thread (GTask        *task,
               gpointer      pour,
               gpointer      work,
               GCancellable *cancellable)
{
  GError *error = NULL;
  WbReportDocument *document = work_set (work, &error);

  if (document != NULL)
    g_task_return_pointer (task, document, (GDestroyNotify) wb_report_document_free);
  else
    g_task_return_error (task, error);
}

void
wb_app_labels_new_async (WbAppPour              *pour,
                         guint                   batch,
                         const WbAppLabelsTerms *terms,
                         GCancellable           *cancellable,
                         GAsyncReadyCallback     callback,
                         gpointer                user)
{
  g_autoptr (GTask) task = NULL;
  GError *error = NULL;
  Work *work;

  g_return_if_fail (WB_IS_APP_POUR (pour) && terms != NULL);
  g_return_if_fail (wb_app_pour_get_data (pour) != NULL);

  task = g_task_new (pour, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_labels_new_async);
  work = work_new (pour, batch, terms, &error);
  if (work == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  g_task_set_task_data (task, work, work_free);
  g_task_run_in_thread (task, set_in_thread);
}

void
wb_app_labels_new_alignment_async (WbAppPour                *pour,
                                   const WbReportLabelSheet *sheet,
                                   GAsyncReadyCallback       callback,
                                   gpointer                  user)
{
  g_autoptr (GTask) task = NULL;
  Work *work;

  g_return_if_fail (WB_IS_APP_POUR (pour) && sheet != NULL);
  g_return_if_fail (wb_app_pour_get_data (pour) != NULL);

  task = g_task_new (pour, NULL, callback, user);
  g_task_set_source_tag (task, wb_app_labels_new_alignment_async);
  work = work_new_empty (pour, &(WbAppLabelsTerms) { .kind = WB_APP_LABELS_BASE, .sheet = *sheet, .outlines = TRUE });
  g_task_set_task_data (task, work, work_free);
  g_task_run_in_thread (task, set_in_thread);
}

WbReportDocument *
wb_app_labels_new_finish (WbAppPour    *pour,
                          GAsyncResult *result,
                          GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, pour), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

guint
wb_app_labels_count (WbAppPour *pour,
                     guint      batch,
                     guint     *without_code)
{
  g_autoptr (GPtrArray) samples = NULL;

  g_return_val_if_fail (WB_IS_APP_POUR (pour) && without_code != NULL, 0);

  samples = gather (pour, batch);
  *without_code = 0;
  for (guint i = 0; i < samples->len; i++)
    *without_code += ((const WbSample *) g_ptr_array_index (samples, i))->blind_code <= 0; /* not known is below 0 */
  return samples->len;
}
