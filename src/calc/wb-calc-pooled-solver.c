/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* With flat coefficients: a pivot below this share of its diagonal is what rounding leaves of nothing. */
#define PIVOT_TOLERANCE 1e-13

/* One method of elimination and no blocks: no BLAS takes part, so that the same input gives the same bits on any machine's. */
void
wb_calc_pooled_common_start (cholmod_common *common)
{
  cholmod_start (common);
  common->print = 0;
  common->try_catch = 1;
  common->supernodal = CHOLMOD_SIMPLICIAL;
  common->final_ll = 0;
  common->nmethods = 1;
  common->method[0].ordering = CHOLMOD_AMD;
  common->postorder = 1;
}

WbCalcStatus
wb_calc_pooled_solver_init (WbCalcPooledSolver          *self,
                            const WbCalcPooledEquations *equations)
{
  *self = (WbCalcPooledSolver) {
    .equations = equations,
    .value = malloc ((size_t) equations->start[equations->p] * sizeof (double)),
  };
  wb_calc_pooled_common_start (&self->common);
  self->factor = cholmod_copy_factor (equations->symbolic, &self->common);
  return self->value == NULL || self->factor == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;
}

void
wb_calc_pooled_solver_clear (WbCalcPooledSolver *self)
{
  /* A solver that was never begun has no notes of CHOLMOD's. */
  if (self->equations == NULL)
    return;
  cholmod_free_factor (&self->factor, &self->common);
  cholmod_finish (&self->common);
  free (self->value);
}

double
wb_calc_pooled_precision (const WbCalcPooledCoefficient *coefficient,
                          const double                  *log_spreads)
{
  if (coefficient->family != WB_CALC_POOLED_NO_FAMILY)
    return exp (-2.0 * log_spreads[coefficient->family]);
  return isinf (coefficient->sd) ? 0.0 : 1.0 / coefficient->sd / coefficient->sd;
}

/* The pivots D, and the logarithm of their product. */
static WbCalcStatus
judge_pivots (WbCalcPooledSolver *self)
{
  const WbCalcPooledEquations *equations = self->equations;
  const cholmod_factor *factor = self->factor;
  const int *start = factor->p, *order = factor->Perm;
  const double *value = factor->x;
  double tolerance = equations->n_flat > 0 ? PIVOT_TOLERANCE : 0.0;

  self->log_det = 0.0;
  for (size_t j = 0; j < equations->p; j++)
    {
      double pivot = value[start[j]];

      if (!(pivot > tolerance * self->value[equations->start[order[j]]]) || isinf (pivot))
        return WB_CALC_UNIDENTIFIED;
      self->log_det += log (pivot);
    }
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_pooled_solver_factor (WbCalcPooledSolver *self,
                              const double       *log_spreads)
{
  const WbCalcPooledEquations *equations = self->equations;
  cholmod_sparse c = wb_calc_pooled_equations_look (equations, self->value);

  memcpy (self->value, equations->value, c.nzmax * sizeof (double));
  for (size_t j = 0; j < equations->p; j++)
    {
      self->value[equations->start[j]] += wb_calc_pooled_precision (&equations->coefficients[j], log_spreads);
      for (int e = equations->start[j]; e < equations->start[j + 1]; e++)
        if (!isfinite (self->value[e]))
          return WB_CALC_BAD_INPUT;
    }
  if (!cholmod_factorize (&c, self->factor, &self->common))
    return self->common.status == CHOLMOD_OUT_OF_MEMORY ? WB_CALC_NO_MEMORY : WB_CALC_UNIDENTIFIED;
  if (self->factor->minor < equations->p || self->factor->is_ll || self->factor->xtype != CHOLMOD_REAL)
    return WB_CALC_UNIDENTIFIED;
  return judge_pivots (self);
}

WbCalcStatus
wb_calc_pooled_solver_solve (WbCalcPooledSolver *self,
                             int                 system,
                             double             *b,
                             size_t              n)
{
  size_t p = self->equations->p;
  cholmod_dense right = {
    .nrow = p, .ncol = n, .nzmax = n * p, .d = p, .x = b, .xtype = CHOLMOD_REAL, .dtype = CHOLMOD_DOUBLE
  };
  cholmod_dense *solution = cholmod_solve (system, self->factor, &right, &self->common);

  if (solution == NULL)
    return WB_CALC_NO_MEMORY;
  memcpy (b, solution->x, n * p * sizeof *b);
  cholmod_free_dense (&solution, &self->common);
  return WB_CALC_OK;
}

/*
 * Takahashi, Fagan and Chin (1973), 8th PICA conference, 63, from the last column to the first: with Z = C^-1,
 *   Z_ij = - sum over k > j of L_kj Z_ik,   Z_jj = 1 / D_j - sum over k > j of L_kj Z_kj,
 * and every Z_ik that is asked for stands where L has an entry. Rows are in order within each column.
 */
void
wb_calc_pooled_solver_invert (const WbCalcPooledSolver *self,
                              double                   *inverse)
{
  const cholmod_factor *factor = self->factor;
  const int *start = factor->p, *row = factor->i, *length = factor->nz;
  const double *l = factor->x;

  for (size_t j = self->equations->p; j-- > 0;)
    {
      int begin = start[j] + 1, end = start[j] + length[j];

      for (int e = begin; e < end; e++)
        inverse[e] = 0.0;
      for (int e = begin; e < end; e++)
        {
          int at = start[row[e]], last = at + length[row[e]];
          double sum = l[e] * inverse[at];

          for (int f = e + 1; f < end; f++)
            {
              while (at < last && row[at] < row[f])
                at++;
              if (at == last)
                break;
              if (row[at] != row[f])
                continue;
              sum += l[f] * inverse[at];
              inverse[f] -= l[e] * inverse[at];
            }
          inverse[e] -= sum;
        }
      inverse[start[j]] = 1.0 / l[start[j]];
      for (int e = begin; e < end; e++)
        inverse[start[j]] -= l[e] * inverse[e];
    }
}
