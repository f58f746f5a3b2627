/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Where a growth fit begins: A and tau of readings that share one curve, by least
 * squares over a grid of tau with A in closed form. A censored reading counts
 * only where the curve lies below it.
 */

/* tau below the first time over this: over 99.9 % of the growth was done before the first reading. */
#define WB_CALC_GROWTH_FLAT_TIMES 7.0
/* tau above the last time by this factor: A and tau only enter as A / tau. */
#define WB_CALC_GROWTH_STRAIGHT_TIMES 20.0

typedef struct
{
  double level;      /* > 0 */
  double pace;       /* > 0 */
  double sigma;      /* > 0: root mean square residual, at least 1e-4 of the largest y */
  double first_time; /* smallest t > 0 */
  double last_time;  /* largest t */
  size_t n_times;    /* different t > 0, 2 standing for "2 or more" */
  size_t n_plain;    /* different t > 0 of readings not censored, counted likewise */
  bool   straight;   /* the best tau is the largest of the grid */
} WbCalcGrowthStart;

/* WB_CALC_BAD_INPUT, WB_CALC_TOO_FEW (no t > 0), WB_CALC_ONLY_CENSORED, or WB_CALC_FLAT (nothing above 0 on the whole). */
WbCalcStatus wb_calc_growth_start (const double      *t,
                                   const double      *y,
                                   const bool        *censored,
                                   size_t             n,
                                   WbCalcGrowthStart *start);
