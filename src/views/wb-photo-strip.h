/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachments.h"
#include "wb-app-bench.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The photos of one sample and its burns, folded away until they are wanted: a row of thumbnails, each of which opens large.
 * More come from files, from the clipboard, or dropped; they are read one after the other, off the main thread. It is read
 * only while it is open.
 *
 * Signal: "went-on" (gboolean), when one more is asked for, and when it is in the notebook, or (FALSE) is not and was told or
 * will be.
 */
#define WB_TYPE_PHOTO_STRIP (wb_photo_strip_get_type ())
G_DECLARE_FINAL_TYPE (WbPhotoStrip, wb_photo_strip, WB, PHOTO_STRIP, GtkWidget)

/* Whose photos; a NULL sample: nobody's. */
void              wb_photo_strip_show      (WbPhotoStrip *self, WbAppNotebook *notebook, WbAppBenchSample *sample);
/* Unfolds it, and puts the keyboard on its first photo, or on the button that adds; once more folds it. */
void              wb_photo_strip_toggle    (WbPhotoStrip *self);
/* Asks for files, several at once. */
void              wb_photo_strip_choose    (WbPhotoStrip *self);
/* Adds files (GFile), of the sample that shows (also NULL) or of another; unfolds itself. What cannot be read is told by the presenter. FALSE: it takes nothing. */
gboolean          wb_photo_strip_add_files (WbPhotoStrip *self, WbAppBenchSample *sample, GListModel *files);
/* Adds what the clipboard holds: files that were copied, or a picture. */
void              wb_photo_strip_paste     (WbPhotoStrip *self);
/* NULL while it is folded. Borrowed. */
WbAppAttachments *wb_photo_strip_get_photos (WbPhotoStrip *self);
/* Of so many it is not known yet how they came out. */
guint             wb_photo_strip_get_n_adding (WbPhotoStrip *self);
/* Opens a photo large. */
void              wb_photo_strip_open      (WbPhotoStrip *self, WbAppAttachmentsItem *item);

G_END_DECLS
