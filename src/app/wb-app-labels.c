/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-labels.h"

#include "wb-cure.h"

#include <glib/gi18n-lib.h>

/* Index of a sample in the data; G_MAXUINT: it is not there. */
static guint
find_sample (const WbDataset *data,
             gint64           id)
{
  for (guint i = 0; i < data->samples->len; i++)
    if (wb_dataset_get_sample (data, i)->record.id == id)
      return i;
  return G_MAXUINT;
}

static char *
dup_cell (const WbDataset *data,
          guint            index)
{
  guint cell = g_array_index (data->sample_cell, guint, index);
  g_autofree char *vessel = wb_material_dup_title (wb_dataset_get_vessel (data, cell));
  g_autofree char *wick = wb_dataset_dup_wick_name (data, cell);
  g_autofree char *scent = wb_dataset_dup_scent_name (data, cell);

  return g_strdup_printf ("%s · %s · %s", vessel, wick, scent);
}

/* texts: owns what the labels borrow. */
static void
add_label (GArray          *labels,
           GPtrArray       *texts,
           const WbDataset *data,
           const WbSample  *sample,
           gboolean         blind)
{
  guint index = find_sample (data, sample->record.id);
  WbReportLabel label = { .uuid = sample->uuid, .code = sample->code, .experiment = data->experiment->code, .poured_on = sample->poured_on,
                          .burn_from = WB_DAY_NONE, .smell_from = WB_DAY_NONE };

  if (index != G_MAXUINT)
    {
      WbCure cure = wb_cure_of_sample (data, index);

      label.burn_from = wb_cure_get_day (sample->poured_on, cure.burn_wait_days);
      label.smell_from = wb_cure_get_day (sample->poured_on, cure.smell_days);
    }
  if (blind)
    label.blind_code = (guint) MAX (sample->blind_code, 0);
  else if (index != G_MAXUINT)
    {
      g_ptr_array_add (texts, dup_cell (data, index));
      label.cell = g_ptr_array_index (texts, texts->len - 1);
    }
  g_array_append_val (labels, label);
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

WbReportDocument *
wb_app_labels_new (WbAppPour              *pour,
                   guint                   batch,
                   const WbAppLabelsTerms *terms,
                   GError                **error)
{
  g_autoptr (GArray) labels = g_array_new (FALSE, FALSE, sizeof (WbReportLabel));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) samples = NULL;
  const WbDataset *data;
  WbReportOptions options;

  g_return_val_if_fail (WB_IS_APP_POUR (pour) && terms != NULL, NULL);
  data = wb_app_pour_get_data (pour);
  g_return_val_if_fail (data != NULL, NULL);

  samples = gather (pour, batch);
  if (terms->blind && !have_codes (samples, error))
    return NULL;
  for (guint i = 0; i < samples->len; i++)
    add_label (labels, texts, data, g_ptr_array_index (samples, i), terms->blind);
  wb_report_options_init (&options, data->notebook);
  if (terms->kind == WB_APP_LABELS_BASE)
    return wb_report_labels_new ((const WbReportLabel *) labels->data, labels->len, &terms->sheet, terms->first, terms->outlines, &options, error);
  return wb_report_cards_new ((const WbReportLabel *) labels->data, labels->len, &terms->sheet, terms->first, terms->outlines,
                              terms->kind == WB_APP_LABELS_FOLDED_CARDS, &options, error);
}

WbReportDocument *
wb_app_labels_new_alignment (WbAppPour                *pour,
                             const WbReportLabelSheet *sheet,
                             GError                  **error)
{
  WbReportOptions options;

  g_return_val_if_fail (WB_IS_APP_POUR (pour) && sheet != NULL, NULL);
  g_return_val_if_fail (wb_app_pour_get_data (pour) != NULL, NULL);

  wb_report_options_init (&options, wb_app_pour_get_data (pour)->notebook);
  return wb_report_labels_new (NULL, 0, sheet, 0, TRUE, &options, error);
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
