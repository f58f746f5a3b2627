/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <suitesparse/cholmod.h>

#define FEW 64
#define SMALL 64

/* The order of elimination, and which entries the factor has: looked for once a model, whatever the spreads. */

/* By CHOLMOD's approximate minimum degree. */
static WbCalcStatus
find_order (WbCalcPooledEquations *self)
{
  cholmod_sparse a = {
    .nrow = self->p, .ncol = self->p, .nzmax = (size_t) self->start[self->p], .p = self->start, .i = self->row, .x = self->value,
    .stype = -1, .itype = CHOLMOD_INT, .xtype = CHOLMOD_REAL, .dtype = CHOLMOD_DOUBLE, .sorted = 0, .packed = 1,
  };
  cholmod_common common;
  cholmod_factor *symbolic;
  bool fine;

  cholmod_start (&common);
  common.print = 0;
  common.try_catch = 1;
  common.supernodal = CHOLMOD_SIMPLICIAL;
  common.nmethods = 1;
  common.method[0].ordering = CHOLMOD_AMD;
  common.postorder = 1;
  symbolic = cholmod_analyze (&a, &common);
  fine = symbolic != NULL && common.status >= CHOLMOD_OK;
  if (fine)
    memcpy (self->order, symbolic->Perm, self->p * sizeof *self->order);
  cholmod_free_factor (&symbolic, &common);
  cholmod_finish (&common);
  return fine ? WB_CALC_OK : WB_CALC_NO_MEMORY;
}

/*
 * Coefficients with a stated prior that meet few others, and not each other, go first: whatever the spreads, they are eliminated once
 * (wb_calc_pooled_solver_hold). Families of few members go last: theirs are the spreads that stay uncertain however much there is.
 */
static WbCalcStatus
arrange (WbCalcPooledEquations *self)
{
  int *degree = calloc (self->p, sizeof *degree);
  int *rest = malloc (self->p * sizeof *rest);
  size_t first = 0, n_rest = 0;

  if (degree == NULL || rest == NULL)
    {
      free (degree);
      free (rest);
      return WB_CALC_NO_MEMORY;
    }
  for (size_t j = 0; j < self->p; j++)
    for (int e = self->start[j] + 1; e < self->start[j + 1]; e++)
      {
        degree[j]++;
        degree[self->row[e]]++;
      }
  for (size_t j = 0; j < self->p; j++)
    {
      const WbCalcPooledCoefficient *coefficient = &self->coefficients[j];

      if (degree[j] > FEW || coefficient->family != WB_CALC_POOLED_NO_FAMILY || isinf (coefficient->sd))
        {
          degree[j] = FEW + 1;
          continue;
        }
      for (int e = self->start[j] + 1; e < self->start[j + 1]; e++)
        degree[self->row[e]] = FEW + 1;
    }
  for (size_t k = 0; k < self->p; k++)
    if (degree[self->order[k]] <= FEW)
      self->order[first++] = self->order[k];
    else
      rest[n_rest++] = self->order[k];
  for (int small = 0; small < 2; small++)
    for (size_t k = 0; k < n_rest; k++)
      {
        size_t family = self->coefficients[rest[k]].family;

        if ((family == WB_CALC_POOLED_NO_FAMILY || self->family_size[family] <= SMALL) == small)
          self->order[first++] = rest[k];
      }
  free (degree);
  free (rest);
  return WB_CALC_OK;
}

/* A goes over into the order: each entry of the lower triangle into the column of whichever of the two comes later. */
static WbCalcStatus
reorder (WbCalcPooledEquations *self)
{
  int n_entries = self->start[self->p];
  int *start = calloc (self->p + 2, sizeof *start);
  int *row = malloc (((size_t) n_entries + 1) * sizeof *row);
  double *value = malloc (((size_t) n_entries + 1) * sizeof *value);

  if (start == NULL || row == NULL || value == NULL)
    {
      free (start);
      free (row);
      free (value);
      return WB_CALC_NO_MEMORY;
    }
  for (size_t j = 0; j < self->p; j++)
    self->place[self->order[j]] = (int) j;
  /* counted two places on, so that filling moves each column's end to where the next one begins */
  for (size_t j = 0; j < self->p; j++)
    for (int e = self->start[j] + 1; e < self->start[j + 1]; e++)
      {
        int one = self->place[j], other = self->place[self->row[e]];

        start[(one > other ? one : other) + 2]++;
      }
  for (size_t j = 0; j <= self->p; j++)
    start[j + 1] += start[j];
  for (size_t j = 0; j < self->p; j++)
    {
      self->diagonal[self->place[j]] = self->value[self->start[j]];
      for (int e = self->start[j] + 1; e < self->start[j + 1]; e++)
        {
          int one = self->place[j], other = self->place[self->row[e]];
          int at = start[(one > other ? one : other) + 1]++;

          row[at] = one > other ? other : one;
          value[at] = self->value[e];
        }
    }
  free (self->start);
  free (self->row);
  free (self->value);
  self->start = start;
  self->row = row;
  self->value = value;
  return WB_CALC_OK;
}

/*
 * The columns of row k of L: what is reached from A's column k by the elimination tree (Davis, ACM TOMS 31 (2005) 587). They go to `stack` from the
 * returned place on, each behind all that it rests on. `flag` is k where it was reached.
 */
static size_t
reach (const WbCalcPooledEquations *self,
       size_t                       k,
       int                         *parent,
       int                         *flag,
       int                         *stack)
{
  size_t top = self->p;

  parent[k] = -1;
  flag[k] = (int) k;
  for (int e = self->start[k]; e < self->start[k + 1]; e++)
    {
      size_t length = 0;

      for (int i = self->row[e]; flag[i] != (int) k; i = parent[i])
        {
          if (parent[i] == -1)
            parent[i] = (int) k;
          stack[length++] = i;
          flag[i] = (int) k;
        }
      while (length > 0)
        stack[--top] = stack[--length];
    }
  return top;
}

/* Counts L's entries, or, with room for them, puts them down. */
static void
put_pattern (WbCalcPooledEquations *self,
             int                   *parent,
             int                   *flag,
             int                   *stack,
             size_t                *filled)
{
  bool put = self->l_row != NULL;

  for (size_t k = 0; k < self->p; k++)
    flag[k] = -1;
  memset (filled, 0, self->p * sizeof *filled);
  for (size_t k = 0; k < self->p; k++)
    {
      size_t top = reach (self, k, parent, flag, stack);

      self->l_by_row[k + 1] = self->l_by_row[k] + self->p - top;
      for (size_t at = top; at < self->p; at++)
        {
          int column = stack[at];

          if (put)
            {
              self->l_column[self->l_by_row[k] + at - top] = column;
              self->l_row[self->l_start[column] + filled[column]] = (int) k;
            }
          filled[column]++;
        }
    }
  for (size_t j = 0; j < self->p; j++)
    self->l_start[j + 1] = self->l_start[j] + filled[j];
}

/* Columns one behind the other that have the same rows are gone through together: the most of them are such. */
static void
find_joined (WbCalcPooledEquations *self)
{
  for (size_t j = 1; j < self->p; j++)
    {
      size_t begin = self->l_start[j - 1], end = self->l_start[j];

      self->joined[j] = end - begin == self->l_start[j + 1] - end + 1 && self->l_row[begin] == (int) j;
    }
}

WbCalcStatus
wb_calc_pooled_equations_find_pattern (WbCalcPooledEquations *self)
{
  int *notes = malloc (3 * self->p * sizeof *notes);
  size_t *filled = malloc (self->p * sizeof *filled);
  WbCalcStatus status = notes == NULL || filled == NULL ? WB_CALC_NO_MEMORY : WB_CALC_OK;

  self->l_start = calloc (self->p + 1, sizeof *self->l_start);
  self->l_by_row = calloc (self->p + 1, sizeof *self->l_by_row);
  self->joined = calloc (self->p, sizeof *self->joined);
  if (self->l_start == NULL || self->l_by_row == NULL || self->joined == NULL)
    status = WB_CALC_NO_MEMORY;
  if (status == WB_CALC_OK)
    {
      put_pattern (self, notes, notes + self->p, notes + 2 * self->p, filled);
      self->l_row = malloc ((self->l_start[self->p] + 1) * sizeof *self->l_row);
      self->l_column = malloc ((self->l_start[self->p] + 1) * sizeof *self->l_column);
      if (self->l_row == NULL || self->l_column == NULL)
        status = WB_CALC_NO_MEMORY;
      else
        put_pattern (self, notes, notes + self->p, notes + 2 * self->p, filled);
    }
  for (self->dense_from = self->p; self->dense_from > 0; self->dense_from--)
    if (status != WB_CALC_OK || self->l_start[self->dense_from] - self->l_start[self->dense_from - 1] < self->p - self->dense_from)
      break;
  if (status == WB_CALC_OK)
    find_joined (self);
  free (notes);
  free (filled);
  return status;
}

WbCalcStatus
wb_calc_pooled_equations_analyze (WbCalcPooledEquations *self)
{
  WbCalcStatus status;

  self->diagonal = malloc (self->p * sizeof *self->diagonal);
  self->order = malloc (self->p * sizeof *self->order);
  self->place = malloc (self->p * sizeof *self->place);
  if (self->diagonal == NULL || self->order == NULL || self->place == NULL)
    return WB_CALC_NO_MEMORY;
  for (int e = 0; e < self->start[self->p]; e++)
    if (!isfinite (self->value[e]))
      return WB_CALC_BAD_INPUT;
  status = find_order (self);
  if (status == WB_CALC_OK)
    status = arrange (self);
  if (status == WB_CALC_OK)
    status = reorder (self);
  return status == WB_CALC_OK ? wb_calc_pooled_equations_find_pattern (self) : status;
}

size_t
wb_calc_pooled_equations_get_factor_size (const WbCalcPooledEquations *self)
{
  return self->l_start[self->p] + self->p;
}
