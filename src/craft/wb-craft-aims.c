/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-aims-private.h"

#include <math.h>

/* A side that an aim leaves open has neither of its two figures; with one of them it is a step there. */
static WbCalcDesirability
shape_of (const WbAim *aim)
{
  double zero_below = isnan (aim->zero_below) ? aim->one_from : aim->zero_below;
  double one_from = isnan (aim->one_from) ? aim->zero_below : aim->one_from;
  double one_to = isnan (aim->one_to) ? aim->zero_above : aim->one_to;
  double zero_above = isnan (aim->zero_above) ? aim->one_to : aim->zero_above;

  return (WbCalcDesirability) {
    .zero_below = isnan (zero_below) ? -INFINITY : zero_below,
    .one_from = isnan (one_from) ? -INFINITY : one_from,
    .one_to = isnan (one_to) ? INFINITY : one_to,
    .zero_above = isnan (zero_above) ? INFINITY : zero_above,
    .exponent_low = 1,
    .exponent_high = 1,
    .floor_high = isnan (aim->late_floor) ? 0 : CLAMP (aim->late_floor, 0, 1),
  };
}

GArray *
wb_craft_aims_new (const WbDataset *data)
{
  GArray *aims = g_array_new (FALSE, FALSE, sizeof (WbCraftAim));

  for (guint i = 0; i < data->aims->len; i++)
    {
      const WbAim *record = g_ptr_array_index (data->aims, i);
      WbCraftAim aim = { record->figure, record->stage, record->worst, shape_of (record), record->weight };

      if (!(record->weight > 0) || record->figure < 0 || record->figure >= WB_N_FIGURES
          || record->stage < 0 || record->stage >= WB_N_STAGES
          || record->figure == WB_FIGURE_SCORE || record->figure == WB_FIGURE_POOL_LIMIT || record->figure == WB_FIGURE_TAU
          || wb_calc_desirability_check (&aim.shape) != WB_CALC_OK)
        continue;
      g_array_append_val (aims, aim);
    }
  return aims;
}

const WbCraftEstimate *
wb_craft_aim_get_estimate (const WbCraftAim  *aim,
                           const WbCraftCell *cell)
{
  return aim->worst ? &cell->stage_worst[aim->stage][aim->figure] : &cell->stage_figure[aim->stage][aim->figure];
}

gboolean
wb_craft_aim_is_read (const WbCraftAim  *aim,
                      const WbCraftCell *cell)
{
  if (aim->figure == WB_FIGURE_FULL_POOL)
    {
      const WbCraftGrowth *growth = &cell->stage_growth[aim->stage];

      return (growth->status == WB_CRAFT_FIT_ALL_AT_WALL && !isnan (growth->at_wall_h))
             || (!isnan (growth->log_limit) && !isnan (growth->log_tau) && !isnan (growth->var_tau));
    }
  return !isnan (wb_craft_aim_get_estimate (aim, cell)->mean);
}
