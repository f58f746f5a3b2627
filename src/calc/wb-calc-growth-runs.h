/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Growth of many short runs, each with a level of its own, and few paces among them:
 *
 *   D (t) = A_r (1 - exp (-t / tau_p)),  y = D (t) + e,  e ~ N (0, sigma^2)
 *
 * r the run of a reading, p the pace of the run, sigma common to all. The levels enter
 * almost linearly and are projected out (Golub and Pereyra, SIAM Journal on Numerical
 * Analysis 10 (1973) 413-432), so that a step costs a few sums a reading however many
 * runs there are. A censored reading says "at least y", as in wb-calc-growth.h.
 */

/*
 * One run's answer. `status`:
 *   WB_CALC_OK             all figures stand
 *   WB_CALC_ONLY_CENSORED  every reading at a time above 0 is: only `lower_bound` stands
 *   WB_CALC_TOO_FEW        no reading at a time above 0, or the run's pace cannot be told
 *   WB_CALC_FLAT           nothing above 0 was read, or its pace is FLAT
 *   WB_CALC_UNIDENTIFIED   its pace is
 * Figures that do not stand are NaN. Counts always stand.
 */
typedef struct
{
  WbCalcStatus status;
  double       log_level;   /* ln A */
  double       variance;    /* of log_level where the pace is known */
  double       slope;       /* d ln A / d ln tau at the optimum: all of the variance is variance + slope^2 (the pace's) */
  double       lower_bound; /* largest censored y; NaN without one */
  size_t       n_readings;
  size_t       n_censored;
} WbCalcGrowthRun;

/*
 * One pace's answer. WB_CALC_TOO_FEW: no run with plain readings at two times above 0.
 * WB_CALC_FLAT: grown up before the first reading. WB_CALC_UNIDENTIFIED: still straight
 * at the last one, or the sd of ln tau is above 1. The covariance of two paces is 0 but for sigma, which they share.
 */
typedef struct
{
  WbCalcStatus status;
  double       log_pace; /* ln tau */
  double       variance;
  size_t       n_runs;   /* with figures */
} WbCalcGrowthPace;

typedef struct
{
  WbCalcGrowthRun  *runs;   /* n_runs */
  size_t            n_runs;
  WbCalcGrowthPace *paces;  /* n_paces */
  size_t            n_paces;
  double            sigma;  /* of a reading, unit of y */
  double            df;     /* n - runs - paces; n counts a censored reading by its share of a plain one's information */
  double            minus_loglik; /* at the maximum, its own sigma^2 without the correction */
  size_t            iterations;
} WbCalcGrowthRuns;

/*
 * Maximum likelihood over all A_r, tau_p and sigma by Gauss and Newton's steps on the
 * logarithms, censored readings by their expected curvature. sigma^2 and all variances
 * are then multiplied by n / (n - runs - paces), for the degrees of freedom that the
 * levels and paces took. t >= 0 in any unit, y in any unit; `run` and `run_pace` are
 * indexes. `censored` NULL means none. Time is that of the readings, times the steps.
 *
 * WB_CALC_BAD_INPUT: not finite, t < 0, an index out of range. WB_CALC_TOO_FEW: no pace
 * can be told, or n <= runs + paces; statuses and counts are then filled all the same.
 * WB_CALC_UNIDENTIFIED: the readings lie exactly on curves, sigma runs to 0.
 * WB_CALC_NOT_CONVERGED. wb_calc_growth_runs_clear frees the result, after a failure too.
 */
WbCalcStatus wb_calc_growth_fit_runs   (const double     *t,
                                        const double     *y,
                                        const bool       *censored,
                                        const size_t     *run,
                                        size_t            n_readings,
                                        const size_t     *run_pace,
                                        size_t            n_runs,
                                        size_t            n_paces,
                                        WbCalcGrowthRuns *fit);
void         wb_calc_growth_runs_clear (WbCalcGrowthRuns *fit);
