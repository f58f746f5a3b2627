/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Desirability functions: a figure y becomes 0 (worthless) to 1 (as good as can
 * be), several of them one overall value.
 *
 *          1        one_from ______ one_to
 *                           /      \
 *          0  zero_below __/        \__ zero_above
 *
 *   y <= zero_below          d = floor_low
 *   zero_below < y < one_from  d = floor_low + (1 - floor_low) ((y - zero_below) / (one_from - zero_below))^exponent_low
 *   one_from <= y <= one_to  d = 1
 *   one_to < y < zero_above  d = floor_high + (1 - floor_high) ((y - zero_above) / (one_to - zero_above))^exponent_high
 *   y >= zero_above          d = floor_high
 *
 * Both sides of one_from and one_to may be steps (zero_below = one_from). A side
 * that does not count has its two limits at -INFINITY (low) or INFINITY (high).
 *
 * With floors 0 these are the functions of Derringer and Suich, "Simultaneous
 * Optimization of Several Response Variables", J. Quality Technology 12 (1980)
 * 214-219, as restated in the NIST/SEMATECH e-Handbook of Statistical Methods,
 * 5.5.3.2.2. The plateau and the floors are extensions.
 */
typedef struct
{
  double zero_below;    /* unit of y */
  double one_from;      /* >= zero_below */
  double one_to;        /* >= one_from */
  double zero_above;    /* >= one_to */
  double exponent_low;  /* > 0; 1 is a straight line, above 1 asks to be near the aim */
  double exponent_high; /* > 0 */
  double floor_low;     /* 0..1: what is left far below */
  double floor_high;    /* 0..1: what is left far above */
} WbCalcDesirability;

/* Larger is better: 0 up to `low`, 1 from `target`. */
WbCalcDesirability wb_calc_desirability_max (double low,
                                             double target,
                                             double exponent);

/* Smaller is better: 1 up to `target`, 0 from `high`. */
WbCalcDesirability wb_calc_desirability_min (double target,
                                             double high,
                                             double exponent);

/* A target: 0 up to `low`, 1 at `target`, 0 from `high`. */
WbCalcDesirability wb_calc_desirability_target (double low,
                                                double target,
                                                double high,
                                                double exponent_low,
                                                double exponent_high);

/* A plateau: 0 up to `a`, 1 from `b` to `c`, 0 from `d`, straight flanks, no floors. */
WbCalcDesirability wb_calc_desirability_trapezoid (double a,
                                                   double b,
                                                   double c,
                                                   double d);

/* WB_CALC_BAD_INPUT when limits are out of order, NaN or further apart than a double can say, an exponent is not above 0, or a floor is outside 0..1. */
WbCalcStatus wb_calc_desirability_check (const WbCalcDesirability *shape);

/* d of `y`. NaN in y, or a shape that fails the check: WB_CALC_BAD_INPUT. y may be infinite. */
WbCalcStatus wb_calc_desirability_value (const WbCalcDesirability *shape,
                                         double                    y,
                                         double                   *d);

/* The same for a shape that passed the check, without asking again: for inner loops. NaN in, NaN out. */
double wb_calc_desirability_at (const WbCalcDesirability *shape,
                                double                    y);

/*
 * Weighted geometric mean D = exp (sum w ln d / sum w); 0 as soon as one d with a
 * weight above 0 is 0. `weights` >= 0, NULL means equal. With equal weights it is
 * Derringer and Suich's D = (d1 ... dk)^(1/k); weights are an extension.
 * WB_CALC_TOO_FEW when n is 0, WB_CALC_BAD_INPUT when a d is outside 0..1, a
 * weight is negative or not finite, or no weight is above 0.
 */
WbCalcStatus wb_calc_desirability_overall (const double *d,
                                           const double *weights,
                                           size_t        n,
                                           double       *overall);
