/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-check.h"

G_BEGIN_DECLS

/*
 * A copy by SQLite's backup API, whole as of one moment, while others may go
 * on reading and writing. Never replaces a file: CONFLICT if `path` exists.
 * Written under a name beside `path`, synced, then given its own, so that a
 * broken copy never bears it. `progress` may be NULL.
 */
gboolean wb_store_backup (WbStore *self, const char *path, WbStoreProgress progress, gpointer data, GError **error);

typedef enum
{
  WB_STORE_BACKUP_FITS,       /* an earlier state of this record, or the same */
  WB_STORE_BACKUP_KNOWS_MORE, /* it has entries after this record's last, which it agrees with */
  WB_STORE_BACKUP_DIFFERS,    /* from some entry on the two are not the same record */
  WB_STORE_BACKUP_NONE        /* no backup of this notebook can be read there */
} WbStoreBackupState;

/*
 * Holds the record against a backup of it made earlier. Hashes are chained, so
 * the last entry that both have speaks for all before it. `entry`: the first that is missing, or that differs; else 0.
 */
WbStoreBackupState wb_store_compare_backup (WbStore *self, const char *path, gint64 *entry);

/* Whether an entry after `from`, up to `to`, takes back one that was there at `from`, and is not taken back in its turn. */
gboolean           wb_store_takes_back     (WbStore *self, gint64 from, gint64 to);

/* The hash, in hexadecimal, of the newest entry that put the notebook back to an earlier state; NULL: there is none. Caller frees. */
char              *wb_store_dup_branch     (WbStore *self);

G_END_DECLS
