/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-reader-private.h"

#include "wb-app-error-private.h"
#include "wb-app-forward-private.h"

typedef struct
{
  char           *path;
  WbAppReaderFunc func;
  gpointer        data;
  GDestroyNotify  free_data;
  GDestroyNotify  free_result;
} Read;

static void
read_free (gpointer data)
{
  Read *self = data;

  g_free (self->path);
  if (self->free_data != NULL)
    self->free_data (self->data);
  g_free (self);
}

WbStore *
wb_app_reader_connect (const char *path,
                       GError    **error)
{
  WbStore *store = wb_store_open (path, WB_STORE_READ, error);

  if (store == NULL)
    wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
  return store;
}

static gpointer
read_now (const char     *path,
          WbAppReaderFunc func,
          gpointer        data,
          GCancellable   *cancellable,
          GError        **error)
{
  g_autoptr (WbStore) store = wb_app_reader_connect (path, error);
  gpointer result;

  if (store == NULL)
    return NULL;
  result = func (store, data, cancellable, error);
  if (result == NULL)
    wb_app_error_from_store (error, WB_APP_ERROR_FAILED);
  return result;
}

static void
read_in_thread (GTask        *task,
                gpointer      source,
                gpointer      task_data,
                GCancellable *cancellable)
{
  Read *self = task_data;
  GError *error = NULL;
  gpointer result = NULL;

  if (!g_cancellable_set_error_if_cancelled (cancellable, &error))
    result = read_now (self->path, self->func, self->data, cancellable, &error);
  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_pointer (task, result, self->free_result);
}

void
wb_app_reader_run (WbAppNotebook  *self,
                   GTask          *task,
                   WbAppReaderFunc func,
                   gpointer        data,
                   GDestroyNotify  free_data,
                   GDestroyNotify  free_result)
{
  g_autoptr (GTask) inner = wb_app_forward_new (task, free_result, NULL);
  Read *request = g_new0 (Read, 1);

  request->path = g_strdup (wb_app_notebook_get_path (self));
  request->func = func;
  request->data = data;
  request->free_data = free_data;
  request->free_result = free_result;
  /* A reader that was cancelled has nothing to tell. */
  g_task_set_check_cancellable (task, TRUE);
  g_task_set_task_data (inner, request, read_free);
  g_task_run_in_thread (inner, read_in_thread);
}

gpointer
wb_app_reader_run_sync (WbAppNotebook  *self,
                        WbAppReaderFunc func,
                        gpointer        data,
                        GError        **error)
{
  return read_now (wb_app_notebook_get_path (self), func, data, NULL, error);
}
