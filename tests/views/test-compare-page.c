/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-chart-canvas.h"
#include "wb-chart-view.h"
#include "wb-compare-beside.h"
#include "wb-host.h"
#include "wb-job-bar.h"
#include "wb-plot.h"
#include "wb-ranking-list.h"
#include "wb-text-table.h"

static WbChartView *
get_chart (WbWindow *window)
{
  return WB_CHART_VIEW (test_child (GTK_WIDGET (wb_window_get_page (window)), "chart"));
}

static gboolean
is_answered (gpointer window)
{
  GtkStack *stack = GTK_STACK (test_child (GTK_WIDGET (wb_window_get_page (window)), "stack"));

  return g_strcmp0 (gtk_stack_get_visible_child_name (stack), "answer") == 0;
}

static void
compare (WbWindow *window,
         gint64    experiment)
{
  g_assert_true (wb_window_go (window, "compare", experiment));
  test_wait (is_answered, window);
}

static void
show_kind (WbWindow  *window,
           WbPlotKind kind)
{
  gtk_widget_activate_action (GTK_WIDGET (wb_window_get_page (window)), "page.chart", "s", wb_plot_kind_get_key (kind));
}

static WbChart *seen; /* that was there before the choice; NULL: none */

static gboolean
is_another (gpointer window)
{
  WbChart *chart = wb_chart_view_get_chart (get_chart (window));

  return chart != NULL && chart != seen;
}

/* Each choice brings a chart of its own. */
static void
assert_drawn (WbWindow   *window,
              const char *what)
{
  g_test_message ("%s", what);
  test_wait (is_another, window);
  g_clear_pointer (&seen, wb_chart_unref);
  seen = wb_chart_ref (wb_chart_view_get_chart (get_chart (window)));
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (window))), ==, "");
}

/* In the smallest screen that is held to, the window is not pushed wider or higher, nor the sidebar aside. */
static void
assert_fits (WbWindow *window)
{
  GtkWidget *page = GTK_WIDGET (wb_window_get_page (window));
  int width, height;

  gtk_widget_measure (page, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
  g_assert_cmpint (width, <=, 1024 - 242);
  gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_VERTICAL, 1024, &height, NULL, NULL, NULL);
  g_assert_cmpint (height, <=, 700);
}

static void
test_kinds (void)
{
  WbWindow *window = test_window_new_demo ();

  compare (window, test_experiment (window, WB_CRAFT_STATE_FINISHED));
  for (guint kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      show_kind (window, (WbPlotKind) kind);
      assert_drawn (window, wb_plot_kind_get_key ((WbPlotKind) kind));
      assert_fits (window);
    }
  test_window_destroy (window);
}

static gboolean
is_laid_out (gpointer canvas)
{
  return wb_chart_canvas_get_ready (canvas);
}

static void
press (GtkWidget *canvas,
       guint      keyval)
{
  gboolean handled = FALSE;

  for (GtkWidget *widget = canvas; widget != NULL && !handled; widget = gtk_widget_get_parent (widget))
    {
      g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

      for (guint i = 0; i < g_list_model_get_n_items (controllers) && !handled; i++)
        {
          g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

          if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
            g_signal_emit_by_name (controller, "key-pressed", keyval, 0u, 0, &handled);
        }
    }
  g_assert_true (handled);
}

/* A value of a whole combination, in charts of many, opens its samples too: by a key here, and by a click in the same way. */
static void
test_opens (void)
{
  static const WbPlotKind kinds[] = { WB_PLOT_HEAT, WB_PLOT_RANKS, WB_PLOT_SCORE, WB_PLOT_LOSS };
  WbWindow *window = test_window_new_demo ();

  compare (window, test_experiment (window, WB_CRAFT_STATE_FINISHED));
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      GtkWidget *page = GTK_WIDGET (wb_window_get_page (window)), *canvas;
      WbPicks *picks = wb_compare_beside_get_picks (WB_COMPARE_BESIDE (test_child (page, "beside")));

      gtk_widget_activate_action (page, "page.look", "s", "answer");
      show_kind (window, kinds[i]);
      assert_drawn (window, wb_plot_kind_get_key (kinds[i]));
      wb_picks_set (picks, NULL, NULL, 0);
      canvas = test_find (GTK_WIDGET (get_chart (window)), WB_TYPE_CHART_CANVAS);
      test_wait (is_laid_out, canvas);
      gtk_widget_grab_focus (canvas);
      press (canvas, GDK_KEY_Down);
      press (canvas, GDK_KEY_Right);
      g_assert_nonnull (strstr (wb_chart_view_get_words (get_chart (window)), "Enter or a click: the samples of "));
      press (canvas, GDK_KEY_Return);
      g_assert_cmpuint (wb_picks_get_n (picks), >, 0);
      for (guint k = 0; k < wb_picks_get_n (picks); k++)
        {
          g_assert_cmpint (wb_picks_get (picks, k)->pick.sample, !=, 0);
          g_assert_cmpint (wb_picks_get (picks, k)->pick.cell, ==, wb_picks_get (picks, 0)->pick.cell);
        }
    }
  test_window_destroy (window);
}

static void
test_figures (void)
{
  static const WbPlotKind kinds[] = { WB_PLOT_LIFE, WB_PLOT_HEAT, WB_PLOT_EFFECTS };
  WbWindow *window = test_window_new_demo ();
  GtkDropDown *figure;

  compare (window, test_experiment (window, WB_CRAFT_STATE_FINISHED));
  figure = GTK_DROP_DOWN (test_child (GTK_WIDGET (wb_window_get_page (window)), "figure"));
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      guint n;

      show_kind (window, kinds[i]);
      g_assert_true (gtk_widget_is_visible (GTK_WIDGET (figure)));
      n = g_list_model_get_n_items (gtk_drop_down_get_model (figure));
      g_assert_cmpuint (n, >, 5);
      for (guint k = 0; k < n; k++)
        {
          gtk_drop_down_set_selected (figure, k);
          assert_drawn (window, gtk_string_list_get_string (GTK_STRING_LIST (gtk_drop_down_get_model (figure)), k));
        }
    }
  show_kind (window, WB_PLOT_GROWTH);
  g_assert_false (gtk_widget_is_visible (GTK_WIDGET (figure)));
  test_window_destroy (window);
}

static gboolean
is_done (gpointer bar)
{
  return wb_job_bar_get_job (bar) == NULL;
}

/* A chart that is drawn while the comparison is worked out takes neither its progress nor its way to cancel it. */
static void
test_chart_beside_the_answer (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autoptr (WbAppJob) job = NULL;
  WbJobBar *bar;

  compare (window, test_experiment (window, WB_CRAFT_STATE_FINISHED));
  bar = WB_JOB_BAR (test_child (GTK_WIDGET (wb_window_get_page (window)), "job_bar"));
  test_wait (is_done, bar);
  wb_page_reload (wb_window_get_page (window));
  job = g_object_ref (wb_job_bar_get_job (bar));
  show_kind (window, WB_PLOT_RINGS);
  g_assert_true (wb_job_bar_get_job (bar) == job);
  /* A second choice gives the first up. */
  show_kind (window, WB_PLOT_LIFE);
  g_assert_true (wb_job_bar_get_job (bar) == job);
  test_wait (is_done, bar);
  g_assert_true (is_answered (window));
  /* Cancelled, it is gone. */
  wb_page_reload (wb_window_get_page (window));
  wb_app_job_cancel (wb_job_bar_get_job (bar));
  test_wait (is_done, bar);
  test_window_destroy (window);
}

/* What was ticked of one experiment says nothing about the next. */
static void
test_leaders (void)
{
  WbWindow *window = test_window_new_demo ();
  const gint64 experiments[] = { test_experiment (window, WB_CRAFT_STATE_BURNING), test_experiment (window, WB_CRAFT_STATE_FINISHED) };

  for (guint i = 0; i < G_N_ELEMENTS (experiments); i++)
    {
      GtkWidget *ranking;

      compare (window, experiments[i]);
      ranking = test_child (GTK_WIDGET (wb_window_get_page (window)), "ranking");
      g_assert_true (gtk_check_button_get_active (GTK_CHECK_BUTTON (test_find (ranking, GTK_TYPE_CHECK_BUTTON))));
    }
  test_window_destroy (window);
}

static void
test_nothing (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkStack *stack;

  g_assert_true (wb_window_go (window, "compare", test_experiment (window, WB_CRAFT_STATE_PLANNED)));
  test_settle (window);
  stack = GTK_STACK (test_child (GTK_WIDGET (wb_window_get_page (window)), "stack"));
  g_assert_cmpstr (gtk_stack_get_visible_child_name (stack), ==, "empty");
  g_assert_false (test_enabled (window, "page.save-chart"));
  test_window_destroy (window);
}

static void
look_at (WbWindow   *window,
         const char *look)
{
  gtk_widget_activate_action (GTK_WIDGET (wb_window_get_page (window)), "page.look", "s", look);
  test_settle (window);
}

/* Whether what scrolls takes a turn of the wheel, or leaves it to what is around it. */
static gboolean
takes_wheel (GtkWidget *widget)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  gboolean taken = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers) && !taken; i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_SCROLL (controller) && gtk_event_controller_get_propagation_phase (controller) != GTK_PHASE_NONE)
        g_signal_emit_by_name (controller, "scroll", 0.0, 1.0, &taken);
    }
  return taken;
}

/* Above a table, too, the wheel scrolls the numbers. */
static void
test_wheel (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkWidget *numbers, *table, *scrolled;
  GtkPolicyType across, down;

  compare (window, test_experiment (window, WB_CRAFT_STATE_FINISHED));
  look_at (window, "numbers");
  numbers = test_child (GTK_WIDGET (wb_window_get_page (window)), "numbers");
  table = test_find (numbers, WB_TYPE_TEXT_TABLE);
  g_assert_nonnull (table);
  g_assert_false (takes_wheel (table));
  scrolled = test_find (table, GTK_TYPE_SCROLLED_WINDOW);
  gtk_scrolled_window_get_policy (GTK_SCROLLED_WINDOW (scrolled), &across, &down);
  g_assert_true (across == GTK_POLICY_AUTOMATIC && down == GTK_POLICY_NEVER);
  g_assert_false (takes_wheel (scrolled));
  test_window_destroy (window);
}

static GtkAdjustment *
get_place (WbWindow   *window,
           const char *name)
{
  return gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (test_child (GTK_WIDGET (wb_window_get_page (window)), name)));
}

static GtkAdjustment *
get_numbers_place (WbWindow *window)
{
  GtkWidget *numbers = test_child (GTK_WIDGET (wb_window_get_page (window)), "numbers");

  return gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (test_find (numbers, GTK_TYPE_SCROLLED_WINDOW)));
}

/* Once it is laid out. */
static gboolean
scrolls (gpointer adjustment)
{
  gtk_adjustment_set_value (adjustment, 60.0);
  return gtk_adjustment_get_value (adjustment) > 0.0;
}

/* How far down the last experiment was read says nothing about the next. */
static void
test_top (void)
{
  WbWindow *window = test_window_new_demo ();

  gtk_window_set_default_size (GTK_WINDOW (window), 1024, 600);
  compare (window, test_experiment (window, WB_CRAFT_STATE_FINISHED));
  test_wait (scrolls, get_place (window, "ranking_place"));
  look_at (window, "numbers");
  test_wait (scrolls, get_numbers_place (window));
  look_at (window, "answer");
  compare (window, test_experiment (window, WB_CRAFT_STATE_BURNING));
  test_settle (window);
  g_assert_cmpfloat (gtk_adjustment_get_value (get_place (window, "ranking_place")), ==, 0.0);
  g_assert_cmpfloat (gtk_adjustment_get_value (get_numbers_place (window)), ==, 0.0);
  test_window_destroy (window);
}

void
test_compare_page_add (void)
{
  g_test_add_func ("/views/compare/the-wheel-scrolls-the-numbers-above-a-table-too", test_wheel);
  g_test_add_func ("/views/compare/another-experiment-is-read-from-its-top", test_top);
  g_test_add_func ("/views/compare/every-kind-of-chart-is-drawn", test_kinds);
  g_test_add_func ("/views/compare/a-value-of-a-combination-opens-its-samples", test_opens);
  g_test_add_func ("/views/compare/each-figure-that-is-offered-is-drawn", test_figures);
  g_test_add_func ("/views/compare/a-chart-takes-nothing-from-the-answer", test_chart_beside_the_answer);
  g_test_add_func ("/views/compare/each-experiment-begins-with-its-own-leaders", test_leaders);
  g_test_add_func ("/views/compare/without-a-burn-there-is-nothing-to-compare", test_nothing);
}
