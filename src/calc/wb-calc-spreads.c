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

/* With fewer coordinates than this a simplex is as quick as anything. */
#define FEW_COORDINATES 3

/* Newton's steps: difference of the gradient, of fourth order; the longest step; where they end. */
#define GRADIENT_DIFFERENCE 2e-3
#define MAX_NEWTON_STEPS 10
#define LONGEST_STEP 0.3
#define STEP_END 1e-8
#define STEP_TOLERATED 1e-2
#define MAX_HALVINGS 4
#define LONG_WAY 0.25
#define ROUNDING 1e-9

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

/* Forward difference of the gradient on the way down. */
#define GLIDE_DIFFERENCE 1e-3
#define GLIDE_STEPS 25
#define GLIDE_END 0.1

static void
glide_gradient (const gsl_vector *at,
                double            value,
                void             *user,
                gsl_vector       *gradient)
{
  WbCalcSpreads *spreads = user;
  double x[WB_CALC_SPREADS_MAX];

  memcpy (x, spreads->x, sizeof x);
  for (size_t j = 0; j < spreads->n_searched; j++)
    x[spreads->searched[j]] = gsl_vector_get (at, j);
  for (size_t j = 0; j < spreads->n_searched; j++)
    {
      double kept = x[spreads->searched[j]];

      x[spreads->searched[j]] = kept + GLIDE_DIFFERENCE;
      gsl_vector_set (gradient, j, (wb_calc_spreads_evaluate (spreads, x) - value) / GLIDE_DIFFERENCE);
      x[spreads->searched[j]] = kept;
    }
}

static void
simplex_gradient (const gsl_vector *at,
                  void             *user,
                  gsl_vector       *gradient)
{
  glide_gradient (at, simplex_value (at, user), user, gradient);
}

static void
simplex_both (const gsl_vector *at,
              void             *user,
              double           *value,
              gsl_vector       *gradient)
{
  *value = simplex_value (at, user);
  glide_gradient (at, *value, user, gradient);
}

/* Broyden, Fletcher, Goldfarb and Shanno: fewer steps than a simplex where there are many coordinates; false: it got stuck. */
static bool
glide (WbCalcSpreads *spreads)
{
  size_t n = spreads->n_searched;
  double start[WB_CALC_SPREADS_MAX];
  gsl_multimin_function_fdf function = { simplex_value, simplex_gradient, simplex_both, n, spreads };
  gsl_multimin_fdfminimizer *minimizer = gsl_multimin_fdfminimizer_alloc (gsl_multimin_fdfminimizer_vector_bfgs2, n);
  gsl_vector_view view = gsl_vector_view_array (start, n);
  bool arrived = false;

  if (minimizer == NULL)
    return false;
  for (size_t j = 0; j < n; j++)
    start[j] = spreads->x[spreads->searched[j]];
  if (gsl_multimin_fdfminimizer_set (minimizer, &function, &view.vector, 0.3, 0.1) == GSL_SUCCESS)
    for (int step = 0; step < GLIDE_STEPS && !arrived && !spreads->cancelled; step++)
      {
        if (gsl_multimin_fdfminimizer_iterate (minimizer) != GSL_SUCCESS)
          break;
        arrived = gsl_multimin_test_gradient (gsl_multimin_fdfminimizer_gradient (minimizer), GLIDE_END) == GSL_SUCCESS;
      }
  /* where the line search got lost in rounding, Newton's steps or a simplex go on from where it came to */
  arrived = gsl_multimin_fdfminimizer_minimum (minimizer) < WB_CALC_SPREADS_HOPELESS && !spreads->cancelled;
  if (arrived)
    for (size_t j = 0; j < n; j++)
      {
        size_t k = spreads->searched[j];

        spreads->x[k] = fmin (fmax (gsl_vector_get (minimizer->x, j), spreads->low[k]), spreads->high[k]);
      }
  gsl_multimin_fdfminimizer_free (minimizer);
  return arrived;
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
wb_calc_spreads_curvature (WbCalcSpreads *spreads)
{
  size_t n = spreads->n_searched;
  double *covariance = spreads->covariance;
  double h2 = WB_CALC_SPREADS_DIFFERENCE * WB_CALC_SPREADS_DIFFERENCE;
  double middle = wb_calc_spreads_evaluate (spreads, spreads->x);
  gsl_matrix_view matrix;

  spreads->curved = n == 0;
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
  spreads->curved = gsl_linalg_cholesky_decomp1 (&matrix.matrix) == 0 && gsl_linalg_cholesky_invert (&matrix.matrix) == 0;
  return spreads->curved;
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

/* One step, halved until it leads down; its length, 0 where it does not. */
static double
newton_step (WbCalcSpreads *spreads,
             double        *value)
{
  size_t n = spreads->n_searched;
  double gradient[WB_CALC_SPREADS_MAX], step[WB_CALC_SPREADS_MAX], moved[WB_CALC_SPREADS_MAX];
  double length = 0.0, share;

  for (size_t i = 0; i < n; i++)
    gradient[i] = slope (spreads, i);
  for (size_t i = 0; i < n; i++)
    {
      step[i] = 0.0;
      for (size_t j = 0; j < n; j++)
        step[i] -= spreads->covariance[i * n + j] * gradient[j];
      length = fmax (length, fabs (step[i]));
    }
  share = length > LONGEST_STEP ? LONGEST_STEP / length : 1.0;
  for (int halving = 0; halving < MAX_HALVINGS; halving++, share *= 0.5)
    {
      double next;

      memcpy (moved, spreads->x, sizeof moved);
      for (size_t i = 0; i < n; i++)
        {
          size_t k = spreads->searched[i];

          moved[k] = fmin (fmax (moved[k] + share * step[i], spreads->low[k]), spreads->high[k]);
        }
      next = wb_calc_spreads_evaluate (spreads, moved);
      if (!(next <= *value + ROUNDING * (1.0 + fabs (*value))))
        continue;
      *value = next;
      memcpy (spreads->x, moved, sizeof moved);
      return share * length;
    }
  return 0.0;
}

/* Newton's method, its curvature found anew after a long way; false: there is none of a minimum, or it did not close. */
static bool
polish (WbCalcSpreads *spreads)
{
  double length = INFINITY, way = 0.0, value;

  if (!wb_calc_spreads_curvature (spreads))
    return false;
  if (spreads->n_searched == 0)
    return true;
  value = wb_calc_spreads_evaluate (spreads, spreads->x);
  for (int i = 0; i < MAX_NEWTON_STEPS && length > STEP_END && !spreads->cancelled; i++)
    {
      length = newton_step (spreads, &value);
      way += length;
      if (way < LONG_WAY)
        continue;
      way = 0.0;
      if (!wb_calc_spreads_curvature (spreads))
        return false;
    }
  return length < STEP_TOLERATED;
}

WbCalcStatus
wb_calc_spreads_run (WbCalcSpreads *spreads)
{
  WbCalcStatus status = WB_CALC_OK;

  if (spreads->n_searched < FEW_COORDINATES || !glide (spreads))
    status = spreads->cancelled ? WB_CALC_CANCELLED : descend (spreads, 0.7, SIMPLEX_COARSE);
  if (status != WB_CALC_OK)
    return status;
  settle_boundaries (spreads);
  if (!spreads->cancelled && !polish (spreads) && !spreads->cancelled)
    {
      /* a simplex can collapse on the way: once more from there */
      status = descend (spreads, 0.1, SIMPLEX_FINE);
      settle_boundaries (spreads);
      if (status == WB_CALC_OK)
        wb_calc_spreads_curvature (spreads);
    }
  return spreads->cancelled ? WB_CALC_CANCELLED : status;
}

double
wb_calc_spreads_opinion_df (double df)
{
  return 0.75 + 2.2 * df;
}
