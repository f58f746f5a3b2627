/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ranking.h"

G_BEGIN_DECLS

/* Has a sample of the cell that counts crossed a limit that is on? */
gboolean wb_craft_verdict_has_crossed (const WbCraftLimits *limits,
                                       guint                cell);

/*
 * The verdict on a ranked cell and its reasons, in order:
 *
 *   rejected          a sample that counts crossed a limit; or, once every stage was
 *                     read, the chance of being near the best is below 2 in 100 and
 *                     the mean distance to it above 0.1
 *   too_little_data   fewer than two standard burns count, or its pool tells no time
 *                     to a full melt pool
 *   recommended       the protocol's number of samples burnt to its stated end, flame
 *                     and temperature limits read in the last third on as many, chance
 *                     near the best at least 0.9, of crossing at most 0.05
 *   candidate         the rest, with what is missing in words
 *
 * Needs p_near, p_cross, expected_loss, parts of `ranked`; fills verdict and adds to reasons.
 */
void wb_craft_verdict_judge (const WbDataset        *data,
                             const WbCraftFigures   *figures,
                             const WbCraftLimits    *limits,
                             const WbCraftEstimates *estimates,
                             WbCraftRanked          *ranked);

/* "82 in 100", "fewer than 1 in 100", "more than 99 in 100". Caller frees. */
char *wb_craft_dup_chance (double p);

G_END_DECLS
