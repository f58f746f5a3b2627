/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* With flat coefficients: a pivot below this share of its diagonal is what rounding leaves of nothing. */
#define PIVOT_TOLERANCE 1e-13

WbCalcStatus
wb_calc_pooled_solver_init (WbCalcPooledSolver          *self,
                            const WbCalcPooledEquations *equations)
{
  *self = (WbCalcPooledSolver) {
    .equations = equations,
    .l = malloc (wb_calc_pooled_equations_get_factor_size (equations) * sizeof (double)),
    .work = calloc (equations->p, sizeof (double)),
    .filled = malloc (equations->p * sizeof (size_t)),
  };
  if (self->l == NULL || self->work == NULL || self->filled == NULL)
    return WB_CALC_NO_MEMORY;
  self->d = self->l + equations->l_start[equations->p];
  return WB_CALC_OK;
}

void
wb_calc_pooled_solver_clear (WbCalcPooledSolver *self)
{
  free (self->l);
  free (self->work);
  free (self->filled);
}

double
wb_calc_pooled_precision (const WbCalcPooledCoefficient *coefficient,
                          const double                  *log_spreads)
{
  if (coefficient->family != WB_CALC_POOLED_NO_FAMILY)
    return exp (-2.0 * log_spreads[coefficient->family]);
  return isinf (coefficient->sd) ? 0.0 : 1.0 / coefficient->sd / coefficient->sd;
}

/* Row k of L and its pivot, by the columns before it (Davis, ACM TOMS 31 (2005) 587). */
static double
put_row (WbCalcPooledSolver *self,
         size_t              k,
         double              pivot)
{
  const WbCalcPooledEquations *equations = self->equations;
  double *restrict work = self->work;

  for (int e = equations->start[k]; e < equations->start[k + 1]; e++)
    work[equations->row[e]] = equations->value[e];
  for (size_t at = equations->l_by_row[k]; at < equations->l_by_row[k + 1]; at++)
    {
      size_t i = (size_t) equations->l_column[at], begin = equations->l_start[i], end = begin + self->filled[i];
      double value = work[i], entry = value / self->d[i];
      const double *restrict l = self->l;
      const int *restrict row = equations->l_row;

      work[i] = 0.0;
      for (size_t e = begin; e < end; e++)
        work[row[e]] -= l[e] * value;
      pivot -= entry * value;
      self->l[end] = entry;
      self->filled[i]++;
    }
  return pivot;
}

WbCalcStatus
wb_calc_pooled_solver_factor (WbCalcPooledSolver *self,
                              const double       *log_spreads)
{
  const WbCalcPooledEquations *equations = self->equations;
  double tolerance = equations->n_flat > 0 ? PIVOT_TOLERANCE : 0.0;

  self->log_det = 0.0;
  memset (self->work, 0, equations->p * sizeof *self->work);
  memset (self->filled, 0, equations->p * sizeof *self->filled);
  for (size_t k = 0; k < equations->p; k++)
    {
      double diagonal = equations->diagonal[k] + wb_calc_pooled_precision (&equations->coefficients[equations->order[k]], log_spreads);

      if (!isfinite (diagonal))
        return WB_CALC_BAD_INPUT;
      self->d[k] = put_row (self, k, diagonal);
      if (!(self->d[k] > tolerance * diagonal) || isinf (self->d[k]))
        return WB_CALC_UNIDENTIFIED;
      self->log_det += log (self->d[k]);
    }
  return WB_CALC_OK;
}

void
wb_calc_pooled_solver_solve (WbCalcPooledSolver *self,
                             double             *b)
{
  const WbCalcPooledEquations *equations = self->equations;
  const int *row = equations->l_row;
  double *x = self->work;

  for (size_t j = 0; j < equations->p; j++)
    x[j] = b[equations->order[j]];
  for (size_t j = 0; j < equations->p; j++)
    for (size_t e = equations->l_start[j]; e < equations->l_start[j + 1]; e++)
      x[row[e]] -= self->l[e] * x[j];
  for (size_t j = equations->p; j-- > 0;)
    {
      x[j] /= self->d[j];
      for (size_t e = equations->l_start[j]; e < equations->l_start[j + 1]; e++)
        x[j] -= self->l[e] * x[row[e]];
    }
  for (size_t j = 0; j < equations->p; j++)
    b[equations->order[j]] = x[j];
}

/*
 * Adds up, of column j, what entry e of it and those below say: with Z = C^-1 at `below`, whose rows are `row` from `at` on up to `last`,
 * what Z says of j's row e is returned, and of the rows f below goes to `into`.
 */
static double
scan (const int    *row,
      const double *l,
      const double *z,
      size_t        at,
      size_t        last,
      size_t        e,
      size_t        end,
      double       *into)
{
  double sum = 0.0;

  for (size_t f = e + 1; f < end; f++)
    {
      while (at < last && row[at] < row[f])
        at++;
      if (at == last)
        break;
      if (row[at] != row[f])
        continue;
      sum += l[f] * z[at];
      into[f] -= l[e] * z[at];
    }
  return sum;
}

/*
 * Takahashi, Fagan and Chin (1973), 8th PICA conference, 63, from the last column to the first: with Z = C^-1,
 *   Z_ij = - sum over k > j of L_kj Z_ik,   Z_jj = 1 / D_j - sum over k > j of L_kj Z_kj,
 * and every Z_ik that is asked for stands where L has an entry. Where column i has every row, or just those that j has
 * below it, no entry is looked for.
 */
void
wb_calc_pooled_solver_invert (const WbCalcPooledSolver *self,
                              double                   *inverse)
{
  const WbCalcPooledEquations *equations = self->equations;
  const size_t *start = equations->l_start;
  const int *row = equations->l_row;
  const double *l = self->l;
  double *diagonal = inverse + start[equations->p];

  for (size_t j = equations->p; j-- > 0;)
    {
      size_t begin = start[j], end = start[j + 1];

      memset (inverse + begin, 0, (end - begin) * sizeof *inverse);
      for (size_t e = begin; e < end; e++)
        {
          size_t i = (size_t) row[e];
          double sum = l[e] * diagonal[i];

          if (i >= equations->dense_from)
            for (size_t f = e + 1; f < end; f++)
              {
                double z = inverse[start[i] + (size_t) row[f] - i - 1];

                sum += l[f] * z;
                inverse[f] -= l[e] * z;
              }
          else if (start[i + 1] - start[i] == end - e - 1)
            for (size_t f = e + 1; f < end; f++)
              {
                double z = inverse[start[i] + f - e - 1];

                sum += l[f] * z;
                inverse[f] -= l[e] * z;
              }
          else
            sum += scan (row, l, inverse, start[i], start[i + 1], e, end, inverse);
          inverse[e] -= sum;
        }
      diagonal[j] = 1.0 / self->d[j];
      for (size_t e = begin; e < end; e++)
        diagonal[j] -= l[e] * inverse[e];
    }
}
