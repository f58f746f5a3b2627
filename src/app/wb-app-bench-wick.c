/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-private.h"

#include "wb-craft-alight.h"

#include <math.h>

/*
 * A vessel of several wicks: what was read at each of them, and what of it is told where there is room for one figure only.
 * The rows of one moment are those of one minute: one of the vessel, one a wick.
 */

guint
wb_app_bench_sample_get_n_wicks (WbAppBenchSample *self)
{
  const WbDataset *data;
  guint cell;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 1);

  data = wb_app_bench_sample_get_data (self);
  cell = g_array_index (data->sample_cell, guint, wb_app_bench_sample_get_index (self));
  return (guint) CLAMP (wb_dataset_get_cell (data, cell)->wick_count, 1, WB_MOST_WICKS);
}

guint
wb_app_bench_sample_get_wicks_out (WbAppBenchSample *self)
{
  const WbReadings *readings;
  guint first, n;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);

  if (wb_app_bench_sample_get_state (self) != WB_APP_BENCH_ALIGHT)
    return 0;
  readings = wb_app_bench_sample_get_data (self)->readings;
  wb_readings_get_burn_rows (readings, wb_app_bench_sample_get_burn_index (self), &first, &n);
  return wb_craft_alight_get_out (readings, first, n, wb_app_bench_sample_get_n_wicks (self));
}

double
wb_app_bench_sample_get_wick_spacing (WbAppBenchSample *self)
{
  const WbDataset *data;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  data = wb_app_bench_sample_get_data (self);
  return wb_dataset_get_cell (data, g_array_index (data->sample_cell, guint, wb_app_bench_sample_get_index (self)))->wick_spacing_mm;
}

double
wb_app_bench_find_last (const WbReadings *readings,
                        guint             first,
                        guint             n,
                        WbColumn          column,
                        double           *before)
{
  double last = NAN, earlier = NAN, minute = NAN;

  for (guint row = first; row < first + n; row++)
    {
      double value = wb_readings_get (readings, row, column), at = wb_readings_get_elapsed_min (readings, row);
      gboolean of_wick = wb_column_is_of_wick (column) && wb_readings_taken (readings, row, WB_COLUMN_WICK_NUMBER);

      if (isnan (value))
        continue;
      if (of_wick && at == minute)
        {
          last = fmax (last, value);
          continue;
        }
      earlier = last;
      last = value;
      minute = of_wick ? at : NAN;
    }
  if (before != NULL)
    *before = earlier;
  return last;
}

double
wb_app_bench_sample_get_wick_last (WbAppBenchSample *self,
                                   guint             wick,
                                   WbColumn          column,
                                   double           *change)
{
  const WbReadings *readings;
  double last = NAN, before = NAN;
  guint first = 0, n = 0;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  g_return_val_if_fail (column < WB_N_COLUMNS, NAN);

  readings = wb_app_bench_sample_get_data (self)->readings;
  if (wb_app_bench_sample_get_burn (self) != NULL)
    wb_readings_get_burn_rows (readings, wb_app_bench_sample_get_burn_index (self), &first, &n);
  for (guint row = first; row < first + n; row++)
    if (wb_readings_get (readings, row, WB_COLUMN_WICK_NUMBER) == wick && wb_readings_taken (readings, row, column))
      {
        before = last;
        last = wb_readings_get (readings, row, column);
      }
  if (change != NULL)
    *change = last - before;
  return last;
}

gboolean
wb_app_bench_is_look_row (const WbReadings *readings,
                          guint             row)
{
  double values[WB_N_COLUMNS];

  wb_readings_get_values (readings, row, values);
  return wb_app_bench_is_look (values);
}

void
wb_app_bench_get_last_moment (const WbReadings *readings,
                              guint             burn,
                              guint            *first,
                              guint            *n)
{
  guint start, end, look;

  wb_readings_get_burn_rows (readings, burn, &start, n);
  end = look = start + *n;
  while (look > start && !wb_app_bench_is_look_row (readings, look - 1))
    look--;
  *first = start;
  for (guint row = look; row > start; row--)
    if (wb_readings_get_elapsed_min (readings, row - 1) != wb_readings_get_elapsed_min (readings, look - 1))
      {
        *first = row;
        break;
      }
  *n = end - *first;
}

void
wb_app_bench_blank_other_wicks (double values[WB_N_COLUMNS],
                                double wick)
{
  double of = values[WB_COLUMN_WICK_NUMBER];

  if (of == wick || (isnan (of) && isnan (wick)))
    return;
  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    if (wb_column_is_of_wick (column))
      values[column] = NAN;
}
