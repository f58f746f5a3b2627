/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The user data of a call or question that may outlast the widget which began it. It does not hold the widget: a dialog of GTK 4.8
 * that goes after the window before which it stood asks that window all the same, and only one that nobody holds is disposed of, and
 * gives up what is on its way, when it is closed.
 */
gpointer wb_weak_widget_new  (gpointer widget);
/* Once, at the beginning of the callback: the widget, held, or NULL where it was closed in the meantime. */
gpointer wb_weak_widget_take (gpointer weak);

G_END_DECLS
