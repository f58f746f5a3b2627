/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-bench-life-private.h"

#include "wb-clock.h"
#include "wb-cure.h"

#include <math.h>

/* Between readings where a limit is near or was crossed and the protocol states none for its last inch; the house's. */
#define WATCHED_S (15 * 60)
#define MINUTE_US (60.0 * G_USEC_PER_SEC)

static guint
cell_of (const WbAppBenchLoad *load,
         guint                 sample)
{
  return g_array_index (load->data->sample_cell, guint, sample);
}

static void
take_burn (const WbAppBenchLoad *load,
           guint                 burn,
           WbAppBenchLife       *life)
{
  life->burn = wb_dataset_get_burn (load->data, burn);
  life->burn_index = burn;
  life->lit_at = life->burn->lit_at;
  life->end_min = wb_app_bench_burn_end_min (load->data, burn);
}

gboolean
wb_app_bench_life_is_alight (const WbAppBenchLife *life)
{
  return life->burn != NULL && life->burn->session != 0 && life->burn->lit_at.known && isnan (life->end_min);
}

/* The burn that is alight, whatever a log has brought in beside it with a higher number; else the last one. */
static void
find_burn (const WbAppBenchLoad *load,
           guint                 sample,
           WbAppBenchLife       *life)
{
  guint last = G_MAXUINT;

  for (guint i = 0; i < load->data->burns->len; i++)
    if (g_array_index (load->data->burn_sample, guint, i) == sample)
      {
        last = i;
        if (wb_dataset_get_burn (load->data, i)->session == 0)
          continue;
        take_burn (load, i, life);
        if (wb_app_bench_life_is_alight (life))
          return;
      }
  if (last != G_MAXUINT)
    take_burn (load, last, life);
}

/* What was read last of the last burn is near a limit or over it. */
static gboolean
is_near (const WbDataset *data,
         guint            burn)
{
  g_autoptr (GPtrArray) hits = wb_app_bench_check_last (data, burn, NULL, WB_INSTANT_NONE, FALSE);

  return hits->len > 0;
}

gboolean
wb_app_bench_life_is_ended (const WbAppBenchLoad *load,
                            guint                 sample,
                            const WbAppBenchLife *life)
{
  const WbSample *record = wb_dataset_get_sample (load->data, sample);

  if (wb_app_bench_life_is_alight (life))
    return FALSE;
  return record->set_aside_cause >= 0 || record->set_aside != NULL || record->retained
         || load->figures->ended[sample]
         || life->last[WB_COLUMN_EVENT] == WB_EVENT_END_OF_LIFE;
}

WbInstant
wb_app_bench_life_get_smell_at (const WbAppBenchLoad *load,
                                guint                 sample)
{
  return wb_cure_fit_to_smell (load->data, sample).at;
}

/* When it was read last, where no row says that it ended. */
static double
find_out_min (const WbAppBenchLife *life)
{
  return isnan (life->end_min) ? life->last_min : life->end_min;
}

/* End of the cooling after the last burn; unknown where it is not known when that ended. */
static WbInstant
cooled_at (const WbAppBenchLoad *load,
           const WbAppBenchLife *life)
{
  double out_min = find_out_min (life);
  WbInstant at = life->lit_at;

  if (!at.known || isnan (out_min))
    return WB_INSTANT_NONE;
  at.utc_us += (gint64) ((out_min * 60 + load->data->protocol->cool_s) * G_USEC_PER_SEC);
  return at;
}

gboolean
wb_app_bench_life_is_cooling (const WbAppBenchLoad *load,
                              const WbAppBenchLife *life,
                              gint64                elapsed_us)
{
  double minutes = (double) elapsed_us / MINUTE_US, out_min = find_out_min (life);

  /* What is not known compares as false. */
  return minutes >= out_min && minutes < out_min + fmax (load->data->protocol->cool_s / 60, WB_APP_BENCH_SET_MIN);
}

WbAppBenchState
wb_app_bench_life_get_state (const WbAppBenchLoad *load,
                             guint                 sample,
                             const WbAppBenchLife *life,
                             WbInstant             now,
                             WbInstant            *fit_at)
{
  *fit_at = WB_INSTANT_NONE;
  if (wb_app_bench_life_is_alight (life))
    return WB_APP_BENCH_ALIGHT;
  if (wb_app_bench_life_is_ended (load, sample, life))
    return WB_APP_BENCH_ENDED;
  *fit_at = life->burn == NULL ? wb_cure_fit_to_burn (load->data, sample).at : cooled_at (load, life);
  if (load->crossings[sample].crossed || load->crossings[sample].broken)
    return WB_APP_BENCH_CROSSED;
  if (!fit_at->known || fit_at->utc_us <= now.utc_us)
    return WB_APP_BENCH_FIT;
  return life->burn == NULL ? WB_APP_BENCH_CURING : WB_APP_BENCH_COOLING;
}

WbStage
wb_app_bench_life_get_stage (const WbAppBenchLoad *load,
                             const WbAppBenchLife *life)
{
  return life->burn != NULL ? load->figures->burns[life->burn_index].stage : WB_STAGE_UPPER;
}

gboolean
wb_app_bench_life_has_length (const WbAppBenchLife *life)
{
  return life->burn->kind == WB_BURN_STANDARD || life->burn->kind == WB_BURN_CHECK || life->burn->kind == WB_BURN_UNTRIMMED;
}

static double
stage_interval_s (const WbAppBenchLoad *load,
                  const WbAppBenchLife *life)
{
  const WbProtocol *protocol = load->data->protocol;

  switch (wb_app_bench_life_get_stage (load, life))
    {
    case WB_STAGE_MIDDLE:
      return protocol->interval_middle_s;
    case WB_STAGE_LOWER:
      return protocol->interval_lower_s;
    default:
      return protocol->interval_upper_s;
    }
}

WbCraftTrendRounds
wb_app_bench_life_get_rounds (const WbAppBenchLoad *load,
                              const WbAppBenchLife *life)
{
  const WbProtocol *protocol = load->data->protocol;
  gboolean states_close = !isnan (protocol->last_inch_interval_s);

  return (WbCraftTrendRounds) {
    .interval_min = stage_interval_s (load, life) / 60,
    .close_min = (states_close ? protocol->last_inch_interval_s : WATCHED_S) / 60,
    .length_min = wb_app_bench_life_has_length (life) ? protocol->burn_s / 60 : NAN,
    .close_from_min = states_close ? life->inch.last_inch_min : NAN,
  };
}

double
wb_app_bench_life_get_interval_s (const WbAppBenchLoad *load,
                                  const WbAppBenchLife *life)
{
  WbCraftTrendRounds rounds = wb_app_bench_life_get_rounds (load, life);

  if (!life->watched && !(life->look_min >= rounds.close_from_min) && !(rounds.close_from_min <= 0))
    return rounds.interval_min * 60;
  return 60 * (rounds.interval_min > 0 ? fmin (rounds.interval_min, rounds.close_min) : rounds.close_min);
}

gint64
wb_app_bench_life_get_due_s (const WbAppBenchLoad *load,
                             const WbAppBenchLife *life)
{
  WbCraftTrendRounds rounds = wb_app_bench_life_get_rounds (load, life);
  double due_min = wb_craft_trend_next_min (&rounds, life->look_min, life->watched);

  /* What is not known stands back: NAN. */
  due_min = fmin (due_min, life->again_min);
  return isnan (due_min) ? G_MAXINT : (gint64) round (60 * due_min);
}

void
wb_app_bench_life_read (const WbAppBenchLoad *load,
                        guint                 sample,
                        WbAppBenchLife       *life)
{
  const WbDataset *data = load->data;
  double inner_mm = wb_dataset_get_vessel (data, cell_of (load, sample))->inner_diameter_mm;
  guint first = 0, n = 0;
  WbPool pool;

  *life = (WbAppBenchLife) { .end_min = NAN, .last_min = NAN, .look_min = NAN, .pool_share = NAN, .again_min = NAN };
  find_burn (load, sample, life);
  if (life->burn != NULL)
    wb_readings_get_burn_rows (data->readings, life->burn_index, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      life->last_min = wb_readings_get_elapsed_min (data->readings, row);
      if (wb_app_bench_is_look_row (data->readings, row))
        life->look_min = life->last_min;
      if (wb_readings_get_pool (data->readings, row, inner_mm, &pool))
        life->pool_share = pool.diameter_mm / inner_mm;
    }
  for (guint column = 0; column < WB_N_COLUMNS; column++)
    life->last[column] = wb_app_bench_find_last (data->readings, first, n, (WbColumn) column, NULL);
  wb_craft_last_inch_foretell (data, load->figures, sample, &life->inch);
  life->watched = load->crossings[sample].crossed || (life->burn != NULL && is_near (data, life->burn_index));
  if (!wb_app_bench_life_is_alight (life))
    return;
  life->trends = wb_app_bench_find_trends (load, life);
  for (guint i = 0; i < life->trends->len; i++)
    {
      const WbCraftTrend *trend = &g_array_index (life->trends, WbCraftTrend, i);

      /* what was read last moves the next reading up */
      if (wb_readings_get_elapsed_min (data->readings, first + trend->look) == life->look_min)
        life->again_min = fmin (life->again_min, trend->again_min);
    }
}

void
wb_app_bench_life_clear (WbAppBenchLife *life)
{
  g_clear_pointer (&life->trends, g_array_unref);
}
