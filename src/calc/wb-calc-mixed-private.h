/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-mixed-system-private.h"
#include "wb-calc-mixed.h"
#include "wb-calc-spreads-private.h"

struct _WbCalcMixed
{
  const WbCalcMixedData *data;
  WbCalcMixedSystem      system;      /* at the estimate */
  WbCalcSpreads          search;
  bool                   around_told; /* the systems around the optimum could be solved */
  WbCalcMixedSystem      around[2 * WB_CALC_SPREADS_MAX];
  double                 sd[WB_CALC_MIXED_MAX_SPREADS];
  double                 correlation;
  size_t                 spare_units; /* units beyond one a block */
};

/* Spreads and correlation of the search's coordinates. */
void   wb_calc_mixed_read_spreads (const WbCalcMixed *fit,
                                   const double      *x,
                                   double            *sd,
                                   double            *correlation);
double wb_calc_mixed_log_prior    (const WbCalcMixedSpread *spread,
                                   double                   log_sd);
/* A fit whose spreads are known already: where `at`, a search whose first coordinates are those of `data`, came to its end. */
WbCalcStatus wb_calc_mixed_settle (const WbCalcMixedData *data,
                                   const WbCalcSpreads   *at,
                                   WbCalcMixed          **fit);
