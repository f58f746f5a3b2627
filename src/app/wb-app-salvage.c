/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-salvage.h"

#include "wb-app-backup.h"
#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-clock.h"
#include "wb-store-salvage.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  char     *path;
  char     *to;   /* NULL: beside it */
  char     *who;
  WbAppJob *job;
} Request;

void
wb_app_salvage_free (WbAppSalvage *self)
{
  if (self == NULL)
    return;
  g_free (self->path);
  g_free (self->words);
  g_ptr_array_unref (self->lines);
  g_free (self);
}

static void
request_free (gpointer data)
{
  Request *self = data;

  g_free (self->path);
  g_free (self->to);
  g_free (self->who);
  g_clear_object (&self->job);
  g_free (self);
}

static void
add_count (GString    *text,
           const char *what,
           gint64      n)
{
  if (n > 0)
    g_string_append_printf (text, " %s: %d.", what, (int) n);
}

static char *
dup_words (const WbStoreSalvage *found)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, _("%d readings were saved; %d of %d entries are there as they were written."), (int) found->readings,
                          (int) found->proven, (int) found->entries);
  add_count (text, _("Rows known to be lost"), found->rows_lost);
  add_count (text, _("Entries of which rows are lost"), found->partial);
  add_count (text, _("Entries whose old hash does not prove them"), found->unproven);
  add_count (text, _("Entries whose own line is lost"), found->lost);
  add_count (text, _("Kept files lost"), found->files_lost);
  add_count (text, _("Stand-ins for lost records"), found->stand_ins);
  return g_string_free (text, FALSE);
}

WbAppSalvage *
wb_app_salvage_sync (const char *path,
                     const char *to,
                     const char *who,
                     WbAppJob   *job,
                     GError    **error)
{
  g_return_val_if_fail (path != NULL, NULL);

  g_autofree char *whole = g_canonicalize_filename (path, NULL);
  g_autofree char *new_path = to != NULL ? g_canonicalize_filename (to, NULL) : wb_app_backup_dup_free_path (whole, _("salvaged"));
  g_autoptr (WbStoreSalvage) found = wb_store_salvage (whole, new_path, who != NULL ? who : wb_app_notebook_account_name (),
                                                       wb_clock_now (wb_clock_get ()), wb_app_job_keep_going, job, error);
  WbAppSalvage *self;

  if (found == NULL)
    {
      wb_app_error_from_store (error, WB_APP_ERROR_EXISTS);
      return NULL;
    }
  self = g_new0 (WbAppSalvage, 1);
  self->path = g_steal_pointer (&new_path);
  self->whole = found->proven == found->entries && found->files_lost == 0 && found->stand_ins == 0;
  self->words = dup_words (found);
  self->lines = g_ptr_array_ref (found->lines);
  return self;
}

static void
salvage_in_thread (GTask        *task,
                   gpointer      source,
                   gpointer      data,
                   GCancellable *cancellable)
{
  const Request *request = data;
  GError *error = NULL;
  WbAppSalvage *result = wb_app_salvage_sync (request->path, request->to, request->who, request->job, &error);

  if (result == NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, result, (GDestroyNotify) wb_app_salvage_free);
}

void
wb_app_salvage_async (const char         *path,
                      const char         *to,
                      const char         *who,
                      WbAppJob           *job,
                      GAsyncReadyCallback callback,
                      gpointer            user)
{
  g_return_if_fail (path != NULL);

  g_autoptr (GTask) task = g_task_new (NULL, NULL, callback, user);
  Request *request = g_new0 (Request, 1);

  request->path = g_strdup (path);
  request->to = g_strdup (to);
  request->who = g_strdup (who);
  request->job = job != NULL ? g_object_ref (job) : NULL;
  g_task_set_source_tag (task, wb_app_salvage_async);
  g_task_set_task_data (task, request, request_free);
  g_task_run_in_thread (task, salvage_in_thread);
}

WbAppSalvage *
wb_app_salvage_finish (GAsyncResult *result,
                       GError      **error)
{
  g_return_val_if_fail (g_task_is_valid (result, NULL), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
