/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-amend.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Every version of one record of a sample, as it was written first at the top
 * and as it stands now at the end: when, by whom, why, and what became of which
 * value. Amendments that were undone are there too. Nothing to be changed.
 */
#define WB_TYPE_HISTORY_DIALOG (wb_history_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbHistoryDialog, wb_history_dialog, WB, HISTORY_DIALOG, GtkWindow)

/* where: in the window to show in front of; it is told there if the record cannot be read. code: the sample's. */
GtkWidget *wb_history_dialog_new      (GtkWidget *where, WbAppNotebook *notebook, WbAppAmendItem *item, const char *code,
                                       gboolean us_units);
/* How many versions show; 0: not read yet. */
guint      wb_history_dialog_get_n    (WbHistoryDialog *self);

G_END_DECLS
