/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The user data of a call or question that may outlast the widget which began it. It does not hold the widget: only one that
 * nobody holds is disposed of, and gives up what is on its way, when it is closed. And GTK 4.8 lets a dialog that goes with the
 * window before which it stands forget that window only in its own dispose: held longer than the window, it reads what was freed.
 * Main thread.
 */

/* For one answer: one of the three below frees it, at the beginning of the callback. */
gpointer wb_weak_widget_new          (gpointer widget);
/* The widget, held, or NULL where it was closed in the meantime. */
gpointer wb_weak_widget_take         (gpointer weak);
/*
 * The same, of a call that saves. Where a dialog was closed in the meantime an error, which may be NULL, is told in the
 * window before which it stood: `what` was not saved, as in wb_problem_show().
 */
gpointer wb_weak_widget_take_or_tell (gpointer weak, const char *what, const GError *error);
/* The same, of a call that saves what a dialog was opened for. error NULL: it is saved, and the dialog closes; NULL is given. */
gpointer wb_weak_widget_take_saved   (gpointer weak, const char *what, const GError *error);

G_END_DECLS
