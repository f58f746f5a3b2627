/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * Copies the notebook, whole as of one moment, to a file of its own while saves go on; never over a file:
 * WB_APP_ERROR_EXISTS. Where the copy is gets remembered, and a check holds the record against it. job may be NULL.
 */
void     wb_app_backup_async  (WbAppNotebook *notebook, const char *path, WbAppJob *job, GAsyncReadyCallback callback,
                               gpointer user);
gboolean wb_app_backup_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* "Bench book 2026-11-25.wickbench", for the notebook of that path on that day. Caller frees. */
char    *wb_app_backup_dup_name (WbAppNotebook *notebook, WbDay day);

G_END_DECLS
