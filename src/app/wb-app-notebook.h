/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-error.h"
#include "wb-experiment.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * One open notebook: its file, its settings, its one writer, undo and redo,
 * and the news of what changed. Lives on the thread that opened it, whose main
 * context gets every callback and signal; that thread never waits for the
 * disk. A save is durable in the file before its callback says so.
 *
 * Properties (read-only, notified): "path", "title" (strings), "read-only",
 * "invented", "saving" (a save is on its way), "can-undo", "can-redo"
 * (booleans), "undo-label", "redo-label" (what would be taken back, in words; NULL where nothing would), "passed-label"
 * (the import, command or restore that undo would pass over to get there; NULL: none), "damage" (what the quick check
 * that follows an async opening found, in words; NULL: nothing so far).
 *
 * Signal "changed" (gint64 entry, gpointer types, gboolean own): the record
 * has entries that were not there before; the newest is `entry`. `types`
 * tells which tables they touched: ask wb_app_change_touches, while the signal
 * lasts. `own` is FALSE when another process wrote, which is seen within a second.
 *
 * Signal "clock-moved" (const char *words): the computer's clock was set, or its zone is another; the words say so to the
 * maker. The next save tells in its entry by how much the clock was set.
 */
#define WB_TYPE_APP_NOTEBOOK (wb_app_notebook_get_type ())
G_DECLARE_FINAL_TYPE (WbAppNotebook, wb_app_notebook, WB, APP_NOTEBOOK, GObject)

/* What the signal's `types` says about a table; `types` NULL means any. */
gboolean       wb_app_change_touches (gpointer types, const WbRecordType *type);

typedef enum
{
  WB_APP_OPEN_EXISTING, /* WB_APP_ERROR_MISSING where there is none; read-only where it may not be written */
  WB_APP_OPEN_READ,     /* for reading whatever its permissions; an old file is read through a migrated copy */
  WB_APP_OPEN_CREATE    /* a new one; WB_APP_ERROR_EXISTS where there is one */
} WbAppOpenMode;

/* path: as given by the person; kept absolute. title: of a new one, NULL: from the file's name. */
void           wb_app_notebook_open_async  (const char *path, WbAppOpenMode mode, const char *title, GCancellable *cancellable,
                                            GAsyncReadyCallback callback, gpointer user);
WbAppNotebook *wb_app_notebook_open_finish (GAsyncResult *result, GError **error);
/* Blocks: for commands and tests. */
WbAppNotebook *wb_app_notebook_open_sync   (const char *path, WbAppOpenMode mode, const char *title, GError **error);
/*
 * Ends the writer after the saves that were asked of it so far; later ones are refused, an import with a job is given up.
 * Blocks until then: at most one save's time.
 */
void           wb_app_notebook_close       (WbAppNotebook *self);

/* The properties, as the writer told last; borrowed. */
const char       *wb_app_notebook_get_path       (WbAppNotebook *self);
const char       *wb_app_notebook_get_title      (WbAppNotebook *self);
gboolean          wb_app_notebook_get_read_only  (WbAppNotebook *self);
gboolean          wb_app_notebook_get_invented   (WbAppNotebook *self);
/* Paper, units, letterhead; borrowed, valid until the next "changed". To change them: copy, edit, save. */
const WbNotebook *wb_app_notebook_get_settings   (WbAppNotebook *self);
/* Whether the computer's clock or zone was changed since the last look; before each save it looks by itself. */
void              wb_app_notebook_look_at_clock  (WbAppNotebook *self);
gint64            wb_app_notebook_get_last_entry (WbAppNotebook *self);
gboolean          wb_app_notebook_get_saving     (WbAppNotebook *self);
gboolean          wb_app_notebook_get_can_undo   (WbAppNotebook *self);
gboolean          wb_app_notebook_get_can_redo   (WbAppNotebook *self);
const char       *wb_app_notebook_get_undo_label (WbAppNotebook *self);
const char       *wb_app_notebook_get_redo_label (WbAppNotebook *self);
const char       *wb_app_notebook_get_damage     (WbAppNotebook *self);
/* Whose name the entries carry; NULL: the account's. */
void              wb_app_notebook_set_who        (WbAppNotebook *self, const char *who);
const char       *wb_app_notebook_get_who        (WbAppNotebook *self);

/*
 * Saves records as one entry, in the order given. They are copied at once; the
 * caller keeps its own. A record with id 0 is new. A record with a negative id
 * is new too, and a reference of that value in a LATER record of the same save
 * stands for it (use -1, -2, ... : any distinct numbers). A record with
 * `record.deleted` set is deleted. A record that is stored already must carry
 * the `entry` that it was read with: WB_APP_ERROR_CHANGED if someone wrote a
 * newer version. Every record is checked (WB_RECORD_ERROR) before anything is
 * written: all or nothing.
 *
 * why: a few words for the record page and the undo menu ("Log a reading of
 * T5-1"); translated by the caller; not NULL. Saving what changes nothing gives entry 0 without error.
 */
void     wb_app_notebook_save_async    (WbAppNotebook *self, const char *why, GPtrArray *records,
                                        GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* The entry's number, 0 on error. ids (may be NULL): gint64, one a record, in the order given; caller frees. */
gint64   wb_app_notebook_save_finish   (WbAppNotebook *self, GAsyncResult *result, GArray **ids, GError **error);
/* Convenience for one record. */
void     wb_app_notebook_save_record_async (WbAppNotebook *self, const char *why, gconstpointer record,
                                            GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Deletes a record, guarded: WB_APP_ERROR_IN_USE, naming what refers to it. End with wb_app_notebook_save_finish. */
void     wb_app_notebook_delete_async  (WbAppNotebook *self, const char *why, gconstpointer record,
                                        GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Blocks: for commands and tests. */
gint64   wb_app_notebook_save_sync     (WbAppNotebook *self, const char *why, GPtrArray *records,
                                        GArray **ids, GError **error);

/*
 * Takes back the newest entry that a window made in this notebook and that is
 * not taken back yet (also one of an earlier run); redo takes back the undo.
 * The error says why not. End with wb_app_notebook_save_finish.
 */
void     wb_app_notebook_undo_async    (WbAppNotebook *self, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
void     wb_app_notebook_redo_async    (WbAppNotebook *self, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);

G_END_DECLS
