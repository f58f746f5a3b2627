/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-recipe.h"

#include <math.h>

static gboolean
is_alike (double a,
          double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static gboolean
has_same_scent (const WbCell *a,
                const WbCell *b)
{
  return a->fragrance == b->fragrance && (a->fragrance == 0 || (is_alike (a->load_pct, b->load_pct) && a->load_basis == b->load_basis));
}

static gboolean
has_same_dye (const WbExperiment *a,
              const WbExperiment *b)
{
  return a->dye == b->dye && (a->dye == 0 || (is_alike (a->dye_pct, b->dye_pct) && is_alike (a->dye_drops_per_kg, b->dye_drops_per_kg)));
}

static gboolean
has_same_additive (const WbExperiment *a,
                   const WbExperiment *b)
{
  return a->additive == b->additive && (a->additive == 0 || is_alike (a->additive_pct, b->additive_pct));
}

/* How far apart the wicks stand is asked of several only. */
static gboolean
has_same_wick (const WbCell *a,
               const WbCell *b)
{
  gint64 n = MAX (a->wick_count, 1);

  return a->wick == b->wick && n == MAX (b->wick_count, 1) && (n == 1 || is_alike (a->wick_spacing_mm, b->wick_spacing_mm));
}

gboolean
wb_craft_recipe_is_same_candle (const WbDataset *a,
                                guint            cell_a,
                                const WbDataset *b,
                                guint            cell_b)
{
  const WbCell *one, *other;

  g_return_val_if_fail (a != NULL && cell_a < a->cells->len && b != NULL && cell_b < b->cells->len, FALSE);

  one = wb_dataset_get_cell (a, cell_a);
  other = wb_dataset_get_cell (b, cell_b);
  return one->vessel == other->vessel && a->experiment->wax == b->experiment->wax && has_same_scent (one, other)
         && has_same_dye (a->experiment, b->experiment) && has_same_additive (a->experiment, b->experiment);
}

gboolean
wb_craft_recipe_is_same (const WbDataset *a,
                         guint            cell_a,
                         const WbDataset *b,
                         guint            cell_b)
{
  return wb_craft_recipe_is_same_candle (a, cell_a, b, cell_b)
         && has_same_wick (wb_dataset_get_cell (a, cell_a), wb_dataset_get_cell (b, cell_b));
}
