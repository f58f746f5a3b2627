/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-plan-private.h"

#include "wb-app-calendar-private.h"
#include "wb-clock.h"

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

/* What the calendar plans; where none is at hand, the notebook's evenings with nothing on them. Borrowed, or kept in `own`. */
static const WbAppCalendarRead *
get_calendar (WbAppPlan          *self,
              WbAppCalendarRead **own)
{
  WbAppCalendar *calendar = wb_app_plan_get_calendar (self);
  const WbAppCalendarRead *read = calendar != NULL ? wb_app_calendar_get_read (calendar) : NULL;

  if (read != NULL)
    return read;
  *own = wb_app_calendar_read_new ();
  if (wb_app_plan_get_settings (self) != NULL)
    wb_app_calendar_plan (*own, wb_app_plan_get_settings (self), wb_clock_now (wb_clock_get ()));
  return *own;
}

WbCraftGridTotals
wb_app_plan_get_totals (WbAppPlan *self,
                        guint      places)
{
  g_autoptr (WbAppCalendarRead) own = NULL;
  g_autoptr (GArray) grid = NULL, others = NULL;
  const WbAppCalendarRead *read;
  WbCraftGridBench bench;

  g_return_val_if_fail (WB_IS_APP_PLAN (self), (WbCraftGridTotals) { 0 });

  grid = dup_grid (self);
  read = get_calendar (self, &own);
  others = wb_app_calendar_dup_cohorts (read);
  bench = (WbCraftGridBench) { wb_app_calendar_get_bench (read), (const WbCraftEveningsCohort *) (gpointer) others->data, others->len,
                               wb_clock_now (wb_clock_get ()) };
  if (places != 0)
    bench.evenings.places = places;
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
