/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

G_BEGIN_DECLS

/* The whole record, passed by one row at a time: for exports that must not grow with it. */

/* FALSE stops, and *error must then be set. The record is good until the callback returns. */
typedef gboolean (*WbStoreStreamRecord) (gconstpointer record, gpointer data, GError **error);
typedef gboolean (*WbStoreStreamCell)   (gint64 reading, const char *column, const char *cell, gpointer data, GError **error);

typedef enum
{
  WB_STORE_STREAM_CURRENT, /* what is there now */
  WB_STORE_STREAM_EARLIER  /* every other version, deletions among them, oldest first */
} WbStoreStreamWhich;

/* Versions of one kind, by id, in one consistent read. */
gboolean wb_store_stream_records (WbStore *self, const WbRecordType *type, WbStoreStreamWhich which,
                                  WbStoreStreamRecord callback, gpointer data, GError **error);
/* Kept cells of unknown columns as they are now, by reading. */
gboolean wb_store_stream_cells   (WbStore *self, WbStoreStreamCell callback, gpointer data, GError **error);

G_END_DECLS
