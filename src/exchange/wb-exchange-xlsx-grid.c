/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-lot.h"
#include "wb-exchange-xlsx-private.h"

#include <math.h>

/*
 * The grid as a sheet: what was planned and what became of it, one row a sample, and one row of its own for a combination
 * that has none.
 */

static const WbExchangeXlsxHead heads[] = {
  { "Wax", "" }, { "Sample", "" }, { "State", "" }, { "Batch", "" }, { "Poured on", "" }, { "Bench round", "" },
  { "Fill", "g", 1 }, { "Wax height", "mm", 1 }, { "Wax lot", "" }, { "Fragrance lot", "" }, { "Wick lot", "" }, { "Vessel lot", "" },
  { "Burns", "" }, { "First lit at, local time", "" }, { "Last lit at, local time", "" }, { "Fill that is left", "%", 1 },
  { "Set aside because of", "" }, { "Set aside: why", "" }, { "Kept as a reference", "1 yes" }, { "Deviation", "" }, { "Note", "" },
};

/* The burns of a sample, counted once for all rows. */
typedef struct
{
  guint     n;
  WbInstant first, last; /* lit at; unknown: no file says */
} Burns;

void
wb_exchange_sheet_add_grid_heads (WbExchangeSheet *sheet)
{
  wb_exchange_sheet_begin_row (sheet);
  wb_exchange_sheet_add_cell_heads (sheet);
  wb_exchange_sheet_add_heads (sheet, heads, G_N_ELEMENTS (heads));
  wb_exchange_sheet_end_head (sheet);
}

static Burns *
count_burns (const WbDataset *data)
{
  Burns *burns = g_new0 (Burns, data->samples->len + 1);

  for (guint i = 0; i < data->burns->len; i++)
    {
      const WbBurn *burn = wb_dataset_get_burn (data, i);
      Burns *of = &burns[g_array_index (data->burn_sample, guint, i)];

      of->n++;
      if (!burn->lit_at.known)
        continue;
      if (!of->first.known || burn->lit_at.utc_us < of->first.utc_us)
        of->first = burn->lit_at;
      if (!of->last.known || burn->lit_at.utc_us > of->last.utc_us)
        of->last = burn->lit_at;
    }
  return burns;
}

static const WbBatch *
find_batch (const WbDataset *data, gint64 id)
{
  for (guint i = 0; id != 0 && i < data->batches->len; i++)
    {
      const WbBatch *batch = g_ptr_array_index (data->batches, i);

      if (batch->record.id == id)
        return batch;
    }
  return NULL;
}

static WbDay
get_poured_day (const WbSample *sample, const WbBatch *batch)
{
  if (sample->poured_on != WB_DAY_NONE || batch == NULL)
    return sample->poured_on;
  return wb_batch_get_day (batch);
}

/* A sample that burnt was poured, whatever was written down of it. */
static const char *
get_state (gboolean ended, guint burns, WbDay poured)
{
  if (ended)
    return "finished";
  if (burns > 0)
    return "burning";
  return poured != WB_DAY_NONE ? "poured" : "planned";
}

static void
add_lot (WbExchangeSheet *sheet, const WbSample *sample, const WbBatch *batch, const WbRecordType *material)
{
  g_autofree char *lot = wb_craft_lot_dup_of_sample (sample, batch, material);

  wb_exchange_sheet_add_text (sheet, lot);
}

static void
add_sample (WbExchangeSheet *sheet, const WbCraftAnswer *answer, guint index, const Burns *burns)
{
  const WbDataset *data = answer->data;
  const WbSample *sample = wb_dataset_get_sample (data, index);
  const WbBatch *batch = find_batch (data, sample->batch);
  WbDay poured = get_poured_day (sample, batch);

  wb_exchange_sheet_add_text (sheet, sample->code);
  wb_exchange_sheet_add_text (sheet, get_state (answer->figures->ended[index], burns->n, poured));
  wb_exchange_sheet_add_text (sheet, batch != NULL ? batch->code : NULL);
  wb_exchange_sheet_add_day (sheet, poured);
  wb_exchange_sheet_add_integer (sheet, sample->cohort);
  wb_exchange_sheet_add_number (sheet, sample->fill_g);
  wb_exchange_sheet_add_number (sheet, sample->wax_height_mm);
  add_lot (sheet, sample, batch, &wb_wax_type);
  add_lot (sheet, sample, batch, &wb_fragrance_type);
  add_lot (sheet, sample, batch, &wb_wick_type);
  add_lot (sheet, sample, batch, &wb_vessel_type);
  wb_exchange_sheet_add_integer (sheet, burns->n);
  wb_exchange_sheet_add_instant (sheet, burns->first);
  wb_exchange_sheet_add_instant (sheet, burns->last);
  wb_exchange_sheet_add_number (sheet, burns->n > 0 ? 100.0 * answer->figures->life_left[index] : NAN);
  wb_exchange_sheet_add_text (sheet, sample->set_aside_cause >= 0 ? wb_cause_words[sample->set_aside_cause].nick : NULL);
  wb_exchange_sheet_add_text (sheet, sample->set_aside);
  wb_exchange_sheet_add_integer (sheet, sample->retained);
  wb_exchange_sheet_add_text (sheet, sample->deviation);
  wb_exchange_sheet_add_text (sheet, sample->note);
}

static void
begin_row (WbExchangeSheet *sheet, const WbDataset *data, guint cell)
{
  wb_exchange_sheet_begin_row (sheet);
  wb_exchange_sheet_add_cell (sheet, data, cell);
  wb_exchange_sheet_add_text (sheet, data->wax != NULL ? data->wax->name : NULL);
}

void
wb_exchange_sheet_add_grid (WbExchangeSheet     *sheet,
                            const WbCraftAnswer *answer)
{
  const WbDataset *data = answer->data;
  g_autofree Burns *burns = count_burns (data);

  for (guint cell = 0; cell < data->cells->len; cell++)
    {
      guint n = 0;

      for (guint i = 0; i < data->samples->len; i++)
        {
          if (g_array_index (data->sample_cell, guint, i) != cell)
            continue;
          begin_row (sheet, data, cell);
          add_sample (sheet, answer, i, &burns[i]);
          wb_exchange_sheet_end_row (sheet);
          n++;
        }
      if (n > 0)
        continue;
      begin_row (sheet, data, cell);
      wb_exchange_sheet_add_text (sheet, NULL);
      wb_exchange_sheet_add_text (sheet, wb_dataset_get_cell (data, cell)->left_out ? "left out" : "planned");
      wb_exchange_sheet_skip (sheet, G_N_ELEMENTS (heads) - 3);
      wb_exchange_sheet_end_row (sheet);
    }
}
