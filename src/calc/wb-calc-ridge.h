/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Linear regression with a normal-inverse-gamma prior, the conjugate one: exact
 * posterior, exact predictive t, partial pooling by the precisions of the prior.
 *
 *   y | beta, s2 ~ N (X beta, s2 diag (1 / w))
 *   beta | s2    ~ N (mean, s2 precision^-1)
 *   s2           ~ inverse gamma (shape a, scale b)
 *
 *   L_n = L_0 + X'WX,  m_n = L_n^-1 (L_0 m_0 + X'W y),  a_n = a_0 + n / 2,
 *   b_n = b_0 + (y'W y + m_0'L_0 m_0 - m_n'L_n m_n) / 2
 *
 * computed by QR of the stacked rows, b_n as a sum of squares. Source: Gelman
 * and others, Bayesian Data Analysis, 3rd ed., 14.2 and 14.8; Bishop, Pattern
 * Recognition and Machine Learning, exercises 3.12 and 3.13.
 *
 * A group effect is pooled partially by giving each group a column of 0 and 1
 * with prior mean 0 and precision (s / spread between groups)^2; precision 0 is a
 * flat prior for that direction.
 */
typedef struct
{
  const double *mean;      /* p */
  const double *precision; /* p x p, symmetric, not negative definite; in units of 1 / s2 */
  double        a;         /* > 0: half the prior's degrees of freedom */
  double        b;         /* > 0: a times the prior guess of s2 */
} WbCalcRidgePrior;

typedef struct
{
  size_t  p;
  size_t  n;             /* rows that the fit rests on */
  double *mean;          /* p: posterior mean of beta */
  double *precision;     /* p x p: posterior precision in units of 1 / s2 */
  double *covariance;    /* p x p: its inverse; times b / a the scale matrix of the t of beta */
  double  a;
  double  b;
  double  log_marginal;  /* log density of y under the prior; NaN when the prior's precision is singular (no proper prior), or beyond a double's range */
} WbCalcRidge;

/* Student's t with `df` = 2 a, centre and scale in the unit of y. */
typedef struct
{
  double mean;
  double scale_mean; /* of x'beta */
  double scale_new;  /* of a new y at x with weight 1 */
  double df;
} WbCalcRidgePrediction;

/*
 * `x` is n x p by rows, `y` n long, `weights` n long and above 0, or NULL for
 * ones. n may be 0: then the answer is the prior. Fails with WB_CALC_BAD_INPUT
 * (not finite, a or b not above 0, p = 0, a prior precision that is not
 * positive semidefinite, squares that leave the range of a double) and WB_CALC_UNIDENTIFIED when prior and data together
 * leave a direction open. Clear the result with wb_calc_ridge_clear.
 */
WbCalcStatus wb_calc_ridge_fit (const double           *x,
                                const double           *y,
                                const double           *weights,
                                size_t                  n,
                                size_t                  p,
                                const WbCalcRidgePrior *prior,
                                WbCalcRidge            *fit);

/* The predictive distribution at the row `x` (p long). WB_CALC_BAD_INPUT when x or what comes of it is not finite. */
WbCalcStatus wb_calc_ridge_predict (const WbCalcRidge     *fit,
                                    const double          *x,
                                    WbCalcRidgePrediction *prediction);

/* P (new y <= threshold) of a prediction. */
double wb_calc_ridge_prediction_below (const WbCalcRidgePrediction *prediction,
                                       double                       threshold);

/* Scale of the t of coefficient j: sqrt (covariance[j, j] b / a). df is 2 a. */
double wb_calc_ridge_coefficient_scale (const WbCalcRidge *fit,
                                        size_t             j);

/*
 * A lower triangular root of the covariance: root root' = covariance, p x p by
 * rows, room given by the caller. With z standard normal and chi = sqrt (df /
 * chi-square (df)), df = 2 a, mean + chi sqrt (b / a) root z is a draw of beta.
 * WB_CALC_UNIDENTIFIED when the covariance is not positive definite.
 */
WbCalcStatus wb_calc_ridge_root (const WbCalcRidge *fit,
                                 double            *root);

void wb_calc_ridge_clear (WbCalcRidge *fit);
