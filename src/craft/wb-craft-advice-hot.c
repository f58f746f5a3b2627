/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-levels-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-stops-private.h"

/*
 * How near a limit the next size up would come. On the scale of the figure (a logarithm: of the flame, and of the vessel's rise
 * over the room) the next size's mean is the cell's own, plus what a step adds, plus a wick's own deviation; its candle's highest
 * burn of a third is told by the spreads between samples and burns. A step adds STEP ± STEP_SD before any data (no source), and what
 * the straight line through the series' cells in this vessel and scent says, by their precisions.
 */
#define STEP 0.09
#define STEP_SD 0.06
#define WICK_SD 0.04      /* of a wick off the line of its series; no source */

gboolean
wb_craft_advice_is_of_line (const WbDataset *data,
                            guint            a,
                            guint            b)
{
  const WbWick *one = wb_dataset_get_wick (data, a), *other = wb_dataset_get_wick (data, b);

  return g_strcmp0 (one->series, other->series) == 0 && one->kind == other->kind
         && wb_dataset_get_cell (data, a)->wick_count == wb_dataset_get_cell (data, b)->wick_count
         && wb_craft_factor_is_same (data, WB_CRAFT_FACTOR_VESSEL, a, b) && wb_craft_factor_is_same (data, WB_CRAFT_FACTOR_SCENT, a, b);
}

static gboolean
is_told (const WbCraftEstimate *estimate)
{
  return estimate->burns > 0 && isfinite (estimate->mean) && estimate->se > 0;
}

/* What a step adds, by weighted least squares through the cells of the line, with the opinion as one more observation. */
static void
find_step (const WbCraftAdvising *self,
           const WbCraftGroup    *group,
           guint                  cell,
           WbFigure               figure,
           WbStage                stage,
           double                *step,
           double                *variance)
{
  double weight = 0, x_sum = 0, y_sum = 0, xx = 0, xy = 0, precision = 1 / (STEP_SD * STEP_SD);
  double pulled = STEP * precision;

  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < group->n_cells; i++)
      {
        guint other = group->cells[i].cell;
        const WbCraftEstimate *estimate = &self->estimates->cells[other].stage_worst[stage][figure];
        double w, x;

        if (!is_told (estimate) || !wb_craft_advice_is_of_line (self->data, cell, other))
          continue;
        w = 1 / (estimate->se * estimate->se + WICK_SD * WICK_SD);
        x = (double) wb_dataset_get_wick (self->data, other)->step;
        if (pass == 0)
          {
            weight += w;
            x_sum += w * x;
            y_sum += w * estimate->mean;
            continue;
          }
        xx += w * (x - x_sum / weight) * (x - x_sum / weight);
        xy += w * (x - x_sum / weight) * (estimate->mean - y_sum / weight);
      }
  /* xy is the slope times its precision xx */
  *step = (pulled + xy) / (precision + xx);
  *variance = 1 / (precision + xx);
}

/* That the highest burn of a candle of the next size is over the stop, in that third. */
static double
foretell_third (const WbCraftAdvising *self,
                const WbCraftGroup    *group,
                guint                  cell,
                WbFigure               figure,
                WbStage                stage,
                double                 stop)
{
  const WbCraftEstimate *estimate = &self->estimates->cells[cell].stage_worst[stage][figure];
  double step, step_variance, burns, highest, mean, variance;

  if (!is_told (estimate))
    return NAN;
  find_step (self, group, cell, figure, stage, &step, &step_variance);
  /* the expected highest of so many burns: Blom, Statistical Estimates and Transformed Beta-Variables (1958); the figure is from memory */
  burns = MAX ((double) estimate->burns / MAX (estimate->samples, 1), 1);
  highest = burns > 1 ? wb_calc_normal_quantile ((burns - 0.375) / (burns + 0.25)) : 0;
  mean = estimate->mean + MAX (step, 0) + highest * estimate->burn_sd;
  variance = estimate->se * estimate->se + step_variance + WICK_SD * WICK_SD + estimate->sample_sd * estimate->sample_sd
             + estimate->burn_sd * estimate->burn_sd;
  return 1 - wb_calc_normal_below ((wb_craft_scale_from (figure, stop, estimate->offset) - mean) / sqrt (variance));
}

double
wb_craft_advice_foretell_hot (const WbCraftAdvising *self,
                              const WbCraftGroup    *group,
                              guint                  cell)
{
  static const WbFigure figures[] = { WB_FIGURE_FLAME, WB_FIGURE_VESSEL };
  double p = NAN;

  for (guint f = 0; f < G_N_ELEMENTS (figures); f++)
    for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
      {
        double stop = wb_craft_stops_get (self->data, figures[f]);
        double third = isfinite (stop) ? foretell_third (self, group, cell, figures[f], stage, stop) : NAN;

        /* a hot candle has both, in every third: the largest of them, not what they would add up to */
        p = isnan (p) ? third : isnan (third) ? p : MAX (p, third);
      }
  return p;
}
