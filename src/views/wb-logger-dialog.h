/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-logger.h"
#include "wb-logger-editor.h"

G_BEGIN_DECLS

/*
 * A temperature logger's file beside a burn. A new one: which columns are taken, its series drawn beside what was read, what
 * they say of the limits, the rows that are refused and those that lie outside of the burn; keeping it is one entry. A kept
 * one: the same to look at, and to be taken out with a reason. Owned by GTK like any toplevel.
 */
#define WB_TYPE_LOGGER_DIALOG (wb_logger_dialog_get_type ())
G_DECLARE_FINAL_TYPE (WbLoggerDialog, wb_logger_dialog, WB, LOGGER_DIALOG, GtkWindow)

/* `where` lies in the window to open before. */
GtkWidget      *wb_logger_dialog_new        (GtkWidget *where, WbAppNotebook *notebook, WbAppBenchSample *sample, GFile *file, gboolean us_units);
GtkWidget      *wb_logger_dialog_new_kept   (GtkWidget *where, WbAppNotebook *notebook, WbAppBenchSample *sample, const WbAttachment *kept,
                                             gboolean us_units);
/* Borrowed, for tests. NULL while it is being read. */
const WbAppLogger *wb_logger_dialog_get_logger (WbLoggerDialog *self);
WbLoggerEditor *wb_logger_dialog_get_editor (WbLoggerDialog *self);

G_END_DECLS
