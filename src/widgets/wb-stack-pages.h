/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * GTK 4.8 shows all pages of a stack to assistive technology, as if all were on the screen. From this call on, pages
 * that do not show are hidden from it, for the stack and for pages that it gets later.
 */
void wb_stack_pages_hide_others (GtkStack *stack);
/* The same for every stack at and below `widget` as it is now; calling it again does no harm. */
void wb_stack_pages_hide_below  (GtkWidget *widget);

G_END_DECLS
