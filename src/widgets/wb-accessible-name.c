/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-accessible-name.h"

void
wb_accessible_name_drop_down (GtkDropDown *drop_down,
                              const char  *name)
{
  GtkWidget *button;

  g_return_if_fail (GTK_IS_DROP_DOWN (drop_down));
  g_return_if_fail (name != NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (drop_down), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (drop_down), GTK_ACCESSIBLE_RELATION_LABELLED_BY); /* it would be said behind the name */
  button = gtk_widget_get_first_child (GTK_WIDGET (drop_down));
  if (button != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

void
wb_accessible_name_button (GtkButton  *button,
                           const char *label)
{
  g_auto (GStrv) parts = NULL;
  g_autofree char *name = NULL;

  g_return_if_fail (GTK_IS_BUTTON (button));
  g_return_if_fail (label != NULL);

  parts = g_strsplit (label, "_", 2);
  name = g_strjoinv ("", parts);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
}

void
wb_accessible_name_column_view (GtkColumnView *view,
                                const char    *name)
{
  g_return_if_fail (GTK_IS_COLUMN_VIEW (view));
  g_return_if_fail (name != NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  for (GtkWidget *part = gtk_widget_get_first_child (GTK_WIDGET (view)); part != NULL; part = gtk_widget_get_next_sibling (part))
    if (GTK_IS_LIST_VIEW (part))
      gtk_accessible_update_property (GTK_ACCESSIBLE (part), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

void
wb_accessible_name_list_item (GtkListItem *item,
                              const char  *name)
{
  GtkWidget *child, *row;

  g_return_if_fail (GTK_IS_LIST_ITEM (item));
  g_return_if_fail (name != NULL);

  child = gtk_list_item_get_child (item);
  row = child != NULL ? gtk_widget_get_parent (child) : NULL;
  if (row != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}
