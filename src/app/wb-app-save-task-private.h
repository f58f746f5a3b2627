/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* The task of a use case that ends with a save of the notebook; its result is a boolean. Main thread. */

/* What is in the file is told as saved, however late somebody cancelled. */
GTask   *wb_app_save_task_new    (gpointer source, gpointer tag, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* Ends it with WB_APP_ERROR_REFUSED and that sentence. Takes both. */
void     wb_app_save_task_refuse (GTask *task, char *sentence);
/* How a save or a deletion of the notebook `source` came out. FALSE: the task has ended with the error. */
gboolean wb_app_save_task_check  (GTask *task, GObject *source, GAsyncResult *result);
/* To be called when the save has ended, with the task, which it takes: ends it with TRUE, or the error. */
void     wb_app_save_task_end_cb (GObject *source, GAsyncResult *result, gpointer task);

G_END_DECLS
