/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-burn-private.h"

#include <math.h>

#define CUT_SHARE 0.85       /* a burn shorter than this share of the protocol's was cut short */
#define HOUSE_BURN_MIN 240.0

double
wb_craft_burn_get_length_min (const WbDataset *data)
{
  return data->protocol != NULL && data->protocol->burn_s > 0 ? data->protocol->burn_s / 60.0 : HOUSE_BURN_MIN;
}

gboolean
wb_craft_burn_is_cut_short (const WbDataset *data,
                            double           alight_min)
{
  return alight_min < CUT_SHARE * wb_craft_burn_get_length_min (data);
}

static gboolean
is_set_aside (const WbDataset   *data,
              const WbCraftBurn *burn)
{
  const WbSample *sample = wb_dataset_get_sample (data, burn->sample);

  return sample->set_aside != NULL || sample->set_aside_cause >= 0;
}

gboolean
wb_craft_burn_counts (const WbDataset   *data,
                      const WbCraftBurn *burn)
{
  return burn->kind == WB_BURN_STANDARD && !is_set_aside (data, burn);
}

gboolean
wb_craft_burn_is_done (const WbDataset   *data,
                       const WbCraftBurn *burn)
{
  return wb_craft_burn_counts (data, burn) && !burn->alight;
}

gboolean
wb_craft_burn_speaks (const WbDataset   *data,
                      const WbCraftBurn *burn,
                      WbFigure           figure)
{
  if (figure == WB_FIGURE_THROW && burn->kind == WB_BURN_THROW)
    return !is_set_aside (data, burn);
  if (!wb_craft_burn_is_done (data, burn) || (figure == WB_FIGURE_POOL && burn->ring_held))
    return FALSE;
  return !burn->cut_short || figure == WB_FIGURE_CONSUMPTION;
}

double
wb_craft_burn_get (const WbCraftBurn *burn,
                   WbFigure           figure,
                   gboolean           worst)
{
  switch (figure)
    {
    case WB_FIGURE_HANG_UP: return burn->hang_up_mm;
    case WB_FIGURE_DEPTH: return worst ? burn->depth_max_mm : burn->depth_mm;
    case WB_FIGURE_FLAME: return worst ? burn->flame_max_mm : burn->flame_mm;
    case WB_FIGURE_VESSEL: return worst ? burn->vessel_max_c : burn->vessel_c;
    case WB_FIGURE_SOOT: return burn->soot;
    case WB_FIGURE_MUSHROOM: return burn->mushroom;
    case WB_FIGURE_THROW: return burn->throw_rating;
    case WB_FIGURE_CONSUMPTION: return burn->consumption_g_per_h;
    case WB_FIGURE_POOL: return burn->pool_mm;
    case WB_FIGURE_SMOKE: return burn->smoke;
    case WB_FIGURE_FULL_POOL:
    case WB_FIGURE_POOL_LIMIT:
    case WB_FIGURE_TAU:
    case WB_FIGURE_SCORE:
    case WB_N_FIGURES:
    default: return NAN;
    }
}

/* What a figure is read from; those not at_end count after the end of the burn as well. */
static const struct { WbFigure figure; WbColumn columns[4]; guint n; gboolean at_end; } looks[] = {
  { WB_FIGURE_POOL, { WB_COLUMN_POOL_MM, WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_FULL, WB_COLUMN_RING_12_MM }, 4, TRUE },
  { WB_FIGURE_DEPTH, { WB_COLUMN_DEPTH_MM }, 1, TRUE },
  { WB_FIGURE_FLAME, { WB_COLUMN_FLAME_MM, WB_COLUMN_FLAME_MAX_MM }, 2, TRUE },
  { WB_FIGURE_VESSEL, { WB_COLUMN_VESSEL_C }, 1, TRUE },
  { WB_FIGURE_HANG_UP, { WB_COLUMN_HANG_UP_MM }, 1, FALSE },
  { WB_FIGURE_SMOKE, { WB_COLUMN_SMOKE }, 1, FALSE },
  { WB_FIGURE_SOOT, { WB_COLUMN_SOOT }, 1, FALSE },
  { WB_FIGURE_MUSHROOM, { WB_COLUMN_MUSHROOM }, 1, FALSE },
};

static gboolean
is_taken (const WbReadings *readings,
          guint             row,
          guint             look)
{
  for (guint k = 0; k < looks[look].n; k++)
    if (!isnan (wb_readings_get (readings, row, looks[look].columns[k])))
      return TRUE;
  return FALSE;
}

guint
wb_craft_burn_find_earlier (const WbDataset   *data,
                            const WbCraftBurn *burn)
{
  double last[G_N_ELEMENTS (looks)] = { 0 }, last_look = 0;
  guint first, n, earlier = 0;

  g_return_val_if_fail (data != NULL && burn != NULL, 0);

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double minute = wb_readings_get_elapsed_min (data->readings, row);

      for (guint i = 0; i < G_N_ELEMENTS (looks); i++)
        {
          if (!is_taken (data->readings, row, i) || (looks[i].at_end && minute > burn->end_min))
            continue;
          last[i] = MAX (last[i], minute);
          if (minute <= burn->end_min)
            last_look = MAX (last_look, minute);
        }
    }
  for (guint i = 0; i < G_N_ELEMENTS (looks); i++)
    if (last[i] > 0 && last[i] < last_look)
      earlier |= 1u << looks[i].figure;
  return earlier;
}
