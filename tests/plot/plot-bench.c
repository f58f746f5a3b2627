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
