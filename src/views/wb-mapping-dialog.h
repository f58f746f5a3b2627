/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * A maker's own sheet on its way in: its shape, its columns, what it does not
 * say, and what would be read of it, step by step. All is proposed and can be
 * changed, and the whole can be saved and used again. Nothing is written here:
 * the last step hands the file to the import dialog, with the mapping.
 */
#define WB_TYPE_MAPPING_DIALOG (wb_mapping_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbMappingDialog, wb_mapping_dialog, WB, MAPPING_DIALOG, GtkWindow)

/* Begins to look into the file at once. */
GtkWidget *wb_mapping_dialog_new (GtkWidget *where, WbAppNotebook *notebook, const char *file);

G_END_DECLS
