/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-foretell-private.h"
#include "wb-craft-ladder.h"

G_BEGIN_DECLS

/* A further step with nothing foretold; the ladder owns it. */
WbCraftLadderStep *wb_craft_ladder_add_step    (WbCraftLadder         *self,
                                                const WbWick          *wick);
WbCraftLadderStep *wb_craft_ladder_get_step    (const WbCraftLadder   *self,
                                                guint                  index);
/* "Larch L-2, Larch L-3": what is on the ladder. Caller frees. */
char              *wb_craft_ladder_dup_names   (const WbCraftLadder   *self);
/* "78.0 mm", "78.0 mm with 3 wicks in it": the vessel that the answer is for. Caller frees. */
char              *wb_craft_ladder_dup_place   (const WbCraftLadder   *self);

/*
 * From the score of the recipes, which are the steps in their order: fills p_best, p_near, score, in_ladder, in_run of every step,
 * p_holds_best, p_run_holds_best, p_wider_holds_best and wider. The ladder is the steps with the largest
 * p_best, of whatever series; shorter than asked where no other may be the best. `barred`: a step that crosses a limit, as its own burns or those
 * of a smaller size show: it is worth nothing.
 */
void               wb_craft_ladder_pick        (WbCraftLadder         *self,
                                                const WbCraftScore    *score,
                                                const gboolean        *barred);
/* Fills what is foretold of every step in figures, p_cross, p_right and p_none. */
void               wb_craft_ladder_tell        (WbCraftLadder         *self,
                                                const WbCraftForetell *foretell,
                                                const WbCraftScore    *score,
                                                const gboolean        *barred);
/* Fills `nearest` of every step. */
void               wb_craft_ladder_find_nearest (WbCraftLadder        *self,
                                                 const WbCraftSchool  *school,
                                                 const GArray         *seats);
/*
 * Fills warnings and notes, of whatever it rests on. upper: the index of the step, of those that were themselves burnt, that leads by the upper
 * third alone, where nothing below it was read of them; G_MAXUINT: more was read, or nothing was burnt. school may be NULL.
 */
void               wb_craft_ladder_put_notes   (WbCraftLadder         *self,
                                                const WbCraftSchool   *school,
                                                const GPtrArray       *wicks,
                                                const GPtrArray       *waxes,
                                                guint                  upper);
/* What the notebook's maker has signed for the vessel and wax that are asked about, a sentence each, into warnings. */
void               wb_craft_ladder_note_decisions (WbCraftLadder      *self,
                                                   const GPtrArray    *wicks,
                                                   const GPtrArray    *waxes);
/* How far the answer is to be doubted: that as many wicks were never burnt in one vessel, and that likelier than not none is right; into warnings. */
void               wb_craft_ladder_warn_of_doubt (WbCraftLadder       *self,
                                                  const WbCraftSchool *school);
/* Why one that is much likelier right than one on the ladder is not on it; into notes. */
void               wb_craft_ladder_note_left_out (WbCraftLadder       *self);
/* The vessel of the notebook that is meant; NULL: none, or it is not among them. */
const WbVessel    *wb_craft_ladder_find_vessel (const WbCraftLadder   *self);
/* Fills reason and outside of every step, answer and learnt. */
void               wb_craft_ladder_put_words   (WbCraftLadder         *self,
                                                const WbCraftForetell *foretell,
                                                const WbCraftScore    *score);

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
