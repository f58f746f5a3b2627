/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth-inner-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-censored.h"

#define MAX_ITERATIONS 200
#define MAX_HALVINGS 30

/* Largest change of a logarithm in one step: a factor of two. */
#define MAX_STEP 0.7

/* Change of a logarithm at which the mode is found, and what is put up with when steps get lost in rounding. */
#define STEP_END 1e-7
#define STEP_TOLERATED 1e-4

/* A precision below this says nothing. */
#define SAYS_NOTHING 1e-9

#define LOG_2PI 1.83787706640934548356

static size_t
n_paces (const WbCalcGrowthData *data)
{
  return data->group_pace != NULL ? data->n_paces : 1;
}

static size_t
pace_of (const WbCalcGrowthData *data,
         size_t                  group)
{
  return data->group_pace != NULL ? data->group_pace[group] : 0;
}

static size_t
n_group_columns (const WbCalcGrowthData *data)
{
  return data->borrow ? data->n_columns : 0;
}

static double *
take (double **room,
      size_t   n)
{
  double *start = *room;

  *room += n;
  return start;
}

static void
point_init (WbCalcGrowthPoint       *point,
            const WbCalcGrowthInner *inner,
            double                 **room)
{
  size_t runs = inner->layout->n_runs;

  point->level = take (room, runs);
  point->pace = take (room, inner->layout->n_groups);
  point->a = take (room, inner->rows.n_blocks * inner->rows.n_local);
  point->b = take (room, inner->rows.n_global);
  point->unit = take (room, inner->layout->n_units);
  point->saa = take (room, runs);
  point->sal = take (room, runs);
  point->sll = take (room, runs);
  point->ga = take (room, runs);
  point->gl = take (room, runs);
}

static bool
alloc (WbCalcGrowthInner *inner)
{
  const WbCalcGrowthLayout *layout = inner->layout;
  WbCalcMixedData *rows = &inner->rows;
  size_t most = layout->n_runs + layout->n_groups;
  size_t point = 6 * layout->n_runs + layout->n_groups + rows->n_blocks * rows->n_local + rows->n_global + layout->n_units;
  double *room;

  inner->global_column = calloc (rows->n_global + 1, sizeof *inner->global_column);
  inner->row_outside = calloc (most, sizeof *inner->row_outside);
  inner->row_unit = calloc (2 * most + 3 * layout->n_runs, sizeof *inner->row_unit);
  room = inner->block_room = calloc (most * (2 + rows->n_local + rows->n_global) + 2 * point, sizeof *room);
  if (inner->global_column == NULL || inner->row_outside == NULL || inner->row_unit == NULL || room == NULL)
    return false;
  inner->row_block = inner->row_unit + most;
  inner->level_row = inner->row_block + most;
  inner->run_group = inner->level_row + layout->n_runs;
  inner->run_unit = inner->run_group + layout->n_runs;
  inner->row_y = take (&room, most);
  inner->row_variance = take (&room, most);
  inner->row_local = take (&room, most * rows->n_local);
  inner->row_global = take (&room, most * rows->n_global);
  point_init (&inner->now, inner, &room);
  point_init (&inner->trial, inner, &room);
  return true;
}

static void
fill_columns (WbCalcGrowthInner *inner,
              double             pace_sd)
{
  const WbCalcGrowthData *data = inner->data;
  size_t columns = n_group_columns (data);

  inner->local_column[0] = data->borrow ? (WbCalcMixedColumn) { WB_CALC_GROWTH_GROUPS, 0.0 }
                                        : (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, INFINITY };
  inner->local_column[1] = (WbCalcMixedColumn) { WB_CALC_GROWTH_PACES, 0.0 };
  for (size_t j = 0; j < inner->rows.n_global; j++)
    if (j < columns)
      inner->global_column[j] = data->column_sd[j] > 0.0 ? (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, data->column_sd[j] }
                                                         : (WbCalcMixedColumn) { WB_CALC_GROWTH_COLUMNS, 0.0 };
    else if (j < columns + data->n_covariates)
      inner->global_column[j] = (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, data->covariate_sd[j - columns] };
    else
      inner->global_column[j] = (WbCalcMixedColumn) { WB_CALC_MIXED_KNOWN, pace_sd };
}

/* Where the search begins: each group at its own start. */
static void
fill_start (WbCalcGrowthInner *inner)
{
  const WbCalcGrowthLayout *layout = inner->layout;
  WbCalcGrowthPoint *now = &inner->now;

  for (size_t g = 0; g < layout->n_groups; g++)
    {
      inner->origin_level += layout->start_level[g] / (double) layout->n_groups;
      inner->origin_pace += layout->start_pace[g] / (double) layout->n_groups;
    }
  for (size_t g = 0; g < layout->n_groups; g++)
    {
      double level = layout->start_level[g] - inner->origin_level;

      now->pace[g] = layout->start_pace[g] - inner->origin_pace;
      now->a[layout->group_id[g] * inner->rows.n_local] = level;
      if (inner->rows.n_local > 1)
        now->a[layout->group_id[g] * inner->rows.n_local + 1] = now->pace[g];
      for (size_t u = layout->group_first[g]; u < layout->group_first[g + 1]; u++)
        for (size_t r = layout->unit_first[u]; r < layout->unit_first[u + 1]; r++)
          {
            now->level[r] = level;
            inner->run_group[r] = g;
            inner->run_unit[r] = u;
          }
    }
}

WbCalcStatus
wb_calc_growth_inner_init (WbCalcGrowthInner        *inner,
                           const WbCalcGrowthData   *data,
                           const WbCalcGrowthLayout *layout,
                           const WbCalcMixedSpread  *spreads,
                           double                    pace_sd)
{
  *inner = (WbCalcGrowthInner) { .data = data, .layout = layout };
  memcpy (inner->spread, spreads, sizeof inner->spread);
  inner->rows.n_blocks = data->n_groups;
  inner->rows.n_local = data->n_groups > n_paces (data) ? 2 : 1;
  inner->rows.n_global = n_group_columns (data) + data->n_covariates + n_paces (data);
  if (!alloc (inner))
    return WB_CALC_NO_MEMORY;
  fill_columns (inner, pace_sd);
  inner->rows.y = inner->row_y;
  inner->rows.variance = inner->row_variance;
  inner->rows.outside = inner->row_outside;
  inner->rows.unit = inner->row_unit;
  inner->rows.block = inner->row_block;
  inner->rows.local = inner->row_local;
  inner->rows.local_column = inner->local_column;
  inner->rows.global = inner->row_global;
  inner->rows.global_column = inner->global_column;
  inner->rows.n_spreads = WB_CALC_GROWTH_N_SPREADS;
  inner->rows.spread = inner->spread;
  fill_start (inner);
  /* room for the units of all runs, also of those that say nothing at first */
  inner->rows.n_rows = layout->n_runs;
  memcpy (inner->row_unit, inner->run_unit, layout->n_runs * sizeof *inner->row_unit);
  return wb_calc_mixed_system_init (&inner->system, &inner->rows);
}

void
wb_calc_growth_inner_clear (WbCalcGrowthInner *inner)
{
  wb_calc_mixed_system_clear (&inner->system);
  free (inner->global_column);
  free (inner->row_outside);
  free (inner->row_unit);
  free (inner->block_room);
  memset (inner, 0, sizeof *inner);
}

/* The readings of run r at the point: sums for the linear system; returns their minus log likelihood. */
static double
linearise_run (const WbCalcGrowthInner *inner,
               WbCalcGrowthPoint       *point,
               size_t                   r,
               double                   sigma,
               double                   exponent)
{
  const WbCalcGrowthLayout *layout = inner->layout;
  double level = exp (point->level[r] + inner->origin_level);
  double per_time = exp (-(point->pace[inner->run_group[r]] + inner->origin_pace));
  double value = 0.0, saa = 0.0, sal = 0.0, sll = 0.0, ga = 0.0, gl = 0.0;

  for (size_t i = layout->run_first[r]; i < layout->run_first[r + 1]; i++)
    {
      double share = exponent == 1.0 ? layout->t[i] * per_time : pow (layout->t[i] * per_time, exponent);
      double lost = expm1 (-share);
      double f = -level * lost;
      double g = -level * exponent * share * (1.0 + lost);
      WbCalcCensoredReading reading = wb_calc_censored_reading (f, layout->y[i], layout->censored[i], sigma);

      value += reading.minus_loglik;
      saa += reading.weight * f * f;
      sal += reading.weight * f * g;
      sll += reading.weight * g * g;
      ga += reading.score * f;
      gl += reading.score * g;
    }
  point->saa[r] = saa;
  point->sal[r] = sal;
  point->sll[r] = sll;
  point->ga[r] = ga;
  point->gl[r] = gl;
  return value;
}

/* What a row of run r has in the global columns, but for the pace. */
static void
fill_level_global (const WbCalcGrowthInner *inner,
                   size_t                   r,
                   double                  *global)
{
  const WbCalcGrowthData *data = inner->data;
  size_t columns = n_group_columns (data), run = inner->layout->run_id[r];
  size_t group = inner->layout->group_id[inner->run_group[r]];

  memset (global, 0, inner->rows.n_global * sizeof *global);
  for (size_t j = 0; j < columns; j++)
    global[j] = data->group_column[group * columns + j];
  for (size_t j = 0; j < data->n_covariates; j++)
    global[columns + j] = data->run_covariate[run * data->n_covariates + j];
}

/* Mean of ln A of run r by the coefficients, its unit's deviation left out. */
static double
expected_level (const WbCalcGrowthInner *inner,
                const WbCalcGrowthPoint *point,
                size_t                   r)
{
  const WbCalcGrowthData *data = inner->data;
  size_t columns = n_group_columns (data), run = inner->layout->run_id[r];
  size_t group = inner->layout->group_id[inner->run_group[r]];
  double sum = point->a[group * inner->rows.n_local];

  for (size_t j = 0; j < columns; j++)
    sum += data->group_column[group * columns + j] * point->b[j];
  for (size_t j = 0; j < data->n_covariates; j++)
    sum += data->run_covariate[run * data->n_covariates + j] * point->b[columns + j];
  return sum;
}

static double
expected_pace (const WbCalcGrowthInner *inner,
               const WbCalcGrowthPoint *point,
               size_t                   g)
{
  size_t group = inner->layout->group_id[g];
  double pace = point->b[inner->rows.n_global - n_paces (inner->data) + pace_of (inner->data, group)];

  return inner->rows.n_local > 1 ? pace + point->a[group * inner->rows.n_local + 1] : pace;
}

static void
linearise (WbCalcGrowthInner *inner,
           const double      *sd,
           double             sigma,
           double             exponent,
           WbCalcGrowthPoint *point)
{
  double runs = sd[WB_CALC_GROWTH_RUNS], units = sd[WB_CALC_GROWTH_UNITS];

  point->minus_loglik = 0.0;
  for (size_t r = 0; r < inner->layout->n_runs; r++)
    point->minus_loglik += linearise_run (inner, point, r, sigma, exponent);
  point->value = point->minus_loglik + 0.5 * wb_calc_mixed_system_opinions (&inner->system, sd, 0.0, point->a, point->b);
  for (size_t r = 0; r < inner->layout->n_runs && runs > 0.0; r++)
    {
      double away = (point->level[r] - expected_level (inner, point, r) - point->unit[inner->run_unit[r]]) / runs;

      point->value += 0.5 * away * away;
    }
  for (size_t u = 0; u < inner->layout->n_units && units > 0.0; u++)
    point->value += 0.5 * point->unit[u] * point->unit[u] / (units * units);
}

static size_t
add_row (WbCalcGrowthInner *inner,
         size_t             group,
         double             y,
         double             precision)
{
  size_t i = inner->rows.n_rows++;

  inner->row_y[i] = y;
  inner->row_variance[i] = 1.0 / precision;
  inner->row_block[i] = group;
  return i;
}

/* The rows that the readings make as seen from `now`. */
static void
make_rows (WbCalcGrowthInner *inner)
{
  const WbCalcGrowthLayout *layout = inner->layout;
  const WbCalcGrowthPoint *now = &inner->now;
  size_t l = inner->rows.n_local, g_all = inner->rows.n_global;

  inner->rows.n_rows = 0;
  for (size_t g = 0; g < layout->n_groups; g++)
    {
      size_t group = layout->group_id[g];
      size_t pace_column = g_all - n_paces (inner->data) + pace_of (inner->data, group);
      double left = 0.0, pull = 0.0;

      for (size_t r = layout->unit_first[layout->group_first[g]]; r < layout->unit_first[layout->group_first[g + 1]]; r++)
        {
          double slope;
          size_t i;

          inner->level_row[r] = SIZE_MAX;
          if (!(now->saa[r] > SAYS_NOTHING))
            continue;
          slope = now->sal[r] / now->saa[r];
          left += fmax (now->sll[r] - slope * now->sal[r], 0.0);
          pull += now->gl[r] - slope * now->ga[r];
          i = inner->level_row[r] = add_row (inner, group, now->level[r] - now->ga[r] / now->saa[r] + slope * now->pace[g], now->saa[r]);
          inner->row_outside[i] = false;
          inner->row_unit[i] = inner->run_unit[r];
          inner->row_local[i * l] = 1.0;
          if (l > 1)
            inner->row_local[i * l + 1] = slope;
          fill_level_global (inner, r, inner->row_global + i * g_all);
          inner->row_global[i * g_all + pace_column] = slope;
        }
      if (left > SAYS_NOTHING)
        {
          size_t i = add_row (inner, group, now->pace[g] - pull / left, left);

          inner->row_outside[i] = true;
          inner->row_local[i * l] = 0.0;
          if (l > 1)
            inner->row_local[i * l + 1] = 1.0;
          memset (inner->row_global + i * g_all, 0, g_all * sizeof *inner->row_global);
          inner->row_global[i * g_all + pace_column] = 1.0;
        }
    }
}

/* The solved mixed model as a point: into trial. Returns the largest change of a level or pace. */
static double
read_solution (WbCalcGrowthInner *inner,
               const double      *sd)
{
  const WbCalcGrowthLayout *layout = inner->layout;
  WbCalcGrowthPoint *trial = &inner->trial;
  size_t l = inner->rows.n_local, g_all = inner->rows.n_global;
  double of_run = sd[WB_CALC_GROWTH_RUNS] * sd[WB_CALC_GROWTH_RUNS];
  double length = 0.0;

  memcpy (trial->a, inner->system.a, inner->rows.n_blocks * l * sizeof *trial->a);
  memcpy (trial->b, inner->system.b, g_all * sizeof *trial->b);
  for (size_t u = 0; u < layout->n_units; u++)
    trial->unit[u] = isnan (inner->system.unit_effect[u]) ? 0.0 : inner->system.unit_effect[u];
  for (size_t g = 0; g < layout->n_groups; g++)
    {
      trial->pace[g] = expected_pace (inner, trial, g);
      length = fmax (length, fabs (trial->pace[g] - inner->now.pace[g]));
    }
  for (size_t r = 0; r < layout->n_runs; r++)
    {
      size_t i = inner->level_row[r];
      double expected = expected_level (inner, trial, r) + trial->unit[inner->run_unit[r]];

      trial->level[r] = expected;
      if (i != SIZE_MAX && of_run > 0.0)
        {
          double slope = inner->row_global[i * g_all + g_all - n_paces (inner->data)
                                           + pace_of (inner->data, layout->group_id[inner->run_group[r]])];
          double seen = inner->row_y[i] - slope * expected_pace (inner, trial, inner->run_group[r]);

          trial->level[r] += of_run / (of_run + inner->row_variance[i]) * (seen - expected);
        }
      length = fmax (length, fabs (trial->level[r] - inner->now.level[r]));
    }
  return length;
}

static void
mix (double       *to,
     const double *now,
     const double *goal,
     size_t        n,
     double        share)
{
  for (size_t i = 0; i < n; i++)
    to[i] = now[i] + share * (goal[i] - now[i]);
}

/* Takes the largest share of the way to `goal` (in trial) that does not raise the value; false when none does. */
static bool
descend (WbCalcGrowthInner *inner,
         const double      *sd,
         double             sigma,
         double             exponent,
         double             length)
{
  const WbCalcGrowthLayout *layout = inner->layout;
  WbCalcGrowthPoint *now = &inner->now, *trial = &inner->trial;
  double share = length > MAX_STEP ? MAX_STEP / length : 1.0, before = 1.0;

  for (int halving = 0; halving < MAX_HALVINGS; halving++)
    {
      /* in place: from where the last share led towards `now` */
      double step = share / before;

      if (step != 1.0)
        {
          mix (trial->level, now->level, trial->level, layout->n_runs, step);
          mix (trial->pace, now->pace, trial->pace, layout->n_groups, step);
          mix (trial->a, now->a, trial->a, inner->rows.n_blocks * inner->rows.n_local, step);
          mix (trial->b, now->b, trial->b, inner->rows.n_global, step);
          mix (trial->unit, now->unit, trial->unit, layout->n_units, step);
        }
      linearise (inner, sd, sigma, exponent, trial);
      if (trial->value <= now->value + 1e-13 * (1.0 + fabs (now->value)))
        {
          WbCalcGrowthPoint kept = *now;

          *now = *trial;
          *trial = kept;
          return true;
        }
      before = share;
      share *= 0.5;
    }
  return false;
}

/*
 * -2 log of Laplace's approximation: the mixed model's own, with each run's true
 * likelihood at the mode in place of that of its rows.
 */
static double
laplace (const WbCalcGrowthInner *inner,
         double                   sigma)
{
  const WbCalcGrowthPoint *now = &inner->now;
  double criterion = inner->system.criterion + 2.0 * now->minus_loglik
                     + (double) inner->layout->n_plain * (LOG_2PI + 2.0 * log (sigma));

  for (size_t r = 0; r < inner->layout->n_runs; r++)
    if (inner->level_row[r] != SIZE_MAX)
      criterion -= now->ga[r] * now->ga[r] / now->saa[r] + LOG_2PI - log (now->saa[r]);
  for (size_t i = 0; i < inner->rows.n_rows; i++)
    if (inner->row_outside[i])
      {
        size_t g = 0;

        while (inner->layout->group_id[g] != inner->row_block[i])
          g++;
        criterion -= pow (now->pace[g] - inner->row_y[i], 2.0) / inner->row_variance[i] + LOG_2PI + log (inner->row_variance[i]);
      }
  return criterion;
}

WbCalcStatus
wb_calc_growth_inner_find (WbCalcGrowthInner *inner,
                           const double      *sd,
                           double             sigma,
                           double             exponent)
{
  double length = INFINITY;

  linearise (inner, sd, sigma, exponent, &inner->now);
  if (!isfinite (inner->now.value))
    return WB_CALC_NOT_CONVERGED;
  for (int iteration = 0; length > STEP_END; iteration++)
    {
      make_rows (inner);
      if (inner->rows.n_rows == 0 || !wb_calc_mixed_system_solve (&inner->system, sd, 0.0))
        return WB_CALC_UNIDENTIFIED;
      length = read_solution (inner, sd);
      if (length <= STEP_END)
        break;
      if (iteration == MAX_ITERATIONS || !descend (inner, sd, sigma, exponent, length))
        {
          if (length > STEP_TOLERATED)
            return WB_CALC_NOT_CONVERGED;
          break;
        }
    }
  inner->minus_log_restricted = 0.5 * laplace (inner, sigma);
  return isfinite (inner->minus_log_restricted) ? WB_CALC_OK : WB_CALC_NOT_CONVERGED;
}

static const double level_alone[2] = { 1.0, 0.0 };
static const double pace_alone[2] = { 0.0, 1.0 };

WbCalcMixedTarget
wb_calc_growth_inner_level (const WbCalcGrowthInner *inner,
                            size_t                   group,
                            double                  *global)
{
  size_t columns = n_group_columns (inner->data);

  memset (global, 0, inner->rows.n_global * sizeof *global);
  for (size_t j = 0; j < columns; j++)
    global[j] = inner->data->group_column[group * columns + j];
  for (size_t j = 0; inner->data->group_covariate != NULL && j < inner->data->n_covariates; j++)
    global[columns + j] = inner->data->group_covariate[group * inner->data->n_covariates + j];
  return (WbCalcMixedTarget) { group, level_alone, global };
}

WbCalcMixedTarget
wb_calc_growth_inner_pace (const WbCalcGrowthInner *inner,
                           size_t                   group,
                           double                  *global)
{
  memset (global, 0, inner->rows.n_global * sizeof *global);
  global[inner->rows.n_global - n_paces (inner->data) + pace_of (inner->data, group)] = 1.0;
  return (WbCalcMixedTarget) { group, inner->rows.n_local > 1 ? pace_alone : NULL, global };
}
