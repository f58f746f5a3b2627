/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * A table for a terminal: columns as wide as their widest cell, two spaces
 * between them, numbers to the right. Width counts what a terminal shows:
 * double for wide characters, nothing for combining ones.
 */
typedef struct _WbCommandsTable WbCommandsTable;

typedef enum { WB_COMMANDS_LEFT, WB_COMMANDS_RIGHT } WbCommandsAlign;

WbCommandsTable *wb_commands_table_new        (void);
void             wb_commands_table_free       (WbCommandsTable *self);
/* Columns first, then rows. */
void             wb_commands_table_add_column (WbCommandsTable *self, const char *title, WbCommandsAlign align);
/* A cell of the current row, which begins after the last column's cell; NULL: empty. Line breaks and tabs become spaces. */
void             wb_commands_table_add        (WbCommandsTable *self, const char *text);
/* Takes the text. */
void             wb_commands_table_take       (WbCommandsTable *self, char *text);
/* The lines, each ended by a line feed, without spaces at their ends. Caller frees. */
char            *wb_commands_table_to_text    (WbCommandsTable *self);
/* Writes it to standard output. */
void             wb_commands_table_print      (WbCommandsTable *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCommandsTable, wb_commands_table_free)

G_END_DECLS
