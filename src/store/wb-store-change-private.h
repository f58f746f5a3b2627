/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"
#include "wb-store-change.h"
#include "wb-store-counts-private.h"
#include "wb-store-table-private.h"

G_BEGIN_DECLS

struct _WbStoreChange
{
  WbStore       *store;
  gint64         entry;
  WbEntryKind    kind;
  char          *topic;
  char          *who;
  char          *why;
  WbInstant      now;
  char          *zone;
  gint64         undoes;       /* 0: nothing */
  gint64         rows;         /* versions written so far; the last one's seq */
  gint64         next_object;  /* id of the next new record */
  gint64         next_reading; /* the same of readings */
  gint64         sound_burn;   /* a burn that is known to be there: readings come burn by burn */
  WbStoreDigest *digest;
  WbStoreCounts *counts;
  GPtrArray     *waiting;      /* new readings that are hashed and counted, and not yet in the table; WB_STORE_MANY at most */
  gint64         waiting_seq[WB_STORE_MANY]; /* the place of each among the versions */
  gboolean       attached;     /* bytes were kept, which a record must name in the end */
  gboolean       broken;       /* a write failed halfway: only rolling back is left */
};

/* READ_ONLY or MOVED where nothing may be written. */
gboolean       wb_store_may_write    (WbStore *store, GError **error);
/* wb_store_begin() inside a transaction that is open already. */
WbStoreChange *wb_store_change_start (WbStore *store, WbEntryKind kind, const char *topic, const char *who,
                                      const char *why, WbInstant now, GError **error);
/* The entry that this change takes back. */
void           wb_store_change_set_undoes (WbStoreChange *self, gint64 entry);

WbStore       *wb_store_change_get_store (WbStoreChange *self);
/* The newest version, deleted or not; NULL without error: never stored. */
gboolean       wb_store_change_load_newest (WbStoreChange *self, const WbStoreTable *table, gint64 id, gpointer *record,
                                             GError **error);

/* Whether all that a record refers to is there; MISSING otherwise. */
gboolean       wb_store_change_references_are_there (WbStoreChange *self, const WbStoreTable *table, gconstpointer record,
                                                      GError **error);

/*
 * Writes a version without asking whether it may be: for callers that have
 * made sure of it. `before` is the version now there, deleted or not, NULL for
 * a new record, whose id is then given. TRUE, or FALSE with the change broken.
 */
gboolean wb_store_change_write (WbStoreChange *self, const WbStoreTable *table, gpointer record, gconstpointer before,
                                GError **error);
/*
 * A new reading, one of many: it goes into the table together with those that
 * follow it, at the latest when the change ends: nobody may load it before. It is copied.
 */
gboolean wb_store_change_write_reading (WbStoreChange *self, gpointer reading, GError **error);
/* The same for a cell of an unknown column; `previous` is the entry of the version before, 0: none. */
gboolean wb_store_change_write_extra (WbStoreChange *self, gint64 reading, gint64 column, const char *value,
                                      gint64 previous, GError **error);
/* Id of a column of that name, which is made if there is none. 0 with error. */
gint64   wb_store_change_extra_column (WbStoreChange *self, const char *name, GError **error);

G_END_DECLS
