/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Linear Gaussian models that were fitted apart, and go together by factors that they have in common. In model f coefficient k, less its prior mean
 * and over its prior standard deviation, is
 *
 *   z_fk = r_fk c_k + sqrt (1 - r_fk^2) e_fk,    c_k and e_fk standard normal and independent of all else,
 *
 * so that z_fk and z_gk have the correlation r_fk r_gk before any data, and coefficients with different k none. Given the factors c the models tell
 * nothing of each other: the joint posterior of c is the product of what each model says of it, over the prior in all but one, and what a model is
 * asked is its own posterior given c. With m_f and V_f the posterior of z_f in the model alone, R = diag (r_f) and A_f = I - R R + R V_f R,
 *
 *   c | model f         ~ N (R m_f, A_f)
 *   c | all             ~ N (S h, S),   S^-1 = I + sum over f of (A_f^-1 - I),   h = sum over f of A_f^-1 R m_f
 *   x | c, model f      ~ N (x_f + C R A_f^-1 (c - R m_f), cov x - C R A_f^-1 R C'),   C = cov (x, z_f) in model f
 *
 * exactly what one fit of all the models with c as coefficients gives. A_f is as well conditioned where a model learnt nothing (V_f = I) as where
 * it knows all (V_f = 0).
 * Sources: one factor a kind of coefficient, and its posterior where all is known: Lawley and Maxwell, Factor Analysis as a Statistical Method
 * (1971), chapter 8; conditioning of normal vectors: Anderson, An Introduction to Multivariate Statistical Analysis, theorem 2.5.1.
 */

/* What one model says of some of the factors. */
typedef struct
{
  size_t        n;
  const double *mean;       /* n: of z */
  const double *covariance; /* of z, rows `stride` apart; its lower triangle is read */
  size_t        stride;     /* n or more */
  const double *with;       /* n: r, above -1 and below 1 */
  const size_t *factor;     /* n: which each goes with, none twice */
} WbCalcJointTold;

/* Adds what a model says to pull and precision, n_factors and n_factors x n_factors, both 0 before the first. WB_CALC_BAD_INPUT, WB_CALC_NO_MEMORY; then they are as they were. */
WbCalcStatus wb_calc_joint_add       (const WbCalcJointTold *told,
                                      size_t                 n_factors,
                                      double                *pull,
                                      double                *precision);
/*
 * From what was added, with the prior, to the factors' posterior: `mean`, and an upper triangular `root`, n_factors x n_factors, by which mean
 * + root z has that posterior where z is standard normal. WB_CALC_BAD_INPUT also for what no models said; then they hold nothing to be used.
 */
WbCalcStatus wb_calc_joint_solve     (size_t                 n_factors,
                                      const double          *pull,
                                      const double          *precision,
                                      double                *mean,
                                      double                *root);
/*
 * `told`'s model, given the factors: mean and covariance (`stride` apart, its lower triangle) of n_asked combinations become those where c is 0,
 * and `gain`, n_asked x told->n, is what a unit of each factor adds. `cross`, told->n x n_asked with rows cross_stride apart: covariances of z with
 * what is asked. Statuses as above; of anything but WB_CALC_OK mean, covariance and gain are not to be used any more.
 */
WbCalcStatus wb_calc_joint_condition (const WbCalcJointTold *told,
                                      const double          *cross,
                                      size_t                 cross_stride,
                                      size_t                 n_asked,
                                      double                *mean,
                                      double                *covariance,
                                      size_t                 stride,
                                      double                *gain);
