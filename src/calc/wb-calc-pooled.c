/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-pooled-private.h"

/* Farther from 1 than e to this no spread is looked for: its square would leave a double. */
#define LOG_SPREAD_MOST 300.0

/* A spread known better than this is known, one known worse is not known at all. */
#define FACTOR_LEAST 1e-6
#define FACTOR_MOST 1e6

/* By how much rounding may leave the sum of weights beside 1. */
#define WEIGHTS_OFF 1e-9

static WbCalcStatus
check_rows (const WbCalcPooledRows *rows,
            size_t                  p)
{
  if (rows->n > 0 && (rows->start == NULL || rows->n > INT_MAX))
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < rows->n; i++)
    {
      if (rows->start[i + 1] < rows->start[i])
        return WB_CALC_BAD_INPUT;
      for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
        if (rows->column[t] >= p || !isfinite (rows->value[t]))
          return WB_CALC_BAD_INPUT;
    }
  return WB_CALC_OK;
}

static WbCalcStatus
check_prior (const WbCalcPooledCoefficient *coefficients,
             size_t                         p,
             const WbCalcPooledFamily      *families,
             size_t                         n_families,
             const double                  *log_spreads)
{
  for (size_t k = 0; k < n_families; k++)
    {
      if (!(families[k].usual > 0.0) || !(fabs (log (families[k].usual)) < LOG_SPREAD_MOST))
        return WB_CALC_BAD_INPUT;
      if (families[k].factor != 0.0 && !(families[k].factor >= FACTOR_LEAST && families[k].factor <= FACTOR_MOST))
        return WB_CALC_BAD_INPUT;
      if (log_spreads != NULL && !(fabs (log_spreads[k]) < LOG_SPREAD_MOST))
        return WB_CALC_BAD_INPUT;
    }
  for (size_t j = 0; j < p; j++)
    {
      if (!isfinite (coefficients[j].mean))
        return WB_CALC_BAD_INPUT;
      if (coefficients[j].family == WB_CALC_POOLED_NO_FAMILY ? !(coefficients[j].sd > 0.0) : coefficients[j].family >= n_families)
        return WB_CALC_BAD_INPUT;
    }
  return WB_CALC_OK;
}

static WbCalcStatus
check_data (const double *y,
            const double *noise,
            size_t        n)
{
  for (size_t i = 0; i < n; i++)
    if (!isfinite (y[i]) || !(noise[i] > 0.0) || isinf (noise[i]))
      return WB_CALC_BAD_INPUT;
  return WB_CALC_OK;
}

/* What a fit is made of. */
typedef struct
{
  const WbCalcPooledRows        *rows;
  const double                  *y, *noise;
  const WbCalcPooledCoefficient *coefficients;
  size_t                         p;
  const WbCalcPooledFamily      *families;
  size_t                         n_families;
} Given;

/* Everything but the points, and a state to find them; *self NULL where that fails. */
static WbCalcStatus
begin (const Given        *given,
       const double       *log_spreads,
       WbCalcPooled      **self,
       WbCalcPooledState  *state)
{
  WbCalcStatus status = given->p == 0 || given->p > INT_MAX / 2 ? WB_CALC_BAD_INPUT : WB_CALC_OK;

  *self = NULL;
  if (status == WB_CALC_OK)
    status = check_rows (given->rows, given->p);
  if (status == WB_CALC_OK)
    status = check_data (given->y, given->noise, given->rows->n);
  if (status == WB_CALC_OK)
    status = check_prior (given->coefficients, given->p, given->families, given->n_families, log_spreads);
  if (status != WB_CALC_OK)
    return status;
  *self = calloc (1, sizeof **self);
  if (*self == NULL)
    return WB_CALC_NO_MEMORY;
  status = wb_calc_pooled_equations_init (&(*self)->equations, given->rows, given->y, given->noise, given->coefficients, given->p,
                                          given->families, given->n_families);
  return status == WB_CALC_OK ? wb_calc_pooled_state_init (state, &(*self)->equations, given->rows, given->y, given->noise) : status;
}

static WbCalcStatus
end (WbCalcStatus       status,
     WbCalcPooled      *self,
     WbCalcPooledState *state,
     WbCalcPooled     **fit)
{
  wb_calc_pooled_state_clear (state);
  if (status != WB_CALC_OK)
    wb_calc_pooled_free (self);
  *fit = status == WB_CALC_OK ? self : NULL;
  return status;
}

static bool
all_finite (const double *x,
            size_t        n)
{
  for (size_t i = 0; i < n; i++)
    if (!isfinite (x[i]))
      return false;
  return true;
}

WbCalcStatus
wb_calc_pooled_fit_on (const WbCalcPooledRows        *rows,
                       const double                  *y,
                       const double                  *noise,
                       const WbCalcPooledCoefficient *coefficients,
                       size_t                         n_coefficients,
                       const WbCalcPooledFamily      *families,
                       size_t                         n_families,
                       const double                  *log_spreads,
                       const double                  *curvature,
                       WbCalcPooled                 **fit)
{
  const Given given = { rows, y, noise, coefficients, n_coefficients, families, n_families };
  WbCalcPooledState state = { { NULL } };
  WbCalcPooled *self;
  WbCalcStatus status = begin (&given, log_spreads, &self, &state);

  if (status == WB_CALC_OK && curvature != NULL && !all_finite (curvature, n_families * n_families))
    status = WB_CALC_BAD_INPUT;
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_search (&state, log_spreads, curvature, &self->points);
  /* Begun too far away: the usual spreads are never that. */
  if (log_spreads != NULL && (status == WB_CALC_NOT_CONVERGED || status == WB_CALC_UNIDENTIFIED))
    {
      wb_calc_pooled_points_clear (&self->points);
      self->points = (WbCalcPooledPoints) { 0 };
      status = wb_calc_pooled_search (&state, NULL, NULL, &self->points);
    }
  return end (status, self, &state, fit);
}

WbCalcStatus
wb_calc_pooled_fit (const WbCalcPooledRows        *rows,
                    const double                  *y,
                    const double                  *noise,
                    const WbCalcPooledCoefficient *coefficients,
                    size_t                         n_coefficients,
                    const WbCalcPooledFamily      *families,
                    size_t                         n_families,
                    const double                  *log_spreads,
                    WbCalcPooled                 **fit)
{
  return wb_calc_pooled_fit_on (rows, y, noise, coefficients, n_coefficients, families, n_families, log_spreads, NULL, fit);
}

/* Spreads within reach, weights that no density contradicts. */
WbCalcStatus
wb_calc_pooled_check_points (const double *log_spreads,
                             const double *weights,
                             size_t        n_points,
                             size_t        n_families)
{
  double sum = 0.0;

  if (n_points == 0 || n_points > 1 + 2 * n_families || (n_families > 0 && log_spreads == NULL))
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < n_points; i++)
    {
      if (!(weights[i] >= 0.0))
        return WB_CALC_BAD_INPUT;
      sum += weights[i];
    }
  for (size_t k = 0; k < n_points * n_families; k++)
    if (!(fabs (log_spreads[k]) < 2.0 * LOG_SPREAD_MOST))
      return WB_CALC_BAD_INPUT;
  return fabs (sum - 1.0) < WEIGHTS_OFF ? WB_CALC_OK : WB_CALC_BAD_INPUT;
}

void
wb_calc_pooled_free (WbCalcPooled *self)
{
  if (self == NULL)
    return;
  wb_calc_pooled_points_clear (&self->points);
  wb_calc_pooled_equations_clear (&self->equations);
  free (self->column);
  free (self->whole_mean);
  free (self);
}

size_t
wb_calc_pooled_get_n_families (const WbCalcPooled *self)
{
  return self->equations.n_families;
}

size_t
wb_calc_pooled_get_n_coefficients (const WbCalcPooled *self)
{
  return self->column != NULL ? self->n_whole : self->equations.p;
}

const double *
wb_calc_pooled_get_log_spreads (const WbCalcPooled *self)
{
  return self->points.mode;
}

const double *
wb_calc_pooled_get_log_spreads_covariance (const WbCalcPooled *self)
{
  return self->points.covariance;
}

const double *
wb_calc_pooled_get_curvature (const WbCalcPooled *self)
{
  return self->points.covariance != NULL ? self->points.curvature : NULL;
}

double
wb_calc_pooled_get_log_marginal (const WbCalcPooled *self)
{
  return self->points.log_density;
}

const double *
wb_calc_pooled_get_mean (const WbCalcPooled *self)
{
  return self->whole_mean != NULL ? self->whole_mean : self->points.means;
}

size_t
wb_calc_pooled_get_n_points (const WbCalcPooled *self)
{
  return self->points.n_points;
}

double
wb_calc_pooled_get_weight (const WbCalcPooled *self,
                           size_t              point)
{
  return point < self->points.n_points ? self->points.weights[point] : 0.0;
}

const double *
wb_calc_pooled_get_point (const WbCalcPooled *self,
                          size_t              point)
{
  return point < self->points.n_points ? self->points.spreads + point * self->equations.n_families : NULL;
}

static WbCalcStatus
predict (const WbCalcPooled     *self,
         size_t                  point,
         const WbCalcPooledRows *rows,
         double                 *mean,
         double                 *covariance)
{
  const double *means = self->points.means + point * self->equations.p;
  size_t size = wb_calc_pooled_equations_get_factor_size (&self->equations);

  for (size_t i = 0; i < rows->n; i++)
    {
      mean[i] = 0.0;
      for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
        mean[i] += rows->value[t] * means[rows->column[t]];
      if (!isfinite (mean[i]))
        return WB_CALC_BAD_INPUT;
    }
  return covariance == NULL ? WB_CALC_OK : wb_calc_pooled_covary (&self->equations, self->points.factors + point * size, rows, covariance);
}

/* The rows by the columns that are left of the model's. */
static WbCalcStatus
predict_left (const WbCalcPooled     *self,
              size_t                  point,
              const WbCalcPooledRows *rows,
              double                 *mean,
              double                 *covariance)
{
  size_t *column = malloc ((rows->start[rows->n] + 1) * sizeof *column);
  WbCalcPooledRows left = { rows->n, rows->start, column, rows->value };
  WbCalcStatus status = column == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;

  for (size_t t = rows->start[0]; status == WB_CALC_OK && t < rows->start[rows->n]; t++)
    {
      column[t] = self->column[rows->column[t]];
      if (column[t] == SIZE_MAX)
        status = WB_CALC_BAD_INPUT;
    }
  if (status == WB_CALC_OK)
    status = predict (self, point, &left, mean, covariance);
  free (column);
  return status;
}

WbCalcStatus
wb_calc_pooled_predict (const WbCalcPooled     *self,
                        size_t                  point,
                        const WbCalcPooledRows *rows,
                        double                 *mean,
                        double                 *covariance)
{
  WbCalcStatus status = point < self->points.n_points ? check_rows (rows, self->column != NULL ? self->n_whole : self->equations.p)
                                                      : WB_CALC_BAD_INPUT;

  if (status != WB_CALC_OK || rows->n == 0)
    return status;
  return self->column != NULL ? predict_left (self, point, rows, mean, covariance) : predict (self, point, rows, mean, covariance);
}
