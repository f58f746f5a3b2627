/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The one presenter of errors. It turns a GError of any domain into a heading
 * and a sentence for people, and shows them in the bar of the window that
 * `where` lies in, or in a dialog where that is no window with a bar.
 */

/* what: the thing that did not work, as a clause of its own: _("The reading was not saved"); NULL: by the error alone.
 * A cancelled operation is no problem and shows nothing. The error is borrowed. */
void wb_problem_show      (GtkWidget *where, const char *what, const GError *error);
/* What did not work has worked by now: takes it off the window's bar, if it stands there. */
void wb_problem_clear     (GtkWidget *where, const char *what);
/* The words alone, for a field or a status line; both may be NULL if not wanted. Caller frees. */
void wb_problem_dup_words (const char *what, const GError *error, char **heading, char **detail);
/* Into the label that a dialog or a form keeps for it; NULL: there is no problem, and the label goes. */
void wb_problem_tell      (GtkLabel *label, const char *text);
/* The same of an error, in a sentence. */
void wb_problem_tell_error (GtkLabel *label, const GError *error);

G_END_DECLS
