/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-evening.h"
#include "wb-clock.h"
#include "wb-store-records.h"

#include <string.h>

/* A sheet of paper with a sample on it that crossed a limit the evening before, in an invented workshop. */

static guint
find_field (WbAppEvening *sheet,
            guint         moment,
            WbColumn      column)
{
  const WbAppEveningMoment *at = wb_app_evening_get_moment (sheet, moment);

  for (guint i = at->first; i < at->first + at->n; i++)
    if (wb_app_evening_get_column (sheet, i)->kind == WB_APP_EVENING_FIELD && wb_app_evening_get_column (sheet, i)->column == column)
      return i;
  g_assert_not_reached ();
}

/* Nine in the morning, some days on. */
static WbAppEvening *
sheet_new (Evening *evening,
           int      days)
{
  WbInstant now = wb_clock_now (wb_clock_get ());
  WbAppEvening *sheet;

  wb_clock_advance (wb_clock_get (), (33 - (now.utc_us / HOUR_US) % 24) * HOUR_US + (days - 1) * DAY_US);
  wb_app_bench_update (evening->bench);
  sheet = wb_app_evening_new (evening->bench, evening->experiment);
  wb_app_evening_set_head (sheet, WB_APP_EVENING_OPENED, "19:00");
  return sheet;
}

static const WbAppEveningCell *
get_lit (WbAppEvening *sheet,
         guint         row)
{
  return wb_app_evening_get_cell (sheet, row, 0);
}

/* Lit at half past seven, read an hour later, out at half past eight. */
static void
type_burn (WbAppEvening *sheet,
           guint         row,
           const char   *wall)
{
  guint after = wb_app_evening_get_n_moments (sheet) - 2;

  wb_app_evening_set_text (sheet, row, 0, "19:30");
  wb_app_evening_set_text (sheet, row, 1, "A1");
  wb_app_evening_set_text (sheet, row, wb_app_evening_get_moment (sheet, 1)->first, "20:30");
  wb_app_evening_set_text (sheet, row, find_field (sheet, 1, WB_COLUMN_VESSEL_C), wall);
  wb_app_evening_set_text (sheet, row, wb_app_evening_get_moment (sheet, after)->first, "20:40");
}

static gboolean
has_crossed (gpointer sample)
{
  return wb_app_bench_sample_get_crossed_burn (sample) == 1;
}

static gboolean
has_two (gpointer sample)
{
  return wb_app_bench_sample_get_burn (sample) != NULL && wb_app_bench_sample_get_burn (sample)->number == 2;
}

static void
test_crossed (void)
{
  Evening evening;
  g_autoptr (WbAppEvening) first = NULL, second = NULL;
  WbAppBenchSample *sample;
  WbAppEveningCounts counts;

  evening_set_up (&evening);
  first = sheet_new (&evening, 10);
  sample = wb_app_evening_get_sample (first, 0);
  type_burn (first, 0, "79");
  type_burn (first, 1, "50");
  /* In its own burn the limit is told by its field. */
  g_assert_cmpint (get_lit (first, 0)->state, ==, WB_APP_EVENING_FINE);
  evening_save_sheet (first);
  app_wait_until (has_crossed, sample, "the bench to know what was crossed");

  second = sheet_new (&evening, 2);
  g_assert_cmpint (get_lit (second, 0)->state, ==, WB_APP_EVENING_EMPTY);
  wb_app_evening_set_text (second, 0, 0, "19:30");
  g_assert_cmpint (get_lit (second, 0)->state, ==, WB_APP_EVENING_DOUBTED);
  g_assert_nonnull (strstr (get_lit (second, 0)->problem, "after it had crossed a limit"));
  g_assert_nonnull (strstr (get_lit (second, 0)->problem, "in burn 1 at 60 min"));
  type_burn (second, 0, "48");
  type_burn (second, 1, "50");
  g_assert_cmpint (get_lit (second, 1)->state, ==, WB_APP_EVENING_FINE);
  wb_app_evening_count (second, &counts);
  g_assert_cmpuint (counts.wrong, ==, 0);
  g_assert_cmpuint (counts.doubted, ==, 1);
  /* Not forbidden; it stands with the burn. */
  evening_save_sheet (second);
  app_wait_until (has_two, sample, "the bench to know the second burn");
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (sample)->note, "after it had crossed a limit"));
  g_assert_null (wb_app_bench_sample_get_burn (wb_app_evening_get_sample (second, 1))->note);
  g_clear_object (&first);
  g_clear_object (&second);
  evening_tear_down (&evening);
}

void
test_app_sheet_crossed_add (void)
{
  g_test_add_func ("/app/sheet/a-sample-that-crossed-a-limit-and-was-lit-again-is-told", test_crossed);
}
