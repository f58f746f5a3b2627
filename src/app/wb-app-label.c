/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-label.h"

#include "wb-app-error-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-retain.h"
#include "wb-report-label-code.h"
#include "wb-sample.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

void
wb_app_label_free (WbAppLabel *self)
{
  g_free (self->code);
  g_free (self->kept);
  g_free (self);
}

/* A label may be older than the plan: its sample was taken out. */
static void
tell_missing (WbStore      *store,
              const WbUuid *uuid,
              GError      **error)
{
  GError *reason = NULL;
  g_autoptr (WbRecord) gone = wb_store_load_deleted_by_uuid (store, &wb_sample_type, uuid, &reason);

  if (reason != NULL)
    wb_app_error_propagate_read (error, reason);
  else if (gone != NULL)
    g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN,
                 _("This is the label of %s, which was taken out of the plan: nothing is recorded for it any more."), ((const WbSample *) gone)->code);
  else
    g_set_error_literal (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("This label belongs to another notebook: there is no such sample here."));
}

static gpointer
find (WbStore      *store,
      gpointer      data,
      GCancellable *cancellable,
      GError      **error)
{
  const WbRecordType *type = NULL;
  g_autoptr (WbRecord) record = NULL;
  GError *reason = NULL;
  gint64 id = wb_store_find_by_uuid (store, data, &type, &reason);
  const WbSample *sample;
  WbAppLabel *found;

  if (id != 0 && type == &wb_sample_type)
    record = wb_store_load (store, type, id, &reason);
  if (reason != NULL && !g_error_matches (reason, WB_STORE_ERROR, WB_STORE_ERROR_MISSING))
    {
      wb_app_error_propagate_read (error, reason);
      return NULL;
    }
  g_clear_error (&reason);
  if (record == NULL)
    {
      tell_missing (store, data, error);
      return NULL;
    }
  sample = (const WbSample *) record;
  found = g_new0 (WbAppLabel, 1);
  found->sample = id;
  found->experiment = sample->experiment;
  found->code = g_strdup (sample->code);
  found->poured = sample->poured_on != WB_DAY_NONE;
  found->kept = wb_app_retain_dup_words (sample);
  return found;
}

void
wb_app_label_find_async (WbAppNotebook      *notebook,
                         const char         *code,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  GTask *task;
  WbUuid uuid;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook) && code != NULL);

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_label_find_async);
  if (!wb_report_label_code_parse (code, &uuid))
    {
      g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_REFUSED, _("This is no code of a label."));
      g_object_unref (task);
      return;
    }
  wb_app_reader_run (notebook, task, find, g_memdup2 (&uuid, sizeof uuid), g_free, (GDestroyNotify) wb_app_label_free);
}

WbAppLabel *
wb_app_label_find_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}
