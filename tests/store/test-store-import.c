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

static void
test_comes_in (void)
{
  g_autofree char *path = test_path ("a.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) check = NULL;
  g_autofree char *text = NULL;

  for (guint i = 0; i < 5; i++)
    {
      WbLogRow *row = test_row (i + 2, "A1", 1 + i / 3, 60 * (i % 3));

      row->values[WB_COLUMN_POOL_MM] = 30 + i;
      g_ptr_array_add (rows, row);
    }
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 5);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM reading"), ==, 5);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM burn"), ==, 2);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM sample"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT seed FROM experiment"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM experiment WHERE code = 'VT'"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM entry"), ==, 2);
  text = test_export (store);
  g_assert_true (g_str_has_prefix (text, "experiment=Vessel trial;wax=Harrow blend;vessel=Osprey;inner=79.4;series=Larch;"
                                         "size=L-2;load=0;sample=A1;burn=1;elapsed=0;pool_mm=30;\n"));
  check = wb_store_check (path, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (check->text, ==, NULL);
  g_assert_cmpint (check->finding, ==, WB_CHECK_GOOD);
}

static void
test_known_again (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autofree char *first = NULL, *second = NULL;
  gint64 entry;

  for (guint i = 0; i < 30; i++)
    {
      WbLogRow *row = test_row (i + 2, i % 2 ? "A1" : "A2", 1 + i / 10, 15 * (i % 10));

      row->values[WB_COLUMN_FLAME_MM] = 10 + i;
      row->tare_g = i % 2 ? 120 : 121;
      if (i > 4)
        row->wick_step = 2;
      if (i % 10 == 0)
        row->trim_mm = 6;
      g_ptr_array_add (rows, row);
    }
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 30);
  first = test_export (store);
  entry = wb_store_get_last_entry (store);
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 0);
  second = test_export (store);
  g_assert_cmpstr (first, ==, second);
  /* Nothing to write leaves no entry. */
  g_assert_cmpint (wb_store_get_last_entry (store), ==, entry);
}

/* One cell of a second row differs from the first. */
typedef struct
{
  const char *column;
  gsize       offset;
  const char *text;   /* NULL: `number` is the cell's */
  double      number;
  gboolean    integer;
} Change;

#define TEXT(column, value) { #column, G_STRUCT_OFFSET (WbLogRow, column), value, 0, FALSE }
#define REAL(column, value) { #column, G_STRUCT_OFFSET (WbLogRow, column), NULL, value, FALSE }
#define VALUE(column, WHICH, value) \
  { #column, G_STRUCT_OFFSET (WbLogRow, values) + WB_COLUMN_##WHICH * sizeof (double), NULL, value, FALSE }

static const Change contradictions[] = {
  TEXT (wax, "Other blend"),
  TEXT (dye, "Other blue"),
  TEXT (additive, "Other additive"),
  { "wick_step", G_STRUCT_OFFSET (WbLogRow, wick_step), NULL, 3, TRUE },
  TEXT (vessel, "Heron"),
  REAL (inner_diameter_mm, 80),
  { "wick_count", G_STRUCT_OFFSET (WbLogRow, wick_count), NULL, 3, TRUE },
  REAL (wick_spacing_mm, 31),
  TEXT (fragrance, "Other harbour"),
  REAL (load_pct, 7),
  TEXT (wax_lot, "W2"),
  TEXT (wick_lot, "K2"),
  TEXT (fragrance_lot, "F2"),
  REAL (cure_days, 15),
  REAL (tare_g, 121),
  REAL (fill_g, 201),
  REAL (wax_height_mm, 61),
  REAL (wick_offset_mm, 2),
  TEXT (set_aside, "chipped"),
  REAL (trim_mm, 7),
  VALUE (room_c, ROOM_C, 22),
  VALUE (draught, DRAUGHT, 1),
  VALUE (pool_mm, POOL_MM, 41),
  VALUE (depth_mm, DEPTH_MM, 6),
  VALUE (flame_datum, FLAME_DATUM, 0),
  VALUE (soot, SOOT, 2),
  VALUE (mass_g, MASS_G, 301),
  TEXT (throw_room, "kitchen"),
  TEXT (note, "another"),
};

static WbLogRow *
full_row (guint64 line)
{
  WbLogRow *row = test_row (line, "A1", 1, 60);

  row->dye = g_strdup ("Blue");
  row->additive = g_strdup ("Hardener");
  row->wick_step = 2;
  row->wick_count = 2;
  row->wick_spacing_mm = 30;
  row->fragrance = g_strdup ("Harbour");
  row->load_pct = 6;
  row->load_basis = WB_BASIS_TOTAL;
  row->wax_lot = g_strdup ("W1");
  row->wick_lot = g_strdup ("K1");
  row->fragrance_lot = g_strdup ("F1");
  row->poured_on = 20400;
  row->cure_days = 14;
  row->tare_g = 120;
  row->fill_g = 200;
  row->wax_height_mm = 60;
  row->wick_offset_mm = 1;
  row->set_aside = g_strdup ("cavity");
  row->burn_kind = WB_BURN_POWER;
  row->lit_at = TEST_NOW;
  row->trim_mm = 6;
  row->values[WB_COLUMN_ROOM_C] = 21;
  row->values[WB_COLUMN_DRAUGHT] = WB_DRAUGHT_NONE;
  row->values[WB_COLUMN_POOL_MM] = 40;
  row->values[WB_COLUMN_DEPTH_MM] = 5;
  row->values[WB_COLUMN_FLAME_DATUM] = 1;
  row->values[WB_COLUMN_SOOT] = 1;
  row->values[WB_COLUMN_MASS_G] = 300;
  row->throw_room = g_strdup ("hall");
  row->note = g_strdup ("tall, calm");
  return row;
}

static WbLogRow *
changed_row (guint64       line,
             const Change *change)
{
  WbLogRow *row = full_row (line);

  if (change->text != NULL)
    {
      g_free (G_STRUCT_MEMBER (char *, row, change->offset));
      G_STRUCT_MEMBER (char *, row, change->offset) = g_strdup (change->text);
    }
  else if (change->integer)
    G_STRUCT_MEMBER (gint64, row, change->offset) = (gint64) change->number;
  else
    G_STRUCT_MEMBER (double, row, change->offset) = change->number;
  return row;
}

/* `known`: the first row stands in the record, not in the file. */
static void
check_contradiction (WbStore      *store,
                     const Change *change,
                     gboolean      known)
{
  g_autoptr (WbStoreImport) import = new_import (store);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbLogRow) first = full_row (2);
  g_autoptr (WbLogRow) second = changed_row (7, change);
  const WbLogRemark *remark;

  g_test_message ("%s, %s", change->column, known ? "against the record" : "against the file");
  if (!known)
    g_assert_cmpint (test_judge (import, first, NULL), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, second, remarks), ==, WB_IMPORT_REFUSED);
  g_assert_cmpuint (remarks->len, ==, 1);
  remark = remarks->pdata[0];
  g_assert_cmpuint (remark->line, ==, 7);
  g_assert_cmpstr (remark->column, ==, change->column);
  g_assert_nonnull (strstr (remark->rule, known ? "the notebook" : "line 2"));
  /* A refused row says nothing: the first is still what it was. */
  g_assert_cmpint (test_judge (import, first, NULL), ==, WB_IMPORT_KNOWN);
}

static void
test_contradictions (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (contradictions); i++)
    check_contradiction (NULL, &contradictions[i], FALSE);
}

static void
test_contradictions_of_record (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (GPtrArray) rows = test_rows_new ();

  g_ptr_array_add (rows, full_row (2));
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 1);
  for (guint i = 0; i < G_N_ELEMENTS (contradictions); i++)
    check_contradiction (store, &contradictions[i], TRUE);
}

/* An empty cell contradicts nothing, wherever it stands, and what is told later completes what was told before. */
static void
test_empty_cells (void)
{
  g_autofree char *path = test_path ("empty.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autofree char *once = NULL, *again = NULL;
  g_autoptr (WbStoreCheck) check = NULL;
  WbLogRow *row;

  row = test_row (2, "A1", 1, 60);
  row->values[WB_COLUMN_POOL_MM] = 40;
  row->fragrance = g_strdup ("Harbour");
  row->load_pct = 6;
  g_ptr_array_add (rows, row);
  g_ptr_array_add (rows, full_row (3));
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 2);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM reading"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM reading WHERE pool_mm = 40 AND depth_mm = 5 AND note LIKE 'tall%'"),
                   ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM cell WHERE wick_count = 2 AND load_basis = 'total'"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM cell"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM sample WHERE tare_g = 120 AND set_aside_cause = 'cavity'"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM burn WHERE kind = 'power' AND trim_mm = 6"), ==, 1);
  once = test_export (store);
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 0);
  again = test_export (store);
  g_assert_cmpstr (once, ==, again);
  check = wb_store_check (path, NULL, NULL, NULL, NULL);
  g_assert_cmpstr (check->text, ==, NULL);
}

/* The same over two imports: the second completes the record by amending it. */
static void
test_completes_record (void)
{
  g_autofree char *path = test_path ("complete.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GPtrArray) first = test_rows_new (), second = test_rows_new ();
  g_autoptr (WbStoreCheck) check = NULL;
  g_autofree char *text = NULL;
  WbLogRow *row = test_row (2, "A1", 1, 60);

  row->values[WB_COLUMN_POOL_MM] = 40;
  row->fragrance = g_strdup ("Harbour");
  row->load_pct = 6;
  row->wick_count = 2;
  row->load_basis = WB_BASIS_TOTAL;
  row->burn_kind = WB_BURN_POWER;
  g_ptr_array_add (first, row);
  g_ptr_array_add (second, full_row (2));
  row = test_row (3, "A1", 1, 60);
  row->fragrance = g_strdup ("Harbour");
  row->load_pct = 6;
  row->values[WB_COLUMN_FLAME_MM] = 20;
  g_ptr_array_add (second, row);
  g_assert_cmpuint (test_import (store, first, NULL), ==, 1);
  g_assert_cmpuint (test_import (store, second, NULL), ==, 2);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM reading"), ==, 2);
  g_assert_cmpint (test_query (path, "SELECT count (DISTINCT id) FROM reading"), ==, 1);
  text = test_export (store);
  g_assert_nonnull (strstr (text, "flame_mm=20;"));
  g_assert_nonnull (strstr (text, "depth_mm=5;"));
  g_assert_nonnull (strstr (text, "step=2;"));
  g_assert_nonnull (strstr (text, "dye=Blue;"));
  g_assert_nonnull (strstr (text, "spacing=30;"));
  g_assert_cmpuint (test_import (store, second, NULL), ==, 0);
  check = wb_store_check (path, NULL, NULL, NULL, NULL);
  g_assert_cmpstr (check->text, ==, NULL);
}

static void
test_ways_of_reading_a_pool (void)
{
  g_autoptr (WbStoreImport) import = new_import (NULL);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbLogRow) one = test_row (2, "A1", 1, 60), two = test_row (3, "A1", 1, 60), full = test_row (4, "A1", 1, 60);
  g_autoptr (WbLogRow) other = test_row (5, "A1", 1, 120), other_full = test_row (6, "A1", 1, 120);

  one->values[WB_COLUMN_POOL_MM] = 40;
  two->values[WB_COLUMN_POOL_A_MM] = 40;
  full->values[WB_COLUMN_POOL_FULL] = 1;
  g_assert_cmpint (test_judge (import, one, NULL), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, two, remarks), ==, WB_IMPORT_REFUSED);
  g_assert_cmpint (test_judge (import, full, remarks), ==, WB_IMPORT_REFUSED);
  g_assert_cmpuint (remarks->len, ==, 2);
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->column, ==, "pool_a_mm");
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[1])->column, ==, "pool_mm");
  /* The other half of a pair completes it. */
  other->values[WB_COLUMN_POOL_A_MM] = 70;
  other_full->values[WB_COLUMN_POOL_FULL] = 4;
  g_assert_cmpint (test_judge (import, other, NULL), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, other_full, NULL), ==, WB_IMPORT_ACCEPTED);
}

static void
test_two_in_one_row (void)
{
  g_autoptr (WbStoreImport) import = new_import (NULL);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbLogRow) first = full_row (2), second = full_row (3);
  const WbLogRemark *remark;

  second->load_pct = 8;
  second->tare_g = 200;
  second->values[WB_COLUMN_SOOT] = 4;
  test_judge (import, first, NULL);
  g_assert_cmpint (test_judge (import, second, remarks), ==, WB_IMPORT_REFUSED);
  remark = remarks->pdata[0];
  g_assert_cmpstr (remark->column, ==, "load_pct");
  g_assert_cmpuint (g_strv_length (remark->also), ==, 2);
  g_assert_cmpstr (remark->also[0], ==, "tare_g");
  g_assert_cmpstr (remark->also[1], ==, "soot");
}

/* Rater, event and wick tell observations of one minute apart; a control is told by load 0. */
static void
test_identity (void)
{
  g_autoptr (WbStoreImport) import = new_import (NULL);
  g_autoptr (WbLogRow) one = test_row (2, "A1", 1, 60), by_ada = test_row (3, "A1", 1, 60), event = test_row (4, "A1", 1, 60);
  g_autoptr (WbLogRow) scented = test_row (5, "A1", 1, 120), wick = test_row (6, "A1", 1, 60), other_wick = test_row (7, "A1", 1, 60);

  one->values[WB_COLUMN_THROW] = 3;
  by_ada->rater = g_strdup ("Ada");
  by_ada->values[WB_COLUMN_THROW] = 4;
  event->values[WB_COLUMN_EVENT] = WB_EVENT_SNUFFED;
  event->values[WB_COLUMN_THROW] = 5;
  scented->fragrance = g_strdup ("Harbour");
  wick->values[WB_COLUMN_WICK_NUMBER] = 1;
  other_wick->values[WB_COLUMN_WICK_NUMBER] = 2;
  wick->values[WB_COLUMN_FLAME_MM] = 21;
  other_wick->values[WB_COLUMN_FLAME_MM] = 34;
  g_assert_cmpint (test_judge (import, one, NULL), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, wick, NULL), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, other_wick, NULL), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, other_wick, NULL), ==, WB_IMPORT_KNOWN);
  g_assert_cmpint (test_judge (import, by_ada, NULL), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, event, NULL), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, one, NULL), ==, WB_IMPORT_KNOWN);
  g_assert_cmpint (test_judge (import, scented, NULL), ==, WB_IMPORT_REFUSED);
}

static void
test_two_vessels (void)
{
  g_autoptr (WbStoreImport) import = new_import (NULL);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbLogRow) a = test_row (2, "A1", 1, 60), b = test_row (3, "B1", 1, 60), c = test_row (4, "B1", 1, 120);

  b->inner_diameter_mm = c->inner_diameter_mm = 71;
  g_assert_cmpint (test_judge (import, a, remarks), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpuint (remarks->len, ==, 0);
  g_assert_cmpint (test_judge (import, b, remarks), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpint (test_judge (import, c, remarks), ==, WB_IMPORT_ACCEPTED);
  g_assert_cmpuint (remarks->len, ==, 1);
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->column, ==, "inner_diameter_mm");
}

static void
test_needed_cells (void)
{
  g_autoptr (WbStoreImport) import = new_import (NULL);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  g_autoptr (WbLogRow) nameless = test_row (2, "A1", 1, 60), waxless = test_row (3, "A1", 1, 60);

  g_clear_pointer (&nameless->sample, g_free);
  g_clear_pointer (&waxless->wax, g_free);
  g_assert_cmpint (test_judge (import, nameless, remarks), ==, WB_IMPORT_REFUSED);
  g_assert_cmpint (test_judge (import, waxless, remarks), ==, WB_IMPORT_REFUSED);
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[0])->column, ==, "sample");
  g_assert_cmpstr (((WbLogRemark *) remarks->pdata[1])->column, ==, "wax");
}

static void
set_extra (WbLogRow   *row,
           const char *first,
           const char *second)
{
  row->extra = g_new0 (char *, 3);
  row->extra[0] = g_strdup (first);
  row->extra[1] = g_strdup (second);
}

static void
test_unknown_columns (void)
{
  static const char *const names[] = { "moon", "shelf", NULL };
  g_autofree char *path = test_path ("extra.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autoptr (WbStoreCheck) check = NULL;
  g_autofree char *text = NULL;
  g_auto (GStrv) columns = NULL;

  for (guint i = 0; i < 3; i++)
    {
      WbLogRow *row = test_row (i + 2, "A1", 1, 60 * i);

      set_extra (row, i == 1 ? "" : "full", i == 1 ? "top" : "");
      g_ptr_array_add (rows, row);
    }
  g_assert_cmpuint (test_import (store, rows, names), ==, 3);
  g_assert_cmpuint (test_import (store, rows, names), ==, 0);
  columns = wb_store_list_extra_columns (store, NULL);
  g_assert_cmpstrv (columns, names);
  text = test_export (store);
  g_assert_nonnull (strstr (text, "elapsed=60;extra=top;"));
  g_assert_nonnull (strstr (text, "elapsed=120;extra=full;"));
  check = wb_store_check (path, NULL, NULL, NULL, NULL);
  g_assert_cmpstr (check->text, ==, NULL);
}

/* More samples and burns than are kept in memory, in an order that brings each back again and again. */
static void
test_shuffled (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (WbStore) sorted = test_notebook (":memory:");
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autofree char *a = NULL, *b = NULL;
  g_autoptr (GRand) random = g_rand_new_with_seed (7);
  const guint n = 6000;

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *sample = g_strdup_printf ("S%03u", i / 8);
      WbLogRow *row = test_row (i + 2, sample, 1 + i / 4 % 2, 60 * (i % 4));

      row->values[WB_COLUMN_FLAME_MM] = i % 50;
      if (i % 4 == 0)
        row->trim_mm = 6;
      if (i % 8 == 3)
        row->tare_g = 100 + i % 7;
      g_ptr_array_add (rows, row);
    }
  g_assert_cmpuint (test_import (sorted, rows, NULL), ==, n);
  for (guint i = n - 1; i > 0; i--)
    {
      guint j = (guint) g_rand_int_range (random, 0, (gint32) i + 1);
      gpointer row = rows->pdata[i];

      rows->pdata[i] = rows->pdata[j];
      rows->pdata[j] = row;
    }
  for (guint i = 0; i < n; i++)
    ((WbLogRow *) rows->pdata[i])->line = i + 2;
  g_assert_cmpuint (test_import (store, rows, NULL), ==, n);
  a = test_export (sorted);
  b = test_export (store);
  g_assert_cmpstr (a, ==, b);
  g_assert_cmpuint (test_import (store, rows, NULL), ==, 0);
}

/* A protocol that the maker changed is not the house's any more; the one that an import made serves the next import. */
static void
test_house_rules (void)
{
  g_autofree char *path = test_path ("house.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (GError) error = NULL;
  WbStoreChange *change = test_begin (store, "Make a protocol");
  WbProtocol *mine = wb_protocol_new_house ();

  mine->burn_s = 7200;
  test_put (change, mine);
  test_commit (change);
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (GPtrArray) rows = test_rows_new ();
      WbLogRow *row = test_row (2, "A1", 1, 0);

      g_free (row->experiment);
      row->experiment = g_strdup (i == 0 ? "Winter trial" : "Windy test");
      g_ptr_array_add (rows, row);
      test_import (store, rows, NULL);
    }
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM protocol"), ==, 2);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM profile"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT burn_s FROM protocol WHERE id = (SELECT max (protocol) FROM experiment)"), ==, 14400);
  g_assert_cmpint (test_query (path, "SELECT count (DISTINCT code) FROM experiment"), ==, 2);
}

static void
test_changed_notebook (void)
{
  g_autoptr (WbStore) store = test_notebook (":memory:");
  g_autoptr (WbStoreImport) import = new_import (store);
  g_autoptr (WbLogRow) row = test_row (2, "A1", 1, 0);
  g_autoptr (GError) error = NULL;

  test_judge (import, row, NULL);
  test_fill (store);
  g_assert_false (wb_store_import_begin (import, store, "log.csv", "Ada", TEST_NOW, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
}

/* No room in the middle of pass 2: nothing of the import is there, and the notebook goes on. */
static void
test_full_disk (void)
{
  g_autofree char *path = test_path ("full.wickbench");
  g_autoptr (WbStore) store = test_notebook (path);
  g_autoptr (WbStoreImport) import = new_import (store);
  g_autoptr (GPtrArray) rows = test_rows_new ();
  g_autoptr (GError) error = NULL;
  guint i;

  for (i = 0; i < 5000; i++)
    {
      g_ptr_array_add (rows, test_row (i + 2, "A1", 1 + i / 100, i % 100));
      test_judge (import, rows->pdata[i], NULL);
    }
  wb_store_limit_pages_to_size (store);
  g_assert_true (wb_store_import_begin (import, store, "log.csv", "Ada", TEST_NOW, &error));
  for (i = 0; i < rows->len && wb_store_import_put (import, rows->pdata[i], &error); i++)
    ;
  g_assert_cmpuint (i, <, rows->len);
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_FULL);
  g_clear_pointer (&import, wb_store_import_free);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM reading"), ==, 0);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM object"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM entry"), ==, 1);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/import/rows-make-what-they-name", test_comes_in);
  g_test_add_func ("/store/import/the-same-rows-again-are-known", test_known_again);
  g_test_add_func ("/store/import/another-value-than-an-earlier-row-is-refused", test_contradictions);
  g_test_add_func ("/store/import/another-value-than-the-record-is-refused", test_contradictions_of_record);
  g_test_add_func ("/store/import/an-empty-cell-contradicts-nothing", test_empty_cells);
  g_test_add_func ("/store/import/a-later-file-completes-the-record", test_completes_record);
  g_test_add_func ("/store/import/a-pool-is-read-in-one-way", test_ways_of_reading_a_pool);
  g_test_add_func ("/store/import/every-contradicting-column-is-named", test_two_in_one_row);
  g_test_add_func ("/store/import/rater-event-and-wick-tell-observations-apart", test_identity);
  g_test_add_func ("/store/import/two-diameters-are-two-vessels", test_two_vessels);
  g_test_add_func ("/store/import/an-empty-name-is-refused", test_needed_cells);
  g_test_add_func ("/store/import/unknown-columns-come-back", test_unknown_columns);
  g_test_add_func ("/store/import/order-does-not-matter", test_shuffled);
  g_test_add_func ("/store/import/the-house-rules-are-the-house-s", test_house_rules);
  g_test_add_func ("/store/import/a-notebook-changed-meanwhile-is-not-written", test_changed_notebook);
  g_test_add_func ("/store/import/a-full-disk-leaves-nothing", test_full_disk);
  return g_test_run ();
}
