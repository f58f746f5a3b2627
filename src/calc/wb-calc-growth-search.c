/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth-search-private.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multimin.h>

/* A spread of logarithms is searched for between these; at the floor it counts as 0. */
#define SPREAD_FLOOR 1e-4
#define SPREAD_CEILING 2.0
/* sigma as a share of the largest reading. */
#define SIGMA_FLOOR 1e-4
#define SIGMA_CEILING 1.0

/* Where the search begins. */
#define START_LEVELS 0.05
#define START_PACES 0.2

/* Log likelihood that may be given away for a spread of exactly 0. */
#define BOUNDARY_GIVEN_AWAY 1e-4

#define MAX_ITERATIONS 600
/* Size of the simplex, in logarithms, at the end of the first search and of those that follow. */
#define SIMPLEX_COARSE 1e-2
#define SIMPLEX_FINE 3e-5

/* Step in a log spread for second differences: truncation 1e-4, rounding less. */
#define DIFFERENCE 0.03

static double
prior_penalty (const WbCalcGrowthSpread *prior,
               double                    log_spread)
{
  double ratio = prior->sd / exp (log_spread);

  return prior->df > 0.0 ? prior->df * (log_spread + 0.5 * ratio * ratio) : 0.0;
}

/* Outside the bounds the value at the bound and a penalty. */
double
wb_calc_growth_search_evaluate (WbCalcGrowthSearch *search,
                                const double       *theta)
{
  double inside[WB_CALC_GROWTH_N_SPREADS];
  double penalty = 0.0;

  if (search->cancelled || (search->keep_going != NULL && !search->keep_going (search->user)))
    {
      search->cancelled = true;
      return WB_CALC_GROWTH_HOPELESS;
    }
  for (int k = 0; k < WB_CALC_GROWTH_N_SPREADS; k++)
    {
      inside[k] = fmin (fmax (theta[k], search->low[k]), search->high[k]);
      penalty += 100.0 * (theta[k] - inside[k]) * (theta[k] - inside[k]);
    }

  WbCalcGrowthSpreads spreads = {
    .sigma = exp (inside[WB_CALC_GROWTH_SIGMA]),
    .units = exp (inside[WB_CALC_GROWTH_UNITS]),
    .runs = exp (inside[WB_CALC_GROWTH_RUNS]),
    .paces = exp (inside[WB_CALC_GROWTH_PACES]),
  };

  if (wb_calc_growth_mode_find (search->layout, &spreads, search->mode) != WB_CALC_OK)
    return WB_CALC_GROWTH_HOPELESS;
  if (search->layout->n_groups > 1)
    penalty += prior_penalty (&search->prior.between_paces, inside[WB_CALC_GROWTH_PACES]);
  return search->mode->minus_log_restricted + penalty
         + prior_penalty (&search->prior.between_units, inside[WB_CALC_GROWTH_UNITS])
         + prior_penalty (&search->prior.between_runs, inside[WB_CALC_GROWTH_RUNS]);
}

static double
simplex_value (const gsl_vector *x,
               void             *user)
{
  WbCalcGrowthSearch *search = user;
  double theta[WB_CALC_GROWTH_N_SPREADS];

  memcpy (theta, search->theta, sizeof theta);
  for (size_t j = 0; j < search->n_searched; j++)
    theta[search->searched[j]] = gsl_vector_get (x, j);
  return wb_calc_growth_search_evaluate (search, theta);
}

/*
 * Nelder and Mead from search->theta with the given first step until the simplex is
 * of size `end`; leaves the best point there. Where the rounding of the inner
 * problem keeps the simplex from closing, coarse is good enough.
 */
static WbCalcStatus
descend (WbCalcGrowthSearch *search,
         double              first_step,
         double              end)
{
  size_t n = search->n_searched;
  double start[WB_CALC_GROWTH_N_SPREADS];
  double steps[WB_CALC_GROWTH_N_SPREADS];
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
        if (gsl_multimin_fminimizer_size (simplex) < end)
          status = WB_CALC_OK;
      }
  if (gsl_multimin_fminimizer_size (simplex) < SIMPLEX_COARSE)
    status = WB_CALC_OK;
  if (status == WB_CALC_OK && gsl_multimin_fminimizer_minimum (simplex) >= WB_CALC_GROWTH_HOPELESS)
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
stop_searching (WbCalcGrowthSearch *search,
                int                 spread)
{
  size_t kept = 0;

  for (size_t j = 0; j < search->n_searched; j++)
    if (search->searched[j] != spread)
      search->searched[kept++] = search->searched[j];
  search->n_searched = kept;
}

bool
wb_calc_growth_search_has (const WbCalcGrowthSearch *search,
                           int                       spread)
{
  for (size_t j = 0; j < search->n_searched; j++)
    if (search->searched[j] == spread)
      return true;
  return false;
}

/* Spreads that the likelihood does not miss are set to their floor and counted as 0. */
static void
settle_boundaries (WbCalcGrowthSearch *search)
{
  static const int candidates[] = { WB_CALC_GROWTH_UNITS, WB_CALC_GROWTH_RUNS, WB_CALC_GROWTH_PACES };
  double best = wb_calc_growth_search_evaluate (search, search->theta);

  for (size_t c = 0; c < sizeof candidates / sizeof *candidates; c++)
    {
      int k = candidates[c];
      double kept = search->theta[k];

      if (!wb_calc_growth_search_has (search, k))
        continue;
      search->theta[k] = search->low[k];
      double value = wb_calc_growth_search_evaluate (search, search->theta);

      if (value <= best + BOUNDARY_GIVEN_AWAY)
        {
          best = value;
          stop_searching (search, k);
        }
      else
        search->theta[k] = kept;
    }
}

static void
start_searching (WbCalcGrowthSearch *search,
                 int                 spread,
                 double              start)
{
  search->theta[spread] = log (start);
  search->searched[search->n_searched++] = spread;
}

WbCalcStatus
wb_calc_growth_search_init (WbCalcGrowthSearch       *search,
                            const WbCalcGrowthLayout *layout,
                            const WbCalcGrowthPrior  *prior,
                            WbCalcKeepGoing           keep_going,
                            void                     *user)
{
  *search = (WbCalcGrowthSearch) { .layout = layout, .keep_going = keep_going, .user = user };
  if (prior != NULL)
    search->prior = *prior;
  for (int k = 0; k < WB_CALC_GROWTH_N_SPREADS; k++)
    {
      search->low[k] = log (SPREAD_FLOOR);
      search->high[k] = log (SPREAD_CEILING);
      search->theta[k] = log (SPREAD_FLOOR);
    }
  search->low[WB_CALC_GROWTH_SIGMA] = log (SIGMA_FLOOR * layout->scale);
  search->high[WB_CALC_GROWTH_SIGMA] = log (SIGMA_CEILING * layout->scale);
  search->units_df = (double) (layout->n_units - layout->n_groups) + search->prior.between_units.df;

  start_searching (search, WB_CALC_GROWTH_SIGMA, layout->start_sigma);
  if (search->units_df > 0.0)
    start_searching (search, WB_CALC_GROWTH_UNITS, START_LEVELS);
  if (layout->n_runs > layout->n_units || search->prior.between_runs.df > 0.0)
    start_searching (search, WB_CALC_GROWTH_RUNS, START_LEVELS);
  if (layout->n_groups > 1)
    start_searching (search, WB_CALC_GROWTH_PACES, START_PACES);
  search->mode = wb_calc_growth_mode_new (layout);
  return search->mode == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;
}

void
wb_calc_growth_search_clear (WbCalcGrowthSearch *search)
{
  wb_calc_growth_mode_free (search->mode);
  search->mode = NULL;
}

WbCalcStatus
wb_calc_growth_search_run (WbCalcGrowthSearch *search)
{
  size_t before = search->n_searched;
  WbCalcStatus status = descend (search, 0.7, SIMPLEX_COARSE);

  /* Once more from there, for a simplex can collapse on the way. */
  if (status == WB_CALC_OK)
    status = descend (search, 0.1, SIMPLEX_FINE);
  if (status != WB_CALC_OK)
    return status;
  settle_boundaries (search);
  if (search->cancelled)
    return WB_CALC_CANCELLED;
  return search->n_searched < before ? descend (search, 0.05, SIMPLEX_FINE) : WB_CALC_OK;
}

/* theta with coordinates i and j moved by di and dj differences. */
static double
evaluate_moved (WbCalcGrowthSearch *search,
                size_t              i,
                double              di,
                size_t              j,
                double              dj)
{
  double theta[WB_CALC_GROWTH_N_SPREADS];

  memcpy (theta, search->theta, sizeof theta);
  theta[search->searched[i]] += di * DIFFERENCE;
  theta[search->searched[j]] += dj * DIFFERENCE;
  return wb_calc_growth_search_evaluate (search, theta);
}

bool
wb_calc_growth_search_curvature (WbCalcGrowthSearch *search,
                                 double             *covariance,
                                 double             *slopes)
{
  size_t n = search->n_searched;
  size_t n_groups = search->layout->n_groups;
  gsl_matrix_view matrix = gsl_matrix_view_array (covariance, n, n);
  double middle = wb_calc_growth_search_evaluate (search, search->theta);

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
