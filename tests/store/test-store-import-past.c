/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "log-row.h"
#include "store-notebook.h"
#include "wb-store-check.h"
#include "wb-store-open-private.h"
#include "wb-store-records.h"

#include <string.h>

/* What became of a reading since its file was read in, when that file is read in again. */

static GPtrArray *
log_new (void)
{
  GPtrArray *rows = test_rows_new ();

  for (guint i = 0; i < 3; i++)
    {
      WbLogRow *row = test_row (2 + i, "A1", 1, 60 * (i + 1));

      row->values[WB_COLUMN_POOL_MM] = 40 + i;
      g_ptr_array_add (rows, row);
    }
  return rows;
}

static WbReading *
load_at (WbStore *store,
         double   minute)
{
  g_autoptr (GPtrArray) all = wb_store_list (store, &wb_reading_type, NULL, 0, NULL);

  for (guint i = 0; i < all->len; i++)
    if (((WbReading *) all->pdata[i])->elapsed_min == minute)
      return g_ptr_array_steal_index (all, i);
  return NULL;
}

static guint
count_readings (WbStore *store)
{
  g_autoptr (GPtrArray) all = wb_store_list (store, &wb_reading_type, NULL, 0, NULL);

  return all->len;
}

static WbStoreChange *
begin (WbStore     *store,
       WbEntryKind  kind)
{
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = wb_store_begin (store, kind, "amend", NULL, "Amend: it was noted wrongly", TEST_NOW, &error);

  g_assert_no_error (error);
  return change;
}

static void
put (WbStore   *store,
     WbReading *reading)
{
  WbStoreChange *change = begin (store, WB_ENTRY_EDIT);

  g_assert_true (wb_store_change_put (change, reading, NULL));
  g_assert_true (wb_store_commit (change, NULL, NULL));
}

static void
take_out (WbStore     *store,
          WbReading   *reading,
          WbEntryKind  kind)
{
  WbStoreChange *change = begin (store, kind);

  g_assert_true (wb_store_change_delete (change, &wb_reading_type, reading->record.id, NULL));
  g_assert_true (wb_store_commit (change, NULL, NULL));
}

static void
assert_remark (WbStore        *store,
               const WbLogRow *row,
               const char     *words)
{
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbStoreImport) import = wb_store_import_new (store, NULL, NULL);

  g_assert_cmpint (test_judge (import, row, remarks), ==, WB_IMPORT_KNOWN);
  g_assert_cmpuint (remarks->len, ==, words != NULL ? 1 : 0);
  if (words == NULL)
    return;
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->column, ==, "elapsed_min");
  g_assert_nonnull (strstr (((WbLogRemark *) remarks->pdata[0])->rule, words));
}

static void
test_taken_out_stays_out (void)
{
  g_autofree char *path = test_path ("out.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GPtrArray) rows = log_new ();
  g_autoptr (WbRecord) reading = NULL, back = NULL;
  g_autoptr (WbStoreCheck) check = NULL;

  g_assert_cmpuint (test_import (store, rows, NULL), ==, 3);
  reading = (WbRecord *) load_at (store, 120);
  take_out (store, (WbReading *) reading, WB_ENTRY_EDIT);
  assert_remark (store, rows->pdata[1], "was taken out: it stays out");
  assert_remark (store, rows->pdata[2], NULL);
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 0);
  g_assert_cmpuint (count_readings (store), ==, 2);
  /* what another rater saw then was never in the record */
  ((WbLogRow *) rows->pdata[1])->rater = g_strdup ("Ada");
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 1);
  back = (WbRecord *) load_at (store, 120);
  g_assert_cmpstr (((WbReading *) back)->rater, ==, "Ada");
  check = wb_store_check (path, NULL, NULL, NULL, NULL);
  g_assert_cmpstr (check->text, ==, NULL);
}

static void
test_amended_is_not_doubled (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GPtrArray) rows = log_new ();
  g_autoptr (WbRecord) first = NULL, last = NULL;

  ((WbLogRow *) rows->pdata[2])->values[WB_COLUMN_EVENT] = WB_EVENT_SNUFFED;
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 3);
  first = (WbRecord *) load_at (store, 60);
  ((WbReading *) first)->elapsed_min = 75;
  put (store, (WbReading *) first);
  last = (WbRecord *) load_at (store, 180);
  ((WbReading *) last)->values[WB_COLUMN_EVENT] = WB_EVENT_END_OF_LIFE;
  put (store, (WbReading *) last);
  assert_remark (store, rows->pdata[0], "stands at minute 75 now");
  assert_remark (store, rows->pdata[1], NULL);
  assert_remark (store, rows->pdata[2], "was amended since it was read in");
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 0);
  g_assert_cmpuint (count_readings (store), ==, 3);
}

/* An entry that was taken back, an import too, counts as never made: its file may come in again. */
static void
test_taken_back_comes_in_again (void)
{
  static const WbEntryKind kinds[] = { WB_ENTRY_UNDO, WB_ENTRY_TAKE_BACK };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr (WbStore) store = test_notebook (":memory:");
      g_autoptr (GPtrArray) rows = log_new ();
      g_autoptr (WbRecord) reading = NULL;

      g_assert_cmpuint (test_import (store, rows, NULL), ==, 3);
      reading = (WbRecord *) load_at (store, 120);
      take_out (store, (WbReading *) reading, kinds[i]);
      g_assert_cmpuint (test_import (store, rows, NULL), ==, 1);
      g_assert_cmpuint (count_readings (store), ==, 3);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/import-past/taken-out-stays-out", test_taken_out_stays_out);
  g_test_add_func ("/store/import-past/amended-is-not-doubled", test_amended_is_not_doubled);
  g_test_add_func ("/store/import-past/taken-back-comes-in-again", test_taken_back_comes_in_again);
  return g_test_run ();
}
