/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "store-notebook.h"
#include "wb-record-types.h"
#include "wb-store-backup-name.h"
#include "wb-store-check.h"
#include "wb-store-open-private.h"
#include "wb-store-records.h"
#include "wb-store-table-private.h"

#include <glib/gstdio.h>
#include <string.h>

/* Columns that every table of the record has before its fields. */
static const char *const heads[] = { "id INTEGER", "entry INTEGER", "seq INTEGER", "previous INTEGER", "deleted INTEGER" };

static GPtrArray *
columns_of_table (sqlite3    *db,
                  const char *table)
{
  GPtrArray *columns = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *sql = g_strdup_printf ("SELECT name || ' ' || type FROM pragma_table_info ('%s') ORDER BY cid", table);
  sqlite3_stmt *statement = NULL;

  g_assert_cmpint (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), ==, SQLITE_OK);
  while (sqlite3_step (statement) == SQLITE_ROW)
    g_ptr_array_add (columns, g_strdup ((const char *) sqlite3_column_text (statement, 0)));
  sqlite3_finalize (statement);
  return columns;
}

static const char *
storage_name (const WbFieldSpec *field)
{
  static const char *const names[] = {
    [WB_STORAGE_INTEGER] = "INTEGER", [WB_STORAGE_REAL] = "REAL", [WB_STORAGE_TEXT] = "TEXT", [WB_STORAGE_BLOB] = "BLOB",
  };

  return names[wb_store_field_storage (field)];
}

static GPtrArray *
columns_of_type (const WbRecordType *type)
{
  GPtrArray *columns = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < G_N_ELEMENTS (heads); i++)
    g_ptr_array_add (columns, g_strdup (heads[i]));
  for (guint i = 0; i < type->n_fields; i++)
    if (type->fields[i].type == WB_FIELD_INSTANT)
      {
        g_ptr_array_add (columns, g_strdup_printf ("%s_us INTEGER", type->fields[i].name));
        g_ptr_array_add (columns, g_strdup_printf ("%s_offset_s INTEGER", type->fields[i].name));
      }
    else
      g_ptr_array_add (columns, g_strdup_printf ("%s %s", type->fields[i].name, storage_name (&type->fields[i])));
  return columns;
}

static void
test_fields (void)
{
  g_autofree char *path = test_path ("schema.wickbench");
  const WbRecordType *const *types = wb_record_types ();
  sqlite3 *db = NULL;

  wb_store_close (test_notebook (path));
  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  for (guint i = 0; types[i] != NULL; i++)
    {
      g_autoptr (GPtrArray) table = columns_of_table (db, types[i]->name), type = columns_of_type (types[i]);

      g_test_message ("%s", types[i]->name);
      for (guint j = 0; j < MIN (table->len, type->len); j++)
        g_assert_cmpstr (table->pdata[j], ==, type->pdata[j]);
      g_assert_cmpuint (table->len, ==, type->len);
    }
  sqlite3_close (db);
}

/* Every table is strict, and says in its comment whether it is record or derived. */
static void
test_strict (void)
{
  g_autofree char *path = test_path ("strict.wickbench");

  wb_store_close (test_notebook (path));
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM pragma_table_list WHERE schema = 'main' AND strict = 0 "
                                     "AND name NOT LIKE 'sqlite_%'"), ==, 0);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM pragma_table_list WHERE schema = 'main' AND strict = 1"), >, 25);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM sqlite_schema WHERE type IN ('trigger', 'view')"), ==, 0);

  const char *text = wb_store_schema_current ()->versions[0].text ();
  g_auto (GStrv) parts = g_strsplit (text, "CREATE TABLE ", -1);

  for (guint i = 1; parts[i] != NULL; i++)
    {
      gboolean derived = g_str_has_prefix (parts[i], "derived_");
      const char *comment = g_strrstr (parts[i - 1], derived ? "-- Derived. " : "-- Record. ");

      g_test_message ("%.20s", parts[i]);
      g_assert_nonnull (comment);
      /* The comment is the last thing before the table. */
      g_assert_null (strstr (comment, ";\n"));
    }
}

/* A next version, as one may come: a column more, and a derived table. */
static const char *
version_2 (void)
{
  static char *text;

  if (text == NULL)
    {
      g_auto (GStrv) halves = g_strsplit (wb_store_schema_current ()->versions[0].text (), "CREATE INDEX entry_undoes", 2);

      text = g_strconcat (halves[0], "CREATE TABLE derived_moon (phase INTEGER PRIMARY KEY) STRICT;\n"
                                     "CREATE INDEX entry_undoes", halves[1], NULL);
    }
  return text;
}

static const char migration_2[] = "CREATE TABLE derived_moon (phase INTEGER PRIMARY KEY) STRICT";
/* Does half of its work and fails. */
static const char migration_broken[] = "CREATE TABLE derived_moon (phase INTEGER PRIMARY KEY) STRICT; INSERT INTO nowhere VALUES (1)";
/* Works, but is not what the text of the version makes. */
static const char migration_wrong[] = "CREATE TABLE derived_moon (phase TEXT) STRICT";

static WbStoreSchema
schema_with (WbStoreVersionText *versions,
             const char         *migration)
{
  versions[0] = wb_store_schema_current ()->versions[0];
  versions[1].text = version_2;
  versions[1].migration = migration;
  return (WbStoreSchema) { versions, 2 };
}

static char *
old_notebook (void)
{
  char *path = test_path ("old.wickbench");
  WbStore *store = test_notebook (path);

  test_fill (store);
  wb_store_close (store);
  return path;
}

/* Backups before a migration of that notebook, in the person's data folder; paths. */
static GPtrArray *
list_backups (const char *path)
{
  g_autofree char *uuid = NULL, *folder = NULL;
  g_autoptr (GDir) dir = NULL;
  GPtrArray *found = g_ptr_array_new_with_free_func (g_free);
  const char *name;
  sqlite3 *db = NULL;
  sqlite3_stmt *statement = NULL;
  WbUuid own;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "SELECT uuid FROM notebook", -1, &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  memcpy (&own, sqlite3_column_blob (statement, 0), sizeof own);
  sqlite3_finalize (statement);
  sqlite3_close (db);
  uuid = wb_uuid_format (&own);
  folder = wb_store_backup_dup_folder (uuid);
  dir = g_dir_open (folder, 0, NULL);
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, " version-1.wickbench"))
      g_ptr_array_add (found, g_build_filename (folder, name, NULL));
  return found;
}

/* Nothing of ours but the notebook. */
static void
assert_alone (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path), *base = g_path_get_basename (path);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    g_assert_true (g_str_equal (name, base) || !g_str_has_prefix (name, base));
}

static void
test_migrates (void)
{
  g_autofree char *path = old_notebook ();
  g_autoptr (GPtrArray) backups = NULL;
  WbStoreVersionText versions[2];
  WbStoreSchema schema = schema_with (versions, migration_2);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = NULL;
  g_autoptr (WbEntry) entry = NULL;
  g_autoptr (GPtrArray) readings = NULL;
  g_autoptr (WbStoreCheck) check = NULL;

  store = wb_store_open_schema (path, WB_STORE_WRITE, &schema, &error);
  g_assert_no_error (error);
  g_assert_cmpint (test_query (path, "PRAGMA user_version"), ==, 2);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM derived_moon"), ==, 0);
  entry = wb_store_load_entry (store, 3, &error);
  g_assert_cmpint (entry->kind, ==, WB_ENTRY_MIGRATION);
  readings = wb_store_list (store, &wb_reading_type, NULL, 0, &error);
  g_assert_cmpuint (readings->len, ==, 3);
  /* What was there before is among its backups, as it was; nothing stands beside it. */
  backups = list_backups (path);
  g_assert_cmpuint (backups->len, ==, 1);
  g_assert_cmpint (test_query (backups->pdata[0], "PRAGMA user_version"), ==, 1);
  g_clear_pointer (&store, wb_store_close);
  assert_alone (path);
  check = wb_store_check (backups->pdata[0], NULL, NULL, NULL, &error);
  g_assert_cmpstr (check->text, ==, NULL);
}

/* Two programs open an old file at once: the second finds that it was brought up while it waited, and leaves it. */
static void
test_migrates_once (void)
{
  g_autofree char *path = old_notebook ();
  WbStoreVersionText versions[2];
  WbStoreSchema schema = schema_with (versions, migration_2);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) one = wb_store_connect (path, TRUE, &error), two = wb_store_connect (path, TRUE, &error);
  g_autoptr (GPtrArray) backups = NULL;
  int version;

  g_assert_true (wb_store_examine (one, 2, &version, &error));
  g_assert_cmpint (version, ==, 1);
  g_assert_true (wb_store_examine (two, 2, &version, &error));
  g_assert_cmpint (version, ==, 1);
  g_assert_true (wb_store_migrate (one, &schema, 1, TRUE, &error));
  g_assert_true (wb_store_migrate (two, &schema, 1, TRUE, &error));
  g_assert_no_error (error);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM entry"), ==, 3);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM entry WHERE kind = 'migration'"), ==, 1);
  backups = list_backups (path);
  /* of the state before and, of the second, of what it found: the file as it was before is never lost */
  g_assert_cmpuint (backups->len, >=, 1);
}

/* Where the folder of the backups cannot be had, the file stays of the version that it is. */
static void
test_no_backup_no_migration (void)
{
  g_autofree char *path = old_notebook (), *backups = wb_store_backup_dup_folder (NULL), *parent = g_path_get_dirname (backups);
  WbStoreVersionText versions[2];
  WbStoreSchema schema = schema_with (versions, migration_2);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_mkdir_with_parents (parent, 0700), ==, 0);
  g_assert_true (g_file_set_contents (backups, "a file", -1, NULL));
  g_assert_null (wb_store_open_schema (path, WB_STORE_WRITE, &schema, &error));
  g_assert_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY);
  g_assert_cmpint (test_query (path, "PRAGMA user_version"), ==, 1);
}

static void
test_reads_a_copy (void)
{
  g_autofree char *path = old_notebook (), *before = NULL, *after = NULL;
  g_autoptr (GPtrArray) backups = NULL;
  WbStoreVersionText versions[2];
  WbStoreSchema schema = schema_with (versions, migration_2);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = NULL;
  g_autoptr (GPtrArray) readings = NULL;
  gsize length, now;

  g_assert_true (g_file_get_contents (path, &before, &length, NULL));
  store = wb_store_open_schema (path, WB_STORE_READ, &schema, &error);
  g_assert_no_error (error);
  g_assert_true (wb_store_is_read_only (store));
  g_assert_cmpstr (wb_store_get_path (store), ==, path);
  readings = wb_store_list (store, &wb_reading_type, NULL, 0, &error);
  g_assert_cmpuint (readings->len, ==, 3);
  g_assert_true (g_file_get_contents (path, &after, &now, NULL));
  g_assert_cmpmem (before, length, after, now);
  backups = list_backups (path);
  g_assert_cmpuint (backups->len, ==, 0);
}

static void
assert_migration_fails (const char *migration,
                        int         code)
{
  g_autofree char *path = old_notebook ();
  WbStoreVersionText versions[2];
  WbStoreSchema schema = schema_with (versions, migration);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbStore) store = wb_store_open_schema (path, WB_STORE_WRITE, &schema, &error);

  g_assert_null (store);
  g_assert_error (error, WB_STORE_ERROR, code);
  g_assert_cmpint (test_query (path, "PRAGMA user_version"), ==, 1);
  g_assert_cmpint (test_query (path, "SELECT count (*) FROM sqlite_schema WHERE name = 'derived_moon'"), ==, 0);
  g_clear_error (&error);
  store = wb_store_open (path, WB_STORE_WRITE, &error);
  g_assert_no_error (error);
}

static void
test_failed_migration (void)
{
  assert_migration_fails (migration_broken, WB_STORE_ERROR_FAILED);
  assert_migration_fails (migration_wrong, WB_STORE_ERROR_DAMAGED);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/store/schema/fields-of-each-record-are-its-table-s-columns", test_fields);
  g_test_add_func ("/store/schema/each-table-is-strict-and-says-what-it-is", test_strict);
  g_test_add_func ("/store/schema/an-older-notebook-is-migrated-after-a-backup", test_migrates);
  g_test_add_func ("/store/schema/two-programs-migrate-once", test_migrates_once);
  g_test_add_func ("/store/schema/without-a-backup-no-migration", test_no_backup_no_migration);
  g_test_add_func ("/store/schema/reading-an-older-notebook-leaves-it-alone", test_reads_a_copy);
  g_test_add_func ("/store/schema/a-failed-migration-leaves-the-version-before", test_failed_migration);
  return g_test_run ();
}
