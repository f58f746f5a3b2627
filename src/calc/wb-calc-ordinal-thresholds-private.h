/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <math.h>

#include "wb-calc-ordinal-density-private.h"

/* The thresholds' part of the posterior, and the normal's tails that it shares with the likelihood. */

#define WB_CALC_ORDINAL_INVERSE_SQRT_2PI 0.3989422804014327

static inline double
wb_calc_ordinal_normal_density (double z)
{
  return WB_CALC_ORDINAL_INVERSE_SQRT_2PI * exp (-0.5 * z * z);
}

/* The smaller of the two tails. */
static inline double
wb_calc_ordinal_smaller_tail (double z)
{
  return 0.5 * erfc (fabs (z) * M_SQRT1_2);
}

/* Phi (b) - Phi (a) from the smaller tails of both, without loss in either tail. */
static inline double
wb_calc_ordinal_between (double a,
                         double b,
                         double tail_a,
                         double tail_b)
{
  if (a > 0.0)
    return tail_a - tail_b;
  return b < 0.0 ? tail_b - tail_a : 1.0 - tail_a - tail_b;
}

/* Where in q the gap of category m is, 1 <= m < n_categories - 1. */
size_t wb_calc_ordinal_thresholds_place (const WbCalcOrdinalDensity *density,
                                         size_t                      m);

/* tau, gap, log_gap and bend of the state from q, and q from tau at the anchor and log_gap. */
void wb_calc_ordinal_thresholds_read (const WbCalcOrdinalDensity *density,
                                      const double               *q,
                                      WbCalcOrdinalState         *state);
void wb_calc_ordinal_thresholds_write (const WbCalcOrdinalDensity *density,
                                       const WbCalcOrdinalState   *state,
                                       double                     *q);

/*
 * ln prior density of the tau. `by_tau` gets its derivatives by a shift of both
 * ends of a category (added), `by_log_gap` those by its width, its lower end held.
 */
double wb_calc_ordinal_thresholds_prior (const WbCalcOrdinalDensity *density,
                                         const WbCalcOrdinalState   *state,
                                         double                     *by_tau,
                                         double                     *by_log_gap);

/* ln |dtau / dq|. */
double wb_calc_ordinal_thresholds_jacobian (const WbCalcOrdinalDensity *density,
                                            const WbCalcOrdinalState   *state);

/* From derivatives by the tau and the widths to those by q, that of the Jacobian among them. */
void wb_calc_ordinal_thresholds_pull_back (const WbCalcOrdinalDensity *density,
                                           const WbCalcOrdinalState   *state,
                                           const double               *q,
                                           const double               *by_tau,
                                           const double               *by_log_gap,
                                           double                     *gradient);
