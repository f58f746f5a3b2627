/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-life-private.h"

#include <math.h>

/* What a reading is held against: all that was read of its sample before it, and of several wicks at the same one. */

static void
take_burn (WbCraftDoubtBasis *basis,
           const WbReadings  *readings,
           guint              burn,
           double             wick,
           double             alight_min,
           double             until_min)
{
  double values[WB_N_COLUMNS];
  guint first, n;

  wb_craft_doubt_basis_end_burn (basis);
  basis->burnt_min += alight_min;
  wb_readings_get_burn_rows (readings, burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      basis->last_min = wb_readings_get_elapsed_min (readings, row);
      wb_readings_get_values (readings, row, values);
      wb_app_bench_blank_other_wicks (values, wick);
      if (basis->last_min > until_min)
        continue;
      wb_craft_doubt_basis_take (basis, values, basis->last_min);
      if (!isnan (values[WB_COLUMN_MASS_G]))
        basis->burnt_min = fmax (alight_min - basis->last_min, 0);
    }
}

GArray *
wb_app_bench_find_doubts (WbAppBenchSample *sample,
                          WbAppAsk          ask,
                          const double      values[WB_N_COLUMNS],
                          double            elapsed_min)
{
  const WbDataset *data;
  const WbSample *record;
  WbCraftDoubtBasis basis;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), NULL);

  data = wb_app_bench_sample_get_data (sample);
  record = wb_app_bench_sample_get_record (sample);
  wb_craft_doubt_basis_init (&basis);
  basis.tare_g = record->tare_g;
  basis.fill_g = record->fill_g;
  basis.inner_mm = wb_app_bench_sample_get_vessel (sample)->inner_diameter_mm;
  basis.alight = wb_app_bench_sample_get_state (sample) == WB_APP_BENCH_ALIGHT;
  basis.level_mm = wb_app_bench_sample_get_life (sample)->inch.level_mm;
  basis.n_wicks = wb_app_bench_sample_get_n_wicks (sample);
  /* before its first mass it weighed vessel and fill */
  basis.mass_g = basis.tare_g + basis.fill_g;
  basis.burnt_min = 0;
  if (isnan (elapsed_min) && basis.alight)
    elapsed_min = wb_app_bench_sample_get_elapsed_s (sample) / 60.0;
  for (guint burn = 0; burn < data->burns->len; burn++)
    {
      gboolean last = wb_dataset_get_burn (data, burn) == wb_app_bench_sample_get_burn (sample);

      if (g_array_index (data->burn_sample, guint, burn) == wb_app_bench_sample_get_index (sample))
        take_burn (&basis, data->readings, burn, values[WB_COLUMN_WICK_NUMBER],
                   last && basis.alight ? elapsed_min : wb_app_bench_sample_get_alight_min (sample, burn), last ? elapsed_min : NAN);
    }
  if (ask == WB_APP_ASK_LIGHTING)
    wb_craft_doubt_basis_end_burn (&basis);
  return wb_craft_doubts_find (values, elapsed_min, &basis);
}

/* TRUE: something of that column was read there, at that wick; any way to read the pool is the pool. */
static gboolean
has_value (const WbReadings *readings,
           guint             row,
           WbColumn          column,
           guint             wick)
{
  double values[WB_N_COLUMNS];
  gboolean pool = column >= WB_COLUMN_POOL_MM && column <= WB_COLUMN_RING_9_MM;

  wb_readings_get_values (readings, row, values);
  if (wick > 0 && values[WB_COLUMN_WICK_NUMBER] != wick)
    return FALSE;
  for (int i = pool ? WB_COLUMN_POOL_MM : (int) column; i <= (pool ? WB_COLUMN_RING_9_MM : (int) column); i++)
    if (!isnan (values[i]))
      return TRUE;
  return FALSE;
}

/* A doubt of what was read before, not of the value alone. */
static gboolean
is_of_two (WbCraftDoubtKind kind)
{
  switch ((int) kind)
    {
    case WB_CRAFT_DOUBT_GAINED:
    case WB_CRAFT_DOUBT_HALVED:
    case WB_CRAFT_DOUBT_SLOW:
    case WB_CRAFT_DOUBT_FAST:
    case WB_CRAFT_DOUBT_LEAP:
    case WB_CRAFT_DOUBT_DECIMAL:
    case WB_CRAFT_DOUBT_SHRUNK:
    case WB_CRAFT_DOUBT_AGAIN:
      return TRUE;
    default:
      return FALSE;
    }
}

gint64
wb_app_bench_find_earlier (WbAppBenchSample   *sample,
                           const WbCraftDoubt *doubt,
                           guint               wick)
{
  const WbDataset *data;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (sample), 0);
  g_return_val_if_fail (doubt != NULL, 0);

  if (doubt->column >= WB_N_COLUMNS || !is_of_two (doubt->kind))
    return 0;
  data = wb_app_bench_sample_get_data (sample);
  for (guint burn = data->burns->len; burn > 0; burn--)
    {
      guint first, n;

      if (g_array_index (data->burn_sample, guint, burn - 1) != wb_app_bench_sample_get_index (sample))
        continue;
      wb_readings_get_burn_rows (data->readings, burn - 1, &first, &n);
      for (guint row = first + n; row > first; row--)
        if (has_value (data->readings, row - 1, doubt->column, wick))
          return wb_readings_get_id (data->readings, row - 1);
      /* Of an earlier burn only what the candle weighed holds on. */
      if (doubt->column != WB_COLUMN_MASS_G)
        return 0;
    }
  return 0;
}
