/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-growth-mode-private.h"
#include "wb-calc-growth.h"
#include "wb-calc-status.h"

/* The outer problem of the pooled growth fit: the spreads that make the restricted likelihood largest. */

/* The spreads, searched for as logarithms. */
enum
{
  WB_CALC_GROWTH_SIGMA,
  WB_CALC_GROWTH_UNITS,
  WB_CALC_GROWTH_RUNS,
  WB_CALC_GROWTH_PACES,
  WB_CALC_GROWTH_N_SPREADS
};

/* What a failed evaluation costs: finite, for GSL's simplex refuses infinity. */
#define WB_CALC_GROWTH_HOPELESS 1e30

typedef struct
{
  const WbCalcGrowthLayout *layout;
  WbCalcGrowthMode         *mode;
  WbCalcGrowthPrior         prior;
  WbCalcKeepGoing           keep_going;
  void                     *user;
  bool                      cancelled;
  double                    theta[WB_CALC_GROWTH_N_SPREADS];
  double                    low[WB_CALC_GROWTH_N_SPREADS];
  double                    high[WB_CALC_GROWTH_N_SPREADS];
  int                       searched[WB_CALC_GROWTH_N_SPREADS]; /* the spread behind each coordinate */
  size_t                    n_searched;
  double                    units_df; /* units beyond one a group, and the prior's */
} WbCalcGrowthSearch;

/* Bounds, starts and which spreads the layout and the prior can tell. `mode` is the search's own. */
WbCalcStatus wb_calc_growth_search_init (WbCalcGrowthSearch       *search,
                                         const WbCalcGrowthLayout *layout,
                                         const WbCalcGrowthPrior  *prior,
                                         WbCalcKeepGoing           keep_going,
                                         void                     *user);
void         wb_calc_growth_search_clear (WbCalcGrowthSearch *search);

/* Leaves the optimum in theta; spreads that the likelihood does not miss are no longer searched for, at their floor. */
WbCalcStatus wb_calc_growth_search_run (WbCalcGrowthSearch *search);

/* Minus log restricted likelihood and prior at theta, `mode` left there; WB_CALC_GROWTH_HOPELESS on failure. */
double wb_calc_growth_search_evaluate (WbCalcGrowthSearch *search,
                                       const double       *theta);

bool wb_calc_growth_search_has (const WbCalcGrowthSearch *search,
                                int                       spread);

/*
 * Covariance of the log spreads (n_searched x n_searched) from second differences, and the
 * derivatives of each group's variance by them (n_searched x n_groups). False when
 * the curvature is not that of a minimum.
 */
bool wb_calc_growth_search_curvature (WbCalcGrowthSearch *search,
                                      double             *covariance,
                                      double             *slopes);
