/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-digest-private.h"
#include "wb-store.h"

#include <sqlite3.h>

G_BEGIN_DECLS

/*
 * Every row version of the record in the order in which it was written, merged
 * from all tables. Each table is sorted by SQLite, on its own disk space: memory does not grow with the notebook.
 */
typedef struct _WbStoreRows WbStoreRows;

typedef enum
{
  WB_STORE_ROW_TAKEN,
  WB_STORE_ROW_MISSING, /* the entry has no row of that seq */
  WB_STORE_ROW_EXTRA,   /* a row stands before it that nobody asked for */
  WB_STORE_ROW_ERROR
} WbStoreRow;

WbStoreRows *wb_store_rows_new  (WbStore *store, GError **error);
void         wb_store_rows_free (WbStoreRows *self);
/* Takes row `seq` of an entry into the digest. To be called with growing (entry, seq). */
WbStoreRow   wb_store_rows_take (WbStoreRows *self, gint64 entry, gint64 seq, WbStoreDigest *digest, GError **error);
/* Whether rows of this entry, or of an earlier one, are left. */
gboolean     wb_store_rows_has  (WbStoreRows *self, gint64 entry);
gboolean     wb_store_rows_has_any (WbStoreRows *self);

/* Lets go of what is left of an entry and of those before it. FALSE with error. */
gboolean     wb_store_rows_skip (WbStoreRows *self, gint64 entry, GError **error);

/* Columns of a statement that goes through the entries, as wb_store_digest_entry() wants them: up to `rows` they are hashed. */
#define WB_STORE_ENTRY_COLUMNS "number, instant_us, offset_s, zone, kind, topic, who, why, undoes, rows, hash"
#define WB_STORE_ENTRY_ROWS 9
#define WB_STORE_ENTRY_HASH 10

/* From the file, not from what was read of it: what no reader shows, such as text behind a NUL, is hashed as well. */
void         wb_store_digest_entry (WbStoreDigest *digest, sqlite3_stmt *statement);
/* Takes columns `from` to `to` of the row that the statement stands at, as they are in the file: bytes behind a NUL too. */
void         wb_store_digest_columns (WbStoreDigest *digest, sqlite3_stmt *statement, int from, int to);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStoreRows, wb_store_rows_free)

G_END_DECLS
