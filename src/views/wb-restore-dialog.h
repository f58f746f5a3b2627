/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The backups of a notebook: when each was made, how far it goes, what is different between it and the notebook. The chosen one
 * becomes a new notebook beside the old one, or elsewhere; never over it. Of a damaged one, what can be read becomes one too, and what is lost is listed. For a notebook that is open, and for one that
 * cannot be opened.
 */
#define WB_TYPE_RESTORE_DIALOG (wb_restore_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbRestoreDialog, wb_restore_dialog, WB, RESTORE_DIALOG, GtkWindow)

/* path: of the notebook. who: whose name the new one's entry carries; NULL: nobody's. problem: why it cannot be opened; NULL: it can. */
GtkWidget *wb_restore_dialog_new (GtkWidget *where, const char *path, const char *who, const char *problem);

G_END_DECLS
