/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/* Figures of one sample of numbers. */
typedef struct
{
  size_t n;
  double mean;
  double sd;       /* divisor n - 1; NaN when n is 1 */
  double autocorr; /* lag 1, sum (x_i - m)(x_i+1 - m) / sum (x_i - m)^2; NaN when all values are equal or n is 1 */
  double min;
  double max;
} WbCalcSummary;

/*
 * Two passes, the second with its own rounding taken off (Chan, Golub and LeVeque,
 * Amer. Statistician 37 (1983) 242-247); definitions as in NIST's Statistical
 * Reference Datasets, univariate. WB_CALC_TOO_FEW when n is 0,
 * WB_CALC_BAD_INPUT when a value is not finite.
 */
WbCalcStatus wb_calc_summary_of (const double  *x,
                                 size_t         n,
                                 WbCalcSummary *summary);

/*
 * Quantiles at `p` (0..1) by straight lines between the order statistics at
 * (n - 1) p + 1 (type 7 of Hyndman and Fan, Amer. Statistician 50 (1996) 361-365).
 * WB_CALC_TOO_FEW when n is 0; WB_CALC_BAD_INPUT for NaN in x or p outside 0..1.
 * Infinite x are allowed: they sort to the ends; a quantile between a finite and an
 * infinite value is the infinite one.
 */
WbCalcStatus wb_calc_summary_quantiles (const double *x,
                                        size_t        n,
                                        const double *p,
                                        size_t        n_p,
                                        double       *quantiles);

/* The same for one p of values that are sorted, smallest first, and hold no NaN; n > 0, p in 0..1. */
double wb_calc_summary_sorted_quantile (const double *sorted,
                                        size_t        n,
                                        double        p);

/* Sorts in place, smallest first. NaN must not be among them. */
void wb_calc_summary_sort (double *x,
                           size_t  n);
