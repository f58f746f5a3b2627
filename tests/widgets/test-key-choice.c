/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-key-choice.h"
#include "wb-reading.h"

static void
on_count_cb (guint *n)
{
  (*n)++;
}

/* Every word has a key that no other has, and the key chooses it. */
static void
test_letters (void)
{
  GtkWidget *choice = wb_key_choice_new (wb_event_words, "nothing to note", "What happened");
  GtkWidget *window = test_window_new (choice);
  WbKeyChoice *self = WB_KEY_CHOICE (choice);
  GtkWidget *popover = GTK_WIDGET (gtk_menu_button_get_popover (GTK_MENU_BUTTON (test_find (choice, GTK_TYPE_MENU_BUTTON))));
  guint n = 0;

  g_signal_connect_swapped (choice, "changed", G_CALLBACK (on_count_cb), &n);
  g_assert_cmpint (wb_key_choice_get_value (self), ==, -1);
  for (int i = 0; wb_event_words[i].nick != NULL; i++)
    {
      gunichar key = wb_key_choice_get_key (self, i);

      g_assert_true (g_unichar_islower (key));
      for (int k = 0; k < i; k++)
        g_assert_cmpuint (wb_key_choice_get_key (self, k), !=, key);
      g_assert_true (test_press (popover, gdk_unicode_to_keyval (key)));
      g_assert_cmpint (wb_key_choice_get_value (self), ==, i);
      g_assert_cmpuint (n, ==, (guint) i + 1);
    }
  g_assert_true (test_press (popover, GDK_KEY_BackSpace));
  g_assert_cmpint (wb_key_choice_get_value (self), ==, -1);
  g_assert_cmpuint (n, ==, WB_N_EVENTS + 1);
  g_assert_cmpuint (wb_key_choice_get_key (self, WB_EVENT_SNUFFED), ==, 's');
  g_assert_cmpuint (wb_key_choice_get_key (self, WB_EVENT_BLACK_SMOKE), ==, 'b');
  test_window_destroy (window, choice);
}

/* What assistive technology reads: the choice at the button, key and word at each item. */
static void
test_names (void)
{
  GtkWidget *choice = wb_key_choice_new (wb_event_words, "nothing to note", "What happened");
  GtkWidget *window = test_window_new (choice);
  GtkWidget *menu = test_find (choice, GTK_TYPE_MENU_BUTTON);
  GtkWidget *item = test_find (GTK_WIDGET (gtk_menu_button_get_popover (GTK_MENU_BUTTON (menu))), GTK_TYPE_BUTTON);

  gtk_test_accessible_assert_property (gtk_widget_get_first_child (menu), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "What happened: nothing to note");
  gtk_test_accessible_assert_property (item, GTK_ACCESSIBLE_PROPERTY_LABEL, "S, snuffed");
  wb_key_choice_set_value (WB_KEY_CHOICE (choice), WB_EVENT_BLACK_SMOKE);
  gtk_test_accessible_assert_property (gtk_widget_get_first_child (menu), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "What happened: black smoke");
  test_window_destroy (window, choice);
}

void
test_key_choice_add (void)
{
  g_test_add_func ("/widgets/key-choice/a-letter-chooses", test_letters);
  g_test_add_func ("/widgets/key-choice/all-have-names", test_names);
}
