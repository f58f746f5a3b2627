/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-amend.h"
#include "wb-app-bench.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * All that was read of one sample, in this burn and earlier ones, and the facts
 * of its burns and its pour, folded away until it is wanted: each line can be
 * amended, and says so when it was. It is read only while it is open.
 */
#define WB_TYPE_READING_LOG (wb_reading_log_get_type ())
G_DECLARE_FINAL_TYPE (WbReadingLog, wb_reading_log, WB, READING_LOG, GtkWidget)

GtkWidget   *wb_reading_log_new       (void);
/* Whose record, in which units; a NULL sample: nobody's. */
void         wb_reading_log_show      (WbReadingLog *self, WbAppNotebook *notebook, WbAppBenchSample *sample, gboolean us_units);
/* The same of a sample that need not be at the bench. inner_mm: of its vessel, of two the wider; sample 0: nobody's. */
void         wb_reading_log_show_record (WbReadingLog *self, WbAppNotebook *notebook, gint64 sample, const char *code, double inner_mm,
                                         gboolean us_units);
/* For a window of its own: unfolds it, as large as there is room, and puts the keyboard on that burn once it is read; 0: on its first line. */
void         wb_reading_log_open_at    (WbReadingLog *self, gint64 burn);
/* The burn whose line is chosen; 0: none is. */
gint64       wb_reading_log_get_burn   (WbReadingLog *self);
/* Unfolds it, and puts the keyboard on its first line; once more folds it. */
void         wb_reading_log_toggle    (WbReadingLog *self);
/* Opens the form of that reading of the sample that is shown, as soon as it is read, with the keyboard at that column. */
void        wb_reading_log_amend_reading (WbReadingLog *self, gint64 reading, WbColumn column);
/* NULL while it is folded. Borrowed. */
WbAppAmend  *wb_reading_log_get_amend (WbReadingLog *self);
/* Opens the form of a line of it; of one that can be amended no more, its history. */
void         wb_reading_log_amend     (WbReadingLog *self, WbAppAmendItem *item);
/* Opens all versions of a line of it. */
void         wb_reading_log_show_history (WbReadingLog *self, WbAppAmendItem *item);

G_END_DECLS
