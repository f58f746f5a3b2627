/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-compare.h"

#include <math.h>
#include <stdlib.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sort.h>

#include "wb-calc-quantile.h"

/* Above this t and normal agree to 1e-9. */
#define DF_NORMAL 1e10

WbCalcStatus
wb_calc_compare_tukey_pair (double            difference,
                            double            inverse,
                            size_t            k,
                            double            mean_sq,
                            double            df,
                            double            quantile,
                            WbCalcComparison *pair)
{
  double error = sqrt (0.5 * mean_sq * inverse);

  if (!isfinite (difference) || !(inverse > 0.0) || isinf (inverse) || !(mean_sq >= 0.0) || isinf (mean_sq)
      || !(quantile >= 0.0))
    return WB_CALC_BAD_INPUT;
  pair->difference = difference;
  pair->low = difference - quantile * error;
  pair->high = difference + quantile * error;
  if (!isfinite (pair->low) || !isfinite (pair->high))
    return WB_CALC_BAD_INPUT;
  if (error > 0.0)
    return wb_calc_compare_studentized_range_tail (fabs (difference) / error, k, df, &pair->p);
  pair->p = difference == 0.0 ? 1.0 : 0.0;
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_compare_tukey (const double     *mean,
                       const size_t     *count,
                       size_t            k,
                       double            mean_sq,
                       double            df,
                       double            coverage,
                       WbCalcComparison *comparisons)
{
  double quantile;
  size_t at = 0;
  WbCalcStatus status;

  if (!(mean_sq >= 0.0) || isinf (mean_sq) || !(coverage > 0.0 && coverage < 1.0))
    return WB_CALC_BAD_INPUT;
  for (size_t i = 0; i < k; i++)
    if (!isfinite (mean[i]) || count[i] == 0)
      return WB_CALC_BAD_INPUT;
  if (k < 2)
    return WB_CALC_TOO_FEW;
  status = wb_calc_compare_studentized_range_quantile (coverage, k, df, &quantile);
  for (size_t j = 1; j < k; j++)
    for (size_t i = 0; i < j && status == WB_CALC_OK; i++)
      {
        comparisons[at] = (WbCalcComparison) { .first = i, .second = j };
        status = wb_calc_compare_tukey_pair (mean[j] - mean[i], 1.0 / (double) count[i] + 1.0 / (double) count[j],
                                             k, mean_sq, df, quantile, &comparisons[at++]);
      }
  return status;
}

WbCalcStatus
wb_calc_compare_equivalence (double             difference,
                             double             error,
                             double             df,
                             double             margin,
                             double             alpha,
                             WbCalcEquivalence *result)
{
  if (!isfinite (difference) || !(error >= 0.0) || isinf (error) || !(df >= 1.0) || !(margin > 0.0) || isinf (margin)
      || !(alpha > 0.0 && alpha < 0.5))
    return WB_CALC_BAD_INPUT;

  double room = margin - fabs (difference);
  double reach = error > 0.0 ? wb_calc_student_quantile (1.0 - alpha, df) * error : 0.0;
  double t = room / error;

  if (!isfinite (difference - reach) || !isfinite (difference + reach))
    return WB_CALC_BAD_INPUT;
  *result = (WbCalcEquivalence) { .low = difference - reach, .high = difference + reach };
  if (!isfinite (t))
    result->p = room > 0.0 ? 0.0 : 1.0;
  else
    result->p = df > DF_NORMAL ? wb_calc_normal_below (-t) : gsl_cdf_tdist_Q (t, df);
  result->equivalent = result->p <= alpha;
  return WB_CALC_OK;
}

/* Adds the mid-ranks of y to the groups' sums; returns the sum of t^3 - t over ties. */
static double
sum_ranks (const double *y,
           const size_t *order,
           const size_t *group,
           size_t        n,
           double       *sums)
{
  double ties = 0.0;

  for (size_t first = 0, end; first < n; first = end)
    {
      for (end = first + 1; end < n && y[order[end]] == y[order[first]];)
        end++;

      double tied = (double) (end - first);

      ties += tied * (tied * tied - 1.0);
      /* Ranks first + 1 .. end, their mean. */
      for (size_t i = first; i < end; i++)
        sums[group[order[i]]] += 0.5 * (double) (first + 1 + end);
    }
  return ties;
}

static WbCalcStatus
finish_kruskal_wallis (const double        *sums,
                       const size_t        *counts,
                       size_t               n,
                       size_t               n_groups,
                       double               ties,
                       WbCalcKruskalWallis *result)
{
  double size = (double) n;
  double h = 0.0;
  size_t filled = 0;

  for (size_t g = 0; g < n_groups; g++)
    if (counts[g] > 0)
      {
        /* About the mean rank: the textbook's form less its cancellation. */
        double excess = sums[g] / (double) counts[g] - 0.5 * (size + 1.0);

        h += (double) counts[g] * excess * excess;
        filled++;
      }
  if (filled < 2)
    return WB_CALC_TOO_FEW;

  double correction = 1.0 - ties / (size * (size * size - 1.0));

  if (!(correction > 0.0))
    return WB_CALC_FLAT;
  result->h = 12.0 * h / (size * (size + 1.0)) / correction;
  result->df = filled - 1;
  result->p = gsl_cdf_chisq_Q (result->h, (double) result->df);
  return WB_CALC_OK;
}

WbCalcStatus
wb_calc_compare_kruskal_wallis (const double        *y,
                                const size_t        *group,
                                size_t               n,
                                size_t               n_groups,
                                double              *rank_sum,
                                WbCalcKruskalWallis *result)
{
  WbCalcStatus status = WB_CALC_NO_MEMORY;

  for (size_t i = 0; i < n; i++)
    if (!isfinite (y[i]) || group[i] >= n_groups)
      return WB_CALC_BAD_INPUT;
  if (n < 2)
    return WB_CALC_TOO_FEW;

  size_t *order = malloc (n * sizeof *order);
  size_t *counts = calloc (n_groups, sizeof *counts);
  double *sums = calloc (n_groups, sizeof *sums);

  if (order != NULL && counts != NULL && sums != NULL)
    {
      gsl_sort_index (order, y, 1, n);
      for (size_t i = 0; i < n; i++)
        counts[group[i]]++;

      double ties = sum_ranks (y, order, group, n, sums);

      status = finish_kruskal_wallis (sums, counts, n, n_groups, ties, result);
      for (size_t g = 0; g < n_groups && rank_sum != NULL && status == WB_CALC_OK; g++)
        rank_sum[g] = sums[g];
    }
  free (order);
  free (counts);
  free (sums);
  return status;
}

WbCalcStatus
wb_calc_compare_holm (const double *p,
                      size_t        n,
                      double       *adjusted)
{
  double so_far = 0.0;

  for (size_t i = 0; i < n; i++)
    if (!(p[i] >= 0.0 && p[i] <= 1.0))
      return WB_CALC_BAD_INPUT;
  if (n == 0)
    return WB_CALC_OK;

  size_t *order = malloc (n * sizeof *order);

  if (order == NULL)
    return WB_CALC_NO_MEMORY;
  gsl_sort_index (order, p, 1, n);
  for (size_t i = 0; i < n; i++)
    {
      so_far = fmax (so_far, fmin ((double) (n - i) * p[order[i]], 1.0));
      adjusted[order[i]] = so_far;
    }
  free (order);
  return WB_CALC_OK;
}
