/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"

G_BEGIN_DECLS

typedef enum { WB_APP_EXPORT_CSV, WB_APP_EXPORT_XLSX, WB_APP_EXPORT_ICS, WB_APP_EXPORT_JSON, WB_APP_N_EXPORTS } WbAppExportFormat;

/* By the file's ending; -1 and WB_APP_ERROR_UNKNOWN naming the known endings. */
int      wb_app_export_format_from_path (const char *path, GError **error);
/* Writes the file whole or not at all, over an existing one. experiment 0: all. End with wb_app_export_finish. */
void     wb_app_export_async  (WbAppNotebook *notebook, gint64 experiment, WbAppExportFormat format, const char *path,
                               WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
gboolean wb_app_export_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
gboolean wb_app_export_sync   (WbAppNotebook *notebook, gint64 experiment, WbAppExportFormat format, const char *path,
                               WbAppJob *job, GError **error);

G_END_DECLS
