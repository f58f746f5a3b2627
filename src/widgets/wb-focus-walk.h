/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * For a class that takes the focus by handing it to a child (its grab_focus does): its `focus` is this. GTK's own asks such a
 * widget to take the focus when the keyboard leaves it backwards, and Shift+Tab would never come out of it.
 */
gboolean wb_focus_walk           (GtkWidget *widget, GtkDirectionType direction);
/* The keyboard is in a widget below this one. */
gboolean wb_focus_walk_is_within (GtkWidget *widget);
/*
 * For an expander once it has its child: GTK 4.8 walks into a folded child too, though that stands in no window then, and
 * complains. From this call on a folded child is passed over.
 */
void     wb_focus_walk_fold      (GtkExpander *expander);
/* Unfolds it; where it is open and has the keyboard, folds it. TRUE: it is open, and the keyboard may go to what is in it. */
gboolean wb_focus_walk_toggle    (GtkExpander *expander);

G_END_DECLS
