/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-burn-page.h"
#include "wb-evenings-entry.h"
#include "wb-paper-dialog.h"
#include "wb-paper-view.h"
#include "wb-preferences.h"
#include "wb-save-mark.h"
#include "wb-transfer.h"
#include "wb-week-list.h"

#include <string.h>

/* Evenings of the bench: asked in Preferences, shown on Today, written for a calendar and on paper. */

static GtkWidget *
find_toggle (GtkWidget *entry,
             int        day)
{
  GtkWidget *toggle = test_find (entry, GTK_TYPE_TOGGLE_BUTTON);

  for (int i = 0; i < day; i++)
    toggle = gtk_widget_get_next_sibling (toggle);
  return toggle;
}

static gboolean
is_saved (gpointer preferences)
{
  return wb_save_mark_get_state (WB_SAVE_MARK (test_find (preferences, WB_TYPE_SAVE_MARK))) == WB_SAVE_SAVED;
}

static void
save (GtkWidget *preferences)
{
  g_signal_emit_by_name (test_child (preferences, "save"), "clicked");
}

static const WbNotebook *
settings_of (WbWindow *window)
{
  return wb_app_notebook_get_settings (test_notebook (window));
}

static gboolean
is_taken_back (gpointer window)
{
  return settings_of (window)->evenings == NULL;
}

/* Tuesday and Friday at 20:15; what is no time is said at its field and nothing is saved; one undo takes all of it back. */
static void
on_saved_cb (GObject      *source,
             GAsyncResult *result,
             gpointer      saved)
{
  g_autoptr (GError) error = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  g_assert_no_error (error);
  *(gboolean *) saved = TRUE;
}

static gboolean
is_out_taken_back (gpointer window)
{
  return g_strcmp0 (settings_of (window)->evenings_out, "2025-12-24..2026-01-03 2026-03-06") == 0;
}

/* The line of the evenings that are left out: the last one. */
static GtkWidget *
find_out (GtkWidget *entry)
{
  for (GtkWidget *child = gtk_widget_get_last_child (entry); child != NULL; child = gtk_widget_get_prev_sibling (child))
    if (test_find (child, GTK_TYPE_ENTRY) != NULL)
      return test_find (child, GTK_TYPE_ENTRY);
  g_assert_not_reached ();
}

static void
test_preferences (void)
{
  g_autofree char *path = test_path ("evenings.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  GtkWidget *preferences = wb_preferences_new (GTK_WINDOW (window), settings, test_notebook (window));
  GtkWidget *entry = test_child (preferences, "evenings");
  GtkWidget *begins = test_find (entry, GTK_TYPE_ENTRY);
  gint64 before = wb_app_notebook_get_last_entry (test_notebook (window));

  gtk_window_present (GTK_WINDOW (preferences));
  g_assert_false (gtk_widget_get_sensitive (test_child (preferences, "save")));
  g_assert_false (wb_evenings_entry_get_touched (WB_EVENINGS_ENTRY (entry)));
  g_signal_emit_by_name (find_toggle (entry, 1), "clicked");
  g_signal_emit_by_name (find_toggle (entry, 4), "clicked");
  g_assert_true (gtk_widget_get_sensitive (test_child (preferences, "save")));
  gtk_editable_set_text (GTK_EDITABLE (begins), "25:00");
  save (preferences);
  g_assert_true (gtk_widget_has_css_class (begins, "error"));
  test_settle (window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);

  gtk_editable_set_text (GTK_EDITABLE (begins), "20:15");
  g_assert_false (gtk_widget_has_css_class (begins, "error"));
  save (preferences);
  test_wait (is_saved, preferences);
  g_assert_cmpstr (settings_of (window)->evenings, ==, "tue fri");
  g_assert_cmpint (settings_of (window)->evening_begins_min, ==, 20 * 60 + 15);
  g_assert_false (wb_evenings_entry_get_touched (WB_EVENINGS_ENTRY (entry)));
  gtk_window_destroy (GTK_WINDOW (preferences));

  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_wait (is_taken_back, window);
  g_assert_true (settings_of (window)->evening_begins_min == WB_INTEGER_NONE);
  test_window_destroy (window);
}

/* Stored on another day: what is over by now is not shown, and is still there when others are saved. One entry, taken back by undo. */
static void
test_left_out (void)
{
  g_autofree char *path = test_path ("left-out.wickbench");
  WbWindow *window = test_window_new_with (path);
  g_autoptr (WbAppSettings) settings = wb_app_settings_new ();
  g_autoptr (WbRecord) record = wb_record_copy (settings_of (window));
  GtkWidget *preferences, *entry, *out;
  gboolean saved = FALSE;
  gint64 before;

  ((WbNotebook *) record)->evenings = g_strdup ("tue fri");
  ((WbNotebook *) record)->evenings_out = g_strdup ("2025-12-24..2026-01-03 2026-03-06");
  wb_app_notebook_save_record_async (test_notebook (window), "evenings", record, NULL, on_saved_cb, &saved);
  test_wait (test_is_true, &saved);
  preferences = wb_preferences_new (GTK_WINDOW (window), settings, test_notebook (window));
  entry = test_child (preferences, "evenings");
  out = find_out (entry);
  gtk_window_present (GTK_WINDOW (preferences));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (out)), ==, "6 Mar 2026");
  g_assert_true (test_says (entry, "6 Mar 2026: 1 evening at the bench falls away"));
  g_assert_false (wb_evenings_entry_get_touched (WB_EVENINGS_ENTRY (entry)));
  before = wb_app_notebook_get_last_entry (test_notebook (window));

  /* What is no day is said, and not saved. */
  gtk_editable_set_text (GTK_EDITABLE (out), "at Easter");
  save (preferences);
  g_assert_true (gtk_widget_has_css_class (out, "error"));
  g_assert_true (test_says (entry, "“at Easter” is no day: write 24 Dec, or 24 Dec to 3 Jan, commas between"));
  test_settle (window);
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before);
  /* An evening that was, and one that is written twice, do not fall away. */
  gtk_editable_set_text (GTK_EDITABLE (out), "27 Feb 2026 to 6 Mar, 3 Mar to 4 Mar, 3 Mar");
  g_assert_true (test_says (entry, "27 Feb 2026 to 6 Mar 2026, 3 Mar 2026, 3 Mar 2026 to 4 Mar 2026: 2 evenings at the bench fall away"));
  gtk_editable_set_text (GTK_EDITABLE (out), "9 Mar to 20 Mar, 27 Mar");
  g_assert_false (gtk_widget_has_css_class (out, "error"));
  g_assert_true (test_says (entry, "9 Mar 2026 to 20 Mar 2026, 27 Mar 2026: 5 evenings at the bench fall away"));
  /* Enter saves. */
  g_signal_emit_by_name (out, "activate");
  test_wait (is_saved, preferences);
  g_assert_cmpstr (settings_of (window)->evenings_out, ==, "2025-12-24..2026-01-03 2026-03-09..2026-03-20 2026-03-27");
  g_assert_cmpstr (settings_of (window)->evenings, ==, "tue fri");
  g_assert_cmpint (wb_app_notebook_get_last_entry (test_notebook (window)), ==, before + 1);
  gtk_window_destroy (GTK_WINDOW (preferences));
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  test_wait (is_out_taken_back, window);
  test_window_destroy (window);
}

static GtkListBox *
find_list (WbWindow *window)
{
  return GTK_LIST_BOX (test_child (test_find (GTK_WIDGET (window), WB_TYPE_WEEK_LIST), "list"));
}

static gboolean
has_rows (gpointer window)
{
  return gtk_list_box_get_row_at_index (find_list (window), 0) != NULL;
}

/* The row of an evening; NULL: none. */
static GtkListBoxRow *
find_evening (GtkListBox *list)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (test_says (GTK_WIDGET (row), "evening"))
      return row;
  return NULL;
}

static gboolean
burns (gpointer window)
{
  return WB_IS_BURN_PAGE (wb_window_get_page (window));
}

/* The demo's candles burn on, on Tuesdays, Thursdays and Sundays; Enter on an evening goes to the bench. */
static void
test_today (void)
{
  WbWindow *window = test_window_new_demo ();
  GtkListBoxRow *row;

  test_wait (has_rows, window);
  row = find_evening (find_list (window));
  g_assert_nonnull (row);
  gtk_widget_activate (GTK_WIDGET (row));
  test_wait (burns, window);
  test_settle (window);
  test_window_destroy (window);
}

static gboolean
is_asked (gpointer window)
{
  return gtk_widget_get_visible (test_child (test_find (GTK_WIDGET (window), WB_TYPE_WEEK_LIST), "ask"));
}

static gboolean
says_nothing_to_ask (gpointer window)
{
  return !is_asked (window);
}

static void
say_evenings (WbWindow   *window,
              const char *days)
{
  g_autoptr (WbRecord) record = wb_record_copy (settings_of (window));
  gboolean saved = FALSE;

  g_free (((WbNotebook *) record)->evenings);
  ((WbNotebook *) record)->evenings = g_strdup (days);
  wb_app_notebook_save_record_async (test_notebook (window), "evenings", record, NULL, on_saved_cb, &saved);
  test_wait (test_is_true, &saved);
}

static void
test_asks (void)
{
  WbWindow *window = test_window_new_demo ();

  test_wait (has_rows, window);
  g_assert_false (is_asked (window));
  say_evenings (window, NULL);
  test_wait (is_asked, window);
  g_assert_null (find_evening (find_list (window)));
  say_evenings (window, "mon");
  test_wait (says_nothing_to_ask, window);
  g_assert_nonnull (find_evening (find_list (window)));
  test_settle (window);
  test_window_destroy (window);
}

static gboolean
is_there (gpointer path)
{
  return g_file_test (path, G_FILE_TEST_EXISTS);
}

static void
test_export (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autofree char *path = test_path ("bench.ics");
  g_autofree char *text = NULL;

  g_assert_true (test_enabled (window, "win.export-calendar"));
  wb_transfer_export_file (WB_HOST (window), 0, path);
  test_wait (is_there, path);
  test_settle (window);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_true (g_str_has_prefix (text, "BEGIN:VCALENDAR\r\n"));
  g_assert_nonnull (strstr (text, "invented data"));
  test_window_destroy (window);
}

static GtkWidget *
find_paper (void)
{
  return test_find_window (WB_TYPE_PAPER_DIALOG);
}

static gboolean
has_paper (gpointer user)
{
  return find_paper () != NULL;
}

static void
test_paper (void)
{
  WbWindow *window = test_window_new_demo ();
  g_autofree char *text = NULL;

  test_wait (has_rows, window);
  g_assert_false (test_enabled (window, "win.bench-plan"));
  g_assert_true (wb_window_go (window, "plan", test_experiment (window, WB_CRAFT_STATE_BURNING)));
  test_settle (window);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.bench-plan", NULL);
  test_wait (has_paper, NULL);
  text = wb_paper_dup_text (wb_paper_view_get_paper (WB_PAPER_VIEW (test_child (find_paper (), "preview"))), 0);
  g_assert_nonnull (strstr (text, "Plan of the bench"));
  g_assert_nonnull (strstr (text, "The bench from above"));
  gtk_window_destroy (GTK_WINDOW (find_paper ()));
  test_window_destroy (window);
}

void
test_calendar_add (void)
{
  g_test_add_func ("/views/calendar/evenings-are-left-out-in-preferences", test_left_out);
  g_test_add_func ("/views/calendar/preferences-take-the-evenings-and-undo-them", test_preferences);
  g_test_add_func ("/views/calendar/an-evening-on-today-leads-to-the-bench", test_today);
  g_test_add_func ("/views/calendar/today-asks-for-the-evenings", test_asks);
  g_test_add_func ("/views/calendar/it-goes-out-as-a-file", test_export);
  g_test_add_func ("/views/calendar/the-plan-of-the-bench-is-shown-as-paper", test_paper);
}
