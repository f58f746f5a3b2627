/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-stock.h"

#include "wb-app-reader-private.h"
#include "wb-store-records.h"

/* When each entry was made that wrote one of these versions: gint64 -> WbInstant. */
static GHashTable *
load_times (WbStore    *store,
            GPtrArray  *versions,
            GError    **error)
{
  g_autoptr (GHashTable) times = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);

  for (guint i = 0; i < versions->len; i++)
    {
      gint64 number = ((const WbRecord *) versions->pdata[i])->entry;
      g_autoptr (WbEntry) entry = NULL;

      if (g_hash_table_contains (times, &number))
        continue;
      entry = wb_store_load_entry (store, number, error);
      if (entry == NULL)
        return NULL;
      g_hash_table_insert (times, g_memdup2 (&number, sizeof number), g_memdup2 (&entry->at, sizeof entry->at));
    }
  return g_steal_pointer (&times);
}

static WbCraftBlends *
load_blends (WbStore *store,
             GError **error)
{
  g_autoptr (GPtrArray) versions = wb_store_list_versions (store, &wb_fragrance_part_type, NULL, 0, error);
  g_autoptr (GHashTable) times = versions != NULL ? load_times (store, versions, error) : NULL;

  return times != NULL ? wb_craft_blends_new (versions, times) : NULL;
}

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

  g_autoptr (WbCraftBlends) blends = NULL;
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
  if (keeps)
    {
      blends = load_blends (store, error);
      if (blends == NULL)
        return NULL;
    }
  return wb_craft_stock_new (&(WbCraftStockInput) {
    .lots = tables->pdata[0], .batches = tables->pdata[1], .samples = tables->pdata[2],
    .cells = tables->pdata[3], .experiments = tables->pdata[4], .parts = tables->pdata[5], .blends = blends
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
