/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-forward-private.h"

typedef struct
{
  GTask           *task; /* the caller's */
  GDestroyNotify   free_result;
  WbAppForwardFunc before;
} Forward;

static void
on_forward_cb (GObject      *source,
               GAsyncResult *result,
               gpointer      user_data)
{
  Forward *forward = user_data;
  g_autoptr (GTask) task = forward->task;
  g_autoptr (GError) error = NULL;
  gpointer got = g_task_propagate_pointer (G_TASK (result), &error);

  if (forward->before != NULL)
    forward->before (g_task_get_source_object (task));
  if (error != NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_pointer (task, got, forward->free_result);
  g_free (forward);
}

GTask *
wb_app_forward_new (GTask           *task,
                    GDestroyNotify   free_result,
                    WbAppForwardFunc before)
{
  Forward *forward = g_new0 (Forward, 1);
  GTask *inner;

  forward->task = task;
  forward->free_result = free_result;
  forward->before = before;
  inner = g_task_new (NULL, g_task_get_cancellable (task), on_forward_cb, forward);
  /* What is durable is told as such, however late somebody cancelled. */
  g_task_set_check_cancellable (inner, FALSE);
  g_task_set_check_cancellable (task, FALSE);
  return inner;
}
