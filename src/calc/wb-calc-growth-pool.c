/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-growth-mode-private.h"
#include "wb-calc-growth-search-private.h"
#include "wb-calc-growth-start-private.h"

/* Beyond these a figure is no estimate. */
#define MAX_LEVEL_SD 0.5
#define MAX_PACE_SD 1.0

/* Satterthwaite: 2 V^2 / (dV' C dV). */
static double
satterthwaite (const WbCalcGrowthSearch *search,
               const double             *covariance,
               const double             *slopes,
               size_t                    g,
               double                    variance)
{
  size_t n = search->n_searched;
  double noise = 0.0;

  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < n; j++)
      noise += slopes[i * search->layout->n_groups + g] * covariance[i * n + j]
               * slopes[j * search->layout->n_groups + g];
  return noise > 0.0 ? 2.0 * variance * variance / noise : INFINITY;
}

static void
fill_group (const WbCalcGrowthSearch *search,
            const WbCalcGrowthPool   *pool,
            size_t                    g,
            double                    df,
            WbCalcGrowthGroup        *group)
{
  const WbCalcGrowthMode *mode = search->mode;
  double lambda = mode->now.lambda[g];

  group->log_level = mode->now.alpha[g];
  group->log_pace = lambda;
  group->var_log_level = mode->var_level[g];
  group->var_log_pace = mode->var_pace[g];
  group->cov = mode->cov[g];
  group->df = fmax (df, 1.0);
  group->sigma = pool->sigma;
  group->between_units_sd = pool->between_units_sd;
  group->between_runs_sd = pool->between_runs_sd;
  if (lambda <= log (search->layout->first_time[g] / WB_CALC_GROWTH_FLAT_TIMES))
    {
      group->status = WB_CALC_FLAT;
      group->log_pace = group->var_log_pace = group->cov = NAN;
    }
  else if (sqrt (group->var_log_level) > MAX_LEVEL_SD || sqrt (group->var_log_pace) > MAX_PACE_SD)
    group->status = WB_CALC_UNIDENTIFIED;
}

/* NaN where the data could not tell, 0 where they told that there is none. */
static double
found_spread (const WbCalcGrowthSearch *search,
              int                       spread,
              bool                      known)
{
  if (!known)
    return NAN;
  return wb_calc_growth_search_has (search, spread) ? exp (search->theta[spread]) : 0.0;
}

/* Fills the answer from the search's end. */
static WbCalcStatus
report (WbCalcGrowthSearch *search,
        bool                units_known,
        bool                runs_known,
        WbCalcGrowthPool   *pool)
{
  const WbCalcGrowthLayout *layout = search->layout;
  double covariance[WB_CALC_GROWTH_N_SPREADS * WB_CALC_GROWTH_N_SPREADS];
  double *slopes = malloc (WB_CALC_GROWTH_N_SPREADS * layout->n_groups * sizeof *slopes);

  if (slopes == NULL)
    return WB_CALC_NO_MEMORY;

  bool curved = wb_calc_growth_search_curvature (search, covariance, slopes);
  bool units_at_zero = units_known && !wb_calc_growth_search_has (search, WB_CALC_GROWTH_UNITS);
  double value = wb_calc_growth_search_evaluate (search, search->theta);

  if (value >= WB_CALC_GROWTH_HOPELESS)
    {
      free (slopes);
      return search->cancelled ? WB_CALC_CANCELLED : WB_CALC_NOT_CONVERGED;
    }
  pool->minus_log_restricted = search->mode->minus_log_restricted;
  pool->sigma = exp (search->theta[WB_CALC_GROWTH_SIGMA]);
  pool->units_df = search->units_df;
  pool->between_units_sd = found_spread (search, WB_CALC_GROWTH_UNITS, units_known);
  pool->between_runs_sd = found_spread (search, WB_CALC_GROWTH_RUNS, runs_known);
  pool->between_pace_sd = found_spread (search, WB_CALC_GROWTH_PACES, layout->n_groups > 1);
  for (size_t g = 0; g < layout->n_groups; g++)
    {
      double df = curved ? satterthwaite (search, covariance, slopes, g, search->mode->var_level[g]) : 1.0;

      if (units_at_zero)
        df = fmin (df, search->units_df);
      fill_group (search, pool, g, df, &pool->groups[layout->group_id[g]]);
    }
  for (size_t r = 0; r < layout->n_runs; r++)
    pool->run_log_level[layout->run_id[r]] = search->mode->now.a[r];
  free (slopes);
  return WB_CALC_OK;
}

static WbCalcStatus
fit (const WbCalcGrowthLayout *layout,
     const WbCalcGrowthPrior  *prior,
     WbCalcKeepGoing           keep_going,
     void                     *user,
     WbCalcGrowthPool         *pool)
{
  WbCalcGrowthSearch search;
  WbCalcStatus status = wb_calc_growth_search_init (&search, layout, prior, keep_going, user);
  bool units_known = wb_calc_growth_search_has (&search, WB_CALC_GROWTH_UNITS);
  bool runs_known = wb_calc_growth_search_has (&search, WB_CALC_GROWTH_RUNS);

  if (status == WB_CALC_OK)
    status = wb_calc_growth_search_run (&search);
  if (status == WB_CALC_OK)
    status = report (&search, units_known, runs_known, pool);
  wb_calc_growth_search_clear (&search);
  return status;
}

static bool
is_bad_spread (const WbCalcGrowthSpread *spread)
{
  if (!(spread->df >= 0.0) || isinf (spread->df))
    return true;
  return spread->df > 0.0 && (!(spread->sd > 0.0) || isinf (spread->sd));
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
    .minus_log_restricted = NAN,
  };
  pool->groups = calloc (data->n_groups + 1, sizeof *pool->groups);
  pool->run_log_level = malloc ((data->n_runs + 1) * sizeof *pool->run_log_level);
  if (pool->groups == NULL || pool->run_log_level == NULL)
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
      group->df = group->sigma = group->between_units_sd = group->between_runs_sd = NAN;
    }
}

WbCalcStatus
wb_calc_growth_fit_pooled (const WbCalcGrowthData  *data,
                           const WbCalcGrowthPrior *prior,
                           WbCalcKeepGoing          keep_going,
                           void                    *user,
                           WbCalcGrowthPool        *pool)
{
  WbCalcGrowthLayout *layout = NULL;
  WbCalcStatus status = pool_init (pool, data);

  if (status == WB_CALC_OK && prior != NULL
      && (is_bad_spread (&prior->between_units) || is_bad_spread (&prior->between_runs)
          || is_bad_spread (&prior->between_paces)))
    status = WB_CALC_BAD_INPUT;
  if (status == WB_CALC_OK)
    {
      status = wb_calc_growth_layout_new (data, pool->groups, &layout);
      blank_figures (pool);
    }
  if (status == WB_CALC_OK)
    status = fit (layout, prior, keep_going, user, pool);
  wb_calc_growth_layout_free (layout);
  if (status != WB_CALC_OK && status != WB_CALC_TOO_FEW)
    wb_calc_growth_pool_clear (pool);
  return status;
}

void
wb_calc_growth_pool_clear (WbCalcGrowthPool *pool)
{
  free (pool->groups);
  free (pool->run_log_level);
  memset (pool, 0, sizeof *pool);
}
