/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The sheet of a look at a sample that does not burn. Each line has its letter and its digits: a digit rates and goes on to
 * the next line, Enter goes on without, and behind the last line it saves. Owned by GTK like any toplevel.
 */
#define WB_TYPE_INSPECTION_DIALOG (wb_inspection_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbInspectionDialog, wb_inspection_dialog, WB, INSPECTION_DIALOG, GtkWindow)

/* `where` lies in the window to open before; rater (may be NULL): who looks, as proposed. */
GtkWidget *wb_inspection_dialog_new (GtkWidget *where, WbAppNotebook *notebook, WbAppBenchSample *sample, const char *rater);
/* What a key does on the line that has the keyboard: FALSE where it does nothing. */
gboolean   wb_inspection_dialog_press (WbInspectionDialog *self, guint keyval);
/* The rating of a field of the record ("frosting"); -1: none. */
int        wb_inspection_dialog_get_rating (WbInspectionDialog *self, const char *field);

G_END_DECLS
