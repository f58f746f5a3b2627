/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft-terms.h"

#include "test-craft.h"

WbCraftEffects *
test_craft_effects (const WbDataset *data,
                    WbFigure         figure)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  g_autoptr (WbCraftEstimates) estimates = wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL);

  return wb_craft_effects_new (data, figures, estimates, figure);
}

const WbCraftTerm *
test_craft_find_term (const WbCraftEffects *self,
                      const char           *key)
{
  for (guint i = 0; i < self->terms->len; i++)
    if (g_str_equal (((WbCraftTerm *) g_ptr_array_index (self->terms, i))->term, key))
      return g_ptr_array_index (self->terms, i);
  return NULL;
}

void
test_craft_add_value (WbDataset  *data,
                      guint       cell,
                      const char *code,
                      WbColumn    column,
                      double      value)
{
  guint burn = test_craft_add_burn (data, test_craft_add_sample (data, cell, code));
  guint row = test_craft_add_reading (data, burn, 240);

  test_craft_set (data, row, WB_COLUMN_FLAME_MM, 20);
  test_craft_set (data, row, column, value);
}
