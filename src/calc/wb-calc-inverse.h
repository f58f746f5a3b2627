/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * A straight line read backwards (inverse prediction, linear calibration): at which x does it reach y0? And a ratio of two
 * estimates, which is the same question. Intervals are exact: all x at which y0 is not rejected by Student's t,
 *
 *   (y0 - y(x))^2 <= t^2 (Var y(x) + Var y0)
 *
 * (Fieller, J. R. Statist. Soc. B 16 (1954) 175-185; Graybill, Theory and Application of the Linear Model (1976), 8.5; both from
 * memory). Where the slope is not told from 0 these are two rays or the whole line: the shape says so.
 */

/* Where the x of an interval lie. */
typedef enum
{
  WB_CALC_INVERSE_BETWEEN,  /* from low to high */
  WB_CALC_INVERSE_FROM,     /* from low on; high is INFINITY. The slope is just told from 0 */
  WB_CALC_INVERSE_UP_TO,    /* up to high; low is -INFINITY */
  WB_CALC_INVERSE_OUTSIDE,  /* up to low, and from high on: not between them */
  WB_CALC_INVERSE_ANYWHERE  /* the whole line: -INFINITY to INFINITY */
} WbCalcInverseShape;

#define WB_CALC_INVERSE_N_SHAPES (WB_CALC_INVERSE_ANYWHERE + 1)

typedef struct
{
  double             value; /* NaN where slope or denominator is 0 */
  double             low;
  double             high;
  WbCalcInverseShape shape;
  double             g;     /* (t sd / |slope|)^2: below 1 the slope is told from 0, and the interval has two ends; INFINITY at slope 0 */
} WbCalcInverse;

/* y = level + slope (x - centre) + e, Var e_i = variance / w_i; level and slope are uncorrelated. */
typedef struct
{
  size_t n;
  double centre;       /* weighted mean of x */
  double level;
  double slope;
  double variance;     /* of an observation of weight 1; 1 where the variances were given */
  double level_factor; /* Var level is variance times this: 1 / sum w */
  double slope_factor; /* Var slope is variance times this: 1 / sum w (x - centre)^2 */
  double residual;     /* sum w (y - fit)^2: where the variances were given, chi-square on n - 2 */
  double df;           /* of variance: n - 2, or INFINITY where it was given */
} WbCalcInverseLine;

/*
 * By weighted least squares; `weights` are above 0, NULL means ones. WB_CALC_BAD_INPUT: not finite, a weight not above 0, or
 * what leaves the range of a double. WB_CALC_TOO_FEW: n < 3. WB_CALC_UNIDENTIFIED: all x are the same.
 */
WbCalcStatus wb_calc_inverse_fit       (const double      *x,
                                        const double      *y,
                                        const double      *weights,
                                        size_t             n,
                                        WbCalcInverseLine *line);

/* The same where each observation's variance is known, above 0: weights are their reciprocals, and n >= 2 suffices. */
WbCalcStatus wb_calc_inverse_fit_known (const double      *x,
                                        const double      *y,
                                        const double      *variances,
                                        size_t             n,
                                        WbCalcInverseLine *line);

/*
 * Where the line, which is the mean of y, reaches y0, which is itself known to y0_variance (>= 0). `coverage` in (0, 1).
 * WB_CALC_BAD_INPUT: not finite, outside the domain, or an end beyond the range of a double. WB_CALC_UNIDENTIFIED: the slope is
 * 0 without any doubt.
 */
WbCalcStatus wb_calc_inverse_at        (const WbCalcInverseLine *line,
                                        double                   y0,
                                        double                   y0_variance,
                                        double                   coverage,
                                        WbCalcInverse           *inverse);

/*
 * The x of which m new observations of weight 1 were read. Their spread is pooled with the line's, on n + m - 3 degrees of
 * freedom. WB_CALC_TOO_FEW: m is 0. WB_CALC_BAD_INPUT as above, and for a line of given variances, which tells no variance of
 * new ones: wb_calc_inverse_at takes that.
 */
WbCalcStatus wb_calc_inverse_new       (const WbCalcInverseLine *line,
                                        const double            *y0,
                                        size_t                   m,
                                        double                   coverage,
                                        WbCalcInverse           *inverse);

/*
 * numerator / denominator of two estimates with these variances (>= 0) and covariance, all known by `df` degrees of freedom (> 0,
 * INFINITY where they are given). WB_CALC_BAD_INPUT: as above, or a covariance that no such variances allow.
 * WB_CALC_UNIDENTIFIED: the denominator is 0 without any doubt.
 */
WbCalcStatus wb_calc_inverse_ratio     (double         numerator,
                                        double         denominator,
                                        double         numerator_variance,
                                        double         denominator_variance,
                                        double         covariance,
                                        double         df,
                                        double         coverage,
                                        WbCalcInverse *inverse);
