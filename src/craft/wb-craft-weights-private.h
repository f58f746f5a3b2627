/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ranked.h"
#include "wb-craft-score-private.h"

G_BEGIN_DECLS

/*
 * How far each weight can move, all others left as they are, before another cell has
 * the highest expected score: the weight is multiplied by 1 to 8 and by 1 to 1/8, then
 * set to 0, and the kept candles of the score are weighed anew, the weighted geometric
 * mean of the desirabilities, times the chance of crossing no limit. What the change
 * does to the kept candles is added to the mean over all draws, so that at the weight as
 * it is the answer is the ranking's own. Between the last of the steps (of a factor 2)
 * at which the winner stays and the first at which it does not, bisection to 1 %. Of many
 * cells an eighth of the kept draws picks at each step the two that come nearest to the
 * leader, or pass it; only these are weighed with all of them.
 *
 * members, failed: of the score; one that failed cannot win. Returns WbCraftWeight, an
 * aim that counts each; none where fewer than two cells can win or nothing scores above 0.
 */
GArray *wb_craft_weights_new (const WbCraftScore *score,
                              const guint        *members,
                              const gboolean     *failed);

G_END_DECLS
