/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-lot-trace.h"

G_BEGIN_DECLS

/*
 * Where a lot was used: decisions, melts and samples that rest on it, as a recall needs them. Enter goes to one of them in the
 * window; all of it can be saved as CSV.
 */
#define WB_TYPE_LOT_DIALOG (wb_lot_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbLotDialog, wb_lot_dialog, WB, LOT_DIALOG, GtkWindow)

GtkWidget           *wb_lot_dialog_new       (GtkWidget *where, WbAppNotebook *notebook, gint64 material, const char *code);
/* Borrowed; NULL: not read yet. */
const WbAppLotTrace *wb_lot_dialog_get_trace (WbLotDialog *self);

G_END_DECLS
