/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-crossing.h"

#include "wb-craft-limits-private.h"

static void
look_at_row (const WbDataset *data,
             guint            burn,
             guint            row,
             WbCraftCrossing *into)
{
  /* what is cracked is cracked, also where no limit is kept against it */
  if (wb_readings_get (data->readings, row, WB_COLUMN_EVENT) == WB_EVENT_VESSEL_CRACK && !into->broken)
    {
      into->broken = TRUE;
      into->broken_burn = burn;
    }
  for (guint i = 0; i < data->limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (data->limits, i);

      if (limit->off || !wb_craft_limit_is_row_over (data, limit, burn, row))
        continue;
      /* of several limits of one reading the first of the list stands */
      if (into->crossed && into->row == row)
        continue;
      if (!into->crossed)
        into->first_burn = burn;
      into->crossed = TRUE;
      into->limit = i;
      into->burn = burn;
      into->row = row;
    }
}

WbCraftCrossing *
wb_craft_crossings_new (const WbDataset *data)
{
  WbCraftCrossing *self;

  g_return_val_if_fail (data != NULL, NULL);

  self = g_new0 (WbCraftCrossing, MAX (data->samples->len, 1));
  /* a sample's burns lie in the order in which they were lit */
  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      guint first, n;

      wb_readings_get_burn_rows (data->readings, burn, &first, &n);
      for (guint row = first; row < first + n; row++)
        look_at_row (data, burn, row, &self[g_array_index (data->burn_sample, guint, burn)]);
    }
  return self;
}
