/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Every shortcut stands in one table (wb-shortcut.c): the application's accelerators and the shortcuts window are made from it. */
void       wb_shortcuts_install    (GtkApplication *application);
/* The keys of an action by its detailed name, as a person reads them: "Alt+S"; NULL: it has none. Caller frees. */
char      *wb_shortcut_dup_label    (const char *action);
/* A list of them; owned by GTK like any toplevel. */
GtkWidget *wb_shortcuts_window_new (GtkWindow *parent);

G_END_DECLS
