/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-crossing-private.h"

#include "wb-craft-limits-private.h"
#include "wb-craft-logger.h"

#include <math.h>

/* Burns are looked at in order: a newer burn stands before an older one, in one burn a later minute before an earlier. */
static void
keep (WbCraftCrossing *into,
      guint            limit,
      guint            burn,
      double           minute,
      guint            row,
      guint            logger)
{
  if (!into->crossed)
    into->first_burn = burn;
  else if (into->burn == burn && minute < into->minute)
    return;
  into->crossed = TRUE;
  into->limit = limit;
  into->burn = burn;
  into->minute = minute;
  into->row = row;
  into->logger = logger;
}

/* what is cracked is cracked, also where no limit is kept against it */
static gboolean
is_crack (const WbDataset *data,
          guint            row)
{
  return wb_readings_get (data->readings, row, WB_COLUMN_EVENT) == WB_EVENT_VESSEL_CRACK;
}

static gboolean
is_row_over (const WbDataset *data,
             const WbLimit   *limit,
             guint            burn,
             guint            row)
{
  return !limit->off && wb_craft_limit_is_row_over (data, limit, burn, row);
}

static gboolean
is_logger_over (const WbLimit      *limit,
                const WbAttachment *logger,
                double             *minute)
{
  return !limit->off && wb_craft_limit_is_over (limit, wb_craft_limit_logger_value (limit, logger, minute));
}

static void
look_at_row (const WbDataset *data,
             guint            burn,
             guint            row,
             WbCraftCrossing *into)
{
  if (is_crack (data, row) && !into->broken)
    {
      into->broken = TRUE;
      into->broken_burn = burn;
    }
  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);

      if (!is_row_over (data, limit, burn, row))
        continue;
      /* of several limits of one reading the first of the list stands */
      if (into->crossed && into->row == row)
        continue;
      keep (into, i, burn, wb_readings_get_elapsed_min (data->readings, row), row, G_MAXUINT);
    }
}

static void
look_at_logger (const WbDataset *data,
                guint            burn,
                guint            logger,
                WbCraftCrossing *into)
{
  const WbAttachment *attachment = g_ptr_array_index (data->loggers, logger);

  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);
      double minute;

      if (is_logger_over (limit, attachment, &minute))
        keep (into, i, burn, minute, G_MAXUINT, logger);
    }
}

WbCraftCrossing *
wb_craft_crossings_new (const WbDataset *data)
{
  WbCraftCrossing *self;

  g_return_val_if_fail (data != NULL, NULL);

  self = g_new0 (WbCraftCrossing, MAX (data->samples->len, 1));
  for (guint i = 0; i < data->samples->len; i++)
    self[i].row = self[i].logger = G_MAXUINT;
  /* a sample's burns lie in the order in which they were lit */
  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      WbCraftCrossing *into = &self[g_array_index (data->burn_sample, guint, burn)];
      guint first, n;

      wb_readings_get_burn_rows (data->readings, burn, &first, &n);
      for (guint row = first; row < first + n; row++)
        look_at_row (data, burn, row, into);
      for (guint i = 0; i < data->loggers->len; i++)
        if (g_array_index (data->logger_burn, guint, i) == burn)
          look_at_logger (data, burn, i, into);
    }
  return self;
}

gboolean *
wb_craft_crossings_dup_over (const WbCraftCrossing *crossings,
                             const WbDataset       *data,
                             const WbCraftFigures  *figures)
{
  gboolean *over;

  g_return_val_if_fail (crossings != NULL && data != NULL && figures != NULL, NULL);

  over = g_new (gboolean, MAX (data->samples->len, 1));
  for (guint i = 0; i < data->samples->len; i++)
    over[i] = figures->ended[i] || crossings[i].crossed || crossings[i].broken;
  return over;
}

gboolean *
wb_craft_crossing_dup_limits (const WbDataset *data,
                              guint            burn,
                              gboolean        *broken)
{
  gboolean *over;
  guint first, n;

  g_return_val_if_fail (data != NULL && burn < data->burns->len && broken != NULL, NULL);

  over = g_new0 (gboolean, MAX (data->limits->len, 1));
  *broken = FALSE;
  wb_readings_get_burn_rows (data->readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    *broken = *broken || is_crack (data, row);
  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);
      double minute;

      for (guint row = first; row < first + n && !over[i]; row++)
        over[i] = is_row_over (data, limit, burn, row);
      for (guint k = 0; k < data->loggers->len && !over[i]; k++)
        over[i] = g_array_index (data->logger_burn, guint, k) == burn && is_logger_over (limit, g_ptr_array_index (data->loggers, k), &minute);
    }
  return over;
}

void
wb_craft_crossing_get_values (const WbCraftCrossing *self,
                              const WbDataset       *data,
                              double                 values[WB_N_COLUMNS])
{
  g_return_if_fail (self != NULL && self->crossed && data != NULL);

  if (self->logger != G_MAXUINT)
    wb_craft_logger_get_values (g_ptr_array_index (data->loggers, self->logger), values);
  else
    wb_readings_get_values (data->readings, self->row, values);
}
