/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plot-bench.h"

#include "test-craft.h"

static const struct { const char *name; double inner_mm, wax_height_mm, tare_g; } vessels[] = {
  { "Heron", 64.0, 70.0, 180.0 },
  { "Tern", 76.2, 80.0, 215.0 },
  { "Gannet", 88.0, 75.0, 260.0 },
};

WbDataset *
plot_bench_data_new (const PlotBenchSpec *spec,
                     guint64              seed)
{
  WbDataset *data = test_craft_data_new ();

  data->notebook->invented = TRUE;
  for (guint v = 0; v < spec->vessels; v++)
    for (guint s = 0; s < spec->scents; s++)
      for (guint w = 0; w < spec->wicks; w++)
        {
          g_autofree char   *size = g_strdup_printf ("L-%u", w + 1);
          WbCraftPhysicsSpec candle = wb_craft_physics_spec_usual ();
          guint              cell = test_craft_add_cell (data, vessels[v].name, vessels[v].inner_mm, "L", size, w + 1, s == 0 ? 0.0 : 8.0);

          candle.inner_mm = vessels[v].inner_mm;
          candle.wax_height_mm = vessels[v].wax_height_mm;
          candle.tare_g = vessels[v].tare_g;
          candle.strength_g_per_h = 2.9 + 0.65 * w;
          candle.load_pct = s == 0 ? 0.0 : 8.0;
          candle.load_effect = -0.012;
          candle.throw_strength = s == 0 ? 0.0 : 3.5;
          test_craft_burn_physics (data, cell, &candle, spec->samples, spec->burns, seed);
        }
  return data;
}

WbCraftAnswer *
plot_bench_answer_new (WbDataset    *data,
                       WbCraftWithin within)
{
  return wb_craft_answer_new (data, NULL, within, 1, NULL, NULL);
}

WbCraftAnswer *
plot_bench_small (guint cells)
{
  WbDataset *data = test_craft_data_new ();

  for (guint i = 0; i < cells; i++)
    {
      g_autofree char *size = g_strdup_printf ("L-%u", i + 1);

      test_craft_add_cell (data, "Tern", 76.2, "L", size, i + 1, 0.0);
    }
  for (guint i = 0; i < 2 * cells; i++)
    {
      g_autofree char *code = g_strdup_printf ("T%u", i + 1);
      guint            sample = test_craft_add_sample (data, i / 2, code);

      for (guint burn = 0; burn < 2; burn++)
        test_craft_calm_burn (data, sample, 72.0 + 4.0 * (i / 2), 1.2, 76.2);
    }
  return plot_bench_answer_new (data, WB_CRAFT_WITHIN_SCENT);
}

WbCraftAnswer *
plot_bench_workshop (void)
{
  static const PlotBenchSpec spec = { 2, 5, 1, 2, 0 };

  return plot_bench_answer_new (plot_bench_data_new (&spec, 7), WB_CRAFT_WITHIN_SCENT);
}

static void
add_rung (WbCraftLadder *ladder,
          const char    *series,
          guint          step,
          double         limit_mm,
          double         p_best)
{
  WbCraftLadderStep *rung = g_new0 (WbCraftLadderStep, 1);
  double             full_h = limit_mm > 76.2 ? -1.9 * log (1.0 - 76.2 / limit_mm) : NAN;

  rung->series = g_strdup (series);
  rung->size = g_strdup_printf ("%c-%u", *series, step);
  rung->step = step;
  rung->pool_limit_mm = (WbCraftInterval) { limit_mm, 0.95 * limit_mm, 1.05 * limit_mm };
  rung->full_pool_h = (WbCraftInterval) { full_h, 0.8 * full_h, NAN };
  rung->flame_mm = (WbCraftInterval) { 24, 20, 29 };
  rung->at[WB_CRAFT_FILL_TOP] = (WbCraftForetoldAt) { rung->pool_limit_mm, rung->full_pool_h, rung->flame_mm, { 52, 48, 57 }, { 5, 4, 6 }, 0.1, { { 0 } } };
  for (guint hour = 0; hour < WB_CRAFT_LADDER_HOURS; hour++)
    {
      double pool_mm = limit_mm * (1.0 - exp (-(hour + 1.0) / 1.9));

      rung->at[WB_CRAFT_FILL_TOP].pool_mm[hour] = (WbCraftInterval) { pool_mm, 0.95 * pool_mm, 1.05 * pool_mm };
    }
  rung->at[WB_CRAFT_FILL_BOTTOM] = rung->at[WB_CRAFT_FILL_TOP];
  rung->at[WB_CRAFT_FILL_BOTTOM].pool_limit_mm = (WbCraftInterval) { limit_mm + 4, limit_mm, limit_mm + 8 };
  rung->p_best = p_best;
  rung->p_right = fmin (1.0, 2.0 * p_best);
  rung->p_near = rung->p_cross = NAN;
  rung->score = rung->burn_h = WB_CRAFT_INTERVAL_NONE;
  rung->nearest = g_ptr_array_new ();
  rung->in_ladder = p_best > 0.15;
  rung->in_run = *series == 'L' && step >= 2 && step <= 4;
  rung->reason = g_strdup ("foretold");
  g_ptr_array_add (ladder->steps, rung);
}

WbCraftLadder *
plot_bench_ladder_new (void)
{
  static const double   chances[2][5] = { { 0.01, 0.08, 0.35, 0.21, 0.02 }, { 0.05, 0.2, 0.06, 0.02, 0.0 } };
  WbCraftLadderQuestion question = { .inner_diameter_mm = 76.2, .sizes = 3 };
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  WbCraftLadder        *ladder = wb_craft_ladder_new (&question, NULL, none, none, none, 1);

  for (guint series = 0; series < 2; series++)
    for (guint step = 1; step <= 5; step++)
      add_rung (ladder, series == 0 ? "Larch" : "Rowan", step, 52.0 + 7.0 * step + 12.0 * series, chances[series][step - 1]);
  ((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, 2))->at[WB_CRAFT_FILL_BOTTOM].pool_limit_mm = WB_CRAFT_INTERVAL_NONE;
  ladder->rests_on = WB_CRAFT_RESTS_ON_HISTORY;
  ladder->p_holds_best = 0.76;
  ladder->p_run_holds_best = 0.64;
  return ladder;
}
