/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-export.h"
#include "wb-store.h"

G_BEGIN_DECLS

/* One export under way, on the thread that opened the store; all borrowed. */
typedef struct
{
  WbStore          *store;
  const char       *notebook_path;
  const WbNotebook *notebook;
  gint64            experiment;  /* 0: all */
  GFile            *file;
  WbAppJob         *job;         /* may be NULL */
} WbAppExport;

typedef gboolean (*WbAppExportWrite) (const WbAppExport *self, GError **error);

gboolean      wb_app_export_csv  (const WbAppExport *self, GError **error);
gboolean      wb_app_export_xlsx (const WbAppExport *self, GError **error);
gboolean      wb_app_export_ics  (const WbAppExport *self, GError **error);
gboolean      wb_app_export_json (const WbAppExport *self, GError **error);

/* Whether a path leads to the notebook itself, which would be lost under what is written there: TRUE with an error. */
gboolean      wb_app_export_is_notebook (const char *notebook, const char *path, GError **error);
/* NULL without a job. */
GCancellable *wb_app_export_get_cancellable (const WbAppExport *self);
/* Ids (gint64) of what is exported, in order of id; NULL with an error. */
GArray       *wb_app_export_list_experiments (const WbAppExport *self, GError **error);

G_END_DECLS
