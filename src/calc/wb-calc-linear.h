/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Linear least squares, plain or weighted, by Householder QR of the scaled (and,
 * with an intercept, centred) columns, the coefficients refined with residuals in long
 * double:
 *
 *   y = b_0 + b_1 x_1 + ... + e,  Var e_i = s^2 / w_i
 */
typedef struct
{
  size_t  n;
  size_t  p;                 /* coefficients, the intercept included */
  bool    has_intercept;     /* then coefficient 0 is it */
  double *coefficient;       /* p */
  double *covariance;        /* p x p by rows, s^2 in it; a coefficient's standard deviation is the root of its diagonal */
  double  residual_sd;       /* s = sqrt (rss / residual_df) */
  double  residual_sum_sq;
  size_t  residual_df;       /* n - p, > 0 */
  double  regression_sum_sq; /* about the mean with an intercept, about 0 without */
  size_t  regression_df;     /* p - 1 with an intercept, p without */
  double  r_squared;         /* regression over total sum of squares, both as above; NaN when y does not vary */
  double  f;                 /* of the regression; NaN when regression_df is 0 */
  double  p_value;           /* upper tail of F */
} WbCalcLinear;

typedef struct
{
  double value;
  double sd;       /* of the line at x */
  double low;      /* interval of the line */
  double high;
  double new_low;  /* interval of a new y at x, with weight 1 */
  double new_high;
} WbCalcLinearPrediction;

/*
 * `x` is n x `columns` by rows, without a column of ones; `columns` may be 0 with
 * an intercept. `weights` are above 0, NULL means ones. WB_CALC_BAD_INPUT: not
 * finite, a weight not above 0, no column at all, or squares that leave the range of
 * a double. WB_CALC_TOO_FEW: no more
 * observations than coefficients. WB_CALC_UNIDENTIFIED: a column is a combination of
 * others. Clear the result with wb_calc_linear_clear.
 */
WbCalcStatus wb_calc_linear_fit (const double *x,
                                 const double *y,
                                 const double *weights,
                                 size_t        n,
                                 size_t        columns,
                                 bool          intercept,
                                 WbCalcLinear *fit);

/* At the row `x` of as many columns as were fitted; Student's t on residual_df. `coverage` in (0, 1). */
WbCalcStatus wb_calc_linear_predict (const WbCalcLinear     *fit,
                                     const double           *x,
                                     double                  coverage,
                                     WbCalcLinearPrediction *prediction);

/* Standard deviation of coefficient j. */
double wb_calc_linear_coefficient_sd (const WbCalcLinear *fit,
                                      size_t              j);

void wb_calc_linear_clear (WbCalcLinear *fit);
