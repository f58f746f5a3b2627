/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-app-writer-private.h"

G_BEGIN_DECLS

/*
 * Runs on the writer's thread; the result ends the task, with `free_result`;
 * `data` is freed with `free_data`. Takes the task. READ_ONLY where it may not write.
 */
void         wb_app_notebook_write      (WbAppNotebook *self, GTask *task, WbAppWriterFunc func, gpointer data,
                                         GDestroyNotify free_data, GDestroyNotify free_result);
gpointer     wb_app_notebook_write_sync (WbAppNotebook *self, WbAppWriterFunc func, gpointer data, GError **error);

/* Runs on a thread of its own with a reading connection of its own. Returns NULL with an error set, or the result. */
typedef gpointer (*WbAppReaderFunc) (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);

/* The result ends the task, with `free_result`; `data` belongs to the task. Takes the task. */
void         wb_app_notebook_read       (WbAppNotebook *self, GTask *task, WbAppReaderFunc func, gpointer data,
                                         GDestroyNotify free_data, GDestroyNotify free_result);
gpointer     wb_app_notebook_read_sync  (WbAppNotebook *self, WbAppReaderFunc func, gpointer data, GError **error);
/* A reading connection for the thread that calls; the caller closes it. */
WbStore     *wb_app_notebook_connect    (const char *path, GError **error);

G_END_DECLS
