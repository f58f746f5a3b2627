/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-focus-walk.h"
#include "wb-place.h"
#include "wb-preferences.h"

/* More than any page has. */
#define STOPS_MAX 400

static const char *
name_of (GtkWidget *widget)
{
  return widget != NULL ? G_OBJECT_TYPE_NAME (widget) : "nothing";
}

/* The stops of one round of the Tab key; it ends at a stop that was there. Caller frees. */
static GPtrArray *
walk (GtkWindow        *window,
      GtkDirectionType  direction,
      const char       *where)
{
  GPtrArray *stops = g_ptr_array_new ();

  for (guint i = 0; i < STOPS_MAX; i++)
    {
      GtkWidget *before = gtk_window_get_focus (window), *now;

      gtk_widget_child_focus (GTK_WIDGET (window), direction);
      now = gtk_window_get_focus (window);
      if (now == before)
        {
          g_test_message ("%s: the keyboard does not come out of a %s in a %s", where, name_of (now),
                          name_of (now != NULL ? gtk_widget_get_parent (now) : NULL));
          g_test_fail ();
          return stops;
        }
      if (g_ptr_array_find (stops, now, NULL))
        return stops;
      g_ptr_array_add (stops, now);
    }
  g_test_message ("%s: the keyboard never comes round", where);
  g_test_fail ();
  return stops;
}

/* What is reached forwards is reached backwards too. */
static void
check_both_ways (GtkWindow  *window,
                 const char *where)
{
  g_autoptr (GPtrArray) forth = NULL;
  g_autoptr (GPtrArray) back = NULL;

  gtk_window_set_focus (window, NULL);
  forth = walk (window, GTK_DIR_TAB_FORWARD, where);
  back = walk (window, GTK_DIR_TAB_BACKWARD, where);
  g_assert_cmpuint (forth->len, >, 1);
  for (guint i = 0; i < forth->len; i++)
    if (!g_ptr_array_find (back, forth->pdata[i], NULL))
      {
        g_test_message ("%s: stop %u of %u, a %s in a %s, is not reached backwards", where, i, forth->len, name_of (forth->pdata[i]),
                        name_of (gtk_widget_get_parent (forth->pdata[i])));
        g_test_fail ();
        return;
      }
}

static void
test_pages (void)
{
  static const WbCraftState states[] = { WB_CRAFT_STATE_BURNING, WB_CRAFT_STATE_PLANNED, WB_CRAFT_STATE_FINISHED };
  WbWindow *window = test_window_new_demo_learnt ();

  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    for (guint i = 0; i < G_N_ELEMENTS (states); i++)
      {
        g_assert_true (wb_window_go (window, place->name, test_experiment (window, states[i])));
        test_settle (window);
        g_test_message ("%s", place->name);
        check_both_ways (GTK_WINDOW (window), place->name);
      }
  g_assert_true (wb_window_go (window, "plan", 0));
  test_settle (window);
  check_both_ways (GTK_WINDOW (window), "a new plan");
  test_window_destroy (window);
}

static void
test_preferences (void)
{
  WbWindow *window = test_window_new_demo_learnt ();
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  GtkWidget *preferences = wb_preferences_new (GTK_WINDOW (window), settings, test_notebook (window));

  gtk_window_present (GTK_WINDOW (preferences));
  test_settle (window);
  check_both_ways (GTK_WINDOW (preferences), "preferences");
  gtk_window_destroy (GTK_WINDOW (preferences));
  test_window_destroy (window);
}

static gboolean
is_within (gpointer window)
{
  return wb_focus_walk_is_within (GTK_WIDGET (wb_window_get_page (window)));
}

static void
test_follows (void)
{
  WbWindow *window = test_window_new_demo_learnt ();
  GtkWidget *sidebar = test_child (GTK_WIDGET (window), "sidebar");

  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    {
      g_test_message ("%s", place->name);
      g_assert_true (wb_window_go (window, place->name, test_experiment (window, WB_CRAFT_STATE_BURNING)));
      test_settle (window);
      gtk_widget_child_focus (sidebar, GTK_DIR_TAB_FORWARD);
      g_assert_false (is_within (window));
      gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", place->name);
      test_wait (is_within, window);
    }
  test_window_destroy (window);
}

void
test_keyboard_add (void)
{
  g_test_add_func ("/views/keyboard/each-page-is-walked-both-ways", test_pages);
  g_test_add_func ("/views/keyboard/the-preferences-are-walked-both-ways", test_preferences);
  g_test_add_func ("/views/keyboard/going-to-a-page-takes-the-keyboard-along", test_follows);
}
