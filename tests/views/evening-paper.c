/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "evening-paper.h"

#include "bench-notebook.h"
#include "wb-clock.h"

#define HOUR_US (3600 * (gint64) G_USEC_PER_SEC)

WbEveningSheet *
evening_paper_find_sheet (void)
{
  return WB_EVENING_SHEET (test_find_window (WB_TYPE_EVENING_SHEET));
}

static gboolean
has_sheet (gpointer user)
{
  return evening_paper_find_sheet () != NULL;
}

gboolean
evening_paper_is_closed (gpointer user)
{
  return evening_paper_find_sheet () == NULL;
}

static gboolean
is_loaded (gpointer window)
{
  return wb_app_bench_get_loaded (wb_desk_get_bench (wb_host_get_desk (WB_HOST (window))));
}

void
evening_paper_open_sheet (EveningPaper *paper)
{
  gtk_widget_activate_action (GTK_WIDGET (paper->window), "win.evening", NULL);
  test_wait (has_sheet, NULL);
  paper->sheet = evening_paper_find_sheet ();
}

void
evening_paper_open (EveningPaper *paper)
{
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;

  paper->path = test_path ("paper.wickbench");
  paper->experiment = bench_notebook_write (paper->path, EVENING_PAPER_SAMPLES, "pool_mm,flame_max_mm,smoke");
  notebook = wb_app_notebook_open_sync (paper->path, WB_APP_OPEN_EXISTING, NULL, &error);
  g_assert_no_error (error);
  paper->window = test_window_new ();
  wb_window_set_notebook (paper->window, notebook);
  test_settle (paper->window);
  g_assert_true (wb_window_go (paper->window, "burn", paper->experiment));
  test_wait (is_loaded, paper->window);
  evening_paper_open_sheet (paper);
}

void
evening_paper_close (EveningPaper *paper)
{
  test_window_destroy (paper->window);
  g_free (paper->path);
}

void
evening_paper_type (EveningPaper      *paper,
         guint       row,
         guint       column,
         const char *text)
{
  GtkWidget *entry = wb_evening_grid_get_entry (wb_evening_sheet_get_grid (paper->sheet), row, column);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (paper->sheet));

  g_assert_nonnull (entry);
  g_assert_nonnull (focus);
  g_assert_true (gtk_widget_is_ancestor (focus, entry));
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

gboolean
evening_paper_press (EveningPaper *paper,
       guint  keyval)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (wb_evening_sheet_get_grid (paper->sheet)));

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
      gboolean stopped = FALSE;

      if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
        g_signal_emit_by_name (controller, "key-pressed", keyval, 0, 0, &stopped);
      if (stopped)
        return TRUE;
    }
  return FALSE;
}

void
evening_paper_set_morning (void)
{
  WbInstant now = wb_clock_now (wb_clock_get ());

  wb_clock_advance (wb_clock_get (), (33 - (now.utc_us / HOUR_US) % 24) * HOUR_US);
}
