/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

G_BEGIN_DECLS

/*
 * The versions of the file. The real ones are wb_store_schema_current(); tests
 * hand in a longer row of versions to see how an old file is brought up.
 */
typedef struct
{
  /* Statements that make an empty notebook of this version, without application_id and user_version. */
  const char *(*text) (void);
  /* Statements that turn the version before into this one; NULL for version 1. Must leave the schema's text as `text` makes it. */
  const char  *migration;
} WbStoreVersionText;

typedef struct
{
  const WbStoreVersionText *versions; /* [0] is version 1 */
  int                       newest;
} WbStoreSchema;

const WbStoreSchema *wb_store_schema_current (void);

/* An empty notebook of a version, inside the transaction that is open. */
gboolean wb_store_schema_make (WbStore *store, const WbStoreSchema *schema, int version, GError **error);

/*
 * Compares tables, indices, triggers and views with those of `version`. FALSE
 * with DAMAGED, naming the first that is there and should not be, is missing, or reads differently.
 */
gboolean wb_store_schema_verify (WbStore *store, const WbStoreSchema *schema, int version, GError **error);

/*
 * Brings the file from `version` to the newest, each step in one transaction
 * with its version bump. What is `to_stay` gets a backup first (wb-store-backup-name.h), and
 * an entry with the last step; a temporary copy neither.
 */
gboolean wb_store_migrate (WbStore *store, const WbStoreSchema *schema, int version, gboolean to_stay, GError **error);

G_END_DECLS
