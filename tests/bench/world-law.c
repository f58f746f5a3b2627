/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "world.h"

#include <math.h>

/* The law of an invented world: what it is drawn from, and what it says. */

#define OFF5 0.05
#define OF_LOAD 0.006         /* of a logarithm a point of load, standard deviation */
#define RATING_OF_LOAD 0.05   /* mean of a rating's latent level, and its standard deviation */
#define RATING_OF_LOAD_SD 0.025
#define BEND_LOW 0.6
#define BEND_HIGH 1.2

/* Typical of the middle wick in 76.2 mm at 6 %, how that grows with strength, and what ln (D / 76.2) changes: drawn between two. */
static const struct { double low, high, ratio_low, ratio_high, width_low, width_high; } laws[WORLD_N_FIGURES] = {
  [WORLD_LIMIT] = { 79, 86, 1, 1, 0.15, 0.55 },
  [WORLD_TAU] = { 1.0, 1.6, 0, 0, 0.3, 1.1 },
  [WORLD_DEPTH] = { 7.5, 10.5, 1.7, 2.5, -0.5, -0.1 },
  [WORLD_FLAME] = { 18, 27, 1.7, 2.5, -0.3, 0.0 },
  [WORLD_RISE] = { 23, 32, 1.6, 2.3, -1.0, -0.4 },
  [WORLD_CONSUMPTION] = { 3.8, 5.3, 1.5, 2.2, -0.3, 0.0 },
  [WORLD_SOOT] = { -0.6, 0.4, 4, 7, -1.5, 0 },
  [WORLD_MUSHROOM] = { -0.6, 0.4, 4, 7, -1.5, 0 },
};

static gboolean
is_rating (guint figure)
{
  return figure == WORLD_SOOT || figure == WORLD_MUSHROOM;
}

WorldShift
world_draw_shift (WbCalcRandom *random,
                  double        sd,
                  double        hot)
{
  double of_limit = wb_calc_random_normal (random);
  WorldShift shift = { { sd * of_limit } };

  for (guint f = WORLD_TAU; f < WORLD_N_FIGURES; f++)
    {
      double own = wb_calc_random_normal (random), with = f == WORLD_TAU ? 0 : hot;

      shift.of[f] = (is_rating (f) ? LAB_LATENT_OFF : 1) * sd * (with * of_limit + sqrt (1 - with * with) * own);
    }
  return shift;
}

void
world_draw_law (World        *self,
                WbCalcRandom *random)
{
  for (guint f = 0; f < WORLD_N_FIGURES; f++)
    {
      double middle = lab_uniform (random, laws[f].low, laws[f].high);
      double bend = lab_uniform (random, BEND_LOW, BEND_HIGH) * (wb_calc_random_uniform (random) < 0.5 ? -1 : 1);
      double of_load = wb_calc_random_normal (random);

      self->base.of[f] = is_rating (f) ? middle : log (middle);
      self->ratio.of[f] = lab_uniform (random, laws[f].ratio_low, laws[f].ratio_high);
      self->width.of[f] = lab_uniform (random, laws[f].width_low, laws[f].width_high);
      self->curve.of[f] = self->variant == WORLD_CURVED && !is_rating (f) ? bend : 0;
      self->load.of[f] = f == WORLD_TAU ? 0 : is_rating (f) ? RATING_OF_LOAD + RATING_OF_LOAD_SD * of_load : OF_LOAD * of_load;
    }
  if (self->variant == WORLD_MATERIAL)
    self->tin = (WorldShift) { { 0.05, -0.05, 0.08, 0.04, 0.15, 0.04, 0, 0 } };
  for (guint f = 0; f < WORLD_N_FIGURES; f++)
    self->off_sd.of[f] = f == WORLD_TAU ? lab_uniform (random, 0.03, 0.06)
                                        : (is_rating (f) ? LAB_LATENT_OFF : 1) * (self->variant == WORLD_OFF5 ? OFF5 : WORLD_OFF_SD);
  self->n_waxes = 2 + (guint) wb_calc_random_below (random, 2) + (self->variant == WORLD_NEW_WAX);
  self->n_waxes = MIN (self->n_waxes, WORLD_MOST_WAXES);
  for (guint k = 0; k < self->n_waxes; k++)
    self->waxes[k] = world_draw_shift (random, WORLD_WAX_SD, WORLD_HOT);
}

double
world_law (const World *self,
           WorldFigure  figure,
           guint        vessel,
           guint        wick,
           guint        wax,
           double       load_pct)
{
  double wider = log (self->inner_mm[vessel] / WORLD_REFERENCE_MM);
  const WorldWick *of = &self->wicks[wick];

  return self->base.of[figure] + self->ratio.of[figure] * of->strength + self->width.of[figure] * wider
         + self->curve.of[figure] * wider * wider + self->load.of[figure] * (load_pct - 6) + self->waxes[wax].of[figure]
         + self->series[of->series].of[figure] + of->own.of[figure] + (self->is_tin[vessel] ? self->tin.of[figure] : 0);
}

/* Of a uniform draw. */
static WorldNormal
of_range (double low,
          double high)
{
  return (WorldNormal) { (low + high) / 2, (high - low) / sqrt (12) };
}

/* Of the logarithm of one: its mean is that of its integral, high ln high - high - low ln low + low, over the range. */
static WorldNormal
of_log_range (double low,
              double high)
{
  return (WorldNormal) { (high * log (high) - low * log (low)) / (high - low) - 1, log (high / low) / sqrt (12) };
}

WorldBelief
world_believe (const World *self,
               WorldFigure  figure)
{
  gboolean bent = self->variant == WORLD_CURVED && !is_rating (figure);
  WorldBelief belief = {
    .base = is_rating (figure) ? of_range (laws[figure].low, laws[figure].high) : of_log_range (laws[figure].low, laws[figure].high),
    .ratio = of_range (laws[figure].ratio_low, laws[figure].ratio_high),
    .width = of_range (laws[figure].width_low, laws[figure].width_high),
    .curve = { 0, bent ? hypot ((BEND_LOW + BEND_HIGH) / 2, (BEND_HIGH - BEND_LOW) / sqrt (12)) : 0 },
    .load = { 0, OF_LOAD },
    .series_sd = figure == WORLD_LIMIT ? 0 : (is_rating (figure) ? LAB_LATENT_OFF : 1) * WORLD_SERIES_SD,
    .own_sd = (is_rating (figure) ? LAB_LATENT_OFF : 1) * WORLD_WICK_SD,
  };

  if (figure == WORLD_TAU)
    belief.load.sd = 0;
  if (is_rating (figure))
    belief.load = (WorldNormal) { RATING_OF_LOAD, RATING_OF_LOAD_SD };
  return belief;
}

double
world_shift_covariance (WorldFigure one,
                        WorldFigure other,
                        double      sd,
                        double      hot)
{
  const WorldFigure figures[] = { one, other };
  double product = sd * sd;

  for (guint i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      product *= is_rating (figures[i]) ? LAB_LATENT_OFF : 1;
      if (one != other)
        product *= figures[i] == WORLD_LIMIT ? 1 : figures[i] == WORLD_TAU ? 0 : hot;
    }
  return product;
}
