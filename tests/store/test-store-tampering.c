/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-kinds.h"
#include "store-notebook.h"
#include "wb-store-check.h"
#include "wb-store-lessons.h"
#include "wb-store-undo.h"

#include <gio/gio.h>
#include <math.h>
#include <string.h>

/*
 * The sweep: whatever table, whatever column, one edit behind
 * the program's back, and the check must find it. Tables and columns are read from
 * the file, so that one that is added later is swept as well.
 */

typedef struct
{
  char    *name;
  char    *type;
  gboolean is_key;
} Column;

typedef struct
{
  char      *name;
  GPtrArray *columns; /* Column */
} Table;

/* The notebook as it was before each edit. */
typedef struct
{
  char *path;
  char *bytes;
  gsize length;
} Original;

static void
column_free (gpointer data)
{
  Column *self = data;

  g_free (self->name);
  g_free (self->type);
  g_free (self);
}

static void
table_free (gpointer data)
{
  Table *self = data;

  g_free (self->name);
  g_ptr_array_unref (self->columns);
  g_free (self);
}

static int
on_column_cb (gpointer data,
              int      n,
              char   **values,
              char   **names)
{
  Column *column = g_new0 (Column, 1);

  column->name = g_strdup (values[1]);
  column->type = g_strdup (values[2]);
  column->is_key = strcmp (values[5], "0") != 0;
  g_ptr_array_add (data, column);
  return 0;
}

static int
on_table_cb (gpointer data,
             int      n,
             char   **values,
             char   **names)
{
  Table *table = g_new0 (Table, 1);

  table->name = g_strdup (values[0]);
  table->columns = g_ptr_array_new_with_free_func (column_free);
  g_ptr_array_add (data, table);
  return 0;
}

static GPtrArray *
list_tables (const char *path)
{
  GPtrArray *tables = g_ptr_array_new_with_free_func (table_free);
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "SELECT name FROM sqlite_schema WHERE type = 'table'",
                                 on_table_cb, tables, NULL), ==, SQLITE_OK);
  for (guint i = 0; i < tables->len; i++)
    {
      Table *table = tables->pdata[i];
      g_autofree char *sql = g_strdup_printf ("PRAGMA table_info (%s)", table->name);

      g_assert_cmpint (sqlite3_exec (db, sql, on_column_cb, table->columns, NULL), ==, SQLITE_OK);
      g_assert_cmpuint (table->columns->len, >, 0);
    }
  sqlite3_close (db);
  return tables;
}

/* Of the two experiments, each with two cells of two figures; and what they came to together. */
static void
keep_lessons (WbStore    *store,
              const char *path)
{
  g_autoptr (GPtrArray) lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);
  g_autoptr (GBytes) kept = g_bytes_new_static ("kept", 4);
  gint64 first = test_query (path, "SELECT min (experiment) FROM derived_experiment");
  gint64 last = test_query (path, "SELECT max (experiment) FROM derived_experiment");

  g_assert_cmpint (first, <, last);
  for (guint i = 0; i < 2; i++)
    {
      WbLesson *lesson = wb_lesson_new ();
      g_autofree char *sql = g_strdup_printf ("SELECT last_entry FROM derived_experiment WHERE experiment = %" G_GINT64_FORMAT,
                                              i == 0 ? first : last);

      lesson->experiment = i == 0 ? first : last;
      lesson->last_entry = test_query (path, sql);
      lesson->shared_entry = 1;
      lesson->version = 1;
      for (guint c = 0; c < 2; c++)
        {
          WbLessonCell cell = { .cell = c + 1, .series = g_strdup ("Larch"), .step = c, .wicks = 1, .crossed_limit = -1, .inner_mm = 76.2 };

          g_array_append_val (lesson->cells, cell);
          for (guint f = 0; f < 2; f++)
            {
              WbLessonFigure figure = {
                .cell = c, .figure = WB_FIGURE_FLAME, .stage = f, .mean = 3.25, .pace = NAN, .pace_variance = NAN, .covariance = NAN,
                .pace_df = NAN, .exponent = NAN, .at_wall_h = NAN, .short_h = NAN,
              };

              g_array_append_val (lesson->figures, figure);
            }
        }
      g_ptr_array_add (lessons, lesson);
    }
  g_assert_true (wb_store_keep_lessons (store, lessons, NULL, NULL));
  g_assert_true (wb_store_keep_school (store, kept, NULL));
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM derived_lesson_figure"), ==, 8);
}

/* Every kind twice, the notebook's own record in three versions, a cell of an unknown column in two; an undo. */
static Original *
make_original (void)
{
  Original *self = g_new0 (Original, 1);
  WbStore *store;
  WbStoreChange *change;
  gint64 reading;

  self->path = test_path ("swept.wickbench");
  store = test_notebook (self->path);
  test_put_every_kind (store, 0);
  test_put_every_kind (store, 1);
  reading = test_query (self->path, "SELECT max (id) FROM reading");
  for (guint i = 0; i < 2; i++)
    {
      change = test_begin (store, "Keep a cell");
      g_assert_true (wb_store_change_put_extra (change, reading, "sound", i == 0 ? "hiss" : "crackle", NULL));
      test_commit (change);
    }
  g_assert_true (wb_store_undo (store, "Ada", TEST_NOW, NULL, NULL));
  keep_lessons (store, self->path);
  wb_store_close (store);
  g_assert_true (g_file_get_contents (self->path, &self->bytes, &self->length, NULL));
  return self;
}

static void
original_free (Original *self)
{
  g_free (self->path);
  g_free (self->bytes);
  g_free (self);
}

/* The number of rows that the edit changed; 0: the file's own rules refused it. */
static int
edit (const Original *original,
      const char     *sql)
{
  sqlite3 *db = NULL;
  int changes, code;

  g_assert_true (g_file_set_contents_full (original->path, original->bytes, (gssize) original->length, G_FILE_SET_CONTENTS_NONE,
                                           0644, NULL));
  g_assert_cmpint (sqlite3_open_v2 (original->path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  code = sqlite3_exec (db, "PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON; PRAGMA synchronous = OFF", NULL,
                       NULL, NULL);
  g_assert_cmpint (code, ==, SQLITE_OK);
  code = sqlite3_exec (db, sql, NULL, NULL, NULL);
  if (code != SQLITE_OK && code != SQLITE_CONSTRAINT && code != SQLITE_MISMATCH)
    g_error ("%s: %s", sql, sqlite3_errmsg (db));
  changes = code == SQLITE_OK ? sqlite3_changes (db) : 0;
  sqlite3_close (db);
  return changes;
}

static void
assert_found (const Original *original,
              const char     *sql)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) result = wb_store_check (original->path, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  if (result->finding == WB_CHECK_GOOD)
    g_error ("the check did not find: %s", sql);
  g_assert_nonnull (result->text);
}

/* Names of the key's columns; of others where there is none. */
static char *
dup_key (const Table *table)
{
  GString *key = g_string_new (NULL);

  for (guint i = 0; i < table->columns->len; i++)
    {
      const Column *column = table->columns->pdata[i];

      if (column->is_key)
        g_string_append_printf (key, "%s%s", key->len > 0 ? ", " : "", column->name);
    }
  g_assert_cmpuint (key->len, >, 0);
  return g_string_free (key, FALSE);
}

/* A condition that picks one row of a table: the first by its key, or the last. */
static char *
dup_row (const Table *table,
         gboolean     last)
{
  g_autofree char *key = dup_key (table);
  g_autofree char *place = last ? g_strdup_printf ("(SELECT count (*) - 1 FROM %s)", table->name) : g_strdup ("0");

  return g_strdup_printf ("(%s) = (SELECT %s FROM %s ORDER BY %s LIMIT 1 OFFSET %s)", key, key, table->name, key, place);
}

/* Other values for a column, by its type; %s is the column. */
static const struct { const char *type, *values[5]; } changes[] = {
  { "INTEGER", { "coalesce (%s + 1000, 0)", "coalesce (%s - 1, 1)", "coalesce (%s, 0) + 4294967296", "NULL" } },
  { "REAL", { "coalesce (%s * 1.0000001, 0.0)", "coalesce (%s + 1, 1)", "NULL" } },
  { "TEXT", { "coalesce (%s, '') || 'x'", "coalesce (%s, '') || char (0) || 'x'", "CASE %s WHEN '' THEN 'x' ELSE '' END", "NULL" } },
  { "BLOB", { "CASE %s WHEN x'00' THEN x'01' ELSE x'00' END", "zeroblob (length (coalesce (%s, '')) + 1)", "NULL" } },
};

static char *
dup_value (const char *format,
           const char *column)
{
  g_auto (GStrv) parts = g_strsplit (format, "%s", -1);

  return g_strjoinv (column, parts);
}

/* Every other value of one column, in the first row and the last by turns; the number of edits that the file took. */
static guint
sweep_column (const Original *original,
              const Table    *table,
              const Column   *column)
{
  guint taken = 0;

  for (guint i = 0; i < G_N_ELEMENTS (changes); i++)
    for (guint j = 0; strcmp (changes[i].type, column->type) == 0 && changes[i].values[j] != NULL; j++)
      {
        g_autofree char *where = dup_row (table, j % 2 == 1);
        g_autofree char *value = dup_value (changes[i].values[j], column->name);
        /* What is there already is no edit. */
        g_autofree char *sql = g_strdup_printf ("UPDATE %s SET %s = %s WHERE %s AND %s IS NOT %s", table->name, column->name, value,
                                                where, column->name, value);

        if (edit (original, sql) == 0)
          continue;
        taken++;
        assert_found (original, sql);
      }
  return taken;
}

static void
test_columns (void)
{
  Original *original = make_original ();
  g_autoptr (GPtrArray) tables = list_tables (original->path);
  guint taken = 0;

  for (guint i = 0; i < tables->len; i++)
    {
      const Table *table = tables->pdata[i];

      for (guint j = 0; j < table->columns->len; j++)
        {
          const Column *column = table->columns->pdata[j];
          guint of_this = sweep_column (original, table, column);

          if (of_this == 0)
            g_error ("%s.%s was not swept", table->name, column->name);
          taken += of_this;
        }
    }
  g_test_message ("%u edits of %u tables, each found", taken, tables->len);
  original_free (original);
}

/* One row taken away from each table, but where none at all says as much as one. */
static void
test_removed_rows (void)
{
  Original *original = make_original ();
  g_autoptr (GPtrArray) tables = list_tables (original->path);

  for (guint i = 0; i < tables->len; i++)
    for (gboolean last = FALSE; last <= TRUE && strcmp (((Table *) tables->pdata[i])->name, "derived_school") != 0; last++)
      {
        g_autofree char *where = dup_row (tables->pdata[i], last);
        g_autofree char *sql = g_strdup_printf ("DELETE FROM %s WHERE %s", ((Table *) tables->pdata[i])->name, where);

        g_assert_cmpint (edit (original, sql), ==, 1);
        assert_found (original, sql);
      }
  original_free (original);
}

/* A row added to each table: a copy of one that is there, under another key. */
static void
test_added_rows (void)
{
  Original *original = make_original ();
  g_autoptr (GPtrArray) tables = list_tables (original->path);

  for (guint i = 0; i < tables->len; i++)
    {
      const Table *table = tables->pdata[i];
      const Column *first = table->columns->pdata[0];
      g_autoptr (GString) values = g_string_new (NULL);
      g_autofree char *where = dup_row (table, TRUE), *sql = NULL;

      g_string_append_printf (values, strcmp (first->type, "TEXT") == 0 ? "%s || 'x'" : "%s + 1000", first->name);
      for (guint j = 1; j < table->columns->len; j++)
        {
          const Column *column = table->columns->pdata[j];

          /* The identities are unique; another row may not bear them. */
          g_string_append_printf (values, ", %s", strcmp (table->name, "object") == 0 && strcmp (column->name, "uuid") == 0
                                                    ? "NULL" : column->name);
        }
      sql = g_strdup_printf ("INSERT INTO %s SELECT %s FROM %s WHERE %s", table->name, values->str, table->name, where);
      g_assert_cmpint (edit (original, sql), ==, 1);
      assert_found (original, sql);
    }
  original_free (original);
}

/* Bytes that fit their own SHA-256, and belong to nobody. */
static void
test_planted_file (void)
{
  Original *original = make_original ();
  g_autofree char *hex = g_compute_checksum_for_string (G_CHECKSUM_SHA256, "planted", -1);
  g_autofree char *sql = g_strdup_printf ("INSERT INTO attachment_data VALUES ('%s', CAST ('planted' AS BLOB))", hex);

  g_assert_cmpint (edit (original, sql), ==, 1);
  assert_found (original, sql);
  original_free (original);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/tampering/every-column-of-every-table-is-held", test_columns);
  g_test_add_func ("/store/tampering/a-row-taken-away-is-missed", test_removed_rows);
  g_test_add_func ("/store/tampering/a-row-added-is-found", test_added_rows);
  g_test_add_func ("/store/tampering/a-file-that-nobody-kept-is-found", test_planted_file);
  return g_test_run ();
}
