/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

#include <math.h>

/* In which order vessels, wicks and scents stand in a plan: as among the materials, or as a person moved them. */

void
wb_app_plan_order_move (GArray *members,
                        guint   from,
                        guint   to)
{
  guint size = g_array_get_element_size (members);
  g_autofree gpointer moved = NULL;

  g_return_if_fail (from < members->len && to < members->len);

  moved = g_memdup2 (members->data + (gsize) from * size, size);
  g_array_remove_index (members, from);
  g_array_insert_vals (members, to, moved, 1);
}

guint
wb_app_plan_order_find_wick (const GArray            *choices,
                             const WbCraftWickChoice *choice,
                             const GPtrArray         *wicks)
{
  for (guint i = 0; i < choices->len; i++)
    if (wb_craft_wick_choice_compare (&g_array_index (choices, WbCraftWickChoice, i), choice, wicks) == 0)
      return i;
  return choices->len;
}

typedef struct { const GArray *before; const GPtrArray *wicks; } WickOrder;

static int
compare_choices (gconstpointer a,
                 gconstpointer b,
                 gpointer      user)
{
  const WickOrder *order = user;
  guint first = order->before != NULL ? wb_app_plan_order_find_wick (order->before, a, order->wicks) : 0;
  guint second = order->before != NULL ? wb_app_plan_order_find_wick (order->before, b, order->wicks) : 0;

  return first != second ? (first > second) - (first < second) : wb_craft_wick_choice_compare (a, b, order->wicks);
}

void
wb_app_plan_order_sort_wicks (GArray          *choices,
                              const GArray    *before,
                              const GPtrArray *wicks)
{
  WickOrder order = { before, wicks };

  g_array_sort_with_data (choices, compare_choices, &order);
}

static int
compare_planned (gconstpointer a,
                 gconstpointer b)
{
  gint64 first = (*(const WbCell *const *) a)->place, second = (*(const WbCell *const *) b)->place;

  return (first > second) - (first < second);
}

static guint
find_vessel (const GArray *vessels,
             const WbCell *cell)
{
  guint place = 0;

  while (place < vessels->len && g_array_index (vessels, gint64, place) != cell->vessel)
    place++;
  return place;
}

static guint
find_scent (const GArray *scents,
            const WbCell *cell)
{
  for (guint i = 0; i < scents->len; i++)
    {
      const WbCraftScent *scent = &g_array_index (scents, WbCraftScent, i);

      if (scent->fragrance == cell->fragrance
          && (cell->fragrance == 0 || (scent->load_pct == cell->load_pct && scent->load_basis == cell->load_basis)))
        return i;
    }
  return scents->len;
}

/* Puts what stands at `place` behind the `*seen` that were put before, unless it is one of them. */
static void
put (GArray *members,
     guint   place,
     guint  *seen)
{
  if (place >= *seen && place < members->len)
    wb_app_plan_order_move (members, place, (*seen)++);
}

gboolean
wb_app_plan_order_take (GArray          *vessels,
                        GArray          *wicks,
                        GArray          *scents,
                        const GPtrArray *records,
                        const WbDataset *data)
{
  g_autoptr (GPtrArray) planned = g_ptr_array_new ();
  guint n_vessels = 0, n_wicks = 0, n_scents = 0;

  for (guint i = 0; i < data->cells->len; i++)
    if (wb_dataset_get_cell (data, i)->place != WB_INTEGER_NONE)
      g_ptr_array_add (planned, g_ptr_array_index (data->cells, i));
  g_ptr_array_sort (planned, compare_planned);
  for (guint i = 0; i < planned->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (planned, i);
      guint count = (guint) MAX (cell->wick_count, 1);
      WbCraftWickChoice choice = { cell->wick, count, count > 1 ? cell->wick_spacing_mm : NAN };

      put (vessels, find_vessel (vessels, cell), &n_vessels);
      put (wicks, wb_app_plan_order_find_wick (wicks, &choice, records), &n_wicks);
      put (scents, find_scent (scents, cell), &n_scents);
    }
  return planned->len > 0;
}
