/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-mixed-private.h"

#define MAX_LOCAL 4

/* Bounds of a spread around where its search begins, and of the correlation's inverse hyperbolic tangent. */
#define REACH 1e4
#define CORRELATION_REACH 3.0

static bool
is_bad_column (const WbCalcMixedData   *data,
               const WbCalcMixedColumn *column)
{
  if (column->spread == WB_CALC_MIXED_KNOWN)
    return !(column->sd > 0.0);
  return column->spread < WB_CALC_MIXED_N_NESTED || (size_t) column->spread >= data->n_spreads;
}

static bool
is_bad_spread (const WbCalcMixedSpread *spread)
{
  if (!(spread->start > 0.0) && !(spread->held && spread->start == 0.0))
    return true;
  if (isinf (spread->start) || (spread->factor != 0.0 && (!(spread->factor > 1.0) || isinf (spread->factor))))
    return true;
  return spread->factor > 1.0 && (!(spread->median > 0.0) || isinf (spread->median));
}

static bool
is_bad_row (const WbCalcMixedData *data,
            size_t                 i)
{
  double variance = data->variance != NULL ? data->variance[i] : 0.0;
  bool outside = data->outside != NULL && data->outside[i];

  if (!isfinite (data->y[i]) || !isfinite (variance) || variance < 0.0 || (outside && !(variance > 0.0)))
    return true;
  if (data->block[i] >= data->n_blocks || (i > 0 && data->block[i] < data->block[i - 1]))
    return true;
  for (size_t j = 0; j < data->n_local; j++)
    if (!isfinite (data->local[i * data->n_local + j]))
      return true;
  for (size_t j = 0; j < data->n_global; j++)
    if (!isfinite (data->global[i * data->n_global + j]))
      return true;
  return false;
}

/* Units in order, each in one block and in one piece; counts the units beyond one a block. */
static bool
count_units (const WbCalcMixedData *data,
             size_t                *spare)
{
  size_t last = SIZE_MAX, last_block = SIZE_MAX, units = 0, blocks = 0;
  bool apart = false;

  for (size_t i = 0; i < data->n_rows; i++)
    {
      if (data->outside != NULL && data->outside[i])
        {
          apart = true;
          continue;
        }
      if (last != SIZE_MAX && (data->unit[i] < last || (data->unit[i] == last && (data->block[i] != last_block || apart))))
        return false;
      units += data->unit[i] != last ? 1 : 0;
      blocks += data->block[i] != last_block ? 1 : 0;
      last = data->unit[i];
      last_block = data->block[i];
      apart = false;
    }
  *spare = units - blocks;
  return true;
}

static WbCalcStatus
check (const WbCalcMixedData *data,
       size_t                *spare)
{
  if (data->n_local > MAX_LOCAL || data->n_local + data->n_global == 0 || data->n_spreads < WB_CALC_MIXED_N_NESTED
      || data->n_spreads > WB_CALC_MIXED_MAX_SPREADS)
    return WB_CALC_BAD_INPUT;
  for (size_t k = 0; k < data->n_spreads; k++)
    if (is_bad_spread (&data->spread[k]))
      return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < data->n_local; j++)
    if (is_bad_column (data, &data->local_column[j]))
      return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < data->n_global; j++)
    if (is_bad_column (data, &data->global_column[j]))
      return WB_CALC_BAD_INPUT;
  if (data->correlated && (data->n_local < 2 || data->local_column[0].spread == WB_CALC_MIXED_KNOWN
                           || data->local_column[1].spread == WB_CALC_MIXED_KNOWN))
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < data->n_rows; i++)
    if (is_bad_row (data, i))
      return WB_CALC_BAD_INPUT;
  return count_units (data, spare) ? WB_CALC_OK : WB_CALC_BAD_INPUT;
}

void
wb_calc_mixed_read_spreads (const WbCalcMixed *fit,
                            const double      *x,
                            double            *sd,
                            double            *correlation)
{
  for (size_t k = 0; k < fit->data->n_spreads; k++)
    sd[k] = fit->data->spread[k].held ? fit->data->spread[k].start : exp (x[k]);
  *correlation = fit->data->correlated ? tanh (x[fit->data->n_spreads]) : 0.0;
}

double
wb_calc_mixed_log_prior (const WbCalcMixedSpread *spread,
                         double                   log_sd)
{
  double away;

  if (spread->held || !(spread->factor > 1.0))
    return 0.0;
  away = (log_sd - log (spread->median)) / log (spread->factor);
  return -0.5 * away * away;
}

/* Minus log of likelihood times prior. */
static double
evaluate (const double *x,
          void         *user)
{
  WbCalcMixed *fit = user;
  double sd[WB_CALC_MIXED_MAX_SPREADS];
  double correlation, value;

  wb_calc_mixed_read_spreads (fit, x, sd, &correlation);
  if (!wb_calc_mixed_system_solve (&fit->system, sd, correlation))
    return WB_CALC_SPREADS_HOPELESS;
  value = 0.5 * fit->system.criterion;
  for (size_t k = 0; k < fit->data->n_spreads; k++)
    value -= wb_calc_mixed_log_prior (&fit->data->spread[k], x[k]);
  return value;
}

static void
init_search (WbCalcMixed    *fit,
             WbCalcKeepGoing keep_going,
             void           *user)
{
  const WbCalcMixedData *data = fit->data;

  fit->search = (WbCalcSpreads) { .evaluate = evaluate, .user = fit, .keep_going = keep_going, .keep_user = user };
  for (size_t k = 0; k < data->n_spreads; k++)
    {
      const WbCalcMixedSpread *spread = &data->spread[k];
      double start = spread->start > 0.0 ? log (spread->start) : 0.0;

      wb_calc_spreads_add (&fit->search, start, start - log (REACH), start + log (REACH), spread->held,
                           !(spread->factor > 1.0));
    }
  if (data->correlated)
    wb_calc_spreads_add (&fit->search, 0.0, -CORRELATION_REACH, CORRELATION_REACH, false, false);
}

/* Systems a difference above and below the optimum, for the slopes of variances. */
static WbCalcStatus
solve_around (WbCalcMixed *fit)
{
  fit->around_told = fit->search.curved;
  for (size_t i = 0; i < fit->search.n_searched && fit->around_told; i++)
    for (size_t side = 0; side < 2; side++)
      {
        double moved[WB_CALC_SPREADS_MAX], sd[WB_CALC_MIXED_MAX_SPREADS], correlation;
        WbCalcMixedSystem *system = &fit->around[2 * i + side];

        if (wb_calc_mixed_system_init (system, fit->data) != WB_CALC_OK)
          return WB_CALC_NO_MEMORY;
        wb_calc_spreads_move (&fit->search, i, side == 0 ? 1.0 : -1.0, i, 0.0, moved);
        wb_calc_mixed_read_spreads (fit, moved, sd, &correlation);
        if (!wb_calc_mixed_system_solve (system, sd, correlation))
          fit->around_told = false;
      }
  return WB_CALC_OK;
}

static WbCalcStatus
settle (WbCalcMixed *fit)
{
  double correlation;

  wb_calc_spreads_curvature (&fit->search);
  wb_calc_mixed_read_spreads (fit, fit->search.x, fit->sd, &correlation);
  fit->correlation = correlation;
  if (!wb_calc_mixed_system_solve (&fit->system, fit->sd, correlation))
    return WB_CALC_NOT_CONVERGED;
  return solve_around (fit);
}

/* Is there a spread that nothing but the data tells? */
static bool
leans_on_data (const WbCalcMixedData *data)
{
  for (size_t k = 0; k < data->n_spreads; k++)
    if (!data->spread[k].held && !(data->spread[k].factor > 1.0))
      return true;
  return false;
}

WbCalcStatus
wb_calc_mixed_fit (const WbCalcMixedData *data,
                   WbCalcKeepGoing        keep_going,
                   void                  *user,
                   WbCalcMixed          **fit)
{
  size_t spare = 0;
  WbCalcStatus status = check (data, &spare);
  WbCalcMixed *made;

  *fit = NULL;
  if (status != WB_CALC_OK)
    return status;
  if (data->n_rows == 0)
    return WB_CALC_TOO_FEW;
  made = calloc (1, sizeof *made);
  if (made == NULL)
    return WB_CALC_NO_MEMORY;
  made->data = data;
  made->spare_units = spare;
  status = wb_calc_mixed_system_init (&made->system, data);
  init_search (made, keep_going, user);
  if (status == WB_CALC_OK)
    {
      bool solved = wb_calc_spreads_evaluate (&made->search, made->search.x) < WB_CALC_SPREADS_HOPELESS;

      status = made->search.cancelled ? WB_CALC_CANCELLED
               : !solved              ? WB_CALC_UNIDENTIFIED
               : made->system.n_free == 0 && leans_on_data (data)
                   ? WB_CALC_TOO_FEW
                   : wb_calc_spreads_run (&made->search);
    }
  if (status == WB_CALC_OK)
    status = settle (made);
  /* the fit may outlive whom to ask */
  made->search.keep_going = NULL;
  if (status == WB_CALC_OK)
    *fit = made;
  else
    wb_calc_mixed_free (made);
  return status;
}

void
wb_calc_mixed_free (WbCalcMixed *fit)
{
  if (fit == NULL)
    return;
  wb_calc_mixed_system_clear (&fit->system);
  for (size_t i = 0; i < 2 * WB_CALC_SPREADS_MAX; i++)
    wb_calc_mixed_system_clear (&fit->around[i]);
  free (fit);
}

WbCalcStatus
wb_calc_mixed_settle (const WbCalcMixedData *data,
                      const WbCalcSpreads   *at,
                      WbCalcMixed          **fit)
{
  WbCalcMixed *made = calloc (1, sizeof *made);
  WbCalcStatus status;

  *fit = NULL;
  if (made == NULL)
    return WB_CALC_NO_MEMORY;
  made->data = data;
  count_units (data, &made->spare_units);
  status = wb_calc_mixed_system_init (&made->system, data);
  init_search (made, NULL, NULL);
  made->search.n_searched = 0;
  for (size_t k = 0; k < data->n_spreads; k++)
    {
      made->search.x[k] = at->x[k];
      made->search.vanished[k] = at->vanished[k];
      made->search.low[k] = at->low[k];
      made->search.high[k] = at->high[k];
    }
  for (size_t j = 0; j < at->n_searched; j++)
    if (at->searched[j] < data->n_spreads)
      made->search.searched[made->search.n_searched++] = at->searched[j];
  if (status == WB_CALC_OK)
    status = settle (made);
  if (status == WB_CALC_OK)
    *fit = made;
  else
    wb_calc_mixed_free (made);
  return status;
}

double
wb_calc_mixed_get_spread (const WbCalcMixed *fit,
                          size_t             spread)
{
  if (spread >= fit->data->n_spreads)
    return NAN;
  return fit->search.vanished[spread] ? 0.0 : fit->sd[spread];
}

double
wb_calc_mixed_get_correlation (const WbCalcMixed *fit)
{
  return fit->correlation;
}

double
wb_calc_mixed_get_criterion (const WbCalcMixed *fit)
{
  return fit->system.criterion;
}

double
wb_calc_mixed_get_unit (const WbCalcMixed *fit,
                        size_t             unit)
{
  return unit < fit->system.n_units ? fit->system.unit_effect[unit] : NAN;
}

double
wb_calc_mixed_get_row (const WbCalcMixed *fit,
                       size_t             row)
{
  const WbCalcMixedData *data = fit->data;
  double expected, run = fit->sd[WB_CALC_MIXED_RUN] * fit->sd[WB_CALC_MIXED_RUN];
  WbCalcMixedTarget target;

  if (row >= data->n_rows)
    return NAN;
  target = (WbCalcMixedTarget) { data->block[row], data->n_local > 0 ? data->local + row * data->n_local : NULL,
                                 data->n_global > 0 ? data->global + row * data->n_global : NULL };
  expected = wb_calc_mixed_system_value (&fit->system, &target);
  if (data->outside != NULL && data->outside[row])
    return expected;
  expected += fit->system.unit_effect[data->unit[row]];
  return expected + run / wb_calc_mixed_system_variance (data, fit->sd, row) * (data->y[row] - expected);
}

/* The ray of a weighted sum of targets; room for n_blocks x n_local + n_global in `room`. NAN-free; false: not told. */
static bool
cast_sum (const WbCalcMixedSystem *system,
          const WbCalcMixedTarget *targets,
          const double            *weights,
          size_t                   n,
          double                  *room,
          double                  *variance)
{
  size_t l = system->data->n_local, g = system->data->n_global, n_room = system->data->n_blocks * l + g;
  double *of_blocks = room, *of_global = room + system->data->n_blocks * l;
  double *one = room + n_room;

  memset (room, 0, n_room * sizeof *room);
  for (size_t i = 0; i < n; i++)
    {
      WbCalcMixedRay ray = { 0, one, one + l };

      if (weights[i] == 0.0)
        continue;
      if (!wb_calc_mixed_system_cast (system, &targets[i], &ray))
        return false;
      for (size_t j = 0; j < l && ray.block != SIZE_MAX; j++)
        of_blocks[ray.block * l + j] += weights[i] * ray.local[j];
      for (size_t j = 0; j < g; j++)
        of_global[j] += weights[i] * ray.global[j];
    }
  *variance = 0.0;
  for (size_t j = 0; j < n_room; j++)
    *variance += room[j] * room[j];
  return true;
}

/* No block has a second unit: all that is known of the spread between units is what was believed. */
static bool
is_opinion (const WbCalcMixed *fit)
{
  const WbCalcMixedSpread *units = &fit->data->spread[WB_CALC_MIXED_UNIT];

  return fit->spare_units == 0 && !units->held && units->factor > 1.0;
}

/* Satterthwaite (Biometrics Bull. 2 (1946) 110-114): 2 V^2 / (dV' C dV), on the logarithms of the spreads. */
static double
find_df (const WbCalcMixed       *fit,
         const WbCalcMixedTarget *targets,
         const double            *weights,
         size_t                   n,
         double                   variance,
         double                  *room)
{
  size_t searched = fit->search.n_searched;
  double slopes[WB_CALC_SPREADS_MAX];
  double noise = 0.0, df = INFINITY;
  bool at_zero = false;

  for (size_t k = 0; k < fit->data->n_spreads; k++)
    at_zero = at_zero || fit->search.vanished[k];
  if (!fit->around_told)
    return 1.0;
  for (size_t i = 0; i < searched; i++)
    {
      double up = variance, down = variance;

      if (!cast_sum (&fit->around[2 * i], targets, weights, n, room, &up)
          || !cast_sum (&fit->around[2 * i + 1], targets, weights, n, room, &down))
        return 1.0;
      slopes[i] = (up - down) / (2.0 * WB_CALC_SPREADS_DIFFERENCE);
    }
  for (size_t i = 0; i < searched; i++)
    for (size_t j = 0; j < searched; j++)
      noise += slopes[i] * fit->search.covariance[i * searched + j] * slopes[j];
  if (noise > 0.0)
    df = 2.0 * variance * variance / noise;
  if (is_opinion (fit))
    return fmax (wb_calc_spreads_opinion_df (df), 1.0);
  if (fit->system.n_free > 0)
    df = fmin (df, (double) fit->system.n_free);
  if (at_zero && fit->spare_units > 0)
    df = fmin (df, (double) fit->spare_units);
  return fmax (df, 1.0);
}

WbCalcStatus
wb_calc_mixed_contrast (const WbCalcMixed       *fit,
                        const WbCalcMixedTarget *targets,
                        const double            *weights,
                        size_t                   n,
                        WbCalcMixedContrast     *contrast)
{
  size_t l = fit->data->n_local, g = fit->data->n_global;
  double *room;
  double value = 0.0, variance = 0.0;
  bool told;

  for (size_t i = 0; i < n; i++)
    {
      if (!isfinite (weights[i]) || (targets[i].local != NULL && targets[i].block >= fit->data->n_blocks))
        return WB_CALC_BAD_INPUT;
      value += weights[i] * wb_calc_mixed_system_value (&fit->system, &targets[i]);
    }
  room = malloc ((fit->data->n_blocks * l + g + l + g + 1) * sizeof *room);
  if (room == NULL)
    return WB_CALC_NO_MEMORY;
  told = cast_sum (&fit->system, targets, weights, n, room, &variance);
  if (told)
    *contrast = (WbCalcMixedContrast) { value, sqrt (variance), find_df (fit, targets, weights, n, variance, room) };
  free (room);
  return told && isfinite (value) ? WB_CALC_OK : WB_CALC_UNIDENTIFIED;
}
