/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-tooltip.h"

void
wb_tooltip_set (GtkWidget  *widget,
                const char *text)
{
  gboolean waits;

  g_return_if_fail (GTK_IS_WIDGET (widget));

  if (g_strcmp0 (gtk_widget_get_tooltip_text (widget), text) == 0)
    return;
  /* An invisible widget is not looked for below the pointer. */
  waits = gtk_widget_get_visible (widget) && gtk_widget_get_root (widget) == NULL;
  if (waits)
    gtk_widget_set_visible (widget, FALSE);
  gtk_widget_set_tooltip_text (widget, text);
  if (waits)
    gtk_widget_set_visible (widget, TRUE);
}
