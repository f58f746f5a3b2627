/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachments.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* One photo, large: its note can be changed, and it can be taken out with a reason. Owned by GTK like any toplevel. */
#define WB_TYPE_PHOTO_DIALOG (wb_photo_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbPhotoDialog, wb_photo_dialog, WB, PHOTO_DIALOG, GtkWindow)

/* `where` lies in the window to open before; code: of the sample. */
GtkWidget *wb_photo_dialog_new       (GtkWidget *where, WbAppNotebook *notebook, WbAppAttachmentsItem *item, const char *code);
/* FALSE: it is not read yet, or cannot be. */
gboolean   wb_photo_dialog_get_shown (WbPhotoDialog *self);

G_END_DECLS
