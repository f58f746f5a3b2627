/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-clock.h"
#include "wb-store-backup-name.h"
#include "wb-store-backup.h"
#include "wb-store-change-private.h"
#include "wb-store-check.h"
#include "wb-store-counts-private.h"
#include "wb-store-open-private.h"
#include "wb-store-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Whether a file of that name is a backup of the notebook as it is now. */
static gboolean
is_backup_of (WbStore    *store,
              const char *path)
{
  g_autoptr (WbStore) there = wb_store_connect (path, FALSE, NULL);
  g_autofree char *its = NULL, *ours = NULL;
  int version;

  if (there == NULL || !wb_store_examine (there, G_MAXINT, &version, NULL))
    return FALSE;
  its = wb_store_get_fingerprint (there, NULL);
  ours = wb_store_get_fingerprint (store, NULL);
  return its != NULL && g_strcmp0 (its, ours) == 0;
}

/* The notebook's own id, whatever the version of its file. NULL: it says none. Caller frees. */
static char *
dup_uuid (WbStore *store,
          GError **error)
{
  sqlite3_stmt *statement = wb_store_statement (store, "SELECT uuid FROM notebook ORDER BY entry DESC LIMIT 1", error);
  char *uuid = NULL;

  if (statement == NULL)
    return NULL;
  if (wb_store_step (store, statement, error) == WB_STEP_ROW && sqlite3_column_bytes (statement, 0) == sizeof (WbUuid))
    {
      WbUuid own;

      memcpy (&own, sqlite3_column_blob (statement, 0), sizeof own);
      uuid = wb_uuid_format (&own);
    }
  wb_store_reset (statement);
  if (uuid == NULL && (error == NULL || *error == NULL))
    g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_DAMAGED, _("“%s” does not say which notebook it is"), store->path);
  return uuid;
}

/* One from an earlier try that went no further holds the same. */
static gboolean
is_backed_up (WbStore    *store,
              const char *folder,
              const char *tail)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (g_str_has_suffix (name, tail) && is_backup_of (store, path))
        return TRUE;
    }
  return FALSE;
}

/* Among the notebook's other backups in the person's data folder, by a name that says of which version it is. */
static gboolean
back_up (WbStore *store,
         int      version,
         GError **error)
{
  g_autofree char *uuid = dup_uuid (store, error), *folder = NULL, *name = NULL, *path = NULL;
  gint64 entry = wb_store_get_last_entry (store);
  const char *tail;
  char mark[9];

  if (uuid == NULL)
    return FALSE;
  folder = wb_store_backup_dup_folder (uuid);
  wb_store_backup_mark (store->path, mark);
  name = wb_store_backup_dup_name (wb_clock_now (wb_clock_get ()).utc_us, entry, mark, NULL, version);
  if (name == NULL)
    {
      g_set_error_literal (error, WB_STORE_ERROR, WB_STORE_ERROR_FAILED, _("The computer's clock shows no time that a file could be named by"));
      return FALSE;
    }
  /* without the time */
  tail = strchr (name, ' ');
  if (is_backed_up (store, folder, tail))
    return TRUE;
  if (g_mkdir_with_parents (folder, 0700) != 0)
    {
      g_set_error (error, WB_STORE_ERROR, WB_STORE_ERROR_READ_ONLY,
                   _("“%s” is of an older version, and was left so: the backup before it is changed cannot be written to “%s”."), store->path, folder);
      return FALSE;
    }
  path = g_build_filename (folder, name, NULL);
  return wb_store_backup (store, path, NULL, NULL, error);
}

/* The file's new version in its record, in the transaction that is open and ends with it. */
static gboolean
note (WbStore *store,
      int      from,
      int      to,
      GError **error)
{
  g_autofree char *why = g_strdup_printf (_("Bring the file from version %d to version %d"), from, to);
  WbStoreChange *change = wb_store_change_start (store, WB_ENTRY_MIGRATION, NULL, NULL, why, wb_clock_now (wb_clock_get ()), error);

  return change != NULL && wb_store_commit (change, NULL, error);
}

/* `from` is the version to be named in the record; 0: it is a temporary copy, which has none of its own. */
static gboolean
migrate_one (WbStore             *store,
             const WbStoreSchema *schema,
             int                  from,
             int                  to,
             GError             **error)
{
  g_autofree char *bump = g_strdup_printf ("PRAGMA user_version = %d", to);
  gboolean newest = to == schema->newest;
  gint64 there;

  if (!wb_store_exec (store, "BEGIN IMMEDIATE", error))
    return FALSE;
  if (!wb_store_get_integer (store, wb_store_statement (store, "PRAGMA user_version", error), 0, &there, error))
    goto failed;
  /* Another program brought it up while this one waited for the lock. */
  if (there >= to)
    return wb_store_exec (store, "COMMIT", error);
  if (!wb_store_exec (store, schema->versions[to - 1].migration, error)
      || !wb_store_exec (store, bump, error)
      || !wb_store_schema_verify (store, schema, to, error)
      /* What is derived may have another form now. Only the newest program's tables are known here. */
      || (newest && !wb_store_counts_rebuild (store, error)))
    goto failed;
  if (newest && from > 0 ? note (store, from, to, error) : wb_store_exec (store, "COMMIT", error))
    return TRUE;

failed:
  sqlite3_exec (store->db, "ROLLBACK", NULL, NULL, NULL);
  return FALSE;
}

gboolean
wb_store_migrate (WbStore             *store,
                  const WbStoreSchema *schema,
                  int                  version,
                  gboolean             to_stay,
                  GError             **error)
{
  if (version == schema->newest)
    return TRUE;
  if (to_stay && !back_up (store, version, error))
    return FALSE;
  for (int to = version + 1; to <= schema->newest; to++)
    if (!migrate_one (store, schema, to_stay ? version : 0, to, error))
      return FALSE;
  return TRUE;
}
