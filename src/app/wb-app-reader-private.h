/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-store.h"

G_BEGIN_DECLS

/* Reads, each on a reading connection of its own. Errors of the store come out as this room's. */

/* Returns the result, or NULL with an error set. */
typedef gpointer (*WbAppReaderFunc) (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);

/* Runs on a thread of its own. The result ends the task, with `free_result`; `data` is freed with `free_data`. Takes the task. */
void     wb_app_reader_run      (WbAppNotebook *self, GTask *task, WbAppReaderFunc func, gpointer data,
                                 GDestroyNotify free_data, GDestroyNotify free_result);
/* Runs here and now. */
gpointer wb_app_reader_run_sync (WbAppNotebook *self, WbAppReaderFunc func, gpointer data, GError **error);
/* A reading connection for the thread that calls; it closes it. */
WbStore *wb_app_reader_connect  (const char *path, GError **error);

G_END_DECLS
