/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-crossed-private.h"

#include "wb-app-stamp-private.h"
#include "wb-craft-crossed.h"
#include "wb-craft-recipe.h"
#include "wb-store-records.h"

/* Experiments (gint64, each once) that have the cell's vessel with its wick and fragrance: all that can be of its recipe. */
static GArray *
find_experiments (WbStore      *store,
                  const WbCell *like,
                  GError      **error)
{
  g_autoptr (GPtrArray) cells = wb_store_list (store, &wb_cell_type, "vessel", like->vessel, error);
  GArray *found;

  if (cells == NULL)
    return NULL;
  found = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);
      gboolean known = cell->wick != like->wick || cell->fragrance != like->fragrance;

      for (guint k = 0; k < found->len && !known; k++)
        known = g_array_index (found, gint64, k) == cell->experiment;
      if (!known)
        g_array_append_val (found, cell->experiment);
    }
  return found;
}

/* The entry of the version that says so; 0 with an error. */
static gint64
find_entry (WbStore              *store,
            const WbCraftCrossed *crossed,
            GError              **error)
{
  g_autoptr (WbRecord) record = wb_store_load (store, crossed->logged ? &wb_attachment_type : &wb_reading_type, crossed->source, error);

  return record != NULL ? record->entry : 0;
}

/* Of the crossings of one sample, which stand one behind the other, the newest. */
static gboolean
add_of_cell (WbStore              *store,
             const WbAppBenchLoad *load,
             guint                 cell,
             gint64                decision,
             gint64                since,
             GPtrArray            *into,
             GError              **error)
{
  g_autoptr (GPtrArray) all = wb_craft_crossed_new (load->data, cell);

  for (guint i = 0; i < all->len;)
    {
      const WbCraftCrossed *first = g_ptr_array_index (all, i), *newest = NULL;
      gint64 newest_entry = since;

      for (; i < all->len && ((const WbCraftCrossed *) g_ptr_array_index (all, i))->sample == first->sample; i++)
        {
          const WbCraftCrossed *crossed = g_ptr_array_index (all, i);
          gint64 entry = find_entry (store, crossed, error);

          if (entry == 0)
            return FALSE;
          if (entry > newest_entry)
            {
              newest = crossed;
              newest_entry = entry;
            }
        }
      if (newest != NULL)
        g_ptr_array_add (into, wb_craft_crossed_since_new (decision, wb_dataset_get_sample (load->data, first->sample)->record.id, newest_entry,
                                                           load->data->experiment->code, newest->text));
    }
  return TRUE;
}

gboolean
wb_app_crossed_read (WbStore              *store,
                     WbAppLoads           *loads,
                     GHashTable           *stamps,
                     const WbAppBenchLoad *own,
                     guint                 cell,
                     gint64                decision,
                     gint64                since,
                     GPtrArray            *into,
                     GError              **error)
{
  g_autoptr (GArray) experiments = find_experiments (store, wb_dataset_get_cell (own->data, cell), error);

  for (guint i = 0; experiments != NULL && i < experiments->len; i++)
    {
      gint64 id = g_array_index (experiments, gint64, i);
      WbAppBenchLoad *load = wb_app_loads_get (loads, store, id, wb_app_stamp_find (stamps, id), error);
      gboolean read = load != NULL;

      for (guint k = 0; read && k < load->data->cells->len; k++)
        if (wb_craft_recipe_is_same (own->data, cell, load->data, k))
          read = add_of_cell (store, load, k, decision, since, into, error);
      if (load != NULL)
        wb_app_bench_load_unref (load);
      if (!read)
        return FALSE;
    }
  return experiments != NULL;
}
