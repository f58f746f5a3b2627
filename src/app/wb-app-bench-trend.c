/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-life-private.h"

#include "wb-clock.h"

#include <math.h>

/* Where a burn is going by its readings, with or without one that is typed and not saved yet. */

/* The rows of a burn before a minute (NAN: all of them) as looks; `values` holds what they borrow. */
static GArray *
gather (const WbReadings *readings,
        guint             burn,
        double            before_min,
        double          **values)
{
  GArray *looks = g_array_new (FALSE, FALSE, sizeof (WbCraftTrendLook));
  guint first, n;

  wb_readings_get_burn_rows (readings, burn, &first, &n);
  *values = g_new (double, (gsize) MAX (n, 1) * WB_N_COLUMNS);
  for (guint row = first; row < first + n; row++)
    {
      double *at = *values + (gsize) looks->len * WB_N_COLUMNS;
      WbCraftTrendLook look = { wb_readings_get_elapsed_min (readings, row), at };

      /* Not known: NAN compares as false. */
      if (look.elapsed_min >= before_min)
        continue;
      wb_readings_get_values (readings, row, at);
      g_array_append_val (looks, look);
    }
  return looks;
}

GArray *
wb_app_bench_find_trends (const WbAppBenchLoad *load,
                          const WbAppBenchLife *life)
{
  WbCraftTrendRounds rounds = wb_app_bench_life_get_rounds (load, life);
  g_autofree double *values = NULL;
  g_autoptr (GArray) looks = gather (load->data->readings, life->burn_index, NAN, &values);

  return wb_craft_trends_find (load->data->limits, (const WbCraftTrendLook *) looks->data, looks->len, &rounds);
}

/* `typed`: the values of one moment, each WB_N_COLUMNS. */
static GPtrArray *
check (WbAppBenchSample    *sample,
       const double *const *typed,
       guint                n_typed,
       double               elapsed_min)
{
  GPtrArray *hits = wb_app_bench_hits_new ();
  const GPtrArray *limits = wb_app_bench_sample_get_limits (sample);
  gboolean alight = wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
  g_autofree double *before = NULL;
  g_autoptr (GArray) looks = NULL, trends = NULL;
  WbCraftTrendRounds rounds;
  guint n_before = 0;

  if (alight)
    {
      if (isnan (elapsed_min))
        elapsed_min = floor (wb_app_bench_sample_get_elapsed_s (sample) / 60.0);
      rounds = wb_app_bench_sample_get_rounds (sample);
      looks = gather (wb_app_bench_sample_get_data (sample)->readings, wb_app_bench_sample_get_burn_index (sample), elapsed_min, &before);
      n_before = looks->len;
      for (guint i = 0; i < n_typed; i++)
        g_array_append_vals (looks, &(WbCraftTrendLook) { elapsed_min, typed[i] }, 1);
      trends = wb_craft_trends_find (limits, (const WbCraftTrendLook *) looks->data, looks->len, &rounds);
    }
  for (guint i = 0; i < n_typed; i++)
    wb_app_bench_merge_hits (hits, wb_app_bench_check_look (limits, typed[i], trends, n_before + i, wb_app_bench_sample_get_lit_at (sample),
                                                            wb_app_bench_sample_get_us_units (sample)));
  return hits;
}

GPtrArray *
wb_app_bench_check_reading (WbAppBenchSample *sample,
                            const double      values[WB_N_COLUMNS],
                            double            elapsed_min)
{
  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);
  return check (sample, &values, 1, elapsed_min);
}

GPtrArray *
wb_app_bench_check_readings (WbAppBenchSample *sample,
                             const GPtrArray  *readings)
{
  g_autofree const double **typed = NULL;
  double elapsed_min = NAN;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample) && readings != NULL, NULL);

  typed = g_new (const double *, MAX (readings->len, 1));
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      typed[i] = reading->values;
      if (i == 0)
        elapsed_min = reading->elapsed_min;
    }
  return check (sample, typed, readings->len, elapsed_min);
}
