/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <stdlib.h>
#include <time.h>

#include <glib.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>

#include "wb-calc-growth-runs.h"
#include "wb-calc-random.h"

/*
 * The growth of 10,000 runs of 4 or 5 readings, invented, a common pace for every thousand
 * and some readings at the wall, against gsl_multifit_nlinear run by run on the same
 * readings: level and pace from a start near them, analytic derivatives, covariance, one
 * workspace for all runs of a length. The floor knows of no wall and no common pace.
 *
 *   bench-growth [RUNS]
 */

#define ROUNDS 3
#define RUNS_A_PACE 1000
#define WALL 76.0

typedef struct
{
  gsize   n_runs, n;
  double *t, *y;
  bool   *censored;
  gsize  *run, *run_pace, *first;
} Readings;

static void
make (Readings *self,
      gsize     n_runs)
{
  WbCalcRandom random;

  *self = (Readings) { .n_runs = n_runs, .t = g_new (double, 5 * n_runs), .y = g_new (double, 5 * n_runs),
                       .censored = g_new (bool, 5 * n_runs), .run = g_new (gsize, 5 * n_runs),
                       .run_pace = g_new (gsize, n_runs), .first = g_new (gsize, n_runs + 1) };
  wb_calc_random_init (&random, 1, 0);
  for (gsize r = 0; r < n_runs; r++)
    {
      double level = 75 * exp (0.08 * wb_calc_random_normal (&random)), pace = 1.1 + 0.1 * (double) (r / RUNS_A_PACE % 10);

      self->first[r] = self->n;
      self->run_pace[r] = r / RUNS_A_PACE;
      for (gsize k = 1; k <= 4 + r % 2; k++, self->n++)
        {
          double y = -level * expm1 (-(double) k / pace) + wb_calc_random_normal (&random);

          self->t[self->n] = (double) k;
          self->y[self->n] = MIN (y, WALL);
          self->censored[self->n] = y >= WALL;
          self->run[self->n] = r;
        }
    }
  self->first[n_runs] = self->n;
}

static void
clear (Readings *self)
{
  g_free (self->t);
  g_free (self->y);
  g_free (self->censored);
  g_free (self->run);
  g_free (self->run_pace);
  g_free (self->first);
}

typedef struct { const double *t, *y; gsize n; } Curve;

static int
residuals (const gsl_vector *x,
           void             *params,
           gsl_vector       *f)
{
  const Curve *curve = params;
  double level = gsl_vector_get (x, 0), pace = gsl_vector_get (x, 1);

  for (gsize i = 0; i < curve->n; i++)
    gsl_vector_set (f, i, -level * expm1 (-curve->t[i] / pace) - curve->y[i]);
  return GSL_SUCCESS;
}

static int
derivatives (const gsl_vector *x,
             void             *params,
             gsl_matrix       *j)
{
  const Curve *curve = params;
  double level = gsl_vector_get (x, 0), pace = gsl_vector_get (x, 1);

  for (gsize i = 0; i < curve->n; i++)
    {
      double left = exp (-curve->t[i] / pace);

      gsl_matrix_set (j, i, 0, 1 - left);
      gsl_matrix_set (j, i, 1, -level * curve->t[i] / (pace * pace) * left);
    }
  return GSL_SUCCESS;
}

static gsize
fit_each (const Readings *self)
{
  gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters ();
  gsl_multifit_nlinear_workspace *spaces[2];
  gsl_vector *x = gsl_vector_alloc (2);
  gsl_matrix *covariance = gsl_matrix_alloc (2, 2);
  gsize fitted = 0;

  for (gsize k = 0; k < 2; k++)
    spaces[k] = gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &parameters, 4 + k, 2);
  for (gsize r = 0; r < self->n_runs; r++)
    {
      Curve curve = { self->t + self->first[r], self->y + self->first[r], self->first[r + 1] - self->first[r] };
      gsl_multifit_nlinear_workspace *space = spaces[curve.n - 4];
      gsl_multifit_nlinear_fdf fdf = { .f = residuals, .df = derivatives, .n = curve.n, .p = 2, .params = &curve };
      int info;

      gsl_vector_set (x, 0, curve.y[curve.n - 1]);
      gsl_vector_set (x, 1, 1.5);
      gsl_multifit_nlinear_init (x, &fdf, space);
      if (gsl_multifit_nlinear_driver (100, 1e-8, 1e-8, 0, NULL, NULL, &info, space) != GSL_SUCCESS)
        continue;
      gsl_multifit_nlinear_covar (gsl_multifit_nlinear_jac (space), 0, covariance);
      fitted++;
    }
  for (gsize k = 0; k < 2; k++)
    gsl_multifit_nlinear_free (spaces[k]);
  gsl_vector_free (x);
  gsl_matrix_free (covariance);
  return fitted;
}

static double
cpu_now (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec + 1e-9 * (double) now.tv_nsec;
}

int
main (int    argc,
      char **argv)
{
  gsize n_runs = argc > 1 ? strtoul (argv[1], NULL, 10) : 10000, fitted = 0, told = 0, iterations = 0;
  double ours = 0, floor = 0;
  Readings readings;

  gsl_set_error_handler_off ();
  make (&readings, n_runs);
  for (guint round = 0; round < ROUNDS; round++)
    {
      WbCalcGrowthRuns fit;
      double at[3];

      at[0] = cpu_now ();
      fitted = fit_each (&readings);
      at[1] = cpu_now ();
      if (wb_calc_growth_fit_runs (readings.t, readings.y, readings.censored, readings.run, readings.n, readings.run_pace, n_runs,
                                   (n_runs + RUNS_A_PACE - 1) / RUNS_A_PACE, &fit) != WB_CALC_OK)
        g_error ("no fit");
      at[2] = cpu_now ();
      told = 0;
      iterations = fit.iterations;
      for (gsize r = 0; r < n_runs; r++)
        told += fit.runs[r].status == WB_CALC_OK;
      wb_calc_growth_runs_clear (&fit);
      floor += at[1] - at[0];
      ours += at[2] - at[1];
    }
  g_print ("growth of %zu runs, %zu readings: %.2f times gsl_multifit_nlinear run by run by CPU time; aim 1.2; "
           "%zu levels told in %zu steps against %zu, the floor %.3f s\n",
           n_runs, readings.n, ours / floor, told, iterations, fitted, floor / ROUNDS);
  clear (&readings);
  return 0;
}
