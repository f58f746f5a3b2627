/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-save-task-private.h"

#include "wb-app-notebook.h"

GTask *
wb_app_save_task_new (gpointer            source,
                      gpointer            tag,
                      GCancellable       *cancellable,
                      GAsyncReadyCallback callback,
                      gpointer            user)
{
  GTask *task = g_task_new (source, cancellable, callback, user);

  g_task_set_source_tag (task, tag);
  g_task_set_check_cancellable (task, FALSE);
  return task;
}

void
wb_app_save_task_refuse (GTask *task,
                         char  *sentence)
{
  g_task_return_new_error (task, WB_APP_ERROR, WB_APP_ERROR_REFUSED, "%s", sentence);
  g_free (sentence);
  g_object_unref (task);
}

gboolean
wb_app_save_task_check (GTask        *task,
                        GObject      *source,
                        GAsyncResult *result)
{
  GError *error = NULL;

  wb_app_notebook_save_finish (WB_APP_NOTEBOOK (source), result, NULL, &error);
  if (error != NULL)
    g_task_return_error (task, error);
  return error == NULL;
}

void
wb_app_save_task_end_cb (GObject      *source,
                         GAsyncResult *result,
                         gpointer      user)
{
  g_autoptr (GTask) task = user;

  if (wb_app_save_task_check (task, source, result))
    g_task_return_boolean (task, TRUE);
}
