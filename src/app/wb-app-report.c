/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-report.h"

#include "wb-app-amend-private.h"
#include "wb-app-check-burn-private.h"
#include "wb-app-compute-private.h"
#include "wb-app-error-private.h"
#include "wb-app-export-private.h"
#include "wb-app-forward-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-report-pictures-private.h"
#include "wb-app-touched-private.h"
#include "wb-report-key.h"
#include "wb-store-dataset.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* How far a report is once it is laid out; writing its pages is the rest. */
#define LAID_OUT 0.7

typedef struct
{
  char          *notebook;
  WbCraftAnswer *answer;
  WbAppReportChoice choice;
  char          *path;     /* of the PDF; NULL: none is written */
  char          *key_path; /* of the key; NULL: none is written */
  WbAppJob      *job;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->notebook);
  wb_craft_answer_unref (self->answer);
  g_free (self->path);
  g_free (self->key_path);
  g_clear_object (&self->job);
  g_free (self);
}

static Request *
request_new (WbAppNotebook *notebook,
             WbCraftAnswer *answer,
             const WbAppReportChoice *choice,
             const char    *path,
             WbAppJob      *job)
{
  static const WbAppReportChoice all = WB_APP_REPORT_CHOICE_INIT;
  Request *self = g_new0 (Request, 1);

  self->notebook = g_strdup (wb_app_notebook_get_path (notebook));
  self->answer = wb_craft_answer_ref (answer);
  self->choice = choice != NULL ? *choice : all;
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

  *touched = store != NULL ? wb_app_touched_read_all (store, loads, experiment, error) : NULL;
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

/* All that a report is made of beside its answer; what the options borrow. */
typedef struct
{
  WbCraftAnswer   *answer;   /* of other names, or that of the request */
  WbCraftAlias    *alias;    /* NULL: names are as they are */
  char            *fingerprint;
  GPtrArray       *touched, *changes, *checks, *photos;
  WbReportPicture *logo;
  WbReportOptions  options;
} Material;

static void
material_free (Material *self)
{
  g_clear_pointer (&self->answer, wb_craft_answer_unref);
  g_clear_pointer (&self->alias, wb_craft_alias_free);
  g_free (self->fingerprint);
  g_clear_pointer (&self->touched, g_ptr_array_unref);
  g_clear_pointer (&self->changes, g_ptr_array_unref);
  g_clear_pointer (&self->checks, g_ptr_array_unref);
  g_clear_pointer (&self->photos, g_ptr_array_unref);
  wb_report_picture_free (self->logo);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Material, material_free)

static gboolean
name_answer (const Request *request,
             Material      *material,
             GError       **error)
{
  const WbCraftAnswer *answer = request->answer;

  if (!request->choice.anonymous)
    material->answer = wb_craft_answer_ref (request->answer);
  else
    material->answer = wb_app_compute_anonymous (request->notebook, answer->data->experiment->record.id, answer->ranking->within,
                                                 answer->ranking->seed, answer->estimates->memo, NULL, &material->alias, error);
  return material->answer != NULL;
}

/* Logo and photos; *entry goes up to the newest that wrote one that is shown. */
static gboolean
read_pictures (const Request *request,
               Material      *material,
               gint64        *entry,
               GError       **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (request->notebook, error);
  gboolean wanted = (request->choice.left_out & 1u << WB_REPORT_SECTION_PHOTOS) == 0;
  guint most = MIN (request->choice.photos, WB_REPORT_PHOTOS_MOST);

  if (store == NULL)
    return FALSE;
  /* a logo that cannot be read is none: a report is worth more than its letterhead */
  material->logo = wb_app_report_logo_read (store, material->answer->data->notebook, NULL, NULL);
  material->photos = wb_app_report_photos_read (store, material->answer, wanted ? most : 0, request->job, &material->options.photos_kept, entry, error);
  if (material->photos == NULL)
    wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
  return material->photos != NULL;
}

static void
rename_text (const WbCraftAlias *alias,
             char              **text)
{
  char *renamed = wb_craft_alias_dup_text (alias, *text);

  g_free (*text);
  *text = renamed;
}

/* What was made of data that still had their own names. */
static void
rename_rest (Material *material)
{
  for (guint i = 0; i < material->changes->len; i++)
    {
      WbCraftTouched *change = g_ptr_array_index (material->changes, i);

      rename_text (material->alias, &change->what);
      rename_text (material->alias, &change->text);
      rename_text (material->alias, &change->why);
    }
  for (guint i = 0; i < material->checks->len; i++)
    {
      WbCraftCheckBurn *check = g_ptr_array_index (material->checks, i);

      rename_text (material->alias, &check->code);
      rename_text (material->alias, &check->limits);
    }
  for (guint i = 0; material->photos != NULL && i < material->photos->len; i++)
    rename_text (material->alias, &((WbReportPhoto *) g_ptr_array_index (material->photos, i))->note);
}

static void
set_options (const Request *request,
             Material      *material)
{
  WbReportOptions *options = &material->options;

  options->fingerprint = *material->fingerprint != '\0' ? material->fingerprint : NULL;
  if (request->choice.paper >= 0)
    options->paper = (WbReportPaper) request->choice.paper;
  options->left_out = request->choice.left_out;
  options->anonymous = request->choice.anonymous;
  options->touched = material->changes;
  options->check_burns = material->checks;
  options->photos = material->photos;
  options->logo = material->logo;
}

static Material *
gather (const Request *request,
        GError       **error)
{
  g_autoptr (Material) material = g_new0 (Material, 1);
  gint64 entry;

  if (!is_wanted (request, 0.02, error) || !name_answer (request, material, error))
    return NULL;
  wb_report_options_init (&material->options, material->answer->data->notebook);
  entry = material->answer->data->last_entry;
  if (!read_pictures (request, material, &entry, error) || !is_wanted (request, 0.35, error))
    return NULL;
  material->fingerprint = dup_fingerprint (request->notebook, entry, error);
  if (material->fingerprint == NULL || !count_amended (request, &material->options, error)
      || !read_lots (request, &material->touched, &material->checks, error))
    return NULL;
  material->changes = list_changes (material->touched);
  if (material->alias != NULL)
    rename_rest (material);
  set_options (request, material);
  return g_steal_pointer (&material);
}

static WbReportDocument *
lay_out (const Request  *request,
         const Material *material,
         GError        **error)
{
  g_autoptr (WbReportDocument) document = wb_report_test_new (material->answer, &material->options);

  wb_report_document_get_n_pages (document);
  if (!is_wanted (request, request->path != NULL ? LAID_OUT : 1, error))
    return NULL;
  return g_steal_pointer (&document);
}

static WbReportDocument *
make_now (const Request *request,
          GError       **error)
{
  g_autoptr (Material) material = gather (request, error);

  return material != NULL ? lay_out (request, material, error) : NULL;
}

static gboolean
keep_going (double   done,
            gpointer user)
{
  return wb_app_job_report (user, LAID_OUT + (1 - LAID_OUT) * done, NULL);
}

static gboolean
write_document (const Request    *request,
                WbReportDocument *document,
                const char       *path,
                GError          **error)
{
  g_autoptr (GBytes) bytes = document != NULL ? wb_report_document_dup_pdf_while (document, NULL, keep_going, request->job, error) : NULL;

  if (bytes == NULL)
    return FALSE;
  if (g_file_set_contents_full (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, error))
    return TRUE;
  wb_app_error_from_writing (error, path);
  return FALSE;
}

/* The key first: a report whose names nobody can resolve is worth nothing. */
static gboolean
write_now (const Request *request,
           GError       **error)
{
  g_autoptr (Material) material = NULL;

  if ((request->path != NULL && wb_app_export_is_notebook (request->notebook, request->path, error))
      || (request->key_path != NULL && wb_app_export_is_notebook (request->notebook, request->key_path, error)))
    return FALSE;
  material = gather (request, error);
  if (material == NULL)
    return FALSE;
  if (request->key_path != NULL && material->alias != NULL)
    {
      g_autoptr (WbReportDocument) key = wb_report_key_new (material->alias, &material->options);

      if (!write_document (request, key, request->key_path, error))
        return FALSE;
    }
  if (request->path != NULL)
    {
      g_autoptr (WbReportDocument) document = lay_out (request, material, error);

      return write_document (request, document, request->path, error);
    }
  return TRUE;
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
    g_task_return_pointer (task, g_strdup (request->path != NULL ? request->path : request->key_path), g_free);
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
                          const WbAppReportChoice *choice,
                          WbAppJob           *job,
                          GAsyncReadyCallback callback,
                          gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook) && answer != NULL);

  run (notebook, wb_app_report_make_async, request_new (notebook, answer, choice, NULL, job), make_in_thread,
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
                           const WbAppReportChoice *choice,
                           const char         *path,
                           WbAppJob           *job,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook) && answer != NULL && path != NULL);

  run (notebook, wb_app_report_write_async, request_new (notebook, answer, choice, path, job), write_in_thread, g_free, callback, user);
}

void
wb_app_report_write_key_async (WbAppNotebook           *notebook,
                               WbCraftAnswer           *answer,
                               const WbAppReportChoice *choice,
                               const char              *path,
                               WbAppJob                *job,
                               GAsyncReadyCallback      callback,
                               gpointer                 user)
{
  Request *request;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook) && answer != NULL && path != NULL);

  request = request_new (notebook, answer, choice, NULL, job);
  request->choice.anonymous = TRUE;
  request->key_path = g_strdup (path);
  run (notebook, wb_app_report_write_async, request, write_in_thread, g_free, callback, user);
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
wb_app_report_write_sync (WbAppNotebook           *notebook,
                          WbCraftAnswer           *answer,
                          const WbAppReportChoice *choice,
                          const char              *path,
                          const char              *key_path,
                          GError                 **error)
{
  Request *request;
  gboolean written;

  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook) && answer != NULL && path != NULL, FALSE);

  request = request_new (notebook, answer, choice, path, NULL);
  request->key_path = g_strdup (key_path);
  written = write_now (request, error);
  request_free (request);
  return written;
}
