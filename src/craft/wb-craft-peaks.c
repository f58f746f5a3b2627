/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-peaks-private.h"

#include <math.h>

#include "wb-craft-burn-private.h"
#include "wb-craft-estimates-private.h"
#include "wb-craft-means-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-stops-private.h"

/*
 * One value a sample: the highest of its burns, at their mean room. Its number is how
 * many they were, for the highest of more is higher.
 */
static void
keep_peaks (GArray *values)
{
  g_autoptr (GHashTable) places = g_hash_table_new (NULL, NULL); /* sample + 1: its place + 1 */
  guint n = 0;

  for (guint i = 0; i < values->len; i++)
    {
      WbCraftMeanValue value = g_array_index (values, WbCraftMeanValue, i), *peak;
      guint place = GPOINTER_TO_UINT (g_hash_table_lookup (places, GUINT_TO_POINTER (value.sample + 1)));

      if (place == 0)
        {
          value.number = 1;
          g_array_index (values, WbCraftMeanValue, n++) = value;
          g_hash_table_insert (places, GUINT_TO_POINTER (value.sample + 1), GUINT_TO_POINTER (n));
          continue;
        }
      peak = &g_array_index (values, WbCraftMeanValue, place - 1);
      peak->number++;
      peak->y = MAX (peak->y, value.y);
      if (!isnan (value.room))
        peak->room = isnan (peak->room) ? value.room : peak->room + (value.room - peak->room) / peak->number;
    }
  g_array_set_size (values, n);
}

/*
 * A burn that was snuffed because it crossed a limit, or that burns on and has, speaks of no figure; left out it would leave the
 * candles that cross out of what is known of crossing. Its highest is at least what was read: that stands in, with no reader's error
 * taken off.
 */
static void
add_crossings (const WbDataset      *data,
               const WbCraftFigures *figures,
               WbFigure              figure,
               WbStage               stage,
               double                room_c,
               GArray               *values)
{
  double stop = wb_craft_stops_get (data, figure);

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      double highest = wb_craft_burn_get (burn, figure, TRUE);
      WbCraftMeanValue value = { NAN, burn->cell, burn->sample, 0, burn->room_c };

      if (burn->stage != stage || !(highest > stop) || !wb_craft_burn_counts (data, burn)
          || wb_craft_burn_speaks (data, burn, figure))
        continue;
      value.y = wb_craft_scale_from (figure, highest, isnan (burn->room_c) ? room_c : burn->room_c);
      g_array_append_val (values, value);
    }
}

GArray *
wb_craft_peaks_gather (const WbDataset      *data,
                       const WbCraftFigures *figures,
                       WbFigure              figure,
                       WbStage               stage,
                       const WbCraftHighest *highest,
                       double                room_c)
{
  GArray *values = wb_craft_estimates_gather (data, figures, figure, stage, TRUE, highest, room_c);

  add_crossings (data, figures, figure, stage, room_c, values);
  keep_peaks (values);
  return values;
}
