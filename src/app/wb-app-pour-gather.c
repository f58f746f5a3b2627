/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-pour-private.h"

#include "wb-craft-method.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Batches are made of what the data set holds: which samples go together, how much each takes, what the sheet says. */

void
wb_app_pour_data_free (WbAppPourData *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->dataset, wb_dataset_free);
  g_clear_pointer (&self->parts, g_ptr_array_unref);
  g_clear_pointer (&self->lots, g_ptr_array_unref);
  g_clear_pointer (&self->fragrances, g_ptr_array_unref);
  g_clear_pointer (&self->method, g_ptr_array_unref);
  g_clear_pointer (&self->typed, g_ptr_array_unref);
  g_clear_pointer (&self->covers, g_ptr_array_unref);
  g_free (self);
}

static void
batch_free (gpointer data)
{
  WbAppPourBatch *self = data;

  wb_record_free (self->batch);
  g_clear_pointer (&self->sheet, wb_craft_batch_sheet_free);
  g_free (self->refusal);
  g_free (self->title);
  g_free (self->typed_wick_lot);
  g_array_unref (self->typed_wick_lots);
  g_free (self->typed_vessel_lot);
  g_array_unref (self->typed_samples);
  g_array_unref (self->lines);
  g_ptr_array_unref (self->samples);
  g_clear_pointer (&self->steps, g_ptr_array_unref);
  g_free (self);
}

GPtrArray *
wb_app_pour_batches_new (void)
{
  return g_ptr_array_new_with_free_func (batch_free);
}

/* Takes the record. */
static WbAppPourBatch *
add_batch (GPtrArray *batches,
           WbBatch   *record)
{
  WbAppPourBatch *batch = g_new0 (WbAppPourBatch, 1);

  batch->batch = record;
  batch->poured = wb_batch_is_poured (record);
  batch->lines = g_array_new (FALSE, FALSE, sizeof (WbAppPourLine));
  batch->samples = g_ptr_array_new ();
  batch->typed_on = WB_DAY_NONE;
  batch->typed_wick_lots = wb_app_pour_wick_lots_new ();
  batch->typed_samples = g_array_new (FALSE, FALSE, sizeof (WbAppPouredSample));
  g_ptr_array_add (batches, batch);
  return batch;
}

static gboolean
fits (const WbAppPourBatch *batch,
      const WbSample       *sample,
      const WbCell         *cell)
{
  const WbBatch *record = batch->batch;

  if (sample->batch != 0)
    return sample->batch == record->record.id;
  return record->record.id == 0 && record->fragrance == cell->fragrance && record->load_pct == cell->load_pct
         && record->load_basis == cell->load_basis;
}

static WbBatch *
propose (const WbDataset      *data,
         const WbCell         *cell,
         const WbAppPourTerms *terms)
{
  WbBatch *record = wb_record_new (&wb_batch_type);

  record->experiment = data->experiment->record.id;
  record->fragrance = cell->fragrance;
  record->load_pct = cell->load_pct;
  record->load_basis = cell->load_basis;
  record->overage_pct = terms->overage_pct;
  record->hold_back_pct = !isnan (terms->hold_back_pct)             ? terms->hold_back_pct
                          : data->wax != NULL && !isnan (data->wax->hold_back_pct) ? data->wax->hold_back_pct
                                                                    : 0;
  record->resolution_g = terms->resolution_g;
  return record;
}

static void
add_sample (WbAppPourBatch *batch,
            WbSample       *sample,
            const WbVessel *vessel)
{
  WbAppPourLine line = { vessel, 1, NAN };

  g_ptr_array_add (batch->samples, sample);
  for (guint i = 0; i < batch->lines->len; i++)
    if (g_array_index (batch->lines, WbAppPourLine, i).vessel == vessel)
      {
        g_array_index (batch->lines, WbAppPourLine, i).candles++;
        return;
      }
  g_array_append_val (batch->lines, line);
}

static const WbFragrance *
find_fragrance (const WbAppPourData *data,
                gint64               id)
{
  for (guint i = 0; i < data->fragrances->len; i++)
    if (((const WbRecord *) g_ptr_array_index (data->fragrances, i))->id == id)
      return g_ptr_array_index (data->fragrances, i);
  return NULL;
}

static void
oil_part_clear (gpointer part)
{
  g_free (((WbCraftOilPart *) part)->name);
}

GArray *
wb_app_pour_dup_oil_parts (const WbAppPourData *data,
                           const WbFragrance   *fragrance)
{
  GArray *parts;

  if (fragrance == NULL || !fragrance->blend)
    return NULL;
  parts = g_array_new (FALSE, FALSE, sizeof (WbCraftOilPart));
  g_array_set_clear_func (parts, oil_part_clear);
  for (guint i = 0; i < data->parts->len; i++)
    {
      const WbFragrancePart *part = g_ptr_array_index (data->parts, i);
      const WbFragrance *oil = find_fragrance (data, part->part);
      WbCraftOilPart item = { NULL, part->share_pct };

      if (part->fragrance != fragrance->record.id || oil == NULL)
        continue;
      item.name = g_strdup (oil->name);
      g_array_append_val (parts, item);
    }
  return parts;
}

static void
write_sheet (const WbAppPourData *data,
             WbAppPourBatch      *batch)
{
  const WbDataset *set = data->dataset;
  g_autoptr (GArray) parts = wb_app_pour_dup_oil_parts (data, batch->fragrance);
  g_autofree WbCraftBatchLine *lines = g_new0 (WbCraftBatchLine, batch->lines->len + 1);
  g_autoptr (GError) error = NULL;
  WbCraftBatchInput input = {
    .lines = lines,
    .n_lines = batch->lines->len,
    .load_pct = batch->batch->load_pct,
    .load_basis = batch->batch->load_basis,
    .overage_pct = batch->batch->overage_pct,
    .hold_back_pct = batch->batch->hold_back_pct,
    .resolution_g = batch->batch->resolution_g,
    .dye_pct = set->dye != NULL ? set->experiment->dye_pct : NAN,
    .dye_drops_per_kg = set->dye != NULL ? set->experiment->dye_drops_per_kg : NAN,
    .drop_g = set->dye != NULL ? set->dye->drop_g : NAN,
    .additive_pct = set->additive != NULL ? set->experiment->additive_pct : NAN,
    .oil_parts = parts,
    .wax = set->wax,
    .fragrance = batch->fragrance,
    .specific_gravity = set->wax != NULL ? set->wax->density : NAN,
    .steps = batch->steps->len > 0 ? batch->steps : NULL,
    .us_units = set->notebook != NULL && set->notebook->us_units,
  };

  if (batch->samples->len == 0)
    return;
  for (guint i = 0; i < batch->lines->len; i++)
    {
      const WbAppPourLine *line = &g_array_index (batch->lines, WbAppPourLine, i);

      lines[i] = (WbCraftBatchLine) { line->vessel, line->candles, NAN };
    }
  batch->sheet = wb_craft_batch_sheet_new (&input, &error);
  if (batch->sheet == NULL)
    batch->refusal = g_strdup (error->message);
  for (guint i = 0; batch->sheet != NULL && i < batch->lines->len; i++)
    g_array_index (batch->lines, WbAppPourLine, i).fill_g = g_array_index (batch->sheet->fills, WbCraftBatchFill, i).fill_g;
}

/* As they were done, or what the method asks of this batch. */
static void
add_steps (const WbAppPourData *data,
           WbAppPourBatch      *batch)
{
  const WbDataset *set = data->dataset;
  g_autoptr (GPtrArray) method = set->wax != NULL ? wb_craft_method_of (set->wax, data->method) : NULL;
  WbCraftMethodOf of = { batch->batch->load_pct > 0, set->dye != NULL || set->additive != NULL, batch->batch->hold_back_pct > 0 };

  batch->steps = g_ptr_array_new_with_free_func (wb_record_free);
  for (guint i = 0; i < set->batch_steps->len; i++)
    if (batch->batch->record.id > 0 && ((const WbBatchStep *) set->batch_steps->pdata[i])->batch == batch->batch->record.id)
      g_ptr_array_add (batch->steps, wb_record_copy (set->batch_steps->pdata[i]));
  if (batch->poured || batch->steps->len > 0 || method == NULL)
    return;
  g_ptr_array_unref (batch->steps);
  batch->steps = wb_craft_method_plan (method, of);
}

/* Planned masses of a batch that is not poured are those of its sheet. */
static void
plan_masses (WbAppPourBatch *batch)
{
  if (batch->poured || batch->sheet == NULL)
    return;
  batch->batch->wax_g = batch->sheet->wax_g;
  batch->batch->oil_g = batch->sheet->oil_g;
  batch->batch->dye_g = batch->sheet->dye_g;
  batch->batch->additive_g = batch->sheet->additive_g;
}

static char *
dup_title (const WbAppPourBatch *batch)
{
  const WbBatch *record = batch->batch;
  g_autofree char *load = NULL;

  if (batch->fragrance == NULL)
    return g_strdup (_("no fragrance"));
  load = wb_number_format_trimmed (record->load_pct, 2, NULL);
  return g_strdup_printf (record->load_basis == WB_BASIS_TOTAL ? _("%s %s\302\240%% of the total") : _("%s %s\302\240%% of the wax"),
                          batch->fragrance->name, load);
}

static WbAppPourBatch *
find_batch (GPtrArray      *batches,
            const WbSample *sample,
            const WbCell   *cell)
{
  for (guint i = 0; i < batches->len; i++)
    if (fits (g_ptr_array_index (batches, i), sample, cell))
      return g_ptr_array_index (batches, i);
  return NULL;
}

/* ---- A batch's number ---- */

static gboolean
is_of_scent (const WbCell  *cell,
             const WbBatch *record)
{
  return cell->fragrance == record->fragrance && cell->load_pct == record->load_pct && cell->load_basis == record->load_basis;
}

/* The place of its scent among those of the plan, from 1: the same whatever of them is poured already. */
static guint
get_place (const WbDataset *data,
           const WbBatch   *record)
{
  guint place = 1;

  for (guint i = 0; i < data->cells->len; i++)
    {
      const WbCell *cell = wb_dataset_get_cell (data, i);
      gboolean earlier = FALSE;

      if (is_of_scent (cell, record))
        return place;
      for (guint k = 0; k < i && !earlier; k++)
        {
          const WbCell *before = wb_dataset_get_cell (data, k);

          earlier = before->fragrance == cell->fragrance && before->load_pct == cell->load_pct && before->load_basis == cell->load_basis;
        }
      place += earlier ? 0 : 1;
    }
  return place;
}

static gboolean
take_code (GHashTable *codes,
           WbBatch    *record,
           guint       number)
{
  g_autofree char *code = g_strdup_printf ("B%u", number);

  if (g_hash_table_contains (codes, code))
    return FALSE;
  record->code = g_steal_pointer (&code);
  return g_hash_table_add (codes, record->code);
}

/*
 * A number that hangs at the scale on paper stays its own while the batch waits: the place of its scent in the plan. Only where
 * that is another batch's already (a second melt of the scent) it is the first that is free.
 */
static void
number_batches (const WbDataset *data,
                GPtrArray       *batches)
{
  g_autoptr (GHashTable) codes = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < batches->len; i++)
    if (((WbAppPourBatch *) batches->pdata[i])->batch->code != NULL)
      g_hash_table_add (codes, ((WbAppPourBatch *) batches->pdata[i])->batch->code);
  for (guint i = 0; i < batches->len; i++)
    {
      WbBatch *record = ((WbAppPourBatch *) batches->pdata[i])->batch;

      if (record->code == NULL)
        take_code (codes, record, get_place (data, record));
    }
  for (guint i = 0; i < batches->len; i++)
    {
      WbBatch *record = ((WbAppPourBatch *) batches->pdata[i])->batch;

      for (guint number = 1; record->code == NULL; number++)
        take_code (codes, record, number);
    }
}

static int
compare_codes (gconstpointer a,
               gconstpointer b)
{
  const WbAppPourBatch *one = *(WbAppPourBatch *const *) a, *other = *(WbAppPourBatch *const *) b;
  g_autofree char *key = g_utf8_collate_key_for_filename (one->batch->code, -1);
  g_autofree char *other_key = g_utf8_collate_key_for_filename (other->batch->code, -1);

  return strcmp (key, other_key);
}

GPtrArray *
wb_app_pour_gather (const WbAppPourData  *data,
                    const WbAppPourTerms *terms)
{
  const WbDataset *set = data->dataset;
  GPtrArray *batches = wb_app_pour_batches_new ();

  for (guint i = 0; i < set->batches->len; i++)
    add_batch (batches, wb_record_copy (g_ptr_array_index (set->batches, i)));
  for (guint i = 0; i < set->samples->len; i++)
    {
      WbSample *sample = g_ptr_array_index (set->samples, i);
      guint cell = g_array_index (set->sample_cell, guint, i);
      WbAppPourBatch *batch;

      /* Poured without a batch: it came from a file. */
      if (sample->batch == 0 && sample->poured_on != WB_DAY_NONE)
        continue;
      batch = find_batch (batches, sample, wb_dataset_get_cell (set, cell));
      if (batch == NULL && sample->batch == 0)
        batch = add_batch (batches, propose (set, wb_dataset_get_cell (set, cell), terms));
      if (batch != NULL)
        add_sample (batch, sample, wb_dataset_get_vessel (set, cell));
    }
  number_batches (set, batches);
  g_ptr_array_sort (batches, compare_codes);
  for (guint i = 0; i < batches->len; i++)
    {
      WbAppPourBatch *batch = g_ptr_array_index (batches, i);

      batch->fragrance = find_fragrance (data, batch->batch->fragrance);
      batch->title = dup_title (batch);
      add_steps (data, batch);
      write_sheet (data, batch);
      plan_masses (batch);
    }
  wb_app_pour_typed_give (set, data->typed, batches);
  return batches;
}
