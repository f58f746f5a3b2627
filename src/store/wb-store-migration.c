/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-clock.h"
#include "wb-store-backup.h"
#include "wb-store-change-private.h"
#include "wb-store-check.h"
#include "wb-store-counts-private.h"
#include "wb-store-open-private.h"
#include "wb-store-private.h"

#include <glib/gi18n-lib.h>

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

static gboolean
back_up_beside (WbStore *store,
                int      version,
                GError **error)
{
  g_autofree char *first = g_strdup_printf ("%s.version-%d", store->path, version);
  g_autofree char *path = g_strdup (first);

  for (int n = 2; g_file_test (path, G_FILE_TEST_EXISTS); n++)
    {
      /* One from an earlier try that went no further holds the same. */
      if (is_backup_of (store, path))
        return TRUE;
      g_free (path);
      path = g_strdup_printf ("%s-%d", first, n);
    }
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
  if (to_stay && !back_up_beside (store, version, error))
    return FALSE;
  for (int to = version + 1; to <= schema->newest; to++)
    if (!migrate_one (store, schema, to_stay ? version : 0, to, error))
      return FALSE;
  return TRUE;
}
