/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-touched.h"

G_BEGIN_DECLS

/* A decision behind which something changed: what, and what to do: a confirmation test, or the reason why none is needed. */
#define WB_TYPE_TOUCHED_DIALOG (wb_touched_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbTouchedDialog, wb_touched_dialog, WB, TOUCHED_DIALOG, GtkWindow)

/* touched: held. */
GtkWidget *wb_touched_dialog_new (GtkWidget *where, WbAppNotebook *notebook, WbAppTouched *touched);

G_END_DECLS
