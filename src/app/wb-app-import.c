/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-import-private.h"

#include "wb-app-anchor-private.h"
#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-clock.h"
#include "wb-store-records.h"

#include <glib/gstdio.h>

void
wb_app_import_summary_free (WbAppImportSummary *self)
{
  if (self == NULL)
    return;
  g_free (self->file);
  wb_log_mapping_free (self->mapping);
  g_clear_pointer (&self->refused, g_ptr_array_unref);
  g_clear_pointer (&self->warnings, g_ptr_array_unref);
  g_strfreev (self->kept);
  g_strfreev (self->experiments);
  g_free (self);
}

WbAppImportSummary *
wb_app_import_summary_copy (const WbAppImportSummary *self)
{
  WbAppImportSummary *copy = g_memdup2 (self, sizeof *self);

  copy->file = g_strdup (self->file);
  copy->mapping = self->mapping != NULL ? wb_log_mapping_copy (self->mapping) : NULL;
  /* Remarks are never changed once they are written: both summaries hold the same. */
  g_ptr_array_ref (copy->refused);
  g_ptr_array_ref (copy->warnings);
  copy->kept = g_strdupv (self->kept);
  copy->experiments = g_strdupv (self->experiments);
  return copy;
}

typedef struct
{
  char         *file;
  WbLogMapping *mapping;
  char         *who;
  gboolean      invented;
  WbAppJob     *job;
} Request;

static Request *
request_new (WbAppNotebook      *notebook,
             const char         *file,
             const WbLogMapping *mapping,
             WbAppJob           *job)
{
  Request *self = g_new0 (Request, 1);

  self->file = g_strdup (file);
  self->mapping = mapping != NULL ? wb_log_mapping_copy (mapping) : NULL;
  self->who = g_strdup (wb_app_notebook_get_who (notebook));
  self->invented = wb_app_notebook_get_invented (notebook);
  self->job = job != NULL ? g_object_ref (job) : NULL;
  return self;
}

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->file);
  wb_log_mapping_free (self->mapping);
  g_free (self->who);
  g_clear_object (&self->job);
  g_free (self);
}

static GTask *
task_new (WbAppNotebook      *notebook,
          gpointer            tag,
          WbAppJob           *job,
          GAsyncReadyCallback callback,
          gpointer            user)
{
  GTask *task = g_task_new (notebook, job != NULL ? wb_app_job_get_cancellable (job) : NULL, callback, user);

  g_task_set_source_tag (task, tag);
  return task;
}

static gpointer
look_in_thread (WbStore      *store,
                gpointer      data,
                GCancellable *cancellable,
                GError      **error)
{
  const Request *request = data;
  g_autoptr (WbAppImportPass) pass = wb_app_import_pass_new (store, request->file, request->mapping, request->invented, request->job);
  const WbAppImportSummary *summary = wb_app_import_pass_judge (pass, error);

  wb_app_import_map_error (error);
  wb_app_job_report (request->job, 1, NULL);
  return summary != NULL ? wb_app_import_summary_copy (summary) : NULL;
}

void
wb_app_import_look_async (WbAppNotebook      *notebook,
                          const char         *file,
                          const WbLogMapping *mapping,
                          WbAppJob           *job,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  wb_app_reader_run (notebook, task_new (notebook, wb_app_import_look_async, job, callback, user), look_in_thread,
                     request_new (notebook, file, mapping, job), request_free, (GDestroyNotify) wb_app_import_summary_free);
}

static gpointer
write_in_thread (WbStore      *store,
                 gpointer      data,
                 GCancellable *cancellable,
                 GError      **error)
{
  const Request *request = data;
  g_autoptr (WbAppImportPass) pass = wb_app_import_pass_new (store, request->file, request->mapping, request->invented, request->job);
  WbAppImportSummary *summary = wb_app_import_pass_write (pass, store, request->who, FALSE, error);

  wb_app_import_map_error (error);
  return summary;
}

void
wb_app_import_write_async (WbAppNotebook            *notebook,
                           const WbAppImportSummary *seen,
                           WbAppJob                 *job,
                           GAsyncReadyCallback       callback,
                           gpointer                  user)
{
  GTask *task = task_new (notebook, wb_app_import_write_async, job, callback, user);

  wb_app_notebook_cancel_at_close (notebook, task);
  wb_app_notebook_write (notebook, task, write_in_thread,
                         request_new (notebook, seen->file, seen->mapping, job), request_free, (GDestroyNotify) wb_app_import_summary_free);
}

WbAppImportSummary *
wb_app_import_finish (WbAppNotebook *notebook,
                      GAsyncResult  *result,
                      GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

static gboolean
is_invented (WbStore *store)
{
  g_autoptr (WbRecord) notebook = wb_store_load_notebook (store, NULL);

  return notebook != NULL && ((WbNotebook *) notebook)->invented;
}

/* A notebook named after its file. */
static WbStore *
make_store (const char *path,
            GError    **error)
{
  g_autofree char *title = g_path_get_basename (path);

  if (g_str_has_suffix (title, ".wickbench"))
    title[strlen (title) - strlen (".wickbench")] = '\0';
  return wb_store_create (path, title, g_get_user_name (), wb_clock_now (wb_clock_get ()), error);
}

/* Opens what there is; NULL without error where there is nothing yet. */
static WbStore *
open_store (const char     *path,
            WbAppImportMode mode,
            GError        **error)
{
  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    return NULL;
  return wb_store_open (path, mode == WB_APP_IMPORT_DRY_RUN ? WB_STORE_READ : WB_STORE_WRITE, error);
}

static gboolean
is_only_looked_at (const WbAppImportSummary *seen,
                   WbAppImportMode           mode)
{
  return mode == WB_APP_IMPORT_DRY_RUN || seen->accepted == 0 || (mode == WB_APP_IMPORT_STRICT && seen->refused_rows > 0);
}

static WbAppImportSummary *
import_into (WbAppImportPass *pass,
             WbStore        **store,
             const char      *path,
             WbAppImportMode  mode,
             GError         **error)
{
  const WbAppImportSummary *seen = wb_app_import_pass_judge (pass, error);

  if (seen == NULL)
    return NULL;
  if (is_only_looked_at (seen, mode))
    return wb_app_import_summary_copy (seen);
  if (*store == NULL)
    *store = make_store (path, error);
  if (*store == NULL)
    return NULL;
  return wb_app_import_pass_write (pass, *store, g_get_user_name (), mode == WB_APP_IMPORT_STRICT, error);
}

static void
note_entry (WbStore                  *store,
            const WbAppImportSummary *summary)
{
  if (summary != NULL && summary->entry > 0)
    wb_app_anchor_write (store);
}

WbAppImportSummary *
wb_app_import_sync (const char         *path,
                    const char         *file,
                    const WbLogMapping *mapping,
                    WbAppImportMode     mode,
                    WbAppJob           *job,
                    GError            **error)
{
  g_autofree char *absolute = g_canonicalize_filename (path, NULL);
  g_autoptr (GError) reason = NULL;
  WbStore *store = open_store (absolute, mode, &reason);
  gboolean was_there = store != NULL;
  WbAppImportSummary *summary = NULL;

  if (reason == NULL)
    {
      /* The pass lets go of the store before that is closed. */
      g_autoptr (WbAppImportPass) pass = wb_app_import_pass_new (store, file, mapping, store != NULL && is_invented (store), job);

      summary = import_into (pass, &store, absolute, mode, &reason);
      note_entry (store, summary);
    }
  if (store != NULL && !was_there && (summary == NULL || summary->entry == 0))
    {
      g_autofree char *journal = g_strconcat (absolute, "-journal", NULL);

      g_clear_pointer (&store, wb_store_close);
      g_unlink (absolute);
      g_unlink (journal);
    }
  g_clear_pointer (&store, wb_store_close);
  if (reason != NULL)
    {
      wb_app_import_map_error (&reason);
      g_propagate_error (error, g_steal_pointer (&reason));
    }
  return summary;
}
