/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-growth-inner-private.h"
#include "wb-calc-growth-start-private.h"
#include "wb-calc-mixed-private.h"
#include "wb-calc-spreads-private.h"

/* Beyond these a figure is no estimate. */
#define MAX_LEVEL_SD 0.5
#define MAX_PACE_SD 1.0
/* A level of so many times the largest reading: still so straight there that level and pace run off together. */
#define MAX_LEVELS 10.0

/* Where the search begins. */
#define START_LEVELS 0.05
#define START_PACES 0.2
#define START_COLUMNS 0.1

/* sigma as a share of the largest reading. */
#define SIGMA_FLOOR 1e-4
#define SIGMA_CEILING 1.0

/* A spread of logarithms is searched for between these; at the floor it counts as 0. */
#define SPREAD_FLOOR 1e-4
#define SPREAD_CEILING 2.0

/* The exponent is searched for between 1 / e and e; it stands where twice the log-likelihood ratio passes this. */
#define EXPONENT_REACH 1.0
#define BENT 6.63
/* Bends tried first: where none of them is better by this, the search is not worth its time. */
#define TRIAL_BEND 0.12
#define WORTH_A_SEARCH 1.0

/* An opinion on the common pace that says next to nothing, but keeps it from running off where nothing tells it. */
#define USUAL_PACE_SD 3.0

enum
{
  SIGMA = WB_CALC_GROWTH_N_SPREADS,
  EXPONENT
};

struct _WbCalcGrowthModel
{
  WbCalcGrowthData    data;   /* the model's own copy; readings are not kept */
  WbCalcGrowthLayout *layout;
  WbCalcGrowthInner   inner;
  WbCalcSpreads       search;
  WbCalcMixed        *mixed;  /* the rows at the optimum */
  double             *room;
  size_t             *indexes;
  bool                at_zero; /* the spread between units is known and 0 */
};

static void
model_free (WbCalcGrowthModel *model)
{
  if (model == NULL)
    return;
  wb_calc_mixed_free (model->mixed);
  wb_calc_growth_inner_clear (&model->inner);
  wb_calc_growth_layout_free (model->layout);
  free (model->room);
  free (model->indexes);
  free (model);
}

static const double *
keep (double      **room,
      const double *from,
      size_t        n)
{
  double *kept = *room;

  *room += n;
  memcpy (kept, from, n * sizeof *kept);
  return kept;
}

/* The parts of the data that the inner problem goes on reading. */
static bool
keep_data (WbCalcGrowthModel      *model,
           const WbCalcGrowthData *data)
{
  size_t columns = data->borrow ? data->n_columns : 0;
  double *room = model->room
      = malloc (((data->n_runs + data->n_groups) * data->n_covariates + data->n_covariates + data->n_groups * columns + columns + 1) * sizeof *room);

  model->indexes = malloc ((data->n_groups + 1) * sizeof *model->indexes);
  if (room == NULL || model->indexes == NULL)
    return false;
  model->data = *data;
  model->data.t = model->data.y = NULL;
  model->data.censored = NULL;
  model->data.run = model->data.run_unit = model->data.unit_group = NULL;
  if (data->group_pace != NULL)
    {
      memcpy (model->indexes, data->group_pace, data->n_groups * sizeof *model->indexes);
      model->data.group_pace = model->indexes;
    }
  if (data->n_covariates > 0)
    {
      model->data.run_covariate = keep (&room, data->run_covariate, data->n_runs * data->n_covariates);
      model->data.covariate_sd = keep (&room, data->covariate_sd, data->n_covariates);
      if (data->group_covariate != NULL)
        model->data.group_covariate = keep (&room, data->group_covariate, data->n_groups * data->n_covariates);
    }
  if (columns > 0)
    {
      model->data.group_column = keep (&room, data->group_column, data->n_groups * columns);
      model->data.column_sd = keep (&room, data->column_sd, columns);
    }
  return true;
}

static WbCalcMixedSpread
spread_of (const WbCalcGrowthSpread *prior,
           double                    start,
           bool                      told)
{
  if (!told && !(prior->factor > 1.0))
    return (WbCalcMixedSpread) { .held = true };
  return (WbCalcMixedSpread) { .start = start, .median = prior->median, .factor = prior->factor };
}

static bool
has_random_column (const WbCalcGrowthData *data)
{
  for (size_t j = 0; data->borrow && j < data->n_columns; j++)
    if (data->column_sd[j] == 0.0)
      return true;
  return false;
}

/* Has any common pace two groups that are fitted? */
static bool
has_pace_spread (const WbCalcGrowthData   *data,
                 const WbCalcGrowthLayout *layout)
{
  if (data->group_pace == NULL)
    return layout->n_groups > 1;
  for (size_t g = 1; g < layout->n_groups; g++)
    for (size_t k = 0; k < g; k++)
      if (data->group_pace[layout->group_id[g]] == data->group_pace[layout->group_id[k]])
        return true;
  return false;
}

static void
choose_spreads (const WbCalcGrowthModel *model,
                const WbCalcGrowthPrior *prior,
                WbCalcMixedSpread       *spreads)
{
  const WbCalcGrowthLayout *layout = model->layout;

  spreads[WB_CALC_GROWTH_RUNS] = spread_of (&prior->between_runs, START_LEVELS, layout->n_runs > layout->n_units);
  spreads[WB_CALC_GROWTH_UNITS] = spread_of (&prior->between_units, START_LEVELS, layout->n_units > layout->n_groups);
  spreads[WB_CALC_GROWTH_PACES] = spread_of (&prior->between_paces, START_PACES, has_pace_spread (&model->data, layout));
  spreads[WB_CALC_GROWTH_GROUPS] = spread_of (&prior->between_groups, START_LEVELS, model->data.borrow);
  spreads[WB_CALC_GROWTH_COLUMNS] = spread_of (&prior->of_columns, START_COLUMNS, has_random_column (&model->data));
  if (!model->data.borrow)
    spreads[WB_CALC_GROWTH_GROUPS].held = true;
  if (!has_random_column (&model->data))
    spreads[WB_CALC_GROWTH_COLUMNS].held = true;
  /* a deviation of the pace that nothing asks about must be finite all the same */
  if (spreads[WB_CALC_GROWTH_PACES].held)
    spreads[WB_CALC_GROWTH_PACES].start = START_PACES;
}

static void
read_coordinates (const WbCalcGrowthModel *model,
                  const double            *x,
                  double                  *sd)
{
  for (size_t k = 0; k < WB_CALC_GROWTH_N_SPREADS; k++)
    sd[k] = model->inner.spread[k].held ? model->inner.spread[k].start : exp (x[k]);
}

/* Minus log of restricted likelihood times priors, `inner` left there. */
static double
evaluate (const double *x,
          void         *user)
{
  WbCalcGrowthModel *model = user;
  double sd[WB_CALC_GROWTH_N_SPREADS];
  double value;

  read_coordinates (model, x, sd);
  if (wb_calc_growth_inner_find (&model->inner, sd, exp (x[SIGMA]), exp (x[EXPONENT])) != WB_CALC_OK)
    return WB_CALC_SPREADS_HOPELESS;
  value = model->inner.minus_log_restricted;
  for (size_t k = 0; k < WB_CALC_GROWTH_N_SPREADS; k++)
    value -= wb_calc_mixed_log_prior (&model->inner.spread[k], x[k]);
  return value;
}

static void
init_search (WbCalcGrowthModel *model,
             double             reading_sd,
             WbCalcKeepGoing    keep_going,
             void              *user)
{
  const WbCalcGrowthLayout *layout = model->layout;
  WbCalcSpreads *search = &model->search;
  double scale = log (layout->scale);

  *search = (WbCalcSpreads) { .evaluate = evaluate, .user = model, .keep_going = keep_going, .keep_user = user };
  for (size_t k = 0; k < WB_CALC_GROWTH_N_SPREADS; k++)
    {
      const WbCalcMixedSpread *spread = &model->inner.spread[k];

      wb_calc_spreads_add (search, spread->held ? 0.0 : log (spread->start), log (SPREAD_FLOOR), log (SPREAD_CEILING), spread->held,
                           !(spread->factor > 1.0));
    }
  wb_calc_spreads_add (search, log (layout->noise_untold ? reading_sd : layout->start_sigma), scale + log (SIGMA_FLOOR),
                       scale + log (SIGMA_CEILING), layout->noise_untold, false);
  wb_calc_spreads_add (search, 0.0, -EXPONENT_REACH, EXPONENT_REACH, true, false);
}

/* Where a bend of the law is told by the readings, the search goes on with it. */
static WbCalcStatus
try_bend (WbCalcGrowthModel *model)
{
  WbCalcSpreads *search = &model->search;
  WbCalcSpreads straight = *search;
  double at_one = wb_calc_spreads_evaluate (search, search->x);
  double best = at_one;
  WbCalcStatus status;

  for (int side = -1; side <= 1; side += 2)
    {
      double moved[WB_CALC_SPREADS_MAX];
      double value;

      memcpy (moved, straight.x, sizeof moved);
      moved[EXPONENT] = side * TRIAL_BEND;
      value = wb_calc_spreads_evaluate (search, moved);
      if (value < best)
        {
          best = value;
          search->x[EXPONENT] = moved[EXPONENT];
        }
    }
  if (2.0 * (at_one - best) < WORTH_A_SEARCH)
    {
      *search = straight;
      return search->cancelled ? WB_CALC_CANCELLED : WB_CALC_OK;
    }
  search->searched[search->n_searched++] = EXPONENT;
  status = wb_calc_spreads_run (search);
  if (status == WB_CALC_CANCELLED)
    return status;
  if (status != WB_CALC_OK || !(2.0 * (at_one - wb_calc_spreads_evaluate (search, search->x)) > BENT))
    *search = straight;
  return WB_CALC_OK;
}

/* Variances of every group's figures at the present point of the inner problem: of levels, then of paces, then covariances. */
static void
read_variances (const WbCalcGrowthModel *model,
                double                  *room,
                double                  *variances)
{
  const WbCalcGrowthInner *inner = &model->inner;
  size_t n = model->data.n_groups, l = inner->rows.n_local, g = inner->rows.n_global;
  double *global = room, *of_level = room + g, *of_pace = of_level + l + g;

  for (size_t k = 0; k < n; k++)
    {
      WbCalcMixedRay level = { 0, of_level, of_level + l }, pace = { 0, of_pace, of_pace + l };
      WbCalcMixedTarget target = wb_calc_growth_inner_level (inner, k, global);
      bool level_told = wb_calc_mixed_system_cast (&inner->system, &target, &level);
      bool pace_told;

      target = wb_calc_growth_inner_pace (inner, k, global);
      pace_told = wb_calc_mixed_system_cast (&inner->system, &target, &pace);
      variances[k] = level_told ? wb_calc_mixed_system_covariance (&inner->system, &level, &level) : NAN;
      variances[n + k] = pace_told ? wb_calc_mixed_system_covariance (&inner->system, &pace, &pace) : NAN;
      variances[2 * n + k] = level_told && pace_told ? wb_calc_mixed_system_covariance (&inner->system, &level, &pace) : NAN;
    }
}

/* Satterthwaite: 2 V^2 / (dV' C dV). `slopes`: searched x width, of figure `at`. */
static double
satterthwaite (const WbCalcSpreads *search,
               const double        *covariance,
               const double        *slopes,
               size_t               width,
               size_t               at,
               double               variance)
{
  size_t n = search->n_searched;
  double noise = 0.0;

  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < n; j++)
      noise += slopes[i * width + at] * covariance[i * n + j] * slopes[j * width + at];
  return noise > 0.0 ? 2.0 * variance * variance / noise : INFINITY;
}

static double
found_spread (const WbCalcGrowthModel *model,
              size_t                   spread)
{
  if (model->inner.spread[spread].held)
    return NAN;
  return model->search.vanished[spread] ? 0.0 : exp (model->search.x[spread]);
}

static bool
is_fitted (const WbCalcGrowthModel *model,
           size_t                   group,
           double                  *first_time)
{
  const WbCalcGrowthLayout *layout = model->layout;

  *first_time = 0.0;
  for (size_t g = 0; g < layout->n_groups; g++)
    if (layout->group_id[g] == group)
      {
        *first_time = layout->first_time[g];
        return true;
      }
  return model->data.borrow;
}

static void
fill_group (const WbCalcGrowthModel *model,
            const WbCalcGrowthPool  *pool,
            const double            *variances,
            size_t                   k,
            double                  *global,
            WbCalcGrowthGroup       *group)
{
  const WbCalcGrowthInner *inner = &model->inner;
  WbCalcMixedTarget level = wb_calc_growth_inner_level (inner, k, global);
  size_t n = model->data.n_groups;
  WbCalcMixedTarget pace;
  double first_time;

  if (!is_fitted (model, k, &first_time))
    return;
  group->log_level = inner->origin_level + wb_calc_mixed_system_value (&inner->system, &level);
  pace = wb_calc_growth_inner_pace (inner, k, global);
  group->log_pace = inner->origin_pace + wb_calc_mixed_system_value (&inner->system, &pace);
  group->var_log_level = variances[k];
  group->var_log_pace = variances[n + k];
  group->cov = variances[2 * n + k];
  group->sigma = pool->sigma;
  group->exponent = pool->exponent;
  group->between_units_sd = pool->between_units_sd;
  group->between_runs_sd = pool->between_runs_sd;
  if (isnan (group->var_log_level))
    {
      /* its level leans on columns that depend on each other: nothing of it can be told */
      group->log_level = group->log_pace = group->var_log_pace = group->cov = NAN;
      group->status = group->status == WB_CALC_OK ? WB_CALC_TOO_FEW : group->status;
    }
  if (group->status != WB_CALC_OK)
    return;
  if (isnan (group->var_log_pace) || group->log_pace <= log (first_time / WB_CALC_GROWTH_FLAT_TIMES))
    {
      group->status = WB_CALC_FLAT;
      group->log_pace = group->var_log_pace = group->cov = NAN;
    }
  else if (group->log_level > log (MAX_LEVELS * model->layout->scale) || !(sqrt (group->var_log_level) <= MAX_LEVEL_SD) || !(sqrt (group->var_log_pace) <= MAX_PACE_SD))
    group->status = WB_CALC_UNIDENTIFIED;
}

/* Slopes of all variances by the coordinates searched for. */
static bool
find_slopes (WbCalcGrowthModel *model,
             double            *room,
             double            *up,
             double            *down,
             double            *slopes)
{
  size_t width = 3 * model->data.n_groups;

  for (size_t i = 0; i < model->search.n_searched; i++)
    {
      double moved[WB_CALC_SPREADS_MAX];

      wb_calc_spreads_move (&model->search, i, 1.0, i, 0.0, moved);
      if (wb_calc_spreads_evaluate (&model->search, moved) >= WB_CALC_SPREADS_HOPELESS)
        return false;
      read_variances (model, room, up);
      wb_calc_spreads_move (&model->search, i, -1.0, i, 0.0, moved);
      if (wb_calc_spreads_evaluate (&model->search, moved) >= WB_CALC_SPREADS_HOPELESS)
        return false;
      read_variances (model, room, down);
      for (size_t k = 0; k < width; k++)
        slopes[i * width + k] = (up[k] - down[k]) / (2.0 * WB_CALC_SPREADS_DIFFERENCE);
    }
  return true;
}

static double
limited_df (const WbCalcGrowthModel *model,
            const WbCalcGrowthPool  *pool,
            bool                     of_level,
            double                   df)
{
  const WbCalcMixedSpread *units = &model->inner.spread[WB_CALC_GROWTH_UNITS];

  if (model->at_zero && pool->units_df > 0.0)
    df = fmin (df, pool->units_df);
  if (of_level && pool->units_df == 0.0 && !units->held && units->factor > 1.0)
    df = wb_calc_spreads_opinion_df (df);
  return fmax (df, 1.0);
}

/* Fills the answer from the search's end. */
static WbCalcStatus
report (WbCalcGrowthModel *model,
        WbCalcGrowthPool  *pool)
{
  WbCalcSpreads *search = &model->search;
  const WbCalcGrowthInner *inner = &model->inner;
  size_t n = model->data.n_groups, width = 3 * n, n_searched = search->n_searched;
  size_t n_room = 3 * inner->rows.n_global + 2 * inner->rows.n_local;
  const double *covariance = search->covariance;
  double *room = malloc ((n_room + (2 + n_searched) * width + 1) * sizeof *room);
  double *variances = room + n_room, *spare = variances + width, *slopes = spare + width;
  bool curved;

  if (room == NULL)
    return WB_CALC_NO_MEMORY;
  /* what cells say that borrow is drawn, not told by degrees of freedom */
  curved = search->curved && !model->data.borrow && find_slopes (model, room, variances, spare, slopes);
  if (wb_calc_spreads_evaluate (search, search->x) >= WB_CALC_SPREADS_HOPELESS)
    {
      free (room);
      return search->cancelled ? WB_CALC_CANCELLED : WB_CALC_NOT_CONVERGED;
    }
  pool->minus_log_restricted = inner->minus_log_restricted;
  pool->sigma = exp (search->x[SIGMA]);
  pool->exponent = exp (search->x[EXPONENT]);
  pool->between_units_sd = found_spread (model, WB_CALC_GROWTH_UNITS);
  pool->between_runs_sd = found_spread (model, WB_CALC_GROWTH_RUNS);
  pool->between_pace_sd = has_pace_spread (&model->data, model->layout) ? found_spread (model, WB_CALC_GROWTH_PACES) : NAN;
  model->at_zero = pool->between_units_sd == 0.0;
  read_variances (model, room, variances);
  for (size_t k = 0; k < n; k++)
    {
      WbCalcGrowthGroup *group = &pool->groups[k];

      fill_group (model, pool, variances, k, room, group);
      if (isnan (group->log_level))
        continue;
      group->df = limited_df (model, pool, true, curved ? satterthwaite (search, covariance, slopes, width, k, variances[k]) : 1.0);
      group->df_pace = limited_df (model, pool, false, curved ? satterthwaite (search, covariance, slopes, width, n + k, variances[n + k]) : 1.0);
    }
  for (size_t r = 0; r < model->layout->n_runs; r++)
    pool->run_log_level[model->layout->run_id[r]] = inner->origin_level + inner->now.level[r];
  free (room);
  return WB_CALC_OK;
}

static WbCalcStatus
fit (WbCalcGrowthModel       *model,
     const WbCalcGrowthPrior *prior,
     WbCalcKeepGoing          keep_going,
     void                    *user,
     WbCalcGrowthPool        *pool)
{
  WbCalcMixedSpread spreads[WB_CALC_GROWTH_N_SPREADS];
  WbCalcStatus status;

  choose_spreads (model, prior, spreads);
  status = wb_calc_growth_inner_init (&model->inner, &model->data, model->layout, spreads,
                                      prior->pace_sd > 0.0 ? prior->pace_sd : USUAL_PACE_SD);
  if (status != WB_CALC_OK)
    return status;
  init_search (model, prior->reading_sd, keep_going, user);
  status = wb_calc_spreads_run (&model->search);
  if (status == WB_CALC_OK && model->data.may_bend)
    status = try_bend (model);
  if (status == WB_CALC_OK)
    status = report (model, pool);
  if (status == WB_CALC_OK)
    status = wb_calc_mixed_settle (&model->inner.rows, &model->search, &model->mixed);
  return status;
}

static bool
is_bad_spread (const WbCalcGrowthSpread *spread)
{
  if (spread->factor != 0.0 && (!(spread->factor > 1.0) || isinf (spread->factor)))
    return true;
  return spread->factor > 1.0 && (!(spread->median > 0.0) || isinf (spread->median));
}

static bool
is_bad_prior (const WbCalcGrowthPrior *prior)
{
  return is_bad_spread (&prior->between_units) || is_bad_spread (&prior->between_runs) || is_bad_spread (&prior->between_paces)
         || is_bad_spread (&prior->between_groups) || is_bad_spread (&prior->of_columns) || !(prior->pace_sd >= 0.0)
         || !(prior->reading_sd >= 0.0) || isinf (prior->reading_sd);
}

static WbCalcStatus
pool_init (WbCalcGrowthPool       *pool,
           const WbCalcGrowthData *data)
{
  *pool = (WbCalcGrowthPool) {
    .sigma = NAN,
    .between_units_sd = NAN,
    .between_runs_sd = NAN,
    .between_pace_sd = NAN,
    .exponent = NAN,
    .minus_log_restricted = NAN,
  };
  pool->groups = calloc (data->n_groups + 1, sizeof *pool->groups);
  pool->run_log_level = malloc ((data->n_runs + 1) * sizeof *pool->run_log_level);
  pool->model = calloc (1, sizeof *pool->model);
  if (pool->groups == NULL || pool->run_log_level == NULL || pool->model == NULL)
    return WB_CALC_NO_MEMORY;
  pool->n_groups = data->n_groups;
  pool->n_runs = data->n_runs;
  for (size_t r = 0; r < data->n_runs; r++)
    pool->run_log_level[r] = NAN;
  return WB_CALC_OK;
}

/* The figures of groups that are not fitted, or not yet. */
static void
blank_figures (WbCalcGrowthPool *pool)
{
  for (size_t g = 0; g < pool->n_groups; g++)
    {
      WbCalcGrowthGroup *group = &pool->groups[g];

      group->log_level = group->log_pace = NAN;
      group->var_log_level = group->var_log_pace = group->cov = NAN;
      group->df = group->df_pace = group->sigma = group->between_units_sd = group->between_runs_sd = group->exponent = NAN;
    }
}

WbCalcStatus
wb_calc_growth_fit_pooled (const WbCalcGrowthData  *data,
                           const WbCalcGrowthPrior *prior,
                           WbCalcKeepGoing          keep_going,
                           void                    *user,
                           WbCalcGrowthPool        *pool)
{
  static const WbCalcGrowthPrior nothing = { 0 };
  WbCalcStatus status = pool_init (pool, data);

  if (status == WB_CALC_OK && prior != NULL && is_bad_prior (prior))
    status = WB_CALC_BAD_INPUT;
  if (status == WB_CALC_OK)
    {
      status = wb_calc_growth_layout_new (data, prior != NULL && prior->between_paces.factor > 1.0,
                                          prior != NULL && prior->reading_sd > 0.0, pool->groups, &pool->model->layout);
      blank_figures (pool);
    }
  if (status == WB_CALC_OK && !keep_data (pool->model, data))
    status = WB_CALC_NO_MEMORY;
  if (status == WB_CALC_OK)
    {
      pool->units_df = (double) (pool->model->layout->n_units - pool->model->layout->n_groups);
      status = fit (pool->model, prior != NULL ? prior : &nothing, keep_going, user, pool);
    }
  if (status != WB_CALC_OK && status != WB_CALC_TOO_FEW)
    wb_calc_growth_pool_clear (pool);
  return status;
}

void
wb_calc_growth_pool_clear (WbCalcGrowthPool *pool)
{
  free (pool->groups);
  free (pool->run_log_level);
  model_free (pool->model);
  memset (pool, 0, sizeof *pool);
}

double
wb_calc_growth_pool_get_unit (const WbCalcGrowthPool *pool,
                              size_t                  unit)
{
  const WbCalcGrowthModel *model = pool->model;

  for (size_t u = 0; model != NULL && model->mixed != NULL && u < model->layout->n_units; u++)
    if (model->layout->unit_id[u] == unit)
      return wb_calc_mixed_get_unit (model->mixed, u);
  return NAN;
}

size_t
wb_calc_growth_pool_n_deviates (const WbCalcGrowthPool *pool,
                                size_t                 *n_shared,
                                size_t                 *n_local)
{
  if (pool->model == NULL || pool->model->mixed == NULL)
    return 0;
  *n_shared = pool->model->inner.rows.n_global;
  *n_local = pool->model->inner.rows.n_local;
  return wb_calc_mixed_get_n_deviates (pool->model->mixed);
}

WbCalcStatus
wb_calc_growth_pool_draw (const WbCalcGrowthPool *pool,
                          const size_t           *asked,
                          size_t                  n,
                          uint64_t                seed,
                          size_t                  n_draws,
                          const double           *z,
                          double                 *levels,
                          double                 *paces,
                          double                 *units,
                          double                 *runs)
{
  WbCalcGrowthModel *model = pool->model;
  WbCalcMixedTarget *targets;
  double *values, *spreads, *globals;
  WbCalcStatus status = WB_CALC_NO_MEMORY;

  if (model == NULL || model->mixed == NULL)
    return WB_CALC_TOO_FEW;
  targets = malloc ((2 * n + 1) * sizeof *targets);
  globals = malloc ((2 * n * model->inner.rows.n_global + 1) * sizeof *globals);
  values = malloc ((n_draws * 2 * n + 1) * sizeof *values);
  spreads = malloc ((n_draws * WB_CALC_GROWTH_N_SPREADS + 1) * sizeof *spreads);
  if (targets != NULL && globals != NULL && values != NULL && spreads != NULL)
    {
      status = WB_CALC_OK;
      for (size_t i = 0; i < n && status == WB_CALC_OK; i++)
        if (asked[i] >= model->data.n_groups)
          status = WB_CALC_BAD_INPUT;
        else
          {
            targets[2 * i] = wb_calc_growth_inner_level (&model->inner, asked[i], globals + 2 * i * model->inner.rows.n_global);
            targets[2 * i + 1] = wb_calc_growth_inner_pace (&model->inner, asked[i], globals + (2 * i + 1) * model->inner.rows.n_global);
          }
    }
  if (status == WB_CALC_OK)
    status = wb_calc_mixed_draw (model->mixed, targets, 2 * n, seed, n_draws, z, values, spreads);
  for (size_t k = 0; k < n_draws && status == WB_CALC_OK; k++)
    {
      for (size_t i = 0; i < n; i++)
        {
          levels[k * n + i] = model->inner.origin_level + values[(k * n + i) * 2];
          paces[k * n + i] = model->inner.origin_pace + values[(k * n + i) * 2 + 1];
        }
      if (units != NULL)
        units[k] = spreads[k * WB_CALC_GROWTH_N_SPREADS + WB_CALC_GROWTH_UNITS];
      if (runs != NULL)
        runs[k] = spreads[k * WB_CALC_GROWTH_N_SPREADS + WB_CALC_GROWTH_RUNS];
    }
  free (targets);
  free (globals);
  free (values);
  free (spreads);
  return status;
}

static WbCalcStatus
check_contrast (const WbCalcGrowthPool *pool,
                const size_t           *asked,
                const double           *of_level,
                const double           *of_pace,
                size_t                  n)
{
  for (size_t k = 0; k < n; k++)
    {
      if (asked[k] >= pool->model->data.n_groups || !isfinite (of_level[k]) || !isfinite (of_pace[k]))
        return WB_CALC_BAD_INPUT;
      if (isnan (pool->groups[asked[k]].log_level) || (of_pace[k] != 0.0 && isnan (pool->groups[asked[k]].log_pace)))
        return WB_CALC_TOO_FEW;
    }
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_growth_pool_contrast (const WbCalcGrowthPool *pool,
                              const size_t           *asked,
                              const double           *of_level,
                              const double           *of_pace,
                              size_t                  n,
                              WbCalcGrowthContrast   *contrast)
{
  const WbCalcGrowthModel *model = pool->model;
  WbCalcMixedContrast found;
  WbCalcMixedTarget *targets;
  double *globals, *weights;
  double origin = 0.0;
  WbCalcStatus status;

  if (model == NULL || model->mixed == NULL)
    return WB_CALC_TOO_FEW;
  status = check_contrast (pool, asked, of_level, of_pace, n);
  if (status != WB_CALC_OK)
    return status;
  targets = malloc ((2 * n + 1) * sizeof *targets);
  weights = malloc ((2 * n + 1) * sizeof *weights);
  globals = malloc ((2 * n * model->inner.rows.n_global + 1) * sizeof *globals);
  for (size_t k = 0; k < n && targets != NULL && weights != NULL && globals != NULL; k++)
    {
      double *global = globals + 2 * k * model->inner.rows.n_global;

      targets[2 * k] = wb_calc_growth_inner_level (&model->inner, asked[k], global);
      targets[2 * k + 1] = wb_calc_growth_inner_pace (&model->inner, asked[k], global + model->inner.rows.n_global);
      weights[2 * k] = of_level[k];
      weights[2 * k + 1] = of_pace[k];
      origin += of_level[k] * model->inner.origin_level + of_pace[k] * model->inner.origin_pace;
    }
  status = targets == NULL || weights == NULL || globals == NULL
             ? WB_CALC_NO_MEMORY
             : wb_calc_mixed_contrast (model->mixed, targets, weights, 2 * n, &found);
  if (status == WB_CALC_OK)
    *contrast = (WbCalcGrowthContrast) { origin + found.value, found.sd, found.df };
  free (targets);
  free (weights);
  free (globals);
  return status;
}
