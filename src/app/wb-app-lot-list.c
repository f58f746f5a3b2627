/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-lot-trace-private.h"

#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-stamp-private.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

/* All lots at once, and the way back from what was made to what it was made of. */

typedef struct
{
  GPtrArray *lots;    /* WbLot */
  GPtrArray *blends;  /* WbFragrancePart, every version: of what a blend was ever mixed */
  GPtrArray *traces;  /* WbAppLotTrace, without uses */
} Listing;

static WbAppLotTrace *
find_trace (const Listing *self,
            gint64         material,
            const char    *code)
{
  for (guint i = 0; i < self->traces->len; i++)
    {
      WbAppLotTrace *trace = g_ptr_array_index (self->traces, i);

      if (trace->material == material && wb_craft_lot_names (trace->code, code))
        return trace;
    }
  return NULL;
}

static WbAppLotTrace *
add_trace (Listing       *self,
           gconstpointer  material,
           const char    *code)
{
  WbAppLotTrace *trace = g_new0 (WbAppLotTrace, 1);

  trace->material = ((const WbRecord *) material)->id;
  trace->title = wb_material_dup_title (material);
  trace->code = g_strdup (code);
  trace->uses = wb_app_lot_uses_new ();
  g_ptr_array_add (self->traces, trace);
  return trace;
}

/* A code of a blend's text is that part's whose lot it is; where no part has such a lot, it is the blend's own. */
static WbAppLotTrace *
get_trace (Listing       *self,
           gconstpointer  material,
           const char    *code)
{
  g_autoptr (GArray) owners = wb_craft_lot_dup_owners (((const WbRecord *) material)->id, self->blends);
  const WbLot *lot = wb_craft_lot_find (self->lots, (const gint64 *) (gpointer) owners->data, owners->len, code);
  WbAppLotTrace *trace = find_trace (self, lot != NULL ? lot->material : ((const WbRecord *) material)->id, code);

  return trace != NULL ? trace : add_trace (self, material, code);
}

typedef enum { COUNT_BATCH, COUNT_SAMPLE, COUNT_CROSSED, COUNT_DECISION } Count;

static void
count_text (Listing       *self,
            gconstpointer  material,
            const char    *text,
            Count          what)
{
  g_auto (GStrv) codes = wb_craft_lot_split (text);

  for (guint i = 0; codes[i] != NULL; i++)
    {
      WbAppLotTrace *trace = get_trace (self, material, codes[i]);

      trace->batches += what == COUNT_BATCH;
      trace->samples += what == COUNT_SAMPLE || what == COUNT_CROSSED;
      trace->crossed += what == COUNT_CROSSED;
      trace->decisions += what == COUNT_DECISION;
    }
}

static void
count_parts (Listing   *self,
             GPtrArray *parts /* taken */,
             Count      what)
{
  for (guint i = 0; i < parts->len; i++)
    {
      const WbCraftLotPart *part = g_ptr_array_index (parts, i);

      count_text (self, part->material, part->lots, what);
    }
  g_ptr_array_unref (parts);
}

static void
count_melt (Listing         *self,
            const WbDataset *data,
            const WbBatch   *batch)
{
  for (guint i = 0; i < data->samples->len; i++)
    {
      g_autoptr (GPtrArray) parts = NULL;

      if (wb_dataset_get_sample (data, i)->batch != batch->record.id)
        continue;
      parts = wb_craft_lot_parts_of_sample (data, i);
      for (guint k = 0; k < parts->len; k++)
        {
          const WbCraftLotPart *part = g_ptr_array_index (parts, k);

          count_text (self, part->material, wb_craft_lot_get_text (batch, ((const WbRecord *) part->material)->type), COUNT_BATCH);
        }
      return;
    }
}

static void
count_load (Listing              *self,
            const WbAppBenchLoad *load)
{
  for (guint i = 0; i < load->data->batches->len; i++)
    count_melt (self, load->data, g_ptr_array_index (load->data->batches, i));
  for (guint i = 0; i < load->data->samples->len; i++)
    count_parts (self, wb_craft_lot_parts_of_sample (load->data, i),
                 load->crossings[i].crossed || load->crossings[i].broken ? COUNT_CROSSED : COUNT_SAMPLE);
  for (guint i = 0; i < load->data->decisions->len; i++)
    count_parts (self, wb_craft_lot_parts_of_decision (load->data, g_ptr_array_index (load->data->decisions, i)), COUNT_DECISION);
}

static int
by_title (gconstpointer a,
          gconstpointer b)
{
  const WbAppLotTrace *one = *(WbAppLotTrace *const *) a, *other = *(WbAppLotTrace *const *) b;
  int order = g_utf8_collate (one->title, other->title);

  return order != 0 ? order : g_strcmp0 (one->code, other->code);
}

static gboolean
add_records (Listing *self,
             WbStore *store,
             GError **error)
{
  for (guint i = 0; i < self->lots->len; i++)
    {
      const WbLot *lot = g_ptr_array_index (self->lots, i);
      g_autoptr (WbRecord) material = wb_app_lot_load_material (store, lot->material, error);
      WbAppLotTrace *trace;

      if (material == NULL)
        return FALSE;
      trace = add_trace (self, material, lot->code);
      trace->is_record = TRUE;
      trace->used_up = lot->used_up;
    }
  return TRUE;
}

static gpointer
read_list (WbStore      *store,
           gpointer      data,
           GCancellable *cancellable,
           GError      **error)
{
  WbAppLoads *loads = data;
  g_autoptr (GPtrArray) lots = wb_store_list (store, &wb_lot_type, NULL, 0, error);
  g_autoptr (GPtrArray) blends = lots != NULL ? wb_store_list_versions (store, &wb_fragrance_part_type, NULL, 0, error) : NULL;
  g_autoptr (GHashTable) stamps = blends != NULL ? wb_app_stamp_list (store, error) : NULL;
  g_autoptr (GPtrArray) traces = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_app_lot_trace_free);
  Listing self = { lots, blends, traces };
  GHashTableIter iter;
  gpointer id, stamp;

  if (stamps == NULL || !add_records (&self, store, error))
    return NULL;
  g_hash_table_iter_init (&iter, stamps);
  while (g_hash_table_iter_next (&iter, &id, &stamp))
    {
      WbAppBenchLoad *load = wb_app_loads_get (loads, store, *(gint64 *) id, *(gint64 *) stamp, error);

      if (load == NULL)
        return NULL;
      count_load (&self, load);
      wb_app_bench_load_unref (load);
    }
  g_ptr_array_sort (traces, by_title);
  return g_steal_pointer (&traces);
}

GPtrArray *
wb_app_lot_trace_list_sync (WbAppNotebook *notebook,
                            GError       **error)
{
  return wb_app_reader_run_sync (notebook, read_list, wb_app_notebook_get_loads (notebook), error);
}

static gpointer
find_material (WbStore      *store,
               gpointer      data,
               GCancellable *cancellable,
               GError      **error)
{
  const char *title = data;
  const WbRecordType *const types[] = { &wb_vessel_type, &wb_wax_type, &wb_wick_type, &wb_fragrance_type, &wb_dye_type, &wb_additive_type };
  g_autoptr (GString) known = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (types); i++)
    {
      g_autoptr (GPtrArray) records = wb_store_list (store, types[i], NULL, 0, error);
      const WbFieldSpec *name = wb_record_type_find_field (types[i], "name");

      if (records == NULL)
        return NULL;
      for (guint k = 0; k < records->len; k++)
        {
          g_autofree char *own = wb_material_dup_title (records->pdata[k]);

          if (g_strcmp0 (own, title) == 0 || (name != NULL && g_strcmp0 (wb_record_get_text (records->pdata[k], name), title) == 0))
            return g_memdup2 (&((const WbRecord *) records->pdata[k])->id, sizeof (gint64));
          g_string_append_printf (known, "%s%s", known->len > 0 ? "; " : "", own);
        }
    }
  if (known->len == 0)
    g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("No material “%s”: the notebook holds none"), title);
  else
    g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("No material “%s”; known are: %s"), title, known->str);
  return NULL;
}

gint64
wb_app_lot_trace_find_material_sync (WbAppNotebook *notebook,
                                     const char    *title,
                                     GError       **error)
{
  g_autofree gint64 *found = wb_app_reader_run_sync (notebook, find_material, (gpointer) title, error);

  return found != NULL ? *found : 0;
}

typedef struct
{
  WbAppLoads *loads;
  gint64      experiment;
} Back;

static gpointer
read_back (WbStore      *store,
           gpointer      data,
           GCancellable *cancellable,
           GError      **error)
{
  const Back *back = data;
  g_autoptr (GHashTable) stamps = wb_app_stamp_list (store, error);
  WbAppBenchLoad *load = stamps != NULL ? wb_app_loads_get (back->loads, store, back->experiment, wb_app_stamp_find (stamps, back->experiment), error)
                                        : NULL;
  GPtrArray *uses;

  if (load == NULL)
    return NULL;
  uses = wb_app_lot_uses_new ();
  for (guint i = 0; i < load->data->decisions->len; i++)
    g_ptr_array_add (uses, wb_app_lot_use_of_decision (load, g_ptr_array_index (load->data->decisions, i)));
  for (guint i = 0; i < load->data->samples->len; i++)
    if (wb_craft_lot_is_poured (wb_dataset_get_sample (load->data, i)))
      g_ptr_array_add (uses, wb_app_lot_use_of_sample (load, i, load->data->notebook->us_units));
  wb_app_bench_load_unref (load);
  return uses;
}

GPtrArray *
wb_app_lot_trace_back_sync (WbAppNotebook *notebook,
                            gint64         experiment,
                            GError       **error)
{
  Back back = { wb_app_notebook_get_loads (notebook), experiment };

  return wb_app_reader_run_sync (notebook, read_back, &back, error);
}
