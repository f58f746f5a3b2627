/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-rating-bar.h"
#include "wb-reading.h"

static void
on_count_cb (guint *n)
{
  (*n)++;
}

static void
test_digits (void)
{
  GtkWidget *bar = wb_rating_bar_new (wb_throw_words, 1, "Hot throw");
  GtkWidget *window = test_window_new (bar);
  guint n = 0, rated = 0;

  g_signal_connect_swapped (bar, "changed", G_CALLBACK (on_count_cb), &n);
  g_signal_connect_swapped (bar, "rated", G_CALLBACK (on_count_cb), &rated);
  g_assert_cmpint (wb_rating_bar_get_value (WB_RATING_BAR (bar)), ==, -1);
  g_assert_true (test_press (bar, GDK_KEY_4));
  g_assert_cmpint (wb_rating_bar_get_value (WB_RATING_BAR (bar)), ==, 4);
  g_assert_true (test_press (bar, GDK_KEY_KP_2));
  g_assert_cmpint (wb_rating_bar_get_value (WB_RATING_BAR (bar)), ==, 2);
  /* Throw is rated from 1 to 5: other digits change nothing. */
  test_press (bar, GDK_KEY_0);
  test_press (bar, GDK_KEY_6);
  g_assert_cmpint (wb_rating_bar_get_value (WB_RATING_BAR (bar)), ==, 2);
  g_assert_true (test_press (bar, GDK_KEY_BackSpace));
  g_assert_cmpint (wb_rating_bar_get_value (WB_RATING_BAR (bar)), ==, -1);
  g_assert_false (test_press (bar, GDK_KEY_a));
  g_assert_cmpuint (n, ==, 3);
  /* Each digit that set it, also one that set it to what it was. */
  g_assert_cmpuint (rated, ==, 2);
  test_window_destroy (window, bar);
}

static void
test_click (void)
{
  GtkWidget *bar = wb_rating_bar_new (wb_smoke_words, 0, "Smoke");
  GtkWidget *window = test_window_new (bar);
  GtkWidget *button = test_find (bar, GTK_TYPE_TOGGLE_BUTTON);

  gtk_test_accessible_assert_role (bar, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_test_accessible_assert_property (bar, GTK_ACCESSIBLE_PROPERTY_LABEL, "Smoke");
  gtk_test_accessible_assert_property (button, GTK_ACCESSIBLE_PROPERTY_LABEL, "0, none");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
  g_assert_cmpint (wb_rating_bar_get_value (WB_RATING_BAR (bar)), ==, 0);
  button = gtk_widget_get_next_sibling (button);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), TRUE);
  g_assert_cmpint (wb_rating_bar_get_value (WB_RATING_BAR (bar)), ==, 1);
  g_assert_false (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (gtk_widget_get_prev_sibling (button))));
  /* Once more takes it back. */
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), FALSE);
  g_assert_cmpint (wb_rating_bar_get_value (WB_RATING_BAR (bar)), ==, -1);
  test_window_destroy (window, bar);
}

void
test_rating_bar_add (void)
{
  g_test_add_func ("/widgets/rating-bar/a-digit-sets-it", test_digits);
  g_test_add_func ("/widgets/rating-bar/a-click-sets-and-clears-it", test_click);
}
