/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Rank acceptability: from joint draws of the scores of several alternatives,
 * how often each takes each rank (Lahdelma, Hokkanen and Salminen, "SMAA",
 * European J. Operational Research 106 (1998) 137-143), how often it is the best
 * or near it, and what choosing it would cost on average.
 *
 * Larger scores are better. A score that is not above `nothing` is worth nothing:
 * in a draw in which no score is above it, nobody is best and nobody is near.
 * Scores exactly equal share their ranks in equal parts, so that every row and
 * every column of the rank matrix sums to 1.
 */
typedef struct
{
  double margin;  /* >= 0: near the best is a score of at least best - margin */
  double nothing; /* usually 0; -INFINITY: every score is worth something */
} WbCalcRankOptions;

typedef struct
{
  size_t  n;             /* alternatives */
  size_t  n_draws;
  double *rank;          /* n x n by rows: rank[i * n + r] = chance that alternative i takes rank r (0 is the first) */
  double *p_best;        /* n: sums to 1 - p_none */
  double *p_near;        /* n: chance of a score above `nothing` and within `margin` of the best */
  double *expected_loss; /* n: mean of best score minus own score, unit of the scores */
  double *expected_rank; /* n: 1 is the first */
  double *mean;          /* n: mean score */
  double  p_none;        /* chance that no score is above `nothing` */
} WbCalcRank;

/*
 * `draws` is n_draws x n by rows: draws[k * n + i] is the score of alternative i
 * in draw k. The matrix is read only. Fails with WB_CALC_TOO_FEW when n or
 * n_draws is 0, WB_CALC_BAD_INPUT when a score is not finite, a sum of scores leaves
 * the range of a double, or the margin is negative or NaN. Clear the result with wb_calc_rank_clear.
 */
WbCalcStatus wb_calc_rank_acceptability (const double            *draws,
                                         size_t                   n_draws,
                                         size_t                   n,
                                         const WbCalcRankOptions *options,
                                         WbCalcKeepGoing          keep_going,
                                         void                    *user,
                                         WbCalcRank              *result);

/* Frees what a result owns. A zeroed or a cleared one is fine. */
void wb_calc_rank_clear (WbCalcRank *result);

/* Standard error of a chance `p` counted in `n_draws` independent draws, sqrt (p (1 - p) / n); 0.5 / sqrt (n) bounds it. */
double wb_calc_rank_error (double p,
                           size_t n_draws);
