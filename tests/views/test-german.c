/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include <libintl.h>

/* The window in German, whose words are longer: added where the run is under LANGUAGE=de, for the texts are chosen once a process. */

#define SIDEBAR 242 /* as wide as it is at 1024 pixels */

static void
test_is_german (void)
{
  g_assert_cmpstr (dgettext (GETTEXT_PACKAGE, "What is due"), !=, "What is due");
}

/* Each page of each experiment fits into the smallest screen that is held to, neither pushing the window wider nor higher. */
static void
test_pages_fit (void)
{
  static const char *const pages[] = { "today", "materials", "record", "ladder", "plan", "pour", "burn", "compare", "report" };
  static const WbCraftState states[] = { WB_CRAFT_STATE_BURNING, WB_CRAFT_STATE_CURING, WB_CRAFT_STATE_PLANNED, WB_CRAFT_STATE_FINISHED };
  WbWindow *window = test_window_new_demo ();

  for (guint state = 0; state < G_N_ELEMENTS (states); state++)
    for (guint page = 0; page < G_N_ELEMENTS (pages); page++)
      {
        int width, height;

        gtk_widget_activate_action (GTK_WIDGET (window), "win.go", "(sx)", pages[page], page < 4 ? (gint64) 0 : test_experiment (window, states[state]));
        test_settle (window);
        gtk_widget_measure (GTK_WIDGET (wb_window_get_page (window)), GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
        gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_VERTICAL, 1024, &height, NULL, NULL, NULL);
        g_test_message ("%s, state %d: %d wide, window %d high", pages[page], states[state], width, height);
        g_assert_cmpint (width, <=, 1024 - SIDEBAR);
        g_assert_cmpint (height, <=, 700);
      }
  test_window_destroy (window);
}

void
test_german_add (void)
{
  if (g_strcmp0 (g_getenv ("LANGUAGE"), "de") != 0)
    return;
  g_test_add_func ("/views/german/texts-are-german", test_is_german);
  g_test_add_func ("/views/german/each-page-fits-the-smallest-screen", test_pages_fit);
}
