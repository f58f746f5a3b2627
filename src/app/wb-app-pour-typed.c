/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-pour-private.h"

#include "wb-store-records.h"

#include <math.h>

/*
 * Undo of a pour takes the batch and the samples back to where they were, and what was measured with them. It stands in the
 * record all the same: a person who took the pour back to mend one number finds the others as she typed them.
 */

static void
typed_free (gpointer data)
{
  WbAppPourTyped *self = data;

  wb_record_free (self->batch);
  g_ptr_array_unref (self->samples);
  g_ptr_array_unref (self->steps);
  g_free (self);
}

/* The version before the newest of the record at `first`; `*next`: where the next record's versions begin. NULL: there is none. */
static gpointer
get_previous (const GPtrArray *all,
              guint            first,
              guint           *next)
{
  const WbRecord *record = g_ptr_array_index (all, first);

  for (*next = first + 1; *next < all->len && ((const WbRecord *) g_ptr_array_index (all, *next))->id == record->id;)
    (*next)++;
  return *next - first >= 2 ? g_ptr_array_index (all, *next - 2) : NULL;
}

static gboolean
is_taken_back (WbStore  *store,
               gint64    number,
               gboolean *taken_back,
               GError  **error)
{
  g_autoptr (WbEntry) entry = wb_store_load_entry (store, number, error);

  *taken_back = entry != NULL && (entry->kind == WB_ENTRY_UNDO || entry->kind == WB_ENTRY_TAKE_BACK);
  return entry != NULL;
}

/* Samples that the same entry took out of the batch, and that nothing has changed since. */
static void
collect_samples (WbAppPourTyped  *self,
                 const GPtrArray *all,
                 gint64           entry)
{
  guint next;

  for (guint first = 0; first < all->len; first = next)
    {
      const WbSample *before = get_previous (all, first, &next);
      const WbRecord *newest = g_ptr_array_index (all, next - 1);

      if (before != NULL && newest->entry == entry && !newest->deleted && before->batch == self->batch->record.id)
        g_ptr_array_add (self->samples, wb_record_copy (before));
    }
}

/* Steps that the same entry took away with the batch. */
static gboolean
collect_steps (WbStore        *store,
               WbAppPourTyped *self,
               gint64          entry,
               GError        **error)
{
  g_autoptr (GPtrArray) all = wb_store_list_versions (store, &wb_batch_step_type, "batch", self->batch->record.id, error);
  guint next;

  for (guint first = 0; all != NULL && first < all->len; first = next)
    {
      WbRecord *before = get_previous (all, first, &next);

      if (before != NULL && ((const WbRecord *) g_ptr_array_index (all, next - 1))->entry == entry)
        g_ptr_array_add (self->steps, wb_record_copy (before));
    }
  return all != NULL;
}

static int
newest_first (gconstpointer a,
              gconstpointer b)
{
  const WbAppPourTyped *one = *(WbAppPourTyped *const *) a, *other = *(WbAppPourTyped *const *) b;

  return one->batch->record.entry > other->batch->record.entry ? -1 : one->batch->record.entry < other->batch->record.entry;
}

GPtrArray *
wb_app_pour_typed_read (WbStore *store,
                        gint64   experiment,
                        GError **error)
{
  g_autoptr (GPtrArray) batches = wb_store_list_versions (store, &wb_batch_type, "experiment", experiment, error);
  g_autoptr (GPtrArray) samples = batches != NULL ? wb_store_list_versions (store, &wb_sample_type, "experiment", experiment, error)
                                                  : NULL;
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (typed_free);
  guint next;

  for (guint first = 0; samples != NULL && first < batches->len; first = next)
    {
      const WbBatch *before = get_previous (batches, first, &next);
      const WbBatch *newest = g_ptr_array_index (batches, next - 1);
      gboolean taken_back;
      WbAppPourTyped *typed;

      if (before == NULL || !wb_batch_is_poured (before) || (!newest->record.deleted && wb_batch_is_poured (newest)))
        continue;
      if (!is_taken_back (store, newest->record.entry, &taken_back, error))
        return NULL;
      if (!taken_back)
        continue;
      typed = g_new0 (WbAppPourTyped, 1);
      typed->batch = wb_record_copy (before);
      typed->samples = g_ptr_array_new_with_free_func (wb_record_free);
      typed->steps = g_ptr_array_new_with_free_func (wb_record_free);
      collect_samples (typed, samples, newest->record.entry);
      g_ptr_array_add (all, typed);
      if (!collect_steps (store, typed, newest->record.entry, error))
        return NULL;
    }
  g_ptr_array_sort (all, newest_first);
  return samples != NULL ? g_steal_pointer (&all) : NULL;
}

static gboolean
is_of (const WbAppPourBatch *batch,
       const WbAppPourTyped *typed)
{
  const WbBatch *record = batch->batch;

  return !batch->poured && record->fragrance == typed->batch->fragrance && record->load_pct == typed->batch->load_pct
         && record->load_basis == typed->batch->load_basis;
}

static const WbSample *
find_sample (const WbAppPourTyped *typed,
             gint64                id)
{
  for (guint i = 0; i < typed->samples->len; i++)
    if (((const WbRecord *) g_ptr_array_index (typed->samples, i))->id == id)
      return g_ptr_array_index (typed->samples, i);
  return NULL;
}

/* What a person typed of the batch; its plan is of today. */
static void
take_batch (WbBatch       *record,
            const WbBatch *typed)
{
  static const char *const names[] = { "heat_c", "add_c", "pour_c", "room_c", "actual_wax_g", "actual_oil_g" };
  static const char *const texts[] = { "wax_lot", "fragrance_lot", "dye_lot", "additive_lot", "deviation", "note" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      const WbFieldSpec *field = wb_record_type_find_field (&wb_batch_type, names[i]);

      wb_record_set_real (record, field, wb_record_get_real (typed, field));
    }
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      const WbFieldSpec *field = wb_record_type_find_field (&wb_batch_type, texts[i]);

      wb_record_set_text (record, field, wb_record_get_text (typed, field));
    }
}

/* When and how hot a step was, where the plan still has it at that place. */
static void
take_steps (GPtrArray       *planned,
            const GPtrArray *typed)
{
  for (guint i = 0; i < planned->len; i++)
    for (guint k = 0; k < typed->len; k++)
      {
        WbBatchStep *step = g_ptr_array_index (planned, i);
        const WbBatchStep *done = g_ptr_array_index (typed, k);

        if (done->position != step->position || done->kind != step->kind)
          continue;
        step->done_at = done->done_at;
        step->actual_c = done->actual_c;
      }
}

/* One text of all is said of all; several are said of their wicks, each once. */
static void
take_wick_lots (const WbDataset      *data,
                WbAppPourBatch       *batch,
                const WbAppPourTyped *typed)
{
  g_autoptr (GArray) lots = wb_app_pour_wick_lots_new ();
  gboolean same = TRUE;

  for (guint i = 0; i < batch->samples->len; i++)
    {
      const WbSample *planned = g_ptr_array_index (batch->samples, i), *sample = find_sample (typed, planned->record.id);
      WbAppPourWickLot lot = { 0, NULL };

      for (guint k = 0; k < data->cells->len; k++)
        if (wb_dataset_get_cell (data, k)->record.id == planned->cell)
          lot.wick = wb_dataset_get_cell (data, k)->wick;
      for (guint k = 0; k < lots->len; k++)
        if (g_array_index (lots, WbAppPourWickLot, k).wick == lot.wick)
          lot.wick = 0;
      if (sample == NULL || lot.wick == 0)
        continue;
      lot.lot = g_strdup (sample->wick_lot);
      same = same && (lots->len == 0 || g_strcmp0 (g_array_index (lots, WbAppPourWickLot, 0).lot, lot.lot) == 0);
      g_array_append_val (lots, lot);
    }
  if (same && lots->len > 0)
    batch->typed_wick_lot = g_strdup (g_array_index (lots, WbAppPourWickLot, 0).lot);
  for (guint i = 0; !same && i < lots->len; i++)
    {
      WbAppPourWickLot lot = { g_array_index (lots, WbAppPourWickLot, i).wick, g_strdup (g_array_index (lots, WbAppPourWickLot, i).lot) };

      if (lot.lot != NULL)
        g_array_append_val (batch->typed_wick_lots, lot);
    }
}

static void
give (const WbDataset      *data,
      WbAppPourBatch       *batch,
      const WbAppPourTyped *typed)
{
  for (guint i = 0; i < batch->samples->len; i++)
    {
      const WbSample *sample = find_sample (typed, ((const WbRecord *) g_ptr_array_index (batch->samples, i))->id);
      WbAppPouredSample poured;

      if (sample == NULL)
        continue;
      poured.sample = sample->record.id;
      for (WbAppPoured k = 0; k < WB_APP_N_POURED; k++)
        poured.values[k] = wb_app_poured_get (sample, k);
      g_array_append_val (batch->typed_samples, poured);
      batch->typed_on = sample->poured_on;
      if (batch->typed_vessel_lot == NULL)
        batch->typed_vessel_lot = g_strdup (sample->vessel_lot);
    }
  if (batch->typed_samples->len == 0)
    return;
  take_wick_lots (data, batch, typed);
  take_batch (batch->batch, typed->batch);
  take_steps (batch->steps, typed->steps);
}

void
wb_app_pour_typed_give (const WbDataset *data,
                        const GPtrArray *typed,
                        GPtrArray       *batches)
{
  for (guint i = 0; i < batches->len; i++)
    {
      WbAppPourBatch *batch = g_ptr_array_index (batches, i);

      for (guint k = 0; k < typed->len && batch->typed_samples->len == 0; k++)
        if (is_of (batch, g_ptr_array_index (typed, k)))
          give (data, batch, g_ptr_array_index (typed, k));
    }
}
