/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-schema-private.h"

G_BEGIN_DECLS

/* wb_store_open() and wb_store_create() with other versions than the real ones. */
WbStore *wb_store_open_schema   (const char *path, WbStoreMode mode, const WbStoreSchema *schema, GError **error);
WbStore *wb_store_create_schema (const char *path, const char *title, const char *who, WbInstant now,
                                 const WbStoreSchema *schema, GError **error);

/*
 * A connection with this room's settings on a file that exists. Nothing that
 * the file says is trusted yet, or looked at. `writable` falls back to
 * reading where the file, or its folder, which takes the journal, does not take writing.
 */
WbStore *wb_store_connect (const char *path, gboolean writable, GError **error);

/*
 * An empty file that did not exist (CONFLICT), or ":memory:", open for writing; wb_store_give_up() closes it
 * and takes it away again.
 */
WbStore *wb_store_claim   (const char *path, GError **error);
void     wb_store_give_up (WbStore *self);

/*
 * Whose file it is, from its first 100 bytes, which are read without a lock and
 * without SQLite's looking at the rest: a foreign file stays as it is. NOT_A_NOTEBOOK, NEWER, DAMAGED (cut short).
 */
gboolean wb_store_examine (WbStore *store, int newest, int *version, GError **error);

/* An older notebook is read from a copy that was brought up to date; the file itself stays as it is. `original` stays the caller's. */
WbStore *wb_store_open_migrated_copy (WbStore *original, const WbStoreSchema *schema, int version, GError **error);

/* Bytes of a file that is read through in a moment: nobody who writes waits for that in vain. */
#define WB_STORE_SHORT_READ (16 * 1024 * 1024)

/*
 * What wb_store_open_snapshot() says, for a store that is open; takes it and gives it back, or a copy. NULL only where
 * `progress` said no (G_IO_ERROR_CANCELLED).
 */
WbStore *wb_store_make_snapshot (WbStore *store, WbStoreProgress progress, gpointer data, GError **error);

/* How long a lock is waited for; for tests, five seconds otherwise. */
void     wb_store_set_patience (WbStore *store, int milliseconds);

/* For tests: the file may not grow beyond the pages it has, as on a full disk. */
void     wb_store_limit_pages_to_size (WbStore *store);

G_END_DECLS
