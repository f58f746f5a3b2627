/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-growth-runs.h"

/* Readings by pace and run, in shares of the largest time and reading. Runs and paces that cannot be told are not there. */
typedef struct
{
  size_t  n_paces, n_runs, n_readings;
  double *t, *y;
  double *lost;         /* a reading: exp (-t / tau) - 1, from when the level was last found */
  bool   *censored;
  size_t *run_first;    /* n_runs + 1: first reading */
  size_t *pace_first;   /* n_paces + 1: first run */
  size_t *run_id, *pace_id;
  bool   *has_censored; /* a run */
  bool   *flat;         /* a run: no level above 0 where its pace begins; it is left out from there on */
  double *level;        /* a run: ln A */
  double *trial;        /* likewise */
  double *saa, *sal;    /* a run: sums of weight f f and f g, f = dD / d ln A, g = dD / d ln tau */
  double *ga;           /* a run: sum of score f */
  double *pace;         /* ln tau */
  double *sll, *gl;     /* a pace: curvature and slope by ln tau with the levels projected out */
  double *low, *high;   /* a pace: where it is searched for */
  double  log_sigma;
  double  scale, time_scale;
} WbCalcGrowthRunsLayout;

/*
 * Sorts the readings, decides which runs and paces can be told, and fills the statuses and
 * counts of all. `fit` comes with its numbers of runs and paces; its arrays are made here.
 * WB_CALC_BAD_INPUT, WB_CALC_NO_MEMORY. To be cleared after a failure too.
 */
WbCalcStatus wb_calc_growth_runs_layout_init  (WbCalcGrowthRunsLayout *layout,
                                               const double           *t,
                                               const double           *y,
                                               const bool             *censored,
                                               const size_t           *run,
                                               size_t                  n_readings,
                                               const size_t           *run_pace,
                                               WbCalcGrowthRuns       *fit);
void         wb_calc_growth_runs_layout_clear (WbCalcGrowthRunsLayout *layout);
