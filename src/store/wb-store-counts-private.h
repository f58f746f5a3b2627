/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-table-private.h"
#include "wb-store.h"

G_BEGIN_DECLS

/* The derived counts of each experiment, kept as versions are written. */
typedef struct _WbStoreCounts WbStoreCounts;

WbStoreCounts *wb_store_counts_new  (WbStore *store);
void           wb_store_counts_free (WbStoreCounts *self);
/* A version was written: `before` NULL for a new record. FALSE with error. */
gboolean       wb_store_counts_note (WbStoreCounts *self, const WbStoreTable *table, gconstpointer before,
                                     gconstpointer after, GError **error);
/* Writes what was noted, as of `entry`. */
gboolean       wb_store_counts_write (WbStoreCounts *self, gint64 entry, GError **error);

/* Makes the counts anew from the record, in the transaction that is open, and empties what others fill (wb-store-lessons.h). */
gboolean       wb_store_counts_rebuild (WbStore *store, GError **error);
/* Whether they say what the record says: `misfit` NULL, or the name of what does not (caller frees). FALSE with error. */
gboolean       wb_store_counts_check (WbStore *store, char **misfit, GError **error);

G_END_DECLS
