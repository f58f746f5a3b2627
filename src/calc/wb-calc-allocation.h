/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdbool.h>
#include <stddef.h>

#include "wb-calc-status.h"

/*
 * Where further observations tell soonest which of several alternatives has the best mean: optimal computing budget allocation.
 * With b the best so far, d_i its distance from i, v_i the variance of one observation and c_i its cost, the chance of a right
 * choice (its bound by Bonferroni) is largest, for many observations, where their numbers N, those had before included, keep to
 *
 *   N_i : N_j = v_i / d_i^2 : v_j / d_j^2        for all but b
 *   N_b = sqrt (v_b sum over i not b of (c_i / c_b) N_i^2 / v_i)
 *
 * Sources: Chen, Lin, Yuecesan and Chick, Discrete Event Dynamic Systems 10 (2000) 251, theorem 1, for equal costs; with the costs in
 * the constraint, sum of c N = budget, the same Lagrangian gives c_i / c_b. What has had more than its share already gets nothing, and
 * the others share the rest.
 */
typedef struct
{
  double mean;
  double variance; /* of one observation, above 0 */
  double had;      /* observations that the mean rests on, 0 or more */
  double cost;     /* of one further, above 0 */
  bool   excluded; /* it cannot be chosen: it is not the best and gets nothing; its numbers still have to be in order */
} WbCalcAllocationAlternative;

typedef struct
{
  bool   larger;       /* the largest mean is the best, else the smallest */
  double budget;       /* for what is further, in the unit of cost; 0 or more */
  double indifference; /* a distance below this counts as this, 0 or more; with 0 a dead heat counts as a millionth of the largest spread */
} WbCalcAllocationQuestion;

/*
 * `further`, n long: numbers that are not whole; their costs make the budget. Of several that are best to the bit the first is b. Fails
 * with WB_CALC_BAD_INPUT, also where the numbers are too far apart for a double, and WB_CALC_TOO_FEW where fewer than two can be chosen.
 */
WbCalcStatus wb_calc_allocation_share (const WbCalcAllocationAlternative *alternatives,
                                       size_t                             n,
                                       const WbCalcAllocationQuestion    *question,
                                       double                            *further);

/*
 * The same in whole observations, by largest remainders: each share rounded down, then up where the most is missing and the budget
 * still pays for it. Where all costs are 1 and the budget is whole they add up to it; else what is left pays for none that is due.
 * WB_CALC_BAD_INPUT also for more than 2^53 of one.
 */
WbCalcStatus wb_calc_allocation_count (const WbCalcAllocationAlternative *alternatives,
                                       size_t                             n,
                                       const WbCalcAllocationQuestion    *question,
                                       size_t                            *further);
