/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/* Comparisons of several groups, with their error held over all of them together. */

/*
 * Distribution of the studentized range: P (Q <= q) for the range of k normal
 * means over an independent standard deviation with df degrees of freedom
 * (INFINITY: known). k >= 2, df >= 1; q <= 0 gives 0. Absolute error below 1e-10.
 * Outside the domain: WB_CALC_BAD_INPUT.
 * Formula: Copenhaver and Holland, J. Stat. Comput. Simul. 30 (1988) 1-15, here by
 * a quadrature of its own.
 */
WbCalcStatus wb_calc_compare_studentized_range (double  q,
                                                size_t  k,
                                                double  df,
                                                double *p);

/* 1 - P (Q <= q), without loss of digits in the tail down to about 1e-13. */
WbCalcStatus wb_calc_compare_studentized_range_tail (double  q,
                                                     size_t  k,
                                                     double  df,
                                                     double *tail);

/* The q with P (Q <= q) = p, 0 < p < 1. */
WbCalcStatus wb_calc_compare_studentized_range_quantile (double  p,
                                                         size_t  k,
                                                         double  df,
                                                         double *q);

typedef struct
{
  size_t first;      /* group indexes, first < second */
  size_t second;
  double difference; /* mean of second minus mean of first */
  double low;        /* simultaneous interval */
  double high;
  double p;          /* adjusted */
} WbCalcComparison;

/*
 * Tukey and Kramer: all pairs of `k` group means with `count`s (>= 1 each), a
 * pooled variance `mean_sq` with `df`, at `coverage` (0.95) for all intervals
 * together. q = |difference| / sqrt (mean_sq / 2 (1 / n_i + 1 / n_j)). Exact for
 * equal counts, conservative for others (Hayter, Ann. Statist. 12 (1984) 61-75).
 * `comparisons` has room for k (k - 1) / 2, ordered (0,1), (0,2), (1,2), (0,3) ...
 * mean_sq = 0 gives p 0 for means that differ, 1 for equal ones.
 */
WbCalcStatus wb_calc_compare_tukey (const double     *mean,
                                    const size_t     *count,
                                    size_t            k,
                                    double            mean_sq,
                                    double            df,
                                    double            coverage,
                                    WbCalcComparison *comparisons);

/*
 * One pair of k groups by the same method, where its difference is not one of plain
 * means: `inverse` times mean_sq is its variance, 1 / n_i + 1 / n_j for plain means.
 * `quantile` is that of the studentized range for k and df at the coverage wanted.
 * Fills difference, low, high and p of `pair`; WB_CALC_BAD_INPUT outside the domain.
 */
WbCalcStatus wb_calc_compare_tukey_pair (double            difference,
                                         double            inverse,
                                         size_t            k,
                                         double            mean_sq,
                                         double            df,
                                         double            quantile,
                                         WbCalcComparison *pair);

typedef struct
{
  double low;        /* interval of 1 - 2 alpha, within which the difference has to lie */
  double high;
  double p;          /* the larger of the two one-sided tests' */
  bool   equivalent; /* p <= alpha, which is the same as the interval inside -margin .. margin */
} WbCalcEquivalence;

/*
 * Two one-sided tests (Schuirmann, J. Pharmacokin. Biopharm. 15 (1987) 657-680): is a
 * difference, estimated with standard error `error` on `df` >= 1 degrees of freedom (INFINITY:
 * known), certainly smaller than `margin` (> 0, same unit) either way?
 *
 *   p = P (T > (margin - |difference|) / error)
 *
 * error = 0 gives p 0 or 1. WB_CALC_BAD_INPUT: not finite, error below 0, df below 1,
 * margin not above 0, alpha not between 0 and 0.5.
 */
WbCalcStatus wb_calc_compare_equivalence (double             difference,
                                          double             error,
                                          double             df,
                                          double             margin,
                                          double             alpha,
                                          WbCalcEquivalence *result);

typedef struct
{
  double  h;        /* corrected for ties */
  size_t  df;       /* groups that hold something, less 1 */
  double  p;        /* upper tail of chi-square: an approximation, rough below 5 a group */
} WbCalcKruskalWallis;

/*
 * Kruskal and Wallis (J. Amer. Statist. Assoc. 47 (1952) 583-621), mid-ranks for
 * ties. `rank_sum`, if not NULL, has room for n_groups. WB_CALC_TOO_FEW with
 * fewer than two filled groups; WB_CALC_FLAT when all values are equal.
 */
WbCalcStatus wb_calc_compare_kruskal_wallis (const double        *y,
                                             const size_t        *group,
                                             size_t               n,
                                             size_t               n_groups,
                                             double              *rank_sum,
                                             WbCalcKruskalWallis *result);

/*
 * Holm (Scand. J. Statist. 6 (1979) 65-70): adjusted p of n tests, in the order
 * given; `adjusted` may be `p` itself. p outside 0..1: WB_CALC_BAD_INPUT.
 */
WbCalcStatus wb_calc_compare_holm (const double *p,
                                   size_t        n,
                                   double       *adjusted);
