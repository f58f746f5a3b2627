/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-life-private.h"

#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * What was before: what a hand with a ruler wants beside the field, how much it was last time and which way it
 * goes; and the limit that was crossed, which has to be known before the sample is lit again.
 */

/* Rows of the burn that is alight, or of the last one; none: never lit. */
static void
get_rows (WbAppBenchSample *self,
          guint            *first,
          guint            *n)
{
  *first = *n = 0;
  if (wb_app_bench_sample_get_burn (self) != NULL)
    wb_readings_get_burn_rows (wb_app_bench_sample_get_data (self)->readings, wb_app_bench_sample_get_burn_index (self), first, n);
}

double
wb_app_bench_sample_get_change (WbAppBenchSample *self,
                                WbColumn          column)
{
  double before, last;
  guint first, n;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NAN);
  g_return_val_if_fail (column < WB_N_COLUMNS, NAN);

  get_rows (self, &first, &n);
  last = wb_app_bench_find_last (wb_app_bench_sample_get_data (self)->readings, first, n, column, &before);
  return last - before;
}

gboolean
wb_app_bench_sample_get_pool (WbAppBenchSample *self,
                              WbPool           *pool,
                              double           *change_mm)
{
  const WbReadings *readings;
  gboolean taken = FALSE;
  double inner_mm;
  guint first, n;
  WbPool seen;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);

  readings = wb_app_bench_sample_get_data (self)->readings;
  inner_mm = wb_app_bench_sample_get_vessel (self)->inner_diameter_mm;
  *change_mm = NAN;
  get_rows (self, &first, &n);
  for (guint row = first; row < first + n; row++)
    if (wb_readings_get_pool (readings, row, inner_mm, &seen))
      {
        if (taken)
          *change_mm = seen.diameter_mm - pool->diameter_mm;
        *pool = seen;
        taken = TRUE;
      }
  return taken;
}

/* A pool is as it was seen at one moment: one diameter, two, or rings, and what of it was at the wall. */
static gboolean
is_of_pool (WbColumn column)
{
  return column >= WB_COLUMN_POOL_MM && column <= WB_COLUMN_RING_9_MM;
}

gboolean
wb_app_bench_sample_get_last_values (WbAppBenchSample *self,
                                     WbColumn          column,
                                     double            values[WB_N_COLUMNS])
{
  const WbReadings *readings;
  gboolean taken = FALSE;
  guint first, n;
  WbPool pool;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);
  g_return_val_if_fail (column < WB_N_COLUMNS, FALSE);

  for (int i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  if (!is_of_pool (column))
    {
      values[column] = wb_app_bench_sample_get_last (self, column);
      return !isnan (values[column]);
    }
  readings = wb_app_bench_sample_get_data (self)->readings;
  get_rows (self, &first, &n);
  for (guint row = first; row < first + n; row++)
    if (wb_readings_get_pool (readings, row, wb_app_bench_sample_get_vessel (self)->inner_diameter_mm, &pool))
      {
        for (WbColumn i = WB_COLUMN_POOL_MM; i <= WB_COLUMN_RING_9_MM; i++)
          values[i] = wb_readings_get (readings, row, i);
        taken = TRUE;
      }
  return taken;
}

const char *
wb_app_bench_sample_get_last_text (WbAppBenchSample *self,
                                   WbReadingText     which)
{
  const WbDataset *data;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);
  g_return_val_if_fail (which < WB_N_READING_TEXTS, NULL);

  data = wb_app_bench_sample_get_data (self);
  for (guint burn = data->burns->len; burn > 0; burn--)
    {
      guint first, n;

      if (g_array_index (data->burn_sample, guint, burn - 1) != wb_app_bench_sample_get_index (self))
        continue;
      wb_readings_get_burn_rows (data->readings, burn - 1, &first, &n);
      for (guint row = first + n; row > first; row--)
        if (wb_readings_get_text (data->readings, row - 1, which) != NULL)
          return wb_readings_get_text (data->readings, row - 1, which);
    }
  return NULL;
}

int
wb_app_bench_sample_get_crossed_burn (WbAppBenchSample *self)
{
  const WbCraftCrossing *crossing;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);

  crossing = wb_app_bench_sample_get_crossing (self);
  return crossing->crossed ? (int) wb_dataset_get_burn (wb_app_bench_sample_get_data (self), crossing->burn)->number : 0;
}

int
wb_app_bench_sample_get_cracked_burn (WbAppBenchSample *self)
{
  const WbCraftCrossing *crossing;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), 0);

  crossing = wb_app_bench_sample_get_crossing (self);
  return crossing->broken ? (int) wb_dataset_get_burn (wb_app_bench_sample_get_data (self), crossing->broken_burn)->number : 0;
}

char *
wb_app_bench_dup_crossing_text (const WbDataset       *data,
                                const WbCraftCrossing *crossing,
                                gboolean               us_units)
{
  double values[WB_N_COLUMNS];
  g_autofree char *hit = NULL, *minute = NULL;

  if (!crossing->crossed && crossing->broken)
    /* Translators: of a candle; the number of a burn */
    return g_strdup_printf (_("its vessel cracked in burn %d"), (int) wb_dataset_get_burn (data, crossing->broken_burn)->number);
  if (!crossing->crossed)
    return NULL;
  wb_craft_crossing_get_values (crossing, data, values);
  hit = wb_app_bench_dup_hit_text (g_ptr_array_index (data->limits, crossing->limit), WB_CRAFT_OVER, values, us_units);
  minute = wb_number_format_trimmed (crossing->minute, 1, NULL);
  /* Translators: a limit with its value and bound; number of the burn; minute since lighting. */
  return g_strdup_printf (crossing->logger != G_MAXUINT ? _("%s, in burn %d at %s min in its logger's file") : _("%s, in burn %d at %s min"),
                          hit, (int) wb_dataset_get_burn (data, crossing->burn)->number, minute);
}

char *
wb_app_bench_sample_dup_crossing (WbAppBenchSample *self,
                                  gboolean         *broken)
{
  const WbCraftCrossing *crossing;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), NULL);

  crossing = wb_app_bench_sample_get_crossing (self);
  if (broken != NULL)
    *broken = crossing->broken;
  return wb_app_bench_dup_crossing_text (wb_app_bench_sample_get_data (self), crossing, wb_app_bench_sample_get_us_units (self));
}

gboolean
wb_app_bench_sample_went_out (WbAppBenchSample *self)
{
  const WbAppBenchLife *life;
  const WbReadings *readings;
  guint first, n;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);

  life = wb_app_bench_sample_get_life (self);
  if (life->burn == NULL || isnan (life->end_min))
    return FALSE;
  readings = wb_app_bench_sample_get_data (self)->readings;
  wb_readings_get_burn_rows (readings, life->burn_index, &first, &n);
  for (guint row = first; row < first + n; row++)
    if (wb_readings_get (readings, row, WB_COLUMN_EVENT) == WB_EVENT_SELF_EXTINGUISHED)
      return TRUE;
  return FALSE;
}

WbInstant
wb_app_bench_sample_get_out_at (WbAppBenchSample *self)
{
  const WbAppBenchLife *life;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), WB_INSTANT_NONE);

  life = wb_app_bench_sample_get_life (self);
  if (life->burn == NULL || isnan (life->end_min) || !life->lit_at.known)
    return WB_INSTANT_NONE;
  return wb_clock_at (wb_clock_get (), life->lit_at.utc_us + (gint64) (life->end_min * 60 * G_USEC_PER_SEC));
}

double
wb_app_bench_sample_get_out_min (WbAppBenchSample *self)
{
  WbInstant out_at = wb_app_bench_sample_get_out_at (self);

  return out_at.known ? (wb_clock_now (wb_clock_get ()).utc_us - out_at.utc_us) / (60.0 * G_USEC_PER_SEC) : NAN;
}

gboolean
wb_app_bench_sample_is_early (WbAppBenchSample *self,
                              WbInstant         lit_at)
{
  WbInstant fit_at = wb_app_bench_sample_get_fit_at (self);

  /* Clocks show minutes. */
  return wb_app_bench_sample_get_state (self) == WB_APP_BENCH_FIT && fit_at.known && lit_at.known
         && lit_at.utc_us < fit_at.utc_us - 60 * (gint64) G_USEC_PER_SEC;
}

gboolean
wb_app_bench_sample_is_weighed (WbAppBenchSample *self)
{
  const WbAppBenchLife *life;
  const WbReadings *readings;
  guint first, n;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);

  life = wb_app_bench_sample_get_life (self);
  if (life->burn == NULL || isnan (life->end_min))
    return life->burn == NULL;
  readings = wb_app_bench_sample_get_data (self)->readings;
  get_rows (self, &first, &n);
  for (guint row = first; row < first + n; row++)
    if (wb_readings_get_elapsed_min (readings, row) >= life->end_min && wb_readings_taken (readings, row, WB_COLUMN_MASS_G))
      return TRUE;
  return FALSE;
}

gboolean
wb_app_bench_sample_is_to_weigh (WbAppBenchSample *self)
{
  const WbBurn *burn;

  g_return_val_if_fail (WB_IS_APP_BENCH_SAMPLE (self), FALSE);

  burn = wb_app_bench_sample_get_burn (self);
  /* Not known when it went out: NAN compares as false. */
  return burn != NULL && burn->session != 0 && wb_app_bench_sample_get_out_min (self) >= WB_APP_BENCH_SET_MIN
         && !wb_app_bench_sample_is_weighed (self);
}
