/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-effects.h"
#include "wb-craft-ranking.h"

G_BEGIN_DECLS

/*
 * The answer of one experiment: figures, limits, estimates, score, ranking,
 * seed, and the last entry that it rests on. Window, commands, report and
 * exports read it and compute nothing. Immutable once made, but for effects,
 * which are worked out when first asked for; reference counted, so that a page may
 * keep the one it draws.
 */
typedef struct
{
  gatomicrefcount   ref_count;
  WbDataset        *data;
  WbCraftFigures   *figures;
  WbCraftLimits    *limits;
  WbCraftEstimates *estimates;
  WbCraftRanking   *ranking;
  GMutex            effects_lock;
  WbCraftEffects   *effects[WB_N_FIGURES]; /* NULL: not asked for yet; by wb_craft_answer_get_effects */
} WbCraftAnswer;

/* Takes `data`. earlier: as of wb_craft_estimates_new, may be NULL. seed 0: the experiment's own. NULL when stopped (data freed). */
WbCraftAnswer *wb_craft_answer_new   (WbDataset *data, WbCraftEarlier *earlier, WbCraftWithin within, guint64 seed,
                                      WbCraftKeepGoing keep_going, gpointer user);
/*
 * The same answer, to the bit, of which nothing is worked out again that `before`, the memo of
 * this experiment's last answer (in its estimates), has for the same values: a new reading
 * costs the fits of its own figure and stage. before: may be NULL; not kept.
 */
WbCraftAnswer *wb_craft_answer_new_after (WbCraftMemo *before, WbDataset *data, WbCraftEarlier *earlier,
                                          WbCraftWithin within, guint64 seed, WbCraftKeepGoing keep_going, gpointer user);
WbCraftAnswer *wb_craft_answer_ref   (WbCraftAnswer *self);
void           wb_craft_answer_unref (WbCraftAnswer *self);
/*
 * The effects of a figure, which the answer keeps: worked out the first time, which
 * takes seconds where readings are many, so not on the main thread. From any thread;
 * one that asks while another works the same figure out works it out too, and the first
 * to end is kept. It is not cut short: a caller that cancels only lets go of it.
 */
const WbCraftEffects *wb_craft_answer_get_effects (const WbCraftAnswer *self, WbFigure figure);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftAnswer, wb_craft_answer_unref)

G_END_DECLS
