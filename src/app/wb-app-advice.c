/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-advice.h"

#include "wb-app-reader-private.h"
#include "wb-store-records.h"

static gpointer
advise (WbStore      *store,
        gpointer      data,
        GCancellable *cancellable,
        GError      **error)
{
  const WbCraftAnswer *answer = data;
  g_autoptr (GPtrArray) wicks = wb_store_list (store, &wb_wick_type, NULL, 0, error);

  if (wicks == NULL)
    return NULL;
  return wb_craft_advice_new (answer->data, answer->figures, answer->limits, answer->estimates, answer->ranking, wicks, 0);
}

void
wb_app_advice_async (WbAppNotebook      *notebook,
                     WbCraftAnswer      *answer,
                     GCancellable       *cancellable,
                     GAsyncReadyCallback callback,
                     gpointer            user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (answer != NULL);

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_advice_async);
  wb_app_reader_run (notebook, task, advise, wb_craft_answer_ref (answer), (GDestroyNotify) wb_craft_answer_unref,
                     (GDestroyNotify) wb_craft_advice_free);
}

WbCraftAdvice *
wb_app_advice_finish (WbAppNotebook *notebook,
                      GAsyncResult  *result,
                      GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbCraftAdvice *
wb_app_advice_sync (WbAppNotebook *notebook,
                    WbCraftAnswer *answer,
                    GError       **error)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  g_return_val_if_fail (answer != NULL, NULL);
  return wb_app_reader_run_sync (notebook, advise, answer, error);
}
