/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-stock.h"

#include "wb-app-reader-private.h"
#include "wb-store-records.h"

static gpointer
load_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  g_autoptr (GPtrArray) notebooks = wb_store_list (store, &wb_notebook_type, NULL, 0, error);
  g_autoptr (GPtrArray) tables = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  static const WbRecordType *const types[] = {
    &wb_lot_type, &wb_batch_type, &wb_sample_type, &wb_cell_type, &wb_experiment_type, &wb_fragrance_part_type
  };

  gboolean keeps;

  if (notebooks == NULL)
    return NULL;
  keeps = notebooks->len > 0 && ((const WbNotebook *) notebooks->pdata[0])->keeps_stock;
  for (guint i = 0; i < G_N_ELEMENTS (types); i++)
    {
      GPtrArray *records = keeps ? wb_store_list (store, types[i], NULL, 0, error)
                                 : g_ptr_array_new_with_free_func (wb_record_free);

      if (records == NULL)
        return NULL;
      g_ptr_array_add (tables, records);
    }
  return wb_craft_stock_new (&(WbCraftStockInput) {
    .lots = tables->pdata[0], .batches = tables->pdata[1], .samples = tables->pdata[2],
    .cells = tables->pdata[3], .experiments = tables->pdata[4], .parts = tables->pdata[5]
  });
}

void
wb_app_stock_load_async (WbAppNotebook      *notebook,
                         GCancellable       *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer            user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_stock_load_async);
  wb_app_reader_run (notebook, task, load_thread, NULL, NULL, (GDestroyNotify) wb_craft_stock_free);
}

WbCraftStock *
wb_app_stock_load_finish (WbAppNotebook *notebook,
                          GAsyncResult  *result,
                          GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbCraftStock *
wb_app_stock_load_sync (WbAppNotebook *notebook,
                        GError       **error)
{
  g_return_val_if_fail (WB_IS_APP_NOTEBOOK (notebook), NULL);
  return wb_app_reader_run_sync (notebook, load_thread, NULL, error);
}
