/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

G_BEGIN_DECLS

/*
 * A change is one command of a person, or one import: one transaction, one
 * entry of the record with its hash. Either all of it is in the file when
 * wb_store_commit() returns, synced, or none of it. A store has at most one
 * change at a time. A record can be put once in a change.
 */

typedef enum
{
  WB_ENTRY_CREATE,    /* the notebook was made */
  WB_ENTRY_EDIT,      /* a person's command in a window: what undo takes back */
  WB_ENTRY_COMMAND,   /* written by the command line */
  WB_ENTRY_IMPORT,
  WB_ENTRY_UNDO,
  WB_ENTRY_REDO,
  WB_ENTRY_TAKE_BACK, /* of an import or another entry that undo leaves alone */
  WB_ENTRY_MIGRATION,
  WB_ENTRY_RESTORE,
  WB_N_ENTRY_KINDS
} WbEntryKind;

/* What stands in the file: "create", "edit", ... ; static. */
const char *wb_entry_kind_get_nick (WbEntryKind kind);

typedef struct _WbStoreChange WbStoreChange;

/*
 * Takes the file's write lock, waiting up to five seconds. `topic` is a short
 * word for the record page ("pour", "reading"), NULL: none; `who` may be NULL
 * (not known); `why` is what was done, in a few words that undo can show
 * ("Log a reading"). Errors: LOCKED, READ_ONLY, MOVED, FULL, FAILED.
 */
WbStoreChange *wb_store_begin (WbStore *store, WbEntryKind kind, const char *topic, const char *who,
                               const char *why, WbInstant now, GError **error);

/*
 * Writes a version of a record: a new one if its id is 0 (id, and UUID where
 * nil, are then filled in), else an amendment. Validates it, and refuses a
 * name or code that is taken (CONFLICT, naming what has it), a reference to
 * what is not there (MISSING), an amendment of what is deleted or was never
 * stored (MISSING), an amendment that carries another `entry` than the current version's, 0 aside (CHANGED). After a refusal the change is as before and can go on; after FULL, MOVED or
 * FAILED roll back. An amendment that changes nothing writes nothing.
 * The record's `entry` is set to the change's.
 */
gboolean wb_store_change_put    (WbStoreChange *self, gpointer record, GError **error);

/*
 * Writes a deleted version. What is only a part of the record goes with it:
 * limits of a protocol, aims of a profile, a supplier's guide of a wick, parts of a
 * blend, lots, attachments, inspections. Refused with IN_USE and a list in words if other records use it.
 * A deleted record stays in the history, and undo brings it back.
 */
gboolean wb_store_change_delete (WbStoreChange *self, const WbRecordType *type, gint64 id, GError **error);

/*
 * A cell of a column that the exchange format does not know, kept under its
 * name. NULL or "" takes it away. The reading must have been stored.
 */
gboolean wb_store_change_put_extra (WbStoreChange *self, gint64 reading, const char *column, const char *value,
                                    GError **error);

/*
 * Keeps bytes (64 MiB at most) under their SHA-256, written to `sha256` in lower-case hex. The same bytes are kept once;
 * bytes that no attachment names when the change ends are dropped.
 */
gboolean wb_store_change_attach (WbStoreChange *self, GBytes *bytes, char sha256[65], GError **error);

/* The entry that this change will be. */
gint64   wb_store_change_get_entry (WbStoreChange *self);

/*
 * Ends the change, which is freed in any case; on TRUE it is on the disk. A
 * change that wrote nothing leaves no entry: `entry` is then 0. `entry` may be NULL.
 */
gboolean wb_store_commit   (WbStoreChange *self, gint64 *entry, GError **error);
/* Frees the change; nothing of it stays. NULL is let pass. */
void     wb_store_rollback (WbStoreChange *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStoreChange, wb_store_rollback)

G_END_DECLS
