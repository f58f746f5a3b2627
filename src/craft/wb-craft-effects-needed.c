/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-pairs-private.h"
#include "wb-craft-effects-private.h"

#include <math.h>

#include "wb-calc-power.h"
#include "wb-craft-aims-private.h"
#include "wb-craft-vessel-private.h"

#define POWER 0.8
#define ALPHA 0.05
#define MOST 1000          /* samples of each: more is no answer to a maker */
#define CARED_SHARE 0.25   /* of the way from worthless to as good as can be: what an aim cares about; no source */
#define CARED_SCORE 0.05   /* scores nearer than this count as near each other in the ranking */

/* The narrower flank of a shape that has one, NAN without. */
static double
narrowest_flank (const WbCalcDesirability *shape)
{
  double below = shape->one_from - shape->zero_below, above = shape->zero_above - shape->one_to;

  below = isfinite (below) && below > 0 ? below : NAN;
  above = isfinite (above) && above > 0 ? above : NAN;
  return fmin (below, above);
}

/* The smallest difference that an aim of the figure cares about, in its unit; NAN: none does. */
static double
find_aimed (const WbDataset *data,
            WbFigure         figure)
{
  g_autoptr (GArray) aims = wb_craft_aims_new (data);
  double least = NAN;

  if (figure == WB_FIGURE_SCORE)
    return CARED_SCORE;
  for (guint i = 0; i < aims->len; i++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, i);
      double flank = aim->figure == figure ? narrowest_flank (&aim->shape) : NAN, due = 1;

      if (figure == WB_FIGURE_FULL_POOL)
        for (guint cell = 0; cell < data->cells->len; cell++)
          {
            double of_cell = wb_craft_vessel_due_h (wb_dataset_get_vessel (data, cell), aim->stage);

            due = cell == 0 ? of_cell : fmin (due, of_cell);
          }
      least = fmin (least, CARED_SHARE * flank * due);
    }
  return least;
}

/* One combination's error times the samples it rests on is what one sample of it spreads by, burns and readings and all. */
static double
pool_spread (const WbCraftEffectsModel *model)
{
  g_autofree double *weights = g_new0 (double, MAX (model->n_cells, 1));
  double sum = 0;
  guint n = 0;

  for (guint cell = 0; cell < model->n_cells; cell++)
    {
      WbCraftContrast contrast;

      if (!model->has[cell])
        continue;
      weights[cell] = 1;
      if (wb_craft_effects_model_contrast (model, weights, &contrast))
        {
          sum += contrast.error * contrast.error * model->samples[cell];
          n++;
        }
      weights[cell] = 0;
    }
  return n > 0 ? sqrt (sum / n) : NAN;
}

void
wb_craft_effects_prepare_needed (WbCraftEffects            *self,
                                 const WbDataset           *data,
                                 const WbCraftLevels       *levels,
                                 const WbCalcAnova         *anova,
                                 const WbCraftEffectsModel *model)
{
  WbCraftSamplesNeeded *needed = &self->needed;

  needed->aimed = find_aimed (data, self->figure);
  needed->sample_sd = model != NULL ? pool_spread (model) : sqrt (anova->residual_mean_sq);
  needed->least = G_MAXUINT;
  for (guint cell = 0; cell < data->cells->len; cell++)
    {
      guint samples = model != NULL ? (model->has[cell] ? model->samples[cell] : 0) : levels->cell_n[cell];

      if (samples == 0)
        continue;
      needed->combinations++;
      needed->least = MIN (needed->least, samples);
      needed->most = MAX (needed->most, samples);
    }
  needed->least = MIN (needed->least, needed->most);
}

void
wb_craft_effects_set_margin (WbCraftEffects *self,
                             double          margin)
{
  WbCraftSamplesNeeded *needed;
  WbCalcPowerSamples samples;

  g_return_if_fail (self != NULL && (isnan (margin) || (isfinite (margin) && margin > 0)));

  needed = &self->needed;
  self->margin = margin;
  wb_craft_effects_judge_alike (self);
  needed->difference = self->refusal != NULL ? NAN : isnan (margin) ? needed->aimed : margin;
  needed->samples = 0;
  needed->power = NAN;
  needed->alpha = ALPHA;
  if (needed->difference > 0 && needed->sample_sd > 0
      && wb_calc_power_samples (needed->difference, needed->sample_sd, MAX (needed->combinations, 2), ALPHA, POWER, MOST, &samples)
           == WB_CALC_OK)
    {
      needed->samples = samples.n;
      needed->power = samples.power;
    }
  g_free (needed->text);
  needed->text = wb_craft_effects_dup_needed (self);
}
