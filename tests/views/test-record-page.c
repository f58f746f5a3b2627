/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-views.h"

#include "wb-badge.h"
#include "wb-entry-item.h"
#include "wb-record-page.h"

static GListModel *
get_entries (WbWindow *window)
{
  GtkWidget *view = test_find (GTK_WIDGET (wb_window_get_page (window)), GTK_TYPE_COLUMN_VIEW);

  return G_LIST_MODEL (gtk_column_view_get_model (GTK_COLUMN_VIEW (view)));
}

static gboolean
has_entries (gpointer user)
{
  return g_list_model_get_n_items (get_entries (user)) > 0;
}

static gboolean
has_result (gpointer user)
{
  return gtk_widget_get_visible (test_child (user, "result_box"));
}

static WbWindow *
open_record (void)
{
  WbWindow *window = test_window_new_demo ();

  g_assert_true (wb_window_go (window, "record", 0));
  test_wait (has_entries, window);
  return window;
}

static void
test_entries (void)
{
  WbWindow *window = open_record ();
  g_autoptr (WbEntryItem) first = g_list_model_get_item (get_entries (window), 0);
  g_autoptr (WbEntryItem) second = g_list_model_get_item (get_entries (window), 1);
  const char *shown = gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (window), "fingerprint")));

  g_assert_cmpint (wb_entry_item_get (first)->number, ==, wb_app_notebook_get_last_entry (test_notebook (window)));
  g_assert_cmpint (wb_entry_item_get (first)->number, >, wb_entry_item_get (second)->number);
  g_assert_nonnull (strstr (shown, wb_entry_item_get (first)->hash));
  for (int text = 0; text < WB_N_ENTRY_TEXTS; text++)
    {
      g_autofree char *words = wb_entry_item_dup_text (first, text);

      g_assert_nonnull (words);
    }
  g_assert_false (test_enabled (window, "page.take-back"));
  test_window_destroy (window);
}

static void
test_check (void)
{
  WbWindow *window = open_record ();
  WbBadge *badge = WB_BADGE (test_child (GTK_WIDGET (window), "result_badge"));
  GtkEditable *noted = GTK_EDITABLE (test_child (GTK_WIDGET (window), "noted"));
  g_autofree char *fingerprint = g_strdup (gtk_label_get_text (GTK_LABEL (test_child (GTK_WIDGET (window), "fingerprint"))));

  gtk_editable_set_text (noted, fingerprint);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.check", NULL);
  g_assert_false (test_enabled (window, "page.check"));
  test_wait (has_result, window);
  g_assert_cmpstr (wb_badge_get_text (badge), ==, "Sound");
  g_assert_true (test_enabled (window, "page.check"));

  /* One wrong digit: another record. */
  fingerprint[strlen (fingerprint) - 1] = fingerprint[strlen (fingerprint) - 1] == '0' ? '1' : '0';
  gtk_editable_set_text (noted, fingerprint);
  gtk_widget_activate_action (GTK_WIDGET (window), "page.check", NULL);
  test_wait (has_result, window);
  g_assert_cmpstr (wb_badge_get_text (badge), ==, "Not sound");

  gtk_editable_set_text (noted, "what is this");
  gtk_widget_activate_action (GTK_WIDGET (window), "page.check", NULL);
  test_wait (has_result, window);
  g_assert_cmpstr (wb_badge_get_text (badge), ==, "Not checked");
  test_window_destroy (window);
}

static void
test_back_up (void)
{
  WbWindow *window = open_record ();
  WbBadge *badge = WB_BADGE (test_child (GTK_WIDGET (window), "result_badge"));
  g_autofree char *path = g_strconcat (wb_app_notebook_get_path (test_notebook (window)), ".copy", NULL);

  g_assert_true (test_enabled (window, "page.back-up"));
  wb_record_page_back_up (WB_RECORD_PAGE (wb_window_get_page (window)), path);
  g_assert_false (test_enabled (window, "page.back-up"));
  test_wait (has_result, window);
  g_assert_cmpstr (wb_badge_get_text (badge), ==, "Backed up");
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));

  /* Never over a file that is there. */
  wb_record_page_back_up (WB_RECORD_PAGE (wb_window_get_page (window)), path);
  test_wait (has_result, window);
  g_assert_cmpstr (wb_badge_get_text (badge), ==, "Not backed up");
  test_window_destroy (window);
}

void
test_record_page_add (void)
{
  g_test_add_func ("/views/record/entries-stand-newest-first", test_entries);
  g_test_add_func ("/views/record/the-check-tells-what-it-found", test_check);
  g_test_add_func ("/views/record/a-backup-is-made-and-none-is-overwritten", test_back_up);
}
