/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"

G_BEGIN_DECLS

/*
 * A connection to a notebook: one SQLite file, opened by one thread and used
 * by that thread alone, which every door asserts. All doors are synchronous.
 * Wherever a door takes a GError, exactly two things can come of it: the
 * result, or the error with nothing half done. Messages are whole sentences
 * for people, in English; the codes are what a program acts upon.
 */

typedef enum
{
  WB_STORE_ERROR_NOT_A_NOTEBOOK, /* not SQLite, or another program's file; nothing was touched */
  WB_STORE_ERROR_NEWER,          /* written by a newer program; nothing was touched */
  WB_STORE_ERROR_DAMAGED,        /* cut, malformed, or with a schema that is not its version's */
  WB_STORE_ERROR_LOCKED,         /* another program held it for longer than five seconds */
  WB_STORE_ERROR_READ_ONLY,      /* file, folder or connection does not take writing */
  WB_STORE_ERROR_MISSING,        /* no such file, folder, record */
  WB_STORE_ERROR_FULL,           /* no room on the disk; the change was taken back as a whole */
  WB_STORE_ERROR_MOVED,          /* the file was moved, deleted or replaced underneath */
  WB_STORE_ERROR_CONFLICT,       /* a name or code is taken; the file exists; a later entry stands in the way of undo */
  WB_STORE_ERROR_IN_USE,         /* other records refer to what should be deleted */
  WB_STORE_ERROR_CHANGED,        /* someone wrote a newer version than the one that was read */
  WB_STORE_ERROR_FAILED          /* anything else, with SQLite's own words */
} WbStoreError;

#define WB_STORE_ERROR (wb_store_error_quark ())
/* The domain of these codes. */
GQuark wb_store_error_quark (void);

typedef enum
{
  WB_STORE_READ, /* an older version is read from a migrated temporary copy */
  WB_STORE_WRITE /* an older version is migrated, after a backup beside it */
} WbStoreMode;

typedef struct _WbStore WbStore;

/*
 * Opens a notebook that exists. A file that cannot be written opens for
 * reading in either mode: ask wb_store_is_read_only(). A refused file keeps
 * its bytes and gets no journal beside it. ":memory:" is not a notebook that
 * exists: use wb_store_create().
 */
WbStore    *wb_store_open   (const char *path, WbStoreMode mode, GError **error);
/* Asked now and then with 0 to 1 done; FALSE ends what is going on with G_IO_ERROR_CANCELLED. */
typedef gboolean (*WbStoreProgress) (double done, gpointer data);

/*
 * For reading all of it at once, which takes long: a large notebook is read from
 * a temporary copy as it is now, so that a save need not wait for the reader. Errors as of
 * wb_store_open(), and G_IO_ERROR_CANCELLED; `progress` (may be NULL) is asked while it is copied.
 */
WbStore    *wb_store_open_snapshot (const char *path, WbStoreProgress progress, gpointer data, GError **error);
/*
 * Makes a notebook where no file is yet (":memory:" for tests), with its
 * first entry, which holds the notebook's own record (`title` may be NULL), and opens it for
 * writing. Fails with CONFLICT if the file exists; leaves none behind if it fails.
 */
WbStore    *wb_store_create (const char *path, const char *title, const char *who, WbInstant now, GError **error);
/* NULL is let pass. An open change is rolled back. */
void        wb_store_close  (WbStore *self);

/* As it was given to open; borrowed. */
const char *wb_store_get_path       (WbStore *self);
/* Whether changes are refused: the file takes no writing, or it was opened for reading. */
gboolean    wb_store_is_read_only   (WbStore *self);
/* Number of the newest entry; 0 where it cannot be read. */
gint64      wb_store_get_last_entry (WbStore *self);
/* Newest entry that wrote a record of this kind; 0: none. Cheap: for telling what another process changed. */
gint64      wb_store_get_type_entry (WbStore *self, const WbRecordType *type);
/* Changes whenever another connection has written to the file: cheap enough to ask twice a second. */
guint32     wb_store_get_data_version (WbStore *self);
/*
 * What is asked until wb_store_end_look() is answered as of one moment, under
 * one lock taken now. `patient` FALSE does not wait for it: LOCKED at once if
 * another program is just writing. To be ended only if it was begun; not inside a change.
 */
gboolean    wb_store_begin_look     (WbStore *self, gboolean patient, GError **error);
void        wb_store_end_look       (WbStore *self);
/*
 * SQLite's own quick check of the file's structure. FALSE with DAMAGED and the first finding.
 * `keep_going` (may be NULL) is asked every few milliseconds; when it says no, the error is G_IO_ERROR_CANCELLED.
 */
gboolean    wb_store_quick_check    (WbStore *self, gboolean (*keep_going) (gpointer data), gpointer data, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStore, wb_store_close)

G_END_DECLS
