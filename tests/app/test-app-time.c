/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-query.h"
#include "wb-clock.h"

#include <math.h>

/* Time at the bench: what was typed late. */

static void
light_first (Evening           *evening,
             WbAppBenchSample **sample)
{
  evening_set_up (evening);
  wb_clock_advance (wb_clock_get (), 3 * DAY_US);
  wb_app_bench_update (evening->bench);
  *sample = evening_nth (evening, 0);
  evening_open_session (evening);
  evening_light (evening, *sample);
}

/* The reading of that minute in the file. Caller frees. */
static WbReading *
find_reading (Evening *evening,
              double   minute)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) readings = wb_app_query_list_sync (evening->notebook, &wb_reading_type, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      if (fabs (reading->elapsed_min - minute) < 1e-6)
        return wb_record_copy (reading);
    }
  g_error ("no reading of minute %g", minute);
}

static void
read_at (Evening          *evening,
         WbAppBenchSample *sample,
         double            minute)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = 20;
  ((WbReading *) record)->elapsed_min = minute;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (sample), (WbReading *) record, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
}

static void
assert_late (Evening *evening,
             double   minute,
             gboolean late)
{
  g_autoptr (WbRecord) reading = (WbRecord *) find_reading (evening, minute);

  g_test_message ("minute %g", minute);
  g_assert_cmpint (((WbReading *) reading)->late, ==, late);
}

/* Ten minutes by the clock; and whatever stands before the last reading. */
static void
test_late (void)
{
  Evening evening;
  WbAppBenchSample *sample;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (WbRecord) end = wb_record_new (&wb_reading_type);

  light_first (&evening, &sample);
  wb_clock_advance (wb_clock_get (), 2 * HOUR_US);
  read_at (&evening, sample, 60);
  assert_late (&evening, 60, TRUE);
  read_at (&evening, sample, 109);
  assert_late (&evening, 109, TRUE);
  read_at (&evening, sample, 110);
  assert_late (&evening, 110, FALSE);
  read_at (&evening, sample, NAN);
  assert_late (&evening, 120, FALSE);
  evening_wait_for_minute (sample, 120);
  /* A few minutes back is before the last reading all the same. */
  read_at (&evening, sample, 117);
  assert_late (&evening, 117, TRUE);
  /* Found out an hour later. */
  wb_clock_advance (wb_clock_get (), 2 * HOUR_US);
  ((WbReading *) end)->elapsed_min = 180;
  wb_app_bench_snuff_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_EVENT_SNUFFED, (WbReading *) end, NULL,
                            app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  assert_late (&evening, 180, TRUE);
  evening_tear_down (&evening);
}

void
test_app_time_add (void)
{
  g_test_add_func ("/app/time/what-was-typed-late-is-marked", test_late);
}
