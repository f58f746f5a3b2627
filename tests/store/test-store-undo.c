/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "log-row.h"
#include "store-notebook.h"
#include "wb-store-check.h"
#include "wb-store-undo.h"

#include <string.h>

static gint64
set_density (WbStore *store,
             gint64   wax,
             double   density)
{
  g_autofree char *why = g_strdup_printf ("Density %g", density);
  WbStoreChange *change = test_begin (store, why);
  WbWax *record = wb_store_load (store, &wb_wax_type, wax, NULL);

  record->density = density;
  test_put (change, record);
  return test_commit (change);
}

static double
get_density (WbStore *store,
             gint64   wax)
{
  g_autoptr (WbRecord) record = wb_store_load (store, &wb_wax_type, wax, NULL);

  return ((WbWax *) record)->density;
}

static void
undo (WbStore *store)
{
  g_autoptr (GError) error = NULL;

  wb_store_undo (store, "Ada", TEST_NOW, NULL, &error);
  g_assert_no_error (error);
}

static void
redo (WbStore *store)
{
  g_autoptr (GError) error = NULL;

  wb_store_redo (store, "Ada", TEST_NOW, NULL, &error);
  g_assert_no_error (error);
}

static void
assert_good (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) check = wb_store_check (path, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpstr (check->text, ==, NULL);
}

/* Three edits of one value, taken back and brought again in every order that a person could ask for. */
static void
test_depth (void)
{
  g_autofree char *path = test_path ("undo.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbEntry) entry = NULL;

  set_density (store, records.wax, 0.91);
  set_density (store, records.wax, 0.92);
  set_density (store, records.wax, 0.93);
  undo (store);
  g_assert_cmpfloat (get_density (store, records.wax), ==, 0.92);
  undo (store);
  g_assert_cmpfloat (get_density (store, records.wax), ==, 0.91);
  redo (store);
  g_assert_cmpfloat (get_density (store, records.wax), ==, 0.92);
  undo (store);
  g_assert_cmpfloat (get_density (store, records.wax), ==, 0.91);
  redo (store);
  redo (store);
  g_assert_cmpfloat (get_density (store, records.wax), ==, 0.93);
  g_assert_null (wb_store_get_redo (store, &error));
  g_assert_no_error (error);
  g_assert_false (wb_store_redo (store, "Ada", TEST_NOW, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
  g_clear_error (&error);

  /* After a restart, too. */
  wb_store_close (g_steal_pointer (&store));
  store = wb_store_open (path, WB_STORE_WRITE, &error);
  entry = wb_store_get_undo (store, &error);
  g_assert_cmpstr (entry->why, ==, "Density 0.93");
  for (guint i = 0; i < 3; i++)
    undo (store);
  g_assert_true (get_density (store, records.wax) != get_density (store, records.wax));
  /* The entry that filled the notebook is an edit as well; the one that made it is not. */
  undo (store);
  g_assert_null (wb_store_load (store, &wb_wax_type, records.wax, NULL));
  g_assert_false (wb_store_undo (store, "Ada", TEST_NOW, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
  g_clear_error (&error);
  for (guint i = 0; i < 4; i++)
    redo (store);
  g_assert_cmpfloat (get_density (store, records.wax), ==, 0.93);
  assert_good (path);
}

static void
test_new_edit_ends_redo (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (WbEntry) redo_entry = NULL;
  g_autoptr (WbEntry) undone = NULL;
  gint64 number = set_density (store, records.wax, 0.91);

  undo (store);
  redo_entry = wb_store_get_redo (store, NULL);
  g_assert_cmpstr (redo_entry->why, ==, "Density 0.91");
  undone = wb_store_load_entry (store, number, NULL);
  g_assert_true (undone->undone);
  set_density (store, records.wax, 0.95);
  g_assert_null (wb_store_get_redo (store, NULL));
  undo (store);
  g_assert_true (get_density (store, records.wax) != get_density (store, records.wax));
}

/* A reading logged, amended, deleted, each taken back; the counts follow. */
static void
test_readings (void)
{
  g_autofree char *path = test_path ("readings.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (WbRecord) reading = NULL;
  g_autoptr (GPtrArray) versions = NULL;
  WbStoreChange *change = test_begin (store, "Log");
  gint64 id = test_put (change, test_reading (records.burn, 240, 70));

  g_assert_true (wb_store_change_put_extra (change, id, "moon", "full", NULL));
  test_commit (change);
  g_assert_cmpint (test_query (path, "SELECT readings FROM derived_experiment"), ==, 4);
  change = test_begin (store, "Amend");
  reading = wb_store_load (store, &wb_reading_type, id, NULL);
  ((WbReading *) reading)->values[WB_COLUMN_POOL_MM] = 71;
  g_assert_true (wb_store_change_put (change, reading, NULL));
  test_commit (change);
  change = test_begin (store, "Delete");
  g_assert_true (wb_store_change_delete (change, &wb_reading_type, id, NULL));
  test_commit (change);
  g_assert_cmpint (test_query (path, "SELECT readings FROM derived_experiment"), ==, 3);

  undo (store);
  g_assert_cmpint (test_query (path, "SELECT readings FROM derived_experiment"), ==, 4);
  g_clear_pointer ((gpointer *) &reading, wb_record_free);
  reading = wb_store_load (store, &wb_reading_type, id, NULL);
  g_assert_cmpfloat (((WbReading *) reading)->values[WB_COLUMN_POOL_MM], ==, 71);
  undo (store);
  g_clear_pointer ((gpointer *) &reading, wb_record_free);
  reading = wb_store_load (store, &wb_reading_type, id, NULL);
  g_assert_cmpfloat (((WbReading *) reading)->values[WB_COLUMN_POOL_MM], ==, 70);
  undo (store);
  g_assert_null (wb_store_load (store, &wb_reading_type, id, NULL));

  /* All of that stays: of the burn's four readings one has its every version, the last of them deleted. */
  versions = wb_store_list_versions (store, &wb_reading_type, "burn", records.burn, NULL);
  g_assert_cmpuint (versions->len, ==, 3 + 6);
  for (guint i = 0; i < versions->len; i++)
    {
      const WbRecord *version = versions->pdata[i];

      g_assert_cmpint (version->deleted, ==, version->id == id && (i == 3 + 2 || i == 3 + 5));
      g_assert_true (i == 0 || ((const WbRecord *) versions->pdata[i - 1])->id < version->id
                     || ((const WbRecord *) versions->pdata[i - 1])->entry < version->entry);
    }
  g_assert_null (wb_store_load_extra (store, id, "moon", NULL));
  g_assert_cmpint (test_query (path, "SELECT readings FROM derived_experiment"), ==, 3);
  redo (store);
  g_autofree char *moon = wb_store_load_extra (store, id, "moon", NULL);
  g_assert_cmpstr (moon, ==, "full");
  assert_good (path);
}

/* A later entry that is no edit, and so not itself next to be undone, stands in the way. */
static void
test_refused (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbRecord) wax = NULL;
  WbStoreChange *change;
  gint64 last;

  set_density (store, records.wax, 0.91);
  change = wb_store_begin (store, WB_ENTRY_COMMAND, NULL, NULL, "By command", TEST_NOW, &error);
  wax = wb_store_load (store, &wb_wax_type, records.wax, NULL);
  ((WbWax *) wax)->density = 0.97;
  g_assert_true (wb_store_change_put (change, wax, &error));
  g_assert_true (wb_store_commit (change, &last, &error));
  g_assert_false (wb_store_undo (store, "Ada", TEST_NOW, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
  g_assert_nonnull (strstr (error->message, "“Harrow blend”"));
  g_assert_nonnull (strstr (error->message, "entry 4"));
  g_clear_error (&error);
  g_assert_cmpfloat (get_density (store, records.wax), ==, 0.97);
  g_assert_cmpint (wb_store_get_last_entry (store), ==, last);
  /* Taken back by its own command, it is out of the way. */
  g_assert_true (wb_store_take_back (store, last, "Ada", TEST_NOW, NULL, &error));
  g_assert_false (wb_store_take_back (store, last, "Ada", TEST_NOW, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
  undo (store);
}

/* What was made and is in use since cannot be unmade; a name given up and taken by another cannot be had again. */
static void
test_in_use_or_taken (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = test_begin (store, "Make a wick");
  WbWickGuide *guide = wb_record_new (&wb_wick_guide_type);
  gint64 wick = test_put (change, test_wick ("Larch", "L-1", 1));

  test_commit (change);
  guide->wick = wick;
  guide->from_mm = 50;
  guide->to_mm = 60;
  change = wb_store_begin (store, WB_ENTRY_COMMAND, NULL, NULL, "Use it", TEST_NOW, &error);
  test_put (change, guide);
  test_commit (change);
  g_assert_false (wb_store_undo (store, "Ada", TEST_NOW, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
  g_assert_nonnull (strstr (error->message, "in use"));
  g_clear_error (&error);

  change = test_begin (store, "Delete it");
  g_assert_true (wb_store_change_delete (change, &wb_wick_type, wick, &error));
  test_commit (change);
  change = wb_store_begin (store, WB_ENTRY_COMMAND, NULL, NULL, "Take the name", TEST_NOW, &error);
  test_put (change, test_wick ("Larch", "L-1", 1));
  test_commit (change);
  g_assert_false (wb_store_undo (store, "Ada", TEST_NOW, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
  g_assert_nonnull (strstr (error->message, "“L-1”"));
}

/* Undo passes over an import; its own command takes it back as a whole. */
static void
test_whole_import (void)
{
  g_autofree char *path = test_path ("import.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  TestRecords records = test_fill (store);
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *before = test_export (store), *after = NULL;
  gint64 import;

  for (guint i = 0; i < 40; i++)
    {
      WbLogRow *row = test_row (i + 2, i < 20 ? "VT-1" : "N1", 2 + i / 10, 30 * (i % 10));

      if (i < 20)
        row->wick_step = 2;
      g_ptr_array_add (rows, row);
    }
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 40);
  import = wb_store_get_last_entry (store);
  set_density (store, records.wax, 0.91);
  undo (store);
  g_assert_cmpint (test_query (path, "SELECT readings FROM derived_experiment"), ==, 43);
  g_assert_true (wb_store_take_back (store, import, "Ada", TEST_NOW, NULL, &error));
  g_assert_no_error (error);
  after = test_export (store);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpint (test_query (path, "SELECT readings FROM derived_experiment"), ==, 3);
  g_assert_cmpint (test_query (path, "SELECT burns FROM derived_experiment"), ==, 1);
  g_assert_false (wb_store_take_back (store, 1, "Ada", TEST_NOW, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
  assert_good (path);
}

static char *
dup_passed (WbStore *store)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbEntry) entry = wb_store_get_passed (store, &error);

  g_assert_no_error (error);
  return entry != NULL ? g_strdup (entry->why) : NULL;
}

/* What the command line or a file brought stands between the person and the last own step, until it is taken back or worked on. */
static void
test_passed (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  TestRecords records = test_fill (store);
  g_autoptr (GError) error = NULL;
  g_autofree char *passed = NULL;
  WbStoreChange *change;
  gint64 number;

  set_density (store, records.wax, 0.91);
  g_assert_null (dup_passed (store));
  change = wb_store_begin (store, WB_ENTRY_IMPORT, NULL, NULL, "Import “a.csv”", TEST_NOW, &error);
  test_put (change, test_wick ("Larch", "L-7", 7));
  number = test_commit (change);
  passed = dup_passed (store);
  g_assert_cmpstr (passed, ==, "Import “a.csv”");
  g_assert_true (wb_store_take_back (store, number, "Ada", TEST_NOW, NULL, &error));
  g_assert_null (dup_passed (store));

  change = wb_store_begin (store, WB_ENTRY_COMMAND, NULL, NULL, "Bring a log", TEST_NOW, &error);
  test_put (change, test_wick ("Larch", "L-8", 8));
  test_commit (change);
  set_density (store, records.wax, 0.92);
  g_assert_null (dup_passed (store));
  undo (store);
  g_free (passed);
  passed = dup_passed (store);
  g_assert_cmpstr (passed, ==, "Bring a log");
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/undo/goes-back-and-forth-at-any-depth", test_depth);
  g_test_add_func ("/store/undo/a-new-edit-ends-redo", test_new_edit_ends_redo);
  g_test_add_func ("/store/undo/readings-and-their-counts-follow", test_readings);
  g_test_add_func ("/store/undo/a-later-change-of-the-same-row-is-told", test_refused);
  g_test_add_func ("/store/undo/what-is-in-use-or-renamed-stays", test_in_use_or_taken);
  g_test_add_func ("/store/undo/an-import-is-taken-back-by-its-own-command", test_whole_import);
  g_test_add_func ("/store/undo/what-it-would-pass-over-is-known", test_passed);
  return g_test_run ();
}
