/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-record.h"

#include "wb-app-anchor-private.h"
#include "wb-app-backup-private.h"
#include "wb-app-error-private.h"
#include "wb-app-forward-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-save-private.h"
#include "wb-store-check.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

void
wb_app_entry_free (WbAppEntry *self)
{
  if (self == NULL)
    return;
  g_free (self->kind);
  g_free (self->topic);
  g_free (self->who);
  g_free (self->why);
  g_free (self->hash);
  g_free (self);
}

void
wb_app_version_free (WbAppVersion *self)
{
  if (self == NULL)
    return;
  wb_record_free (self->record);
  wb_app_entry_free (self->entry);
  g_free (self);
}

void
wb_app_check_free (WbAppCheck *self)
{
  if (self == NULL)
    return;
  g_free (self->finding);
  g_free (self->fingerprint);
  g_free (self);
}

static WbAppEntry *
entry_new (const WbEntry *stored)
{
  WbAppEntry *self = g_new0 (WbAppEntry, 1);

  self->number = stored->number;
  self->made_at = stored->at;
  self->kind = g_strdup (wb_entry_kind_get_nick (stored->kind));
  self->topic = g_strdup (stored->topic);
  self->who = g_strdup (stored->who);
  self->why = g_strdup (stored->why);
  self->takes_back = stored->undoes;
  self->taken_back = stored->undone;
  self->rows = stored->rows;
  self->hash = g_strdup (stored->hash);
  return self;
}

/* What a page of the record asks for: entries below a number, or the versions of one record. */
typedef struct
{
  gint64              before;
  guint               n;
  const WbRecordType *type;
  gint64              id;
} Question;

static gpointer
list_entries (WbStore      *store,
              gpointer      data,
              GCancellable *cancellable,
              GError      **error)
{
  const Question *question = data;
  g_autoptr (GPtrArray) stored = wb_store_list_entries (store, question->before, question->n, error);
  GPtrArray *entries;

  if (stored == NULL)
    return NULL;
  entries = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_entry_free);
  for (guint i = 0; i < stored->len; i++)
    g_ptr_array_add (entries, entry_new (g_ptr_array_index (stored, i)));
  return entries;
}

void
wb_app_record_entries_async (WbAppNotebook      *notebook,
                             gint64              before,
                             guint               n,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);
  Question *question = g_new0 (Question, 1);

  question->before = before;
  question->n = n;
  g_task_set_source_tag (task, wb_app_record_entries_async);
  wb_app_reader_run (notebook, task, list_entries, question, g_free, (GDestroyNotify) g_ptr_array_unref);
}

GPtrArray *
wb_app_record_entries_finish (WbAppNotebook *notebook,
                              GAsyncResult  *result,
                              GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

static gpointer
list_versions (WbStore      *store,
               gpointer      data,
               GCancellable *cancellable,
               GError      **error)
{
  const Question *question = data;
  g_autoptr (GPtrArray) stored = wb_store_list_history (store, question->type, question->id, error);
  GPtrArray *versions;

  if (stored == NULL)
    return NULL;
  versions = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_version_free);
  for (guint i = 0; i < stored->len; i++)
    {
      const WbStoreVersion *version = g_ptr_array_index (stored, i);
      WbAppVersion *told = g_new0 (WbAppVersion, 1);

      told->record = wb_record_copy (version->record);
      told->entry = entry_new (version->entry);
      g_ptr_array_add (versions, told);
    }
  return versions;
}

void
wb_app_record_versions_async (WbAppNotebook      *notebook,
                              const WbRecordType *type,
                              gint64              id,
                              GCancellable       *cancellable,
                              GAsyncReadyCallback callback,
                              gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);
  Question *question = g_new0 (Question, 1);

  question->type = type;
  question->id = id;
  g_task_set_source_tag (task, wb_app_record_versions_async);
  wb_app_reader_run (notebook, task, list_versions, question, g_free, (GDestroyNotify) g_ptr_array_unref);
}

GPtrArray *
wb_app_record_versions_finish (WbAppNotebook *notebook,
                               GAsyncResult  *result,
                               GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

typedef struct
{
  char     *path;
  char     *fingerprint;
  WbAppJob *job;
} Check;

static void
check_free (gpointer data)
{
  Check *self = data;

  g_free (self->path);
  g_free (self->fingerprint);
  g_clear_object (&self->job);
  g_free (self);
}

/* Further witnesses: what this program noted of the notebook when it last wrote it, and the backups that were made of it. */
static void
ask_witnesses (const char *path,
            WbAppCheck *check)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (path, NULL);

  /* Found sound and yet not to be opened: somebody wrote in between; the next check sees it. */
  if (store == NULL)
    return;
  g_clear_pointer (&check->finding, g_free);
  check->sound = wb_app_anchor_check (store, &check->finding, &check->entry)
                 && wb_app_backup_check (store, &check->finding, &check->entry);
}

WbAppCheck *
wb_app_record_check_sync (const char *path,
                          const char *fingerprint,
                          WbAppJob   *job,
                          GError    **error)
{
  g_autoptr (WbStoreCheck) found = NULL;
  WbAppCheck *self;
  gint64 named = 0;

  if (fingerprint != NULL && !wb_store_parse_fingerprint (fingerprint, &named, NULL))
    {
      g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("“%s” is no fingerprint: that is a number, a colon and 64 hexadecimal digits"), fingerprint);
      return NULL;
    }
  found = wb_store_check (path, fingerprint, wb_app_job_keep_going, job, error);
  if (found == NULL)
    {
      wb_app_error_from_store (error, WB_APP_ERROR_REFUSED);
      return NULL;
    }
  self = g_new0 (WbAppCheck, 1);
  self->sound = found->finding == WB_CHECK_GOOD;
  self->entries = found->entries;
  self->rows = found->rows;
  self->entry = found->entry;
  self->finding = g_strdup (found->text);
  self->fingerprint = g_strdup (found->fingerprint);
  self->named = named;
  self->after = self->sound && named > 0 ? found->entries - named : 0;
  if (self->sound)
    ask_witnesses (path, self);
  return self;
}

static void
check_in_thread (GTask        *task,
                 gpointer      source,
                 gpointer      task_data,
                 GCancellable *cancellable)
{
  const Check *check = task_data;
  GError *error = NULL;
  WbAppCheck *result = wb_app_record_check_sync (check->path, check->fingerprint, check->job, &error);

  if (result == NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, result, (GDestroyNotify) wb_app_check_free);
}

void
wb_app_record_check_async (WbAppNotebook      *notebook,
                           const char         *fingerprint,
                           WbAppJob           *job,
                           GAsyncReadyCallback callback,
                           gpointer            user)
{
  GTask *task = g_task_new (notebook, job != NULL ? wb_app_job_get_cancellable (job) : NULL, callback, user);
  g_autoptr (GTask) inner = wb_app_forward_new (task, (GDestroyNotify) wb_app_check_free, NULL);
  Check *check = g_new0 (Check, 1);

  g_task_set_source_tag (task, wb_app_record_check_async);
  check->path = g_strdup (wb_app_notebook_get_path (notebook));
  check->fingerprint = g_strdup (fingerprint);
  check->job = job != NULL ? g_object_ref (job) : NULL;
  g_task_set_task_data (inner, check, check_free);
  g_task_run_in_thread (inner, check_in_thread);
}

WbAppCheck *
wb_app_record_check_finish (WbAppNotebook *notebook,
                            GAsyncResult  *result,
                            GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

void
wb_app_record_take_back_async (WbAppNotebook      *notebook,
                               gint64              entry,
                               GCancellable       *cancellable,
                               GAsyncReadyCallback callback,
                               gpointer            user)
{
  GTask *task = g_task_new (notebook, cancellable, callback, user);
  WbAppSave *save = wb_app_save_new (NULL, wb_app_notebook_get_who (notebook), NULL, NULL);

  save->entry = entry;
  g_task_set_source_tag (task, wb_app_record_take_back_async);
  wb_app_notebook_write (notebook, task, wb_app_save_take_back, save,
                         (GDestroyNotify) wb_app_save_unref, (GDestroyNotify) wb_app_save_unref);
}
