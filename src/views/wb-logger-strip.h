/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-attachments.h"
#include "wb-app-bench.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The files of temperature loggers that are kept with the burns of one sample, folded away until they are wanted: each says what
 * it found beside the limits, and opens its chart. It is read only while it is open.
 */
#define WB_TYPE_LOGGER_STRIP (wb_logger_strip_get_type ())
G_DECLARE_FINAL_TYPE (WbLoggerStrip, wb_logger_strip, WB, LOGGER_STRIP, GtkWidget)

/* Whose files, in which units; a NULL sample: nobody's. */
void              wb_logger_strip_show      (WbLoggerStrip *self, WbAppNotebook *notebook, WbAppBenchSample *sample, gboolean us_units);
/* Unfolds it, and puts the keyboard on its first file, or on the button that adds; once more folds it. */
void              wb_logger_strip_toggle    (WbLoggerStrip *self);
/* Asks for a file, and then how it is read. */
void              wb_logger_strip_choose    (WbLoggerStrip *self);
/* The second half of that, of the sample that shows (NULL) or of another. Returns the dialog, owned by GTK; NULL: nobody's, or the notebook cannot be written. */
GtkWidget        *wb_logger_strip_add_file  (WbLoggerStrip *self, WbAppBenchSample *sample, GFile *file);
/* Opens a kept one. Returns the dialog, owned by GTK. */
GtkWidget        *wb_logger_strip_open      (WbLoggerStrip *self, WbAppAttachmentsItem *item);
/* NULL while it is folded. Borrowed. */
WbAppAttachments *wb_logger_strip_get_files (WbLoggerStrip *self);

G_END_DECLS
