/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-weak-widget.h"

gpointer
wb_weak_widget_new (gpointer widget)
{
  GWeakRef *weak;

  g_return_val_if_fail (GTK_IS_WIDGET (widget), NULL);

  weak = g_new (GWeakRef, 1);
  g_weak_ref_init (weak, widget);
  return weak;
}

gpointer
wb_weak_widget_take (gpointer weak)
{
  GObject *widget;

  g_return_val_if_fail (weak != NULL, NULL);

  widget = g_weak_ref_get (weak);
  g_weak_ref_clear (weak);
  g_free (weak);
  return widget;
}
