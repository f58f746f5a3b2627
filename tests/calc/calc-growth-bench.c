/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "calc-growth-bench.h"

CalcGrowthBench *
calc_growth_bench_new (void)
{
  CalcGrowthBench *bench = g_new0 (CalcGrowthBench, 1);

  bench->t = g_array_new (FALSE, FALSE, sizeof (double));
  bench->y = g_array_new (FALSE, FALSE, sizeof (double));
  bench->censored = g_array_new (FALSE, FALSE, sizeof (bool));
  bench->run = g_array_new (FALSE, FALSE, sizeof (size_t));
  bench->run_unit = g_array_new (FALSE, FALSE, sizeof (size_t));
  bench->unit_group = g_array_new (FALSE, FALSE, sizeof (size_t));
  return bench;
}

void
calc_growth_bench_free (CalcGrowthBench *bench)
{
  g_array_unref (bench->t);
  g_array_unref (bench->y);
  g_array_unref (bench->censored);
  g_array_unref (bench->run);
  g_array_unref (bench->run_unit);
  g_array_unref (bench->unit_group);
  g_free (bench);
}

gsize
calc_growth_bench_add_group (CalcGrowthBench *bench)
{
  return bench->n_groups++;
}

gsize
calc_growth_bench_add_unit (CalcGrowthBench *bench,
                            gsize            group)
{
  g_array_append_val (bench->unit_group, group);
  return bench->unit_group->len - 1;
}

gsize
calc_growth_bench_add_run (CalcGrowthBench *bench,
                           gsize            unit)
{
  g_array_append_val (bench->run_unit, unit);
  return bench->run_unit->len - 1;
}

void
calc_growth_bench_read (CalcGrowthBench *bench,
                        gsize            run,
                        double           t,
                        double           y,
                        bool             censored)
{
  g_array_append_val (bench->t, t);
  g_array_append_val (bench->y, y);
  g_array_append_val (bench->censored, censored);
  g_array_append_val (bench->run, run);
}

void
calc_growth_bench_grow (CalcGrowthBench *bench,
                        gsize            run,
                        double           level,
                        double           pace,
                        gsize            n,
                        double           noise,
                        WbCalcRandom    *random,
                        double           wall)
{
  for (gsize k = 1; k <= n; k++)
    {
      double y = wb_calc_growth_value (level, pace, (double) k);

      if (random != NULL)
        y += noise * wb_calc_random_normal (random);
      calc_growth_bench_read (bench, run, (double) k, MIN (y, wall), y >= wall);
    }
}

WbCalcGrowthData
calc_growth_bench_data (const CalcGrowthBench *bench)
{
  return (WbCalcGrowthData) {
    .n_readings = bench->t->len,
    .t = (const double *) (gpointer) bench->t->data,
    .y = (const double *) (gpointer) bench->y->data,
    .censored = (const bool *) bench->censored->data,
    .run = (const size_t *) (gpointer) bench->run->data,
    .n_runs = bench->run_unit->len,
    .run_unit = (const size_t *) (gpointer) bench->run_unit->data,
    .n_units = bench->unit_group->len,
    .unit_group = (const size_t *) (gpointer) bench->unit_group->data,
    .n_groups = bench->n_groups,
  };
}
