/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-badge.h"

G_BEGIN_DECLS

/* A row of Today: a badge, two lines and a remark at the end; the row's accessible name is all of them. */

/* detail and end: NULL or "": none. */
GtkWidget *wb_due_row_new  (WbBadgeKind kind, const char *word, const char *title, const char *detail, const char *end);
/* The same row with other words. */
void       wb_due_row_fill (GtkListBoxRow *row, WbBadgeKind kind, const char *word, const char *title, const char *detail, const char *end);
/* Below its two lines; the row takes it. What it says is told with the row: the string property `property` of it, as it changes. */
void       wb_due_row_add_line (GtkListBoxRow *row, GtkWidget *line, const char *property);

G_END_DECLS
