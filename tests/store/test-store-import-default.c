/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "log-row.h"
#include "store-notebook.h"
#include "wb-store-check.h"
#include "wb-store-open-private.h"
#include "wb-store-records.h"

#include <math.h>
#include <string.h>

static WbStoreImport *
new_import (WbStore *store)
{
  g_autoptr (GError) error = NULL;
  WbStoreImport *import = wb_store_import_new (store, NULL, &error);

  g_assert_no_error (error);
  return import;
}

/* A row as plain as can be, with a reading of its own at `minute`. */
static WbLogRow *
plain_row (guint64 line,
           double  minute)
{
  WbLogRow *row = test_row (line, "A1", 1, minute);

  row->fragrance = g_strdup ("Harbour");
  row->load_pct = 6;
  row->values[WB_COLUMN_POOL_MM] = 40;
  return row;
}

static void
state_columns (WbLogRow *row,
               gint64    wick_count,
               int       load_basis,
               int       burn_kind)
{
  row->wick_count = wick_count;
  row->load_basis = load_basis;
  row->burn_kind = burn_kind;
}

/* What a column's default stands for in the record was not said: a second import may say it, as a later row of the first might have. */
static void
test_a_default_may_be_stated_later (void)
{
  g_autofree char *path = test_path ("default.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GPtrArray) first = test_rows_new (), second = test_rows_new ();
  g_autoptr (WbStoreCheck) check = NULL;

  g_ptr_array_add (first, plain_row (2, 60));
  g_ptr_array_add (second, plain_row (2, 60));
  state_columns (second->pdata[0], 2, WB_BASIS_TOTAL, WB_BURN_POWER);
  g_assert_cmpuint (test_import (store, first, NULL), ==, 1);
  {
    g_autoptr (WbStoreImport) import = new_import (store);
    g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);

    /* it is said, before anybody says yes */
    g_assert_cmpint (test_judge (import, second->pdata[0], remarks), ==, WB_IMPORT_ACCEPTED);
    g_assert_cmpuint (remarks->len, ==, 3);
    g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->column, ==, "wick_count");
    g_assert_nonnull (strstr (((WbLogRemark *) remarks->pdata[1])->rule, "took wax"));
    g_assert_nonnull (strstr (((WbLogRemark *) remarks->pdata[1])->rule, "becomes total"));
  }
  g_assert_cmpuint (test_import (store, second, NULL), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM reading"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM burn WHERE kind = 'power'"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM sample s JOIN cell c ON s.cell = c.id "
                                     "WHERE c.wick_count = 2 AND c.load_basis = 'total'"), >=, 1);
  /* the combination that it was taken for at first is not left behind without a sample */
  {
    g_autoptr (GPtrArray) cells = wb_store_list (store, &wb_cell_type, NULL, 0, NULL);

    g_assert_cmpuint (cells->len, ==, 1);
    g_assert_cmpint (((WbCell *) cells->pdata[0])->wick_count, ==, 2);
  }
  g_assert_cmpuint (test_import (store, first, NULL), ==, 0);
  g_assert_cmpuint (test_import (store, second, NULL), ==, 0);
  check = wb_store_check (path, NULL, NULL, NULL, NULL);
  g_assert_cmpstr (check->text, ==, NULL);
}

/* Stating the default is nothing new, and from then on stated. */
static void
test_a_stated_default_stands (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbStoreImport) import = NULL;
  g_autoptr (WbLogRow) usual = plain_row (2, 60), other = plain_row (3, 60);

  g_ptr_array_add (rows, plain_row (2, 60));
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 1);
  import = new_import (store);
  state_columns (usual, 1, WB_BASIS_WAX, WB_BURN_STANDARD);
  g_assert_cmpint (test_judge (import, usual, NULL), ==, WB_IMPORT_KNOWN);
  state_columns (other, 2, WB_BASIS_TOTAL, WB_BURN_POWER);
  g_assert_cmpint (test_judge (import, other, remarks), ==, WB_IMPORT_REFUSED);
  g_assert_nonnull (strstr (((WbLogRemark *) remarks->pdata[0])->rule, "line 2"));
}

/* In an experiment that a person planned the default was chosen. */
static void
test_a_planned_default_stands (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GPtrArray) rows = test_rows_new (), experiments = NULL;
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbStoreImport) import = NULL;
  g_autoptr (WbLogRow) other = plain_row (3, 60);
  WbStoreChange *change;

  g_ptr_array_add (rows, plain_row (2, 60));
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 1);
  experiments = wb_store_list (store, &wb_experiment_type, NULL, 0, NULL);
  ((WbExperiment *) experiments->pdata[0])->imported = FALSE;
  change = wb_store_begin (store, WB_ENTRY_COMMAND, NULL, NULL, "Plan it", TEST_NOW, NULL);
  g_assert_true (wb_store_change_put (change, experiments->pdata[0], NULL));
  g_assert_true (wb_store_commit (change, NULL, NULL));
  import = new_import (store);
  state_columns (other, 2, WB_BASIS_TOTAL, WB_BURN_POWER);
  g_assert_cmpint (test_judge (import, other, remarks), ==, WB_IMPORT_REFUSED);
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->column, ==, "wick_count");
}

/* Puts an amended record as a person does. */
static void
amend (WbStore *store,
       gpointer record)
{
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = wb_store_begin (store, WB_ENTRY_EDIT, "amend", NULL, "Amend: it was noted wrongly", TEST_NOW, &error);

  g_assert_no_error (error);
  wb_store_change_put (change, record, &error);
  g_assert_no_error (error);
  wb_store_commit (change, NULL, &error);
  g_assert_no_error (error);
}

/* What a person amended to the default was said by that person: the same file again does not take it back. */
static void
test_an_amendment_to_the_default_stands (void)
{
  g_autofree char *path = test_path ("amended.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GPtrArray) rows = test_rows_new (), burns = NULL, cells = NULL;
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbStoreImport) import = NULL;

  g_ptr_array_add (rows, plain_row (2, 60));
  state_columns (rows->pdata[0], 2, WB_BASIS_TOTAL, WB_BURN_UNTRIMMED);
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 1);
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 0);
  burns = wb_store_list (store, &wb_burn_type, NULL, 0, NULL);
  ((WbBurn *) burns->pdata[0])->kind = WB_BURN_STANDARD;
  amend (store, burns->pdata[0]);
  cells = wb_store_list (store, &wb_cell_type, NULL, 0, NULL);
  ((WbCell *) cells->pdata[0])->wick_count = 1;
  amend (store, cells->pdata[0]);

  import = new_import (store);
  g_assert_cmpint (test_judge (import, rows->pdata[0], remarks), ==, WB_IMPORT_REFUSED);
  g_assert_cmpuint (remarks->len, ==, 1);
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->column, ==, "wick_count");
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->also[0], ==, "burn_kind");
  g_assert_nonnull (strstr (((WbLogRemark *) remarks->pdata[0])->rule, "the notebook says 1, and this row says 2"));
  g_clear_pointer (&import, wb_store_import_free);
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 0);
  g_clear_pointer (&burns, g_ptr_array_unref);
  burns = wb_store_list (store, &wb_burn_type, NULL, 0, NULL);
  g_assert_cmpint (((WbBurn *) burns->pdata[0])->kind, ==, WB_BURN_STANDARD);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM burn"), ==, 2);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/import-default/a-default-may-be-stated-later", test_a_default_may_be_stated_later);
  g_test_add_func ("/store/import-default/a-stated-default-stands", test_a_stated_default_stands);
  g_test_add_func ("/store/import-default/a-planned-default-stands", test_a_planned_default_stands);
  g_test_add_func ("/store/import-default/an-amendment-to-the-default-stands", test_an_amendment_to_the_default_stands);
  return g_test_run ();
}
