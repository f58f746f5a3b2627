/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Letters of twice the size: no page pushes the window beyond the smallest screen that is held to. */
#include "config.h"

#include "test-views.h"

#include "wb-evening-sheet.h"
#include "wb-place.h"

#define SCREEN_PX 1024
#define SCREEN_HEIGHT_PX 700
#define SIDEBAR_PX 310
#define LARGE_DPI (192 * 1024)

static int
get_least (GtkWidget *widget)
{
  int least;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least;
}

/* Down to what asks for it. */
static void
tell_widest (GtkWidget *widget)
{
  while (widget != NULL)
    {
      GtkWidget *widest = NULL;

      g_test_message ("%d %s %s %s", get_least (widget), G_OBJECT_TYPE_NAME (widget), gtk_widget_get_name (widget),
                      GTK_IS_LABEL (widget) ? gtk_label_get_text (GTK_LABEL (widget)) : "");
      for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
        if (gtk_widget_get_visible (child) && (widest == NULL || get_least (child) > get_least (widest)))
          widest = child;
      widget = widest;
    }
}

static void
assert_width (WbWindow   *window,
              const char *what)
{
  int least, high;

  test_settle (window);
  least = get_least (GTK_WIDGET (window));
  gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_VERTICAL, SCREEN_PX, &high, NULL, NULL, NULL);
  g_assert_cmpint (high, <=, SCREEN_HEIGHT_PX);
  g_test_message ("%s: %d", what, least);
  if (least <= SCREEN_PX)
    return;
  tell_widest (GTK_WIDGET (window));
  g_error ("%s at 200 %% makes the window %d px wide", what, least);
}

/* Sentences are read without scrolling across: the answer wraps in what is left beside the sidebar. */
static void
test_answer (void)
{
  WbWindow *window;
  int least;

  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", LARGE_DPI, NULL);
  window = test_window_new_demo_learnt ();
  g_assert_true (wb_window_go (window, "compare", test_experiment (window, WB_CRAFT_STATE_FINISHED)));
  test_settle (window);
  least = get_least (GTK_WIDGET (wb_window_get_page (window)));
  if (least > SCREEN_PX - SIDEBAR_PX)
    tell_widest (GTK_WIDGET (wb_window_get_page (window)));
  g_assert_cmpint (least, <=, SCREEN_PX - SIDEBAR_PX);
  test_window_destroy (window);
  gtk_settings_reset_property (gtk_settings_get_default (), "gtk-xft-dpi");
}

static void
test_pages (void)
{
  static const WbCraftState states[] = { WB_CRAFT_STATE_FINISHED, WB_CRAFT_STATE_BURNING, WB_CRAFT_STATE_CURING, WB_CRAFT_STATE_PLANNED };
  WbWindow *window;

  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", LARGE_DPI, NULL);
  window = test_window_new_demo_learnt ();
  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    for (guint i = 0; i < (place->of_experiment ? G_N_ELEMENTS (states) : 1); i++)
      {
        g_autofree char *what = g_strdup_printf ("%s %u", place->name, i);

        g_assert_true (wb_window_go (window, place->name, place->of_experiment ? test_experiment (window, states[i]) : 0));
        assert_width (window, what);
      }
  test_window_destroy (window);
  gtk_settings_reset_property (gtk_settings_get_default (), "gtk-xft-dpi");
}

/* The sheet of an evening scrolls its own table; its lines above and below must not be wider than the screen. */
static void
test_evening (void)
{
  WbWindow *window;
  GtkWidget *sheet;

  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", LARGE_DPI, NULL);
  window = test_window_new_demo_learnt ();
  wb_evening_sheet_open (WB_HOST (window), test_experiment (window, WB_CRAFT_STATE_BURNING));
  sheet = test_find_window (WB_TYPE_EVENING_SHEET);
  g_assert_nonnull (sheet);
  test_look_at (sheet, "evening-large");
  if (get_least (sheet) > SCREEN_PX)
    tell_widest (sheet);
  g_assert_cmpint (get_least (sheet), <=, SCREEN_PX);
  gtk_window_destroy (GTK_WINDOW (sheet));
  test_window_destroy (window);
  gtk_settings_reset_property (gtk_settings_get_default (), "gtk-xft-dpi");
}

void
test_large_letters_add (void)
{
  g_test_add_func ("/views/large-letters/the-answer-wraps-beside-the-sidebar", test_answer);
  g_test_add_func ("/views/large-letters/an-evening-s-sheet-is-no-wider-than-the-screen", test_evening);
  g_test_add_func ("/views/large-letters/no-page-pushes-the-window-beyond-the-screen", test_pages);
}
