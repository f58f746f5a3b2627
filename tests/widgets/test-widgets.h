/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

/* A window that shows the widget; destroyed by test_window_destroy, which asserts that the widget goes with it. */
GtkWidget *test_window_new     (GtkWidget *child);
void       test_window_destroy (GtkWidget *window, GtkWidget *child);
/* The first descendant of that type, the widget itself included; NULL: none. */
GtkWidget *test_find           (GtkWidget *widget, GType type);
/* Presses a key on the widget that has the focus, through its own and its parents' key controllers. */
gboolean   test_press          (GtkWidget *widget, guint keyval);

void       test_chart_view_add     (void);
void       test_grey_add          (void);
void       test_key_choice_add     (void);
void       test_pool_entry_add     (void);
void       test_quantity_entry_add (void);
void       test_rating_bar_add     (void);
void       test_record_form_add    (void);
void       test_stack_pages_add    (void);
void       test_time_entry_add     (void);
void       test_vessel_side_add (void);
void       test_vessel_top_add     (void);
