/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"
#include "wb-log-mapping.h"

G_BEGIN_DECLS

/*
 * A burn log on its way in: it is looked through first, and what would come in,
 * what is known already and which rows are refused by which rule is shown
 * before anything is written. Closing it cancels what is on its way. A file of
 * another form goes on to the dialog that matches its columns. Signal
 * "imported": rows have come in.
 */
#define WB_TYPE_IMPORT_DIALOG (wb_import_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbImportDialog, wb_import_dialog, WB, IMPORT_DIALOG, GtkWindow)

/* Begins to look at once. */
GtkWidget *wb_import_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const char *file);
/* The same of a maker's own sheet, by a mapping that is copied. */
GtkWidget *wb_import_dialog_new_mapped (GtkWidget *where, WbAppNotebook *notebook, const char *file, const WbLogMapping *mapping);

G_END_DECLS
