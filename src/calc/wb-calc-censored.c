/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-censored.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_sf_erf.h>

#define MAX_P WB_CALC_CENSORED_MAX_PARAMETERS
#define MAX_Q (MAX_P + 1)
#define MAX_ITERATIONS 500

/* Standard deviations above the wall from which a censored reading tells nothing: Phi is 1 to the last bit. */
#define Z_CERTAIN 9.0

/* Standard deviations below the wall from which erfc nears the smallest doubles and its logarithm is had otherwise. */
#define Z_ASYMPTOTIC 25.0

#define HALF_LOG_2PI 0.91893853320467274178

/* sigma below this share of the largest |y| is a fit without noise. */
#define SIGMA_FLOOR 1e-10

/* Newton's decrement (twice the likelihood still to win) at which the search ends. */
#define DECREMENT_END 1e-18

typedef struct
{
  const double *y;
  const bool *censored;
  size_t n;
  size_t p;
  WbCalcCensoredMean mean;
  void *user;
} Problem;

/* Minus log likelihood at x = (beta, ln sigma) with gradient and Hessian. */
typedef struct
{
  double value;
  double gradient[MAX_Q];
  double hessian[MAX_Q * MAX_Q];
} Point;

/*
 * -ln Phi (z). This is where a growth fit spends its time: the C library's erfc is
 * three times as fast as GSL's and holds its digits as long as it does not vanish.
 */
static double
minus_log_normal_below (double z)
{
  if (z > 0.0)
    return -log1p (-0.5 * erfc (z * M_SQRT1_2));
  if (-z < Z_ASYMPTOTIC)
    return -log (0.5 * erfc (-z * M_SQRT1_2));
  return M_LN2 - gsl_sf_log_erfc (-z * M_SQRT1_2);
}

WbCalcCensoredReading
wb_calc_censored_reading (double mu,
                          double y,
                          bool   censored,
                          double sigma)
{
  double z = (mu - y) / sigma;

  if (!censored)
    return (WbCalcCensoredReading) { 0.5 * z * z, z / sigma, 1.0 / (sigma * sigma) };
  if (z > Z_CERTAIN)
    return (WbCalcCensoredReading) { 0.0, 0.0, 0.0 };

  double minus_log = minus_log_normal_below (z);
  double hazard = -z < Z_ASYMPTOTIC ? exp (minus_log - 0.5 * z * z - HALF_LOG_2PI) : gsl_sf_hazard (-z);

  return (WbCalcCensoredReading) {
    .minus_loglik = minus_log,
    .score = -hazard / sigma,
    .weight = fmax (hazard * (hazard + z), 0.0) / (sigma * sigma),
  };
}

static void
evaluate (const Problem *problem,
          const double  *x,
          Point         *point)
{
  size_t p = problem->p;
  size_t q = p + 1;
  double sigma = exp (x[p]);

  memset (point, 0, sizeof *point);
  for (size_t i = 0; i < problem->n; i++)
    {
      double gradient[MAX_P] = { 0.0 };
      double curvature[MAX_P * MAX_P] = { 0.0 };
      bool censored = problem->censored != NULL && problem->censored[i];
      double mu = problem->mean (x, i, gradient, curvature, problem->user);
      WbCalcCensoredReading reading = wb_calc_censored_reading (mu, problem->y[i], censored, sigma);
      double distance = mu - problem->y[i];
      double plain = censored ? 0.0 : 1.0;

      /* By ln sigma through z = (mu - y) / sigma: dz = -z, d2z = z; a plain reading has ln sigma besides. */
      double by_mu_and_sigma = -reading.score - reading.weight * distance;

      point->value += reading.minus_loglik + plain * (x[p] + 0.5 * log (2.0 * M_PI));
      point->gradient[p] += plain - reading.score * distance;
      point->hessian[p * q + p] += (reading.weight * distance + reading.score) * distance;
      for (size_t j = 0; j < p; j++)
        {
          point->gradient[j] += reading.score * gradient[j];
          point->hessian[j * q + p] += by_mu_and_sigma * gradient[j];
          for (size_t k = 0; k < p; k++)
            point->hessian[j * q + k] += reading.weight * gradient[j] * gradient[k]
                                         + reading.score * curvature[j * p + k];
        }
    }
  for (size_t j = 0; j < p; j++)
    point->hessian[p * q + j] = point->hessian[j * q + p];
}

/* Solves (H + damping |diag H|) step = -gradient; false when that matrix is not positive definite. */
static bool
newton_step (const Point *point,
             size_t       q,
             double       damping,
             double      *step)
{
  double work[MAX_Q * MAX_Q];
  gsl_matrix_view matrix = gsl_matrix_view_array (work, q, q);
  gsl_vector_view solution = gsl_vector_view_array (step, q);

  memcpy (work, point->hessian, q * q * sizeof *work);
  for (size_t j = 0; j < q; j++)
    {
      work[j * q + j] += damping * (fabs (work[j * q + j]) + 1e-12);
      step[j] = -point->gradient[j];
    }
  if (gsl_linalg_cholesky_decomp1 (&matrix.matrix) != 0)
    return false;
  return gsl_linalg_cholesky_svx (&matrix.matrix, &solution.vector) == 0;
}

static bool
invert (const Point *point,
        size_t       q,
        double      *inverse)
{
  gsl_matrix_view matrix = gsl_matrix_view_array (inverse, q, q);

  memcpy (inverse, point->hessian, q * q * sizeof *inverse);
  if (gsl_linalg_cholesky_decomp1 (&matrix.matrix) != 0 || gsl_linalg_cholesky_invert (&matrix.matrix) != 0)
    return false;
  for (size_t j = 0; j < q * q; j++)
    if (!isfinite (inverse[j]))
      return false;
  for (size_t j = 0; j < q; j++)
    if (!(inverse[j * q + j] > 0.0))
      return false;
  return true;
}

/* One accepted step, the damping adapted; false when no step lowers the value any more. */
static bool
advance (const Problem *problem,
         double        *x,
         Point         *point,
         double        *damping,
         double        *decrement)
{
  size_t q = problem->p + 1;

  for (; *damping < 1e12; *damping = *damping == 0.0 ? 1e-4 : *damping * 10.0)
    {
      double step[MAX_Q];
      double trial[MAX_Q];
      Point next;

      if (!newton_step (point, q, *damping, step))
        continue;
      *decrement = 0.0;
      for (size_t j = 0; j < q; j++)
        {
          trial[j] = x[j] + step[j];
          *decrement -= step[j] * point->gradient[j];
        }
      evaluate (problem, trial, &next);
      if (!(next.value <= point->value + 1e-13 * fabs (point->value)))
        continue;
      memcpy (x, trial, q * sizeof *x);
      *point = next;
      *damping = *damping < 1e-6 ? 0.0 : *damping / 10.0;
      return true;
    }
  return false;
}

static WbCalcStatus
check (const Problem *problem,
       const double  *beta,
       double         sigma_start,
       double        *scale)
{
  size_t plain = 0;

  if (problem->p == 0 || problem->p > MAX_P || !(sigma_start > 0.0) || isinf (sigma_start))
    return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < problem->p; j++)
    if (!isfinite (beta[j]))
      return WB_CALC_BAD_INPUT;
  *scale = 0.0;
  for (size_t i = 0; i < problem->n; i++)
    {
      if (!isfinite (problem->y[i]))
        return WB_CALC_BAD_INPUT;
      *scale = fmax (*scale, fabs (problem->y[i]));
      plain += problem->censored == NULL || !problem->censored[i] ? 1 : 0;
    }
  if (problem->n <= problem->p)
    return WB_CALC_TOO_FEW;
  return plain == 0 ? WB_CALC_ONLY_CENSORED : WB_CALC_OK;
}

WbCalcStatus
wb_calc_censored_fit (const double       *y,
                      const bool         *censored,
                      size_t              n,
                      size_t              p,
                      WbCalcCensoredMean  mean,
                      void               *user,
                      double             *beta,
                      double              sigma_start,
                      WbCalcCensoredFit  *fit)
{
  Problem problem = { y, censored, n, p, mean, user };
  double scale;
  WbCalcStatus status = check (&problem, beta, sigma_start, &scale);

  if (status != WB_CALC_OK)
    return status;

  double x[MAX_Q];
  double damping = 1e-3;
  double decrement = INFINITY;
  Point point;
  size_t iteration = 0;

  memcpy (x, beta, p * sizeof *x);
  x[p] = log (sigma_start);
  evaluate (&problem, x, &point);
  if (!isfinite (point.value))
    return WB_CALC_BAD_INPUT;
  while (decrement > DECREMENT_END || damping > 0.0)
    {
      if (++iteration > MAX_ITERATIONS)
        return WB_CALC_NOT_CONVERGED;
      if (exp (x[p]) <= SIGMA_FLOOR * scale)
        return WB_CALC_UNIDENTIFIED;
      if (!advance (&problem, x, &point, &damping, &decrement))
        break;
    }
  if (decrement > 1e-8)
    return WB_CALC_NOT_CONVERGED;
  if (!invert (&point, p + 1, fit->covariance))
    return WB_CALC_UNIDENTIFIED;
  memcpy (beta, x, p * sizeof *beta);
  fit->log_sigma = x[p];
  fit->minus_loglik = point.value;
  fit->iterations = iteration;
  return WB_CALC_OK;
}
