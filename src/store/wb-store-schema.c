/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-schema-private.h"

#include "wb-store-private.h"
#include "wb-store-resources.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *
version_1 (void)
{
  static gsize once;
  static GBytes *bytes; /* ends with a NUL beyond its length, as resources do */

  if (g_once_init_enter (&once))
    {
      wb_store_register_resource ();
      /*
       * Among all that are registered: another thread may be taking the new one in just now, and until it has, GLib gives NULL for
       * the resource itself, without waiting; this waits.
       */
      bytes = g_resources_lookup_data ("/org/wickbench/Wickbench/store/schema-1.sql", G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
      g_assert (bytes != NULL);
      g_once_init_leave (&once, 1);
    }
  return g_bytes_get_data (bytes, NULL);
}

const WbStoreSchema *
wb_store_schema_current (void)
{
  static const WbStoreVersionText versions[] = {
    { version_1, NULL },
  };
  static const WbStoreSchema schema = { versions, G_N_ELEMENTS (versions) };

  return &schema;
}

gboolean
wb_store_schema_make (WbStore             *store,
                      const WbStoreSchema *schema,
                      int                  version,
                      GError             **error)
{
  g_autofree char *header = g_strdup_printf ("PRAGMA application_id = %d; PRAGMA user_version = %d",
                                             WB_STORE_APPLICATION_ID, version);

  return wb_store_exec (store, schema->versions[version - 1].text (), error)
         && wb_store_exec (store, "INSERT INTO head VALUES (1, 0, zeroblob (32))", error)
         && wb_store_exec (store, header, error);
}

/* Name to text of everything in a schema; indices that SQLite makes by itself have "" for a text. NULL with SQLite's error in `db`. */
static GHashTable *
read_schema (sqlite3 *db)
{
  g_autoptr (GHashTable) schema = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  sqlite3_stmt *statement;
  int code;

  if (sqlite3_prepare_v2 (db, "SELECT type || ' ' || name, coalesce (sql, '') FROM sqlite_schema", -1, &statement, NULL)
      != SQLITE_OK)
    return NULL;
  while ((code = sqlite3_step (statement)) == SQLITE_ROW)
    g_hash_table_insert (schema, g_strdup ((const char *) sqlite3_column_text (statement, 0)),
                         g_strdup ((const char *) sqlite3_column_text (statement, 1)));
  sqlite3_finalize (statement);
  return code == SQLITE_DONE ? g_steal_pointer (&schema) : NULL;
}

/* What a version's own text makes of an empty database. */
static GHashTable *
wanted_schema (const WbStoreSchema *schema,
               int                  version)
{
  sqlite3 *db = NULL;
  GHashTable *wanted;

  if (sqlite3_open (":memory:", &db) != SQLITE_OK
      || sqlite3_exec (db, schema->versions[version - 1].text (), NULL, NULL, NULL) != SQLITE_OK)
    g_error ("the text of schema version %d is broken: %s", version, sqlite3_errmsg (db));
  wanted = read_schema (db);
  sqlite3_close (db);
  return wanted;
}

gboolean
wb_store_schema_verify (WbStore             *store,
                        const WbStoreSchema *schema,
                        int                  version,
                        GError             **error)
{
  g_autoptr (GHashTable) wanted = wanted_schema (schema, version);
  g_autoptr (GHashTable) found = read_schema (store->db);
  GHashTableIter iter;
  const char *name, *text;

  if (found == NULL)
    {
      wb_store_set_sqlite_error (error, store->db, store->path);
      return FALSE;
    }

  g_hash_table_iter_init (&iter, found);
  while (g_hash_table_iter_next (&iter, (gpointer *) &name, (gpointer *) &text))
    if (g_strcmp0 (g_hash_table_lookup (wanted, name), text) != 0)
      {
        g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED,
                     /* Translators: the second is a kind and name as the database has them, e.g. "trigger spy" */
                     _("“%s” holds something that a notebook of version %d does not have: %s."), store->path, version, name);
        return FALSE;
      }
  g_hash_table_iter_init (&iter, wanted);
  while (g_hash_table_iter_next (&iter, (gpointer *) &name, NULL))
    if (!g_hash_table_contains (found, name))
      {
        g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED,
                     _("“%s” lacks something that a notebook of version %d has: %s."), store->path, version, name);
        return FALSE;
      }
  return TRUE;
}
