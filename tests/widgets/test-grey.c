/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-grey.h"

/* While it is grey, by itself or with what it stands in, the reason is tooltip and description; else its own words are there. */
static void
test_says_why (void)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *button = gtk_button_new_with_label ("Save");
  GtkWidget *window;

  gtk_box_append (GTK_BOX (box), button);
  window = test_window_new (box);
  gtk_widget_set_tooltip_text (button, "Ctrl+S");
  wb_grey_set (button, "Type a name first");
  g_assert_false (gtk_widget_is_sensitive (button));
  g_assert_cmpstr (gtk_widget_get_tooltip_text (button), ==, "Type a name first");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "Type a name first");
  /* another reason, and another tooltip of its own meanwhile */
  wb_grey_set (button, "It is being saved");
  g_assert_cmpstr (gtk_widget_get_tooltip_text (button), ==, "It is being saved");
  gtk_widget_set_tooltip_text (button, "Ctrl+Shift+S");
  wb_grey_set (button, NULL);
  g_assert_true (gtk_widget_is_sensitive (button));
  g_assert_cmpstr (gtk_widget_get_tooltip_text (button), ==, "Ctrl+Shift+S");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "Ctrl+Shift+S");
  /* a reason that waits until it is grey with its box */
  wb_grey_say (button, "The notebook can be read only");
  g_assert_cmpstr (gtk_widget_get_tooltip_text (button), ==, "Ctrl+Shift+S");
  gtk_widget_set_sensitive (box, FALSE);
  g_assert_cmpstr (gtk_widget_get_tooltip_text (button), ==, "The notebook can be read only");
  g_assert_cmpstr (wb_grey_get_reason (button), ==, "The notebook can be read only");
  gtk_widget_set_sensitive (box, TRUE);
  g_assert_cmpstr (gtk_widget_get_tooltip_text (button), ==, "Ctrl+Shift+S");
  test_window_destroy (window, box);
}

void
test_grey_add (void)
{
  g_test_add_func ("/widgets/grey/it-says-why", test_says_why);
}
