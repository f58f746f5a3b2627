/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-focus-walk.h"

static gboolean
goes_back (GtkDirectionType direction)
{
  return direction == GTK_DIR_TAB_BACKWARD || direction == GTK_DIR_UP || direction == GTK_DIR_LEFT;
}

static GtkWidget *
next_child (GtkWidget *child,
            gboolean   back)
{
  return back ? gtk_widget_get_prev_sibling (child) : gtk_widget_get_next_sibling (child);
}

/* A focus child is remembered after the focus has gone: only the window knows where it is. */
gboolean
wb_focus_walk_is_within (GtkWidget *widget)
{
  GtkRoot *root;
  GtkWidget *focus;

  g_return_val_if_fail (GTK_IS_WIDGET (widget), FALSE);

  root = gtk_widget_get_root (widget);
  focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  return focus != NULL && gtk_widget_is_ancestor (focus, widget);
}

gboolean
wb_focus_walk (GtkWidget        *widget,
               GtkDirectionType  direction)
{
  gboolean back = goes_back (direction);
  GtkWidget *child;

  g_return_val_if_fail (GTK_IS_WIDGET (widget), FALSE);

  child = wb_focus_walk_is_within (widget) ? gtk_widget_get_focus_child (widget) : NULL;
  if (child == NULL)
    child = back ? gtk_widget_get_last_child (widget) : gtk_widget_get_first_child (widget);
  for (; child != NULL; child = next_child (child, back))
    if (gtk_widget_get_visible (child) && gtk_widget_child_focus (child, direction))
      return TRUE;
  return FALSE;
}

void
wb_focus_walk_fold (GtkExpander *expander)
{
  g_return_if_fail (GTK_IS_EXPANDER (expander));
  g_return_if_fail (gtk_expander_get_child (expander) != NULL);

  g_object_bind_property (expander, "expanded", gtk_expander_get_child (expander), "visible", G_BINDING_SYNC_CREATE);
}

gboolean
wb_focus_walk_toggle (GtkExpander *expander)
{
  gboolean open;

  g_return_val_if_fail (GTK_IS_EXPANDER (expander), FALSE);

  open = !gtk_expander_get_expanded (expander)
         || !(gtk_widget_has_focus (GTK_WIDGET (expander)) || wb_focus_walk_is_within (GTK_WIDGET (expander)));
  if (!open)
    gtk_widget_grab_focus (GTK_WIDGET (expander));
  gtk_expander_set_expanded (expander, open);
  return open;
}
