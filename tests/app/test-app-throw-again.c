/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-bench-throw.h"
#include "wb-clock.h"

#include <math.h>

/* One nose rates the throw of a burn twice in a minute: a slip, or the key pressed twice. Invented workshop. */

static void
light (Evening          *evening,
       WbAppBenchSample *sample)
{
  g_autoptr (WbRecord) first = wb_record_new (&wb_reading_type);
  WbReading *stated = (WbReading *) first;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  stated->values[WB_COLUMN_THROW_DISTANCE_M] = 2.5;
  stated->values[WB_COLUMN_THROW_BLIND] = 1;
  stated->rater = g_strdup ("Wren");
  wb_app_bench_light_async (evening->bench, wb_app_bench_sample_get_id (sample), WB_BURN_THROW, 6, "kitchen", WB_INSTANT_NONE, stated, FALSE,
                            NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_state (sample, WB_APP_BENCH_ALIGHT);
}

static void
rate (Evening          *evening,
      WbAppBenchSample *sample,
      double            throw,
      double            minute)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  ((WbReading *) record)->values[WB_COLUMN_THROW] = throw;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (sample), (WbReading *) record, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_minute (sample, minute);
}

static gboolean
is_again (WbAppBenchSample *sample,
          double            throw,
          double            minute,
          const char       *rater,
          WbCraftDoubt     *doubt)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  WbReading *typed = (WbReading *) record;

  typed->values[WB_COLUMN_THROW] = throw;
  typed->elapsed_min = minute;
  typed->rater = g_strdup (rater);
  return wb_app_bench_find_throw_again (sample, typed, doubt);
}

static void
test_again (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  WbCraftDoubt doubt;

  evening_set_up_scented (&evening, 10);
  wb_clock_advance (wb_clock_get (), 11 * DAY_US);
  wb_app_bench_update (evening.bench);
  evening_open_session (&evening);
  sample = evening_nth (&evening, 0);
  light (&evening, sample);
  wb_clock_advance (wb_clock_get (), 30 * MINUTE_US);
  /* The first of its burn. */
  g_assert_false (is_again (sample, 4, NAN, NULL, &doubt));
  rate (&evening, sample, 4, 30);
  g_assert_true (is_again (sample, 2, NAN, NULL, &doubt));
  g_assert_cmpint (doubt.kind, ==, WB_CRAFT_DOUBT_AGAIN);
  g_assert_cmpint (doubt.column, ==, WB_COLUMN_THROW);
  g_assert_cmpfloat (doubt.value, ==, 2);
  g_assert_cmpfloat (doubt.bound, ==, 4);
  g_assert_true (is_again (sample, 4, 30, "Wren", &doubt));
  /* Another nose; a reading without a rating; an earlier or later minute. */
  g_assert_false (is_again (sample, 2, NAN, "Alder", &doubt));
  g_assert_false (is_again (sample, NAN, NAN, NULL, &doubt));
  g_assert_false (is_again (sample, 2, 10, NULL, &doubt));
  wb_clock_advance (wb_clock_get (), 2 * MINUTE_US);
  wb_app_bench_update (evening.bench);
  g_assert_false (is_again (sample, 2, NAN, NULL, &doubt));
  evening_tear_down (&evening);
}

void
test_app_throw_again_add (void)
{
  g_test_add_func ("/app/throw/a-second-rating-within-a-minute-is-doubted", test_again);
}
