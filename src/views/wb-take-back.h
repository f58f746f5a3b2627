/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Undo and redo of the notebook that is open in the window of `where`: each says in the window's lowest line what it took back or
 * brought back. Undo never reaches past an import, a command or a restore on its own: it asks, and names both. One at a time.
 */
void wb_take_back_undo (GtkWidget *where);
void wb_take_back_redo (GtkWidget *where);

/* Names a button by its verb and what it would take back, or do again; NULL: nothing. Both are translated. */
void wb_take_back_name (GtkWidget *button, const char *verb, const char *what);

G_END_DECLS
