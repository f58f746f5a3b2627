/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-lot-trace-private.h"

#include "wb-app-error-private.h"
#include "wb-app-notebook-private.h"
#include "wb-app-reader-private.h"
#include "wb-app-stamp-private.h"
#include "wb-store-records.h"

#include <glib/gi18n-lib.h>

typedef struct
{
  WbAppLoads *loads;
  gint64      material;
  char       *code;
} Question;

static void
question_free (gpointer data)
{
  Question *self = data;

  wb_app_loads_unref (self->loads);
  g_free (self->code);
  g_free (self);
}

static Question *
question_new (WbAppNotebook *notebook,
              gint64         material,
              const char    *code)
{
  Question *self = g_new0 (Question, 1);

  self->loads = wb_app_loads_ref (wb_app_notebook_get_loads (notebook));
  self->material = material;
  self->code = g_strstrip (g_strdup (code));
  return self;
}

void
wb_app_lot_trace_free (WbAppLotTrace *self)
{
  if (self == NULL)
    return;
  g_free (self->title);
  g_free (self->code);
  g_ptr_array_unref (self->uses);
  g_free (self);
}

gpointer
wb_app_lot_load_material (WbStore *store,
                          gint64   material,
                          GError **error)
{
  const WbRecordType *const types[] = { &wb_vessel_type, &wb_wax_type, &wb_wick_type, &wb_fragrance_type, &wb_dye_type, &wb_additive_type };

  for (guint i = 0; i < G_N_ELEMENTS (types); i++)
    {
      gpointer record = wb_store_load (store, types[i], material, NULL);

      if (record != NULL)
        return record;
    }
  g_set_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN, _("There is no such material"));
  return NULL;
}

/* Adds the experiments in which any melt or sample names the code. Ids are gint64. */
static gboolean
add_experiments (WbStore            *store,
                 const WbRecordType *type,
                 const char         *code,
                 GArray             *ids,
                 GError            **error)
{
  g_autoptr (GPtrArray) records = wb_store_list (store, type, NULL, 0, error);
  const WbFieldSpec *of = wb_record_type_find_field (type, "experiment");

  for (guint i = 0; records != NULL && i < records->len; i++)
    {
      gint64 id = wb_record_get_integer (records->pdata[i], of);
      gboolean names = FALSE, known = FALSE;

      for (const WbCraftLotPlace *place = wb_craft_lot_places; place->material != NULL; place++)
        names |= place->record == type && wb_craft_lot_names (wb_craft_lot_get_text (records->pdata[i], place->material), code);
      for (guint k = 0; k < ids->len; k++)
        known |= g_array_index (ids, gint64, k) == id;
      if (names && !known)
        g_array_append_val (ids, id);
    }
  return records != NULL;
}

static gboolean
rests_on (const GPtrArray *parts,
          const GPtrArray *blends,
          const Question  *question)
{
  const WbCraftLotPart *part = wb_craft_lot_parts_find (parts, question->material, blends);

  return part != NULL && wb_craft_lot_names (part->lots, question->code);
}

static void
add_decisions (WbAppLotTrace        *self,
               const WbAppBenchLoad *load,
               const GPtrArray      *blends,
               const Question       *question)
{
  for (guint i = 0; i < load->data->decisions->len; i++)
    {
      const WbDecision *decision = g_ptr_array_index (load->data->decisions, i);
      g_autoptr (GPtrArray) parts = wb_craft_lot_parts_of_decision (load->data, decision);

      if (!rests_on (parts, blends, question))
        continue;
      g_ptr_array_add (self->uses, wb_app_lot_use_of_decision (load, decision));
      self->decisions++;
    }
}

/* A melt's own text alone says that it used a lot: that of one of its samples may be of a melt poured later. */
static gboolean
melt_rests_on (const WbDataset *data,
               const WbBatch   *batch,
               const GPtrArray *blends,
               const Question  *question)
{
  for (guint i = 0; i < data->samples->len; i++)
    {
      g_autoptr (GPtrArray) parts = NULL;
      const WbCraftLotPart *part;

      if (wb_dataset_get_sample (data, i)->batch != batch->record.id)
        continue;
      parts = wb_craft_lot_parts_of_sample (data, i);
      part = wb_craft_lot_parts_find (parts, question->material, blends);
      return part != NULL && wb_craft_lot_names (wb_craft_lot_get_text (batch, ((const WbRecord *) part->material)->type), question->code);
    }
  return FALSE;
}

static void
add_melt (WbAppLotTrace        *self,
          const WbAppBenchLoad *load,
          const WbBatch        *batch)
{
  WbAppLotUse *use = g_new0 (WbAppLotUse, 1);
  g_autoptr (GString) lots = g_string_new (NULL);
  guint candles = 0;

  use->kind = WB_APP_LOT_BATCH;
  use->experiment = load->id;
  use->experiment_code = g_strdup (load->data->experiment->code);
  use->id = batch->record.id;
  use->code = g_strdup (batch->code);
  use->day = wb_batch_get_day (batch);
  for (guint i = 0; i < load->data->samples->len; i++)
    if (wb_dataset_get_sample (load->data, i)->batch == batch->record.id && candles++ == 0)
      use->cell = wb_dataset_dup_scent_name (load->data, g_array_index (load->data->sample_cell, guint, i));
  use->state = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", candles), candles);
  for (const WbCraftLotPlace *place = wb_craft_lot_places; place->material != NULL; place++)
    {
      const char *text = place->record == &wb_batch_type ? wb_craft_lot_get_text (batch, place->material) : NULL;

      if (text != NULL)
        g_string_append_printf (lots, "%s%s %s", lots->len > 0 ? "; " : "", _(place->material->label), text);
    }
  if (lots->len > 0)
    use->lots = g_string_free (g_steal_pointer (&lots), FALSE);
  g_ptr_array_add (self->uses, use);
  self->batches++;
}

static void
add_samples (WbAppLotTrace        *self,
             const WbAppBenchLoad *load,
             const GPtrArray      *blends,
             const Question       *question)
{
  for (guint i = 0; i < load->data->samples->len; i++)
    {
      g_autoptr (GPtrArray) parts = wb_craft_lot_parts_of_sample (load->data, i);

      if (!rests_on (parts, blends, question))
        continue;
      g_ptr_array_add (self->uses, wb_app_lot_use_of_sample (load, i, load->data->notebook->us_units));
      self->samples++;
      self->crossed += load->crossings[i].crossed || load->crossings[i].broken;
    }
}

/* What was approved, then what went wrong, then the rest. */
static int
rank_use (const WbAppLotUse *use)
{
  return use->kind == WB_APP_LOT_DECISION ? 0 : use->worst != NULL ? 1 : 2;
}

static int
worst_first (gconstpointer a,
             gconstpointer b)
{
  const WbAppLotUse *one = *(WbAppLotUse *const *) a, *other = *(WbAppLotUse *const *) b;

  if (rank_use (one) != rank_use (other))
    return rank_use (one) - rank_use (other);
  return g_strcmp0 (one->experiment_code, other->experiment_code);
}

/* Whether the list of materials has it, and what it says. */
static gboolean
find_record (WbAppLotTrace *self,
             WbStore       *store,
             GError       **error)
{
  g_autoptr (GPtrArray) lots = wb_store_list (store, &wb_lot_type, NULL, 0, error);
  const WbLot *lot = lots != NULL ? wb_craft_lot_find (lots, &self->material, 1, self->code) : NULL;

  if (lot == NULL)
    return lots != NULL;
  self->is_record = TRUE;
  self->used_up = lot->used_up;
  g_free (self->code);
  self->code = g_strdup (lot->code);
  return TRUE;
}

static gpointer
read_trace (WbStore      *store,
            gpointer      data,
            GCancellable *cancellable,
            GError      **error)
{
  const Question *question = data;
  g_autoptr (WbRecord) material = wb_app_lot_load_material (store, question->material, error);
  /* a melt holds what its blend was mixed of when it was poured, whatever that is today */
  g_autoptr (GPtrArray) blends = material != NULL ? wb_store_list_versions (store, &wb_fragrance_part_type, NULL, 0, error) : NULL;
  g_autoptr (GHashTable) stamps = blends != NULL ? wb_app_stamp_list (store, error) : NULL;
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (WbAppLotTrace) self = NULL;

  if (stamps == NULL || !add_experiments (store, &wb_batch_type, question->code, ids, error)
      || !add_experiments (store, &wb_sample_type, question->code, ids, error))
    return NULL;
  self = g_new0 (WbAppLotTrace, 1);
  self->material = question->material;
  self->title = wb_material_dup_title (material);
  self->code = g_strdup (question->code);
  self->uses = wb_app_lot_uses_new ();
  if (!find_record (self, store, error))
    return NULL;
  for (guint i = 0; i < ids->len; i++)
    {
      gint64 id = g_array_index (ids, gint64, i);
      WbAppBenchLoad *load;

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return NULL;
      load = wb_app_loads_get (question->loads, store, id, wb_app_stamp_find (stamps, id), error);
      if (load == NULL)
        return NULL;
      add_decisions (self, load, blends, question);
      for (guint k = 0; k < load->data->batches->len; k++)
        if (melt_rests_on (load->data, g_ptr_array_index (load->data->batches, k), blends, question))
          add_melt (self, load, g_ptr_array_index (load->data->batches, k));
      add_samples (self, load, blends, question);
      wb_app_bench_load_unref (load);
    }
  g_ptr_array_sort (self->uses, worst_first);
  return g_steal_pointer (&self);
}

void
wb_app_lot_trace_async (WbAppNotebook      *notebook,
                        gint64              material,
                        const char         *code,
                        GCancellable       *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer            user)
{
  GTask *task;

  g_return_if_fail (WB_IS_APP_NOTEBOOK (notebook));
  g_return_if_fail (code != NULL);

  task = g_task_new (notebook, cancellable, callback, user);
  g_task_set_source_tag (task, wb_app_lot_trace_async);
  wb_app_reader_run (notebook, task, read_trace, question_new (notebook, material, code), question_free,
                     (GDestroyNotify) wb_app_lot_trace_free);
}

WbAppLotTrace *
wb_app_lot_trace_finish (WbAppNotebook *notebook,
                         GAsyncResult  *result,
                         GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, notebook), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

WbAppLotTrace *
wb_app_lot_trace_sync (WbAppNotebook *notebook,
                       gint64         material,
                       const char    *code,
                       GError       **error)
{
  Question *question = question_new (notebook, material, code);
  WbAppLotTrace *self = wb_app_reader_run_sync (notebook, read_trace, question, error);

  question_free (question);
  return self;
}

char *
wb_app_lot_trace_dup_sum (const WbAppLotTrace *self)
{
  g_autofree char *melts = NULL, *samples = NULL, *decisions = NULL, *crossed = NULL;

  g_return_val_if_fail (self != NULL, NULL);

  if (self->batches + self->samples + self->decisions == 0)
    return g_strdup (_("Nothing in this notebook was made of it."));
  melts = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u melt", "%u melts", self->batches), self->batches);
  samples = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample", "%u samples", self->samples), self->samples);
  decisions = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u decision", "%u decisions", self->decisions), self->decisions);
  if (self->crossed == 0)
    /* Translators: "3 melts", "36 samples", "1 decision" */
    return g_strdup_printf (_("%s, %s, %s. No sample is known to have crossed a limit."), melts, samples, decisions);
  crossed = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u sample crossed a limit.", "%u samples crossed a limit.", self->crossed), self->crossed);
  /* Translators: "3 melts", "36 samples", "1 decision", "2 samples crossed a limit." */
  return g_strdup_printf (_("%s, %s, %s. %s"), melts, samples, decisions, crossed);
}
