/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed-design-private.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>

/* Square of the sine between a column (of unit length) and those before it, below which it depends on them. */
#define PIVOT_TOLERANCE 1e-11

void
wb_calc_mixed_design_clear (WbCalcMixedDesign *design)
{
  free (design->x);
  free (design->y);
  free (design->size);
  free (design->sum);
  free (design->sum_y);
  free (design->centre);
  free (design->length);
  free (design->along);
  gsl_matrix_free (design->xx);
  gsl_vector_free (design->xy);
  gsl_matrix_free (design->factor);
  gsl_vector_free (design->solution);
}

/* Mean of n values `stride` apart, in two passes from the first. */
static double
mean_of (const double *values,
         size_t        stride,
         size_t        n)
{
  double centre = values[0];

  for (int pass = 0; pass < 2; pass++)
    {
      double sum = 0.0;

      for (size_t i = 0; i < n; i++)
        sum += values[i * stride] - centre;
      centre += sum / (double) n;
    }
  return centre;
}

static void
centre_columns (WbCalcMixedDesign *design,
                const double      *x,
                const double      *y)
{
  size_t n = design->n;
  size_t p = design->p;
  size_t shift = design->intercept ? 1 : 0;
  size_t columns = p - shift;

  if (design->intercept)
    {
      design->centre[0] = mean_of (y, 1, n);
      for (size_t j = 0; j < columns; j++)
        design->centre[j + 1] = mean_of (x + j, columns, n);
    }
  for (size_t i = 0; i < n; i++)
    {
      design->y[i] = y[i] - (design->intercept ? design->centre[0] : 0.0);
      if (design->intercept)
        design->x[i * p] = 1.0;
      for (size_t j = 0; j < columns; j++)
        design->x[i * p + j + shift] = x[i * columns + j] - design->centre[j + shift];
    }
}

static void
scale_and_sum (WbCalcMixedDesign *design)
{
  size_t n = design->n;
  size_t p = design->p;
  gsl_matrix_view rows = gsl_matrix_view_array (design->x, n, p);
  gsl_vector_view response = gsl_vector_view_array (design->y, n);

  for (size_t j = 0; j < p; j++)
    {
      gsl_vector_view column = gsl_matrix_column (&rows.matrix, j);

      design->length[j] = gsl_blas_dnrm2 (&column.vector);
      if (design->length[j] > 0.0)
        gsl_vector_scale (&column.vector, 1.0 / design->length[j]);
    }
  for (size_t i = 0; i < n; i++)
    {
      size_t g = design->group[i];

      design->size[g] += 1.0;
      design->sum_y[g] += design->y[i];
      for (size_t j = 0; j < p; j++)
        design->sum[g * p + j] += design->x[i * p + j];
    }
  gsl_blas_dgemm (CblasTrans, CblasNoTrans, 1.0, &rows.matrix, &rows.matrix, 0.0, design->xx);
  gsl_blas_dgemv (CblasTrans, 1.0, &rows.matrix, &response.vector, 0.0, design->xy);
  design->yy = pow (gsl_blas_dnrm2 (&response.vector), 2.0);
}

WbCalcStatus
wb_calc_mixed_design_init (WbCalcMixedDesign *design,
                           const double      *x,
                           const double      *y,
                           const size_t      *group,
                           size_t             n,
                           size_t             columns,
                           bool               intercept,
                           size_t             n_groups)
{
  size_t p = columns + (intercept ? 1 : 0);

  *design = (WbCalcMixedDesign) {
    .n = n,
    .p = p,
    .n_groups = n_groups,
    .intercept = intercept,
    .group = group,
    .x = calloc (n * p, sizeof (double)),
    .y = calloc (n, sizeof (double)),
    .size = calloc (n_groups, sizeof (double)),
    .sum = calloc (n_groups * p, sizeof (double)),
    .sum_y = calloc (n_groups, sizeof (double)),
    .centre = calloc (p, sizeof (double)),
    .length = calloc (p, sizeof (double)),
    .along = calloc (n_groups, sizeof (double)),
    .xx = gsl_matrix_calloc (p, p),
    .xy = gsl_vector_calloc (p),
    .factor = gsl_matrix_calloc (p, p),
    .solution = gsl_vector_calloc (p),
  };
  if (design->x == NULL || design->y == NULL || design->size == NULL || design->sum == NULL
      || design->sum_y == NULL || design->centre == NULL || design->length == NULL || design->along == NULL
      || design->xx == NULL || design->xy == NULL || design->factor == NULL || design->solution == NULL)
    return WB_CALC_NO_MEMORY;
  centre_columns (design, x, y);
  scale_and_sum (design);
  return WB_CALC_OK;
}

void
wb_calc_mixed_design_blocks (const WbCalcMixedDesign *design,
                             double                   across,
                             gsl_matrix              *target)
{
  gsl_matrix_memcpy (target, design->xx);
  gsl_matrix_scale (target, across);
  for (size_t g = 0; g < design->n_groups; g++)
    if (design->size[g] > 0.0)
      {
        gsl_vector_view sum = gsl_vector_view_array (design->sum + g * design->p, design->p);

        gsl_blas_dger ((design->along[g] - across) / design->size[g], &sum.vector, &sum.vector, target);
      }
}

bool
wb_calc_mixed_design_solve (WbCalcMixedDesign *design,
                            double             ratio,
                            double            *rss)
{
  double won;

  *rss = design->yy;
  gsl_vector_memcpy (design->solution, design->xy);
  for (size_t g = 0; g < design->n_groups; g++)
    {
      if (design->size[g] == 0.0)
        continue;

      gsl_vector_view sum = gsl_vector_view_array (design->sum + g * design->p, design->p);
      double mean_y = design->sum_y[g] / design->size[g];

      design->along[g] = 1.0 / (1.0 + design->size[g] * ratio);
      *rss += (design->along[g] - 1.0) * mean_y * design->sum_y[g];
      gsl_blas_daxpy ((design->along[g] - 1.0) * mean_y, &sum.vector, design->solution);
    }
  wb_calc_mixed_design_blocks (design, 1.0, design->factor);
  if (gsl_linalg_cholesky_decomp1 (design->factor) != 0)
    return false;
  design->log_det = 0.0;
  for (size_t j = 0; j < design->p; j++)
    {
      gsl_vector_view row = gsl_matrix_subrow (design->factor, j, 0, j + 1);
      double pivot = gsl_matrix_get (design->factor, j, j);
      double before = gsl_blas_dnrm2 (&row.vector);

      if (!(pivot * pivot > PIVOT_TOLERANCE * before * before))
        return false;
      design->log_det += 2.0 * (log (pivot) + log (design->length[j]));
    }
  gsl_blas_dtrsv (CblasLower, CblasNoTrans, CblasNonUnit, design->factor, design->solution);
  won = gsl_blas_dnrm2 (design->solution);
  *rss = fmax (*rss - won * won, 0.0);
  gsl_blas_dtrsv (CblasLower, CblasTrans, CblasNonUnit, design->factor, design->solution);
  return true;
}

void
wb_calc_mixed_design_unready (const WbCalcMixedDesign *design,
                              const gsl_matrix        *ready,
                              double                  *matrix)
{
  size_t p = design->p;

  for (size_t j = 0; j < p; j++)
    for (size_t k = 0; k < p; k++)
      matrix[j * p + k] = gsl_matrix_get (ready, j, k) / (design->length[j] * design->length[k]);
  if (!design->intercept)
    return;
  /* b_0 of the columns as passed in is b_0 - sum of centre b: first the row, then the column. */
  for (size_t k = 0; k < p; k++)
    for (size_t j = 1; j < p; j++)
      matrix[k] -= design->centre[j] * matrix[j * p + k];
  for (size_t k = 0; k < p; k++)
    for (size_t j = 1; j < p; j++)
      matrix[k * p] -= design->centre[j] * matrix[k * p + j];
}
