/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-store-backup.h"
#include "wb-store-counts-private.h"
#include "wb-store-private.h"
#include "wb-store-schema-private.h"

static gboolean
back_up_beside (WbStore *store,
                int      version,
                GError **error)
{
  g_autofree char *path = g_strdup_printf ("%s.version-%d", store->path, version);

  /* One from an earlier try that went no further holds the same. */
  if (g_file_test (path, G_FILE_TEST_EXISTS))
    return TRUE;
  return wb_store_backup (store, path, NULL, NULL, error);
}

static gboolean
migrate_one (WbStore             *store,
             const WbStoreSchema *schema,
             int                  to,
             GError             **error)
{
  g_autofree char *bump = g_strdup_printf ("PRAGMA user_version = %d", to);

  if (!wb_store_exec (store, "BEGIN IMMEDIATE", error))
    return FALSE;
  if (wb_store_exec (store, schema->versions[to - 1].migration, error)
      && wb_store_exec (store, bump, error)
      && wb_store_schema_verify (store, schema, to, error)
      /* What is derived may have another form now. Only the newest program's tables are known here. */
      && (to < schema->newest || wb_store_counts_rebuild (store, error))
      && wb_store_exec (store, "COMMIT", error))
    return TRUE;
  sqlite3_exec (store->db, "ROLLBACK", NULL, NULL, NULL);
  return FALSE;
}

gboolean
wb_store_migrate (WbStore             *store,
                  const WbStoreSchema *schema,
                  int                  version,
                  gboolean             backup,
                  GError             **error)
{
  if (version == schema->newest)
    return TRUE;
  if (backup && !back_up_beside (store, version, error))
    return FALSE;
  for (int to = version + 1; to <= schema->newest; to++)
    if (!migrate_one (store, schema, to, error))
      return FALSE;
  return TRUE;
}
