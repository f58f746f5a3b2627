/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-lot-part.h"

static void
part_free (gpointer data)
{
  WbCraftLotPart *self = data;

  g_free (self->lots);
  g_free (self);
}

static void
add_part (GPtrArray     *parts,
          gconstpointer  material)
{
  WbCraftLotPart *part;

  if (material == NULL)
    return;
  part = g_new0 (WbCraftLotPart, 1);
  part->material = material;
  g_ptr_array_add (parts, part);
}

static GPtrArray *
list_cell (const WbDataset *data,
           guint            cell)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func (part_free);

  add_part (parts, wb_dataset_get_vessel (data, cell));
  add_part (parts, data->wax);
  add_part (parts, wb_dataset_get_wick (data, cell));
  add_part (parts, wb_dataset_get_fragrance (data, cell));
  add_part (parts, data->dye);
  add_part (parts, data->additive);
  return parts;
}

static const WbBatch *
find_batch (const WbDataset *data,
            gint64           id)
{
  for (guint i = 0; i < data->batches->len; i++)
    if (((const WbRecord *) g_ptr_array_index (data->batches, i))->id == id)
      return g_ptr_array_index (data->batches, i);
  return NULL;
}

static void
take_sample (GPtrArray       *parts,
             const WbDataset *data,
             const WbSample  *sample)
{
  const WbBatch *batch = find_batch (data, sample->batch);

  for (guint i = 0; i < parts->len; i++)
    {
      WbCraftLotPart *part = g_ptr_array_index (parts, i);
      g_autofree char *before = part->lots;
      g_autofree char *own = wb_craft_lot_dup_of_sample (sample, batch, ((const WbRecord *) part->material)->type);

      part->lots = wb_craft_lot_join (before, own);
    }
}

GPtrArray *
wb_craft_lot_parts_of_sample (const WbDataset *data,
                              guint            sample)
{
  GPtrArray *parts;

  g_return_val_if_fail (data != NULL && sample < data->samples->len, NULL);

  parts = list_cell (data, g_array_index (data->sample_cell, guint, sample));
  take_sample (parts, data, wb_dataset_get_sample (data, sample));
  return parts;
}

gboolean
wb_craft_lot_is_poured (const WbSample *sample)
{
  return sample->poured_on != WB_DAY_NONE || sample->batch != 0;
}

/* A burn without its day, from a file, is taken for an earlier one. */
static gboolean
was_burnt_before (const WbDataset *data,
                  guint            sample,
                  WbInstant        at)
{
  for (guint i = 0; i < data->burns->len; i++)
    {
      WbInstant lit_at = wb_dataset_get_burn (data, i)->lit_at;

      if (g_array_index (data->burn_sample, guint, i) == sample && !(at.known && lit_at.known && lit_at.utc_us >= at.utc_us))
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_counted (const WbSample *sample)
{
  return sample->set_aside_cause < 0 && sample->set_aside == NULL;
}

GPtrArray *
wb_craft_lot_parts_of_decision (const WbDataset  *data,
                                const WbDecision *decision)
{
  GPtrArray *parts = NULL;
  guint cell = 0;

  g_return_val_if_fail (data != NULL && decision != NULL, NULL);

  while (cell < data->cells->len && wb_dataset_get_cell (data, cell)->record.id != decision->cell)
    cell++;
  if (cell == data->cells->len)
    return g_ptr_array_new_with_free_func (part_free);
  parts = list_cell (data, cell);
  for (guint i = 0; i < data->samples->len; i++)
    if (g_array_index (data->sample_cell, guint, i) == cell && is_counted (wb_dataset_get_sample (data, i))
        && was_burnt_before (data, i, decision->signed_at))
      take_sample (parts, data, wb_dataset_get_sample (data, i));
  return parts;
}

static gboolean
owns (gint64           owner,
      gint64           material,
      const GPtrArray *blends)
{
  g_autoptr (GArray) owners = wb_craft_lot_dup_owners (owner, blends);

  for (guint i = 0; i < owners->len; i++)
    if (g_array_index (owners, gint64, i) == material)
      return TRUE;
  return FALSE;
}

const WbCraftLotPart *
wb_craft_lot_parts_find (const GPtrArray *parts,
                         gint64           material,
                         const GPtrArray *blends)
{
  g_return_val_if_fail (parts != NULL && blends != NULL, NULL);

  for (guint i = 0; i < parts->len; i++)
    {
      const WbCraftLotPart *part = g_ptr_array_index (parts, i);

      if (owns (((const WbRecord *) part->material)->id, material, blends))
        return part;
    }
  return NULL;
}

char *
wb_craft_lot_parts_dup_text (const GPtrArray *parts)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_val_if_fail (parts != NULL, NULL);

  for (guint i = 0; i < parts->len; i++)
    {
      const WbCraftLotPart *part = g_ptr_array_index (parts, i);
      g_autofree char *title = wb_material_dup_title (part->material);

      if (part->lots != NULL)
        g_string_append_printf (text, "%s%s %s", text->len > 0 ? "; " : "", title, part->lots);
    }
  return text->len > 0 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}
