/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-app-evening-private.h"

#include "wb-app-moment-private.h"
#include "wb-clock.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* When a sample was lit and looked at: clock times of a night in their order, held against what else the record knows of it. */

#define MINUTE_US ((gint64) 60 * G_USEC_PER_SEC)
/* Nobody waits so long between two looks of an evening: the time lies before the one that it should follow. Common practice, no source. */
#define LONGEST_STEP_US (12 * 60 * MINUTE_US)
/* Until the scales are brought: the next day, or the day after. */
#define LONGEST_NIGHT_US (36 * 60 * MINUTE_US)

static const char *
peek_time (const WbAppEveningRow   *row,
           const WbAppEveningCheck *check,
           guint                    column)
{
  const char *own = wb_app_evening_peek_text (check->evening, row, column);

  return *own != '\0' ? own : wb_app_evening_get_text (check->evening, WB_APP_EVENING_ALL, column);
}

static void
refuse_unreadable (WbAppEveningRow *row,
                   guint            moment)
{
  wb_app_evening_refuse (row, row->looks[moment].time_column, g_strdup (wb_app_evening_get_time_rule (moment)));
}

/* ---- Lighting ---- */

static void
hold_lit_against_record (WbAppEveningRow *row,
                         guint            column,
                         const char      *own)
{
  g_autofree char *shown = wb_instant_format_time (row->lit_at);
  int hour, minute;

  row->cells[column].state = WB_APP_EVENING_STORED;
  row->cells[column].stored = g_string_chunk_insert (row->words, shown);
  if (*own == '\0')
    return;
  if (!wb_app_evening_read_clock (own, &hour, &minute) || !wb_instant_shows (row->lit_at, hour, minute))
    wb_app_evening_refuse (row, column, g_strdup_printf (_("The record says that it was lit at %s. Empty this cell."), shown));
}

static void
read_lit (WbAppEveningRow         *row,
          const WbAppEveningCheck *check,
          guint                    column)
{
  const char *text = peek_time (row, check, column);
  WbInstant opened_at = check->frame->opened_at;
  int hour, minute;

  if (*text == '\0')
    {
      wb_app_evening_refuse (row, column, g_strdup (_("When was it lit? One time in the head of the column holds for all.")));
      return;
    }
  if (!wb_app_evening_read_clock (text, &hour, &minute))
    {
      refuse_unreadable (row, 0);
      return;
    }
  /* The day or the hour is told above, where it is wrong. */
  if (!opened_at.known)
    return;
  row->lit_at = wb_app_evening_resolve (hour, minute, opened_at, FALSE);
  if (row->lit_at.known && row->lit_at.utc_us - opened_at.utc_us > LONGEST_STEP_US)
    {
      g_autofree char *opened = wb_instant_format_time (opened_at);

      wb_app_evening_refuse (row, column, g_strdup_printf (_("That is before %s, when the evening began."), opened));
      /* Of what rests on it nothing can be said. */
      row->lit_at = WB_INSTANT_NONE;
    }
  else if (row->lit_at.known && row->lit_at.utc_us > check->now.utc_us)
    {
      wb_app_evening_refuse (row, column, g_strdup (_("That is yet to come.")));
      row->lit_at = WB_INSTANT_NONE;
    }
}

/* Another burn of the sample at that time, or after it. */
static void
hold_against_burn (WbAppEveningRow *row,
                   guint            column,
                   guint            index)
{
  const WbDataset *data = wb_app_bench_sample_get_data (row->sample);
  const WbBurn *burn = wb_dataset_get_burn (data, index);
  double end_min = wb_app_bench_burn_end_min (data, index);
  g_autofree char *lit = wb_instant_format_short (burn->lit_at);
  int number = (int) burn->number;

  if (!burn->lit_at.known)
    return;
  if (burn->lit_at.utc_us > row->lit_at.utc_us)
    wb_app_evening_refuse (row, column, g_strdup_printf (_("The record has a later one already: burn %d, lit %s. Burns are typed in by their order."), number, lit));
  else if (isnan (end_min) && burn->session != 0)
    wb_app_evening_refuse (row, column, g_strdup_printf (_("Burn %d, lit %s, has no end in the record: say at the bench when it ended."), number, lit));
  else if (burn->lit_at.utc_us + (gint64) (end_min * (double) MINUTE_US) > row->lit_at.utc_us)
    wb_app_evening_refuse (row, column, g_strdup_printf (_("It was alight then: burn %d, lit %s."), number, lit));
}

static void
hold_new_burn_against_record (WbAppEveningRow *row,
                              guint            column)
{
  const WbDataset *data = wb_app_bench_sample_get_data (row->sample);
  WbDay poured_on = wb_app_bench_sample_get_record (row->sample)->poured_on;

  if (!row->lit_at.known)
    return;
  if (wb_craft_doubt_day (poured_on, wb_instant_get_day (row->lit_at)))
    {
      g_autofree char *day = wb_day_format_local (poured_on);

      wb_app_evening_refuse (row, column, g_strdup_printf (_("It was poured on %s, after that."), day));
    }
  for (guint burn = 0; burn < data->burns->len; burn++)
    if (g_array_index (data->burn_sample, guint, burn) == wb_app_bench_sample_get_index (row->sample))
      hold_against_burn (row, column, burn);
}

/* ---- The looks after it ---- */

static char *
dup_before (const WbAppEveningCheck *check,
            guint                    moment,
            WbInstant                at)
{
  g_autofree char *label = wb_app_evening_dup_moment_label (check->evening, moment);
  g_autofree char *time = wb_instant_format_time (at);

  /* Translators: a moment of the sheet, and its time: "Round 1", "20:30". */
  return g_strdup_printf (_("That does not come after “%s”, %s."), label, time);
}

/* The moment before it of which the time is known. */
static guint
find_before (const WbAppEveningRow *row,
             guint                  moment)
{
  guint before = moment;

  while (before > 0 && !row->looks[--before].at.known)
    continue;
  return before;
}

static void
set_time (WbAppEveningRow         *row,
          const WbAppEveningCheck *check,
          guint                    moment,
          WbInstant                at)
{
  WbAppEveningLook *look = &row->looks[moment];
  guint before = find_before (row, moment);
  gboolean next_day = wb_app_evening_get_moment (check->evening, moment)->ask == WB_APP_ASK_NEXT_DAY;
  gint64 step_us = at.utc_us - row->looks[before].at.utc_us;

  if (step_us > (next_day ? LONGEST_NIGHT_US : LONGEST_STEP_US) || step_us < -MINUTE_US)
    {
      wb_app_evening_refuse (row, look->time_column, dup_before (check, before, row->looks[before].at));
      return;
    }
  if (at.utc_us > check->now.utc_us)
    wb_app_evening_refuse (row, look->time_column, g_strdup (_("That is yet to come.")));
  look->at = at;
  look->minute = MAX (round ((double) (at.utc_us - row->lit_at.utc_us) / (double) MINUTE_US * 10) / 10, 0);
  if (look->minute > WB_APP_MOMENT_LONGEST_MIN)
    wb_app_evening_refuse (row, look->time_column, g_strdup (_("More than two days after lighting.")));
}

static void
read_look_time (WbAppEveningRow         *row,
                const WbAppEveningCheck *check,
                guint                    moment,
                const char              *text)
{
  /* Two rounds are two looks; before and after snuffing may be of one minute. */
  gboolean later = wb_app_evening_get_moment (check->evening, moment)->ask == WB_APP_ASK_ROUND;
  double minutes;
  int hour, minute;

  if (wb_app_evening_read_clock (text, &hour, &minute))
    {
      if (row->lit_at.known)
        set_time (row, check, moment, wb_app_evening_resolve (hour, minute, row->looks[find_before (row, moment)].at, later));
    }
  else if (wb_app_evening_read_minutes (text, &minutes))
    {
      if (row->lit_at.known)
        set_time (row, check, moment, wb_clock_at (wb_clock_get (), row->lit_at.utc_us + (gint64) (minutes * (double) MINUTE_US)));
    }
  else
    refuse_unreadable (row, moment);
}

static void
hold_time_against_record (WbAppEveningRow         *row,
                          const WbAppEveningCheck *check,
                          guint                    moment)
{
  WbAppEveningLook *look = &row->looks[moment];
  const char *own = wb_app_evening_peek_text (check->evening, row, look->time_column);
  g_autofree char *shown = wb_instant_format_time (look->at);
  double minutes;
  int hour, minute;

  row->cells[look->time_column].state = WB_APP_EVENING_STORED;
  row->cells[look->time_column].stored = g_string_chunk_insert (row->words, shown);
  if (*own == '\0')
    return;
  if (wb_app_evening_read_clock (own, &hour, &minute) ? !wb_instant_shows (look->at, hour, minute)
                                                      : !wb_app_evening_read_minutes (own, &minutes) || fabs (minutes - look->minute) >= 1)
    wb_app_evening_refuse (row, look->time_column, g_strdup_printf (_("The record has a look at %s here. Empty this cell."), shown));
}

/* Where the flame was out already, by the record. */
static void
hold_against_end (WbAppEveningRow         *row,
                  const WbAppEveningCheck *check,
                  guint                    moment)
{
  WbAppAsk ask = wb_app_evening_get_moment (check->evening, moment)->ask;
  const WbAppEveningLook *end = &row->looks[wb_app_evening_get_n_moments (check->evening) - 2];
  WbAppEveningLook *look = &row->looks[moment];

  if (!row->ended || !end->stored || !(look->minute > end->minute) || (ask != WB_APP_ASK_ROUND && ask != WB_APP_ASK_BEFORE_SNUFFING))
    return;
  wb_app_evening_refuse (row, look->time_column, g_strdup (_("It was out by then, the record says.")));
}

static void
check_look_time (WbAppEveningRow         *row,
                 const WbAppEveningCheck *check,
                 guint                    moment)
{
  WbAppEveningLook *look = &row->looks[moment];
  const char *own = wb_app_evening_peek_text (check->evening, row, look->time_column);
  const char *text = peek_time (row, check, look->time_column);
  gboolean ends = wb_app_evening_get_moment (check->evening, moment)->ask == WB_APP_ASK_AFTER_SNUFFING;
  gboolean needed = look->taken || (ends && row->burn == G_MAXUINT);

  if (look->stored)
    {
      hold_time_against_record (row, check, moment);
      return;
    }
  if (*text == '\0' && needed)
    wb_app_evening_refuse (row, look->time_column,
                           g_strdup (ends ? _("When was it snuffed? Without its end it would count as alight.") : _("At what time was that?")));
  /* A burn that is in the record without its end is ended by a time of its own. */
  else if (*text != '\0' && (needed || (ends && !row->ended && *own != '\0')))
    {
      if (*own != '\0')
        row->cells[look->time_column].state = WB_APP_EVENING_FINE;
      read_look_time (row, check, moment, text);
      hold_against_end (row, check, moment);
    }
  else if (*own != '\0')
    wb_app_evening_refuse (row, look->time_column, g_strdup (_("A time, and nothing that was read then.")));
}

void
wb_app_evening_row_times (WbAppEveningRow         *row,
                          const WbAppEveningCheck *check)
{
  const char *own = wb_app_evening_peek_text (check->evening, row, 0);

  if (row->burn != G_MAXUINT)
    hold_lit_against_record (row, 0, own);
  else if (!row->typed)
    return;
  else
    {
      if (*own != '\0')
        row->cells[0].state = WB_APP_EVENING_FINE;
      read_lit (row, check, 0);
      hold_new_burn_against_record (row, 0);
    }
  row->looks[0].at = row->lit_at;
  row->looks[0].minute = 0;
  for (guint moment = 1; moment < wb_app_evening_get_n_moments (check->evening); moment++)
    check_look_time (row, check, moment);
}
