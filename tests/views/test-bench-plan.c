/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "test-views.h"

#include "wb-app-query.h"
#include "wb-bench-plan-view.h"

/* The planned experiment of the demo, three sizes of three samples, on a bench of four. */

static GtkWidget *
get_view (WbWindow *window)
{
  return test_find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_BENCH_PLAN_VIEW);
}

static const char *
words (WbWindow   *window,
       const char *id)
{
  GtkWidget *label = test_child (get_view (window), id);

  return gtk_widget_get_visible (label) ? gtk_label_get_text (GTK_LABEL (label)) : "";
}

static gboolean
is_read (gpointer window)
{
  return get_view (window) != NULL && g_str_has_prefix (words (window, "words"), "Not divided yet");
}

static gboolean
is_divided (gpointer window)
{
  return g_str_has_prefix (words (window, "words"), "3 cohorts of 3. Each holds every combination");
}

static gboolean
is_moved (gpointer window)
{
  return g_str_has_prefix (words (window, "words"), "3 cohorts of 2 to 4") && strstr (words (window, "told"), "That costs") != NULL;
}

static gboolean
is_in_four (gpointer window)
{
  return g_str_has_prefix (words (window, "words"), "4 cohorts of");
}

static void
set_places (WbWindow *window,
            double    places)
{
  WbAppNotebook *notebook = test_notebook (window);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbNotebook *settings = wb_record_copy (wb_app_notebook_get_settings (notebook));

  settings->bench_places = places;
  g_ptr_array_add (records, settings);
  wb_app_notebook_save_sync (notebook, "Places for a test", records, NULL, &error);
  g_assert_no_error (error);
}

static WbWindow *
open_plan (void)
{
  WbWindow *window = test_window_new_demo ();

  set_places (window, 4);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.go", "(sx)", "plan", test_experiment (window, WB_CRAFT_STATE_PLANNED));
  test_wait (is_read, window);
  test_settle (window);
  return window;
}

static void
undo (WbWindow *window)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_settle (window);
}

/* What the demo is like for the next test. */
static void
close_plan (WbWindow *window)
{
  set_places (window, 12);
  test_window_destroy (window);
}

static void
divide (WbWindow *window)
{
  g_assert_true (gtk_widget_activate_action (get_view (window), "bench-plan.divide", NULL));
  test_wait (is_divided, window);
  test_settle (window);
}

static GtkWidget *
get_chip (WbWindow   *window,
          const char *code)
{
  GtkWidget *rows = test_child (get_view (window), "rows");

  for (GtkWidget *row = gtk_widget_get_first_child (rows); row != NULL; row = gtk_widget_get_next_sibling (row))
    for (GtkWidget *child = gtk_widget_get_first_child (gtk_widget_get_last_child (row)); child != NULL; child = gtk_widget_get_next_sibling (child))
      {
        GtkWidget *chip = gtk_flow_box_child_get_child (GTK_FLOW_BOX_CHILD (child));

        if (g_str_equal (gtk_button_get_label (GTK_BUTTON (chip)), code))
          return chip;
      }
  return NULL;
}

static GtkWidget *
get_row (WbWindow *window,
         guint     nth)
{
  GtkWidget *row = gtk_widget_get_first_child (test_child (get_view (window), "rows"));

  while (nth-- > 0)
    row = gtk_widget_get_next_sibling (row);
  return row;
}

static gpointer
get_controller (GtkWidget *widget,
                GType      type)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (G_TYPE_CHECK_INSTANCE_TYPE (controller, type))
        return controller;
    }
  return NULL;
}

static void
press (WbWindow *window,
       guint     key)
{
  gboolean taken = FALSE;

  g_signal_emit_by_name (get_controller (get_view (window), GTK_TYPE_EVENT_CONTROLLER_KEY), "key-pressed", key, 0, GDK_ALT_MASK, &taken);
  g_assert_true (taken);
}

static void
test_divide (void)
{
  WbWindow *window = open_plan ();
  GtkWidget *chip;

  g_assert_nonnull (strstr (words (window, "words"), "The bench has 4 places."));
  g_assert_nonnull (strstr (words (window, "life"), "burns of 4\u00a0h"));
  divide (window);
  g_assert_true (gtk_widget_is_sensitive (test_child (get_view (window), "divide")));
  g_assert_true (test_says (get_view (window), "Cohort 3"));
  g_assert_true (test_says (get_view (window), "goes to the bench first"));
  chip = get_chip (window, "C1-1");
  g_assert_nonnull (chip);
  g_assert_true (gtk_widget_get_sensitive (chip));
  g_assert_cmpuint (test_check_names (get_view (window), "the bench plan"), >=, 10);
  undo (window);
  test_wait (is_read, window);
  g_assert_null (get_chip (window, "C1-1"));
  close_plan (window);
}

/* By the menu's action, by the keyboard and by a drop; each is told with what it costs, and taken back by one undo. */
static void
test_move (void)
{
  WbWindow *window = open_plan ();
  g_auto (GValue) dropped = G_VALUE_INIT;
  gboolean taken = FALSE;
  gint64 entry;
  gpointer target;
  GdkContentProvider *content = NULL;

  divide (window);
  entry = wb_app_notebook_get_last_entry (test_notebook (window));
  gtk_widget_grab_focus (get_chip (window, "C1-1"));
  press (window, GDK_KEY_Down);
  test_wait (is_moved, window);
  test_settle (window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, entry + 1);
  /* it is where it was, with its focus, a row below */
  g_assert_true (gtk_root_get_focus (GTK_ROOT (window)) == get_chip (window, "C1-1"));
  g_assert_true (gtk_widget_is_ancestor (get_chip (window, "C1-1"), get_row (window, 1)));
  undo (window);
  test_wait (is_divided, window);
  g_assert_cmpstr (words (window, "told"), ==, "");

  /* what is dragged is the sample; a row takes it */
  g_signal_emit_by_name (get_controller (get_chip (window, "C2-1"), GTK_TYPE_DRAG_SOURCE), "prepare", 1.0, 1.0, &content);
  g_assert_nonnull (content);
  g_value_init (&dropped, G_TYPE_INT64);
  g_assert_true (gdk_content_provider_get_value (content, &dropped, NULL));
  g_object_unref (content);
  target = get_controller (get_row (window, 2), GTK_TYPE_DROP_TARGET);
  g_signal_emit_by_name (target, "drop", &dropped, 1.0, 1.0, &taken);
  g_assert_true (taken);
  test_wait (is_moved, window);
  test_settle (window);
  g_assert_true (gtk_widget_is_ancestor (get_chip (window, "C2-1"), get_row (window, 2)));
  undo (window);
  test_wait (is_divided, window);

  /* what is none of its samples is refused */
  g_value_set_int64 (&dropped, 999999);
  g_signal_emit_by_name (get_controller (get_row (window, 2), GTK_TYPE_DROP_TARGET), "drop", &dropped, 1.0, 1.0, &taken);
  g_assert_false (taken);

  /* below the last a new one */
  gtk_widget_grab_focus (get_chip (window, "C1-3"));
  press (window, GDK_KEY_Down);
  test_wait (is_in_four, window);
  test_settle (window);
  undo (window);
  test_wait (is_divided, window);
  undo (window);
  close_plan (window);
}

static gboolean
says_why (gpointer window)
{
  const char *tip = get_view (window) != NULL ? gtk_widget_get_tooltip_text (test_child (get_view (window), "divide")) : NULL;

  return tip != NULL && g_str_has_prefix (tip, "No sample can be put into another cohort");
}

/* Where every sample was burnt nothing is left to divide, and the button says so. */
static void
test_says_why_not (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *divide;

  gtk_widget_activate_action (GTK_WIDGET (window), "win.go", "(sx)", "plan", test_experiment (window, WB_CRAFT_STATE_FINISHED));
  test_wait (says_why, window);
  divide = test_child (get_view (window), "divide");
  g_assert_false (gtk_widget_is_sensitive (divide));
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (divide), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, gtk_widget_get_tooltip_text (divide));
  close_plan (window);
}

static WbSample *
dup_sample (WbWindow   *window,
            const char *code)
{
  gint64 experiment = test_experiment (window, WB_CRAFT_STATE_PLANNED);
  g_autoptr (GPtrArray) samples = wb_app_query_list_by_sync (test_notebook (window), &wb_sample_type, "experiment", experiment, NULL);

  for (guint i = 0; i < samples->len; i++)
    if (g_str_equal (((const WbSample *) samples->pdata[i])->code, code))
      return wb_record_copy (samples->pdata[i]);
  g_assert_not_reached ();
}

static gboolean
counts_two (gpointer window)
{
  return get_view (window) != NULL && g_str_has_prefix (words (window, "words"), "3 cohorts of 2 to 3.");
}

/* A reference is not burnt: neither the words nor the head of its cohort count it. */
static void
test_reference (void)
{
  WbWindow *window = open_plan ();
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbSample *sample;

  divide (window);
  sample = dup_sample (window, "C1-1");
  sample->retained = TRUE;
  g_ptr_array_add (records, sample);
  wb_app_notebook_save_sync (test_notebook (window), "Kept for a test", records, NULL, &error);
  g_assert_no_error (error);
  test_wait (counts_two, window);
  g_assert_true (gtk_widget_is_ancestor (get_chip (window, "C1-1"), get_row (window, (guint) sample->cohort - 1)));
  g_assert_true (test_says (get_row (window, (guint) sample->cohort - 1), "1 does not burn: kept or set aside"));
  {
    GtkWidget *head = gtk_widget_get_first_child (get_row (window, (guint) sample->cohort - 1));
    GtkWidget *detail = gtk_widget_get_next_sibling (gtk_widget_get_first_child (head));

    g_assert_true (g_str_has_prefix (gtk_label_get_text (GTK_LABEL (detail)), "2 samples, "));
  }
  undo (window);
  test_wait (is_divided, window);
  undo (window);
  test_wait (is_read, window);
  close_plan (window);
}

/* The page goes while the bench is being divided: nobody is told, and nothing breaks. */
static void
test_left (void)
{
  WbWindow *window = open_plan ();

  gtk_widget_activate_action (get_view (window), "bench-plan.divide", NULL);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "today");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.go", "(sx)", "plan", test_experiment (window, WB_CRAFT_STATE_PLANNED));
  test_wait (is_divided, window);
  test_settle (window);
  undo (window);
  test_wait (is_read, window);
  close_plan (window);
}

void
test_bench_plan_add (void)
{
  g_test_add_func ("/views/bench-plan/divided", test_divide);
  g_test_add_func ("/views/bench-plan/one-moved", test_move);
  g_test_add_func ("/views/bench-plan/what-cannot-be-divided-says-why", test_says_why_not);
  g_test_add_func ("/views/bench-plan/a-reference-is-not-counted", test_reference);
  g_test_add_func ("/views/bench-plan/left-while-it-is-divided", test_left);
}
