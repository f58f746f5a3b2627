/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-app-import.h"
#include "wb-badge.h"
#include "wb-place.h"
#include "wb-save-mark.h"

#include <glib/gstdio.h>

static WbVessel *
vessel_new (const char *name)
{
  WbVessel *vessel = wb_record_new (&wb_vessel_type);

  vessel->name = g_strdup (name);
  vessel->inner_diameter_mm = 76.0;
  return vessel;
}

static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      user)
{
  g_autoptr (GError) error = NULL;

  *(gboolean *) user = wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error) != 0;
  g_assert_no_error (error);
}

static void
save (WbWindow   *window,
      const char *name)
{
  g_autoptr (WbRecord) vessel = (WbRecord *) vessel_new (name);
  gboolean saved = FALSE;

  wb_app_notebook_save_record_async (test_notebook (window), "Add a vessel", vessel, NULL, on_saved_cb, &saved);
  test_wait (test_is_true, &saved);
  test_settle (window);
}

static void
test_without_notebook (void)
{
  WbWindow *window = test_window_new ();

  g_assert_null (wb_host_get_desk (WB_HOST (window)));
  g_assert_false (test_enabled (window, "win.undo"));
  g_assert_false (test_enabled (window, "win.redo"));
  g_assert_false (test_enabled (window, "win.new-experiment"));
  g_assert_false (wb_window_go (window, "materials", 0));
  g_assert_false (wb_window_go (window, "no-such-place", 0));
  g_assert_cmpstr (gtk_stack_get_visible_child_name (GTK_STACK (test_find (GTK_WIDGET (wb_window_get_page (window)), GTK_TYPE_STACK))),
                   ==, "welcome");
  test_window_destroy (window);
}

static const char *
status_words (WbWindow *window)
{
  return gtk_label_get_text (GTK_LABEL (test_child (test_child (GTK_WIDGET (window), "status_line"), "words")));
}

static GtkDialog *
find_question (void)
{
  GListModel *windows = gtk_window_get_toplevels ();
  guint n = g_list_model_get_n_items (windows);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);

      if (GTK_IS_MESSAGE_DIALOG (window))
        return GTK_DIALOG (window);
    }
  return NULL;
}

static gboolean
is_passing (gpointer window)
{
  g_autofree char *passed = NULL;

  g_object_get (test_notebook (window), "passed-label", &passed, NULL);
  return passed != NULL;
}

/* The import is the newest thing, and Ctrl+Z does not reach for what was done before it unless somebody says so. */
static void
test_undo_at_an_import (void)
{
  g_autofree char *path = test_path ("undo-import.wickbench");
  g_autofree char *log = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
  WbWindow *window = test_window_new_with (path);
  g_autofree char *body = NULL;
  g_autoptr (WbAppImportSummary) summary = NULL;
  g_autoptr (GError) error = NULL;

  save (window, "Tern");
  summary = wb_app_import_sync (path, log, NULL, WB_APP_IMPORT_WRITE, NULL, &error);
  g_assert_no_error (error);
  test_wait (is_passing, window);
  test_settle (window);
  for (guint answer = 0; answer < 2; answer++)
    {
      gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));

      gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
      test_settle (window);
      g_assert_nonnull (find_question ());
      g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
      g_object_get (find_question (), "secondary-text", &body, NULL);
      g_assert_nonnull (strstr (body, "Add a vessel"));
      g_clear_pointer (&body, g_free);
      gtk_dialog_response (find_question (), answer == 0 ? GTK_RESPONSE_CANCEL : GTK_RESPONSE_ACCEPT);
      test_settle (window);
      g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + answer);
    }
  g_assert_cmpstr (status_words (window), ==, "Taken back: Add a vessel");
  /* It is of that step: the next one that is saved does not stand beside it. */
  save (window, "Plover");
  g_assert_cmpstr (status_words (window), ==, "");
  test_window_destroy (window);
}

static void
test_undo_redo (void)
{
  g_autofree char *path = test_path ("undo.wickbench");
  WbWindow *window = test_window_new_with (path);

  g_assert_false (test_enabled (window, "win.undo"));
  save (window, "Tern");
  g_assert_true (test_enabled (window, "win.undo"));
  g_assert_false (test_enabled (window, "win.redo"));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_settle (window);
  g_assert_false (test_enabled (window, "win.undo"));
  g_assert_true (test_enabled (window, "win.redo"));
  g_assert_cmpstr (status_words (window), ==, "Taken back: Add a vessel");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.redo", NULL);
  test_settle (window);
  g_assert_true (test_enabled (window, "win.undo"));
  g_assert_cmpstr (status_words (window), ==, "Brought back: Add a vessel");
  g_assert_cmpstr (wb_problem_bar_get_heading (wb_host_get_problem_bar (WB_HOST (window))), ==, "");
  test_window_destroy (window);
}

static void
test_saved_words (void)
{
  g_autofree char *path = test_path ("saved.wickbench");
  WbWindow *window = test_window_new_with (path);
  WbSaveMark *mark = WB_SAVE_MARK (test_child (GTK_WIDGET (window), "save_mark"));

  g_assert_cmpint (wb_save_mark_get_state (mark), ==, WB_SAVE_IDLE);
  save (window, "Tern");
  save (window, "Gull");
  g_assert_cmpint (wb_save_mark_get_state (mark), ==, WB_SAVE_SAVED);
  test_window_destroy (window);
}

static void
test_badges (void)
{
  WbWindow *demo = test_window_new_demo ();
  g_autofree char *path = test_path ("plain.wickbench");
  WbWindow *plain;

  g_assert_cmpstr (wb_badge_get_text (WB_BADGE (test_child (GTK_WIDGET (demo), "invented"))), ==, "Invented data");
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (demo), "invented")));
  g_assert_true (g_str_has_prefix (wb_badge_get_text (WB_BADGE (test_child (GTK_WIDGET (demo), "test_clock"))), "Test clock: "));
  test_window_destroy (demo);
  plain = test_window_new_with (path);
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (plain), "invented")));
  g_assert_false (gtk_widget_get_visible (test_child (GTK_WIDGET (plain), "read_only")));
  test_window_destroy (plain);
}

static void
test_read_only (void)
{
  g_autofree char *path = test_path ("read.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbAppNotebook) notebook = NULL;
  g_autoptr (GError) error = NULL;

  save (window, "Tern");
  test_window_destroy (window);
  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_READ, NULL, &error);
  g_assert_no_error (error);
  window = test_window_new ();
  wb_window_set_notebook (window, notebook);
  test_settle (window);
  g_assert_true (gtk_widget_get_visible (test_child (GTK_WIDGET (window), "read_only")));
  g_assert_false (test_enabled (window, "win.undo"));
  g_assert_true (wb_window_go (window, "materials", 0));
  test_settle (window);
  g_assert_false (test_enabled (window, "page.new"));
  g_assert_false (test_enabled (window, "page.save"));
  test_window_destroy (window);
}

static void
test_experiments (void)
{
  WbWindow *window = test_window_new_demo ();
  GListModel *list = G_LIST_MODEL (wb_desk_get_experiments (wb_host_get_desk (WB_HOST (window))));
  GtkWidget *bar = test_child (GTK_WIDGET (window), "experiment_bar");
  gboolean any = FALSE, any_tab = FALSE;

  for (const WbPlace *place = wb_places_get (); place->name != NULL; place++)
    any = any || place->of_experiment;
  g_assert_cmpuint (g_list_model_get_n_items (list), ==, 5);
  g_assert_false (gtk_widget_get_visible (bar));
  /* A click leaves the keyboard to the page: what is typed next is not lost on a tab. */
  for (GtkWidget *tab = gtk_widget_get_first_child (test_child (bar, "tabs")); tab != NULL; tab = gtk_widget_get_next_sibling (tab))
    {
      g_assert_false (gtk_widget_get_focus_on_click (tab));
      any_tab = TRUE;
    }
  g_assert_true (any_tab);
  for (guint i = 0; any && i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (WbAppExperiment) experiment = g_list_model_get_item (list, i);

      gtk_widget_activate_action (GTK_WIDGET (window), "win.open-experiment", "x", wb_app_experiment_get_id (experiment));
      test_settle (window);
      g_assert_true (gtk_widget_get_visible (bar));
      g_assert_cmpint (wb_page_get_experiment (wb_window_get_page (window)), ==, wb_app_experiment_get_id (experiment));
    }
  gtk_widget_activate_action (GTK_WIDGET (window), "win.show", "s", "today");
  g_assert_false (gtk_widget_get_visible (bar));
  test_window_destroy (window);
}

/* The widest and the strangest titles leave the window as small as it may be. */
static void
test_long_title (void)
{
  static const char *const titles[] = { "\xd9\x82\xd9\x86\xd8\xaf\xd9\x8a\xd9\x84", "\xf0\x9f\x95\xaf\xef\xb8\x8f \xf0\x9f\x90\x9d", NULL };
  g_autofree char *path = test_path ("long.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autofree char *wide = g_strnfill (200, 'W');
  int before, after;

  gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_HORIZONTAL, -1, &before, NULL, NULL, NULL);
  for (int i = -1; i < 2; i++)
    {
      g_autoptr (WbRecord) settings = wb_record_copy (wb_app_notebook_get_settings (test_notebook (window)));
      g_autoptr (GPtrArray) records = g_ptr_array_new ();
      g_autoptr (GError) error = NULL;

      wb_record_set_text (settings, wb_record_type_find_field (&wb_notebook_type, "title"), i < 0 ? wide : titles[i]);
      g_ptr_array_add (records, settings);
      wb_app_notebook_save_sync (test_notebook (window), "Change the title", records, NULL, &error);
      g_assert_no_error (error);
      test_settle (window);
      gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_HORIZONTAL, -1, &after, NULL, NULL, NULL);
      g_assert_cmpint (after, ==, before);
    }
  g_assert_cmpint (before, <=, 800);
  test_window_destroy (window);
}

static void
test_moved_file (void)
{
  g_autofree char *path = test_path ("moved.wickbench");
  g_autofree char *elsewhere = test_path ("elsewhere.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_rename (path, elsewhere), ==, 0);
  g_ptr_array_add (records, vessel_new ("Tern"));
  wb_app_notebook_save_sync (test_notebook (window), "Add a vessel", records, NULL, &error);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_MISSING);
  test_window_destroy (window);
}

void
test_window_add (void)
{
  g_test_add_func ("/views/window/without-a-notebook-little-can-be-done", test_without_notebook);
  g_test_add_func ("/views/window/undo-and-redo-follow-the-record", test_undo_redo);
  g_test_add_func ("/views/window/undo-asks-before-it-passes-over-an-import", test_undo_at_an_import);
  g_test_add_func ("/views/window/saved-is-said-once-it-is-durable", test_saved_words);
  g_test_add_func ("/views/window/badges-say-what-kind-of-notebook", test_badges);
  g_test_add_func ("/views/window/a-read-only-notebook-offers-no-change", test_read_only);
  g_test_add_func ("/views/window/an-experiment-opens-where-it-waits", test_experiments);
  g_test_add_func ("/views/window/a-long-title-makes-no-wide-window", test_long_title);
  g_test_add_func ("/views/window/a-moved-file-is-noticed", test_moved_file);
}
