/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * The outer problem of a model with random effects: the coordinates (logarithms of
 * spreads, mostly) that make minus the logarithm of likelihood times prior least.
 */

#define WB_CALC_SPREADS_MAX 12

/* What a failed evaluation costs: finite, for GSL's simplex refuses infinity. */
#define WB_CALC_SPREADS_HOPELESS 1e30

typedef struct
{
  /* Minus log likelihood and prior at x, within the bounds; HOPELESS or more where it fails. */
  double (*evaluate) (const double *x, void *user);
  void           *user;
  WbCalcKeepGoing keep_going;
  void           *keep_user;
  bool            cancelled;
  size_t          n;                              /* coordinates */
  double          x[WB_CALC_SPREADS_MAX];
  double          low[WB_CALC_SPREADS_MAX];
  double          high[WB_CALC_SPREADS_MAX];
  bool            may_vanish[WB_CALC_SPREADS_MAX]; /* at its low end it counts as 0, if the likelihood does not miss it */
  bool            vanished[WB_CALC_SPREADS_MAX];
  size_t          searched[WB_CALC_SPREADS_MAX];  /* the coordinates searched for */
  size_t          n_searched;
  bool            curved;                         /* `covariance` is that of the end of the search */
  double          covariance[WB_CALC_SPREADS_MAX * WB_CALC_SPREADS_MAX];
} WbCalcSpreads;

/* A coordinate between its bounds; held: not searched for. */
void         wb_calc_spreads_add       (WbCalcSpreads *spreads,
                                        double         start,
                                        double         low,
                                        double         high,
                                        bool           held,
                                        bool           may_vanish);
/* At x, kept in the bounds with a penalty outside. */
double       wb_calc_spreads_evaluate  (WbCalcSpreads *spreads,
                                        const double  *x);
/* Leaves the optimum in x; those that vanish are no longer searched for. */
WbCalcStatus wb_calc_spreads_run       (WbCalcSpreads *spreads);
/* x with searched coordinates i and j moved by di and dj differences, into `moved`. */
void         wb_calc_spreads_move      (const WbCalcSpreads *spreads,
                                        size_t               i,
                                        double               di,
                                        size_t               j,
                                        double               dj,
                                        double              *moved);
/* Finds the covariance of the searched coordinates (n_searched x n_searched) by second differences at x; false: no minimum. */
bool         wb_calc_spreads_curvature (WbCalcSpreads *spreads);

/*
 * Degrees of freedom of a variance that rests on an opinion alone, from those that
 * Satterthwaite's formula gives it, >= 0. That takes the variance for a chi-square's, whose logarithm
 * has a long lower tail; an opinion is log-normal. This many have the t with the 95 %
 * point of a normal with a log-normal sd, by numerical integration: to 0.3 % of it from
 * 0.6 degrees of freedom up, to 2.5 % from 0.4.
 */
double       wb_calc_spreads_opinion_df (double df);

/* Step in a log spread for differences: truncation 1e-4, rounding less. */
#define WB_CALC_SPREADS_DIFFERENCE 0.03
