/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Analysis of variance of a linear model with fixed factors and their
 * interactions, balanced or not, empty cells allowed.
 *
 * Sums of squares are of type II: a term is judged given every other term of the
 * model that does not contain it,
 *
 *   SS (T) = RSS (terms that do not contain T) - RSS (those and T)
 *
 * (Searle, Linear Models, 1971; Fox, Applied Regression Analysis, 3rd ed., 8.2.5).
 * In balanced designs this is the textbook table. F = MS (T) / MS (residual of the
 * full model), p the upper tail of F.
 */
#define WB_CALC_ANOVA_MAX_FACTORS 8

typedef struct
{
  size_t               n;         /* observations */
  const double        *y;         /* n */
  size_t               n_factors; /* up to WB_CALC_ANOVA_MAX_FACTORS */
  const size_t *const *level;     /* level[f][i] of observation i: 0 .. n_levels[f] - 1 */
  const size_t        *n_levels;
} WbCalcAnovaData;

typedef struct
{
  unsigned factors;  /* bit f is set when factor f is part of the term: 1 << f a main effect */
  size_t   df;       /* 0: the design cannot carry the term */
  double   sum_sq;
  double   mean_sq;  /* NaN when df is 0 */
  double   f;        /* NaN when df is 0 or no residual degree of freedom is left */
  double   p;        /* NaN when f is */
  double   eta_sq;   /* sum_sq / total sum of squares; NaN when the total is 0 */
  double   partial_eta_sq; /* sum_sq / (sum_sq + residual sum of squares); NaN when both are 0 */
} WbCalcAnovaTerm;

typedef struct
{
  WbCalcAnovaTerm *terms; /* in the order asked for */
  size_t           n_terms;
  size_t           residual_df;
  double           residual_sum_sq;
  double           residual_mean_sq; /* NaN when residual_df is 0 */
  size_t           total_df;         /* n - 1 */
  double           total_sum_sq;     /* about the mean */
  double           r_squared;        /* NaN when the total is 0 */
  double           mean;             /* of all observations */
  size_t           n;
} WbCalcAnova;

/*
 * `terms` are sets of factors as in WbCalcAnovaTerm.factors, each once; the
 * intercept is always in. Use wb_calc_anova_all_terms for the full model. A
 * saturated model is no failure: sums of squares come, F and p are NaN.
 * Fails with WB_CALC_TOO_FEW when n < 2, WB_CALC_BAD_INPUT on values that are not
 * finite or whose squares are not, levels or factors out of range, terms empty or double.
 * Clear the result with wb_calc_anova_clear.
 */
WbCalcStatus wb_calc_anova_fit (const WbCalcAnovaData *data,
                                const unsigned        *terms,
                                size_t                 n_terms,
                                WbCalcKeepGoing        keep_going,
                                void                  *user,
                                WbCalcAnova           *result);

/*
 * The terms of up to `max_order` factors each (1: main effects alone), main
 * effects first, then pairs and so on. `terms` needs room for 2^n_factors - 1.
 * Returns their number.
 */
size_t wb_calc_anova_all_terms (size_t    n_factors,
                                size_t    max_order,
                                unsigned *terms);

/* One-way analysis: the same with one factor. WB_CALC_TOO_FEW as well when fewer than two groups hold something. */
WbCalcStatus wb_calc_anova_one_way (const double *y,
                                    const size_t *group,
                                    size_t        n,
                                    size_t        n_groups,
                                    WbCalcAnova  *result);

void wb_calc_anova_clear (WbCalcAnova *result);
