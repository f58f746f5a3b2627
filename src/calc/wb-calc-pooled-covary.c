/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled-private.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * Covariances of combinations of coefficients: with half = D^-1/2 L^-1 P row', their products. A row's half is 0 but where the
 * elimination tree leads from its own columns to the root, so that only those places are gone through, which all rows of one
 * question nearly share.
 */
typedef struct
{
  size_t *node;   /* places of the order that any row reaches, rising */
  int    *number; /* p: which of them it is; -1: none */
  size_t  n;
} Reach;

static void
reach_clear (Reach *reach)
{
  free (reach->node);
  free (reach->number);
}

static WbCalcStatus
reach_init (Reach                       *reach,
            const WbCalcPooledEquations *equations,
            const WbCalcPooledRows      *rows)
{
  *reach = (Reach) { malloc (equations->p * sizeof (size_t)), malloc (equations->p * sizeof (int)), 0 };
  if (reach->node == NULL || reach->number == NULL)
    return WB_CALC_NO_MEMORY;
  for (size_t j = 0; j < equations->p; j++)
    reach->number[j] = -1;
  for (size_t t = rows->start[0]; t < rows->start[rows->n]; t++)
    for (size_t j = (size_t) equations->place[rows->column[t]]; reach->number[j] < 0; j = (size_t) equations->l_row[equations->l_start[j]])
      {
        reach->number[j] = 0;
        /* a root: nothing rests on it */
        if (equations->l_start[j] == equations->l_start[j + 1])
          break;
      }
  for (size_t j = 0; j < equations->p; j++)
    if (reach->number[j] == 0)
      {
        reach->number[j] = (int) reach->n;
        reach->node[reach->n++] = j;
      }
  return WB_CALC_OK;
}

/* Row i's half, and the first place where it is not 0. */
static size_t
put_half (const Reach                 *reach,
          const WbCalcPooledEquations *equations,
          const double                *factor,
          const WbCalcPooledRows      *rows,
          size_t                       i,
          double                      *half)
{
  const double *d = factor + equations->l_start[equations->p];
  size_t first = reach->n;

  for (size_t t = rows->start[i]; t < rows->start[i + 1]; t++)
    {
      size_t at = (size_t) reach->number[equations->place[rows->column[t]]];

      half[at] += rows->value[t];
      first = at < first ? at : first;
    }
  for (size_t r = first; r < reach->n; r++)
    {
      size_t j = reach->node[r];
      double value = half[r];

      if (value == 0.0)
        continue;
      for (size_t e = equations->l_start[j]; e < equations->l_start[j + 1]; e++)
        half[reach->number[equations->l_row[e]]] -= factor[e] * value;
      half[r] = value / sqrt (d[j]);
    }
  return first;
}

/* Products of one half with four, from `from` on: none of the sums waits for another. */
static void
multiply_four (const double *restrict one,
               const double *restrict four,
               size_t                 stride,
               size_t                 from,
               size_t                 n,
               double                *sums)
{
  double a = 0.0, b = 0.0, c = 0.0, d = 0.0;

  for (size_t r = from; r < n; r++)
    {
      a += one[r] * four[r];
      b += one[r] * four[stride + r];
      c += one[r] * four[2 * stride + r];
      d += one[r] * four[3 * stride + r];
    }
  sums[0] = a;
  sums[1] = b;
  sums[2] = c;
  sums[3] = d;
}

WbCalcStatus
wb_calc_pooled_covary (const WbCalcPooledEquations *equations,
                       const double                *factor,
                       const WbCalcPooledRows      *rows,
                       double                      *covariance)
{
  size_t n = rows->n;
  Reach reach;
  WbCalcStatus status = reach_init (&reach, equations, rows);
  /* three rows of nothing, so that every row is one of four */
  double *half = status == WB_CALC_OK ? calloc ((n + 3) * reach.n + 1, sizeof *half) : NULL;

  if (half == NULL)
    {
      reach_clear (&reach);
      return WB_CALC_NO_MEMORY;
    }
  for (size_t i = 0; i < n; i++)
    {
      size_t first = put_half (&reach, equations, factor, rows, i, half + i * reach.n);

      for (size_t k = 0; k <= i; k += 4)
        {
          double sums[4];

          multiply_four (half + i * reach.n, half + k * reach.n, reach.n, first, reach.n, sums);
          for (size_t l = k; l < k + 4 && l <= i; l++)
            {
              covariance[i * n + l] = covariance[l * n + i] = sums[l - k];
              if (!isfinite (sums[l - k]))
                status = WB_CALC_BAD_INPUT;
            }
        }
    }
  free (half);
  reach_clear (&reach);
  return status;
}
