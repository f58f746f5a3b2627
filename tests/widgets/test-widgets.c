/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-widgets.h"

#include "wb-badge.h"
#include "wb-bundle.h"
#include "wb-save-mark.h"

GtkWidget *
test_window_new (GtkWidget *child)
{
  GtkWidget *window = gtk_window_new ();

  gtk_window_set_child (GTK_WINDOW (window), child);
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

void
test_window_destroy (GtkWidget *window,
                     GtkWidget *child)
{
  gpointer weak = child;

  g_object_add_weak_pointer (G_OBJECT (child), &weak);
  gtk_window_destroy (GTK_WINDOW (window));
  for (int i = 0; i < 1000 && weak != NULL; i++)
    g_main_context_iteration (NULL, FALSE);
  g_assert_null (weak);
}

GtkWidget *
test_find (GtkWidget *widget,
           GType      type)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = test_find (child, type);

      if (found != NULL)
        return found;
    }
  return NULL;
}

gboolean
test_press (GtkWidget *widget,
            guint      keyval)
{
  for (; widget != NULL; widget = gtk_widget_get_parent (widget))
    {
      g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

      for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
        {
          g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
          gboolean handled = FALSE;

          if (!GTK_IS_EVENT_CONTROLLER_KEY (controller))
            continue;
          g_signal_emit_by_name (controller, "key-pressed", keyval, 0u, (GdkModifierType) 0, &handled);
          if (handled)
            return TRUE;
        }
    }
  return FALSE;
}

static int
height_of (GtkWidget *badge,
           int        width)
{
  int height;

  gtk_widget_measure (badge, GTK_ORIENTATION_VERTICAL, width, NULL, &height, NULL, NULL);
  return height;
}

/* Words too long for the place go on below; short ones keep to their line. */
static void
test_badge_lines (void)
{
  GtkWidget *badge = g_object_ref_sink (wb_badge_new (WB_BADGE_ASK, "overdue by 1 h 12 min"));
  int line = height_of (badge, 1000);

  g_assert_cmpint (height_of (badge, 90), ==, line);
  wb_badge_set_lines (WB_BADGE (badge), 3);
  g_assert_cmpint (height_of (badge, 1000), ==, line);
  g_assert_cmpint (height_of (badge, 90), >, line + line / 4);
  g_assert_finalize_object (badge);
}

static void
test_badge_words (void)
{
  GtkWidget *badge = g_object_ref_sink (wb_badge_new (WB_BADGE_STOP, "over the limit"));

  g_assert_true (gtk_widget_get_visible (badge));
  g_assert_true (gtk_widget_has_css_class (badge, "stop"));
  g_assert_cmpstr (wb_badge_get_text (WB_BADGE (badge)), ==, "over the limit");
  wb_badge_set (WB_BADGE (badge), WB_BADGE_GOOD, NULL);
  g_assert_false (gtk_widget_get_visible (badge));
  g_assert_false (gtk_widget_has_css_class (badge, "stop"));
  g_assert_finalize_object (badge);
}

static void
test_save_mark_words (void)
{
  GtkWidget *mark = g_object_ref_sink (wb_save_mark_new ());

  g_assert_cmpstr (wb_save_mark_get_text (WB_SAVE_MARK (mark)), ==, "");
  wb_save_mark_set (WB_SAVE_MARK (mark), WB_SAVE_SAVING, NULL);
  g_assert_cmpstr (wb_save_mark_get_text (WB_SAVE_MARK (mark)), ==, "Saving");
  wb_save_mark_set (WB_SAVE_MARK (mark), WB_SAVE_FAILED, "no space left");
  g_assert_cmpstr (wb_save_mark_get_text (WB_SAVE_MARK (mark)), ==, "no space left");
  g_assert_true (gtk_widget_has_css_class (mark, "failed"));
  g_assert_false (gtk_widget_has_css_class (mark, "saving"));
  gtk_test_accessible_assert_role (mark, GTK_ACCESSIBLE_ROLE_STATUS);
  g_assert_finalize_object (mark);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_setenv ("WICKBENCH_CLOCK", "2026-03-02T18:40:00+00:00,0", TRUE);
  gtk_init ();
  wb_bundle_register ();

  g_test_add_func ("/widgets/badge/no-words-no-badge", test_badge_words);
  g_test_add_func ("/widgets/badge/long-words-go-on-below", test_badge_lines);
  g_test_add_func ("/widgets/save-mark/a-failure-says-why", test_save_mark_words);
  test_chart_view_add ();
  test_grey_add ();
  test_key_choice_add ();
  test_pool_entry_add ();
  test_quantity_entry_add ();
  test_rating_bar_add ();
  test_record_form_add ();
  test_stack_pages_add ();
  test_time_entry_add ();
  test_vessel_side_add ();
  test_vessel_top_add ();
  return g_test_run ();
}
