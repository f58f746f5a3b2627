/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ladder.h"
#include "wb-desk.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * A wick ladder for people: the answer, how sure it is and on what it rests, the drawing, why each wick is on it, and all wicks in numbers.
 * Signal "opened" (gint64 experiment): an earlier test was chosen.
 */
#define WB_TYPE_LADDER_ANSWER (wb_ladder_answer_get_type ())
G_DECLARE_FINAL_TYPE (WbLadderAnswer, wb_ladder_answer, WB, LADDER_ANSWER, GtkWidget)

/* ladder: borrowed until the next call; both NULL: nothing is shown. */
void         wb_ladder_answer_set       (WbLadderAnswer *self, WbDesk *desk, const WbCraftLadder *ladder);
/* What is shown is of another question, or older than the notebook: it stands there until the new answer comes, told as such. */
void         wb_ladder_answer_set_stale (WbLadderAnswer *self, gboolean stale);
/* Why its wicks cannot be tested now, a sentence; NULL: they can. */
void         wb_ladder_answer_say_grey  (WbLadderAnswer *self, const char *why);
gboolean     wb_ladder_answer_has_drawing  (WbLadderAnswer *self);
/* Asks where to; nothing where there is no drawing. */
void         wb_ladder_answer_save_drawing (WbLadderAnswer *self);

G_END_DECLS
