/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* The rows' terms by columns: where each column's begin, of which row they are, and their value. */
typedef struct
{
  size_t *start;
  size_t *row;
  double *value;
} Columns;

static void
columns_clear (Columns *columns)
{
  free (columns->start);
  free (columns->row);
  free (columns->value);
}

static WbCalcStatus
columns_init (Columns                *columns,
              const WbCalcPooledRows *rows,
              size_t                  p)
{
  size_t n_terms = rows->n == 0 ? 0 : rows->start[rows->n] - rows->start[0];

  *columns = (Columns) {
    .start = calloc (p + 2, sizeof *columns->start),
    .row = calloc (n_terms + 1, sizeof *columns->row),
    .value = calloc (n_terms + 1, sizeof *columns->value),
  };
  if (columns->start == NULL || columns->row == NULL || columns->value == NULL)
    {
      columns_clear (columns);
      return WB_CALC_NO_MEMORY;
    }
  /* Counted two places on, so that filling moves each column's end to where the next one begins. */
  for (size_t i = 0; i < rows->n; i++)
    for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
      columns->start[rows->column[t] + 2]++;
  for (size_t j = 0; j <= p; j++)
    columns->start[j + 1] += columns->start[j];
  for (size_t i = 0; i < rows->n; i++)
    for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
      {
        size_t at = columns->start[rows->column[t] + 1]++;

        columns->row[at] = i;
        columns->value[at] = rows->value[t];
      }
  return WB_CALC_OK;
}

/* Room for one column more. */
static WbCalcStatus
grow (WbCalcPooledEquations *self,
      size_t                *room,
      size_t                 needed)
{
  size_t wanted = needed + needed / 2 + 64;
  int *row;
  double *value;

  if (needed <= *room)
    return WB_CALC_OK;
  if (needed > INT_MAX / 2)
    return WB_CALC_NO_MEMORY;
  row = realloc (self->row, wanted * sizeof *row);
  if (row == NULL)
    return WB_CALC_NO_MEMORY;
  self->row = row;
  value = realloc (self->value, wanted * sizeof *value);
  if (value == NULL)
    return WB_CALC_NO_MEMORY;
  self->value = value;
  *room = wanted;
  return WB_CALC_OK;
}

/* Column j of A's lower triangle from `at` on; `place` says where in it a row stands, SIZE_MAX in no column yet. Returns its end. */
static size_t
put_column (WbCalcPooledEquations  *self,
            const Columns          *columns,
            const WbCalcPooledRows *rows,
            const double           *noise,
            size_t                  j,
            size_t                  at,
            size_t                 *place)
{
  size_t begin = at;

  self->row[at] = (int) j;
  self->value[at] = 0.0;
  place[j] = at++;
  for (size_t c = columns->start[j]; c < columns->start[j + 1]; c++)
    {
      size_t i = columns->row[c];

      for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
        {
          size_t k = rows->column[t];

          if (k < j)
            continue;
          if (place[k] == SIZE_MAX)
            {
              self->row[at] = (int) k;
              self->value[at] = 0.0;
              place[k] = at++;
            }
          self->value[place[k]] += columns->value[c] * rows->value[t] / noise[i];
        }
    }
  for (size_t e = begin; e < at; e++)
    place[self->row[e]] = SIZE_MAX;
  return at;
}

static WbCalcStatus
put_products (WbCalcPooledEquations  *self,
              const WbCalcPooledRows *rows,
              const double           *noise)
{
  size_t *place = malloc (self->p * sizeof *place);
  size_t room = 0, at = 0;
  Columns columns;
  WbCalcStatus status = place == NULL ? WB_CALC_NO_MEMORY : columns_init (&columns, rows, self->p);

  if (status != WB_CALC_OK)
    {
      free (place);
      return status;
    }
  for (size_t j = 0; j < self->p; j++)
    place[j] = SIZE_MAX;
  for (size_t j = 0; j < self->p && status == WB_CALC_OK; j++)
    {
      size_t most = 1;

      for (size_t c = columns.start[j]; c < columns.start[j + 1]; c++)
        most += rows->start[columns.row[c] + 1] - rows->start[columns.row[c]];
      if (most > self->p - j)
        most = self->p - j;
      status = grow (self, &room, at + most);
      if (status != WB_CALC_OK)
        break;
      at = put_column (self, &columns, rows, noise, j, at, place);
      self->start[j + 1] = (int) at;
    }
  columns_clear (&columns);
  free (place);
  return status;
}

static void
put_right (WbCalcPooledEquations  *self,
           const WbCalcPooledRows *rows,
           const double           *y,
           const double           *noise)
{
  for (size_t i = 0; i < rows->n; i++)
    {
      double rest = y[i];

      for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
        rest -= rows->value[t] * self->coefficients[rows->column[t]].mean;
      for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
        self->right[rows->column[t]] += rows->value[t] * rest / noise[i];
    }
}

WbCalcStatus
wb_calc_pooled_equations_init (WbCalcPooledEquations         *self,
                               const WbCalcPooledRows        *rows,
                               const double                  *y,
                               const double                  *noise,
                               const WbCalcPooledCoefficient *coefficients,
                               size_t                         p,
                               const WbCalcPooledFamily      *families,
                               size_t                         n_families)
{
  WbCalcStatus status;

  *self = (WbCalcPooledEquations) {
    .p = p,
    .n_families = n_families,
    .coefficients = malloc (p * sizeof *coefficients),
    .families = malloc ((n_families + 1) * sizeof *families),
    .family_size = calloc (n_families + 1, sizeof (size_t)),
    .right = calloc (p, sizeof (double)),
    .start = calloc (p + 1, sizeof (int)),
  };
  if (self->coefficients == NULL || self->families == NULL || self->family_size == NULL || self->right == NULL
      || self->start == NULL)
    return WB_CALC_NO_MEMORY;
  memcpy (self->coefficients, coefficients, p * sizeof *coefficients);
  if (n_families > 0)
    memcpy (self->families, families, n_families * sizeof *families);
  for (size_t j = 0; j < p; j++)
    if (coefficients[j].family != WB_CALC_POOLED_NO_FAMILY)
      self->family_size[coefficients[j].family]++;
    else if (isinf (coefficients[j].sd))
      self->n_flat++;
  status = put_products (self, rows, noise);
  if (status != WB_CALC_OK)
    return status;
  put_right (self, rows, y, noise);
  return wb_calc_pooled_equations_analyze (self);
}

void
wb_calc_pooled_equations_clear (WbCalcPooledEquations *self)
{
  free (self->coefficients);
  free (self->families);
  free (self->family_size);
  free (self->right);
  free (self->start);
  free (self->row);
  free (self->value);
  free (self->diagonal);
  free (self->order);
  free (self->place);
  free (self->l_start);
  free (self->l_row);
  free (self->l_by_row);
  free (self->l_column);
  free (self->joined);
}
