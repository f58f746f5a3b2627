/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-next-field.h"

/* What Enter means where many fields stand one after another: on to the next, past buttons and lists. */

typedef struct
{
  GtkWidget *behind;
  gboolean   passed;
} Walk;

static gboolean
is_field (GtkWidget *widget)
{
  return (GTK_IS_TEXT (widget) || GTK_IS_TEXT_VIEW (widget)) && gtk_widget_get_mapped (widget) && gtk_widget_is_sensitive (widget);
}

/* In the order in which they stand. NULL: not in this branch. */
static GtkWidget *
walk (GtkWidget *widget,
      Walk      *self)
{
  if (widget == self->behind)
    {
      self->passed = TRUE;
      return NULL;
    }
  if (self->passed && is_field (widget))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = walk (child, self);

      if (found != NULL)
        return found;
    }
  return NULL;
}

GtkWidget *
wb_next_field_find (GtkWidget *container)
{
  GtkRoot *root;
  GtkWidget *focus;

  g_return_val_if_fail (GTK_IS_WIDGET (container), NULL);

  root = gtk_widget_get_root (container);
  focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  return focus != NULL && GTK_IS_TEXT (focus) && gtk_widget_is_ancestor (focus, container) ? focus : NULL;
}

gboolean
wb_next_field_go (GtkWidget *container,
                  GtkWidget *behind)
{
  Walk self = { behind, FALSE };
  GtkWidget *next;

  g_return_val_if_fail (GTK_IS_WIDGET (container) && GTK_IS_WIDGET (behind), FALSE);

  next = walk (container, &self);
  return next != NULL && gtk_widget_grab_focus (next);
}
