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

G_END_DECLS
