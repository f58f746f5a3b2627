/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multimin.h>

#include "wb-calc-growth-mode-private.h"
#include "wb-calc-growth-start-private.h"

/* The spreads that the outer search looks for, as logarithms. */
enum
{
  SIGMA,
  UNITS,
  RUNS,
  PACES,
  N_SPREADS
};

/* A spread of logarithms is searched for between these; at the floor it counts as 0. */
#define SPREAD_FLOOR 1e-4
#define SPREAD_CEILING 2.0
/* sigma as a share of the largest reading. */
#define SIGMA_FLOOR 1e-4
#define SIGMA_CEILING 1.0

/* Log likelihood that may be given away for a spread of exactly 0. */
#define BOUNDARY_GIVEN_AWAY 1e-4

#define MAX_ITERATIONS 600
#define SIMPLEX_END 1e-5

/* Step in a log spread for second differences: truncation 1e-4, rounding less. */
#define DIFFERENCE 0.03

/* Beyond these a figure is no estimate. */
#define MAX_LEVEL_SD 0.5
#define MAX_PACE_SD 1.0

/* What a failed evaluation costs: finite, for GSL's simplex refuses infinity. */
#define HOPELESS 1e30

typedef struct
{
  const WbCalcGrowthLayout *layout;
  WbCalcGrowthMode *mode;
  WbCalcGrowthPrior prior;
  WbCalcKeepGoing keep_going;
  void *user;
  bool cancelled;
  double theta[N_SPREADS]; /* where a spread is not searched for, its value */
  double low[N_SPREADS];
  double high[N_SPREADS];
  int searched[N_SPREADS]; /* index of the spread behind each coordinate */
  size_t n_searched;
  double units_df;
} Search;

static double
prior_penalty (const WbCalcGrowthSpread *prior,
               double                    log_spread)
{
  double ratio = prior->sd / exp (log_spread);

  return prior->df > 0.0 ? prior->df * (log_spread + 0.5 * ratio * ratio) : 0.0;
}

/* Minus log restricted likelihood and prior at a full vector of log spreads; a penalty outside the bounds. */
static double
evaluate (Search       *search,
          const double *theta)
{
  double inside[N_SPREADS];
  double penalty = 0.0;

  if (search->cancelled || (search->keep_going != NULL && !search->keep_going (search->user)))
    {
      search->cancelled = true;
      return HOPELESS;
    }
  for (int k = 0; k < N_SPREADS; k++)
    {
      inside[k] = fmin (fmax (theta[k], search->low[k]), search->high[k]);
      penalty += 100.0 * (theta[k] - inside[k]) * (theta[k] - inside[k]);
    }

  WbCalcGrowthSpreads spreads = {
    .sigma = exp (inside[SIGMA]),
    .units = exp (inside[UNITS]),
    .runs = exp (inside[RUNS]),
    .paces = exp (inside[PACES]),
  };

  if (wb_calc_growth_mode_find (search->layout, &spreads, search->mode) != WB_CALC_OK)
    return HOPELESS;
  if (search->layout->n_groups > 1)
    penalty += prior_penalty (&search->prior.between_paces, inside[PACES]);
  return search->mode->minus_log_restricted + penalty
         + prior_penalty (&search->prior.between_units, inside[UNITS])
         + prior_penalty (&search->prior.between_runs, inside[RUNS]);
}

static double
simplex_value (const gsl_vector *x,
               void             *user)
{
  Search *search = user;
  double theta[N_SPREADS];

  memcpy (theta, search->theta, sizeof theta);
  for (size_t j = 0; j < search->n_searched; j++)
    theta[search->searched[j]] = gsl_vector_get (x, j);
  return evaluate (search, theta);
}

/* Nelder and Mead from search->theta with the given first step; leaves the best point there. */
static WbCalcStatus
descend (Search *search,
         double  first_step)
{
  size_t n = search->n_searched;
  double start[N_SPREADS];
  double steps[N_SPREADS];
  gsl_vector_view start_view = gsl_vector_view_array (start, n);
  gsl_vector_view steps_view = gsl_vector_view_array (steps, n);
  gsl_multimin_function function = { simplex_value, n, search };
  gsl_multimin_fminimizer *simplex = gsl_multimin_fminimizer_alloc (gsl_multimin_fminimizer_nmsimplex2, n);
  WbCalcStatus status = WB_CALC_NOT_CONVERGED;

  if (simplex == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t j = 0; j < n; j++)
    {
      start[j] = search->theta[search->searched[j]];
      steps[j] = first_step;
    }
  if (gsl_multimin_fminimizer_set (simplex, &function, &start_view.vector, &steps_view.vector) == GSL_SUCCESS)
    for (int iteration = 0; iteration < MAX_ITERATIONS && status == WB_CALC_NOT_CONVERGED; iteration++)
      {
        if (gsl_multimin_fminimizer_iterate (simplex) != GSL_SUCCESS || search->cancelled)
          break;
        if (gsl_multimin_fminimizer_size (simplex) < SIMPLEX_END)
          status = WB_CALC_OK;
      }
  if (status == WB_CALC_OK && gsl_multimin_fminimizer_minimum (simplex) >= HOPELESS)
    status = WB_CALC_NOT_CONVERGED;
  if (status == WB_CALC_OK)
    for (size_t j = 0; j < n; j++)
      {
        int k = search->searched[j];

        search->theta[k] = fmin (fmax (gsl_vector_get (simplex->x, j), search->low[k]), search->high[k]);
      }
  gsl_multimin_fminimizer_free (simplex);
  return search->cancelled ? WB_CALC_CANCELLED : status;
}

static void
stop_searching (Search *search,
                int     spread)
{
  size_t kept = 0;

  for (size_t j = 0; j < search->n_searched; j++)
    if (search->searched[j] != spread)
      search->searched[kept++] = search->searched[j];
  search->n_searched = kept;
}

static bool
is_searched (const Search *search,
             int           spread)
{
  for (size_t j = 0; j < search->n_searched; j++)
    if (search->searched[j] == spread)
      return true;
  return false;
}

/* Spreads that the likelihood does not miss are set to their floor and counted as 0. */
static void
settle_boundaries (Search *search)
{
  static const int candidates[] = { UNITS, RUNS, PACES };
  double best = evaluate (search, search->theta);

  for (size_t c = 0; c < sizeof candidates / sizeof *candidates; c++)
    {
      int k = candidates[c];
      double kept = search->theta[k];

      if (!is_searched (search, k))
        continue;
      search->theta[k] = search->low[k];
      double value = evaluate (search, search->theta);

      if (value <= best + BOUNDARY_GIVEN_AWAY)
        {
          best = value;
          stop_searching (search, k);
        }
      else
        search->theta[k] = kept;
    }
}

static WbCalcStatus
search_init (Search                   *search,
             const WbCalcGrowthLayout *layout,
             const WbCalcGrowthPrior  *prior)
{
  bool units = false;
  bool runs = false;

  search->layout = layout;
  if (prior != NULL)
    search->prior = *prior;
  search->units_df = (double) (layout->n_units - layout->n_groups) + search->prior.between_units.df;
  units = search->units_df > 0.0;
  runs = layout->n_runs > layout->n_units || search->prior.between_runs.df > 0.0;

  for (int k = 0; k < N_SPREADS; k++)
    {
      search->low[k] = log (SPREAD_FLOOR);
      search->high[k] = log (SPREAD_CEILING);
      search->theta[k] = log (SPREAD_FLOOR);
    }
  search->low[SIGMA] = log (SIGMA_FLOOR * layout->scale);
  search->high[SIGMA] = log (SIGMA_CEILING * layout->scale);
  search->theta[SIGMA] = log (layout->start_sigma);
  search->searched[search->n_searched++] = SIGMA;
  if (units)
    {
      search->theta[UNITS] = log (0.05);
      search->searched[search->n_searched++] = UNITS;
    }
  if (runs)
    {
      search->theta[RUNS] = log (0.05);
      search->searched[search->n_searched++] = RUNS;
    }
  if (layout->n_groups > 1)
    {
      search->theta[PACES] = log (0.2);
      search->searched[search->n_searched++] = PACES;
    }
  search->mode = wb_calc_growth_mode_new (layout);
  return search->mode == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;
}

/* theta with coordinates i and j moved by di and dj differences. */
static double
evaluate_moved (Search *search,
                size_t  i,
                double  di,
                size_t  j,
                double  dj)
{
  double theta[N_SPREADS];

  memcpy (theta, search->theta, sizeof theta);
  theta[search->searched[i]] += di * DIFFERENCE;
  theta[search->searched[j]] += dj * DIFFERENCE;
  return evaluate (search, theta);
}

/*
 * Covariance of the log spreads from second differences, and the derivatives of each
 * group's variance by them (n_searched x n_groups). False when the curvature is not
 * that of a minimum.
 */
static bool
curvature (Search *search,
           double *covariance,
           double *slopes)
{
  size_t n = search->n_searched;
  size_t n_groups = search->layout->n_groups;
  gsl_matrix_view matrix = gsl_matrix_view_array (covariance, n, n);
  double middle = evaluate (search, search->theta);

  for (size_t i = 0; i < n; i++)
    {
      double up = evaluate_moved (search, i, 1.0, i, 0.0);

      for (size_t g = 0; g < n_groups; g++)
        slopes[i * n_groups + g] = search->mode->var_level[g];

      double down = evaluate_moved (search, i, -1.0, i, 0.0);

      for (size_t g = 0; g < n_groups; g++)
        slopes[i * n_groups + g]
            = (slopes[i * n_groups + g] - search->mode->var_level[g]) / (2.0 * DIFFERENCE);
      covariance[i * n + i] = (up - 2.0 * middle + down) / (DIFFERENCE * DIFFERENCE);
      for (size_t j = 0; j < i; j++)
        {
          double mixed = evaluate_moved (search, i, 1.0, j, 1.0) - evaluate_moved (search, i, 1.0, j, -1.0)
                         - evaluate_moved (search, i, -1.0, j, 1.0)
                         + evaluate_moved (search, i, -1.0, j, -1.0);

          covariance[i * n + j] = covariance[j * n + i] = mixed / (4.0 * DIFFERENCE * DIFFERENCE);
        }
    }
  return gsl_linalg_cholesky_decomp1 (&matrix.matrix) == 0
         && gsl_linalg_cholesky_invert (&matrix.matrix) == 0;
}

/* Satterthwaite: 2 V^2 / (dV' C dV). */
static double
satterthwaite (const Search *search,
               const double *covariance,
               const double *slopes,
               size_t        g,
               double        variance)
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
fill_group (const Search            *search,
            const WbCalcGrowthPool  *pool,
            size_t                   g,
            double                   df,
            WbCalcGrowthGroup       *group)
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

/* Fills the answer from the search's end. */
static WbCalcStatus
report (Search           *search,
        bool              units_known,
        bool              runs_known,
        WbCalcGrowthPool *pool)
{
  const WbCalcGrowthLayout *layout = search->layout;
  double covariance[N_SPREADS * N_SPREADS];
  double *slopes = malloc (N_SPREADS * layout->n_groups * sizeof *slopes);

  if (slopes == NULL)
    return WB_CALC_NO_MEMORY;

  bool curved = curvature (search, covariance, slopes);
  bool units_at_zero = units_known && !is_searched (search, UNITS);
  double value = evaluate (search, search->theta);

  if (value >= HOPELESS)
    {
      free (slopes);
      return search->cancelled ? WB_CALC_CANCELLED : WB_CALC_NOT_CONVERGED;
    }
  pool->minus_log_restricted = search->mode->minus_log_restricted;
  pool->sigma = exp (search->theta[SIGMA]);
  pool->units_df = search->units_df;
  pool->between_units_sd = !units_known ? NAN : units_at_zero ? 0.0 : exp (search->theta[UNITS]);
  pool->between_runs_sd = !runs_known ? NAN : is_searched (search, RUNS) ? exp (search->theta[RUNS]) : 0.0;
  pool->between_pace_sd = layout->n_groups < 2 ? NAN : is_searched (search, PACES) ? exp (search->theta[PACES]) : 0.0;
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
  Search search = { .keep_going = keep_going, .user = user };
  WbCalcStatus status = search_init (&search, layout, prior);
  bool units_known = is_searched (&search, UNITS);
  bool runs_known = is_searched (&search, RUNS);

  if (status == WB_CALC_OK)
    status = descend (&search, 0.7);
  /* Once more from there, for a simplex can collapse on the way. */
  if (status == WB_CALC_OK)
    status = descend (&search, 0.2);
  if (status == WB_CALC_OK)
    {
      size_t before = search.n_searched;

      settle_boundaries (&search);
      if (search.n_searched < before)
        status = descend (&search, 0.1);
    }
  if (status == WB_CALC_OK)
    status = report (&search, units_known, runs_known, pool);
  wb_calc_growth_mode_free (search.mode);
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
