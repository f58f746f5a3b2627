/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Maximum likelihood with normal errors where a reading may say only "at least":
 *
 *   plain:     -ln sigma - ln (2 pi) / 2 - (y - mu)^2 / (2 sigma^2)
 *   censored:   ln Phi ((mu - y) / sigma)
 *
 * (Tobin, Econometrica 26 (1958) 24-36). Left censoring is the same with the signs
 * of y and mu turned.
 */

/* One reading's minus log likelihood without the terms in sigma alone, and its first two derivatives by mu. */
typedef struct
{
  double minus_loglik; /* plain: r^2 / 2 */
  double score;        /* d / d mu */
  double weight;       /* d^2 / d mu^2, >= 0 */
} WbCalcCensoredReading;

WbCalcCensoredReading wb_calc_censored_reading (double mu,
                                                double y,
                                                bool   censored,
                                                double sigma);

/*
 * The mean of reading `i` at the p parameters `beta`; fills its gradient (p) and
 * second derivatives (p x p by rows, comes zeroed).
 */
typedef double (*WbCalcCensoredMean) (const double *beta,
                                      size_t        i,
                                      double       *gradient,
                                      double       *curvature,
                                      void         *user);

#define WB_CALC_CENSORED_MAX_PARAMETERS 8

typedef struct
{
  double log_sigma;
  double minus_loglik;
  size_t iterations;
  /* (p + 1) x (p + 1) by rows: inverse of the observed information of (beta, ln sigma). */
  double covariance[(WB_CALC_CENSORED_MAX_PARAMETERS + 1) * (WB_CALC_CENSORED_MAX_PARAMETERS + 1)];
} WbCalcCensoredFit;

/*
 * Damped Newton steps on (beta, ln sigma) from the start in `beta` and
 * `sigma_start` (> 0); `beta` ends at the maximum. `censored` NULL means none.
 * WB_CALC_BAD_INPUT: p is 0 or too large, y or the start not finite.
 * WB_CALC_ONLY_CENSORED: every reading is. WB_CALC_TOO_FEW: n <= p.
 * WB_CALC_UNIDENTIFIED: the readings lie exactly on a curve (sigma runs to 0), or the
 * information is singular at the end, or out of the range of a double. WB_CALC_NOT_CONVERGED.
 */
WbCalcStatus wb_calc_censored_fit (const double       *y,
                                   const bool         *censored,
                                   size_t              n,
                                   size_t              p,
                                   WbCalcCensoredMean  mean,
                                   void               *user,
                                   double             *beta,
                                   double              sigma_start,
                                   WbCalcCensoredFit  *fit);
