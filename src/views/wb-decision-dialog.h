/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-desk.h"

G_BEGIN_DECLS

/*
 * The maker signs a decision for one vessel and scent: the recipe that leads is chosen to begin with, what crossed a limit and what
 * else speaks against the chosen one stands first, then the sentences that are signed, each of which may be edited. One that
 * crossed a limit or is not recommended is signed only with a reason.
 */
#define WB_TYPE_DECISION_DIALOG (wb_decision_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbDecisionDialog, wb_decision_dialog, WB, DECISION_DIALOG, GtkWindow)

/* desk: held. cell: a combination of the vessel and scent; 0: the first of the experiment for which nothing is signed. */
GtkWidget *wb_decision_dialog_new (GtkWidget *where, WbDesk *desk, gint64 experiment, gint64 cell);
/* Before it is shown: chosen to begin with is that combination, not the one that leads. */
void       wb_decision_dialog_begin_with (WbDecisionDialog *self, gint64 cell);

G_END_DECLS
