/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-wax-private.h"

#include <math.h>

#include "wb-craft-life-private.h"

WbCraftWax
wb_craft_wax_find (const WbDataset      *data,
                   const WbCraftFigures *figures,
                   guint                 sample)
{
  WbCraftWax self = { .vessel = wb_dataset_get_vessel (data, g_array_index (data->sample_cell, guint, sample)) };

  /* a sample's burns lie together */
  for (guint i = 0; i < figures->n_burns; i++)
    if (figures->burns[i].sample == sample)
      {
        if (self.burns == NULL)
          self.burns = &figures->burns[i];
        self.n++;
      }
  self.fill_g = wb_craft_life_fill_g (data, sample, self.burns, self.n);
  self.height_mm = wb_craft_life_height_mm (data, sample, self.burns, self.n);
  return self;
}

/* Mean of what was weighed, g/h; NAN: nothing was. */
static double
find_mean (const WbCraftFigures *figures,
           guint                 sample,
           guint                 cell)
{
  double sum = 0;
  guint n = 0;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];

      if ((sample != G_MAXUINT ? burn->sample != sample : burn->cell != cell) || isnan (burn->consumption_g_per_h))
        continue;
      sum += burn->consumption_g_per_h;
      n++;
    }
  return n > 0 ? sum / n : NAN;
}

double
wb_craft_wax_find_pace (const WbDataset      *data,
                        const WbCraftFigures *figures,
                        guint                 sample,
                        double                usual_g_per_h,
                        WbCraftPace          *from)
{
  guint cell = g_array_index (data->sample_cell, guint, sample);
  double mean = find_mean (figures, sample, 0);

  *from = WB_CRAFT_PACE_SAMPLE;
  if (mean > 0)
    return mean;
  *from = WB_CRAFT_PACE_CELL;
  mean = find_mean (figures, G_MAXUINT, cell);
  if (mean > 0)
    return mean;
  *from = WB_CRAFT_PACE_USUAL;
  return usual_g_per_h * MAX (wb_dataset_get_cell (data, cell)->wick_count, 1);
}

double
wb_craft_wax_find_left (const WbCraftFigures *figures,
                        guint                 sample,
                        const WbCraftWax     *candle,
                        double                g_per_h)
{
  double burnt_min = 0;

  if (!isnan (figures->life_left[sample]))
    return figures->life_left[sample];
  for (guint i = 0; i < candle->n; i++)
    burnt_min += fmax (candle->burns[i].alight_min, 0);
  return CLAMP (1 - g_per_h * burnt_min / 60 / candle->fill_g, 0, 1);
}
