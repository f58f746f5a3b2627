/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-bench-throw.h"
#include "wb-clock.h"

#include <math.h>
#include <string.h>

/* FALSE: it was refused. place: of a throw burn its room. */
static gboolean
light (Evening          *evening,
       WbAppBenchSample *sample,
       WbBurnKind        kind,
       const char       *place,
       gboolean          override)
{
  g_autoptr (WbRecord) first = wb_record_new (&wb_reading_type);
  WbReading *stated = (WbReading *) first;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  gboolean lit;

  if (kind == WB_BURN_THROW)
    {
      stated->values[WB_COLUMN_THROW_DISTANCE_M] = 2.5;
      stated->values[WB_COLUMN_THROW_BLIND] = 1;
      stated->rater = g_strdup ("Wren");
    }
  wb_app_bench_light_async (evening->bench, wb_app_bench_sample_get_id (sample), kind, 6, place, WB_INSTANT_NONE, stated, override, NULL,
                            app_keep_result_cb, &result);
  lit = evening_finish (evening, &result, &error);
  g_assert_true (lit == (error == NULL));
  if (lit)
    evening_wait_for_state (sample, WB_APP_BENCH_ALIGHT);
  return lit;
}

/* minute NAN: now, which is minute `expected`. alone NAN: the program is to know. */
static void
rate (Evening          *evening,
      WbAppBenchSample *sample,
      double            minute,
      double            alone,
      double            expected)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  WbReading *reading = (WbReading *) record;
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  reading->values[WB_COLUMN_THROW] = 4;
  reading->values[WB_COLUMN_ALONE] = alone;
  reading->elapsed_min = minute;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (sample), reading, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_minute (sample, expected);
}

static void
set_up (Evening *evening,
        gint64   days)
{
  evening_set_up_scented (evening, 10);
  wb_clock_advance (wb_clock_get (), days * DAY_US);
  wb_app_bench_update (evening->bench);
  evening_open_session (evening);
}

/* One alight in its room: what was stated at its lighting stands with each rating, and it was alone. */
static void
test_alone (void)
{
  Evening evening;
  WbAppBenchSample *sample, *other;
  const WbBurn *burn;
  g_autofree char *room = NULL;
  double distance_m;

  set_up (&evening, 11);
  sample = evening_nth (&evening, 0);
  other = evening_nth (&evening, 1);
  g_assert_null (wb_app_bench_dup_last_room (evening.bench, NULL));
  g_assert_true (light (&evening, sample, WB_BURN_THROW, "Box room", FALSE));
  burn = wb_app_bench_sample_get_burn (sample);
  g_assert_cmpint (burn->kind, ==, WB_BURN_THROW);
  g_assert_cmpstr (burn->bench_place, ==, "Box room");
  g_assert_null (burn->note);
  g_assert_cmpstr (wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_THROW_ROOM), ==, "Box room");

  /* Another in the kitchen, where the session is, is in another room. */
  g_assert_true (light (&evening, other, WB_BURN_STANDARD, "1", FALSE));
  g_assert_null (wb_app_bench_sample_get_burn (other)->note);
  g_assert_null (wb_app_bench_dup_unscored (evening.bench, sample));
  wb_clock_advance (wb_clock_get (), 30 * MINUTE_US);
  rate (&evening, sample, NAN, NAN, 30);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 1);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW_DISTANCE_M), ==, 2.5);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_THROW_BLIND), ==, 1);
  g_assert_cmpstr (wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_RATER), ==, "Wren");
  room = wb_app_bench_dup_last_room (evening.bench, &distance_m);
  g_assert_cmpstr (room, ==, "Box room");
  g_assert_cmpfloat (distance_m, ==, 2.5);
  evening_tear_down (&evening);
}

/* A second one lit there is told and recorded, never forbidden; what is rated from then on is no score, what was rated before is. */
static void
test_second_in_the_room (void)
{
  Evening evening;
  WbAppBenchSample *sample, *other;
  g_autofree char *told = NULL, *unscored = NULL, *ordinary = NULL;

  set_up (&evening, 11);
  sample = evening_nth (&evening, 0);
  other = evening_nth (&evening, 1);
  g_assert_true (light (&evening, sample, WB_BURN_THROW, "kitchen ", FALSE));
  told = wb_app_bench_dup_throw_deviation (evening.bench, other, WB_BURN_STANDARD, "1");
  g_assert_nonnull (strstr (told, wb_app_bench_sample_get_code (sample)));
  wb_clock_advance (wb_clock_get (), 30 * MINUTE_US + 20 * G_USEC_PER_SEC);
  g_assert_true (light (&evening, other, WB_BURN_STANDARD, "1", FALSE));
  g_assert_cmpstr (wb_app_bench_sample_get_burn (other)->note, ==, told);
  unscored = wb_app_bench_dup_unscored (evening.bench, sample);
  g_assert_nonnull (strstr (unscored, wb_app_bench_sample_get_code (other)));
  ordinary = wb_app_bench_dup_unscored (evening.bench, other);
  g_assert_nonnull (ordinary);

  /* Within the minute in which the other was lit: that it burns now counts, not that the minute began without it. */
  wb_clock_advance (wb_clock_get (), 20 * G_USEC_PER_SEC);
  rate (&evening, sample, NAN, NAN, 30);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 0);
  wb_clock_advance (wb_clock_get (), 20 * MINUTE_US);
  evening_snuff (&evening, other);
  evening_wait_for_state (other, WB_APP_BENCH_COOLING);
  wb_clock_advance (wb_clock_get (), 20 * MINUTE_US);
  rate (&evening, sample, NAN, NAN, 70);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 1);
  /* What the person says stands. */
  wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
  rate (&evening, sample, NAN, 0, 80);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 0);
  evening_tear_down (&evening);
}

/* Set back to a moment: what burnt then counts, not what burns now. */
static void
test_set_back (void)
{
  Evening evening;
  WbAppBenchSample *sample, *other;

  set_up (&evening, 11);
  sample = evening_nth (&evening, 0);
  other = evening_nth (&evening, 1);
  g_assert_true (light (&evening, sample, WB_BURN_THROW, "Kitchen", FALSE));
  wb_clock_advance (wb_clock_get (), 30 * MINUTE_US);
  g_assert_true (light (&evening, other, WB_BURN_STANDARD, "1", FALSE));
  wb_clock_advance (wb_clock_get (), 5 * MINUTE_US);
  rate (&evening, sample, 20, NAN, 20);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 1);
  rate (&evening, sample, 32, NAN, 32);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 0);
  evening_tear_down (&evening);
}

/* Fit to burn on the third day, to smell on the tenth: a throw burn waits, or is lit knowingly. */
static void
test_smell_cure (void)
{
  Evening evening;
  WbAppBenchSample *sample, *other;

  set_up (&evening, 4);
  sample = evening_nth (&evening, 0);
  other = evening_nth (&evening, 1);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_FIT);
  g_assert_true (wb_app_bench_sample_get_smell_at (sample).utc_us > wb_clock_now (wb_clock_get ()).utc_us);
  g_assert_false (light (&evening, sample, WB_BURN_THROW, "Box room", FALSE));
  g_assert_true (light (&evening, sample, WB_BURN_THROW, "Box room", TRUE));
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (sample)->note, "fit to smell from"));
  /* Another kind does not wait for it. */
  g_assert_true (light (&evening, other, WB_BURN_STANDARD, "1", FALSE));
  g_assert_null (wb_app_bench_sample_get_burn (other)->note);
  evening_tear_down (&evening);
}

/* Its own deviation: others burn there already. */
static void
test_lit_among_others (void)
{
  Evening evening;
  WbAppBenchSample *sample, *other;

  set_up (&evening, 11);
  sample = evening_nth (&evening, 0);
  other = evening_nth (&evening, 1);
  g_assert_true (light (&evening, other, WB_BURN_STANDARD, "1", FALSE));
  g_assert_true (light (&evening, sample, WB_BURN_THROW, "Kitchen", FALSE));
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (sample)->note, wb_app_bench_sample_get_code (other)));
  evening_tear_down (&evening);
}

void
test_app_throw_add (void)
{
  g_test_add_func ("/app/throw/alone-in-its-room", test_alone);
  g_test_add_func ("/app/throw/a-second-one-is-told-and-no-rating-beside-it-counts", test_second_in_the_room);
  g_test_add_func ("/app/throw/a-rating-set-back-asks-what-burnt-then", test_set_back);
  g_test_add_func ("/app/throw/fit-to-burn-is-not-fit-to-smell", test_smell_cure);
  g_test_add_func ("/app/throw/lit-among-others-is-its-deviation", test_lit_among_others);
}
