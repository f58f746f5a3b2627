/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-linear.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_linalg.h>

/* A column whose part not in the columns before it is below this share of its length is a combination of them. */
#define RANK_TOLERANCE 1e-12

/* The problem made ready: rows weighted, columns centred and of unit length. */
typedef struct
{
  size_t n;
  size_t columns;
  gsl_matrix *design;   /* n x columns */
  gsl_vector *response; /* n */
  gsl_vector *tau;
  gsl_vector *solution;
  gsl_vector *residual;
  gsl_matrix *inverse;  /* columns x columns: (X'X)^-1 in the scaled columns */
  double *centre;       /* columns, then that of y */
  double *length;       /* columns */
  double total_weight;
  double total_sum_sq;
} Problem;

static void
problem_clear (Problem *problem)
{
  gsl_matrix_free (problem->design);
  gsl_vector_free (problem->response);
  gsl_vector_free (problem->tau);
  gsl_vector_free (problem->solution);
  gsl_vector_free (problem->residual);
  gsl_matrix_free (problem->inverse);
  free (problem->centre);
  free (problem->length);
}

static WbCalcStatus
problem_init (Problem *problem,
              size_t   n,
              size_t   columns)
{
  /* GSL makes no empty matrices: without a column one is made and left alone. */
  size_t wide = columns > 0 ? columns : 1;

  *problem = (Problem) {
    .n = n,
    .columns = columns,
    .design = gsl_matrix_calloc (n, wide),
    .response = gsl_vector_alloc (n),
    .tau = gsl_vector_alloc (wide),
    .solution = gsl_vector_calloc (wide),
    .residual = gsl_vector_alloc (n),
    .inverse = gsl_matrix_calloc (wide, wide),
    .centre = calloc (columns + 1, sizeof (double)),
    .length = calloc (columns + 1, sizeof (double)),
  };
  if (problem->design == NULL || problem->response == NULL || problem->tau == NULL || problem->solution == NULL
      || problem->residual == NULL || problem->inverse == NULL || problem->centre == NULL
      || problem->length == NULL)
    {
      problem_clear (problem);
      return WB_CALC_NO_MEMORY;
    }
  return WB_CALC_OK;
}

static double
weight_of (const double *weights,
           size_t        i)
{
  return weights == NULL ? 1.0 : weights[i];
}

/* Weighted mean of n values that lie `stride` apart, in two passes from the first. */
static double
weighted_mean (const double *values,
               size_t        stride,
               const double *weights,
               size_t        n,
               double        total_weight)
{
  double centre = values[0];

  for (int pass = 0; pass < 2; pass++)
    {
      double sum = 0.0;

      for (size_t i = 0; i < n; i++)
        sum += weight_of (weights, i) * (values[i * stride] - centre);
      centre += sum / total_weight;
    }
  return centre;
}

static void
fill (Problem      *problem,
      const double *x,
      const double *y,
      const double *weights,
      bool          intercept)
{
  size_t n = problem->n;
  size_t columns = problem->columns;

  for (size_t i = 0; i < n; i++)
    problem->total_weight += weight_of (weights, i);
  if (intercept)
    {
      for (size_t j = 0; j < columns; j++)
        problem->centre[j] = weighted_mean (x + j, columns, weights, n, problem->total_weight);
      problem->centre[columns] = weighted_mean (y, 1, weights, n, problem->total_weight);
    }
  for (size_t i = 0; i < n; i++)
    {
      double root = sqrt (weight_of (weights, i));

      gsl_vector_set (problem->response, i, root * (y[i] - problem->centre[columns]));
      for (size_t j = 0; j < columns; j++)
        gsl_matrix_set (problem->design, i, j, root * (x[i * columns + j] - problem->centre[j]));
    }
  problem->total_sum_sq = pow (gsl_blas_dnrm2 (problem->response), 2.0);
  for (size_t j = 0; j < columns; j++)
    {
      gsl_vector_view column = gsl_matrix_column (problem->design, j);

      problem->length[j] = gsl_blas_dnrm2 (&column.vector);
      if (problem->length[j] > 0.0)
        gsl_vector_scale (&column.vector, 1.0 / problem->length[j]);
    }
}

/* Solution, residual and (X'X)^-1 of the scaled problem. */
static WbCalcStatus
solve (Problem *problem)
{
  size_t columns = problem->columns;

  gsl_vector_memcpy (problem->residual, problem->response);
  if (columns == 0)
    return WB_CALC_OK;
  if (gsl_linalg_QR_decomp (problem->design, problem->tau) != 0)
    return WB_CALC_UNIDENTIFIED;
  for (size_t j = 0; j < columns; j++)
    if (!(fabs (gsl_matrix_get (problem->design, j, j)) > RANK_TOLERANCE))
      return WB_CALC_UNIDENTIFIED;
  if (gsl_linalg_QR_lssolve (problem->design, problem->tau, problem->response, problem->solution, problem->residual) != 0)
    return WB_CALC_UNIDENTIFIED;

  gsl_matrix_view square = gsl_matrix_submatrix (problem->design, 0, 0, columns, columns);

  gsl_matrix_memcpy (problem->inverse, &square.matrix);
  if (gsl_linalg_tri_upper_invert (problem->inverse) != 0)
    return WB_CALC_UNIDENTIFIED;
  /* R^-1 R^-T in place: entry (i, j), i <= j, needs only entries to the right of and below it. */
  for (size_t i = 0; i < columns; i++)
    for (size_t j = i; j < columns; j++)
      {
        double sum = 0.0;

        for (size_t k = j; k < columns; k++)
          sum += gsl_matrix_get (problem->inverse, i, k) * gsl_matrix_get (problem->inverse, j, k);
        gsl_matrix_set (problem->inverse, i, j, sum);
      }
  return WB_CALC_OK;
}

/* Unscaled (X'X)^-1 of the centred columns. */
static double
inverse_at (const Problem *problem,
            size_t         i,
            size_t         j)
{
  size_t low = i < j ? i : j;
  size_t high = i < j ? j : i;

  return gsl_matrix_get (problem->inverse, low, high) / (problem->length[i] * problem->length[j]);
}

/* The intercept that goes with slopes, about the centres. */
static long double
intercept_of (const Problem     *problem,
              const long double *slope)
{
  long double intercept = problem->centre[problem->columns];

  for (size_t j = 0; j < problem->columns; j++)
    intercept -= slope[j] * problem->centre[j];
  return intercept;
}

/*
 * Slopes and intercept by iterative refinement, the residuals in long double (Björck, BIT 7
 * (1967) 257-278): an intercept far smaller than the means that it is the difference of keeps its
 * digits. Uses up response, solution and residual of the problem.
 */
static void
refine (Problem      *problem,
        const double *x,
        const double *y,
        const double *weights,
        WbCalcLinear *fit,
        long double  *slope)
{
  size_t columns = problem->columns;
  size_t shift = fit->has_intercept ? 1 : 0;
  long double own = 0.0L; /* what the intercept differs by from that of the centres */

  for (size_t j = 0; j < columns; j++)
    slope[j] = (long double) gsl_vector_get (problem->solution, j) / problem->length[j];
  for (int round = 0; round < 2; round++)
    {
      long double intercept = intercept_of (problem, slope) + own;
      long double mean = 0.0L;

      for (size_t i = 0; i < problem->n; i++)
        {
          long double residual = y[i] - intercept;

          for (size_t j = 0; j < columns; j++)
            residual -= slope[j] * x[i * columns + j];
          gsl_vector_set (problem->response, i, sqrt (weight_of (weights, i)) * (double) residual);
          mean += weight_of (weights, i) * residual / problem->total_weight;
        }
      own += shift > 0 ? mean : 0.0L;
      for (size_t i = 0; i < problem->n && shift > 0; i++)
        gsl_vector_set (problem->response, i,
                        gsl_vector_get (problem->response, i) - sqrt (weight_of (weights, i)) * (double) mean);
      if (columns > 0
          && gsl_linalg_QR_lssolve (problem->design, problem->tau, problem->response, problem->solution, problem->residual) == 0)
        for (size_t j = 0; j < columns; j++)
          slope[j] += (long double) gsl_vector_get (problem->solution, j) / problem->length[j];
    }
  for (size_t j = 0; j < columns; j++)
    fit->coefficient[j + shift] = (double) slope[j];
  if (shift > 0)
    fit->coefficient[0] = (double) (intercept_of (problem, slope) + own);
}

/* The covariance in the caller's units, the intercept's part put back. */
static void
unscale (const Problem *problem,
         WbCalcLinear  *fit)
{
  size_t columns = problem->columns;
  size_t shift = fit->has_intercept ? 1 : 0;
  size_t p = fit->p;
  double variance = fit->residual_sd * fit->residual_sd;

  for (size_t j = 0; j < columns; j++)
    for (size_t k = 0; k < columns; k++)
      fit->covariance[(j + shift) * p + k + shift] = variance * inverse_at (problem, j, k);
  if (!fit->has_intercept)
    return;
  fit->covariance[0] = variance / problem->total_weight;
  for (size_t j = 0; j < columns; j++)
    {
      double cross = 0.0;

      for (size_t k = 0; k < columns; k++)
        cross -= problem->centre[k] * fit->covariance[(j + 1) * p + k + 1];
      fit->covariance[j + 1] = fit->covariance[(j + 1) * p] = cross;
      fit->covariance[0] -= cross * problem->centre[j];
    }
}

static WbCalcStatus
check (const double *x,
       const double *y,
       const double *weights,
       size_t        n,
       size_t        columns,
       bool          intercept)
{
  if (columns == 0 && !intercept)
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < n; i++)
    {
      if (!isfinite (y[i]) || !(weight_of (weights, i) > 0.0) || isinf (weight_of (weights, i)))
        return WB_CALC_BAD_INPUT;
      for (size_t j = 0; j < columns; j++)
        if (!isfinite (x[i * columns + j]))
          return WB_CALC_BAD_INPUT;
    }
  return n <= columns + (intercept ? 1 : 0) ? WB_CALC_TOO_FEW : WB_CALC_OK;
}

static void
sums_of_squares (const Problem *problem,
                 WbCalcLinear  *fit)
{
  fit->residual_sum_sq = pow (gsl_blas_dnrm2 (problem->residual), 2.0);
  fit->residual_df = fit->n - fit->p;
  fit->residual_sd = sqrt (fit->residual_sum_sq / (double) fit->residual_df);
  fit->regression_df = problem->columns;
  fit->regression_sum_sq = fmax (problem->total_sum_sq - fit->residual_sum_sq, 0.0);
  fit->r_squared = problem->total_sum_sq > 0.0 ? fit->regression_sum_sq / problem->total_sum_sq : NAN;
  fit->f = NAN;
  fit->p_value = NAN;
  if (fit->regression_df > 0 && fit->residual_sum_sq > 0.0)
    {
      fit->f = fit->regression_sum_sq / (double) fit->regression_df / (fit->residual_sd * fit->residual_sd);
      fit->p_value = gsl_cdf_fdist_Q (fit->f, (double) fit->regression_df, (double) fit->residual_df);
    }
}

static bool
is_finite (const WbCalcLinear *fit)
{
  if (!isfinite (fit->residual_sum_sq) || !isfinite (fit->regression_sum_sq))
    return false;
  for (size_t j = 0; j < fit->p; j++)
    if (!isfinite (fit->coefficient[j]))
      return false;
  for (size_t j = 0; j < fit->p * fit->p; j++)
    if (!isfinite (fit->covariance[j]))
      return false;
  return true;
}

WbCalcStatus
wb_calc_linear_fit (const double *x,
                    const double *y,
                    const double *weights,
                    size_t        n,
                    size_t        columns,
                    bool          intercept,
                    WbCalcLinear *fit)
{
  Problem problem;
  size_t p = columns + (intercept ? 1 : 0);
  WbCalcStatus status = check (x, y, weights, n, columns, intercept);

  memset (fit, 0, sizeof *fit);
  if (status == WB_CALC_OK)
    status = problem_init (&problem, n, columns);
  if (status != WB_CALC_OK)
    return status;
  fill (&problem, x, y, weights, intercept);
  status = solve (&problem);
  if (status == WB_CALC_OK)
    {
      long double *slope = calloc (columns + 1, sizeof *slope);

      *fit = (WbCalcLinear) {
        .n = n,
        .p = p,
        .has_intercept = intercept,
        .coefficient = calloc (p, sizeof (double)),
        .covariance = calloc (p * p, sizeof (double)),
      };
      if (fit->coefficient == NULL || fit->covariance == NULL || slope == NULL)
        {
          wb_calc_linear_clear (fit);
          status = WB_CALC_NO_MEMORY;
        }
      else
        {
          sums_of_squares (&problem, fit);
          unscale (&problem, fit);
          refine (&problem, x, y, weights, fit, slope);
          if (!is_finite (fit))
            {
              wb_calc_linear_clear (fit);
              status = WB_CALC_BAD_INPUT;
            }
        }
      free (slope);
    }
  problem_clear (&problem);
  return status;
}

WbCalcStatus
wb_calc_linear_predict (const WbCalcLinear     *fit,
                        const double           *x,
                        double                  coverage,
                        WbCalcLinearPrediction *prediction)
{
  size_t shift = fit->has_intercept ? 1 : 0;
  double value = 0.0;
  double variance = 0.0;

  if (!(coverage > 0.0 && coverage < 1.0))
    return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j + shift < fit->p; j++)
    if (!isfinite (x[j]))
      return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < fit->p; j++)
    {
      double at_j = j < shift ? 1.0 : x[j - shift];

      value += fit->coefficient[j] * at_j;
      for (size_t k = 0; k < fit->p; k++)
        variance += at_j * fit->covariance[j * fit->p + k] * (k < shift ? 1.0 : x[k - shift]);
    }

  double t = gsl_cdf_tdist_Qinv (0.5 * (1.0 - coverage), (double) fit->residual_df);
  double sd = sqrt (fmax (variance, 0.0));
  double sd_new = hypot (sd, fit->residual_sd);

  *prediction = (WbCalcLinearPrediction) {
    .value = value,
    .sd = sd,
    .low = value - t * sd,
    .high = value + t * sd,
    .new_low = value - t * sd_new,
    .new_high = value + t * sd_new,
  };
  return isfinite (prediction->new_low) && isfinite (prediction->new_high) ? WB_CALC_OK : WB_CALC_BAD_INPUT;
}

double
wb_calc_linear_coefficient_sd (const WbCalcLinear *fit,
                               size_t              j)
{
  return j < fit->p ? sqrt (fmax (fit->covariance[j * fit->p + j], 0.0)) : NAN;
}

void
wb_calc_linear_clear (WbCalcLinear *fit)
{
  free (fit->coefficient);
  free (fit->covariance);
  memset (fit, 0, sizeof *fit);
}
