/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

#include "wb-evenings.h"

#include <math.h>

/* What a plan comes to. */

/* The combinations with their materials, borrowed from the plan. */
static GArray *
dup_grid (WbAppPlan *self)
{
  const WbAppMaterials *materials = wb_app_plan_get_materials (self);
  const GPtrArray *cells = wb_app_plan_get_cells (self);
  GArray *grid = g_array_new (FALSE, FALSE, sizeof (WbCraftGridCell));

  for (guint i = 0; i < cells->len; i++)
    {
      WbCell *cell = g_ptr_array_index (cells, i);
      WbCraftGridCell item = {
        cell,
        wb_app_plan_find (materials->vessels, cell->vessel),
        wb_app_plan_find (materials->wicks, cell->wick),
        wb_app_plan_find (materials->waxes, wb_app_plan_get_experiment (self)->wax),
        wb_app_plan_find (materials->fragrances, cell->fragrance),
      };

      g_array_append_val (grid, item);
    }
  return grid;
}

static guint
samples_of (WbAppPlan *self)
{
  return (guint) MAX (wb_app_plan_get_experiment (self)->samples_per_cell, 0);
}

WbCraftGridTotals
wb_app_plan_get_totals (WbAppPlan *self,
                        guint      places)
{
  g_autoptr (GArray) grid = NULL;
  const WbNotebook *settings;
  WbCraftGridBench bench = { places, 0 };
  WbEvenings evenings = WB_EVENINGS_NONE;

  g_return_val_if_fail (WB_IS_APP_PLAN (self), (WbCraftGridTotals) { 0 });

  grid = dup_grid (self);
  settings = wb_app_plan_get_settings (self);
  if (places == 0 && settings != NULL && settings->bench_places >= 1)
    bench.places = (guint) settings->bench_places;
  if (settings != NULL && wb_evenings_parse (settings->evenings, &evenings, NULL))
    bench.evenings_a_week = wb_evenings_count (evenings);
  return wb_craft_grid_totals (grid, samples_of (self), wb_app_plan_get_experiment (self), wb_app_plan_get_protocol (self), &bench);
}

GArray *
wb_app_plan_dup_needs (WbAppPlan *self)
{
  g_autoptr (GArray) grid = NULL;
  const WbExperiment *experiment;

  g_return_val_if_fail (WB_IS_APP_PLAN (self), NULL);

  grid = dup_grid (self);
  experiment = wb_app_plan_get_experiment (self);
  return wb_craft_grid_needs (grid, samples_of (self), experiment, wb_app_plan_find (wb_app_plan_get_materials (self)->dyes, experiment->dye));
}
