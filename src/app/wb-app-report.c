/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-report.h"

#include "wb-app-amend-private.h"
#include "wb-app-check-burn-private.h"
#include "wb-app-error-private.h"
#include "wb-app-export-private.h"
#include "wb-app-forward-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-touched-private.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* How far a report is once it is laid out; writing its pages is the rest. */
#define LAID_OUT 0.7

typedef struct
{
  char          *notebook;
  WbCraftAnswer *answer;
  int            paper;
  char          *path;     /* of the PDF; NULL: none is written */
  WbAppJob      *job;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->notebook);
  wb_craft_answer_unref (self->answer);
  g_free (self->path);
  g_clear_object (&self->job);
  g_free (self);
}

static Request *
request_new (WbAppNotebook *notebook,
             WbCraftAnswer *answer,
             int            paper,
             const char    *path,
             WbAppJob      *job)
{
  Request *self = g_new0 (Request, 1);

  self->notebook = g_strdup (wb_app_notebook_get_path (notebook));
  self->answer = wb_craft_answer_ref (answer);
  self->paper = paper;
  self->path = g_strdup (path);
  self->job = job != NULL ? g_object_ref (job) : NULL;
  return self;
}

/* "" where there is no such entry; NULL is an error. */
static char *
dup_fingerprint (const char *notebook,
                 gint64      number,
                 GError    **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (notebook, error);
  g_autoptr (GPtrArray) entries = store != NULL ? wb_store_list_entries (store, number + 1, 1, error) : NULL;
  const WbEntry *entry;

  if (entries == NULL)
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return NULL;
    }
  entry = entries->len > 0 ? g_ptr_array_index (entries, 0) : NULL;
  return entry != NULL && entry->number == number ? g_strdup_printf ("%" G_GINT64_FORMAT ":%s", entry->number, entry->hash) : g_strdup ("");
}

static gboolean
count_amended (const Request   *request,
               WbReportOptions *options,
               GError         **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (request->notebook, error);
  gint64 amended, taken_out;

  if (store == NULL
      || !wb_store_count_amended (store, request->answer->data->experiment->record.id, WB_APP_AMEND_TOPIC, &amended, &taken_out, error))
    {
      wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
      return FALSE;
    }
  options->amended = (guint) amended;
  options->taken_out = (guint) taken_out;
  return TRUE;
}

/* Changes behind its decisions, and check burns; they rest on other experiments as well. */
static gboolean
read_lots (const Request *request,
           GPtrArray    **touched,
           GPtrArray    **checks,
           GError       **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (request->notebook, error);
  g_autoptr (WbAppLoads) loads = wb_app_loads_new ();
  gint64 experiment = request->answer->data->experiment->record.id;

  *touched = store != NULL ? wb_app_touched_read (store, loads, experiment, error) : NULL;
  *checks = *touched != NULL ? wb_app_check_burns_read (store, loads, experiment, error) : NULL;
  if (*checks != NULL)
    return TRUE;
  wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
  return FALSE;
}

static GPtrArray *
list_changes (const GPtrArray *touched)
{
  GPtrArray *changes = g_ptr_array_new ();

  for (guint i = 0; i < touched->len; i++)
    g_ptr_array_extend (changes, ((const WbAppTouched *) g_ptr_array_index (touched, i))->changes, NULL, NULL);
  return changes;
}

char *
wb_app_report_dup_fingerprint_sync (WbAppNotebook       *notebook,
                                    const WbCraftAnswer *answer,
                                    GError             **error)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);

  return dup_fingerprint (wb_app_notebook_get_path (notebook), answer->data->last_entry, error);
}

static gboolean
is_wanted (const Request *request,
           double         done,
           GError       **error)
{
  if (wb_app_job_report (request->job, done, NULL))
    return TRUE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
  return FALSE;
}

static WbReportDocument *
make_now (const Request *request,
          GError       **error)
{
  g_autofree char *fingerprint = dup_fingerprint (request->notebook, request->answer->data->last_entry, error);
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GPtrArray) touched = NULL, changes = NULL, checks = NULL;
  WbReportOptions options;

  if (fingerprint == NULL || !is_wanted (request, 0.05, error))
    return NULL;
  wb_report_options_init (&options, request->answer->data->notebook);
  options.fingerprint = *fingerprint != '\0' ? fingerprint : NULL;
  if (request->paper >= 0)
    options.paper = (WbReportPaper) request->paper;
  if (!count_amended (request, &options, error) || !read_lots (request, &touched, &checks, error))
    return NULL;
  changes = list_changes (touched);
  options.touched = changes;
  options.check_burns = checks;
  document = wb_report_test_new (request->answer, &options);
  wb_report_document_get_n_pages (document);
  if (!is_wanted (request, request->path != NULL ? LAID_OUT : 1, error))
    return NULL;
  return g_steal_pointer (&document);
}

static gboolean
keep_going (double   done,
            gpointer user)
{
  return wb_app_job_report (user, LAID_OUT + (1 - LAID_OUT) * done, NULL);
}

static gboolean
write_now (const Request *request,
           GError       **error)
{
  g_autoptr (WbReportDocument) document = NULL;
  g_autoptr (GBytes) bytes = NULL;

  if (wb_app_export_is_notebook (request->notebook, request->path, error))
    return FALSE;
  document = make_now (request, error);
  bytes = document != NULL ? wb_report_document_dup_pdf_while (document, NULL, keep_going, request->job, error) : NULL;
  if (bytes == NULL)
    return FALSE;
  if (g_file_set_contents_full (request->path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, error))
    return TRUE;
  wb_app_error_from_writing (error, request->path);
  return FALSE;
}

static void
make_in_thread (GTask        *task,
                gpointer      source,
                gpointer      task_data,
                GCancellable *cancellable)
{
  GError *error = NULL;
  WbReportDocument *document = make_now (task_data, &error);

  if (document != NULL)
    g_task_return_pointer (task, document, (GDestroyNotify) wb_report_document_free);
  else
    g_task_return_error (task, error);
}

static void
write_in_thread (GTask        *task,
                 gpointer      source,
                 gpointer      task_data,
                 GCancellable *cancellable)
{
  const Request *request = task_data;
  GError *error = NULL;

  if (write_now (request, &error))
    g_task_return_pointer (task, g_strdup (request->path), g_free);
  else
    g_task_return_error (task, error);
}

/* Takes the request. */
static void
run (WbAppNotebook      *notebook,
     gpointer            tag,
     Request            *request,
     GTaskThreadFunc     func,
     GDestroyNotify      free_result,
     GAsyncReadyCallback callback,
     gpointer            user)
{
  GTask *task = g_task_new (notebook, request->job != NULL ? wb_app_job_get_cancellable (request->job) : NULL, callback, user);
  g_autoptr (GTask) inner = wb_app_forward_new (task, free_result, NULL);

  g_task_set_source_tag (task, tag);
  g_task_set_task_data (inner, request, request_free);
  g_task_run_in_thread (inner, func);
}

void
wb_app_report_make_async (WbAppNotebook      *notebook,
                          WbCraftAnswer      *answer,
                          int                 paper,
                          WbAppJob           *job,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook) && answer != NULL);

  run (notebook, wb_app_report_make_async, request_new (notebook, answer, paper, NULL, job), make_in_thread,
       (GDestroyNotify) wb_report_document_free, callback, user);
}

WbReportDocument *
wb_app_report_make_finish (WbAppNotebook *notebook,
                           GAsyncResult  *result,
                           GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

void
wb_app_report_write_async (WbAppNotebook      *notebook,
                           WbCraftAnswer      *answer,
                           int                 paper,
                           const char         *path,
                           WbAppJob           *job,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook) && answer != NULL && path != NULL);

  run (notebook, wb_app_report_write_async, request_new (notebook, answer, paper, path, job), write_in_thread, g_free, callback, user);
}

gboolean
wb_app_report_write_finish (WbAppNotebook *notebook,
                            GAsyncResult  *result,
                            GError       **error)
{
  g_autofree char *path = NULL;

  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);

  path = g_task_propagate_pointer (G_TASK (result), error);
  return path != NULL;
}

gboolean
wb_app_report_write_sync (WbAppNotebook *notebook,
                          WbCraftAnswer *answer,
                          int            paper,
                          const char    *path,
                          GError       **error)
{
  Request *request;
  gboolean written;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook) && answer != NULL && path != NULL, FALSE);

  request = request_new (notebook, answer, paper, path, NULL);
  written = write_now (request, error);
  request_free (request);
  return written;
}
