/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-kinds.h"
#include "store-notebook.h"
#include "wb-store-check.h"
#include "wb-store-salvage.h"

#include <glib/gstdio.h>
#include <string.h>

/*
 * Files that nobody's disk would make: trees in circles, chains of pages that lead to themselves, cells as long as a number
 * can say, values that no program of ours wrote. Whatever stands there, the salvage ends soon, and either makes a sound notebook or
 * says why not and leaves nothing. WICKBENCH_SALVAGE_ROUNDS sets how many of each kind (thousands under sanitizers);
 * WICKBENCH_SALVAGE_SEED the first seed: a complaint names its own.
 */

#define ROUNDS 60
#define FIRST_SEED 20261129
#define PAGE 4096
/* No round reads more than half a megabyte. */
#define LONGEST_US (20 * G_TIME_SPAN_SECOND)

static guint
ask_environment (const char *name,
                 guint       otherwise)
{
  const char *told = g_getenv (name);

  return told != NULL ? (guint) g_ascii_strtoull (told, NULL, 10) : otherwise;
}

/* With rows that go on over several pages, and pages that are free again. */
static char *
make_original (gsize *length)
{
  g_autofree char *path = test_path ("whole.wickbench");
  WbStore *store = test_notebook (path);
  TestRecords records;
  char *bytes;

  test_put_every_kind (store, 0);
  records = test_fill (store);
  for (guint i = 0; i < 60; i++)
    {
      WbStoreChange *change = test_begin (store, "Log a round");
      WbReading *reading = test_reading (records.burn, 300 + i, 40 + i % 7);

      reading->note = i % 20 == 0 ? g_strnfill (10000, 'n') : g_strdup_printf ("note %u", i);
      test_put (change, reading);
      test_commit (change);
    }
  test_put_every_kind (store, 1);
  wb_store_close (store);
  g_assert_true (g_file_get_contents (path, &bytes, length, NULL));
  return bytes;
}

/* TRUE: a notebook was made, and it is sound. */
static gboolean
salvage (const char *path,
         guint       seed)
{
  g_autofree char *to = test_path ("saved.wickbench");
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreSalvage) result = NULL;
  g_autoptr (WbStoreCheck) check = NULL;
  gint64 began = g_get_monotonic_time ();

  g_unlink (to);
  result = wb_store_salvage (path, to, "Ada", TEST_NOW, NULL, NULL, &error);
  if (g_get_monotonic_time () - began > LONGEST_US)
    g_error ("seed %u took more than %d s", seed, (int) (LONGEST_US / G_TIME_SPAN_SECOND));
  if (result == NULL)
    {
      g_test_message ("seed %u: %s", seed, error->message);
      if (g_file_test (to, G_FILE_TEST_EXISTS))
        g_error ("seed %u was refused, and left a file", seed);
      return FALSE;
    }
  check = wb_store_check (to, NULL, NULL, NULL, NULL);
  if (check->finding != WB_CHECK_GOOD)
    g_error ("seed %u: %s", seed, check->text);
  g_unlink (to);
  return TRUE;
}

/* ---- Pages ---- */

static void
put_32 (char   *at,
        guint32 value)
{
  at[0] = (char) (value >> 24);
  at[1] = (char) (value >> 16);
  at[2] = (char) (value >> 8);
  at[3] = (char) value;
}

/* A page number that may be itself, another, none, or beyond the file. */
static guint32
draw_number (GRand  *rand,
             guint32 page,
             guint32 pages)
{
  switch (g_rand_int_range (rand, 0, 4))
    {
    case 0:
      return page;
    case 1:
      return 0;
    case 2:
      return g_rand_int (rand);
    default:
      return (guint32) g_rand_int_range (rand, 1, (gint32) pages + 1);
    }
}

static void
hurt_page (GRand *rand,
           char  *bytes,
           gsize  length)
{
  guint32 pages = (guint32) (length / PAGE), number = (guint32) g_rand_int_range (rand, 1, (gint32) pages + 1);
  char *page = bytes + (number - 1) * PAGE, *tree = page + (number == 1 ? 100 : 0);
  guint at;

  switch (g_rand_int_range (rand, 0, 9))
    {
    case 0: /* another page's twin */
      memmove (page, bytes + g_rand_int_range (rand, 0, (gint32) pages) * PAGE, PAGE);
      break;
    case 1: /* its right child, or the next page of a chain */
      put_32 (g_rand_boolean (rand) ? tree + 8 : page, draw_number (rand, number, pages));
      break;
    case 2: /* more cells than a page holds */
      tree[3] = (char) g_rand_int (rand);
      tree[4] = (char) g_rand_int (rand);
      break;
    case 3: /* where the cells begin */
      for (guint i = 0; i < 40; i++)
        page[12 + g_rand_int_range (rand, 0, 200)] = (char) g_rand_int (rand);
      break;
    case 4: /* lengths without end */
      at = (guint) g_rand_int_range (rand, 100, PAGE - 10);
      memset (page + at, 0xff, 9);
      break;
    case 5: /* another kind of page */
      tree[0] = "\2\5\12\15\0\7"[g_rand_int_range (rand, 0, 6)];
      break;
    case 6: /* the file's own header: size of a page, freelist, count, version */
      at = (guint) g_rand_int_range (rand, 16, 60);
      bytes[at] = (char) g_rand_int (rand);
      put_32 (bytes + 32, draw_number (rand, 1, pages));
      put_32 (bytes + 36, draw_number (rand, 1, pages));
      break;
    case 7: /* every link of a chain leads to one page */
      for (guint i = 0; i < 20; i++)
        put_32 (page + 4 * g_rand_int_range (rand, 0, PAGE / 4), number);
      break;
    default: /* noise */
      at = (guint) g_rand_int_range (rand, 0, PAGE - 64);
      for (guint i = 0; i < 64; i++)
        page[at + i] = (char) g_rand_int (rand);
    }
}

static void
test_pages (void)
{
  gsize length;
  g_autofree char *original = make_original (&length), *path = test_path ("hostile.wickbench");
  guint rounds = ask_environment ("WICKBENCH_SALVAGE_ROUNDS", ROUNDS), first = ask_environment ("WICKBENCH_SALVAGE_SEED", FIRST_SEED), made = 0;

  for (guint round = 0; round < rounds; round++)
    {
      g_autoptr (GRand) rand = g_rand_new_with_seed (first + round);
      g_autofree char *bytes = g_memdup2 (original, length);

      for (gint32 i = 1 << g_rand_int_range (rand, 0, 7); i > 0; i--)
        hurt_page (rand, bytes, length);
      g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
      made += salvage (path, first + round);
    }
  g_test_message ("%u of %u made a notebook", made, rounds);
  g_assert_cmpuint (made, >, rounds / 2);
}

/* ---- Values ---- */

/* Tables and columns of the file, as "table.column". */
static GPtrArray *
list_columns (const char *path)
{
  GPtrArray *columns = g_ptr_array_new_with_free_func (g_free);
  sqlite3 *db = NULL;
  sqlite3_stmt *statement = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "SELECT s.name || '.' || c.name FROM sqlite_schema AS s, pragma_table_info (s.name) AS c "
                                       "WHERE s.type = 'table' AND s.name NOT LIKE 'derived%'", -1, &statement, NULL), ==, SQLITE_OK);
  while (sqlite3_step (statement) == SQLITE_ROW)
    g_ptr_array_add (columns, g_strdup ((const char *) sqlite3_column_text (statement, 0)));
  sqlite3_finalize (statement);
  sqlite3_close (db);
  return columns;
}

/* For SQL, whose own random numbers no seed would bring back. */
static void
draw_cb (sqlite3_context *context,
         int              n,
         sqlite3_value  **values)
{
  sqlite3_result_int (context, g_rand_int_range (sqlite3_user_data (context), 0, sqlite3_value_int (values[0])));
}

/* As far as the table takes it: what it refuses is left. */
static void
hurt_value (sqlite3    *db,
            GRand      *rand,
            const char *column)
{
  static const char *const values[] = { "0", "-1", "1", "2147483648", "9223372036854775807", "-9223372036854775808", "1e308", "-0.5", "NULL",
                                        "''", "zeroblob (16)", "zeroblob (32)", "char (10)", "'restore'", "'burn'", "1000000000", "number", "id", "entry" };
  g_auto (GStrv) parts = g_strsplit (column, ".", 2);
  const char *value = values[g_rand_int_range (rand, 0, G_N_ELEMENTS (values))];
  gboolean all = g_rand_int_range (rand, 0, 4) == 0;
  g_autofree char *sql = g_strdup_printf ("UPDATE OR IGNORE %s SET %s = %s WHERE draw (%d) = 0", parts[0], parts[1], value, all ? 1 : 5);

  sqlite3_exec (db, sql, NULL, NULL, NULL);
}

static void
test_values (void)
{
  gsize length;
  g_autofree char *original = make_original (&length), *path = test_path ("hostile.wickbench");
  guint rounds = ask_environment ("WICKBENCH_SALVAGE_ROUNDS", ROUNDS), first = ask_environment ("WICKBENCH_SALVAGE_SEED", FIRST_SEED), made = 0;
  g_autoptr (GPtrArray) columns = NULL;

  for (guint round = 0; round < rounds; round++)
    {
      g_autoptr (GRand) rand = g_rand_new_with_seed (first + round);
      sqlite3 *db = NULL;

      g_assert_true (g_file_set_contents (path, original, (gssize) length, NULL));
      if (columns == NULL)
        columns = list_columns (path);
      g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
      sqlite3_create_function (db, "draw", 1, SQLITE_UTF8, rand, draw_cb, NULL, NULL);
      sqlite3_exec (db, "PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON; BEGIN", NULL, NULL, NULL);
      for (gint32 i = g_rand_int_range (rand, 1, 12); i > 0; i--)
        hurt_value (db, rand, columns->pdata[g_rand_int_range (rand, 0, (gint32) columns->len)]);
      g_assert_cmpint (sqlite3_exec (db, "COMMIT", NULL, NULL, NULL), ==, SQLITE_OK);
      sqlite3_close (db);
      made += salvage (path, first + round);
    }
  g_test_message ("%u of %u made a notebook", made, rounds);
  g_assert_cmpuint (made, >, rounds / 2);
}

/* ---- Some that are known ---- */

/* A count is wrong by two thousand million, or says one, or less than none: what is there is saved, and nothing is made up. */
static void
test_count (void)
{
  static const struct { const char *sql; int unproven; } counts[] = {
    { "UPDATE head SET entries = 2000000000", 0 },
    { "UPDATE head SET entries = 1", 0 },
    { "UPDATE entry SET rows = -1 WHERE number = 5", 1 },
    { "UPDATE entry SET rows = 9223372036854775807 WHERE number = 5", 1 },
  };
  gsize length;
  g_autofree char *original = make_original (&length), *path = test_path ("counted.wickbench");

  for (gsize i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      g_autofree char *to = test_path ("saved.wickbench");
      g_autoptr (WbStoreSalvage) result = NULL;
      gint64 entries;

      g_assert_true (g_file_set_contents (path, original, (gssize) length, NULL));
      entries = test_query (path, "SELECT max (number) FROM entry");
      test_tamper (path, counts[i].sql);
      result = wb_store_salvage (path, to, "Ada", TEST_NOW, NULL, NULL, NULL);
      g_assert_nonnull (result);
      g_assert_cmpint (result->entries, ==, entries);
      g_assert_cmpint (result->proven, ==, entries - counts[i].unproven);
      g_unlink (to);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/salvage-hostile/a-wrong-count-of-entries-makes-up-none", test_count);
  g_test_add_func ("/store/salvage-hostile/pages-in-circles-and-absurd-lengths-come-to-an-end", test_pages);
  g_test_add_func ("/store/salvage-hostile/values-that-nobody-wrote-make-no-unsound-notebook", test_values);
  return g_test_run ();
}
