/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_multifit_nlinear.h>

#include "wb-calc-censored.h"
#include "wb-calc-growth-start-private.h"

/* Readings that a curve with its noise needs, and the different times among them. */
#define MIN_READINGS 4
#define MIN_TIMES 2

/* A sd of ln A or ln tau beyond this is no estimate: the value is known to a factor of 2.7 at best. */
#define MAX_LOG_SD 1.0

#define MAX_ITERATIONS 400

typedef struct
{
  const double *t;
  const double *y;
  size_t n;
} Curve;

double
wb_calc_growth_value (double level,
                      double pace,
                      double t)
{
  if (!(t >= 0.0) || !(pace > 0.0))
    return NAN;
  return -level * expm1 (-t / pace);
}

/* The mean and its derivatives by (ln A, ln tau). */
static double
mean_on_logs (const double *beta,
              size_t        i,
              double       *gradient,
              double       *curvature,
              void         *user)
{
  const Curve *curve = user;
  double level = exp (beta[0]);
  double share = curve->t[i] * exp (-beta[1]);
  double left = exp (-share);
  double mu = -level * expm1 (-share);

  gradient[0] = mu;
  gradient[1] = -level * share * left;
  curvature[0] = mu;
  curvature[1] = gradient[1];
  curvature[2] = gradient[1];
  curvature[3] = level * share * left * (1.0 - share);
  return mu;
}

static double
rss_of (const double *t,
        const double *y,
        const bool   *censored,
        size_t        n,
        double        level,
        double        pace,
        size_t       *n_censored)
{
  double rss = 0.0;

  *n_censored = 0;
  for (size_t i = 0; i < n; i++)
    {
      double residual = y[i] - wb_calc_growth_value (level, pace, t[i]);

      if (censored != NULL && censored[i])
        (*n_censored)++;
      else
        rss += residual * residual;
    }
  return rss;
}

WbCalcStatus
wb_calc_growth_fit_simple (const double      *t,
                           const double      *y,
                           const bool        *censored,
                           size_t             n,
                           WbCalcGrowthCurve *curve)
{
  Curve data = { t, y, n };
  WbCalcGrowthStart start;
  WbCalcStatus status = wb_calc_growth_start (t, y, censored, n, &start);

  if (status != WB_CALC_OK)
    return status;
  if (n < MIN_READINGS || start.n_times < MIN_TIMES)
    return WB_CALC_TOO_FEW;

  double beta[2] = { log (start.level), log (start.pace) };
  WbCalcCensoredFit fit;

  status = wb_calc_censored_fit (y, censored, n, 2, mean_on_logs, &data, beta, start.sigma, &fit);
  if (status == WB_CALC_OK && beta[1] < log (start.first_time / WB_CALC_GROWTH_FLAT_TIMES))
    return WB_CALC_FLAT;
  /* Where the level is there from the first reading on, the information on tau vanishes. */
  if (status != WB_CALC_OK && start.pace < start.first_time / WB_CALC_GROWTH_FLAT_TIMES)
    return WB_CALC_FLAT;
  if (status != WB_CALC_OK)
    return status == WB_CALC_NOT_CONVERGED && start.straight ? WB_CALC_UNIDENTIFIED : status;
  if (sqrt (fit.covariance[0]) > MAX_LOG_SD || sqrt (fit.covariance[4]) > MAX_LOG_SD)
    return WB_CALC_UNIDENTIFIED;

  *curve = (WbCalcGrowthCurve) {
    .level = exp (beta[0]),
    .pace = exp (beta[1]),
    .sigma = exp (fit.log_sigma),
    .log_var = { fit.covariance[0], fit.covariance[4] },
    .log_cov = fit.covariance[1],
    .minus_loglik = fit.minus_loglik,
    .n = n,
  };
  curve->level_sd = curve->level * sqrt (curve->log_var[0]);
  curve->pace_sd = curve->pace * sqrt (curve->log_var[1]);
  curve->sigma_sd = curve->sigma * sqrt (fit.covariance[8]);
  curve->rss = rss_of (t, y, censored, n, curve->level, curve->pace, &curve->n_censored);
  return WB_CALC_OK;
}

static int
residuals (const gsl_vector *x,
           void             *user,
           gsl_vector       *f)
{
  const Curve *curve = user;
  double level = exp (gsl_vector_get (x, 0));
  double pace = exp (gsl_vector_get (x, 1));

  for (size_t i = 0; i < curve->n; i++)
    gsl_vector_set (f, i, -level * expm1 (-curve->t[i] / pace) - curve->y[i]);
  return GSL_SUCCESS;
}

static int
jacobian (const gsl_vector *x,
          void             *user,
          gsl_matrix       *jac)
{
  const Curve *curve = user;
  double level = exp (gsl_vector_get (x, 0));
  double pace = exp (gsl_vector_get (x, 1));

  for (size_t i = 0; i < curve->n; i++)
    {
      double share = curve->t[i] / pace;

      gsl_matrix_set (jac, i, 0, -level * expm1 (-share));
      gsl_matrix_set (jac, i, 1, -level * share * exp (-share));
    }
  return GSL_SUCCESS;
}

/* Reads the answer out of a solver that has come to its end. */
static WbCalcStatus
read_solver (gsl_multifit_nlinear_workspace *solver,
             size_t                          n,
             WbCalcGrowthCurve              *curve)
{
  double room[4];
  gsl_matrix_view covariance = gsl_matrix_view_array (room, 2, 2);
  const gsl_vector *x = gsl_multifit_nlinear_position (solver);
  double norm = gsl_blas_dnrm2 (gsl_multifit_nlinear_residual (solver));
  double rss = norm * norm;
  double variance = rss / (double) (n - 2);

  if (gsl_multifit_nlinear_covar (gsl_multifit_nlinear_jac (solver), 1e-14, &covariance.matrix) != GSL_SUCCESS
      || !(room[0] > 0.0) || !(room[3] > 0.0) || !isfinite (room[0] + room[3]))
    return WB_CALC_UNIDENTIFIED;
  *curve = (WbCalcGrowthCurve) {
    .level = exp (gsl_vector_get (x, 0)),
    .pace = exp (gsl_vector_get (x, 1)),
    .sigma = sqrt (variance),
    .sigma_sd = NAN,
    .log_var = { variance * room[0], variance * room[3] },
    .log_cov = variance * room[1],
    .minus_loglik = 0.5 * (double) n * (log (2.0 * M_PI * rss / (double) n) + 1.0),
    .rss = rss,
    .n = n,
  };
  curve->level_sd = curve->level * sqrt (curve->log_var[0]);
  curve->pace_sd = curve->pace * sqrt (curve->log_var[1]);
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_growth_fit_least_squares (const double      *t,
                                  const double      *y,
                                  size_t             n,
                                  double             level_start,
                                  double             pace_start,
                                  WbCalcGrowthCurve *curve)
{
  if (!(level_start > 0.0) || !(pace_start > 0.0) || isinf (level_start) || isinf (pace_start))
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < n; i++)
    if (!isfinite (y[i]) || !isfinite (t[i]) || t[i] < 0.0)
      return WB_CALC_BAD_INPUT;
  if (n < 3)
    return WB_CALC_TOO_FEW;

  Curve data = { t, y, n };
  gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters ();
  gsl_multifit_nlinear_fdf fdf = { .f = residuals, .df = jacobian, .n = n, .p = 2, .params = &data };
  gsl_multifit_nlinear_workspace *solver
      = gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &parameters, n, 2);

  if (solver == NULL)
    return WB_CALC_NO_MEMORY;

  double start[2] = { log (level_start), log (pace_start) };
  gsl_vector_const_view x = gsl_vector_const_view_array (start, 2);
  int info = 0;
  int result = gsl_multifit_nlinear_init (&x.vector, &fdf, solver);

  if (result == GSL_SUCCESS)
    result = gsl_multifit_nlinear_driver (MAX_ITERATIONS, 1e-14, 1e-14, 0.0, NULL, NULL, &info, solver);
  /* No further progress is the end of the road at these tolerances, not a failure. */
  WbCalcStatus status = result == GSL_SUCCESS || result == GSL_ENOPROG
                            ? read_solver (solver, n, curve)
                            : WB_CALC_NOT_CONVERGED;

  gsl_multifit_nlinear_free (solver);
  return status;
}
