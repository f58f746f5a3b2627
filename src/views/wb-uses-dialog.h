/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-query.h"

G_BEGIN_DECLS

/*
 * Why a material stays: a line for each experiment, blend, recommendation and lot that has to do with it. Enter, or a click, closes
 * the dialog and goes there in the window; of a lot it opens where that was used.
 */
#define WB_TYPE_USES_DIALOG (wb_uses_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbUsesDialog, wb_uses_dialog, WB, USES_DIALOG, GtkWindow)

/* title: of the material. uses: WbAppUse, a reference is kept. */
GtkWidget *wb_uses_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const char *title, GPtrArray *uses);

G_END_DECLS
