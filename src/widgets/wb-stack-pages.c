/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-stack-pages.h"

#define FOLLOWED "wb-stack-pages"

static void
mark_pages (GtkStack *stack)
{
  GtkWidget *shown = gtk_stack_get_visible_child (stack);

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (stack)); child != NULL; child = gtk_widget_get_next_sibling (child))
    gtk_accessible_update_state (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_STATE_HIDDEN, child != shown, -1);
}

void
wb_stack_pages_hide_others (GtkStack *stack)
{
  GtkSelectionModel *pages;

  g_return_if_fail (GTK_IS_STACK (stack));

  if (g_object_get_data (G_OBJECT (stack), FOLLOWED) != NULL)
    return;
  pages = gtk_stack_get_pages (stack);
  g_object_set_data_full (G_OBJECT (stack), FOLLOWED, pages, g_object_unref);
  g_signal_connect_object (pages, "items-changed", G_CALLBACK (mark_pages), stack, G_CONNECT_SWAPPED);
  g_signal_connect (stack, "notify::visible-child", G_CALLBACK (mark_pages), NULL);
  mark_pages (stack);
}

void
wb_stack_pages_hide_below (GtkWidget *widget)
{
  g_return_if_fail (GTK_IS_WIDGET (widget));

  if (GTK_IS_STACK (widget))
    wb_stack_pages_hide_others (GTK_STACK (widget));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    wb_stack_pages_hide_below (child);
}
