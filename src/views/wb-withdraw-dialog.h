/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-decision.h"

G_BEGIN_DECLS

/* A signed decision is taken back, with the maker's reason, which the record keeps. Undo brings the decision back. */
#define WB_TYPE_WITHDRAW_DIALOG (wb_withdraw_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbWithdrawDialog, wb_withdraw_dialog, WB, WITHDRAW_DIALOG, GtkWindow)

/* decision: held. */
GtkWidget *wb_withdraw_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const WbAppTouched *decision);

G_END_DECLS
