/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "world-truth.h"

/*
 * Somebody who knows how the worlds are drawn, every spread and every habit of the lab, and reads the cells of the first
 * experiments without any error, pour and vessel × wick in them: but must learn the coefficients of this world from them. What
 * is lost against the oracle is what so few cells can tell; what the program loses against this, it loses itself, or by
 * its readings.
 *
 * Given the strengths of the wicks and how each figure grows with strength, all figures of all cells are jointly normal; the
 * two are drawn in turn, each from its own normal distribution given the other and the cells (Gibbs sampling: Geman and Geman, IEEE
 * Trans. Pattern Anal. 6 (1984) 721). Coefficients that were drawn uniformly count as normal ones of the same mean and spread.
 */

#define WORLD_INFORMED_DRAWS 64

typedef struct
{
  double score[WORLD_INFORMED_DRAWS];         /* of the recipe */
  double width[WORLD_N_PLACES][WORLD_N_SAID]; /* of the 90 % interval of the recipe */
  double log_limit[WORLD_INFORMED_DRAWS];     /* ln D-inf of the recipe, as drawn */
} WorldInformed;

/*
 * Of each wick, n_wicks long, after the first `earlier` experiments; g_free. by_candles: it has the means of the candles that were
 * burnt instead of the cells' true values, as world_values_init() has them. From any thread.
 */
WorldInformed *world_informed_new    (const World *self, const GPtrArray *aims, guint earlier, gboolean by_candles);
/* The three that it takes; returns its chance that they hold the best. */
double         world_informed_choose (const World *self, const WorldInformed *informed, const gboolean *asked, gboolean *chosen);
