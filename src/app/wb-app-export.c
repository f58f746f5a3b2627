/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-export-private.h"

#include "wb-app-error-private.h"
#include "wb-app-forward-private.h"
#include "wb-app-import-private.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* Another process may write while a file is being made of several reads: it is then made anew, this often. */
#define MOST_ATTEMPTS 3

static const struct { const char *ending; WbAppExportWrite write; } formats[WB_APP_N_EXPORTS] = {
  [WB_APP_EXPORT_CSV] = { ".csv", wb_app_export_csv },
  [WB_APP_EXPORT_XLSX] = { ".xlsx", wb_app_export_xlsx },
  [WB_APP_EXPORT_ICS] = { ".ics", wb_app_export_ics },
  [WB_APP_EXPORT_JSON] = { ".json", wb_app_export_json },
};

int
wb_app_export_format_from_path (const char *path,
                                GError    **error)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);

  for (int i = 0; i < WB_APP_N_EXPORTS; i++)
    if (g_str_has_suffix (lower, formats[i].ending))
      return i;
  g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("“%s”: an export is written as .csv, .xlsx, .ics or .json"), path);
  return -1;
}

typedef struct
{
  char             *notebook;
  gint64            experiment;
  WbAppExportFormat format;
  char             *path;
  WbAppJob         *job;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->notebook);
  g_free (self->path);
  g_clear_object (&self->job);
  g_free (self);
}

static gboolean
is_same_file (const char *a,
              const char *b)
{
  g_autofree char *first = realpath (a, NULL), *second = realpath (b, NULL);

  return first != NULL && g_strcmp0 (first, second) == 0;
}

gboolean
wb_app_export_is_notebook (const char *notebook,
                           const char *path,
                           GError    **error)
{
  if (!is_same_file (notebook, path))
    return FALSE;
  g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("%s is the notebook itself"), path);
  return TRUE;
}

/* While a large notebook is copied, nothing is written yet. */
static gboolean
on_copy_cb (double   done,
            gpointer job)
{
  return wb_app_job_report (job, 0, NULL);
}

static gboolean
export_now (const Request *request,
            GError       **error)
{
  g_autoptr (WbStore) store = wb_store_open_snapshot (request->notebook, on_copy_cb, request->job, error);
  g_autoptr (WbRecord) notebook = store != NULL ? wb_store_load_notebook (store, error) : NULL;
  g_autoptr (GFile) file = g_file_new_for_path (request->path);
  WbAppExport job = {
    .store = store,
    .notebook_path = request->notebook,
    .notebook = (WbNotebook *) notebook,
    .experiment = request->experiment,
    .file = file,
    .job = request->job,
  };
  gboolean written = FALSE;

  if (notebook == NULL)
    return FALSE;
  if (wb_app_export_is_notebook (request->notebook, request->path, error))
    return FALSE;
  for (guint attempt = 0; attempt < MOST_ATTEMPTS; attempt++)
    {
      gint64 before = wb_store_get_last_entry (store);

      written = formats[request->format].write (&job, error);
      if (!written || wb_store_get_last_entry (store) == before)
        break;
    }
  wb_app_job_report (request->job, 1, NULL);
  return written;
}

static gboolean
export_mapped (const Request *request,
               GError       **error)
{
  gboolean written = export_now (request, error);

  if (!written)
    {
      wb_app_import_map_error (error);
      wb_app_error_from_writing (error, request->path);
    }
  return written;
}

static void
export_in_thread (GTask        *task,
                  gpointer      source,
                  gpointer      task_data,
                  GCancellable *cancellable)
{
  const Request *request = task_data;
  GError *error = NULL;

  if (export_mapped (request, &error))
    g_task_return_pointer (task, g_strdup (request->path), g_free);
  else
    g_task_return_error (task, error);
}

void
wb_app_export_async (WbAppNotebook      *notebook,
                     gint64              experiment,
                     WbAppExportFormat   format,
                     const char         *path,
                     WbAppJob           *job,
                     GAsyncReadyCallback callback,
                     gpointer            user)
{
  GTask *task = g_task_new (notebook, job != NULL ? wb_app_job_get_cancellable (job) : NULL, callback, user);
  g_autoptr (GTask) inner = wb_app_forward_new (task, g_free, NULL);
  Request *request = g_new0 (Request, 1);

  g_task_set_source_tag (task, wb_app_export_async);
  request->notebook = g_strdup (wb_app_notebook_get_path (notebook));
  request->experiment = experiment;
  request->format = format;
  request->path = g_strdup (path);
  request->job = job != NULL ? g_object_ref (job) : NULL;
  g_task_set_task_data (inner, request, request_free);
  g_task_run_in_thread (inner, export_in_thread);
}

gboolean
wb_app_export_finish (WbAppNotebook *notebook,
                      GAsyncResult  *result,
                      GError       **error)
{
  g_autofree char *path = NULL;

  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  path = g_task_propagate_pointer (G_TASK (result), error);
  return path != NULL;
}

gboolean
wb_app_export_sync (WbAppNotebook    *notebook,
                    gint64            experiment,
                    WbAppExportFormat format,
                    const char       *path,
                    WbAppJob         *job,
                    GError          **error)
{
  const Request request = { (char *) wb_app_notebook_get_path (notebook), experiment, format, (char *) path, job };

  return export_mapped (&request, error);
}
