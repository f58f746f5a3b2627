/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * How likely a test is to find a difference that is there, and how many samples it
 * needs for that.
 *
 *   power = P (F' > F (1 - alpha; df1, df2)),  F' ~ noncentral F (df1, df2, lambda)
 *
 * the noncentral F as a mixture of betas with Poisson weights (Johnson, Kotz and
 * Balakrishnan, Continuous Univariate Distributions 2, 2nd ed., 30.2).
 */

/* Noncentralities above this are taken as this: the power is 1 to any digit unless df2 is below about 3. */
#define WB_CALC_POWER_MAX_LAMBDA 1e6

/* Degrees of freedom go up to here; beyond it they make no difference. */
#define WB_CALC_POWER_MAX_DF 1e6

/*
 * The power of an F test at `alpha` (0..1, ends excluded), df1 and df2 from 1 to 1e6, lambda >= 0:
 * for k groups of n_i it is sum n_i (mu_i - mu)^2 / sigma^2, with df1 = k - 1. Absolute
 * error below 1e-9. WB_CALC_BAD_INPUT outside the domain.
 */
WbCalcStatus wb_calc_power_of_f (double  alpha,
                                 double  df1,
                                 double  df2,
                                 double  lambda,
                                 double *power);

typedef struct
{
  size_t n;     /* samples a group */
  double power; /* reached with them */
} WbCalcPowerSamples;

/*
 * The fewest samples a group, 2 or more, with which a difference between the means of two
 * of `k` groups of n samples each is found at `alpha`, two-sided, with at least `power`,
 * where samples of a group spread by `sd` (> 0), told from all k groups together: Student's t
 * on k (n - 1) degrees of freedom, noncentrality n difference^2 / (2 sd^2). All pairs are not
 * corrected for. WB_CALC_BAD_INPUT: not finite, difference 0, k < 2, alpha or power outside
 * 0..1. WB_CALC_TOO_FEW: `most` samples a group do not suffice.
 */
WbCalcStatus wb_calc_power_samples (double              difference,
                                    double              sd,
                                    size_t              k,
                                    double              alpha,
                                    double              power,
                                    size_t              most,
                                    WbCalcPowerSamples *samples);
