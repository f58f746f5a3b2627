/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ridge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_sf_gamma.h>

#include "wb-calc-quantile.h"

/* A direction weaker than this share of its column is open. */
#define RANK_TOLERANCE 1e-12

/* Above this t and normal agree to 1e-9. */
#define DF_NORMAL 1e10

/* An eigenvalue of the prior's precision below minus this share of the largest is negative, within it 0. */
#define EIGEN_TOLERANCE 1e-12

/* Rows of the stacked least squares: p of the prior, then n of the data. */
typedef struct
{
  gsl_matrix *rows;
  gsl_vector *right;
  gsl_vector *tau;
  gsl_vector *solution;
  gsl_vector *residual;
  gsl_vector *eigenvalues;
  gsl_matrix *eigenvectors;
  gsl_matrix *work;
  gsl_eigen_symmv_workspace *eigen;
  double prior_log_det; /* NaN when singular */
} Stack;

static void
stack_clear (Stack *stack)
{
  gsl_matrix_free (stack->rows);
  gsl_vector_free (stack->right);
  gsl_vector_free (stack->tau);
  gsl_vector_free (stack->solution);
  gsl_vector_free (stack->residual);
  gsl_vector_free (stack->eigenvalues);
  gsl_matrix_free (stack->eigenvectors);
  gsl_matrix_free (stack->work);
  if (stack->eigen != NULL)
    gsl_eigen_symmv_free (stack->eigen);
}

static WbCalcStatus
stack_init (Stack *stack,
            size_t n,
            size_t p)
{
  *stack = (Stack) {
    .rows = gsl_matrix_calloc (n + p, p),
    .right = gsl_vector_calloc (n + p),
    .tau = gsl_vector_alloc (p),
    .solution = gsl_vector_alloc (p),
    .residual = gsl_vector_alloc (n + p),
    .eigenvalues = gsl_vector_alloc (p),
    .eigenvectors = gsl_matrix_alloc (p, p),
    .work = gsl_matrix_alloc (p, p),
    .eigen = gsl_eigen_symmv_alloc (p),
  };
  if (stack->rows == NULL || stack->right == NULL || stack->tau == NULL || stack->solution == NULL
      || stack->residual == NULL || stack->eigenvalues == NULL || stack->eigenvectors == NULL
      || stack->work == NULL || stack->eigen == NULL)
    {
      stack_clear (stack);
      return WB_CALC_NO_MEMORY;
    }
  return WB_CALC_OK;
}

static WbCalcStatus
check (const double           *x,
       const double           *y,
       const double           *weights,
       size_t                  n,
       size_t                  p,
       const WbCalcRidgePrior *prior)
{
  if (p == 0 || !(prior->a > 0.0) || isinf (prior->a) || !(prior->b > 0.0) || isinf (prior->b))
    return WB_CALC_BAD_INPUT;
  for (size_t j = 0; j < p; j++)
    {
      if (!isfinite (prior->mean[j]))
        return WB_CALC_BAD_INPUT;
      for (size_t k = 0; k < p; k++)
        if (!isfinite (prior->precision[j * p + k]) || prior->precision[j * p + k] != prior->precision[k * p + j])
          return WB_CALC_BAD_INPUT;
    }
  for (size_t i = 0; i < n; i++)
    {
      if (!isfinite (y[i]) || (weights != NULL && (!(weights[i] > 0.0) || isinf (weights[i]))))
        return WB_CALC_BAD_INPUT;
      for (size_t j = 0; j < p; j++)
        if (!isfinite (x[i * p + j]))
          return WB_CALC_BAD_INPUT;
    }
  return WB_CALC_OK;
}

/* The prior as p rows: sqrt (eigenvalue) times eigenvector. */
static WbCalcStatus
put_prior (Stack                  *stack,
           const WbCalcRidgePrior *prior,
           size_t                  p)
{
  gsl_matrix_const_view precision = gsl_matrix_const_view_array (prior->precision, p, p);

  gsl_matrix_memcpy (stack->work, &precision.matrix);
  if (gsl_eigen_symmv (stack->work, stack->eigenvalues, stack->eigenvectors, stack->eigen) != 0)
    return WB_CALC_NOT_CONVERGED;

  double largest = fmax (gsl_vector_max (stack->eigenvalues), -gsl_vector_min (stack->eigenvalues));

  stack->prior_log_det = 0.0;
  for (size_t j = 0; j < p; j++)
    {
      double eigenvalue = gsl_vector_get (stack->eigenvalues, j);
      double right = 0.0;

      if (eigenvalue < -EIGEN_TOLERANCE * largest)
        return WB_CALC_BAD_INPUT;
      if (eigenvalue <= EIGEN_TOLERANCE * largest)
        {
          stack->prior_log_det = NAN;
          continue;
        }
      stack->prior_log_det += log (eigenvalue);
      for (size_t k = 0; k < p; k++)
        {
          double entry = sqrt (eigenvalue) * gsl_matrix_get (stack->eigenvectors, k, j);

          gsl_matrix_set (stack->rows, j, k, entry);
          right += entry * prior->mean[k];
        }
      gsl_vector_set (stack->right, j, right);
    }
  return WB_CALC_OK;
}

/* The data as n rows; returns the sum of the weights' logarithms. */
static double
put_data (Stack        *stack,
          const double *x,
          const double *y,
          const double *weights,
          size_t        n,
          size_t        p)
{
  double log_weights = 0.0;

  for (size_t i = 0; i < n; i++)
    {
      double root = weights == NULL ? 1.0 : sqrt (weights[i]);

      log_weights += 2.0 * log (root);
      for (size_t j = 0; j < p; j++)
        gsl_matrix_set (stack->rows, p + i, j, root * x[i * p + j]);
      gsl_vector_set (stack->right, p + i, root * y[i]);
    }
  return log_weights;
}

/* L_0 + X'WX, summed as it stands. */
static void
sum_precision (const double           *x,
               const double           *weights,
               size_t                  n,
               size_t                  p,
               const WbCalcRidgePrior *prior,
               double                 *precision)
{
  memcpy (precision, prior->precision, p * p * sizeof *precision);
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < p; j++)
      for (size_t k = 0; k < p; k++)
        precision[j * p + k] += (weights == NULL ? 1.0 : weights[i]) * x[i * p + j] * x[i * p + k];
}

/* Mean, covariance, residual; `log_det` is that of L_n. */
static WbCalcStatus
solve (Stack       *stack,
       WbCalcRidge *fit,
       double      *log_det,
       double      *residual_sum_sq)
{
  size_t p = fit->p;
  gsl_matrix_view square;
  gsl_matrix_view covariance = gsl_matrix_view_array (fit->covariance, p, p);
  double lengths = 0.0;

  if (gsl_linalg_QR_decomp (stack->rows, stack->tau) != 0)
    return WB_CALC_UNIDENTIFIED;
  *log_det = 0.0;
  for (size_t j = 0; j < p; j++)
    {
      double pivot = fabs (gsl_matrix_get (stack->rows, j, j));

      lengths = 0.0;
      for (size_t i = 0; i <= j; i++)
        lengths = hypot (lengths, gsl_matrix_get (stack->rows, i, j));
      if (!(pivot > RANK_TOLERANCE * lengths))
        return WB_CALC_UNIDENTIFIED;
      *log_det += 2.0 * log (pivot);
    }
  if (gsl_linalg_QR_lssolve (stack->rows, stack->tau, stack->right, stack->solution, stack->residual) != 0)
    return WB_CALC_UNIDENTIFIED;
  *residual_sum_sq = pow (gsl_blas_dnrm2 (stack->residual), 2.0);

  square = gsl_matrix_submatrix (stack->rows, 0, 0, p, p);
  gsl_matrix_memcpy (stack->work, &square.matrix);
  if (gsl_linalg_tri_upper_invert (stack->work) != 0)
    return WB_CALC_UNIDENTIFIED;
  /* The inverse is upper triangular; what lies below it belongs to the reflectors. */
  for (size_t i = 1; i < p; i++)
    for (size_t j = 0; j < i; j++)
      gsl_matrix_set (stack->work, i, j, 0.0);
  gsl_blas_dgemm (CblasNoTrans, CblasTrans, 1.0, stack->work, stack->work, 0.0, &covariance.matrix);
  for (size_t j = 0; j < p; j++)
    fit->mean[j] = gsl_vector_get (stack->solution, j);
  return WB_CALC_OK;
}

static WbCalcStatus
fit_init (WbCalcRidge *fit,
          size_t       n,
          size_t       p)
{
  *fit = (WbCalcRidge) {
    .p = p,
    .n = n,
    .mean = calloc (p, sizeof (double)),
    .precision = calloc (p * p, sizeof (double)),
    .covariance = calloc (p * p, sizeof (double)),
  };
  return fit->mean == NULL || fit->precision == NULL || fit->covariance == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;
}

static bool
is_finite (const WbCalcRidge *fit)
{
  if (!isfinite (fit->a) || !isfinite (fit->b))
    return false;
  for (size_t j = 0; j < fit->p; j++)
    if (!isfinite (fit->mean[j]))
      return false;
  for (size_t j = 0; j < fit->p * fit->p; j++)
    if (!isfinite (fit->precision[j]) || !isfinite (fit->covariance[j]))
      return false;
  return true;
}

WbCalcStatus
wb_calc_ridge_fit (const double           *x,
                   const double           *y,
                   const double           *weights,
                   size_t                  n,
                   size_t                  p,
                   const WbCalcRidgePrior *prior,
                   WbCalcRidge            *fit)
{
  Stack stack = { NULL };
  WbCalcStatus status = check (x, y, weights, n, p, prior);
  double log_det = 0.0;
  double log_weights;
  double rss = 0.0;

  memset (fit, 0, sizeof *fit);
  if (status != WB_CALC_OK)
    return status;
  status = stack_init (&stack, n, p);
  if (status != WB_CALC_OK)
    return status;
  status = fit_init (fit, n, p);
  if (status == WB_CALC_OK)
    status = put_prior (&stack, prior, p);
  log_weights = put_data (&stack, x, y, weights, n, p);
  if (status == WB_CALC_OK)
    status = solve (&stack, fit, &log_det, &rss);
  if (status == WB_CALC_OK)
    {
      sum_precision (x, weights, n, p, prior, fit->precision);
      fit->a = prior->a + 0.5 * (double) n;
      fit->b = prior->b + 0.5 * rss;
      fit->log_marginal = 0.5 * (stack.prior_log_det - log_det + log_weights - (double) n * log (2.0 * M_PI))
                          + prior->a * log (prior->b) - fit->a * log (fit->b) + gsl_sf_lngamma (fit->a)
                          - gsl_sf_lngamma (prior->a);
      if (isinf (fit->log_marginal))
        fit->log_marginal = NAN;
      if (!is_finite (fit))
        status = WB_CALC_BAD_INPUT;
    }
  if (status != WB_CALC_OK)
    wb_calc_ridge_clear (fit);
  stack_clear (&stack);
  return status;
}

WbCalcStatus
wb_calc_ridge_predict (const WbCalcRidge     *fit,
                       const double          *x,
                       WbCalcRidgePrediction *prediction)
{
  double mean = 0.0;
  double spread = 0.0;

  for (size_t j = 0; j < fit->p; j++)
    {
      if (!isfinite (x[j]))
        return WB_CALC_BAD_INPUT;
      mean += x[j] * fit->mean[j];
      for (size_t k = 0; k < fit->p; k++)
        spread += x[j] * fit->covariance[j * fit->p + k] * x[k];
    }
  spread = fmax (spread, 0.0);
  *prediction = (WbCalcRidgePrediction) {
    .mean = mean,
    .scale_mean = sqrt (fit->b / fit->a * spread),
    .scale_new = sqrt (fit->b / fit->a * (1.0 + spread)),
    .df = 2.0 * fit->a,
  };
  return isfinite (mean) && isfinite (prediction->scale_new) ? WB_CALC_OK : WB_CALC_BAD_INPUT;
}

double
wb_calc_ridge_prediction_below (const WbCalcRidgePrediction *prediction,
                                double                       threshold)
{
  double t = (threshold - prediction->mean) / prediction->scale_new;

  /* Far out, or a scale of 0: nothing is left to either side. */
  if (isinf (t) || prediction->scale_new == 0.0)
    return threshold >= prediction->mean ? 1.0 : 0.0;
  return prediction->df > DF_NORMAL ? wb_calc_normal_below (t) : gsl_cdf_tdist_P (t, prediction->df);
}

double
wb_calc_ridge_coefficient_scale (const WbCalcRidge *fit,
                                 size_t             j)
{
  return j < fit->p ? sqrt (fit->covariance[j * fit->p + j] * fit->b / fit->a) : NAN;
}

WbCalcStatus
wb_calc_ridge_root (const WbCalcRidge *fit,
                    double            *root)
{
  gsl_matrix_view matrix = gsl_matrix_view_array (root, fit->p, fit->p);

  memcpy (root, fit->covariance, fit->p * fit->p * sizeof *root);
  for (size_t j = 0; j < fit->p; j++)
    if (!(root[j * fit->p + j] > 0.0))
      return WB_CALC_UNIDENTIFIED;
  if (gsl_linalg_cholesky_decomp1 (&matrix.matrix) != 0)
    return WB_CALC_UNIDENTIFIED;
  for (size_t j = 0; j < fit->p; j++)
    for (size_t k = j + 1; k < fit->p; k++)
      root[j * fit->p + k] = 0.0;
  return WB_CALC_OK;
}

void
wb_calc_ridge_clear (WbCalcRidge *fit)
{
  free (fit->mean);
  free (fit->precision);
  free (fit->covariance);
  memset (fit, 0, sizeof *fit);
}
