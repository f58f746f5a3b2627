/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-target.h"

#include <glib/gi18n.h>

static gboolean
find_burn (const WbCraftPick *pick,
           gint64             burn,
           WbChartTarget     *target)
{
  const WbDataset *data = pick->answer->data;

  for (guint i = 0; i < data->burns->len; i++)
    {
      guint sample = g_array_index (data->burn_sample, guint, i);

      if (wb_dataset_get_burn (data, i)->record.id != burn)
        continue;
      *target = (WbChartTarget) { pick->answer, g_array_index (data->sample_cell, guint, sample), (int) sample, burn };
      return TRUE;
    }
  return FALSE;
}

static gboolean
find_sample (const WbCraftPick *pick,
             gint64             id,
             WbChartTarget     *target)
{
  const WbDataset *data = pick->answer->data;
  guint sample = wb_dataset_find_sample (data, id);

  if (sample == G_MAXUINT)
    return FALSE;
  *target = (WbChartTarget) { pick->answer, g_array_index (data->sample_cell, guint, sample), (int) sample, 0 };
  return TRUE;
}

static gboolean
find_cell (const WbCraftPick *pick,
           gint64             id,
           WbChartTarget     *target)
{
  if (wb_dataset_get_cell (pick->answer->data, pick->cell)->record.id != id)
    return FALSE;
  *target = (WbChartTarget) { pick->answer, pick->cell, -1, 0 };
  return TRUE;
}

static gboolean
find_by_series (const WbCraftPick *picks,
                const int         *series,
                gsize              n_picks,
                int                of,
                WbChartTarget     *target)
{
  gsize n = 0;

  for (gsize i = 0; i < n_picks; i++)
    if (series[i] == of)
      {
        n++;
        *target = (WbChartTarget) { picks[i].answer, picks[i].cell, picks[i].sample, 0 };
      }
  return n == 1;
}

gboolean
wb_chart_target_find (WbChart           *chart,
                      guint              panel,
                      guint              layer,
                      guint64            index,
                      const WbCraftPick *picks,
                      const int         *series,
                      gsize              n_picks,
                      WbChartTarget     *target)
{
  WbChartLayer *what;
  gint64 tag;

  g_return_val_if_fail (chart != NULL && target != NULL, FALSE);

  what = wb_chart_panel_get_layer (wb_chart_get_panel (chart, panel), layer);
  tag = wb_chart_layer_get_tag (what, (gsize) index);
  for (gsize i = 0; tag != 0 && i < n_picks; i++)
    if (tag > 0 ? find_burn (&picks[i], tag, target) : find_sample (&picks[i], -tag, target) || find_cell (&picks[i], -tag, target))
      return TRUE;
  if (tag != 0 || wb_chart_layer_get_series (what) < 0)
    return FALSE;
  return find_by_series (picks, series, n_picks, wb_chart_layer_get_series (what), target);
}

char *
wb_chart_target_dup_verb (const WbChartTarget *target)
{
  const WbDataset *data = target->answer->data;
  g_autofree char *cell = wb_dataset_dup_cell_name (data, target->cell);
  const char *code;

  if (target->sample < 0)
    return g_strdup_printf (_("Enter or a click: the samples of %s side by side"), cell);
  code = wb_dataset_get_sample (data, (guint) target->sample)->code;
  for (guint i = 0; target->burn != 0 && i < data->burns->len; i++)
    if (wb_dataset_get_burn (data, i)->record.id == target->burn)
      return g_strdup_printf (_("Enter or a click: the readings of %s, burn %d"), code, (int) wb_dataset_get_burn (data, i)->number);
  return g_strdup_printf (_("Enter or a click: the readings of %s"), code);
}
