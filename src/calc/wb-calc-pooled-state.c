/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LOG_2_PI 1.8378770664093454836

/* What of the log density stays whatever the spreads: the data's noise, the stated priors, the powers of 2 pi. */
static double
sum_constant (const WbCalcPooledEquations *equations,
              const WbCalcPooledRows      *rows,
              const double                *noise)
{
  double sum = -0.5 * LOG_2_PI * ((double) rows->n - (double) equations->n_flat);

  for (size_t i = 0; i < rows->n; i++)
    sum -= 0.5 * log (noise[i]);
  for (size_t j = 0; j < equations->p; j++)
    if (equations->coefficients[j].family == WB_CALC_POOLED_NO_FAMILY && !isinf (equations->coefficients[j].sd))
      sum -= log (equations->coefficients[j].sd);
  for (size_t k = 0; k < equations->n_families; k++)
    if (equations->families[k].factor > 0.0)
      sum -= 0.5 * LOG_2_PI + log (equations->families[k].factor);
  return sum;
}

WbCalcStatus
wb_calc_pooled_state_init (WbCalcPooledState           *self,
                           const WbCalcPooledEquations *equations,
                           const WbCalcPooledRows      *rows,
                           const double                *y,
                           const double                *noise)
{
  size_t p = equations->p, k = equations->n_families;

  *self = (WbCalcPooledState) {
    .rows = rows,
    .noise = noise,
    .y = malloc ((rows->n + 1) * sizeof (double)),
    .residual = malloc ((rows->n + 1) * sizeof (double)),
    .u = calloc (2 * p, sizeof (double)),
    .gradient = calloc (k + 1, sizeof (double)),
    .information = calloc (k * k + 1, sizeof (double)),
    .constant = sum_constant (equations, rows, noise),
  };
  if (self->y == NULL || self->residual == NULL || self->u == NULL || self->gradient == NULL || self->information == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t i = 0; i < rows->n; i++)
    {
      self->y[i] = y[i];
      for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
        self->y[i] -= rows->value[t] * equations->coefficients[rows->column[t]].mean;
    }
  return wb_calc_pooled_solver_init (&self->solver, equations);
}

void
wb_calc_pooled_state_clear (WbCalcPooledState *self)
{
  wb_calc_pooled_solver_clear (&self->solver);
  free (self->y);
  free (self->residual);
  free (self->u);
  free (self->inverse);
  free (self->gradient);
  free (self->information);
}

/* y - X u, and `left` = X' R^-1 (y - X u) - Lambda u, which is 0 at the solution; returns the squares of both kinds. */
static double
look_at_rest (WbCalcPooledState *self,
              const double      *log_spreads,
              double            *left)
{
  const WbCalcPooledEquations *equations = self->solver.equations;
  double sum = 0.0;

  for (size_t j = 0; j < equations->p; j++)
    {
      double precision = wb_calc_pooled_precision (&equations->coefficients[j], log_spreads);

      left[j] = -precision * self->u[j];
      sum += precision * self->u[j] * self->u[j];
    }
  for (size_t i = 0; i < self->rows->n; i++)
    {
      double rest = self->y[i];

      for (size_t t = self->rows->start[i]; t < self->rows->start[i + 1]; t++)
        rest -= self->rows->value[t] * self->u[self->rows->column[t]];
      self->residual[i] = rest;
      sum += rest * rest / self->noise[i];
      for (size_t t = self->rows->start[i]; t < self->rows->start[i + 1]; t++)
        left[self->rows->column[t]] += self->rows->value[t] * rest / self->noise[i];
    }
  return sum;
}

WbCalcStatus
wb_calc_pooled_state_at (WbCalcPooledState *self,
                         const double      *log_spreads)
{
  const WbCalcPooledEquations *equations = self->solver.equations;
  size_t p = equations->p;
  double *left = self->u + p;
  WbCalcStatus status = wb_calc_pooled_solver_factor (&self->solver, log_spreads);
  double squares;

  if (status != WB_CALC_OK)
    return status;
  memcpy (self->u, equations->right, p * sizeof *self->u);
  wb_calc_pooled_solver_solve (&self->solver, self->u);
  /* Once more for what rounding left, so that a large level costs no digits. */
  look_at_rest (self, log_spreads, left);
  wb_calc_pooled_solver_solve (&self->solver, left);
  for (size_t j = 0; j < p; j++)
    self->u[j] += left[j];
  squares = look_at_rest (self, log_spreads, left);

  self->log_density = self->constant - 0.5 * self->solver.log_det - 0.5 * squares;
  for (size_t k = 0; k < equations->n_families; k++)
    {
      const WbCalcPooledFamily *family = &equations->families[k];

      self->log_density -= (double) equations->family_size[k] * log_spreads[k];
      if (family->factor > 0.0)
        self->log_density -= 0.5 * pow ((log_spreads[k] - log (family->usual)) / family->factor, 2.0);
    }
  return isfinite (self->log_density) ? WB_CALC_OK : WB_CALC_BAD_INPUT;
}

/*
 * d log density / d ln spread_k = - q_k + (sum over the family of u_j^2 + (C^-1)_jj) / spread_k^2, and the prior's.
 */
WbCalcStatus
wb_calc_pooled_state_slope (WbCalcPooledState *self,
                            const double      *log_spreads)
{
  const WbCalcPooledEquations *equations = self->solver.equations;

  if (self->inverse == NULL)
    self->inverse = malloc (wb_calc_pooled_equations_get_factor_size (equations) * sizeof *self->inverse);
  if (self->inverse == NULL)
    return WB_CALC_NO_MEMORY;
  wb_calc_pooled_solver_invert (&self->solver, self->inverse);
  memset (self->gradient, 0, equations->n_families * sizeof *self->gradient);
  for (size_t j = 0; j < equations->p; j++)
    {
      size_t c = (size_t) equations->order[j], k = equations->coefficients[c].family;

      if (k != WB_CALC_POOLED_NO_FAMILY)
        self->gradient[k] += self->u[c] * self->u[c] + self->inverse[equations->l_start[equations->p] + j];
    }
  for (size_t k = 0; k < equations->n_families; k++)
    {
      const WbCalcPooledFamily *family = &equations->families[k];

      if (family->factor > 0.0)
        self->gradient[k] = self->gradient[k] * exp (-2.0 * log_spreads[k]) - (double) equations->family_size[k]
                            - (log_spreads[k] - log (family->usual)) / (family->factor * family->factor);
      else
        self->gradient[k] = 0.0;
      if (!isfinite (self->gradient[k]))
        return WB_CALC_BAD_INPUT;
    }
  return WB_CALC_OK;
}

/*
 * Average information (Gilmour, Thompson and Cullis, Biometrics 51 (1995) 1440) of the logarithms, with w_k = X_k u_k:
 * 2 w_k' P w_l = 2 (u_k' A u_l - (A u_k)' C^-1 (A u_l)); never negative definite, and the prior's is added.
 */
WbCalcStatus
wb_calc_pooled_state_inform (WbCalcPooledState *self)
{
  const WbCalcPooledEquations *equations = self->solver.equations;
  size_t p = equations->p, n = equations->n_families;
  double *product = calloc (2 * n * p + 1, sizeof *product);
  double *solved = product + n * p;

  if (product == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t at = 0; at < p; at++)
    {
      size_t j = (size_t) equations->order[at], of_column = equations->coefficients[j].family;

      if (of_column != WB_CALC_POOLED_NO_FAMILY)
        product[of_column * p + j] += equations->diagonal[at] * self->u[j];
      for (int e = equations->start[at]; e < equations->start[at + 1]; e++)
        {
          size_t i = (size_t) equations->order[equations->row[e]], of_row = equations->coefficients[i].family;

          if (of_column != WB_CALC_POOLED_NO_FAMILY)
            product[of_column * p + i] += equations->value[e] * self->u[j];
          if (of_row != WB_CALC_POOLED_NO_FAMILY)
            product[of_row * p + j] += equations->value[e] * self->u[i];
        }
    }
  memcpy (solved, product, n * p * sizeof *solved);
  for (size_t k = 0; k < n; k++)
    wb_calc_pooled_solver_solve (&self->solver, solved + k * p);
  memset (self->information, 0, n * n * sizeof *self->information);
  for (size_t k = 0; k < n; k++)
    for (size_t l = 0; l <= k; l++)
      {
        double sum = 0.0;

        for (size_t j = 0; j < p; j++)
          sum += (equations->coefficients[j].family == k ? self->u[j] : 0.0) * product[l * p + j]
                 - product[k * p + j] * solved[l * p + j];
        self->information[k * n + l] = self->information[l * n + k] = 2.0 * sum;
      }
  for (size_t k = 0; k < n; k++)
    self->information[k * n + k] = fmax (self->information[k * n + k], 0.0)
                                   + (equations->families[k].factor > 0.0 ? pow (equations->families[k].factor, -2.0) : 0.0);
  free (product);
  return WB_CALC_OK;
}
