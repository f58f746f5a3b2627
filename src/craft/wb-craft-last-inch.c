/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-last-inch.h"

#include <math.h>

#include "wb-craft-alight.h"
#include "wb-craft-life-private.h"

/*
 * A wick burns 3 to 7 g/h (common practice, no source). Where nothing was weighed
 * the upper end stands, so that the last inch is foretold early rather than late.
 */
#define USUAL_G_PER_H 7.0
#define HALVINGS 50

/* What is known of a sample. */
typedef struct
{
  const WbVessel    *vessel;
  const WbCraftBurn *burns;  /* its own, in order */
  guint              n;
  double             height_mm, fill_g;
} Candle;

static Candle
find_candle (const WbDataset      *data,
             const WbCraftFigures *figures,
             guint                 sample)
{
  Candle self = { .vessel = wb_dataset_get_vessel (data, g_array_index (data->sample_cell, guint, sample)) };

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

/* An axis at a share of the height, straight between base, middle and top; where they are not recorded, as at the top. */
static double
axis_at (double top,
         double middle,
         double base,
         double share)
{
  double mid = middle > 0 ? middle : base > 0 ? (top + base) / 2 : top, low = base > 0 ? base : mid;

  return share < 0.5 ? low + (mid - low) * 2 * share : mid + (top - mid) * (2 * share - 1);
}

static double
section_at (const WbVessel *vessel,
            double          share)
{
  double one = axis_at (vessel->inner_diameter_mm, vessel->middle_diameter_mm, vessel->base_diameter_mm, share);

  if (!(vessel->inner_width_mm > 0))
    return one * one;
  return one * axis_at (vessel->inner_width_mm, vessel->middle_width_mm, vessel->base_width_mm, share);
}

/* Of a section that is a parabola of height, as it is between two of the diameters: Simpson's rule is exact. */
static double
piece (const WbVessel *vessel,
       double          from,
       double          to)
{
  return (to - from) / 6 * (section_at (vessel, from) + 4 * section_at (vessel, (from + to) / 2) + section_at (vessel, to));
}

/* The share of the fill that stands below a share of its height. */
static double
volume_below (const WbVessel *vessel,
              double          share)
{
  double lower = piece (vessel, 0, 0.5), all = lower + piece (vessel, 0.5, 1);

  return (share <= 0.5 ? piece (vessel, 0, share) : lower + piece (vessel, 0.5, share)) / all;
}

static double
height_of (const WbVessel *vessel,
           double          volume)
{
  double low = 0, high = 1;

  for (guint i = 0; i < HALVINGS; i++)
    {
      double middle = (low + high) / 2;

      if (volume_below (vessel, middle) < volume)
        low = middle;
      else
        high = middle;
    }
  return (low + high) / 2;
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

static double
find_pace (const WbDataset      *data,
           const WbCraftFigures *figures,
           guint                 sample,
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
  return USUAL_G_PER_H * MAX (wb_dataset_get_cell (data, cell)->wick_count, 1);
}

/* Minutes for which the last of its burns has been alight, as far as it was read; 0: it is out. */
static double
find_alight_min (const WbDataset *data,
                 const Candle    *candle,
                 guint            n_wicks)
{
  const WbCraftBurn *last = candle->n > 0 ? &candle->burns[candle->n - 1] : NULL;
  const WbBurn *record = last != NULL ? wb_dataset_get_burn (data, last->burn) : NULL;
  guint first, n;

  if (record == NULL || record->session == 0)
    return 0;
  wb_readings_get_burn_rows (data->readings, last->burn, &first, &n);
  return isnan (wb_craft_alight_out_min (data->readings, first, n, n_wicks)) ? fmax (last->alight_min, 0) : 0;
}

/* Share of the fill that is left after all that is known of its burns. */
static double
find_left (const WbCraftFigures *figures,
           guint                 sample,
           const Candle         *candle,
           double                g_per_h)
{
  double burnt_min = 0;

  if (!isnan (figures->life_left[sample]))
    return figures->life_left[sample];
  for (guint i = 0; i < candle->n; i++)
    burnt_min += fmax (candle->burns[i].alight_min, 0);
  return CLAMP (1 - g_per_h * burnt_min / 60 / candle->fill_g, 0, 1);
}

/* Minute at which `level_mm` is reached. */
static double
find_minute (const WbCraftLastInch *self,
             const Candle          *candle,
             double                 left,
             double                 at_min,
             double                 level_mm)
{
  double below = volume_below (candle->vessel, fmin (level_mm / candle->height_mm, 1));

  return fmax (at_min + (left - below) * candle->fill_g / self->g_per_h * 60, 0);
}

void
wb_craft_last_inch_foretell (const WbDataset      *data,
                             const WbCraftFigures *figures,
                             guint                 sample,
                             WbCraftLastInch      *self)
{
  guint n_wicks;
  Candle candle;
  double left, at_min;

  g_return_if_fail (data != NULL && figures != NULL && self != NULL);
  g_return_if_fail (sample < figures->n_samples);

  *self = (WbCraftLastInch) { WB_CRAFT_PACE_NONE, NAN, NAN, NAN, NAN };
  n_wicks = (guint) MAX (wb_dataset_get_cell (data, g_array_index (data->sample_cell, guint, sample))->wick_count, 1);
  candle = find_candle (data, figures, sample);
  if (!(candle.height_mm > 0) || !(candle.fill_g > 0))
    return;
  self->g_per_h = find_pace (data, figures, sample, &self->pace);
  left = find_left (figures, sample, &candle, self->g_per_h);
  at_min = find_alight_min (data, &candle, n_wicks);
  /* the share that is left counts the burn that is alight only where the sample's own pace is known */
  if (!isnan (figures->life_left[sample]) && self->pace != WB_CRAFT_PACE_SAMPLE)
    at_min = 0;
  self->level_mm = candle.height_mm * height_of (candle.vessel, fmin (left + self->g_per_h * at_min / 60 / candle.fill_g, 1));
  self->last_inch_min = find_minute (self, &candle, left, at_min, WB_CRAFT_LAST_INCH_MM);
  if (data->protocol != NULL && data->protocol->end_rule == WB_END_RESIDUE && data->protocol->end_residue_mm > 0)
    self->end_min = find_minute (self, &candle, left, at_min, data->protocol->end_residue_mm);
}
