/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-crossed.h"

#include "wb-craft-limits-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
crossed_free (gpointer data)
{
  g_free (((WbCraftCrossed *) data)->text);
  g_free (data);
}

static void
add (GPtrArray *all,
     guint      sample,
     guint      burn,
     gint64     source,
     gboolean   logged,
     guint      row,
     guint      limit,
     char      *text /* taken */)
{
  WbCraftCrossed *crossed = g_new0 (WbCraftCrossed, 1);

  *crossed = (WbCraftCrossed) { sample, burn, source, logged, row, limit, 0, text };
  g_ptr_array_add (all, crossed);
}

static char *
dup_text (const WbDataset *data,
          guint            limit,
          guint            sample,
          guint            burn,
          double           value,
          double           minute,
          gboolean         logged)
{
  WbCraftLimit crossing = {
    .limit = limit, .state = WB_CRAFT_LIMIT_CROSSED, .worst = value, .sample = sample, .burn = burn, .elapsed_min = minute, .logged = logged,
  };

  return wb_craft_limit_dup_text (data, &crossing);
}

static gboolean
is_crack (const WbDataset *data,
          guint            row)
{
  return wb_readings_get (data->readings, row, WB_COLUMN_EVENT) == WB_EVENT_VESSEL_CRACK;
}

/* No limit tells it. */
static gboolean
is_crack_off (const WbDataset *data)
{
  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);

      if (limit->kind == WB_LIMIT_VESSEL_CRACK && !limit->off)
        return FALSE;
    }
  return TRUE;
}

static void
add_crack (GPtrArray       *all,
           const WbDataset *data,
           guint            sample,
           guint            burn,
           guint            row)
{
  add (all, sample, burn, wb_readings_get_id (data->readings, row), FALSE, row, G_MAXUINT,
       /* Translators: number of the burn; code of the sample */
       g_strdup_printf (_("the vessel cracked in burn %d of sample %s"), (int) wb_dataset_get_burn (data, burn)->number,
                        wb_dataset_get_sample (data, sample)->code));
}

static void
look_at_row (GPtrArray       *all,
             const WbDataset *data,
             guint            sample,
             guint            burn,
             guint            row)
{
  double values[WB_N_COLUMNS], minute = wb_readings_get_elapsed_min (data->readings, row);
  gint64 id = wb_readings_get_id (data->readings, row);

  if (is_crack (data, row) && is_crack_off (data))
    add_crack (all, data, sample, burn, row);
  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);

      if (limit->off || !wb_craft_limit_is_row_over (data, limit, burn, row))
        continue;
      wb_readings_get_values (data->readings, row, values);
      add (all, sample, burn, id, FALSE, row, i, dup_text (data, i, sample, burn, wb_craft_limit_value (limit, values), minute, FALSE));
    }
}

static void
look_at_logger (GPtrArray       *all,
                const WbDataset *data,
                guint            sample,
                guint            burn,
                guint            logger)
{
  const WbAttachment *attachment = g_ptr_array_index (data->loggers, logger);

  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);
      double minute = NAN, value = wb_craft_limit_logger_value (limit, attachment, &minute);

      if (limit->off || !wb_craft_limit_is_over (limit, value))
        continue;
      add (all, sample, burn, attachment->record.id, TRUE, logger, i, dup_text (data, i, sample, burn, value, minute, TRUE));
    }
}

GPtrArray *
wb_craft_crossed_new (const WbDataset *data,
                      guint            cell)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (crossed_free);

  g_return_val_if_fail (data != NULL && cell < data->cells->len, all);

  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      guint sample = g_array_index (data->burn_sample, guint, burn), first, n;

      if (g_array_index (data->sample_cell, guint, sample) != cell)
        continue;
      wb_readings_get_burn_rows (data->readings, burn, &first, &n);
      for (guint row = first; row < first + n; row++)
        look_at_row (all, data, sample, burn, row);
      for (guint i = 0; i < data->loggers->len; i++)
        if (g_array_index (data->logger_burn, guint, i) == burn)
          look_at_logger (all, data, sample, burn, i);
    }
  return all;
}

guint
wb_craft_crossed_find_crack (const WbDataset *data,
                             guint            cell)
{
  g_return_val_if_fail (data != NULL && cell < data->cells->len, G_MAXUINT);

  if (!is_crack_off (data))
    return G_MAXUINT;
  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      guint first, n;

      if (g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, burn)) != cell)
        continue;
      wb_readings_get_burn_rows (data->readings, burn, &first, &n);
      for (guint row = first; row < first + n; row++)
        if (is_crack (data, row))
          return row;
    }
  return G_MAXUINT;
}

const char *
wb_craft_crossed_get_crack_words (const WbDataset *data)
{
  g_return_val_if_fail (data != NULL, "");

  for (guint i = 0; i < data->limits->len; i++)
    if (((const WbLimit *) g_ptr_array_index (data->limits, i))->kind == WB_LIMIT_VESSEL_CRACK)
      return _("vessel cracked; its limit is turned off");
  return _("vessel cracked; there is no limit for it");
}

gboolean
wb_craft_crossed_is_over (const WbDataset      *data,
                          const WbCraftCrossed *crossed,
                          const WbLimit        *version)
{
  g_return_val_if_fail (data != NULL && crossed != NULL && version != NULL, FALSE);

  if (crossed->limit == G_MAXUINT)
    return TRUE;
  if (version->off)
    return FALSE;
  if (crossed->logged)
    return wb_craft_limit_is_over (version, wb_craft_limit_logger_value (version, g_ptr_array_index (data->loggers, crossed->row), NULL));
  return wb_craft_limit_is_row_over (data, version, crossed->burn, crossed->row);
}
