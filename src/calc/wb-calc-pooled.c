/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-pooled-private.h"

/* Farther from 1 than e to this no spread is looked for: its square would leave a double. */
#define LOG_SPREAD_MOST 300.0

/* A spread known better than this is known, one known worse is not known at all. */
#define FACTOR_LEAST 1e-6
#define FACTOR_MOST 1e6

struct _WbCalcPooled
{
  WbCalcPooledEquations equations;
  WbCalcPooledPoints    points;
};

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
  WbCalcPooled *self;
  WbCalcPooledState state = { { NULL } };
  WbCalcStatus status = n_coefficients == 0 || n_coefficients > INT_MAX / 2 ? WB_CALC_BAD_INPUT : WB_CALC_OK;

  *fit = NULL;
  if (status == WB_CALC_OK)
    status = check_rows (rows, n_coefficients);
  if (status == WB_CALC_OK)
    status = check_data (y, noise, rows->n);
  if (status == WB_CALC_OK)
    status = check_prior (coefficients, n_coefficients, families, n_families, log_spreads);
  if (status != WB_CALC_OK)
    return status;

  self = calloc (1, sizeof *self);
  if (self == NULL)
    return WB_CALC_NO_MEMORY;
  status = wb_calc_pooled_equations_init (&self->equations, rows, y, noise, coefficients, n_coefficients, families, n_families);
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_state_init (&state, &self->equations, rows, y, noise);
  if (status == WB_CALC_OK)
    status = wb_calc_pooled_search (&state, log_spreads, &self->points);
  /* Begun too far away: the usual spreads are never that. */
  if (log_spreads != NULL && (status == WB_CALC_NOT_CONVERGED || status == WB_CALC_UNIDENTIFIED))
    {
      wb_calc_pooled_points_clear (&self->points);
      self->points = (WbCalcPooledPoints) { 0 };
      status = wb_calc_pooled_search (&state, NULL, &self->points);
    }
  wb_calc_pooled_state_clear (&state);
  if (status == WB_CALC_OK)
    *fit = self;
  else
    wb_calc_pooled_free (self);
  return status;
}

void
wb_calc_pooled_free (WbCalcPooled *self)
{
  if (self == NULL)
    return;
  wb_calc_pooled_points_clear (&self->points);
  wb_calc_pooled_equations_clear (&self->equations);
  free (self);
}

size_t
wb_calc_pooled_get_n_families (const WbCalcPooled *self)
{
  return self->equations.n_families;
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

double
wb_calc_pooled_get_log_marginal (const WbCalcPooled *self)
{
  return self->points.log_density;
}

const double *
wb_calc_pooled_get_mean (const WbCalcPooled *self)
{
  return self->points.means;
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

WbCalcStatus
wb_calc_pooled_predict (const WbCalcPooled     *self,
                        size_t                  point,
                        const WbCalcPooledRows *rows,
                        double                 *mean,
                        double                 *covariance)
{
  WbCalcStatus status = point < self->points.n_points ? check_rows (rows, self->equations.p) : WB_CALC_BAD_INPUT;
  const double *of_point = self->points.means + point * self->equations.p;

  if (status != WB_CALC_OK || rows->n == 0)
    return status;
  for (size_t i = 0; i < rows->n; i++)
    {
      mean[i] = 0.0;
      for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
        mean[i] += rows->value[t] * of_point[rows->column[t]];
      if (!isfinite (mean[i]))
        return WB_CALC_BAD_INPUT;
    }
  return covariance == NULL ? WB_CALC_OK : wb_calc_pooled_covary (&self->equations, self->points.factors + point * wb_calc_pooled_equations_get_factor_size (&self->equations), rows, covariance);
}
