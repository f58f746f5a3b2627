/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-inspection.h"

#include "wb-app-notebook-private.h"
#include "wb-app-save-task-private.h"
#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static gboolean
says_something (const WbInspection *self)
{
  return self->frosting >= 0 || self->wet_spots >= 0 || self->sink_hole >= 0 || self->sweating >= 0 || !isnan (self->cold_throw)
         || (self->note != NULL && *self->note != '\0');
}

void
wb_app_inspection_add_async (WbAppNotebook      *notebook,
                             const WbInspection *inspection,
                             const char         *code,
                             GCancellable       *cancellable,
                             GAsyncReadyCallback callback,
                             gpointer            user)
{
  g_autofree char *why = NULL;
  g_autoptr (GPtrArray) records = NULL;
  WbInspection *copy;
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (inspection != NULL && inspection->record.type == &wb_inspection_type && inspection->record.id == 0);
  g_return_if_fail (code != NULL);

  task = wb_app_save_task_new (notebook, wb_app_inspection_add_async, cancellable, callback, user);
  if (!says_something (inspection))
    {
      wb_app_save_task_refuse (task, g_strdup (_("Nothing was rated and nothing noted.")));
      return;
    }
  copy = wb_record_copy (inspection);
  if (!copy->seen_at.known)
    copy->seen_at = wb_clock_now (wb_clock_get ());
  records = g_ptr_array_new_with_free_func (wb_record_free);
  g_ptr_array_add (records, copy);
  why = g_strdup_printf (_("Look at %s"), code);
  wb_app_notebook_save_topic_async (notebook, "inspection", why, records, cancellable, wb_app_save_task_end_cb, task);
}

gboolean
wb_app_inspection_add_finish (WbAppNotebook *notebook,
                              GAsyncResult  *result,
                              GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), FALSE);
  return g_task_propagate_boolean (G_TASK (result), error);
}
