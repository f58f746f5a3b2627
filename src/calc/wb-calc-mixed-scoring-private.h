/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gsl/gsl_matrix.h>

#include "wb-calc-mixed-design-private.h"
#include "wb-calc-status.h"

/*
 * Score and expected information of (var_group, var_residual) under the restricted
 * likelihood, and the derivatives of the coefficients' covariance by them:
 *
 *   score_i = (r'V^-1 V_i V^-1 r - tr (P V_i)) / 2,  information_ij = tr (P V_i P V_j) / 2,
 *   P = V^-1 - V^-1 X phi X'V^-1
 *
 * (Searle, Casella and McCulloch, Variance Components, 1992, chapter 6).
 */
typedef struct
{
  gsl_matrix *phi;      /* (X'V^-1 X)^-1 */
  gsl_matrix *slope[2]; /* d phi / d var_i = phi X'V^-1 V_i V^-1 X phi */
  gsl_matrix *work[2];
  double     *sums;     /* n_groups: of the residuals */
  double      score[2];
  double      information[3]; /* group group, group residual, residual residual */
} WbCalcMixedScoring;

/* Clear it after a failure too. */
WbCalcStatus wb_calc_mixed_scoring_init (WbCalcMixedScoring      *scoring,
                                         const WbCalcMixedDesign *design);
void         wb_calc_mixed_scoring_clear (WbCalcMixedScoring *scoring);

/* Everything at the variances; the design must have been solved at their ratio. */
void wb_calc_mixed_scoring_at (WbCalcMixedScoring *scoring,
                               WbCalcMixedDesign  *design,
                               double              var_group,
                               double              var_residual);

/*
 * Fisher scoring from a point near the optimum, which a search on the criterion
 * fixes to half the digits only; leaves the variances where they are when that is no better.
 */
void wb_calc_mixed_scoring_polish (WbCalcMixedScoring *scoring,
                                   WbCalcMixedDesign  *design,
                                   double             *var_group,
                                   double             *var_residual);
