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
    .precision = calloc (equations->n_families + 1, sizeof (double)),
    .work = calloc (equations->p, sizeof (double)),
    .filled = malloc (equations->p * sizeof (size_t)),
  };
  if (self->l == NULL || self->precision == NULL || self->work == NULL || self->filled == NULL)
    return WB_CALC_NO_MEMORY;
  self->d = self->l + equations->l_start[equations->p];
  return WB_CALC_OK;
}

static void
let_go (WbCalcPooledSolver *self)
{
  free (self->held_start);
  free (self->held_column);
  free (self->held);
  free (self->held_diagonal);
  self->held_start = NULL;
  self->held_column = NULL;
  self->held = self->held_diagonal = NULL;
  self->held_from = 0;
}

void
wb_calc_pooled_solver_clear (WbCalcPooledSolver *self)
{
  let_go (self);
  free (self->l);
  free (self->precision);
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

/*
 * What column i of L, which is as long as `filled` says, does to the row that stands in `work`. Returns the value that the row has there.
 */
static double
eliminate (WbCalcPooledSolver *self,
           size_t              i)
{
  const WbCalcPooledEquations *equations = self->equations;
  const int *restrict row = equations->l_row;
  const double *restrict l = self->l;
  double *restrict work = self->work;
  size_t begin = equations->l_start[i], end = begin + self->filled[i];
  double value = work[i];

  work[i] = 0.0;
  for (size_t e = begin; e < end; e++)
    work[row[e]] -= l[e] * value;
  return value;
}

/* Four of them that are joined, from i on: their values go to `value`. */
static void
eliminate_four (WbCalcPooledSolver *self,
                size_t              i,
                double             *value)
{
  const size_t *start = self->equations->l_start;
  const int *restrict row = self->equations->l_row + start[i + 3];
  const double *restrict a = self->l + start[i] + 3, *restrict b = self->l + start[i + 1] + 2, *restrict c = self->l + start[i + 2] + 1;
  const double *restrict d = self->l + start[i + 3];
  double *restrict work = self->work;
  size_t n = self->filled[i + 3];
  double at = work[i], of_b = work[i + 1] - a[-3] * at, of_c = work[i + 2] - a[-2] * at - b[-2] * of_b;
  double of_d = work[i + 3] - a[-1] * at - b[-1] * of_b - c[-1] * of_c;

  work[i] = work[i + 1] = work[i + 2] = work[i + 3] = 0.0;
  for (size_t e = 0; e < n; e++)
    work[row[e]] -= (a[e] * at + b[e] * of_b) + (c[e] * of_c + d[e] * of_d);
  value[0] = at;
  value[1] = of_b;
  value[2] = of_c;
  value[3] = of_d;
}

static void
eliminate_two (WbCalcPooledSolver *self,
               size_t              i,
               double             *value)
{
  const size_t *start = self->equations->l_start;
  const int *restrict row = self->equations->l_row + start[i + 1];
  const double *restrict a = self->l + start[i] + 1, *restrict b = self->l + start[i + 1];
  double *restrict work = self->work;
  size_t n = self->filled[i + 1];
  double at = work[i], of_b = work[i + 1] - a[-1] * at;

  work[i] = work[i + 1] = 0.0;
  for (size_t e = 0; e < n; e++)
    work[row[e]] -= a[e] * at + b[e] * of_b;
  value[0] = at;
  value[1] = of_b;
}

/* How many of the columns that come next are taken together. */
static size_t
count_together (const WbCalcPooledEquations *equations,
                const int                   *column,
                size_t                       n)
{
  size_t together = 1;

  while (together < 4 && together < n && column[together] == column[0] + (int) together && equations->joined[column[together]])
    together++;
  return together == 3 ? 2 : together;
}

/* Row k of L and its pivot, by the columns before it (Davis, ACM TOMS 31 (2005) 587); its entries of A stand in `work`. */
static double
put_row (WbCalcPooledSolver *self,
         const int          *column,
         size_t              n,
         double              pivot)
{
  for (size_t at = 0; at < n;)
    {
      size_t i = (size_t) column[at], together = count_together (self->equations, column + at, n - at);
      double value[4];

      if (together == 4)
        eliminate_four (self, i, value);
      else if (together == 2)
        eliminate_two (self, i, value);
      else
        value[0] = eliminate (self, i);
      for (size_t t = 0; t < together; t++)
        {
          double entry = value[t] / self->d[i + t];

          pivot -= entry * value[t];
          self->l[self->equations->l_start[i + t] + self->filled[i + t]] = entry;
          self->filled[i + t]++;
        }
      at += together;
    }
  return pivot;
}

static double
precision_at (const WbCalcPooledSolver *self,
              size_t                    k)
{
  const WbCalcPooledCoefficient *coefficient = &self->equations->coefficients[self->equations->order[k]];

  return coefficient->family != WB_CALC_POOLED_NO_FAMILY ? self->precision[coefficient->family] : wb_calc_pooled_precision (coefficient, NULL);
}

/* A coefficient that shares no row with another. */
static bool
is_lone (const WbCalcPooledEquations *equations,
         size_t                       k)
{
  return equations->l_start[k] == equations->l_start[k + 1] && equations->l_by_row[k] == equations->l_by_row[k + 1];
}

/* Row k and its pivot; *diagonal: C's. */
static double
put_any_row (WbCalcPooledSolver *self,
             size_t              k,
             double             *diagonal)
{
  const WbCalcPooledEquations *equations = self->equations;
  double precision = precision_at (self, k);

  *diagonal = equations->diagonal[k] + precision;
  if (k < self->held_from)
    return is_lone (equations, k) ? *diagonal : self->d[k];
  if (self->held_from > 0)
    {
      const int *column = self->held_column + self->held_start[k];
      size_t n = self->held_start[k + 1] - self->held_start[k];

      for (size_t at = 0; at < n; at++)
        self->work[column[at]] = self->held[self->held_start[k] + at];
      return put_row (self, column, n, self->held_diagonal[k] + precision);
    }
  for (int e = equations->start[k]; e < equations->start[k + 1]; e++)
    self->work[equations->row[e]] = equations->value[e];
  return put_row (self, equations->l_column + equations->l_by_row[k], equations->l_by_row[k + 1] - equations->l_by_row[k], *diagonal);
}

WbCalcStatus
wb_calc_pooled_solver_factor (WbCalcPooledSolver *self,
                              const double       *log_spreads)
{
  const WbCalcPooledEquations *equations = self->equations;
  double tolerance = equations->n_flat > 0 ? PIVOT_TOLERANCE : 0.0;

  self->log_det = 0.0;
  for (size_t k = 0; k < equations->n_families; k++)
    self->precision[k] = exp (-2.0 * log_spreads[k]);
  memset (self->work, 0, equations->p * sizeof *self->work);
  memset (self->filled, 0, equations->p * sizeof *self->filled);
  for (size_t k = 0; k < equations->p; k++)
    {
      double diagonal, pivot = put_any_row (self, k, &diagonal);

      if (!isfinite (diagonal))
        return WB_CALC_BAD_INPUT;
      if (!(pivot > tolerance * diagonal) || isinf (pivot))
        return WB_CALC_UNIDENTIFIED;
      self->d[k] = pivot;
      self->log_det += log (pivot);
    }
  return WB_CALC_OK;
}

/* The first column that a moving family has, but for lone ones: those change nothing but their own pivot. */
static size_t
find_first (const WbCalcPooledEquations *equations,
            const bool                  *moving)
{
  for (size_t k = 0; k < equations->p; k++)
    {
      size_t family = equations->coefficients[equations->order[k]].family;

      if (family != WB_CALC_POOLED_NO_FAMILY && moving[family] && !is_lone (equations, k))
        return k;
    }
  return equations->p;
}

/* Row k less all that is held. */
static void
hold_row (WbCalcPooledSolver *self,
          size_t              k,
          size_t              from)
{
  const WbCalcPooledEquations *equations = self->equations;
  size_t next = self->held_start[k];
  double diagonal = equations->diagonal[k];

  for (int e = equations->start[k]; e < equations->start[k + 1]; e++)
    self->work[equations->row[e]] = equations->value[e];
  for (size_t at = equations->l_by_row[k]; at < equations->l_by_row[k + 1]; at++)
    {
      size_t i = (size_t) equations->l_column[at];

      if (i >= from)
        {
          self->held_column[next++] = (int) i;
          continue;
        }
      diagonal -= self->l[equations->l_start[i] + self->filled[i]] * eliminate (self, i);
      self->filled[i]++;
    }
  self->held_diagonal[k] = diagonal;
  self->held_start[k + 1] = next;
  for (size_t at = self->held_start[k]; at < next; at++)
    {
      self->held[at] = self->work[self->held_column[at]];
      self->work[self->held_column[at]] = 0.0;
    }
}

WbCalcStatus
wb_calc_pooled_solver_hold (WbCalcPooledSolver *self,
                            const bool         *moving)
{
  const WbCalcPooledEquations *equations = self->equations;
  size_t from = moving != NULL ? find_first (equations, moving) : 0;
  size_t n = equations->l_start[equations->p] - equations->l_start[from] + 1;

  let_go (self);
  if (from == 0)
    return WB_CALC_OK;
  self->held_start = calloc (equations->p + 1, sizeof *self->held_start);
  self->held_column = malloc (n * sizeof *self->held_column);
  self->held = malloc (n * sizeof *self->held);
  self->held_diagonal = calloc (equations->p, sizeof *self->held_diagonal);
  if (self->held_start == NULL || self->held_column == NULL || self->held == NULL || self->held_diagonal == NULL)
    return WB_CALC_NO_MEMORY;
  memset (self->work, 0, equations->p * sizeof *self->work);
  /* where row `from` begins in each column that is held */
  for (size_t i = 0; i < from; i++)
    {
      const int *row = equations->l_row + equations->l_start[i];
      size_t length = equations->l_start[i + 1] - equations->l_start[i];

      for (self->filled[i] = 0; self->filled[i] < length && (size_t) row[self->filled[i]] < from;)
        self->filled[i]++;
    }
  for (size_t k = from; k < equations->p; k++)
    hold_row (self, k, from);
  self->held_from = from;
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

/* The same where Z has just the rows that j has below: in four sums, none of which waits for another. */
static double
multiply (const double *restrict l,
          const double *restrict z,
          size_t                 n,
          double                 entry,
          double *restrict       into)
{
  double a = 0.0, b = 0.0, c = 0.0, d = 0.0;
  size_t f = 0;

  for (; f + 4 <= n; f += 4)
    {
      a += l[f] * z[f];
      b += l[f + 1] * z[f + 1];
      c += l[f + 2] * z[f + 2];
      d += l[f + 3] * z[f + 3];
      into[f] -= entry * z[f];
      into[f + 1] -= entry * z[f + 1];
      into[f + 2] -= entry * z[f + 2];
      into[f + 3] -= entry * z[f + 3];
    }
  for (; f < n; f++)
    {
      a += l[f] * z[f];
      into[f] -= entry * z[f];
    }
  return (a + b) + (c + d);
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

  for (size_t j = 0; j < self->held_from; j++)
    diagonal[j] = is_lone (equations, j) ? 1.0 / self->d[j] : 0.0;
  for (size_t j = equations->p; j-- > self->held_from;)
    {
      size_t begin = start[j], end = start[j + 1];

      memset (inverse + begin, 0, (end - begin) * sizeof *inverse);
      for (size_t e = begin; e < end; e++)
        {
          size_t i = (size_t) row[e];
          double sum = l[e] * diagonal[i];

          if (start[i + 1] - start[i] == end - e - 1)
            sum += multiply (l + e + 1, inverse + start[i], end - e - 1, l[e], inverse + e + 1);
          else if (i >= equations->dense_from)
            for (size_t f = e + 1; f < end; f++)
              {
                double z = inverse[start[i] + (size_t) row[f] - i - 1];

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
