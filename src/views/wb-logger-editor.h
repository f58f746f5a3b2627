/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-logger.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * How a logger's file is read: the shape of its table, which column is the time and of which kind, which are temperatures and
 * where each sensor sat. What is proposed stands in it and can be changed. Signal: "changed", when a person changed something.
 */
#define WB_TYPE_LOGGER_EDITOR (wb_logger_editor_get_type ())
G_DECLARE_FINAL_TYPE (WbLoggerEditor, wb_logger_editor, WB, LOGGER_EDITOR, GtkWidget)

/* names: of the file's columns. */
void            wb_logger_editor_set        (WbLoggerEditor *self, const WbLoggerChoice *choice, const char *const *names);
/* As it stands; NULL before the first was set. Caller owns it. */
WbLoggerChoice *wb_logger_editor_dup_choice (WbLoggerEditor *self);
/* As if a person did: columns of temperatures, from 0; name NULL takes it off. For tests. */
void            wb_logger_editor_choose     (WbLoggerEditor *self, guint column, const char *name, WbLoggerPlace place);
void            wb_logger_editor_set_offset (WbLoggerEditor *self, double minutes);

/* The encoding by which the file was read, for people; borrowed. */
const char     *wb_logger_editor_get_encoding_title (WbLoggerEditor *self);
/* As a person chooses another; as iconv calls it. */
void            wb_logger_editor_set_encoding       (WbLoggerEditor *self, const char *encoding);

G_END_DECLS
