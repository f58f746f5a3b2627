/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachments.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * One photo, large: its note can be changed, a copy saved as a file; where it belongs (the sample or one of its burns, and when) can be
 * said, or corrected with a reason, and it can be taken out with one. Owned by GTK like any toplevel.
 */
#define WB_TYPE_PHOTO_DIALOG (wb_photo_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbPhotoDialog, wb_photo_dialog, WB, PHOTO_DIALOG, GtkWindow)

/* `where` lies in the window to open before; sample and code: the sample's. */
GtkWidget *wb_photo_dialog_new       (GtkWidget *where, WbAppNotebook *notebook, WbAppAttachmentsItem *item, gint64 sample, const char *code);
/* FALSE: it is not read yet, or cannot be. */
gboolean   wb_photo_dialog_get_shown (WbPhotoDialog *self);

/* TRUE: the sample's burns are there to choose from. */
gboolean   wb_photo_dialog_get_ready (WbPhotoDialog *self);
/* Writes the photo as it is kept to a file, over what is there; how it came out is told in the dialog. */
void       wb_photo_dialog_save_copy (WbPhotoDialog *self, const char *path);

G_END_DECLS
