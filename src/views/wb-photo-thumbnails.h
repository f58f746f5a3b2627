/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachments.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The rows of a list of photos (WbAppAttachmentsItem): a thumbnail, where it belongs, and its note. Thumbnails are decoded
 * off the main thread, one after the other, as the rows come into sight. To be disposed of (g_object_run_dispose) when
 * the list goes.
 */
#define WB_TYPE_PHOTO_THUMBNAILS (wb_photo_thumbnails_get_type ())
G_DECLARE_FINAL_TYPE (WbPhotoThumbnails, wb_photo_thumbnails, WB, PHOTO_THUMBNAILS, GObject)

/* code: of the sample. Caller owns it. */
WbPhotoThumbnails  *wb_photo_thumbnails_new         (WbAppNotebook *notebook, const char *code);
/* Borrowed. */
GtkListItemFactory *wb_photo_thumbnails_get_factory (WbPhotoThumbnails *self);

G_END_DECLS
