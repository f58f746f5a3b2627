/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-growth-layout-private.h"
#include "wb-calc-mixed-system-private.h"

/*
 * The inner problem of the pooled growth fit: at given spreads, the most probable
 * levels and paces, and with the curvature there Laplace's approximation of the
 * restricted likelihood.
 *
 * Seen from a point, the readings of a run say of its level a and its group's pace
 * lambda what two rows of a linear mixed model would: "a + s (lambda - lambda_0) is y,
 * give or take v", and what is left on the pace alone. Newton's steps solve that mixed
 * model, whose blocks are the groups, until the point stays.
 */

/* The spreads of the mixed model behind it. */
enum
{
  WB_CALC_GROWTH_RUNS = WB_CALC_MIXED_RUN,
  WB_CALC_GROWTH_UNITS = WB_CALC_MIXED_UNIT,
  WB_CALC_GROWTH_PACES,
  WB_CALC_GROWTH_GROUPS,
  WB_CALC_GROWTH_COLUMNS,
  WB_CALC_GROWTH_N_SPREADS
};

/* What is unknown, and the readings' linearisation there. */
typedef struct
{
  double *level;       /* n_runs: ln A, less the origin */
  double *pace;        /* n_groups of the layout: ln tau, less the origin */
  double *a;           /* coefficients of the mixed model */
  double *b;
  double *unit;        /* n_units */
  double *saa;         /* n_runs: sums of weight f f, f g, g g with f = dD/da, g = dD/dlambda */
  double *sal;
  double *sll;
  double *ga;          /* n_runs: sums of score f, score g */
  double *gl;
  double  minus_loglik; /* of the readings, without what depends on sigma alone */
  double  value;        /* that and the opinions: what Newton's steps make least */
} WbCalcGrowthPoint;

typedef struct
{
  const WbCalcGrowthData   *data;
  const WbCalcGrowthLayout *layout;
  WbCalcMixedData           rows;          /* its arrays are the inner problem's own */
  WbCalcMixedColumn         local_column[2];
  WbCalcMixedColumn        *global_column; /* group columns, covariates, paces */
  WbCalcMixedSpread         spread[WB_CALC_GROWTH_N_SPREADS];
  WbCalcMixedSystem         system;
  WbCalcGrowthPoint         now;
  WbCalcGrowthPoint         trial;
  double                    origin_level;  /* levels and paces are counted from here */
  double                    origin_pace;
  double                   *row_y;
  double                   *row_variance;
  bool                     *row_outside;
  size_t                   *row_unit;
  size_t                   *row_block;
  double                   *row_local;
  double                   *row_global;
  size_t                   *level_row;     /* n_runs: its row, SIZE_MAX: it says nothing there */
  size_t                   *run_group;     /* n_runs: group of the layout */
  size_t                   *run_unit;      /* n_runs */
  double                   *block_room;
  double                    minus_log_restricted;
} WbCalcGrowthInner;

/* `spreads`: how the search treats each; copied. `pace_sd`: opinion on the common paces around their start, INFINITY: none. */
WbCalcStatus wb_calc_growth_inner_init  (WbCalcGrowthInner        *inner,
                                         const WbCalcGrowthData   *data,
                                         const WbCalcGrowthLayout *layout,
                                         const WbCalcMixedSpread  *spreads,
                                         double                    pace_sd);
void         wb_calc_growth_inner_clear (WbCalcGrowthInner *inner);
/* Goes on from where it stands. sd: N_SPREADS. */
WbCalcStatus wb_calc_growth_inner_find  (WbCalcGrowthInner *inner,
                                         const double      *sd,
                                         double             sigma,
                                         double             exponent);
/* The level or the pace of a group of the caller's data as a target; `global` is room for all global columns. */
WbCalcMixedTarget wb_calc_growth_inner_level (const WbCalcGrowthInner *inner, size_t group, double *global);
WbCalcMixedTarget wb_calc_growth_inner_pace  (const WbCalcGrowthInner *inner, size_t group, double *global);
