/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * A small table of texts with heads, in a place of its own that scrolls sideways and takes the keyboard for that; the wheel goes
 * on to what is around it. Heads and names of rows stay in sight. Accessible: a group named by what the table is, each cell read
 * with its heads.
 */
#define WB_TYPE_TEXT_TABLE (wb_text_table_get_type ())
G_DECLARE_FINAL_TYPE (WbTextTable, wb_text_table, WB, TEXT_TABLE, GtkWidget)

/* name: accessible. */
GtkWidget  *wb_text_table_new      (const char *name);
/* Where the table has a place alone: it scrolls up and down, too, with the bars at that place's edges. */
void        wb_text_table_fill_place (WbTextTable *self);
void        wb_text_table_clear    (WbTextTable *self);
/* Heads of the columns, the first that of the rows' names; NULL-terminated, copied. */
void        wb_text_table_set_heads (WbTextTable *self, const char *const *heads);
/* A widget before a column's head, such as a swatch; taken. After the heads. */
void        wb_text_table_add_to_head (WbTextTable *self, guint column, GtkWidget *widget);
/* The row's name and a cell a column; NULL-terminated, copied. A cell of several lines is told below the first in small letters. */
void        wb_text_table_add_row  (WbTextTable *self, const char *const *cells);
/* Of the last row: that column's cell stands out. */
void        wb_text_table_stress   (WbTextTable *self, guint column);
guint       wb_text_table_get_n_rows (WbTextTable *self);
/* As it was given; NULL: no such cell. Borrowed. */
const char *wb_text_table_get_cell (WbTextTable *self, guint row, guint column);

G_END_DECLS
