/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-grid.h"

#include <math.h>

#include "wb-craft-batch.h"
#include "wb-craft-fill.h"
#include "wb-craft-lifetime.h"
#include "wb-cure.h"

/* What a grid comes to: how much of everything, how long until it has answered, and what it costs. */

/* Of one candle; NAN where its fill or its load is not known. */
static WbCraftSplit
split (const WbCraftGridCell *item,
       double                 additive_pct)
{
  return wb_craft_batch_split (wb_craft_fill_of (item->vessel, item->wax).g, item->cell->fragrance == 0 ? 0 : item->cell->load_pct,
                               (WbBasis) item->cell->load_basis, additive_pct);
}

static double
additive_of (const WbExperiment *experiment)
{
  return experiment != NULL && experiment->additive != 0 ? experiment->additive_pct : NAN;
}

/* Whole lightings of a sample to the stated end; 0: not known. */
static guint
count_burns (const WbCraftGridCell *item,
             const WbProtocol      *protocol,
             gboolean              *usual)
{
  WbCraftLifetimeBasis basis = { item->vessel, item->wax, protocol, NAN, NAN, (guint) MAX (item->cell->wick_count, 1), NAN };
  WbCraftLifetime life;

  if (item->vessel == NULL || protocol == NULL)
    return 0;
  wb_craft_lifetime_foretell (&basis, &life);
  if (!(life.burns > 0))
    return 0;
  *usual = *usual || life.pace == WB_CRAFT_PACE_USUAL;
  return (guint) ceil (life.burns);
}

static void
add_cell (WbCraftGridTotals     *totals,
          const WbCraftGridCell *item,
          guint                  samples_per_cell,
          const WbExperiment    *experiment,
          const WbProtocol      *protocol)
{
  guint burns = count_burns (item, protocol, &totals->burns_usual);
  WbCraftSplit one = split (item, additive_of (experiment));

  /* One whose life is not known leaves the answer's day unknown. */
  totals->burns = burns == 0 || (totals->cells > 0 && totals->burns == 0) ? 0 : MAX (totals->burns, burns);
  totals->cells++;
  totals->wicks += samples_per_cell * (guint) MAX (item->cell->wick_count, 1);
  totals->wax_g += samples_per_cell * one.wax_g;
  totals->oil_g += samples_per_cell * one.oil_g;
  totals->additive_g += samples_per_cell * one.additive_g;
  totals->cure_days = fmax (totals->cure_days, wb_cure_of (NULL, item->fragrance, item->wax).burn_wait_days);
}

/* The answer's day among all that burns, and how long it would take by itself. */
static void
foretell (WbCraftGridTotals      *totals,
          const WbProtocol       *protocol,
          const WbCraftGridBench *bench)
{
  WbCraftEveningsBench evenings = bench->evenings;
  WbDay poured_on = wb_instant_get_day (bench->poured_at);
  WbCraftEveningsGrid grid = { totals->samples, totals->burns, wb_cure_fit (poured_on, bench->poured_at, totals->cure_days).at,
                               protocol->burn_s, protocol->cool_s };
  WbCraftEveningsOutlook outlook, alone;

  if (totals->evenings_assumed)
    evenings.evenings = WB_CRAFT_GRID_EVENINGS;
  outlook = wb_craft_evenings_foretell (bench->others, bench->n_others, &evenings, &grid);
  alone = wb_craft_evenings_foretell (NULL, 0, &evenings, &grid);
  totals->evenings = outlook.evenings;
  totals->late = outlook.late;
  totals->answered = outlook.last;
  totals->days = outlook.last != WB_DAY_NONE ? (guint) MAX (outlook.last - poured_on, 1) : 0;
  totals->days_alone = alone.last != WB_DAY_NONE ? (guint) MAX (alone.last - poured_on, 1) : 0;
}

WbCraftGridTotals
wb_craft_grid_totals (const GArray           *grid_cells,
                      guint                   samples_per_cell,
                      const WbExperiment     *experiment,
                      const WbProtocol       *protocol,
                      const WbCraftGridBench *bench)
{
  WbCraftGridTotals totals = { .bench_hours = NAN, .answered = WB_DAY_NONE };

  g_return_val_if_fail (grid_cells != NULL && bench != NULL, totals);

  for (guint i = 0; i < grid_cells->len; i++)
    {
      const WbCraftGridCell *item = &g_array_index (grid_cells, WbCraftGridCell, i);

      if (!item->cell->left_out)
        add_cell (&totals, item, samples_per_cell, experiment, protocol);
    }
  totals.fill_g = totals.wax_g + totals.oil_g + totals.additive_g;
  totals.samples = totals.cells * samples_per_cell;
  totals.evenings_assumed = bench->evenings.evenings == WB_EVENINGS_NONE;
  totals.evenings_a_week = wb_evenings_count (totals.evenings_assumed ? WB_CRAFT_GRID_EVENINGS : bench->evenings.evenings);
  if (bench->evenings.places == 0 || protocol == NULL)
    return totals;
  totals.bench_hours = ceil ((double) totals.samples / bench->evenings.places) * protocol->burn_s / 3600.0;
  foretell (&totals, protocol, bench);
  return totals;
}

/* ---- What it takes of each material ---- */

static void
need (GArray *needs,
      gint64  material,
      double  amount)
{
  WbCraftGridNeed one = { material, amount };

  if (material == 0 || amount == 0)
    return;
  for (guint i = 0; i < needs->len; i++)
    if (g_array_index (needs, WbCraftGridNeed, i).material == material)
      {
        g_array_index (needs, WbCraftGridNeed, i).amount += amount;
        return;
      }
  g_array_append_val (needs, one);
}

/* Dye of a candle, g: by share of its wax, else by drops where a drop's mass is known. */
static double
dye_g (const WbExperiment *experiment,
       const WbDye        *dye,
       double              wax)
{
  if (experiment->dye_pct > 0)
    return wax * experiment->dye_pct / 100;
  return dye != NULL ? wax / 1000 * experiment->dye_drops_per_kg * dye->drop_g : NAN;
}

GArray *
wb_craft_grid_needs (const GArray       *grid_cells,
                     guint               samples_per_cell,
                     const WbExperiment *experiment,
                     const WbDye        *dye)
{
  GArray *needs = g_array_new (FALSE, FALSE, sizeof (WbCraftGridNeed));

  g_return_val_if_fail (grid_cells != NULL && experiment != NULL, needs);

  for (guint i = 0; i < grid_cells->len; i++)
    {
      const WbCraftGridCell *item = &g_array_index (grid_cells, WbCraftGridCell, i);
      WbCraftSplit one = split (item, additive_of (experiment));
      double n = samples_per_cell;

      if (item->cell->left_out)
        continue;
      need (needs, item->cell->vessel, n);
      need (needs, item->cell->wick, n * (double) MAX (item->cell->wick_count, 1));
      need (needs, experiment->wax, n * one.wax_g);
      need (needs, item->cell->fragrance, n * one.oil_g);
      if (experiment->dye != 0)
        need (needs, experiment->dye, n * dye_g (experiment, dye, one.wax_g));
      need (needs, experiment->additive, n * one.additive_g);
    }
  return needs;
}

WbCraftGridCost
wb_craft_grid_cost (const GArray       *needs,
                    const WbCraftStock *stock)
{
  WbCraftGridCost cost = { 0 };

  g_return_val_if_fail (needs != NULL && stock != NULL, cost);

  for (guint i = 0; i < needs->len; i++)
    {
      const WbCraftGridNeed *one = &g_array_index (needs, WbCraftGridNeed, i);
      double money = one->amount * wb_craft_stock_get_price (stock, one->material);

      if (isnan (money))
        cost.unpriced++;
      else
        {
          cost.priced++;
          cost.money += money;
        }
    }
  return cost;
}
