/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * gtk_widget_set_tooltip_text(), which asks the display server where the pointer is, and waits for the answer, at each
 * call on a visible widget, whether its text changes or not (GTK 4.8): this asks nothing where the text is the same or the
 * widget stands in no window yet. text: NULL, none.
 */
void wb_tooltip_set (GtkWidget *widget, const char *text);

G_END_DECLS
