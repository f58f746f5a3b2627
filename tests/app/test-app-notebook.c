/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-import.h"
#include "wb-app-query.h"
#include "wb-store-change.h"
#include "wb-store-records.h"

#include <glib/gstdio.h>

typedef struct
{
  guint    calls;
  gint64   entry;
  gboolean own;
  gboolean waxes, vessels;
} News;

static void
on_changed_cb (WbAppNotebook *notebook,
               gint64         entry,
               gpointer       types,
               gboolean       own,
               News          *news)
{
  news->calls++;
  news->entry = entry;
  news->own = own;
  news->waxes = wb_app_change_touches (types, &wb_wax_type);
  news->vessels = wb_app_change_touches (types, &wb_vessel_type);
}

static gboolean
has_news (gpointer data)
{
  return ((News *) data)->calls > 0;
}

static void
test_create (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook));
  g_autoptr (GError) error = NULL;

  g_assert_cmpstr (wb_app_notebook_get_title (notebook), ==, "Bench book");
  g_assert_false (wb_app_notebook_get_read_only (notebook));
  g_assert_false (wb_app_notebook_get_can_undo (notebook));
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 1);
  g_assert_null (wb_app_notebook_open_sync (path, WB_APP_OPEN_CREATE, NULL, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_EXISTS);
  app_close (notebook);
}

static void
test_refusals (void)
{
  const struct { const char *name, *bytes; int code; } cases[] = {
    { "missing.wickbench", NULL, WB_APP_ERROR_MISSING },
    { "text.wickbench", "experiment,vessel\n", WB_APP_ERROR_NOT_A_NOTEBOOK },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_build_filename (g_get_user_data_dir (), cases[i].name, NULL);
      g_autoptr (GAsyncResult) result = NULL;
      g_autoptr (GError) error = NULL;

      g_assert_cmpint (g_mkdir_with_parents (g_get_user_data_dir (), 0700), ==, 0);
      if (cases[i].bytes != NULL)
        g_assert_true (g_file_set_contents (path, cases[i].bytes, -1, NULL));
      wb_app_notebook_open_async (path, WB_APP_OPEN_EXISTING, NULL, NULL, app_keep_result_cb, &result);
      g_assert_null (wb_app_notebook_open_finish (app_wait_result (&result), &error));
      g_assert_error (error, WB_APP_ERROR, cases[i].code);
      g_assert_cmpint (g_file_test (path, G_FILE_TEST_EXISTS), ==, cases[i].bytes != NULL);
    }
}

/* Another connection reads what the callback said is saved. */
static void
test_save_is_durable (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  News news = { 0 };
  gint64 id;
  WbStore *store;
  g_autoptr (WbRecord) read = NULL;

  g_signal_connect (notebook, "changed", G_CALLBACK (on_changed_cb), &news);
  id = app_add_wax (notebook, "Heath blend");
  g_assert_false (wb_app_notebook_get_saving (notebook));
  g_assert_cmpuint (news.calls, ==, 1);
  g_assert_cmpint (news.entry, ==, 2);
  g_assert_true (news.own);
  g_assert_true (news.waxes);
  g_assert_false (news.vessels);

  store = wb_store_open (wb_app_notebook_get_path (notebook), WB_STORE_READ, NULL);
  read = wb_store_load (store, &wb_wax_type, id, NULL);
  g_assert_nonnull (read);
  g_assert_cmpstr (((WbWax *) read)->name, ==, "Heath blend");
  wb_store_close (store);
  app_close (notebook);
}

static void
test_placeholders (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) guides = NULL;
  g_autoptr (GArray) ids = NULL;
  g_autoptr (GError) error = NULL;
  WbWick *wick = wb_record_new (&wb_wick_type);
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);

  wick->record.id = -7;
  wick->series = g_strdup ("Sedge");
  wick->size = g_strdup ("S-3");
  wick->step = 3;
  guide->wick = -7;
  guide->from_mm = 60;
  guide->to_mm = 75;
  g_ptr_array_add (records, wick);
  g_ptr_array_add (records, guide);
  g_assert_cmpint (wb_app_notebook_save_sync (notebook, "Add a wick", records, &ids, &error), ==, 2);
  g_assert_no_error (error);
  g_assert_cmpuint (ids->len, ==, 2);
  guides = wb_app_query_list_by_sync (notebook, &wb_wick_guide_type, "wick", g_array_index (ids, gint64, 0), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (guides->len, ==, 1);
  app_close (notebook);
}

/* One record against a rule: none is written. */
static void
test_all_or_nothing (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GPtrArray) waxes = NULL;
  g_autoptr (GError) error = NULL;
  WbWax *wax = wb_record_new (&wb_wax_type);

  wax->name = g_strdup ("Heath blend");
  g_ptr_array_add (records, wax);
  g_ptr_array_add (records, wb_record_new (&wb_wax_type));
  g_assert_cmpint (wb_app_notebook_save_sync (notebook, "Add waxes", records, NULL, &error), ==, 0);
  g_assert_error (error, WB_RECORD_ERROR, WB_RECORD_ERROR_REQUIRED);
  waxes = wb_app_query_list_sync (notebook, &wb_wax_type, NULL);
  g_assert_cmpuint (waxes->len, ==, 0);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 1);
  app_close (notebook);
}

static void
test_changed_since (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 id = app_add_wax (notebook, "Heath blend");
  g_autoptr (GPtrArray) waxes = wb_app_query_list_sync (notebook, &wb_wax_type, NULL);
  g_autoptr (GPtrArray) stale = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbWax *wax = g_ptr_array_index (waxes, 0);

  g_assert_cmpint (wax->record.id, ==, id);
  g_ptr_array_add (stale, wb_record_copy (wax));
  wax->density = 0.91;
  g_assert_cmpint (wb_app_notebook_save_sync (notebook, "Amend the wax", waxes, NULL, &error), ==, 3);
  g_assert_no_error (error);
  ((WbWax *) g_ptr_array_index (stale, 0))->density = 0.92;
  g_assert_cmpint (wb_app_notebook_save_sync (notebook, "Amend the wax", stale, NULL, &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED);
  app_close (notebook);
}

static void
test_guarded_delete (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 id = app_add_fragrance (notebook, "Harbour mist");
  g_autoptr (GAsyncResult) result = NULL, second = NULL, asked = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbRecord) blend = wb_record_new (&wb_fragrance_type);
  g_autoptr (WbRecord) part = wb_record_new (&wb_fragrance_part_type);
  g_autoptr (WbRecord) fragrance = NULL;
  g_autoptr (GPtrArray) uses = NULL, left = NULL;

  ((WbFragrance *) blend)->name = g_strdup ("Evening");
  ((WbFragrance *) blend)->blend = TRUE;
  ((WbFragrancePart *) part)->fragrance = app_save (notebook, blend);
  ((WbFragrancePart *) part)->part = id;
  ((WbFragrancePart *) part)->share_pct = 100;
  app_save (notebook, part);

  wb_app_query_uses_async (notebook, &wb_fragrance_type, id, NULL, app_keep_result_cb, &asked);
  uses = wb_app_query_uses_finish (notebook, app_wait_result (&asked), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (uses->len, ==, 1);
  g_assert_cmpstr (((WbAppUse *) uses->pdata[0])->text, ==, "Part of a blend: Evening");
  g_assert_cmpint (((WbAppUse *) uses->pdata[0])->experiment, ==, 0);
  g_assert_true (((WbAppUse *) uses->pdata[0])->type == &wb_fragrance_type);
  g_assert_cmpint (((WbAppUse *) uses->pdata[0])->material, ==, ((WbFragrancePart *) part)->fragrance);

  wb_app_query_get_async (notebook, &wb_fragrance_type, id, NULL, app_keep_result_cb, &result);
  fragrance = wb_app_query_get_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  wb_app_notebook_delete_async (notebook, "Delete a fragrance", fragrance, NULL, app_keep_result_cb, &second);
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&second), NULL, &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_IN_USE);
  left = wb_app_query_list_sync (notebook, &wb_fragrance_type, NULL);
  g_assert_cmpuint (left->len, ==, 2);
  g_clear_object (&asked);
  g_clear_object (&result);
  g_clear_object (&second);
  app_close (notebook);
}

/* Also after the notebook was closed and opened again. */
static void
test_undo (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook));
  g_autoptr (GPtrArray) waxes = NULL, again = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  app_add_wax (notebook, "Heath blend");
  g_assert_cmpstr (wb_app_notebook_get_undo_label (notebook), ==, "Save for a test");
  app_close (notebook);

  notebook = app_open (path);
  g_assert_true (wb_app_notebook_get_can_undo (notebook));
  app_undo (notebook, FALSE);
  g_assert_false (wb_app_notebook_get_can_undo (notebook));
  g_assert_cmpstr (wb_app_notebook_get_redo_label (notebook), ==, "Save for a test");
  waxes = wb_app_query_list_sync (notebook, &wb_wax_type, NULL);
  g_assert_cmpuint (waxes->len, ==, 0);

  app_undo (notebook, TRUE);
  again = wb_app_query_list_sync (notebook, &wb_wax_type, NULL);
  g_assert_cmpuint (again->len, ==, 1);
  g_assert_false (wb_app_notebook_get_can_redo (notebook));
  app_undo (notebook, FALSE);
  wb_app_notebook_undo_async (notebook, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&result), NULL, &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_NOTHING);
  g_clear_object (&result);
  app_close (notebook);
}

/* What another process writes is told without being asked for. */
static void
test_foreign_write (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  WbStore *store = wb_store_open (wb_app_notebook_get_path (notebook), WB_STORE_WRITE, NULL);
  WbInstant now;
  News news = { 0 };
  WbStoreChange *change;
  g_autoptr (WbRecord) vessel = wb_record_new (&wb_vessel_type);
  g_autoptr (GError) error = NULL;

  g_assert_true (wb_instant_parse ("2026-03-02T19:00:00+00:00", &now, NULL));
  g_signal_connect (notebook, "changed", G_CALLBACK (on_changed_cb), &news);
  ((WbVessel *) vessel)->name = g_strdup ("Tern");
  ((WbVessel *) vessel)->inner_diameter_mm = 76;
  change = wb_store_begin (store, WB_ENTRY_COMMAND, NULL, NULL, "Elsewhere", now, &error);
  g_assert_no_error (error);
  g_assert_true (wb_store_change_put (change, vessel, &error));
  g_assert_true (wb_store_commit (change, NULL, &error));
  wb_store_close (store);

  app_wait_until (has_news, &news, "the other process's entry");
  g_assert_false (news.own);
  g_assert_true (news.vessels);
  g_assert_false (news.waxes);
  g_assert_cmpint (wb_app_notebook_get_last_entry (notebook), ==, 2);
  app_close (notebook);
}

static void
test_moved_file (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autoptr (WbRecord) wax = wb_record_new (&wb_wax_type);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_unlink (wb_app_notebook_get_path (notebook)), ==, 0);
  ((WbWax *) wax)->name = g_strdup ("Heath blend");
  wb_app_notebook_save_record_async (notebook, "Add a wax", wax, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_notebook_get_saving (notebook));
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&result), NULL, &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_MISSING);
  g_assert_false (g_file_test (wb_app_notebook_get_path (notebook), G_FILE_TEST_EXISTS));
  g_clear_object (&result);
  app_close (notebook);
}

static void
test_reading_only (void)
{
  WbAppNotebook *made = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (made));
  g_autoptr (WbRecord) wax = wb_record_new (&wb_wax_type);
  g_autoptr (GPtrArray) records = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  WbAppNotebook *notebook;

  app_add_wax (made, "Heath blend");
  app_close (made);
  notebook = wb_app_notebook_open_sync (path, WB_APP_OPEN_READ, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (wb_app_notebook_get_read_only (notebook));
  g_assert_cmpstr (wb_app_notebook_get_title (notebook), ==, "Bench book");
  ((WbWax *) wax)->name = g_strdup ("Another");
  g_ptr_array_add (records, wax);
  g_assert_cmpint (wb_app_notebook_save_sync (notebook, "Add a wax", records, NULL, &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_READ_ONLY);
  app_close (notebook);
}

static gboolean
has_damage (gpointer notebook)
{
  return wb_app_notebook_get_damage (notebook) != NULL;
}

/* A page in the middle is overwritten: the file still opens, and the check that follows says so. */
static void
test_damage (void)
{
  g_autofree char *path = app_new_path ();
  g_autofree char *log = g_test_build_filename (G_TEST_DIST, "exchange", "data", "burn-log-clean.csv", NULL);
  g_autoptr (WbAppImportSummary) summary = wb_app_import_sync (path, log, NULL, WB_APP_IMPORT_WRITE, NULL, NULL);
  g_autofree char *bytes = NULL;
  gsize length, page;
  WbAppNotebook *notebook;

  g_assert_cmpint (summary->entry, ==, 2);
  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  /* SQLite's file format, 1.3.2: the page size stands at offset 16, big-endian. */
  page = ((guint8) bytes[16] << 8) | (guint8) bytes[17];
  /* The kind of b-tree page is its first byte: 2, 5, 10 or 13 (1.6). A leaf of a table is no root here. */
  for (gsize at = length - page; at > 0; at -= page)
    if (bytes[at] == 13 || bytes[at] == 10)
      {
        bytes[at] = 99;
        break;
      }
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  notebook = app_open (path);
  app_wait_until (has_damage, notebook, "the quick check's finding");
  app_close (notebook);
}

void
test_app_notebook_add (void)
{
  g_test_add_func ("/app/notebook/damage-is-told-after-opening", test_damage);
  g_test_add_func ("/app/notebook/a-new-one-has-its-title-and-one-entry", test_create);
  g_test_add_func ("/app/notebook/what-is-no-notebook-is-refused-by-kind", test_refusals);
  g_test_add_func ("/app/notebook/a-save-is-in-the-file-when-it-says-so", test_save_is_durable);
  g_test_add_func ("/app/notebook/a-record-refers-to-one-saved-with-it", test_placeholders);
  g_test_add_func ("/app/notebook/one-bad-record-and-none-is-written", test_all_or_nothing);
  g_test_add_func ("/app/notebook/an-amendment-of-an-old-version-is-refused", test_changed_since);
  g_test_add_func ("/app/notebook/what-is-in-use-is-not-deleted", test_guarded_delete);
  g_test_add_func ("/app/notebook/undo-and-redo-go-on-after-a-restart", test_undo);
  g_test_add_func ("/app/notebook/another-process-is-seen", test_foreign_write);
  g_test_add_func ("/app/notebook/a-deleted-file-is-noticed-at-the-save", test_moved_file);
  g_test_add_func ("/app/notebook/one-opened-for-reading-refuses-a-save", test_reading_only);
}
