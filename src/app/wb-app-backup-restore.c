/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-backup.h"

#include "wb-app-anchor-private.h"
#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-clock.h"
#include "wb-store-backup.h"
#include "wb-store-change.h"
#include "wb-store-check.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#define ENDING ".wickbench"

typedef struct
{
  char     *backup;
  char     *notebook;
  char     *to;       /* NULL until a name is found */
  char     *who;
  WbAppJob *job;
} Request;

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->backup);
  g_free (self->notebook);
  g_free (self->to);
  g_free (self->who);
  g_clear_object (&self->job);
  g_free (self);
}

/* The new notebook goes its own way from here, and says from where: in itself, and in what is remembered of this place. */
static gboolean
note (const Request *request,
      WbStore       *store,
      gint64         last,
      GError       **error)
{
  g_autofree char *name = g_filename_display_basename (request->backup);
  g_autofree char *why = g_strdup_printf (_("Restore from the backup “%s”, which ends with entry %d"), name, (int) last);
  WbStoreChange *change = wb_store_begin (store, WB_ENTRY_RESTORE, NULL, request->who, why, wb_clock_now (wb_clock_get ()), error);

  if (change == NULL || !wb_store_commit (change, NULL, error))
    return FALSE;
  wb_app_anchor_write (store);
  return TRUE;
}

static gboolean
goes_on (gpointer user)
{
  WbAppJob *job = ((const Request *) user)->job;

  return job == NULL || !g_cancellable_is_cancelled (wb_app_job_get_cancellable (job));
}

/* A backup that the disk has damaged since is copied as faithfully as a good one: it is read through before it is called a notebook. */
static gboolean
finish (Request *request,
        gint64   last,
        GError **error)
{
  g_autoptr (WbStore) store = wb_store_open (request->to, WB_STORE_WRITE, error);

  return store != NULL && wb_store_quick_check (store, goes_on, request, error) && note (request, store, last, error);
}

static gboolean
restore (Request *request,
         GError **error)
{
  g_autoptr (WbStore) backup = wb_store_open (request->backup, WB_STORE_READ, error);

  if (request->to == NULL)
    request->to = wb_app_backup_dup_free_path (request->notebook, _("restored"));
  if (backup == NULL || !wb_store_backup (backup, request->to, wb_app_job_keep_going, request->job, error))
    return FALSE;
  if (finish (request, wb_store_get_last_entry (backup), error))
    return TRUE;
  /* Ours: made a moment ago, under a name that was free. */
  g_unlink (request->to);
  return FALSE;
}

static void
restore_in_thread (GTask        *task,
                   gpointer      source,
                   gpointer      data,
                   GCancellable *cancellable)
{
  Request *request = data;
  GError *error = NULL;

  if (restore (request, &error))
    {
      g_task_return_pointer (task, g_strdup (request->to), g_free);
      return;
    }
  wb_app_error_from_store (&error, WB_APP_ERROR_EXISTS);
  g_task_return_error (task, error);
}

void
wb_app_backup_restore_async (const char         *backup,
                             const char         *notebook,
                             const char         *to,
                             const char         *who,
                             WbAppJob           *job,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  g_return_if_fail (backup != NULL && notebook != NULL);

  /* What was done is told as done, however late somebody cancelled. */
  g_autoptr (GTask) task = g_task_new (NULL, NULL, callback, user);
  Request *request = g_new0 (Request, 1);

  request->backup = g_strdup (backup);
  request->notebook = g_strdup (notebook);
  request->to = g_strdup (to);
  request->who = g_strdup (who != NULL ? who : wb_app_notebook_account_name ());
  request->job = job != NULL ? g_object_ref (job) : NULL;
  g_task_set_source_tag (task, wb_app_backup_restore_async);
  g_task_set_task_data (task, request, request_free);
  g_task_run_in_thread (task, restore_in_thread);
}

char *
wb_app_backup_restore_finish (GAsyncResult *result,
                              GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

char *
wb_app_backup_dup_free_path (const char *notebook,
                             const char *word)
{
  g_return_val_if_fail (notebook != NULL && word != NULL, NULL);

  g_autofree char *stem = g_strndup (notebook, strlen (notebook) - (g_str_has_suffix (notebook, ENDING) ? strlen (ENDING) : 0));
  char *path = g_strdup_printf ("%s %s%s", stem, word, ENDING);

  for (int n = 2; g_file_test (path, G_FILE_TEST_EXISTS); n++)
    {
      g_free (path);
      path = g_strdup_printf ("%s %s %d%s", stem, word, n, ENDING);
    }
  return path;
}
