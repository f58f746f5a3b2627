/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-burn-private.h"

#include <math.h>

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
wb_craft_burn_speaks (const WbDataset   *data,
                      const WbCraftBurn *burn,
                      WbFigure           figure)
{
  if (figure == WB_FIGURE_THROW && burn->kind == WB_BURN_THROW)
    return !is_set_aside (data, burn);
  if (!wb_craft_burn_counts (data, burn) || (figure == WB_FIGURE_POOL && burn->ring_held))
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
