/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-change.h"

G_BEGIN_DECLS

/* Reading records as they are now, and their history. All of any kind; what is deleted counts as absent. */

/* The current version; caller owns it. MISSING if there is none. */
gpointer   wb_store_load  (WbStore *self, const WbRecordType *type, gint64 id, GError **error);
/*
 * All current records of a kind, by id; with `field`, those whose REFERENCE
 * or ENUM field of that name equals `value` (readings: by "burn" only, sorted by elapsed time). The array owns them.
 */
GPtrArray *wb_store_list  (WbStore *self, const WbRecordType *type, const char *field, gint64 value, GError **error);
/*
 * The first record by id whose TEXT field equals `text` (NFC, trimmed, case matters); 0 if there is none, -1 with the error set.
 */
gint64     wb_store_find_by_text (WbStore *self, const WbRecordType *type, const char *field, const char *text,
                                  GError **error);
/* Of kinds with a UUID; `type` is set where not NULL. 0: none, -1: error. Readings are not found by it. */
gint64     wb_store_find_by_uuid (WbStore *self, const WbUuid *uuid, const WbRecordType **type, GError **error);
/* The newest version of a record of that UUID that was deleted; caller owns it. NULL without an error: there is none, or it is not deleted. */
gpointer   wb_store_load_deleted_by_uuid (WbStore *self, const WbRecordType *type, const WbUuid *uuid, GError **error);
/* The notebook's own record; caller owns it. */
gpointer   wb_store_load_notebook (WbStore *self, GError **error);

/* One kind of record that refers to another, and how often. */
typedef struct
{
  const WbRecordType *type;
  const WbFieldSpec  *field;
  gint64              count;
  gint64              first; /* id of one of them */
  gboolean            part;  /* goes with it when it is deleted */
} WbStoreUse;

/* Who refers to it now, as WbStoreUse; empty array: nobody. Caller frees with g_array_unref(). */
GArray    *wb_store_list_uses (WbStore *self, const WbRecordType *type, gint64 id, GError **error);

/* One entry of the record. */
typedef struct
{
  gint64      number;
  WbInstant   at;
  char       *zone;   /* "" where not known */
  WbEntryKind kind;
  char       *topic;  /* NULL: none */
  char       *who;    /* NULL: not known */
  char       *why;
  gint64      undoes; /* entry taken back; 0: none */
  gboolean    undone; /* a later entry took it back, and that one stands */
  gint64      rows;   /* versions written */
  char       *hash;   /* hex */
} WbEntry;

/* NULL is let pass. */
void       wb_entry_free (WbEntry *self);
/* Caller owns it. MISSING if there is none of that number. */
WbEntry   *wb_store_load_entry (WbStore *self, gint64 number, GError **error);
/* Newest first, `limit` at most, below `before` (0: from the newest). WbEntry. */
GPtrArray *wb_store_list_entries (WbStore *self, gint64 before, guint limit, GError **error);

/* One version of a record in its history. */
typedef struct
{
  gpointer  record; /* with id, entry, deleted set */
  WbEntry  *entry;
} WbStoreVersion;

/* Every version, oldest first, as WbStoreVersion; the array owns them. */
GPtrArray *wb_store_list_history (WbStore *self, const WbRecordType *type, gint64 id, GError **error);

/*
 * Every version of the records of a kind (field NULL: of all of them) whose REFERENCE field of that name equals `value`, deleted ones too, by id, then
 * by entry, with id, entry, deleted set. The array owns them.
 */
GPtrArray *wb_store_list_versions (WbStore *self, const WbRecordType *type, const char *field, gint64 value, GError **error);

/* Names of the unknown columns that the notebook keeps, in order; NULL-terminated, caller frees. */
char     **wb_store_list_extra_columns (WbStore *self, GError **error);
/* The kept cell of a reading; NULL: none (or error set). */
char      *wb_store_load_extra (WbStore *self, gint64 reading, const char *column, GError **error);

/* Kept bytes; MISSING if there are none. */
GBytes    *wb_store_load_attachment (WbStore *self, const char *sha256, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbEntry, wb_entry_free)

G_END_DECLS
