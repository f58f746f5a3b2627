/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-last-inch.h"

#include <math.h>

#include "wb-craft-vessel-private.h"
#include "wb-craft-wax-private.h"

/*
 * A wick burns 3 to 7 g/h (common practice, no source). Where nothing was weighed
 * the upper end stands, so that the last inch is foretold early rather than late.
 */
#define USUAL_G_PER_H 7.0

/* Minutes for which the last of its burns has been alight, as far as it was read; 0: it is out. */
static double
find_alight_min (const WbCraftWax *candle)
{
  const WbCraftBurn *last = candle->n > 0 ? &candle->burns[candle->n - 1] : NULL;

  return last != NULL && last->alight ? fmax (last->alight_min, 0) : 0;
}

/* Minute at which `level_mm` is reached. */
static double
find_minute (const WbCraftLastInch *self,
             const WbCraftWax      *candle,
             double                 left,
             double                 at_min,
             double                 level_mm)
{
  double below = wb_craft_vessel_volume_below (candle->vessel, fmin (level_mm / candle->height_mm, 1));

  return fmax (at_min + (left - below) * candle->fill_g / self->g_per_h * 60, 0);
}

void
wb_craft_last_inch_foretell (const WbDataset      *data,
                             const WbCraftFigures *figures,
                             guint                 sample,
                             WbCraftLastInch      *self)
{
  WbCraftWax candle;
  double left, at_min;

  g_return_if_fail (data != NULL && figures != NULL && self != NULL);
  g_return_if_fail (sample < figures->n_samples);

  *self = (WbCraftLastInch) { WB_CRAFT_PACE_NONE, NAN, NAN, NAN, NAN };
  candle = wb_craft_wax_find (data, figures, sample);
  if (!(candle.height_mm > 0) || !(candle.fill_g > 0))
    return;
  self->g_per_h = wb_craft_wax_find_pace (data, figures, sample, USUAL_G_PER_H, &self->pace);
  left = wb_craft_wax_find_left (figures, sample, &candle, self->g_per_h);
  at_min = find_alight_min (&candle);
  /* the share that is left counts the burn that is alight only where the sample's own pace is known */
  if (!isnan (figures->life_left[sample]) && self->pace != WB_CRAFT_PACE_SAMPLE)
    at_min = 0;
  self->level_mm = candle.height_mm * wb_craft_vessel_height_of (candle.vessel, fmin (left + self->g_per_h * at_min / 60 / candle.fill_g, 1));
  self->last_inch_min = find_minute (self, &candle, left, at_min, WB_CRAFT_LAST_INCH_MM);
  if (data->protocol != NULL && data->protocol->end_rule == WB_END_RESIDUE && data->protocol->end_residue_mm > 0)
    self->end_min = find_minute (self, &candle, left, at_min, data->protocol->end_residue_mm);
}
