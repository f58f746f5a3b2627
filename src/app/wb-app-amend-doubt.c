/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-amend-private.h"

#include "wb-app-bench-private.h"
#include "wb-clock.h"

#include <math.h>
#include <string.h>

/* What an amendment is held against. The list runs from the newest to the oldest, so that the first that is met is the nearest. */

static gconstpointer
get_record (WbAppAmend         *self,
            guint               i,
            const WbRecordType *type)
{
  g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (self), i);
  const WbRecord *record = wb_app_amend_item_get_record (item);

  return record->type == type && !wb_app_amend_item_get_taken_out (item) ? record : NULL;
}

static void
take_reading (WbCraftDoubtBasis *basis,
              const WbReading   *reading,
              double             wick,
              gboolean           same_burn)
{
  double values[WB_N_COLUMNS];
  WbPool pool;

  if (isnan (basis->mass_g))
    basis->mass_g = reading->values[WB_COLUMN_MASS_G];
  if (!same_burn)
    return;
  memcpy (values, reading->values, sizeof values);
  wb_app_bench_blank_other_wicks (values, wick);
  for (guint column = 0; column < WB_N_COLUMNS; column++)
    if (isnan (basis->before[column]))
      basis->before[column] = values[column];
  if (isnan (basis->pool_mm) && wb_pool_from_values (reading->values, basis->inner_mm, &pool))
    basis->pool_mm = pool.diameter_mm;
}

/* Of readings: all that come after it in the list, which were read before. Its own minute is not doubted: it is not of tonight. */
static void
fill_basis (WbAppAmend        *self,
            const WbReading   *reading,
            WbCraftDoubtBasis *basis)
{
  gboolean reached = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self)); i++)
    {
      const WbReading *other = get_record (self, i, &wb_reading_type);
      const WbSample *sample = get_record (self, i, &wb_sample_type);

      if (sample != NULL)
        {
          basis->tare_g = sample->tare_g;
          basis->fill_g = sample->fill_g;
        }
      if (other == NULL)
        continue;
      reached = reached || other->burn == reading->burn;
      if (!reached || other->record.id == reading->record.id
          || (other->burn == reading->burn && other->elapsed_min > reading->elapsed_min))
        continue;
      take_reading (basis, other, reading->values[WB_COLUMN_WICK_NUMBER], other->burn == reading->burn);
    }
}

static GArray *
find_of_reading (WbAppAmend      *self,
                 const WbReading *reading,
                 double           inner_mm)
{
  WbCraftDoubtBasis basis;

  wb_craft_doubt_basis_init (&basis);
  basis.inner_mm = inner_mm;
  fill_basis (self, reading, &basis);
  return wb_craft_doubts_find (reading->values, reading->elapsed_min, &basis);
}

static GArray *
find_of_sample (WbAppAmend     *self,
                const WbSample *sample)
{
  GArray *doubts = g_array_new (FALSE, FALSE, sizeof (WbCraftDoubt));
  WbDay burnt_on = WB_DAY_NONE;
  WbCraftDoubt doubt;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self)); i++)
    {
      const WbBurn *burn = get_record (self, i, &wb_burn_type);

      if (burn != NULL && burn->lit_at.known)
        burnt_on = wb_instant_get_day (burn->lit_at);
    }
  if (wb_craft_doubt_pour (sample->poured_on, burnt_on, wb_instant_get_day (wb_clock_now (wb_clock_get ())), &doubt))
    g_array_append_val (doubts, doubt);
  return doubts;
}

static GArray *
find (WbAppAmend   *self,
      gconstpointer record,
      double        inner_mm)
{
  const WbRecord *head = record;

  if (head->type == &wb_reading_type)
    return find_of_reading (self, record, inner_mm);
  return head->type == &wb_sample_type ? find_of_sample (self, record) : g_array_new (FALSE, FALSE, sizeof (WbCraftDoubt));
}

static gboolean
has (const GArray       *doubts,
     const WbCraftDoubt *wanted)
{
  for (guint i = 0; i < doubts->len; i++)
    {
      const WbCraftDoubt *doubt = &g_array_index (doubts, WbCraftDoubt, i);

      if (doubt->kind == wanted->kind && doubt->column == wanted->column && doubt->value == wanted->value)
        return TRUE;
    }
  return FALSE;
}

GArray *
wb_app_amend_find_doubts (WbAppAmend     *self,
                          WbAppAmendItem *item,
                          gconstpointer   record,
                          double          inner_mm)
{
  GArray *doubts;
  g_autoptr (GArray) old = NULL;

  g_return_val_if_fail (WB_IS_APP_AMEND (self), NULL);
  g_return_val_if_fail (WB_IS_APP_AMEND_ITEM (item) && record != NULL, NULL);

  doubts = find (self, record, inner_mm);
  old = find (self, wb_app_amend_item_get_record (item), inner_mm);
  for (guint i = doubts->len; i > 0; i--)
    if (has (old, &g_array_index (doubts, WbCraftDoubt, i - 1)))
      g_array_remove_index (doubts, i - 1);
  return doubts;
}
