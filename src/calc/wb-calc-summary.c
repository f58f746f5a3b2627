/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-summary.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <gsl/gsl_sort.h>

WbCalcStatus
wb_calc_summary_of (const double  *x,
                    size_t         n,
                    WbCalcSummary *summary)
{
  double min = INFINITY;
  double max = -INFINITY;
  double sum = 0.0;

  if (n == 0)
    return WB_CALC_TOO_FEW;
  for (size_t i = 0; i < n; i++)
    {
      if (!isfinite (x[i]))
        return WB_CALC_BAD_INPUT;
      min = fmin (min, x[i]);
      max = fmax (max, x[i]);
      /* The first datum is taken off so that a large common offset costs no digits. */
      sum += (x[i] - x[0]) / (double) n;
    }

  double mean = x[0] + sum;
  double correction = 0.0;

  for (size_t i = 0; i < n; i++)
    correction += (x[i] - mean) / (double) n;

  double squares = 0.0;
  double products = 0.0;

  for (size_t i = 0; i < n; i++)
    {
      double deviation = x[i] - mean - correction;

      squares += deviation * deviation;
      if (i + 1 < n)
        products += deviation * (x[i + 1] - mean - correction);
    }

  if (!isfinite (squares))
    return WB_CALC_BAD_INPUT;
  *summary = (WbCalcSummary) {
    .n = n,
    .mean = fmin (fmax (mean + correction, min), max),
    .sd = n > 1 ? sqrt (squares / (double) (n - 1)) : NAN,
    .autocorr = min < max && squares > 0.0 ? products / squares : NAN,
    .min = min,
    .max = max,
  };
  return WB_CALC_OK;
}

void
wb_calc_summary_sort (double *x,
                      size_t  n)
{
  gsl_sort (x, 1, n);
}

double
wb_calc_summary_sorted_quantile (const double *sorted,
                                 size_t        n,
                                 double        p)
{
  double place = (double) (n - 1) * p;
  size_t below = (size_t) floor (place);
  double share = place - (double) below;

  if (below + 1 >= n)
    return sorted[n - 1];
  if (share == 0.0 || sorted[below] == sorted[below + 1])
    return sorted[below];
  if (isinf (sorted[below + 1]))
    return sorted[below + 1];
  if (isinf (sorted[below]))
    return sorted[below];
  return (1.0 - share) * sorted[below] + share * sorted[below + 1];
}

WbCalcStatus
wb_calc_summary_quantiles (const double *x,
                           size_t        n,
                           const double *p,
                           size_t        n_p,
                           double       *quantiles)
{
  if (n == 0)
    return WB_CALC_TOO_FEW;
  for (size_t i = 0; i < n; i++)
    if (isnan (x[i]))
      return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < n_p; i++)
    if (!(p[i] >= 0.0 && p[i] <= 1.0))
      return WB_CALC_BAD_INPUT;

  double *sorted = malloc (n * sizeof *sorted);

  if (sorted == NULL)
    return WB_CALC_NO_MEMORY;
  memcpy (sorted, x, n * sizeof *sorted);
  wb_calc_summary_sort (sorted, n);
  for (size_t i = 0; i < n_p; i++)
    quantiles[i] = wb_calc_summary_sorted_quantile (sorted, n, p[i]);
  free (sorted);
  return WB_CALC_OK;
}
