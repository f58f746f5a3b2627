/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plan-cells.h"

#include "wb-plan-words.h"

void
wb_plan_cells_fill (WbCellGrid *grid,
                    WbAppPlan  *plan,
                    WbUnit      unit)
{
  const WbAppMaterials *materials = wb_app_plan_get_materials (plan);
  const GPtrArray *cells = wb_app_plan_get_cells (plan);
  g_autoptr (GArray) items = wb_cell_grid_items_new ();

  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = cells->pdata[i];
      WbCellGridItem item = { .vessel_id = cell->vessel, .on = !cell->left_out };

      item.vessel = wb_plan_words_dup_material (materials->vessels, cell->vessel);
      item.wick = wb_plan_words_dup_wick (materials->wicks, cell, unit);
      item.scent = wb_plan_words_dup_scent (materials->fragrances, cell);
      item.name = g_strdup_printf ("%s · %s · %s", item.vessel, item.wick, item.scent);
      g_array_append_val (items, item);
    }
  wb_cell_grid_fill (grid, items);
}

/* The codes of a cell's samples. Caller frees. */
static char *
dup_codes (const WbDataset *data,
           guint            cell)
{
  GString *codes = g_string_new (NULL);

  for (guint i = 0; i < data->samples->len; i++)
    if (g_array_index (data->sample_cell, guint, i) == cell)
      g_string_append_printf (codes, "%s%s", codes->len > 0 ? ", " : "", wb_dataset_get_sample (data, i)->code);
  return g_string_free (codes, FALSE);
}

static int
compare_places (gconstpointer a,
                gconstpointer b,
                gpointer      user)
{
  gint64 first = wb_dataset_get_cell (user, *(const guint *) a)->place, second = wb_dataset_get_cell (user, *(const guint *) b)->place;

  return (first > second) - (first < second);
}

/* The cells in the order that their maker gave them. Caller unrefs. */
static GArray *
list_by_place (const WbDataset *data)
{
  GArray *cells = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < data->cells->len; i++)
    g_array_append_val (cells, i);
  g_array_sort_with_data (cells, compare_places, (gpointer) data);
  return cells;
}

void
wb_plan_cells_fill_with_codes (WbCellGrid      *grid,
                               const WbDataset *data)
{
  g_autoptr (GArray) items = wb_cell_grid_items_new (), order = list_by_place (data);

  for (guint k = 0; k < order->len; k++)
    {
      guint i = g_array_index (order, guint, k);
      const WbCell *cell = wb_dataset_get_cell (data, i);
      WbCellGridItem item = { .vessel_id = cell->vessel, .on = !cell->left_out };

      item.vessel = wb_material_dup_title (wb_dataset_get_vessel (data, i));
      item.wick = wb_dataset_dup_wick_name (data, i);
      item.scent = wb_dataset_dup_scent_name (data, i);
      item.name = g_strdup_printf ("%s · %s · %s", item.vessel, item.wick, item.scent);
      item.text = dup_codes (data, i);
      g_array_append_val (items, item);
    }
  wb_cell_grid_fill (grid, items);
}
