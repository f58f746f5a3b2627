/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-weak-widget.h"

#include "wb-problem.h"

typedef struct
{
  GWeakRef widget;
  GWeakRef window; /* before which it stands, or in which it lies */
} Weak;

static void
weak_free (Weak *self)
{
  g_weak_ref_clear (&self->widget);
  g_weak_ref_clear (&self->window);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Weak, weak_free)

gpointer
wb_weak_widget_new (gpointer widget)
{
  Weak *self;

  g_return_val_if_fail (GTK_IS_WIDGET (widget), NULL);

  self = g_new (Weak, 1);
  g_weak_ref_init (&self->widget, widget);
  g_weak_ref_init (&self->window, GTK_IS_WINDOW (widget) ? (gpointer) gtk_window_get_transient_for (widget) : gtk_widget_get_root (widget));
  return self;
}

gpointer
wb_weak_widget_take (gpointer weak)
{
  g_autoptr (Weak) self = weak;

  g_return_val_if_fail (weak != NULL, NULL);
  return g_weak_ref_get (&self->widget);
}

gpointer
wb_weak_widget_take_or_tell (gpointer      weak,
                             const char   *what,
                             const GError *error)
{
  g_autoptr (Weak) self = weak;
  g_autoptr (GtkWidget) window = NULL;
  gpointer widget;

  g_return_val_if_fail (weak != NULL, NULL);

  widget = g_weak_ref_get (&self->widget);
  window = g_weak_ref_get (&self->window);
  if (widget == NULL && error != NULL && window != NULL)
    wb_problem_show (window, what, error);
  return widget;
}

gpointer
wb_weak_widget_take_saved (gpointer      weak,
                           const char   *what,
                           const GError *error)
{
  gpointer dialog = wb_weak_widget_take_or_tell (weak, what, error);

  if (error != NULL || dialog == NULL)
    return dialog;
  gtk_window_destroy (dialog);
  g_object_unref (dialog);
  return NULL;
}
