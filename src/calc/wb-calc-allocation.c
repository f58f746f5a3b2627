/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-allocation.h"

#include <math.h>
#include <stdlib.h>

/* A dead heat counts as this share of the largest standard deviation. */
#define DEAD_HEAT 1e-6

/* What rounding may take off a whole number, and off the budget. */
#define ROUNDING 1e-9

/* 2^53: beyond it doubles leave whole numbers out. */
#define COUNT_MOST 9007199254740992.0

static WbCalcStatus
check (const WbCalcAllocationAlternative *alternatives,
       size_t                             n,
       const WbCalcAllocationQuestion    *question)
{
  size_t n_open = 0;

  if (!(question->budget >= 0.0) || isinf (question->budget) || !(question->indifference >= 0.0) || isinf (question->indifference))
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < n; i++)
    {
      const WbCalcAllocationAlternative *a = &alternatives[i];

      if (!isfinite (a->mean) || !(a->variance > 0.0) || !isnormal (a->variance))
        return WB_CALC_BAD_INPUT;
      if (!(a->had >= 0.0) || isinf (a->had) || !(a->cost > 0.0) || !isnormal (a->cost))
        return WB_CALC_BAD_INPUT;
      n_open += a->excluded ? 0 : 1;
    }
  return n_open < 2 ? WB_CALC_TOO_FEW : WB_CALC_OK;
}

static size_t
find_best (const WbCalcAllocationAlternative *alternatives,
           size_t                             n,
           bool                               larger)
{
  size_t best = n;

  for (size_t i = 0; i < n; i++)
    if (!alternatives[i].excluded
        && (best == n || (larger ? alternatives[i].mean > alternatives[best].mean : alternatives[i].mean < alternatives[best].mean)))
      best = i;
  return best;
}

/* How the numbers keep to each other, 0 of what is excluded: variances by the largest, distances by the least. */
static void
put_ratios (const WbCalcAllocationAlternative *alternatives,
            size_t                             n,
            const WbCalcAllocationQuestion    *question,
            double                            *ratio)
{
  size_t best = find_best (alternatives, n, question->larger);
  double largest = 0.0, least = INFINITY, sum = 0.0, floor_at;

  for (size_t i = 0; i < n; i++)
    if (!alternatives[i].excluded)
      largest = fmax (largest, sqrt (alternatives[i].variance));
  floor_at = fmax (question->indifference, DEAD_HEAT * largest);
  for (size_t i = 0; i < n; i++)
    if (!alternatives[i].excluded && i != best)
      least = fmin (least, fmax (fabs (alternatives[i].mean - alternatives[best].mean), floor_at));
  for (size_t i = 0; i < n; i++)
    {
      double spread = sqrt (alternatives[i].variance) / largest;
      double nearness = least / fmax (fabs (alternatives[i].mean - alternatives[best].mean), floor_at);

      ratio[i] = alternatives[i].excluded || i == best ? 0.0 : spread * spread * nearness * nearness;
      /* N_i^2 / v_i */
      if (ratio[i] > 0.0)
        sum += alternatives[i].cost / alternatives[best].cost * spread * spread * pow (nearness, 4.0);
    }
  ratio[best] = sqrt (alternatives[best].variance) / largest * sqrt (sum);
}

/* Observations for a ratio of 1, where all that have a ratio share the budget and what they have had. */
static double
find_scale (const WbCalcAllocationAlternative *alternatives,
            size_t                             n,
            double                             budget,
            const double                      *ratio)
{
  double total = budget, weight = 0.0;

  for (size_t i = 0; i < n; i++)
    if (ratio[i] > 0.0)
      {
        total += alternatives[i].cost * alternatives[i].had;
        weight += alternatives[i].cost * ratio[i];
      }
  return weight > 0.0 ? total / weight : 0.0;
}

/* Takes the ratio from whoever has more than its share already; says whether anybody had. */
static bool
leave_out (const WbCalcAllocationAlternative *alternatives,
           size_t                             n,
           double                             scale,
           double                            *ratio)
{
  bool any = false;

  for (size_t i = 0; i < n; i++)
    if (ratio[i] > 0.0 && scale * ratio[i] < alternatives[i].had)
      {
        ratio[i] = 0.0;
        any = true;
      }
  return any;
}

WbCalcStatus
wb_calc_allocation_share (const WbCalcAllocationAlternative *alternatives,
                          size_t                             n,
                          const WbCalcAllocationQuestion    *question,
                          double                            *further)
{
  WbCalcStatus status = check (alternatives, n, question);
  double *ratio = status == WB_CALC_OK ? calloc (n, sizeof *ratio) : NULL;
  double scale;

  if (status == WB_CALC_OK && ratio == NULL)
    status = WB_CALC_NO_MEMORY;
  if (status != WB_CALC_OK)
    return status;
  put_ratios (alternatives, n, question, ratio);
  scale = find_scale (alternatives, n, question->budget, ratio);
  if (!(scale > 0.0) && question->budget > 0.0)
    status = WB_CALC_BAD_INPUT;
  /* Those left out had the most: the others' shares become smaller, until nobody is above. */
  while (status == WB_CALC_OK && leave_out (alternatives, n, scale, ratio))
    scale = find_scale (alternatives, n, question->budget, ratio);
  for (size_t i = 0; i < n && status == WB_CALC_OK; i++)
    if (!isfinite (scale * ratio[i]))
      status = WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < n && status == WB_CALC_OK; i++)
    further[i] = ratio[i] > 0.0 ? scale * ratio[i] - alternatives[i].had : 0.0;
  free (ratio);
  return status;
}

/* The one that misses the most of its share and can still be paid for; n if there is none. */
static size_t
find_next (const WbCalcAllocationAlternative *alternatives,
           size_t                             n,
           const double                      *missing,
           double                             left)
{
  size_t next = n;

  for (size_t i = 0; i < n; i++)
    if (missing[i] > ROUNDING && alternatives[i].cost <= left * (1.0 + ROUNDING) && (next == n || missing[i] > missing[next]))
      next = i;
  return next;
}

WbCalcStatus
wb_calc_allocation_count (const WbCalcAllocationAlternative *alternatives,
                          size_t                             n,
                          const WbCalcAllocationQuestion    *question,
                          size_t                            *further)
{
  double *missing = calloc (n + 1, sizeof *missing);
  double left = question->budget;
  WbCalcStatus status = missing == NULL ? WB_CALC_NO_MEMORY : wb_calc_allocation_share (alternatives, n, question, missing);

  for (size_t i = 0; i < n && status == WB_CALC_OK; i++)
    if (missing[i] > COUNT_MOST)
      status = WB_CALC_BAD_INPUT;
  if (status != WB_CALC_OK)
    {
      free (missing);
      return status;
    }
  for (size_t i = 0; i < n; i++)
    {
      double whole = floor (missing[i] + ROUNDING);

      further[i] = (size_t) whole;
      missing[i] -= whole;
      left -= whole * alternatives[i].cost;
    }
  for (size_t i = find_next (alternatives, n, missing, left); i < n; i = find_next (alternatives, n, missing, left))
    {
      further[i]++;
      missing[i] = 0.0;
      left -= alternatives[i].cost;
    }
  free (missing);
  return status;
}
