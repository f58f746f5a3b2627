/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A window's bar for problems: heading and sentence stay until closed or replaced. Hidden while there is none. */
#define WB_TYPE_PROBLEM_BAR (wb_problem_bar_get_type ())
G_DECLARE_FINAL_TYPE (WbProblemBar, wb_problem_bar, WB, PROBLEM_BAR, GtkWidget)

void        wb_problem_bar_show     (WbProblemBar *self, const char *heading, const char *detail);
void        wb_problem_bar_clear    (WbProblemBar *self);
/* "" while hidden. */
const char *wb_problem_bar_get_heading (WbProblemBar *self);

G_END_DECLS
