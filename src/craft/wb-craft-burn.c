/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-burn-private.h"

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
