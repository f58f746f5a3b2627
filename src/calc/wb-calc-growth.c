/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>
#include "wb-calc-censored.h"
#include "wb-calc-growth-start-private.h"
#include "wb-calc-nonlinear.h"

/* Readings that a curve with its noise needs, and the different times among them. */
#define MIN_READINGS 4
#define MIN_TIMES 2

/* A sd of ln A or ln tau beyond this is no estimate: the value is known to a factor of 2.7 at best. */
#define MAX_LOG_SD 1.0

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

/* Level and pace are searched for as logarithms: what comes of them may leave the range of a double. */
static bool
is_finite (const WbCalcGrowthCurve *curve)
{
  return isfinite (curve->level_sd) && isfinite (curve->pace_sd) && isfinite (curve->sigma) && isfinite (curve->rss)
         && curve->level > 0.0 && curve->pace > 0.0;
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
  return is_finite (curve) ? WB_CALC_OK : WB_CALC_UNIDENTIFIED;
}

/* The same for the least squares, which ask for no second derivatives. */
static double
model_on_logs (const double *beta,
               size_t        i,
               double       *gradient,
               void         *user)
{
  double curvature[4];

  return mean_on_logs (beta, i, gradient, curvature, user);
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

  Curve data = { t, y, n };
  double beta[2] = { log (level_start), log (pace_start) };
  WbCalcNonlinear fit;
  WbCalcStatus status = wb_calc_nonlinear_fit (y, n, 2, model_on_logs, &data, NULL, NULL, beta, &fit);

  if (status != WB_CALC_OK)
    return status;
  *curve = (WbCalcGrowthCurve) {
    .level = exp (beta[0]),
    .pace = exp (beta[1]),
    .sigma = fit.residual_sd,
    .sigma_sd = NAN,
    .log_var = { fit.covariance[0], fit.covariance[3] },
    .log_cov = fit.covariance[1],
    .minus_loglik = 0.5 * (double) n * (log (2.0 * M_PI * fit.residual_sum_sq / (double) n) + 1.0),
    .rss = fit.residual_sum_sq,
    .n = n,
  };
  curve->level_sd = curve->level * fit.sd[0];
  curve->pace_sd = curve->pace * fit.sd[1];
  return is_finite (curve) ? WB_CALC_OK : WB_CALC_UNIDENTIFIED;
}
