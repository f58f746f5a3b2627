/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-query.h"
#include "wb-craft-ladder.h"
#include "wb-desk.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * What a wick ladder is asked for: the vessel, one of the materials or a diameter alone, wax, load and its basis, fragrance, how many wicks
 * in the vessel, coldest and warmest room, how many sizes. Signal "changed": the person chose or typed something else.
 */
#define WB_TYPE_LADDER_QUESTION (wb_ladder_question_get_type ())
G_DECLARE_FINAL_TYPE (WbLadderQuestion, wb_ladder_question, WB, LADDER_QUESTION, GtkWidget)

/* Names of the materials to choose from and the notebook's units, both borrowed until the next call; NULL: none. What was chosen and typed stays. */
void     wb_ladder_question_set_materials (WbLadderQuestion *self, WbDesk *desk, const WbAppMaterials *materials);
/*
 * FALSE where nothing can be asked: what is wrong with a field stands below it then, and what is still to be done in *why (translated,
 * "" where there is nothing more to say; caller frees). Texts are borrowed from the materials.
 */
gboolean wb_ladder_question_read          (WbLadderQuestion *self, WbCraftLadderQuestion *question, char **why);
/* Ids of what is chosen; 0: none, or a diameter alone. */
gint64   wb_ladder_question_get_vessel    (WbLadderQuestion *self);
gint64   wb_ladder_question_get_wax       (WbLadderQuestion *self);
gint64   wb_ladder_question_get_fragrance (WbLadderQuestion *self);
/* There is none among the materials, and a load is asked for. */
gboolean wb_ladder_question_lacks_fragrances (WbLadderQuestion *self);
/*
 * Where a load is asked for and no fragrance is chosen: the keyboard goes to the fragrances, and what is to be done comes back (translated,
 * caller frees). NULL: nothing is.
 */
char    *wb_ladder_question_ask_fragrance (WbLadderQuestion *self);
/* To begin with, in % of its basis, until the person types another. */
void     wb_ladder_question_offer_load    (WbLadderQuestion *self, double load_pct, WbBasis basis);
/* As if the person had chosen it; nothing where it is not among the materials. */
void     wb_ladder_question_choose_vessel (WbLadderQuestion *self, gint64 vessel);

G_END_DECLS
