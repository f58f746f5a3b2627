/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-lot-shelf.h"

#include "wb-app-reader-private.h"
#include "wb-craft-lot.h"
#include "wb-experiment.h"
#include "wb-store-records.h"

static gpointer
load_thread (WbStore      *store,
             gpointer      data,
             GCancellable *cancellable,
             GError      **error)
{
  g_autoptr (WbRecord) sample = wb_store_load (store, &wb_sample_type, *(const gint64 *) data, error);
  g_autoptr (WbRecord) cell = sample != NULL ? wb_store_load (store, &wb_cell_type, ((const WbSample *) (gpointer) sample)->cell, error) : NULL;
  g_autoptr (WbRecord) experiment = cell != NULL ? wb_store_load (store, &wb_experiment_type, ((const WbCell *) (gpointer) cell)->experiment, error) : NULL;
  g_autoptr (WbAppLotShelf) self = NULL;

  if (experiment == NULL)
    return NULL;
  self = g_new0 (WbAppLotShelf, 1);
  self->wax = ((const WbExperiment *) (gpointer) experiment)->wax;
  self->dye = ((const WbExperiment *) (gpointer) experiment)->dye;
  self->additive = ((const WbExperiment *) (gpointer) experiment)->additive;
  self->fragrance = ((const WbCell *) (gpointer) cell)->fragrance;
  self->vessel = ((const WbCell *) (gpointer) cell)->vessel;
  self->wick = ((const WbCell *) (gpointer) cell)->wick;
  self->wax_record = self->wax != 0 ? wb_store_load (store, &wb_wax_type, self->wax, NULL) : NULL;
  self->fragrance_record = self->fragrance != 0 ? wb_store_load (store, &wb_fragrance_type, self->fragrance, NULL) : NULL;
  self->lots = wb_store_list (store, &wb_lot_type, NULL, 0, error);
  self->parts = self->lots != NULL ? wb_store_list (store, &wb_fragrance_part_type, NULL, 0, error) : NULL;
  return self->parts != NULL ? g_steal_pointer (&self) : NULL;
}

void
wb_app_lot_shelf_async (WbAppNotebook      *notebook,
                        gint64              sample,
                        GCancellable       *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer            user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_lot_shelf_async);
  wb_app_reader_run (notebook, task, load_thread, g_memdup2 (&sample, sizeof sample), g_free, (GDestroyNotify) wb_app_lot_shelf_free);
}

WbAppLotShelf *
wb_app_lot_shelf_finish (WbAppNotebook *notebook,
                         GAsyncResult  *result,
                         GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

void
wb_app_lot_shelf_free (WbAppLotShelf *self)
{
  if (self == NULL)
    return;
  wb_record_free (self->wax_record);
  wb_record_free (self->fragrance_record);
  g_clear_pointer (&self->lots, g_ptr_array_unref);
  g_clear_pointer (&self->parts, g_ptr_array_unref);
  g_free (self);
}

gint64
wb_app_lot_shelf_get_material (const WbAppLotShelf *self,
                               const char          *field)
{
  const struct { const char *field; gint64 material; } places[] = {
    { "wax_lot", self->wax }, { "dye_lot", self->dye }, { "additive_lot", self->additive },
    { "fragrance_lot", self->fragrance }, { "vessel_lot", self->vessel }, { "wick_lot", self->wick },
  };

  g_return_val_if_fail (field != NULL, 0);

  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    if (g_str_equal (places[i].field, field))
      return places[i].material;
  return 0;
}

void
wb_app_lot_shelf_add_missing (const WbAppLotShelf *self,
                              GPtrArray           *records,
                              gconstpointer        record,
                              gconstpointer        was)
{
  const WbRecordType *type;
  WbDay day;

  g_return_if_fail (self != NULL && records != NULL);
  g_return_if_fail (record != NULL && was != NULL);

  type = ((const WbRecord *) record)->type;
  day = type == &wb_batch_type ? wb_batch_get_day (record) : type == &wb_sample_type ? ((const WbSample *) record)->poured_on : WB_DAY_NONE;
  for (guint i = 0; i < type->n_fields; i++)
    {
      const WbFieldSpec *field = &type->fields[i];
      gint64 material = field->type == WB_FIELD_TEXT ? wb_app_lot_shelf_get_material (self, field->name) : 0;
      g_autoptr (GArray) owners = NULL;

      if (material == 0 || wb_record_field_equal (record, was, field))
        continue;
      owners = wb_craft_lot_dup_owners (material, self->parts);
      wb_craft_lot_add_missing (records, self->lots, (const gint64 *) (gpointer) owners->data, owners->len, wb_record_get_text (record, field), day);
    }
}
