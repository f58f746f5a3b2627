/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-backup.h"
#include "wb-app-experiment.h"
#include "wb-app-import.h"
#include "wb-app-query.h"
#include "wb-app-record.h"

#include <glib/gstdio.h>

static GPtrArray *
entries (WbAppNotebook *notebook,
         gint64         before,
         guint          n)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  GPtrArray *list;

  wb_app_record_entries_async (notebook, before, n, NULL, app_keep_result_cb, &result);
  list = wb_app_record_entries_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  return list;
}

/* Newest first, page by page, each with who, when, what and its hash. */
static void
test_entries (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autoptr (GPtrArray) newest = NULL, older = NULL;
  const WbAppEntry *entry;

  wb_app_notebook_set_who (notebook, "Robin");
  app_add_wax (notebook, "Heath blend");
  app_add_vessel (notebook, "Tern", 76);
  newest = entries (notebook, 0, 2);
  g_assert_cmpuint (newest->len, ==, 2);
  entry = g_ptr_array_index (newest, 0);
  g_assert_cmpint (entry->number, ==, 3);
  g_assert_cmpstr (entry->kind, ==, "edit");
  g_assert_cmpstr (entry->topic, ==, "vessel");
  g_assert_cmpstr (entry->who, ==, "Robin");
  g_assert_cmpstr (entry->why, ==, "Save for a test");
  g_assert_true (entry->made_at.known);
  g_assert_cmpuint (strlen (entry->hash), ==, 64);
  older = entries (notebook, 2, 10);
  g_assert_cmpuint (older->len, ==, 1);
  g_assert_cmpstr (((WbAppEntry *) g_ptr_array_index (older, 0))->kind, ==, "create");
  app_close (notebook);
}

static void
test_versions (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  gint64 id = app_add_wax (notebook, "Heath blend");
  g_autoptr (GPtrArray) waxes = wb_app_query_list_sync (notebook, &wb_wax_type, NULL), versions = NULL;
  const WbAppVersion *first, *second;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  ((WbWax *) g_ptr_array_index (waxes, 0))->density = 0.91;
  app_save (notebook, g_ptr_array_index (waxes, 0));
  wb_app_record_versions_async (notebook, &wb_wax_type, id, NULL, app_keep_result_cb, &result);
  versions = wb_app_record_versions_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  g_assert_cmpuint (versions->len, ==, 2);
  first = g_ptr_array_index (versions, 0);
  second = g_ptr_array_index (versions, 1);
  g_assert_cmpfloat (((WbWax *) first->record)->density, ==, 0.9);
  g_assert_cmpfloat (((WbWax *) second->record)->density, ==, 0.91);
  g_assert_cmpint (first->entry->number, ==, 2);
  g_assert_cmpint (second->entry->number, ==, 3);
  g_assert_cmpstr (second->entry->why, ==, "Save for a test");
  g_clear_object (&result);
  app_close (notebook);
}

static void
test_check (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autoptr (WbAppCheck) check = NULL;
  g_autoptr (WbAppJob) job = wb_app_job_new ();
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  app_add_wax (notebook, "Heath blend");
  wb_app_record_check_async (notebook, NULL, job, app_keep_result_cb, &result);
  check = wb_app_record_check_finish (notebook, app_wait_result (&result), &error);
  g_assert_no_error (error);
  g_assert_true (check->sound);
  g_assert_cmpint (check->entries, ==, 2);
  g_assert_true (g_str_has_prefix (check->fingerprint, "2:"));
  g_clear_object (&result);
  app_close (notebook);
}

static WbAppCheck *
check_now (const char *path)
{
  g_autoptr (GError) error = NULL;
  WbAppCheck *check = wb_app_record_check_sync (path, NULL, NULL, &error);

  g_assert_no_error (error);
  return check;
}

static void
back_up (WbAppNotebook *notebook,
         const char    *path)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_backup_async (notebook, path, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_backup_finish (notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
}

static void
put_in_place (const char *bytes,
              gsize       length,
              const char *path)
{
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
}

/* What was noted outside of the notebook about its last entry. */
static void
forget_anchor (void)
{
  g_autofree char *folder = g_build_filename (g_get_user_state_dir (), "wickbench", "anchors", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_assert_cmpint (g_unlink (path), ==, 0);
    }
}

/* A backup fits whatever is written afterwards, and tells when the record went back or another way. */
static void
test_backup (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *copy = g_strconcat (path, ".copy", NULL);
  g_autofree char *young = NULL;
  g_autoptr (WbAppCheck) fits = NULL, cut = NULL, other = NULL, gone = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &young, &length, NULL));
  app_add_wax (notebook, "Heath blend");
  back_up (notebook, copy);
  app_add_wax (notebook, "Meadow blend");
  wb_app_backup_async (notebook, copy, NULL, app_keep_result_cb, &result);
  g_assert_false (wb_app_backup_finish (notebook, app_wait_result (&result), &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_EXISTS);
  g_clear_object (&result);
  app_close (notebook);
  fits = check_now (path);
  g_assert_cmpstr (fits->finding, ==, NULL);
  g_assert_true (fits->sound);
  g_assert_cmpint (fits->entries, ==, 3);

  /* The file as it was before the backup, sound in itself. */
  put_in_place (young, length, path);
  forget_anchor ();
  cut = check_now (path);
  g_assert_false (cut->sound);
  g_assert_cmpint (cut->entry, ==, 2);
  g_assert_nonnull (strstr (cut->finding, copy));

  notebook = app_open (path);
  app_add_wax (notebook, "Another way");
  app_add_wax (notebook, "And on");
  app_close (notebook);
  other = check_now (path);
  g_assert_false (other->sound);
  g_assert_cmpint (other->entry, ==, 2);
  g_assert_nonnull (strstr (other->finding, "written anew"));

  /* A backup that is not there any more is no witness. */
  g_assert_cmpint (g_unlink (copy), ==, 0);
  gone = check_now (path);
  g_assert_true (gone->sound);
}

/* The newest entries are gone, and only this program's own note tells. */
static void
test_anchor (void)
{
  WbAppNotebook *notebook = app_new_notebook ();
  g_autofree char *path = g_strdup (wb_app_notebook_get_path (notebook)), *young = NULL;
  g_autoptr (WbAppCheck) cut = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &young, &length, NULL));
  app_add_wax (notebook, "Heath blend");
  app_close (notebook);
  put_in_place (young, length, path);
  cut = check_now (path);
  g_assert_false (cut->sound);
  g_assert_cmpint (cut->entry, ==, 2);
  g_assert_nonnull (strstr (cut->finding, "This program wrote entry 2"));
}

/* Undo leaves an import alone; asked for by name it is taken back. */
static void
test_take_back_import (void)
{
  g_autofree char *path = app_new_path ();
  g_autofree char *log = g_test_build_filename (G_TEST_DIST, "exchange", "data", "burn-log-clean.csv", NULL);
  g_autoptr (WbAppImportSummary) summary = wb_app_import_sync (path, log, NULL, WB_APP_IMPORT_WRITE, NULL, NULL);
  WbAppNotebook *notebook = app_open (path);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) left = NULL, listed = NULL;

  g_assert_false (wb_app_notebook_get_can_undo (notebook));
  wb_app_record_take_back_async (notebook, summary->entry, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (notebook, app_wait_result (&result), NULL, &error), ==, summary->entry + 1);
  g_assert_no_error (error);
  left = wb_app_query_experiments_sync (notebook, NULL);
  g_assert_cmpuint (left->len, ==, 0);
  listed = entries (notebook, 0, 10);
  g_assert_cmpint (((WbAppEntry *) g_ptr_array_index (listed, 0))->takes_back, ==, summary->entry);
  g_assert_true (((WbAppEntry *) g_ptr_array_index (listed, 1))->taken_back);
  g_clear_object (&result);
  app_close (notebook);
}

static guint n_changes;

static void
on_items_changed_cb (void)
{
  n_changes++;
}

static gboolean
has_changed (gpointer wanted)
{
  return n_changes >= GPOINTER_TO_UINT (wanted);
}

/* The list follows the notebook, and keeps the objects of what stayed the same. */
static void
test_experiments_follow (void)
{
  g_autofree char *path = app_new_path ();
  g_autofree char *clean = g_test_build_filename (G_TEST_DIST, "exchange", "data", "burn-log-clean.csv", NULL);
  g_autofree char *messy = g_test_build_filename (G_TEST_DIST, "exchange", "data", "burn-log-messy.csv", NULL);
  g_autoptr (WbAppImportSummary) summary = wb_app_import_sync (path, clean, NULL, WB_APP_IMPORT_WRITE, NULL, NULL), more = NULL;
  WbAppNotebook *notebook = app_open (path);
  WbAppExperiments *list = wb_app_experiments_new (notebook);
  g_autoptr (WbAppExperiment) first = NULL;
  gboolean found = FALSE;

  n_changes = 0;
  g_signal_connect (list, "items-changed", G_CALLBACK (on_items_changed_cb), NULL);
  app_wait_until (has_changed, GUINT_TO_POINTER (1), "the list");
  first = g_list_model_get_item (G_LIST_MODEL (list), 0);
  g_assert_cmpstr (wb_app_experiment_get_title (first), ==, "Autumn vessel trial");
  /* By another connection, as another process would. */
  more = wb_app_import_sync (path, messy, NULL, WB_APP_IMPORT_WRITE, NULL, NULL);
  g_assert_cmpint (more->entry, >, 0);
  app_wait_until (has_changed, GUINT_TO_POINTER (2), "the other process's experiments");
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), >, 1);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (list)); i++)
    {
      g_autoptr (WbAppExperiment) item = g_list_model_get_item (G_LIST_MODEL (list), i);

      found |= item == first;
    }
  g_assert_true (found);
  g_assert_finalize_object (list);
  app_close (notebook);
}

void
test_app_record_add (void)
{
  g_test_add_func ("/app/record/entries-newest-first", test_entries);
  g_test_add_func ("/app/record/versions-oldest-first", test_versions);
  g_test_add_func ("/app/record/a-sound-record-is-found-sound", test_check);
  g_test_add_func ("/app/record/a-backup-is-a-witness", test_backup);
  g_test_add_func ("/app/record/what-this-program-wrote-is-remembered", test_anchor);
  g_test_add_func ("/app/record/an-import-is-taken-back-by-name", test_take_back_import);
  g_test_add_func ("/app/experiments/the-list-follows-another-process", test_experiments_follow);
}
