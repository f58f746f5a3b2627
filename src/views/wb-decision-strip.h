/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-decision.h"
#include "wb-desk.h"

G_BEGIN_DECLS

/*
 * What was decided for a vessel and scent: that nothing is yet, or what was signed by whom and when, and whether it still stands. Its
 * buttons sign, sign anew and withdraw. Reads by itself, off the main thread, each time that it is shown something.
 *
 * CSS node: decisionstrip. Actions (group "decision"): decision.sign, decision.withdraw, and of what is signed decision.card and
 * decision.production, in the menu "Papers".
 */
#define WB_TYPE_DECISION_STRIP (wb_decision_strip_get_type ())
G_DECLARE_FINAL_TYPE (WbDecisionStrip, wb_decision_strip, WB, DECISION_STRIP, GtkWidget)

/* answer NULL: nothing; it is held, and so is the desk. group: of its ranking. */
void                wb_decision_strip_show         (WbDecisionStrip *self, WbDesk *desk, WbCraftAnswer *answer, guint group);
/* The decision that it tells of, however it stands; NULL: none, or not read yet. Borrowed. */
const WbAppTouched *wb_decision_strip_get_decision (WbDecisionStrip *self);
/* What it was shown; NULL: nothing. Borrowed. */
WbCraftAnswer      *wb_decision_strip_get_answer   (WbDecisionStrip *self);

/* One below the other, where letters are so large that they do not fit beside each other. */
void       wb_decision_strip_set_tall (WbDecisionStrip *self, gboolean tall);

G_END_DECLS
