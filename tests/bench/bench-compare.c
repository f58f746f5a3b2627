/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_errno.h>
#include <gtk/gtk.h>

#include "turns.h"
#include "wb-application.h"
#include "wb-chart-canvas.h"
#include "wb-chart-view.h"
#include "wb-host.h"
#include "wb-plot.h"
#include "wb-window.h"

/*
 * How long the main loop's longest turn is while the page Compare shows each kind of chart of the notebook's first
 * experiment, and its table: for so long nothing answers a person. The floor is the longest turn of the same window
 * while its page Record comes.
 *
 *   bench-compare NOTEBOOK
 */

typedef enum { STEP_LOADING, STEP_FLOOR, STEP_ANSWER, STEP_KIND, STEP_TABLE, STEP_END } Step;

static WbWindow *window;
static Step step;
static guint kind;
static gboolean laid_out; /* the chart that is there now */
static WbChart *chart_before;
static guint frames; /* since the step has what it waits for */
static gint64 began;

static GtkWidget *
find (GtkWidget *widget,
      GType      type)
{
  GtkWidget *found = NULL;

  if (G_TYPE_CHECK_INSTANCE_TYPE (widget, type))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL; child = gtk_widget_get_next_sibling (child))
    found = find (child, type);
  return found;
}

static WbChartView *
get_view (void)
{
  return WB_CHART_VIEW (find (GTK_WIDGET (wb_window_get_page (window)), WB_TYPE_CHART_VIEW));
}

/* A change of size draws the chart before once more. */
static void
on_laid_out_cb (void)
{
  laid_out = wb_chart_view_get_chart (get_view ()) != chart_before;
}

static gint64
get_first_experiment (WbDesk *desk)
{
  g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (G_LIST_MODEL (wb_desk_get_experiments (desk)), 0);

  return wb_app_experiment_get_id (experiment);
}

static gboolean
has_come (void)
{
  WbDesk *desk = wb_host_get_desk (WB_HOST (window));

  switch (step)
    {
    case STEP_LOADING:
      return desk != NULL && wb_app_experiments_get_loaded (wb_desk_get_experiments (desk))
             && wb_app_bench_get_loaded (wb_desk_get_bench (desk));
    case STEP_TABLE:
      return gtk_column_view_get_model (GTK_COLUMN_VIEW (find (GTK_WIDGET (get_view ()), GTK_TYPE_COLUMN_VIEW))) != NULL;
    case STEP_ANSWER:
    case STEP_KIND:
      return laid_out;
    case STEP_FLOOR:
    case STEP_END:
    default:
      return TRUE;
    }
}

static void
tell (const char *what)
{
  g_print ("%-8s %8.1f ms in the longest turn, there after %6.0f ms\n", what, turns_take_longest ().wall / 1e3,
           (double) (g_get_monotonic_time () - began) / 1e3);
}

static void
take_step (void)
{
  WbDesk *desk = wb_host_get_desk (WB_HOST (window));

  laid_out = FALSE;
  switch (step)
    {
    case STEP_LOADING:
      step = STEP_FLOOR;
      turns_take_longest ();
      wb_window_go (window, "record", 0);
      break;
    case STEP_FLOOR:
      tell ("record");
      step = STEP_ANSWER;
      wb_window_go (window, "compare", get_first_experiment (desk));
      g_signal_connect (find (GTK_WIDGET (get_view ()), WB_TYPE_CHART_CANVAS), "laid-out", G_CALLBACK (on_laid_out_cb), NULL);
      break;
    case STEP_ANSWER:
    case STEP_KIND:
      tell (step == STEP_ANSWER ? "answer" : wb_plot_kind_get_key ((WbPlotKind) (kind % WB_PLOT_N_KINDS)));
      kind = step == STEP_ANSWER ? 1 : kind + 1;
      step = STEP_KIND;
      if (kind > WB_PLOT_N_KINDS)
        {
          step = STEP_TABLE;
          wb_chart_view_set_table_shown (get_view (), TRUE);
          break;
        }
      g_clear_pointer (&chart_before, wb_chart_unref);
      chart_before = wb_chart_ref (wb_chart_view_get_chart (get_view ()));
      /* The first kind once more at the end: its table is the longest. */
      gtk_widget_activate_action (GTK_WIDGET (wb_window_get_page (window)), "page.chart", "s",
                                  wb_plot_kind_get_key ((WbPlotKind) (kind % WB_PLOT_N_KINDS)));
      break;
    case STEP_TABLE:
      tell ("table");
      step = STEP_END;
      wb_chart_view_set_table_shown (get_view (), FALSE);
      break;
    case STEP_END:
    default:
      g_application_quit (g_application_get_default ());
      return;
    }
  frames = 0;
  began = g_get_monotonic_time ();
}

static gboolean
on_tick_cb (GtkWidget     *widget,
            GdkFrameClock *clock,
            gpointer       data)
{
  /* Two whole frames with it, so that its drawing counts. */
  frames = has_come () ? frames + 1 : 0;
  if (frames > 3)
    take_step ();
  return G_SOURCE_CONTINUE;
}

static void
on_window_added_cb (GtkApplication *application,
                    GtkWindow      *added)
{
  window = WB_WINDOW (added);
  gtk_widget_add_tick_callback (GTK_WIDGET (window), on_tick_cb, NULL, NULL);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (WbApplication) application = NULL;

  g_assert_cmpint (argc, ==, 2);
  gsl_set_error_handler_off (); /* as in main.c */
  turns_watch ();
  application = wb_application_new ();
  g_signal_connect (application, "window-added", G_CALLBACK (on_window_added_cb), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
