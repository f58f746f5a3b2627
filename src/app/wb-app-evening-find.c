/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include "wb-clock.h"

#include <math.h>

/* The evening's burn of a sample as the record has it, its readings laid to the moments of the sheet. */

/* A burn belongs to the evening from a little before it was opened (a watch that goes wrong) until the night is over. */
#define BEFORE_US (2 * (gint64) 3600 * G_USEC_PER_SEC)
#define NIGHT_US (12 * (gint64) 3600 * G_USEC_PER_SEC)
/* Read within the minute of lighting. */
#define LIGHTING_MIN 1.0
/* After this long the look is the one with the scales. */
#define AFTER_SNUFFING_MIN 30.0
#define MINUTE_US ((double) 60 * G_USEC_PER_SEC)

static gboolean
is_of_the_evening (const WbBurn            *burn,
                   const WbAppEveningFrame *frame)
{
  return burn->lit_at.known && burn->lit_at.utc_us >= frame->opened_at.utc_us - BEFORE_US
         && burn->lit_at.utc_us < frame->opened_at.utc_us + NIGHT_US;
}

static guint
find_burn (const WbAppEveningRow   *row,
           const WbAppEveningFrame *frame)
{
  const WbDataset *data = wb_app_bench_sample_get_data (row->sample);
  guint index = wb_app_bench_sample_get_index (row->sample);

  if (!frame->opened_at.known)
    return G_MAXUINT;
  for (guint burn = 0; burn < data->burns->len; burn++)
    if (g_array_index (data->burn_sample, guint, burn) == index && is_of_the_evening (wb_dataset_get_burn (data, burn), frame))
      return burn;
  return G_MAXUINT;
}

/* By the time that stands on the sheet; by minutes too. */
static gboolean
is_told_for (const WbAppEveningRow   *row,
             const WbAppEveningCheck *check,
             guint                    moment,
             double                   minute)
{
  guint column = row->looks[moment].time_column;
  const char *text = wb_app_evening_peek_text (check->evening, row, column);
  double minutes;
  int hour, wall_minute;

  if (*text == '\0')
    text = wb_app_evening_get_text (check->evening, WB_APP_EVENING_ALL, column);
  if (wb_app_evening_read_clock (text, &hour, &wall_minute))
    {
      /* A tenth was added where a moment was taken. */
      gint64 at_us = row->lit_at.utc_us + (gint64) (floor (minute) * MINUTE_US);

      return wb_instant_shows (wb_clock_at (wb_clock_get (), at_us), hour, wall_minute);
    }
  return wb_app_evening_read_minutes (text, &minutes) && fabs (minutes - minute) < LIGHTING_MIN;
}

/* Minutes after lighting at which a moment is due by the protocol. */
static double
get_due_min (const WbAppEveningMoment *moment,
             const WbProtocol         *protocol)
{
  return (moment->ask == WB_APP_ASK_ROUND ? moment->round * protocol->interval_upper_s : protocol->burn_s) / 60;
}

static guint
find_moment_of_burning (const WbAppEveningRow   *row,
                        const WbAppEveningCheck *check,
                        double                   minute)
{
  const WbProtocol *protocol = wb_app_bench_sample_get_protocol (row->sample);
  guint nearest = 0;
  double least = HUGE_VAL;

  for (guint i = 0; i < wb_app_evening_get_n_moments (check->evening); i++)
    {
      const WbAppEveningMoment *moment = wb_app_evening_get_moment (check->evening, i);
      double off;

      if (moment->ask != WB_APP_ASK_ROUND && moment->ask != WB_APP_ASK_BEFORE_SNUFFING)
        continue;
      if (is_told_for (row, check, i, minute))
        return i;
      off = fabs (get_due_min (moment, protocol) - minute);
      /* One that has none yet, before one that has. */
      if (row->looks[i].stored)
        off += protocol->burn_s;
      if (off < least)
        {
          least = off;
          nearest = i;
        }
    }
  return nearest;
}

static guint
find_moment (const WbAppEveningRow   *row,
             const WbAppEveningCheck *check,
             double                   minute,
             double                   event,
             gboolean                 ends,
             double                   end_min)
{
  guint n = wb_app_evening_get_n_moments (check->evening);

  if (ends)
    return n - 2;
  if (minute < LIGHTING_MIN)
    return 0;
  if (minute > end_min + AFTER_SNUFFING_MIN)
    return n - 1;
  if (minute > end_min || (minute == end_min && !isnan (event) && (int) event == WB_EVENT_AFTERGLOW))
    return n - 2;
  return find_moment_of_burning (row, check, minute);
}

static void
lay_reading (WbAppEveningRow         *row,
             const WbAppEveningCheck *check,
             guint                    reading,
             double                   end_min)
{
  const WbReadings *readings = wb_app_bench_sample_get_data (row->sample)->readings;
  double minute = wb_readings_get_elapsed_min (readings, reading);
  double event = wb_readings_get (readings, reading, WB_COLUMN_EVENT);
  double wick = wb_readings_get (readings, reading, WB_COLUMN_WICK_NUMBER);
  /* One wick of several that goes out is no end, unless it was the last. */
  gboolean ends = !isnan (event) && wb_event_ends_burn (event) && (isnan (wick) || minute >= end_min);
  WbAppEveningLook *look = &row->looks[find_moment (row, check, minute, event, ends, end_min)];

  if (!look->stored)
    {
      look->minute = minute;
      look->at = row->lit_at;
      look->at.utc_us += (gint64) (minute * MINUTE_US);
      look->at = wb_clock_at (wb_clock_get (), look->at.utc_us);
    }
  look->stored = TRUE;
  for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
    if (wb_readings_taken (readings, reading, column))
      {
        double value = wb_readings_get (readings, reading, column);

        if (!isnan (wick) && (wb_app_evening_is_by_wick (row, column) || (column == WB_COLUMN_EVENT && wb_app_bench_sample_get_n_wicks (row->sample) > 1)))
          wb_app_evening_wicks_set (&look->wicks_in_record, (guint) wick, column, value);
        else
          look->in_record[column] = value;
      }
  if (wb_readings_taken (readings, reading, WB_COLUMN_THROW) || wb_readings_taken (readings, reading, WB_COLUMN_THROW_DISTANCE_M))
    {
      const char *rater = wb_readings_get_text (readings, reading, WB_READING_TEXT_RATER);

      row->rater_in_record = rater != NULL ? g_string_chunk_insert (row->words, rater) : row->rater_in_record;
    }
  /* The end stands in the time; an afterglow may be told beside it. */
  if (ends)
    {
      row->end_event = event;
      look->in_record[WB_COLUMN_EVENT] = NAN;
    }
}

void
wb_app_evening_row_find (WbAppEveningRow         *row,
                         const WbAppEveningCheck *check)
{
  const WbDataset *data = wb_app_bench_sample_get_data (row->sample);
  double end_min;
  guint first, n;

  row->burn = find_burn (row, check->frame);
  if (row->burn == G_MAXUINT)
    return;
  row->lit_at = wb_dataset_get_burn (data, row->burn)->lit_at;
  end_min = wb_app_bench_burn_end_min (data, row->burn);
  /* A burn from a file is over, whatever its last row says. */
  row->ended = !isnan (end_min) || wb_dataset_get_burn (data, row->burn)->session == 0;
  wb_readings_get_burn_rows (data->readings, row->burn, &first, &n);
  for (guint reading = first; reading < first + n; reading++)
    lay_reading (row, check, reading, isnan (end_min) ? HUGE_VAL : end_min);
}
