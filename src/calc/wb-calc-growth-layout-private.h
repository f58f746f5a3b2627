/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-growth.h"
#include "wb-calc-status.h"

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
  size_t *unit_id;
  double *start_level; /* n_groups: ln A to begin with */
  double *start_pace;  /* n_groups: ln tau to begin with */
  double *first_time;  /* n_groups: smallest t > 0 */
  double  start_sigma;
  double  scale;       /* largest |y| */
  bool    noise_untold; /* too few plain readings to tell the noise of one by */
} WbCalcGrowthLayout;

/*
 * Sorts the readings, decides which groups can be fitted and fills status, counts
 * and lower_bound of all. WB_CALC_TOO_FEW when none can. Where groups borrow from
 * each other, one whose readings all are censored takes part too. pace_known: there
 * is an opinion on how far paces differ, so that one group's is enough to go by. noise_known:
 * there is one on a reading's noise, for readings that cannot tell it.
 */
WbCalcStatus wb_calc_growth_layout_new (const WbCalcGrowthData *data,
                                        bool                    pace_known,
                                        bool                    noise_known,
                                        WbCalcGrowthGroup      *groups,
                                        WbCalcGrowthLayout    **layout);
void         wb_calc_growth_layout_free (WbCalcGrowthLayout *layout);
