/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-foretell-private.h"
#include "wb-craft-ladder.h"

G_BEGIN_DECLS

/* A further step with nothing foretold; the ladder owns it. */
WbCraftLadderStep *wb_craft_ladder_add_step    (WbCraftLadder         *self,
                                                const WbWick          *wick);
/* When the full melt pool is due, h: an hour an inch of inner diameter. */
double             wb_craft_ladder_due_h       (const WbCraftLadder   *self);
/* "Larch L-2, Larch L-3": what is on the ladder. Caller frees. */
char              *wb_craft_ladder_dup_names   (const WbCraftLadder   *self);

/*
 * From n recipes foretold in each of the draws, in the order of the steps: fills
 * every step's p_right, p_best and in_ladder, and p_holds_best. The ladder is built
 * step by step, each the one that makes it likeliest that the ladder holds a right
 * size; shorter than asked where no other may be right.
 */
void               wb_craft_ladder_pick        (WbCraftLadder         *self,
                                                const WbCraftForetold *foretold,
                                                guint                  n,
                                                guint                  draws);

/* How far the diameter that one wick of the question serves lies outside what its supplier recommends, mm: 0 within; NAN: no recommendation. */
double             wb_craft_ladder_supplier_gap_mm (const WbCraftLadderQuestion *question,
                                                    const WbWick                *wick,
                                                    const GPtrArray             *guides,
                                                    const GPtrArray             *waxes);
/* The diameter that each of several wicks serves, mm: they share the section. */
double             wb_craft_ladder_served_mm   (const WbCraftLadderQuestion *question);

/* Steps, ladder and answer from the supplier's recommendations; FALSE: there are none for these wicks. */
gboolean           wb_craft_ladder_by_supplier (WbCraftLadder         *self,
                                                const GPtrArray       *wicks,
                                                const GPtrArray       *guides,
                                                const GPtrArray       *waxes);

G_END_DECLS
