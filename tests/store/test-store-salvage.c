/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-kinds.h"
#include "store-notebook.h"
#include "wb-experiment.h"
#include "wb-record-types.h"
#include "wb-store-check.h"
#include "wb-store-records.h"
#include "wb-store-salvage.h"
#include "wb-store-undo.h"

#include <glib/gstdio.h>
#include <string.h>

/*
 * Whatever page of a notebook is destroyed: each reading bears a word of its own, and one whose word still stands in the damaged
 * file's bytes must be in the new notebook. The bytes are searched here without any knowledge of SQLite's format.
 */

#define READINGS 420
#define AN_ENTRY 5
#define PAGE 4096

typedef struct
{
  char *path;
  char *bytes;
  gsize length;
} Original;

static char *
dup_mark (guint i)
{
  return g_strdup_printf ("mark %04u of the sweep", i);
}

static void
add_readings (WbStore *store,
              gint64   burn)
{
  for (guint i = 0; i < READINGS;)
    {
      WbStoreChange *change = test_begin (store, "Log a round");

      for (guint j = 0; j < AN_ENTRY; j++, i++)
        {
          WbReading *reading = test_reading (burn, 300 + i, 40 + i % 7);

          reading->note = dup_mark (i);
          test_put (change, reading);
        }
      test_commit (change);
    }
}

/* One of everything twice, an undo's worth of versions, some hundred readings, a kept file. */
static Original *
make_original (void)
{
  Original *self = g_new0 (Original, 1);
  WbStore *store;
  TestRecords records;

  self->path = test_path ("whole.wickbench");
  store = test_notebook (self->path);
  test_put_every_kind (store, 0);
  records = test_fill (store);
  add_readings (store, records.burn);
  test_put_every_kind (store, 1);
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

/* Copies of the text in the bytes. */
static guint
count (const char *bytes,
       gsize       length,
       const char *text)
{
  gsize size = strlen (text);
  guint n = 0;

  for (const char *at = bytes; (gsize) (at - bytes) + size <= length; at++)
    {
      at = memchr (at, text[0], length - (gsize) (at - bytes));
      if (at == NULL || (gsize) (at - bytes) + size > length)
        break;
      n += memcmp (at, text, size) == 0;
    }
  return n;
}

static int
on_note_cb (gpointer data,
            int      n,
            char   **values,
            char   **names)
{
  g_hash_table_add (data, g_strdup (values[0]));
  return 0;
}

/* The words of all readings. */
static GHashTable *
list_marks (const char *path)
{
  GHashTable *marks = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, "SELECT note FROM reading WHERE note IS NOT NULL", on_note_cb, marks, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
  return marks;
}

/* A copy may be left on a page that was split: only where none is hurt is it sure that the row itself is not. */
static guint
assert_marks (const Original *original,
              const char     *bytes,
              gsize           length,
              const char     *to)
{
  g_autoptr (GHashTable) saved = list_marks (to);
  guint expected = 0;

  for (guint i = 0; i < READINGS; i++)
    {
      g_autofree char *mark = dup_mark (i);

      if (count (bytes, length, mark) < count (original->bytes, original->length, mark))
        continue;
      expected++;
      if (!g_hash_table_contains (saved, mark))
        g_error ("“%s” stands in the damaged file and is not in the new one", mark);
    }
  return expected;
}

/* Salvages, holds the damaged bytes and the new notebook's check; NULL where nothing can be read. Caller frees. */
static WbStoreSalvage *
salvage (const char *bytes,
         gsize       length,
         char      **to)
{
  g_autofree char *path = test_path ("damaged.wickbench"), *after = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStoreCheck) check = NULL;
  WbStoreSalvage *result;
  gsize after_length;

  *to = test_path ("saved.wickbench");
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length, NULL));
  result = wb_store_salvage (path, *to, "Ada", TEST_NOW, NULL, NULL, &error);
  g_assert_true (g_file_get_contents (path, &after, &after_length, NULL));
  g_assert_cmpmem (bytes, length, after, after_length);
  if (result == NULL)
    {
      g_test_message ("%s", error->message);
      g_assert_false (g_file_test (*to, G_FILE_TEST_EXISTS));
      return NULL;
    }
  g_assert_no_error (error);
  check = wb_store_check (*to, NULL, NULL, NULL, NULL);
  g_assert_cmpstr (check->text, ==, NULL);
  return result;
}

static void
sweep (gboolean noise)
{
  Original *original = make_original ();
  gsize pages = original->length / PAGE;
  guint whole = 0;
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  g_assert_cmpuint (pages, >, 60);
  for (gsize page = 0; page < pages; page++)
    {
      g_autofree char *bytes = g_memdup2 (original->bytes, original->length), *to = NULL;
      g_autoptr (WbStoreSalvage) result = NULL;

      g_test_message ("page %u of %u", (guint) page + 1, (guint) pages);
      for (gsize i = 0; i < PAGE; i++)
        bytes[page * PAGE + i] = noise ? (char) g_rand_int_range (rand, 0, 256) : 0;
      result = salvage (bytes, original->length, &to);
      g_assert_nonnull (result);
      whole += assert_marks (original, bytes, original->length, to) == READINGS;
      g_unlink (to);
    }
  /* Most pages hold other things, and then not one reading is lost. */
  g_assert_cmpuint (whole, >, pages / 2);
  original_free (original);
}

static void
test_zeroed (void)
{
  sweep (FALSE);
}

static void
test_noise (void)
{
  sweep (TRUE);
}

static void
test_cut (void)
{
  Original *original = make_original ();

  for (guint percent = 95; percent >= 30; percent -= 5)
    {
      gsize length = original->length / 100 * percent;
      g_autofree char *to = NULL;
      g_autoptr (WbStoreSalvage) result = NULL;

      g_test_message ("cut to %u %%", percent);
      result = salvage (original->bytes, length, &to);
      g_assert_nonnull (result);
      assert_marks (original, original->bytes, length, to);
    }
  original_free (original);
}

/* A whole notebook comes through whole: each row as it was, each entry proven. */
static void
test_whole (void)
{
  Original *original = make_original ();
  g_autofree char *to = NULL;
  g_autoptr (WbStoreSalvage) result = salvage (original->bytes, original->length, &to);
  WbStore *store;
  g_autoptr (WbEntry) first = NULL;

  g_assert_nonnull (result);
  g_assert_cmpint (result->entries, ==, test_query (original->path, "SELECT max (number) FROM entry"));
  g_assert_cmpint (result->proven, ==, result->entries);
  g_assert_cmpint (result->rows_lost + result->lost + result->partial + result->unproven + result->stand_ins + result->files_lost, ==, 0);
  g_assert_cmpint (result->readings, ==, test_query (original->path, "SELECT count (DISTINCT id) FROM reading"));
  g_assert_cmpint (result->rows, ==, test_query (original->path, "SELECT sum (rows) FROM entry"));
  g_assert_cmpuint (result->lines->len, ==, 0);
  g_assert_cmpint (test_query (to, "SELECT count (*) FROM attachment_data"), ==, test_query (original->path, "SELECT count (*) FROM attachment_data"));
  g_assert_cmpint (test_query (to, "SELECT total (id * entry * seq * coalesce (previous, 1)) FROM reading"), ==,
                   test_query (original->path, "SELECT total (id * entry * seq * coalesce (previous, 1)) FROM reading"));

  /* It says what it is: another record, made from that file. */
  store = wb_store_open (to, WB_STORE_READ, NULL);
  first = wb_store_load_entry (store, 1, NULL);
  g_assert_nonnull (strstr (first->why, "damaged.wickbench"));
  g_assert_nonnull (strstr (first->why, result->checksum));
  g_assert_nonnull (strstr (first->why, result->last));
  g_assert_cmpstr (first->who, ==, "Ada");
  wb_store_close (store);
  {
    g_autofree char *checksum = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) original->bytes, original->length);

    g_assert_cmpstr (checksum, ==, result->checksum);
  }
  original_free (original);
}

/* A lost burn, and with it all its sample's page: the readings stay, at one that is named lost and has its UUID. */
static void
test_lost_parent (void)
{
  Original *original = make_original ();
  g_autofree char *to = NULL, *sql = NULL;
  g_autoptr (WbStoreSalvage) result = NULL;
  g_autoptr (GString) told = g_string_new (NULL);
  gint64 root = test_query (original->path, "SELECT rootpage FROM sqlite_schema WHERE name = 'burn'");
  gint64 burns = test_query (original->path, "SELECT count (DISTINCT id) FROM burn");

  memset (original->bytes + (root - 1) * PAGE, 0, PAGE);
  result = salvage (original->bytes, original->length, &to);
  g_assert_nonnull (result);
  assert_marks (original, original->bytes, original->length, to);
  g_assert_cmpint (result->stand_ins, >=, 1);
  g_assert_cmpint (result->partial, >=, 1);
  g_assert_cmpint (result->rows_lost, >=, burns);
  for (guint i = 0; i < result->lines->len; i++)
    g_string_append_printf (told, "%s\n", (char *) result->lines->pdata[i]);
  sql = g_strdup_printf ("Burn: %d lost as a whole.", (int) burns);
  g_assert_nonnull (strstr (told->str, sql));
  g_assert_nonnull (strstr (told->str, "rows could be read"));
  g_assert_cmpint (test_query (to, "SELECT count (*) FROM entry WHERE why LIKE '%(salvaged: % of its % rows could be read)'"), ==, result->partial);
  original_free (original);
}

/* One value changed behind everybody's back: it is there, and said not to be proven. */
static void
test_changed (void)
{
  Original *original = make_original ();
  g_autofree char *to = NULL;
  g_autoptr (WbStoreSalvage) result = NULL;
  g_autoptr (GHashTable) marks = NULL;

  for (gsize i = 0; i + 22 <= original->length; i++)
    if (memcmp (original->bytes + i, "mark 0200 of the sweep", 22) == 0)
      original->bytes[i + 8] = 'x';
  result = salvage (original->bytes, original->length, &to);
  g_assert_nonnull (result);
  g_assert_cmpint (result->unproven, ==, 1);
  g_assert_cmpint (result->proven, ==, result->entries - 1);
  marks = list_marks (to);
  g_assert_true (g_hash_table_contains (marks, "mark 020x of the sweep"));
  g_assert_false (g_hash_table_contains (marks, "mark 0200 of the sweep"));
  g_assert_cmpint (test_query (to, "SELECT count (*) FROM entry WHERE why LIKE '%does not prove%'"), ==, 1);
  original_free (original);
}

/* A flipped bit: a wall of millions of degrees is not kept as a reading, nor a minute that no burn has. */
static void
test_impossible (void)
{
  Original *original = make_original ();
  g_autofree char *damaged = test_path ("flipped.wickbench"), *bytes = NULL, *to = NULL;
  g_autoptr (WbStoreSalvage) result = NULL;
  g_autoptr (GString) told = g_string_new (NULL);
  gint64 readings = test_query (original->path, "SELECT count (*) FROM reading");
  gsize length;

  g_assert_true (g_file_set_contents (damaged, original->bytes, (gssize) original->length, NULL));
  test_tamper (damaged, "UPDATE reading SET vessel_c = 4010803.2 WHERE note = 'mark 0200 of the sweep'");
  test_tamper (damaged, "UPDATE reading SET vessel_c = 61 WHERE note = 'mark 0210 of the sweep'");
  test_tamper (damaged, "UPDATE reading SET elapsed_min = -1e300 WHERE note = 'mark 0300 of the sweep'");
  g_assert_true (g_file_get_contents (damaged, &bytes, &length, NULL));
  result = salvage (bytes, length, &to);
  g_assert_nonnull (result);
  for (guint i = 0; i < result->lines->len; i++)
    g_string_append_printf (told, "%s\n", (char *) result->lines->pdata[i]);
  g_test_message ("%s", told->str);
  g_assert_cmpint (test_query (to, "SELECT count (*) FROM reading WHERE note = 'mark 0200 of the sweep' AND vessel_c IS NULL"), ==, 1);
  g_assert_cmpint (test_query (to, "SELECT count (*) FROM reading WHERE note = 'mark 0210 of the sweep' AND vessel_c = 61"), ==, 1);
  g_assert_cmpint (test_query (to, "SELECT count (*) FROM reading WHERE note = 'mark 0300 of the sweep'"), ==, 0);
  g_assert_cmpint (test_query (to, "SELECT count (*) FROM reading"), ==, readings - 1);
  g_assert_nonnull (strstr (told->str, "vessel_c says 4010803.2, which cannot be; it is left empty."));
  g_assert_nonnull (strstr (told->str, "elapsed_min says -1e+300, which cannot be; the row is left out."));
  g_assert_cmpint (result->unproven, ==, 2);
  g_assert_cmpint (result->partial, ==, 1);
  g_assert_cmpint (result->rows_lost, ==, 1);
  original_free (original);
}

static gboolean
has_required_range (const WbRecordType *type,
                     const WbFieldSpec  *field)
{
  return type != &wb_reading_type && field->required && (field->type == WB_FIELD_REAL || field->type == WB_FIELD_INTEGER)
         && field->words == NULL && field->minimum < field->maximum;
}

/* What the tampering makes of the original. Caller frees both; NULL: nothing was saved. */
static WbStoreSalvage *
salvage_tampered (const Original *original,
                  const char     *sql,
                  char          **to,
                  char          **told)
{
  g_autofree char *damaged = test_path ("flipped.wickbench"), *bytes = NULL;
  WbStoreSalvage *result;
  gsize length;

  g_assert_true (g_file_set_contents (damaged, original->bytes, (gssize) original->length, NULL));
  test_tamper (damaged, sql);
  g_assert_true (g_file_get_contents (damaged, &bytes, &length, NULL));
  result = salvage (bytes, length, to);
  *told = NULL;
  if (result != NULL)
    {
      g_ptr_array_add (result->lines, NULL);
      *told = g_strjoinv ("\n", (char **) result->lines->pdata);
      g_ptr_array_set_size (result->lines, (int) result->lines->len - 1);
    }
  return result;
}

/* One record whose only version is left out is lost as a whole, whatever kind it is of, and costs nothing else. */
static void
test_impossible_record (void)
{
  Original *original = make_original ();
  const WbRecordType *const *types = wb_record_types ();
  guint fields = 0;

  for (guint i = 0; types[i] != NULL; i++)
    for (guint k = 0; k < types[i]->n_fields; k++)
      {
        const WbFieldSpec *field = &types[i]->fields[k];
        const char *name = types[i]->name;
        g_autofree char *to = NULL, *told = NULL, *sql = NULL, *line = NULL, *whole = NULL, *others = NULL;
        g_autoptr (WbStoreSalvage) result = NULL;

        if (!has_required_range (types[i], field))
          continue;
        g_test_message ("%s.%s", name, field->name);
        sql = g_strdup_printf ("UPDATE %s SET %s = %d WHERE id = (SELECT max (id) FROM %s)", name, field->name, (int) field->minimum - 9, name);
        result = salvage_tampered (original, sql, &to, &told);
        g_assert_nonnull (result);
        line = g_strdup_printf ("%s says %d, which cannot be; the row is left out.", field->name, (int) field->minimum - 9);
        g_assert_nonnull (strstr (told, line));
        whole = g_strdup_printf ("%s: 1 lost as a whole.", types[i]->label);
        g_assert_nonnull (strstr (told, whole));
        g_assert_cmpint (result->partial, ==, 1);
        g_assert_cmpint (result->unproven, ==, 0);
        g_assert_cmpint (result->proven, ==, result->entries - 1);
        g_assert_cmpint (result->rows_lost, ==, 1);
        /* What refers to it has one to refer to. */
        others = g_strdup_printf ("SELECT count (DISTINCT id) FROM %s", name);
        g_assert_cmpint (test_query (to, others), >=, test_query (original->path, others) - 1);
        g_assert_cmpint (assert_marks (original, original->bytes, original->length, to), ==, READINGS);
        g_unlink (to);
        fields++;
      }
  g_assert_cmpuint (fields, >, 5);
  original_free (original);
}

/* Of a cell that was changed once, the earlier or the later version is left out: the other is the cell. */
static void
test_impossible_version (void)
{
  static const char *const which[] = { "min", "max" };
  Original *original = make_original ();
  g_autoptr (GError) error = NULL;
  WbStore *store = wb_store_open (original->path, WB_STORE_WRITE, &error);
  gint64 id = test_query (original->path, "SELECT cell FROM sample ORDER BY id LIMIT 1");
  g_autoptr (WbRecord) cell = wb_store_load (store, &wb_cell_type, id, &error);
  WbStoreChange *change;

  g_assert_no_error (error);
  change = test_begin (store, "Change the load");
  wb_record_set_real (cell, wb_record_type_find_field (&wb_cell_type, "load_pct"), 7.25);
  test_put (change, wb_record_copy (cell));
  test_commit (change);
  wb_store_close (store);
  g_clear_pointer (&original->bytes, g_free);
  g_assert_true (g_file_get_contents (original->path, &original->bytes, &original->length, NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (which); i++)
    {
      g_autofree char *to = NULL, *told = NULL, *versions = NULL, *left = NULL, *sql = NULL;
      g_autoptr (WbStoreSalvage) result = NULL;

      versions = g_strdup_printf ("SELECT count (*) FROM cell WHERE id = %d", (int) id);
      g_assert_cmpint (test_query (original->path, versions), ==, 2);
      sql = g_strdup_printf ("UPDATE cell SET load_pct = -8 WHERE id = %d AND entry = (SELECT %s (entry) FROM cell WHERE id = %d)", (int) id,
                             which[i], (int) id);
      result = salvage_tampered (original, sql, &to, &told);
      g_assert_nonnull (result);
      g_assert_nonnull (strstr (told, "load_pct says -8, which cannot be; the row is left out."));
      g_assert_null (strstr (told, "lost as a whole"));
      g_assert_cmpint (result->stand_ins, ==, 0);
      g_assert_cmpint (result->rows_lost, ==, 1);
      g_assert_cmpint (test_query (to, versions), ==, 1);
      left = g_strdup_printf ("SELECT load_pct = 7.25 FROM cell WHERE id = %d", (int) id);
      g_assert_cmpint (test_query (to, left), ==, i == 0);
      g_unlink (to);
    }
  original_free (original);
}

/* Ids with holes, and the last reading lost whose added cell is still there: what is written next is new, and can be taken back whole. */
static void
test_go_on (void)
{
  Original *original = make_original ();
  g_autofree char *to = NULL, *told = NULL;
  g_autoptr (WbStoreSalvage) result = NULL;
  g_autoptr (WbStoreCheck) check = NULL;
  g_autoptr (GError) error = NULL;
  gint64 burn = test_query (original->path, "SELECT burn FROM reading WHERE note = 'mark 0000 of the sweep'"), last, ids[AN_ENTRY], entry;
  WbStore *store = wb_store_open (original->path, WB_STORE_WRITE, &error);
  WbStoreChange *change;

  g_assert_no_error (error);
  change = test_begin (store, "Log one more");
  last = test_put (change, test_reading (burn, 900, 40));
  test_commit (change);
  change = test_begin (store, "Keep a cell of an added column");
  g_assert_true (wb_store_change_put_extra (change, last, "moon", "full", &error));
  test_commit (change);
  wb_store_close (store);
  g_clear_pointer (&original->bytes, g_free);
  g_assert_true (g_file_get_contents (original->path, &original->bytes, &original->length, NULL));

  result = salvage_tampered (original, "UPDATE reading SET elapsed_min = -1e300 WHERE id % 2 = 0 OR id = (SELECT max (id) FROM reading)", &to, &told);
  g_assert_nonnull (result);
  g_assert_cmpint (test_query (to, "SELECT max (id) FROM reading"), <, last);
  store = wb_store_open (to, WB_STORE_WRITE, &error);
  g_assert_no_error (error);
  change = test_begin (store, "Log a round");
  for (guint i = 0; i < AN_ENTRY; i++)
    ids[i] = test_put (change, test_reading (burn, 1000 + i, 40));
  entry = test_commit (change);
  for (guint i = 0; i < AN_ENTRY; i++)
    {
      g_autofree char *moon = wb_store_load_extra (store, ids[i], "moon", &error);

      g_assert_no_error (error);
      g_assert_null (moon);
    }
  g_assert_true (wb_store_take_back (store, entry, "Ada", TEST_NOW, NULL, &error));
  g_assert_no_error (error);
  wb_store_close (store);
  g_assert_cmpint (test_query (to, "SELECT count (*) FROM reading WHERE elapsed_min >= 1000 AND deleted"), ==, AN_ENTRY);
  check = wb_store_check (to, NULL, NULL, NULL, NULL);
  g_assert_cmpstr (check->text, ==, NULL);
  original_free (original);
}

static void
test_refused (void)
{
  g_autofree char *path = test_path ("whole.wickbench"), *taken = test_path ("taken.wickbench"), *to = test_path ("to.wickbench");
  g_autofree char *text = test_path ("text.wickbench"), *foreign = test_path ("foreign.wickbench");
  g_autoptr (GError) error = NULL;
  WbStore *store = test_notebook (path);

  wb_store_close (store);
  g_assert_true (g_file_set_contents (taken, "mine", -1, NULL));
  g_assert_null (wb_store_salvage (path, taken, NULL, TEST_NOW, NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_CONFLICT);
  g_clear_error (&error);
  g_assert_true (g_file_set_contents (text, "Nothing that was ever a notebook", -1, NULL));
  g_assert_null (wb_store_salvage (text, to, NULL, TEST_NOW, NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NOT_A_NOTEBOOK);
  g_assert_false (g_file_test (to, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
  test_tamper (path, "PRAGMA user_version = 99");
  g_assert_null (wb_store_salvage (path, to, NULL, TEST_NOW, NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NEWER);
  g_clear_error (&error);
  test_tamper (path, "PRAGMA application_id = 1");
  g_assert_null (wb_store_salvage (path, to, NULL, TEST_NOW, NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_NOT_A_NOTEBOOK);
  g_clear_error (&error);
  g_assert_null (wb_store_salvage (foreign, to, NULL, TEST_NOW, NULL, NULL, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_MISSING);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/salvage/a-whole-notebook-comes-through-whole", test_whole);
  g_test_add_func ("/store/salvage/what-is-lost-has-a-stand-in", test_lost_parent);
  g_test_add_func ("/store/salvage/what-was-changed-is-not-proven", test_changed);
  g_test_add_func ("/store/salvage/a-figure-that-cannot-be-is-left-empty", test_impossible);
  g_test_add_func ("/store/salvage/a-record-that-cannot-be-costs-only-itself", test_impossible_record);
  g_test_add_func ("/store/salvage/a-version-that-cannot-be-leaves-the-others", test_impossible_version);
  g_test_add_func ("/store/salvage/what-is-written-next-is-new-and-can-be-taken-back", test_go_on);
  g_test_add_func ("/store/salvage/what-is-no-damaged-notebook-is-refused", test_refused);
  g_test_add_func ("/store/salvage/a-cut-tail-costs-only-what-stood-there", test_cut);
  g_test_add_func ("/store/salvage/any-page-of-zeros-costs-only-what-stood-there", test_zeroed);
  g_test_add_func ("/store/salvage/any-page-of-noise-costs-only-what-stood-there", test_noise);
  return g_test_run ();
}
