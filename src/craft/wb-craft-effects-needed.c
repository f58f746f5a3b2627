/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-effects-pairs-private.h"
#include "wb-craft-effects-private.h"

#include <math.h>

#include "wb-calc-power.h"
#include "wb-calc-quantile.h"
#include "wb-craft-aims-private.h"
#include "wb-craft-vessel-private.h"

#define POWER 0.8
#define ALPHA 0.05
#define LEVEL 0.9          /* of the spread's interval */
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

/*
 * One combination's error times the samples it rests on is what one sample of it spreads by, burns and readings and all.
 * All of these variances are sums of the same few components, so that they err together: their standard errors,
 * variance × sqrt (2 / df) by Satterthwaite, add up as they are.
 */
static void
pool_spread (const WbCraftEffectsModel *model,
             WbCraftSamplesNeeded      *needed)
{
  g_autofree double *weights = g_new0 (double, MAX (model->n_cells, 1));
  double sum = 0, error = 0;
  guint n = 0;

  for (guint cell = 0; cell < model->n_cells; cell++)
    {
      WbCraftContrast contrast;

      if (!model->has[cell])
        continue;
      weights[cell] = 1;
      if (wb_craft_effects_model_contrast (model, weights, &contrast))
        {
          double variance = contrast.error * contrast.error * model->samples[cell];

          sum += variance;
          error += variance / sqrt (contrast.df);
          n++;
        }
      weights[cell] = 0;
    }
  needed->sample_sd = n > 0 ? sqrt (sum / n) : NAN;
  needed->sample_df = error > 0 ? sum * sum / (error * error) : NAN;
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
  if (model != NULL)
    pool_spread (model, needed);
  else
    {
      needed->sample_sd = sqrt (anova->residual_mean_sq);
      needed->sample_df = (double) anova->residual_df;
    }
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

/* Samples of each where they spread by `sd`; 0: more than MOST, or nothing to count for. */
static guint
count_samples (const WbCraftSamplesNeeded *needed,
               double                      sd,
               double                     *power)
{
  WbCalcPowerSamples samples;

  *power = NAN;
  if (!(needed->difference > 0) || !(sd > 0) || !isfinite (sd)
      || wb_calc_power_samples (needed->difference, sd, MAX (needed->combinations, 2), ALPHA, POWER, MOST, &samples) != WB_CALC_OK)
    return 0;
  *power = samples.power;
  return (guint) samples.n;
}

/* df × variance over its truth is chi-square: the spread's interval, and what is needed at its ends. */
static void
count_range (WbCraftSamplesNeeded *needed)
{
  double tail = (1 - LEVEL) / 2, df = needed->sample_df, unused;

  needed->samples_low = needed->samples_high = 0;
  if (!(df > 0) || !isfinite (df))
    return;
  needed->samples_low = count_samples (needed, needed->sample_sd * sqrt (df / wb_calc_chisq_quantile (1 - tail, df)), &unused);
  needed->samples_high = count_samples (needed, needed->sample_sd * sqrt (df / wb_calc_chisq_quantile (tail, df)), &unused);
}

void
wb_craft_effects_set_margin (WbCraftEffects *self,
                             double          margin)
{
  WbCraftSamplesNeeded *needed;

  g_return_if_fail (self != NULL && (isnan (margin) || (isfinite (margin) && margin > 0)));

  needed = &self->needed;
  self->margin = margin;
  wb_craft_effects_judge_alike (self);
  needed->difference = self->refusal != NULL ? NAN : isnan (margin) ? needed->aimed : margin;
  needed->alpha = ALPHA;
  needed->samples = count_samples (needed, needed->sample_sd, &needed->power);
  count_range (needed);
  g_free (needed->text);
  needed->text = wb_craft_effects_dup_needed (self);
}
