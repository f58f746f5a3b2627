/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-spreads-private.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multimin.h>

/* Log likelihood that may be given away for a spread of exactly 0. */
#define BOUNDARY_GIVEN_AWAY 1e-4

#define MAX_ITERATIONS 600
/* Size of the simplex, in logarithms, where Newton's method can take over, and where it could not. */
#define SIMPLEX_COARSE 1e-2
#define SIMPLEX_FINE 3e-5

/* Newton's steps: difference of the gradient, of fourth order; the longest step; where they end. */
#define GRADIENT_DIFFERENCE 2e-3
#define MAX_NEWTON_STEPS 10
#define LONGEST_STEP 0.3
#define STEP_END 1e-8

/* How fast the price rises outside the bounds. */
#define PENALTY 100.0

void
wb_calc_spreads_add (WbCalcSpreads *spreads,
                     double         start,
                     double         low,
                     double         high,
                     bool           held,
                     bool           may_vanish)
{
  size_t k = spreads->n++;

  spreads->x[k] = start;
  spreads->low[k] = low;
  spreads->high[k] = high;
  spreads->may_vanish[k] = may_vanish;
  if (!held)
    spreads->searched[spreads->n_searched++] = k;
}

double
wb_calc_spreads_evaluate (WbCalcSpreads *spreads,
                          const double  *x)
{
  double inside[WB_CALC_SPREADS_MAX];
  double penalty = 0.0;
  double value;

  if (spreads->cancelled || (spreads->keep_going != NULL && !spreads->keep_going (spreads->keep_user)))
    {
      spreads->cancelled = true;
      return WB_CALC_SPREADS_HOPELESS;
    }
  for (size_t k = 0; k < spreads->n; k++)
    {
      inside[k] = fmin (fmax (x[k], spreads->low[k]), spreads->high[k]);
      penalty += PENALTY * (x[k] - inside[k]) * (x[k] - inside[k]);
    }
  value = spreads->evaluate (inside, spreads->user);
  return isfinite (value) && value < WB_CALC_SPREADS_HOPELESS ? value + penalty : WB_CALC_SPREADS_HOPELESS;
}

static double
simplex_value (const gsl_vector *at,
               void             *user)
{
  WbCalcSpreads *spreads = user;
  double x[WB_CALC_SPREADS_MAX];

  memcpy (x, spreads->x, sizeof x);
  for (size_t j = 0; j < spreads->n_searched; j++)
    x[spreads->searched[j]] = gsl_vector_get (at, j);
  return wb_calc_spreads_evaluate (spreads, x);
}

/*
 * Nelder and Mead from x with the given first step until the simplex is of size
 * `end`; leaves the best point there. Where the rounding of the inner problem keeps
 * the simplex from closing, coarse is good enough.
 */
static WbCalcStatus
descend (WbCalcSpreads *spreads,
         double         first_step,
         double         end)
{
  size_t n = spreads->n_searched;
  double start[WB_CALC_SPREADS_MAX];
  double steps[WB_CALC_SPREADS_MAX];
  gsl_vector_view start_view, steps_view;
  gsl_multimin_function function = { simplex_value, n, spreads };
  gsl_multimin_fminimizer *simplex;
  WbCalcStatus status = WB_CALC_NOT_CONVERGED;

  if (n == 0)
    return WB_CALC_OK;
  simplex = gsl_multimin_fminimizer_alloc (gsl_multimin_fminimizer_nmsimplex2, n);
  if (simplex == NULL)
    return WB_CALC_NO_MEMORY;
  start_view = gsl_vector_view_array (start, n);
  steps_view = gsl_vector_view_array (steps, n);
  for (size_t j = 0; j < n; j++)
    {
      start[j] = spreads->x[spreads->searched[j]];
      steps[j] = first_step;
    }
  if (gsl_multimin_fminimizer_set (simplex, &function, &start_view.vector, &steps_view.vector) == GSL_SUCCESS)
    for (int iteration = 0; iteration < MAX_ITERATIONS && status == WB_CALC_NOT_CONVERGED; iteration++)
      {
        if (gsl_multimin_fminimizer_iterate (simplex) != GSL_SUCCESS || spreads->cancelled)
          break;
        if (gsl_multimin_fminimizer_size (simplex) < end)
          status = WB_CALC_OK;
      }
  if (gsl_multimin_fminimizer_size (simplex) < SIMPLEX_COARSE)
    status = WB_CALC_OK;
  if (gsl_multimin_fminimizer_minimum (simplex) >= WB_CALC_SPREADS_HOPELESS)
    status = WB_CALC_NOT_CONVERGED;
  if (status == WB_CALC_OK)
    for (size_t j = 0; j < n; j++)
      {
        size_t k = spreads->searched[j];

        spreads->x[k] = fmin (fmax (gsl_vector_get (simplex->x, j), spreads->low[k]), spreads->high[k]);
      }
  gsl_multimin_fminimizer_free (simplex);
  return spreads->cancelled ? WB_CALC_CANCELLED : status;
}

static void
stop_searching (WbCalcSpreads *spreads,
                size_t         k)
{
  size_t kept = 0;

  for (size_t j = 0; j < spreads->n_searched; j++)
    if (spreads->searched[j] != k)
      spreads->searched[kept++] = spreads->searched[j];
  spreads->n_searched = kept;
  spreads->vanished[k] = true;
}

static bool
is_searched (const WbCalcSpreads *spreads,
             size_t               k)
{
  for (size_t j = 0; j < spreads->n_searched; j++)
    if (spreads->searched[j] == k)
      return true;
  return false;
}

/* Spreads that the likelihood does not miss are set to their low end and counted as 0. */
static void
settle_boundaries (WbCalcSpreads *spreads)
{
  double best = wb_calc_spreads_evaluate (spreads, spreads->x);

  for (size_t k = 0; k < spreads->n; k++)
    {
      double kept = spreads->x[k];

      if (!spreads->may_vanish[k] || !is_searched (spreads, k))
        continue;
      spreads->x[k] = spreads->low[k];
      double value = wb_calc_spreads_evaluate (spreads, spreads->x);

      if (value <= best + BOUNDARY_GIVEN_AWAY)
        {
          best = value;
          stop_searching (spreads, k);
        }
      else
        spreads->x[k] = kept;
    }
}

void
wb_calc_spreads_move (const WbCalcSpreads *spreads,
                      size_t               i,
                      double               di,
                      size_t               j,
                      double               dj,
                      double              *moved)
{
  memcpy (moved, spreads->x, sizeof spreads->x);
  moved[spreads->searched[i]] += di * WB_CALC_SPREADS_DIFFERENCE;
  moved[spreads->searched[j]] += dj * WB_CALC_SPREADS_DIFFERENCE;
}

static double
evaluate_moved (WbCalcSpreads *spreads,
                size_t         i,
                double         di,
                size_t         j,
                double         dj)
{
  double moved[WB_CALC_SPREADS_MAX];

  wb_calc_spreads_move (spreads, i, di, j, dj, moved);
  return wb_calc_spreads_evaluate (spreads, moved);
}

bool
wb_calc_spreads_curvature (WbCalcSpreads *spreads,
                           double        *covariance)
{
  size_t n = spreads->n_searched;
  double h2 = WB_CALC_SPREADS_DIFFERENCE * WB_CALC_SPREADS_DIFFERENCE;
  double middle = wb_calc_spreads_evaluate (spreads, spreads->x);
  gsl_matrix_view matrix;

  if (n == 0)
    return true;
  for (size_t i = 0; i < n; i++)
    {
      double up = evaluate_moved (spreads, i, 1.0, i, 0.0), down = evaluate_moved (spreads, i, -1.0, i, 0.0);

      covariance[i * n + i] = (up - 2.0 * middle + down) / h2;
      for (size_t j = 0; j < i; j++)
        {
          double mixed = evaluate_moved (spreads, i, 1.0, j, 1.0) - evaluate_moved (spreads, i, 1.0, j, -1.0)
                         - evaluate_moved (spreads, i, -1.0, j, 1.0) + evaluate_moved (spreads, i, -1.0, j, -1.0);

          covariance[i * n + j] = covariance[j * n + i] = mixed / (4.0 * h2);
        }
    }
  matrix = gsl_matrix_view_array (covariance, n, n);
  return gsl_linalg_cholesky_decomp1 (&matrix.matrix) == 0 && gsl_linalg_cholesky_invert (&matrix.matrix) == 0;
}

/* Along searched coordinate i, by five points. */
static double
slope (WbCalcSpreads *spreads,
       size_t         i)
{
  static const struct { double at, weight; } points[] = { { -2.0, 1.0 }, { -1.0, -8.0 }, { 1.0, 8.0 }, { 2.0, -1.0 } };
  double sum = 0.0;

  for (size_t p = 0; p < sizeof points / sizeof *points; p++)
    {
      double moved[WB_CALC_SPREADS_MAX];

      memcpy (moved, spreads->x, sizeof moved);
      moved[spreads->searched[i]] += points[p].at * GRADIENT_DIFFERENCE;
      sum += points[p].weight * wb_calc_spreads_evaluate (spreads, moved);
    }
  return sum / (12.0 * GRADIENT_DIFFERENCE);
}

/* One step; its length, or a negative number where it does not lead down. */
static double
newton_step (WbCalcSpreads *spreads,
             const double  *covariance,
             double        *value)
{
  size_t n = spreads->n_searched;
  double gradient[WB_CALC_SPREADS_MAX], step[WB_CALC_SPREADS_MAX], moved[WB_CALC_SPREADS_MAX];
  double length = 0.0, next;

  for (size_t i = 0; i < n; i++)
    gradient[i] = slope (spreads, i);
  for (size_t i = 0; i < n; i++)
    {
      step[i] = 0.0;
      for (size_t j = 0; j < n; j++)
        step[i] -= covariance[i * n + j] * gradient[j];
      length = fmax (length, fabs (step[i]));
    }
  memcpy (moved, spreads->x, sizeof moved);
  for (size_t i = 0; i < n; i++)
    {
      size_t k = spreads->searched[i];

      moved[k] = fmin (fmax (moved[k] + step[i] * fmin (1.0, LONGEST_STEP / length), spreads->low[k]), spreads->high[k]);
    }
  next = wb_calc_spreads_evaluate (spreads, moved);
  if (!(next <= *value + 1e-9 * (1.0 + fabs (*value))))
    return -1.0;
  *value = next;
  memcpy (spreads->x, moved, sizeof moved);
  return length;
}

/* Newton's method with the curvature of its beginning, to many digits; false: it did not close. */
static bool
polish (WbCalcSpreads *spreads)
{
  double covariance[WB_CALC_SPREADS_MAX * WB_CALC_SPREADS_MAX];
  double length = INFINITY, value;

  if (spreads->n_searched == 0)
    return true;
  if (!wb_calc_spreads_curvature (spreads, covariance))
    return false;
  value = wb_calc_spreads_evaluate (spreads, spreads->x);
  for (int i = 0; i < MAX_NEWTON_STEPS && length > STEP_END; i++)
    {
      length = newton_step (spreads, covariance, &value);
      if (length < 0.0)
        return false;
    }
  return length < 1e-3;
}

WbCalcStatus
wb_calc_spreads_run (WbCalcSpreads *spreads)
{
  WbCalcStatus status = descend (spreads, 0.7, SIMPLEX_COARSE);

  if (status != WB_CALC_OK)
    return status;
  settle_boundaries (spreads);
  if (!spreads->cancelled && !polish (spreads) && !spreads->cancelled)
    {
      /* a simplex can collapse on the way: once more from there */
      status = descend (spreads, 0.1, SIMPLEX_FINE);
      settle_boundaries (spreads);
    }
  return spreads->cancelled ? WB_CALC_CANCELLED : status;
}
