/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-model-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-foretell-private.h"

/*
 * Never up from a size that burnt too hot, nor into a narrower vessel with it: a larger wick of the same series has
 * the hotter flame, and a narrower vessel the hotter wall (common practice, no source), whatever a regression over
 * few cells makes of it.
 */

static gboolean
is_of_heat (WbLimitKind kind)
{
  switch (kind)
    {
    case WB_LIMIT_FLAME:
    case WB_LIMIT_FLAME_HOUSE:
    case WB_LIMIT_VESSEL:
    case WB_LIMIT_BASE:
    case WB_LIMIT_SECONDARY_IGNITION:
    case WB_LIMIT_FLAME_ON_WALL:
    case WB_LIMIT_VESSEL_CRACK:
    case WB_LIMIT_SURFACE_DAMAGED:
    case WB_LIMIT_BLACK_SMOKE:
      return TRUE;
    default:
      return FALSE;
    }
}

static const WbCraftLimit *
find_heat (const WbCraftCase *item)
{
  const WbCraftLimits *limits = item->lesson->limits;

  for (guint i = 0; limits != NULL && i < limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (limits, item->cell, i);

      if (limit->state == WB_CRAFT_LIMIT_CROSSED
          && is_of_heat (((const WbLimit *) g_ptr_array_index (item->lesson->data->limits, i))->kind))
        return limit;
    }
  return NULL;
}

/* As large a wick or a smaller one, at whatever load, in a vessel as wide or a wider one: the recipe is no cooler. */
static gboolean
is_below (const WbCraftRecipe *tried,
          const WbCraftRecipe *recipe)
{
  return g_str_equal (tried->series, recipe->series) && tried->step <= recipe->step && tried->wicks == recipe->wicks
         && g_str_equal (tried->wax, recipe->wax) && tried->inner_mm >= recipe->inner_mm - WB_CRAFT_FORETELL_SAME_INNER_MM;
}

/* The largest such size that crossed a limit of heat in this wax; NULL: none, or the recipe's own burns say more. */
static const WbCraftCase *
find_hot (const WbCraftForetell *self,
          const WbCraftRecipe   *recipe)
{
  const WbCraftCase *hot = NULL;

  for (guint i = 0; i < self->cases->len; i++)
    {
      const WbCraftCase *item = &g_array_index (self->cases, WbCraftCase, i);

      if (wb_craft_foretell_is_of (item, recipe))
        return NULL;
      if (is_below (&item->recipe, recipe) && find_heat (item) != NULL && (hot == NULL || item->recipe.step > hot->recipe.step))
        hot = item;
    }
  return hot;
}

void
wb_craft_foretell_put_above (const WbCraftForetell *self,
                             const WbCraftRecipe   *recipe,
                             guint                  index,
                             guint                  n,
                             guint                  draws,
                             WbCraftForetold       *foretold)
{
  if (find_hot (self, recipe) == NULL)
    return;
  for (guint draw = 0; draw < draws; draw++)
    foretold[(gsize) draw * n + index].p_cross = 1;
}

char *
wb_craft_foretell_dup_above (const WbCraftForetell *self,
                             const WbCraftRecipe   *recipe)
{
  const WbCraftCase *hot = find_hot (self, recipe);
  g_autofree char *wick = NULL;
  g_autofree char *crossed = NULL;

  if (hot == NULL)
    return NULL;
  wick = wb_dataset_dup_wick_name (hot->lesson->data, hot->cell);
  crossed = wb_craft_limit_dup_text (hot->lesson->data, find_heat (hot));
  /* Translators: a wick; a limit that it crossed, with where. */
  return g_strdup_printf (_("%s burnt too hot in a vessel no narrower: %s."), wick, crossed);
}
