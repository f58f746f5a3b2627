/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-growth.h"
#include "wb-calc-status.h"

/*
 * The inner problem of the pooled growth fit: at given spreads, the most probable
 * levels and paces, the curvature there, and with it Laplace's approximation of the
 * restricted likelihood.
 *
 * Unknowns: a (ln A of each run), m (of each unit), alpha (of each group), lambda
 * (ln tau of each group), lambda0 (common to the groups, when there are two or more).
 * The system has the shape of a tree, so it is solved from the leaves up in time
 * proportional to the readings.
 */

/* Readings of the groups that are fitted, in order of group, unit, run. */
typedef struct
{
  size_t  n_groups;
  size_t  n_units;
  size_t  n_runs;
  size_t  n_readings;
  size_t  n_plain;     /* readings that are not censored */
  double *t;
  double *y;
  bool   *censored;
  size_t *run_first;   /* n_runs + 1: first reading of each run */
  size_t *unit_first;  /* n_units + 1: first run of each unit */
  size_t *group_first; /* n_groups + 1: first unit of each group */
  size_t *group_id;    /* index in the caller's data */
  size_t *run_id;
  double *start_level; /* n_groups: ln A to begin with */
  double *start_pace;  /* n_groups: ln tau to begin with */
  double *first_time;  /* n_groups: smallest t > 0 */
  double  start_sigma;
  double  scale;       /* largest |y| */
  double  low_pace;    /* ln tau is kept between these */
  double  high_pace;
} WbCalcGrowthLayout;

/*
 * Sorts the readings, decides which groups can be fitted and fills status, counts
 * and lower_bound of all. WB_CALC_TOO_FEW when none can.
 */
WbCalcStatus wb_calc_growth_layout_new (const WbCalcGrowthData *data,
                                        WbCalcGrowthGroup      *groups,
                                        WbCalcGrowthLayout    **layout);
void         wb_calc_growth_layout_free (WbCalcGrowthLayout *layout);

typedef struct
{
  double sigma; /* all > 0 */
  double units;
  double runs;
  double paces; /* without effect with one group */
} WbCalcGrowthSpreads;

/* A point of the inner problem and its linearisation there. */
typedef struct
{
  double *a;       /* n_runs */
  double *m;       /* n_units */
  double *alpha;   /* n_groups */
  double *lambda;  /* n_groups */
  double  lambda0;
  double *saa;     /* n_runs: sums of weight f f, f g, g g with f = dD/da, g = dD/dlambda */
  double *sal;
  double *sll;
  double *ga;      /* n_runs: sums of score f, score g */
  double *gl;
  double  value;   /* minus log of the joint density */
} WbCalcGrowthPoint;

typedef struct
{
  WbCalcGrowthPoint now;
  WbCalcGrowthPoint trial;
  WbCalcGrowthPoint step;  /* its a, m, alpha, lambda, lambda0 alone are used */
  double           *pivot_run;    /* n_runs */
  double           *pivot_unit;   /* n_units */
  double           *unit_pace;    /* n_units: what couples m to lambda once the runs are gone */
  double           *unit_right;   /* n_units: right side once the runs are gone, without the unit's own pull */
  double           *var_level;    /* n_groups: of alpha */
  double           *var_pace;     /* n_groups: of lambda */
  double           *cov;          /* n_groups */
  double            minus_log_restricted;
  double           *room;         /* the one block behind all arrays */
} WbCalcGrowthMode;

WbCalcGrowthMode *wb_calc_growth_mode_new (const WbCalcGrowthLayout *layout);
void              wb_calc_growth_mode_free (WbCalcGrowthMode *mode);

/* Goes on from where `mode` stands. WB_CALC_NOT_CONVERGED when it cannot. */
WbCalcStatus wb_calc_growth_mode_find (const WbCalcGrowthLayout  *layout,
                                       const WbCalcGrowthSpreads *spreads,
                                       WbCalcGrowthMode          *mode);
