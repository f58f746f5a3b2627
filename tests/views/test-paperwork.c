/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-paper-dialog.h"
#include "wb-paper-view.h"
#include "wb-paperwork.h"

static GtkWidget *
find_dialog (void)
{
  GListModel *toplevels = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (toplevels); i++)
    {
      g_autoptr (GtkWidget) toplevel = g_list_model_get_item (toplevels, i);

      if (WB_IS_PAPER_DIALOG (toplevel))
        return toplevel;
    }
  return NULL;
}

static gboolean
has_dialog (gpointer user)
{
  return find_dialog () != NULL;
}

static gboolean
has_problem (gpointer user)
{
  return *wb_problem_bar_get_heading (wb_window_get_problem_bar (user)) != '\0';
}

static const char *
get_words (gpointer dialog)
{
  return gtk_label_get_text (GTK_LABEL (test_child (dialog, "words")));
}

static gboolean
has_written (gpointer user)
{
  return g_str_has_prefix (get_words (user), "Written");
}

static WbWindow *
open_experiment (WbCraftState state)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "compare", test_experiment (window, state)));
  test_settle (window);
  return window;
}

static void
test_log_sheet (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autofree char *path = test_path ("log.pdf");
  g_autofree char *text = NULL;
  g_autofree char *bytes = NULL;
  GtkWidget *dialog;

  g_assert_false (test_enabled (window, "win.log-sheet"));
  test_window_destroy (window);

  window = open_experiment (WB_CRAFT_STATE_BURNING);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.log-sheet", NULL);
  test_wait (has_dialog, NULL);
  dialog = find_dialog ();
  text = wb_paper_dup_text (wb_paper_view_get_paper (WB_PAPER_VIEW (test_child (dialog, "preview"))), 0);
  g_assert_nonnull (strstr (text, "Before the first light"));

  wb_paper_dialog_write (WB_PAPER_DIALOG (dialog), path);
  test_wait (has_written, dialog);
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static void
test_nothing_to_light (void)
{
  WbWindow *window = open_experiment (WB_CRAFT_STATE_PLANNED);

  gtk_widget_activate_action (GTK_WIDGET (window), "win.log-sheet", NULL);
  test_wait (has_problem, window);
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_window_get_problem_bar (window)), ==, "There is no paper to show");
  g_assert_null (find_dialog ());
  test_window_destroy (window);
}

static gboolean
has_loaded (gpointer user)
{
  return *(GAsyncResult **) user != NULL;
}

static void
on_loaded_cb (GObject      *source,
              GAsyncResult *result,
              gpointer      user)
{
  *(GAsyncResult **) user = g_object_ref (result);
}

static void
test_batch_and_labels (void)
{
  const WbReportLabelSheet sheet = wb_report_label_sheet_preset (WB_REPORT_LABELS_A4_24);
  WbWindow *window = open_experiment (WB_CRAFT_STATE_PLANNED);
  WbAppPour *pour = wb_app_pour_new (test_notebook (window), test_experiment (window, WB_CRAFT_STATE_PLANNED));
  GAsyncResult *result = NULL;

  wb_app_pour_load_async (pour, NULL, on_loaded_cb, &result);
  test_wait (has_loaded, &result);
  g_assert_true (wb_app_pour_load_finish (pour, result, NULL));
  g_object_unref (result);

  wb_paperwork_batch (GTK_WIDGET (window), pour, 0);
  test_wait (has_dialog, NULL);
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (find_dialog ())), ==, "Batch sheet");
  gtk_window_destroy (GTK_WINDOW (find_dialog ()));

  wb_paperwork_labels (GTK_WIDGET (window), pour, 0, &sheet, 0, TRUE, FALSE);
  test_wait (has_dialog, NULL);
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (find_dialog ())), ==, "Labels");
  gtk_window_destroy (GTK_WINDOW (find_dialog ()));

  /* A place that the sheet does not have: the reason, no window. */
  wb_paperwork_labels (GTK_WIDGET (window), pour, 0, &sheet, 24, TRUE, FALSE);
  g_assert_true (has_problem (window));
  g_assert_null (find_dialog ());
  g_object_unref (pour);
  test_window_destroy (window);
}

void
test_paperwork_add (void)
{
  g_test_add_func ("/views/paperwork/an-evening-has-its-log-sheet", test_log_sheet);
  g_test_add_func ("/views/paperwork/without-samples-there-is-a-reason", test_nothing_to_light);
  g_test_add_func ("/views/paperwork/a-batch-has-its-sheet-and-labels", test_batch_and_labels);
}
