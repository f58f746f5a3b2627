/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-loads-private.h"
#include "wb-app-notebook.h"
#include "wb-app-writer-private.h"

G_BEGIN_DECLS

/*
 * Runs on the writer's thread; the result ends the task, with `free_result`;
 * `data` is freed with `free_data`. Takes the task. READ_ONLY where it may not write.
 */
void     wb_app_notebook_write      (WbAppNotebook *self, GTask *task, WbAppWriterFunc func, gpointer data,
                                     GDestroyNotify free_data, GDestroyNotify free_result);
gpointer wb_app_notebook_write_sync (WbAppNotebook *self, WbAppWriterFunc func, gpointer data, GError **error);

/* For what is derived and no save of a person's, of which "saving" is not to tell; NULL where nothing may be written. Borrowed. */
WbAppWriter *wb_app_notebook_get_writer (WbAppNotebook *self);

/*
 * What lasts is given up when the notebook is closed, so that closing waits for saves alone: cancels the task, whose source is
 * the notebook, unless it has ended by then. A task without a cancellable is let pass.
 */
void     wb_app_notebook_cancel_at_close (WbAppNotebook *self, GTask *task);

/* Whose account it is: the name that entries carry where nobody gave another. */
const char *wb_app_notebook_account_name (void);

/* What has been read of its experiments; borrowed. */
WbAppLoads *wb_app_notebook_get_loads (WbAppNotebook *self);

/* wb_app_notebook_save_async with a word of its own for the record page. */
void     wb_app_notebook_save_topic_async (WbAppNotebook *self, const char *topic, const char *why, GPtrArray *records,
                                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* A move of the wall clock that was found in another way than by a look; see wb_app_clock_note. */
void     wb_app_notebook_note_clock       (WbAppNotebook *self, gint64 moved_us);

/* The same of a save that was put together already, see wb-app-save-private.h; it is taken. */
void     wb_app_notebook_run_save_async   (WbAppNotebook *self, gpointer save, GCancellable *cancellable,
                                           GAsyncReadyCallback callback, gpointer user);

G_END_DECLS
