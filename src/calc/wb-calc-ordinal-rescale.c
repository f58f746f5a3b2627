/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ordinal-density-private.h"

#include <math.h>

#include "wb-calc-ordinal-thresholds-private.h"

/* Standard deviations of the proposals, in q of a ln s: from many effects, which tell their spread well, to few. */
static const double reaches[] = { 0.1, 0.35, 1.2 };

/* State with all thresholds multiplied. */
static void
scale_thresholds (const WbCalcOrdinalDensity *density,
                  const WbCalcOrdinalState   *from,
                  double                      factor,
                  WbCalcOrdinalState         *to)
{
  for (size_t m = 0; m + 1 < density->n_categories; m++)
    {
      to->tau[m] = factor * from->tau[m];
      to->gap[m] = m > 0 ? factor * from->gap[m] : 0.0;
      to->log_gap[m] = m > 0 ? from->log_gap[m] + log (factor) : 0.0;
    }
}

static double
prior_of (const WbCalcOrdinalDensity *density,
          const WbCalcOrdinalState   *state)
{
  double by_tau[WB_CALC_ORDINAL_MAX_CATEGORIES] = { 0.0 };
  double by_log_gap[WB_CALC_ORDINAL_MAX_CATEGORIES];
  double value = wb_calc_ordinal_thresholds_prior (density, state, by_tau, by_log_gap);

  /* Beyond 38 the tail is 0 in a double and its negative power infinite: nowhere to go. */
  return isfinite (value) ? value : -INFINITY;
}

/* Proposals for one spread; `other` is the square of the one that stays. True when one was accepted. */
static bool
rescale_spread (const WbCalcOrdinalDensity *density,
                const WbCalcOrdinalSpread  *spread,
                double                      other,
                WbCalcRandom               *random,
                WbCalcOrdinalState         *state,
                double                     *q,
                double                     *deviates,
                size_t                      n)
{
  double sd = spread->median * exp (log (spread->factor) * *q);
  double prior = prior_of (density, state);
  double square = 0.0;
  double total = 1.0;

  for (size_t i = 0; i < n; i++)
    square += deviates[i] * deviates[i];
  for (size_t r = 0; r < sizeof reaches / sizeof *reaches; r++)
    {
      double to = *q + reaches[r] * wb_calc_random_normal (random);
      double sd_to = spread->median * exp (log (spread->factor) * to);
      double ratio = sd / sd_to;
      double shrink = sqrt ((1.0 + other + sd * sd) / (1.0 + other + sd_to * sd_to));
      WbCalcOrdinalState moved;
      double prior_to;
      double gain;

      scale_thresholds (density, state, shrink, &moved);
      prior_to = prior_of (density, &moved);
      gain = 0.5 * (*q * *q - to * to) + 0.5 * square * (1.0 - ratio * ratio) + (double) n * log (ratio) + prior_to - prior
             + (double) (density->n_categories - 1) * log (shrink);
      if (!(log (wb_calc_random_uniform (random)) < gain))
        continue;
      scale_thresholds (density, state, shrink, state);
      *q = to;
      sd = sd_to;
      prior = prior_to;
      square *= ratio * ratio;
      total *= ratio;
    }
  for (size_t i = 0; i < n; i++)
    deviates[i] *= total;
  return total != 1.0;
}

static double
place_of_spread (const WbCalcOrdinalSpread *spread,
                 double                     sd)
{
  return log (sd / spread->median) / log (spread->factor);
}

/*
 * Where no group has two units, what a group adds and what its unit adds are told
 * apart by their priors alone: large and small may change places. True when they did.
 */
static bool
exchange_spreads (const WbCalcOrdinalDensity *density,
                  WbCalcRandom               *random,
                  const WbCalcOrdinalState   *state,
                  double                     *q)
{
  double *group = &q[density->log_group];
  double *unit = &q[density->log_unit];
  double group_to = place_of_spread (&density->between_groups, state->unit_sd);
  double unit_to = place_of_spread (&density->between_units, state->group_sd);
  double gain = 0.5 * (*group * *group + *unit * *unit - group_to * group_to - unit_to * unit_to);

  if (!(log (wb_calc_random_uniform (random)) < gain))
    return false;
  *group = group_to;
  *unit = unit_to;
  for (size_t i = 0; i < density->n_pairs; i++)
    {
      double *of_group = &q[density->group_deviates + density->pairs[i].group];
      double *of_unit = &q[density->unit_deviates + density->pairs[i].unit];
      double kept = *of_group;

      *of_group = *of_unit;
      *of_unit = kept;
    }
  return true;
}

bool
wb_calc_ordinal_density_rescale (double       *q,
                                 WbCalcRandom *random,
                                 void         *user)
{
  const WbCalcOrdinalDensity *density = user;
  WbCalcOrdinalState state;
  bool moved = false;

  wb_calc_ordinal_density_read (density, q, &state);
  if (density->units_alone && state.group_sd > 0.0 && state.unit_sd > 0.0)
    {
      moved = exchange_spreads (density, random, &state, q);
      wb_calc_ordinal_density_read (density, q, &state);
    }
  if (state.group_sd > 0.0)
    moved |= rescale_spread (density, &density->between_groups, state.unit_sd * state.unit_sd, random, &state,
                             &q[density->log_group], &q[density->group_deviates], density->n_groups);
  if (state.unit_sd > 0.0)
    {
      double group_sd = state.group_sd > 0.0 ? density->between_groups.median
                                                   * exp (log (density->between_groups.factor) * q[density->log_group])
                                             : 0.0;

      moved |= rescale_spread (density, &density->between_units, group_sd * group_sd, random, &state,
                               &q[density->log_unit], &q[density->unit_deviates], density->n_units_seen);
    }
  if (moved)
    wb_calc_ordinal_thresholds_write (density, &state, q);
  return moved;
}
