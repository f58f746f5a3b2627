/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-file-choice.h"
#include "wb-import-dialog.h"
#include "wb-transfer.h"

static GtkWidget *
find_dialog (void)
{
  return test_find_window (WB_TYPE_IMPORT_DIALOG);
}

static const char *
get_summary (GtkWidget *dialog)
{
  return gtk_label_get_text (GTK_LABEL (test_child (dialog, "summary")));
}

static gboolean
has_looked (gpointer user)
{
  return strstr (get_summary (user), "nothing is written yet") == NULL;
}

static gboolean
has_come_in (gpointer user)
{
  return strstr (get_summary (user), "came in") != NULL;
}

static gboolean
has_experiments (gpointer user)
{
  return g_list_model_get_n_items (G_LIST_MODEL (wb_desk_get_experiments (wb_host_get_desk (WB_HOST (user))))) > 0;
}

static guint
count_remarks (GtkWidget *dialog)
{
  GtkSelectionModel *model = gtk_list_view_get_model (GTK_LIST_VIEW (test_child (dialog, "remarks")));

  return model != NULL ? g_list_model_get_n_items (G_LIST_MODEL (model)) : 0;
}

static GtkWidget *
look (WbWindow   *window,
      const char *path)
{
  GtkWidget *dialog;

  wb_transfer_import_file (WB_HOST (window), path);
  dialog = find_dialog ();
  g_assert_nonnull (dialog);
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "import")));
  test_wait (has_looked, dialog);
  return dialog;
}

static gboolean
is_shown (gpointer button)
{
  return gtk_widget_get_visible (button);
}

static gboolean
is_at_experiment (gpointer user)
{
  return test_enabled (user, "win.export-experiment");
}

/* The workbook is a choice of its own, and the name's ending goes with what is chosen. */
static void
test_endings (void)
{
  static const struct { const char *name; WbFileKind kind; const char *renamed; } cases[] = {
    { "Burns", WB_FILE_WORKBOOK, "Burns.xlsx" },
    { "Burns.xlsx", WB_FILE_CSV, "Burns.csv" },
    { "Burns.CSV", WB_FILE_CSV, "Burns.CSV" },
    { "Trial 2.1", WB_FILE_WORKBOOK, "Trial 2.1.xlsx" },
    { "Trial 2.1.json", WB_FILE_CALENDAR, "Trial 2.1.ics" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *renamed = wb_file_choice_dup_renamed (cases[i].name, cases[i].kind);

      g_assert_cmpstr (renamed, ==, cases[i].renamed);
    }
}

static void
test_import (void)
{
  g_autofree char *notebook = test_path ("import.wickbench");
  g_autofree char *log = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
  WbWindow *window = test_window_new_with (notebook);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));
  GtkWidget *dialog = look (window, log);

  /* Looking writes nothing. */
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
  g_assert_nonnull (strstr (get_summary (dialog), "refused: 0"));
  g_assert_true (gtk_widget_get_sensitive (test_child (dialog, "import")));
  g_signal_emit_by_name (test_child (dialog, "import"), "clicked");
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "import")));
  test_wait (has_come_in, dialog);
  test_wait (has_experiments, window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + 1);
  /* And leads on to what came in. */
  test_wait (is_shown, test_child (dialog, "show"));
  g_assert_false (gtk_widget_get_visible (test_child (dialog, "import")));
  g_signal_emit_by_name (test_child (dialog, "show"), "clicked");
  g_assert_null (find_dialog ());
  test_wait (is_at_experiment, window);
  /* The same log once more: nothing to import, and still the way there. */
  dialog = look (window, log);
  test_wait (is_shown, test_child (dialog, "show"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

/* Of the messy log exactly eight rows break a rule. */
static void
test_refused (void)
{
  g_autofree char *notebook = test_path ("refused.wickbench");
  g_autofree char *log = g_test_build_filename (G_TEST_DIST, "exchange", "data", "burn-log-messy.csv", NULL);
  WbWindow *window = test_window_new_with (notebook);
  GtkWidget *dialog;

  dialog = look (window, log);
  g_assert_nonnull (strstr (get_summary (dialog), "refused: 8"));
  g_assert_cmpuint (count_remarks (dialog), >=, 8);
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static void
test_no_log (void)
{
  g_autofree char *notebook = test_path ("nolog.wickbench");
  WbWindow *window = test_window_new_with (notebook);
  GtkWidget *dialog = look (window, "/nonexistent/log.csv");

  g_assert_nonnull (strstr (get_summary (dialog), "The log could not be read"));
  g_assert_false (gtk_widget_get_sensitive (test_child (dialog, "import")));
  gtk_window_destroy (GTK_WINDOW (dialog));
  test_window_destroy (window);
}

static gboolean
has_said (gpointer user)
{
  return *gtk_label_get_text (GTK_LABEL (test_child (test_child (user, "status_line"), "words"))) != '\0';
}

static void
test_export (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autofree char *path = test_path ("out.csv");
  g_autofree char *bytes = NULL;

  wb_transfer_export_file (WB_HOST (window), 0, path);
  test_wait (has_said, window);
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_nonnull (strstr (bytes, "elapsed_min"));
  g_assert_null (wb_job_bar_get_job (wb_host_get_job_bar (WB_HOST (window))));

  wb_transfer_export_file (WB_HOST (window), 0, "/tmp/what.is-this");
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (window))), ==, "The file was not written");
  test_window_destroy (window);
}

void
test_transfer_add (void)
{
  g_test_add_func ("/views/transfer/a-name-takes-the-ending-of-its-kind", test_endings);
  g_test_add_func ("/views/transfer/a-log-is-looked-through-before-it-comes-in", test_import);
  g_test_add_func ("/views/transfer/a-refused-row-stands-with-its-rule", test_refused);
  g_test_add_func ("/views/transfer/a-missing-log-is-told", test_no_log);
  g_test_add_func ("/views/transfer/an-export-goes-by-its-ending", test_export);
}
