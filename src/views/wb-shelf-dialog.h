/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * Materials on their way in from a file: what each row would do is shown before anything is written, refused rows first. While
 * one is refused nothing is written, unless the person asks for the others. Closing it gives up what is on its way.
 */
#define WB_TYPE_SHELF_DIALOG (wb_shelf_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbShelfDialog, wb_shelf_dialog, WB, SHELF_DIALOG, GtkWindow)

/* Begins to look at once. kind: of a file that does not say of which its rows are; NULL: it must. */
GtkWidget *wb_shelf_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const WbRecordType *kind, const char *file);

G_END_DECLS
