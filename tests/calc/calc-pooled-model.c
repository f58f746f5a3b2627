/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "calc-pooled-model.h"

#include <math.h>

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>

CalcPooledModel *
calc_pooled_model_new (void)
{
  CalcPooledModel *self = g_new0 (CalcPooledModel, 1);
  size_t zero = 0;

  self->start = g_array_new (FALSE, FALSE, sizeof (size_t));
  self->column = g_array_new (FALSE, FALSE, sizeof (size_t));
  self->value = g_array_new (FALSE, FALSE, sizeof (double));
  self->y = g_array_new (FALSE, FALSE, sizeof (double));
  self->noise = g_array_new (FALSE, FALSE, sizeof (double));
  self->coefficients = g_array_new (FALSE, FALSE, sizeof (WbCalcPooledCoefficient));
  self->families = g_array_new (FALSE, FALSE, sizeof (WbCalcPooledFamily));
  g_array_append_val (self->start, zero);
  return self;
}

void
calc_pooled_model_free (CalcPooledModel *self)
{
  g_array_unref (self->start);
  g_array_unref (self->column);
  g_array_unref (self->value);
  g_array_unref (self->y);
  g_array_unref (self->noise);
  g_array_unref (self->coefficients);
  g_array_unref (self->families);
  g_free (self);
}

size_t
calc_pooled_model_add_family (CalcPooledModel *self,
                              double           usual,
                              double           factor)
{
  WbCalcPooledFamily family = { usual, factor };

  g_array_append_val (self->families, family);
  return self->families->len - 1;
}

size_t
calc_pooled_model_add_stated (CalcPooledModel *self,
                              double           mean,
                              double           sd)
{
  WbCalcPooledCoefficient coefficient = { mean, sd, WB_CALC_POOLED_NO_FAMILY };

  g_array_append_val (self->coefficients, coefficient);
  return self->coefficients->len - 1;
}

size_t
calc_pooled_model_add_member (CalcPooledModel *self,
                              size_t           family)
{
  WbCalcPooledCoefficient coefficient = { 0.0, NAN, family };

  g_array_append_val (self->coefficients, coefficient);
  return self->coefficients->len - 1;
}

/* The first one's number. */
size_t
calc_pooled_model_add_members (CalcPooledModel *self,
                               size_t           family,
                               size_t           n)
{
  size_t first = self->coefficients->len;

  for (size_t i = 0; i < n; i++)
    calc_pooled_model_add_member (self, family);
  return first;
}

void
calc_pooled_model_add_term (CalcPooledModel *self,
                            size_t           column,
                            double           value)
{
  g_array_append_val (self->column, column);
  g_array_append_val (self->value, value);
}

void
calc_pooled_model_end_row (CalcPooledModel *self,
                           double           y,
                           double           noise)
{
  size_t end = self->column->len;

  g_array_append_val (self->start, end);
  g_array_append_val (self->y, y);
  g_array_append_val (self->noise, noise);
}

WbCalcPooledRows
calc_pooled_model_get_rows (const CalcPooledModel *self)
{
  return (WbCalcPooledRows) {
    self->y->len,
    (const size_t *) (gpointer) self->start->data,
    (const size_t *) (gpointer) self->column->data,
    (const double *) (gpointer) self->value->data,
  };
}

WbCalcStatus
calc_pooled_model_try (const CalcPooledModel *self,
                       const double          *log_spreads,
                       WbCalcPooled         **fit)
{
  WbCalcPooledRows rows = calc_pooled_model_get_rows (self);

  return wb_calc_pooled_fit (&rows, (const double *) (gpointer) self->y->data, (const double *) (gpointer) self->noise->data,
                             (const WbCalcPooledCoefficient *) (gpointer) self->coefficients->data, self->coefficients->len,
                             (const WbCalcPooledFamily *) (gpointer) self->families->data, self->families->len, log_spreads, fit);
}

WbCalcPooled *
calc_pooled_model_fit (const CalcPooledModel *self,
                       const double          *log_spreads)
{
  WbCalcPooled *fit = NULL;

  g_assert_cmpint (calc_pooled_model_try (self, log_spreads, &fit), ==, WB_CALC_OK);
  return fit;
}

static double
prior_variance (const CalcPooledModel *self,
                const double          *log_spreads,
                gsize                  j)
{
  const WbCalcPooledCoefficient *coefficient = &g_array_index (self->coefficients, WbCalcPooledCoefficient, j);

  return coefficient->family == WB_CALC_POOLED_NO_FAMILY ? coefficient->sd * coefficient->sd
                                                         : exp (2.0 * log_spreads[coefficient->family]);
}

/* Coefficients' covariance with y, V X', as columns of `cross`; y's own, X V X' + R, in `own`; y less its mean in `rest`. */
static void
lay_out (const CalcPooledModel *self,
         const double          *log_spreads,
         gsl_matrix            *cross,
         gsl_matrix            *own,
         gsl_vector            *rest)
{
  WbCalcPooledRows rows = calc_pooled_model_get_rows (self);

  for (gsize i = 0; i < rows.n; i++)
    {
      double left = g_array_index (self->y, double, i);

      for (gsize t = rows.start[i]; t < rows.start[i + 1]; t++)
        {
          gsize j = rows.column[t];

          left -= rows.value[t] * g_array_index (self->coefficients, WbCalcPooledCoefficient, j).mean;
          *gsl_matrix_ptr (cross, j, i) += rows.value[t] * prior_variance (self, log_spreads, j);
        }
      gsl_vector_set (rest, i, left);
    }
  for (gsize i = 0; i < rows.n; i++)
    {
      *gsl_matrix_ptr (own, i, i) += g_array_index (self->noise, double, i);
      for (gsize k = 0; k < rows.n; k++)
        for (gsize t = rows.start[i]; t < rows.start[i + 1]; t++)
          *gsl_matrix_ptr (own, i, k) += rows.value[t] * gsl_matrix_get (cross, rows.column[t], k);
    }
}

static double
log_prior (const CalcPooledModel *self,
           const double          *log_spreads)
{
  double sum = 0.0;

  for (gsize k = 0; k < self->families->len; k++)
    {
      const WbCalcPooledFamily *family = &g_array_index (self->families, WbCalcPooledFamily, k);

      if (family->factor > 0.0)
        sum -= 0.5 * pow ((log_spreads[k] - log (family->usual)) / family->factor, 2.0) + log (family->factor)
               + 0.5 * log (2.0 * G_PI);
    }
  return sum;
}

double
calc_pooled_model_condition (const CalcPooledModel *self,
                             const double          *log_spreads,
                             double                *mean,
                             double                *covariance)
{
  gsize n = self->y->len, p = self->coefficients->len;
  gsl_matrix *cross = gsl_matrix_calloc (p, n), *own = gsl_matrix_calloc (n, n);
  gsl_vector *rest = gsl_vector_calloc (n);
  double sum = log_prior (self, log_spreads) - 0.5 * (double) n * log (2.0 * G_PI);
  double squares;

  lay_out (self, log_spreads, cross, own, rest);
  gsl_linalg_cholesky_decomp1 (own);
  for (gsize i = 0; i < n; i++)
    sum -= log (gsl_matrix_get (own, i, i));
  gsl_blas_dtrsv (CblasLower, CblasNoTrans, CblasNonUnit, own, rest);
  gsl_blas_ddot (rest, rest, &squares);
  gsl_blas_dtrsm (CblasRight, CblasLower, CblasTrans, CblasNonUnit, 1.0, own, cross);
  for (gsize j = 0; j < p && mean != NULL; j++)
    {
      gsl_vector_view row = gsl_matrix_row (cross, j);

      gsl_blas_ddot (&row.vector, rest, &mean[j]);
      mean[j] += g_array_index (self->coefficients, WbCalcPooledCoefficient, j).mean;
      for (gsize k = 0; k < p; k++)
        {
          gsl_vector_view other = gsl_matrix_row (cross, k);

          gsl_blas_ddot (&row.vector, &other.vector, &covariance[j * p + k]);
          covariance[j * p + k] = (j == k ? prior_variance (self, log_spreads, j) : 0.0) - covariance[j * p + k];
        }
    }
  gsl_matrix_free (cross);
  gsl_matrix_free (own);
  gsl_vector_free (rest);
  return sum - 0.5 * squares;
}

void
calc_pooled_ask (const WbCalcPooled *fit,
                 gsize               point,
                 const gsize        *columns,
                 gsize               n,
                 double             *mean,
                 double             *covariance)
{
  g_autofree gsize *start = g_new (gsize, n + 1);
  g_autofree double *ones = g_new (double, n);
  WbCalcPooledRows rows = { n, start, columns, ones };

  for (gsize i = 0; i < n; i++)
    {
      start[i] = i;
      ones[i] = 1.0;
    }
  start[n] = n;
  g_assert_cmpint (wb_calc_pooled_predict (fit, point, &rows, mean, covariance), ==, WB_CALC_OK);
}

double
calc_pooled_spread (const WbCalcPooled *fit,
                    gsize               family)
{
  return exp (wb_calc_pooled_get_log_spreads (fit)[family]);
}
