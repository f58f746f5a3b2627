/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Linear model with one random factor, groups of any size:
 *
 *   y = X beta + u_group + e,  u ~ N (0, var_group),  e ~ N (0, var_residual)
 *
 * Variances by restricted maximum likelihood (Patterson and Thompson, Biometrika
 * 58 (1971) 545-554), profiled to the ratio of the two and finished by scoring;
 * degrees of freedom of the coefficients after Satterthwaite (Biometrics Bull. 2 (1946)
 * 110-114) from the expected information.
 */

/* What the data say about the two variances. */
typedef enum
{
  WB_CALC_MIXED_INTERIOR,     /* both are above 0 */
  WB_CALC_MIXED_BOUNDARY,     /* the restricted likelihood is largest at var_group = 0 */
  WB_CALC_MIXED_UNREPLICATED, /* no group holds two: var_group is the whole variance, var_residual 0 */
  WB_CALC_MIXED_UNKNOWN       /* columns and groups coincide: var_group is NaN, and no covariance holds it */
} WbCalcMixedSituation;

typedef struct
{
  size_t               n;
  size_t               p;              /* coefficients, coefficient 0 the intercept where there is one */
  size_t               n_groups;       /* as passed in */
  size_t               n_filled;       /* groups that hold something */
  WbCalcMixedSituation situation;
  double              *coefficient;    /* p */
  double              *covariance;     /* p x p */
  double              *by_group;       /* p x p: derivative of the covariance by var_group */
  double              *by_residual;    /* p x p: and by var_residual */
  double               variance_of[3]; /* variance of var_group, covariance, variance of var_residual */
  double              *group_effect;   /* n_groups: best linear predictor of u; 0 for a group without observations */
  double               var_group;
  double               var_residual;
  double               criterion;      /* -2 log restricted likelihood at the optimum; NaN when nothing is left over */
} WbCalcMixed;

/*
 * `x` is n x columns by rows, without a column of ones (NULL with 0 columns); `group`
 * runs 0 .. n_groups - 1. WB_CALC_BAD_INPUT: not finite, a group out of range, no
 * coefficient at all. WB_CALC_TOO_FEW: fewer than two filled groups, or no more
 * observations than coefficients. WB_CALC_UNIDENTIFIED: columns not independent.
 * Clear the result with wb_calc_mixed_clear.
 */
WbCalcStatus wb_calc_mixed_fit (const double *x,
                                const double *y,
                                const size_t *group,
                                size_t        n,
                                size_t        columns,
                                bool          intercept,
                                size_t        n_groups,
                                WbCalcMixed  *fit);

/* A linear combination of the coefficients with its uncertainty. */
typedef struct
{
  double value;
  double sd;
  double df; /* between 1 and n - p; at the boundary no more than filled groups - 1, for the zero is an estimate too */
} WbCalcMixedContrast;

/* sum of weights[j] beta[j], `weights` p long. WB_CALC_BAD_INPUT when one is not finite. */
WbCalcStatus wb_calc_mixed_contrast (const WbCalcMixed   *fit,
                                     const double        *weights,
                                     WbCalcMixedContrast *contrast);

void wb_calc_mixed_clear (WbCalcMixed *fit);
