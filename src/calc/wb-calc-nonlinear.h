/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Non-linear least squares:
 *
 *   y_i = f_i (beta) + e_i,  e ~ N (0, s^2),  RSS (beta) = sum (y_i - f_i (beta))^2 at its least
 *
 * by GSL's trust region solver (Levenberg and Marquardt's step; Moré, in Numerical
 * Analysis, Lecture Notes in Mathematics 630 (1978) 105-116, its scaling of the
 * parameters), QR throughout. The readings are taken in units of the largest |y|, and
 * the end is judged by angles, so that no unit of y or of a parameter matters.
 */

#define WB_CALC_NONLINEAR_MAX_PARAMETERS 8

/* f_i at the p parameters `beta`, its derivatives by them in `gradient` (p). NaN or infinity: not defined there. */
typedef double (*WbCalcNonlinearModel) (const double *beta,
                                        size_t        i,
                                        double       *gradient,
                                        void         *user);

typedef struct
{
  double residual_sum_sq;
  double residual_sd; /* s = sqrt (RSS / (n - p)) */
  size_t residual_df; /* n - p, > 0 */
  size_t iterations;
  double sd[WB_CALC_NONLINEAR_MAX_PARAMETERS]; /* p: roots of the covariance's diagonal */
  /* p x p by rows: s^2 (J'J)^-1 with J the derivatives at the end, the usual linear approximation. */
  double covariance[WB_CALC_NONLINEAR_MAX_PARAMETERS * WB_CALC_NONLINEAR_MAX_PARAMETERS];
} WbCalcNonlinear;

/*
 * From the start in `beta`; on WB_CALC_OK `beta` ends at the minimum that lies downhill of it,
 * else it is untouched. A minimum is where no direction that the parameters can go makes an
 * angle with the residual whose cosine is above 1e-7, or where no residual is left; a
 * function with several minima needs a start near the right one.
 *
 * WB_CALC_BAD_INPUT: p is 0 or too large, y or the start not finite, the model not
 * finite at the start, or squares that leave the range of a double. WB_CALC_TOO_FEW:
 * n <= p. WB_CALC_UNIDENTIFIED: J has not rank p at the end. WB_CALC_NOT_CONVERGED: the
 * iterations ran out, or no step lowers RSS short of a minimum. WB_CALC_CANCELLED.
 */
WbCalcStatus wb_calc_nonlinear_fit (const double        *y,
                                    size_t               n,
                                    size_t               p,
                                    WbCalcNonlinearModel model,
                                    void                *user,
                                    WbCalcKeepGoing      keep_going,
                                    void                *keep_going_user,
                                    double              *beta,
                                    WbCalcNonlinear     *fit);
