/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"

#include "wb-app-amend.h"
#include "wb-clock.h"

#include <math.h>

/* A vessel of two wicks at the bench: rows of one moment, and what of them is told. */

static GPtrArray *
readings_new (void)
{
  return g_ptr_array_new_with_free_func (wb_record_free);
}

/* wick 0: of the vessel. */
static WbReading *
add (GPtrArray *readings,
     int        wick,
     WbColumn   column,
     double     value)
{
  WbReading *reading = wb_record_new (&wb_reading_type);

  reading->elapsed_min = NAN;
  reading->values[column] = value;
  if (wick > 0)
    reading->values[WB_COLUMN_WICK_NUMBER] = wick;
  g_ptr_array_add (readings, reading);
  return reading;
}

static void
read_all (Evening          *evening,
          WbAppBenchSample *sample,
          GPtrArray        *readings,
          double            minute)
{
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_bench_read_all_async (evening->bench, wb_app_bench_sample_get_id (sample), readings, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_minute (sample, minute);
}

static void
read_event (Evening          *evening,
            WbAppBenchSample *sample,
            int               wick,
            WbEvent           event,
            double            minute)
{
  g_autoptr (GPtrArray) readings = readings_new ();

  add (readings, wick, WB_COLUMN_EVENT, event);
  read_all (evening, sample, readings, minute);
}

/* Pool of the vessel, a flame each: flame 1 low and flame 2 high. */
static void
read_round (Evening          *evening,
            WbAppBenchSample *sample,
            double            flame_1_mm,
            double            flame_2_mm,
            double            minute)
{
  g_autoptr (GPtrArray) readings = readings_new ();

  add (readings, 0, WB_COLUMN_POOL_MM, 50);
  add (readings, 1, WB_COLUMN_FLAME_MM, flame_1_mm);
  add (readings, 2, WB_COLUMN_FLAME_MM, flame_2_mm);
  read_all (evening, sample, readings, minute);
}

static WbAppBenchSample *
set_up (Evening *evening)
{
  evening_set_up_wicks (evening, 2);
  return evening_light_first (evening);
}

static gboolean
is_blank (gpointer sample)
{
  return isnan (wb_app_bench_sample_get_last_min (sample));
}

static void
undo (Evening *evening)
{
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_notebook_undo_async (evening->notebook, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (evening->notebook, app_wait_result (&result), NULL, &error), >, 0);
  g_assert_no_error (error);
  g_clear_object (&result);
}

static void
test_one_moment_is_one_entry (void)
{
  Evening evening;
  WbAppBenchSample *sample = set_up (&evening);
  gint64 before;
  double change;

  g_assert_cmpuint (wb_app_bench_sample_get_n_wicks (sample), ==, 2);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  before = wb_app_notebook_get_last_entry (evening.notebook);
  read_round (&evening, sample, 15, 22, 60);
  g_assert_cmpint (wb_app_notebook_get_last_entry (evening.notebook), ==, before + 1);
  g_assert_cmpfloat (wb_app_bench_sample_get_wick_last (sample, 1, WB_COLUMN_FLAME_MM, &change), ==, 15);
  g_assert_true (isnan (change));
  g_assert_cmpfloat (wb_app_bench_sample_get_wick_last (sample, 2, WB_COLUMN_FLAME_MM, NULL), ==, 22);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_POOL_MM), ==, 50);
  /* One figure for the vessel is the higher flame, and its change is from moment to moment, not from wick to wick. */
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), ==, 22);
  g_assert_true (isnan (wb_app_bench_sample_get_change (sample, WB_COLUMN_FLAME_MM)));

  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_round (&evening, sample, 18, 21, 120);
  g_assert_cmpfloat (wb_app_bench_sample_get_wick_last (sample, 1, WB_COLUMN_FLAME_MM, &change), ==, 18);
  g_assert_cmpfloat (change, ==, 3);
  g_assert_cmpfloat (wb_app_bench_sample_get_change (sample, WB_COLUMN_FLAME_MM), ==, -1);

  undo (&evening);
  evening_wait_for_minute (sample, 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_wick_last (sample, 1, WB_COLUMN_FLAME_MM, NULL), ==, 15);
  undo (&evening);
  app_wait_until (is_blank, sample, "the round to be taken back");
  evening_tear_down (&evening);
}

/* A second look within the minute moves on as a whole: the rows of a moment stay together. */
static void
test_a_second_look_in_the_same_minute (void)
{
  Evening evening;
  WbAppBenchSample *sample = set_up (&evening);
  g_autoptr (GPtrArray) readings = readings_new ();

  wb_clock_advance (wb_clock_get (), HOUR_US);
  add (readings, 2, WB_COLUMN_FLAME_MM, 19);
  read_all (&evening, sample, readings, 60);
  read_round (&evening, sample, 15, 22, 60.1);
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_FLAME_MM), ==, 22);
  g_assert_cmpfloat (wb_app_bench_sample_get_change (sample, WB_COLUMN_FLAME_MM), ==, 3);
  evening_tear_down (&evening);
}

static void
test_one_wick_out_is_no_end (void)
{
  Evening evening;
  WbAppBenchSample *sample = set_up (&evening);

  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_event (&evening, sample, 2, WB_EVENT_SELF_EXTINGUISHED, 60);
  g_assert_cmpint (wb_app_bench_sample_get_state (sample), ==, WB_APP_BENCH_ALIGHT);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_event (&evening, sample, 1, WB_EVENT_SELF_EXTINGUISHED, 120);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  evening_tear_down (&evening);
}

/* What happened, noted alone, is not the round's reading: it stays due, and what was near or over a limit is told on. */
static void
test_event_alone_leaves_the_round_due (void)
{
  Evening evening;
  WbAppBenchSample *sample = set_up (&evening);

  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_event (&evening, sample, 0, WB_EVENT_FLAMES_MERGED, 60);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_min (sample), ==, 60);
  g_assert_true (isnan (wb_app_bench_sample_get_look_min (sample)));
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), <=, 0);
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  read_round (&evening, sample, 55, 22, 61);
  g_assert_cmpint (wb_app_bench_sample_get_due_in_s (sample), >, 0);
  g_assert_true (wb_app_bench_sample_get_over (sample));
  wb_clock_advance (wb_clock_get (), MINUTE_US);
  read_event (&evening, sample, 1, WB_EVENT_WICK_LEAN, 62);
  g_assert_true (wb_app_bench_sample_get_over (sample));
  evening_tear_down (&evening);
}

/* The house's limit is 50 mm, its mark 38 (house limits, no standard): the lower flame of the two hides no other. */
static void
test_limits_of_each_wick (void)
{
  Evening evening;
  WbAppBenchSample *sample = set_up (&evening);
  g_autoptr (GPtrArray) readings = readings_new (), hits = NULL;

  add (readings, 1, WB_COLUMN_FLAME_MM, 55);
  add (readings, 2, WB_COLUMN_FLAME_MM, 20);
  hits = wb_app_bench_check_readings (sample, readings);
  g_assert_cmpuint (hits->len, ==, 1);
  g_assert_cmpstr (((WbAppBenchHit *) g_ptr_array_index (hits, 0))->text, ==,
                   "wick 1, flame height 55.0\302\240mm: over the house limit of 50.0\302\240mm");
  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_round (&evening, sample, 55, 20, 60);
  g_assert_true (wb_app_bench_sample_get_over (sample));
  g_assert_nonnull (strstr (wb_app_bench_sample_get_alarm (sample), "wick 1"));
  /* Both over: the worse is told. */
  ((WbReading *) g_ptr_array_index (readings, 1))->values[WB_COLUMN_FLAME_MM] = 60;
  g_clear_pointer (&hits, g_ptr_array_unref);
  hits = wb_app_bench_check_readings (sample, readings);
  g_assert_cmpuint (hits->len, ==, 1);
  g_assert_nonnull (strstr (((WbAppBenchHit *) g_ptr_array_index (hits, 0))->text, "wick 2, flame height 60"));
  evening_tear_down (&evening);
}

/* A flame is held against what was read at its own wick. */
static void
test_doubts_of_each_wick (void)
{
  Evening evening;
  WbAppBenchSample *sample = set_up (&evening);
  double values[WB_N_COLUMNS];

  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_round (&evening, sample, 12, 40, 60);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  for (guint column = 0; column < WB_N_COLUMNS; column++)
    values[column] = NAN;
  values[WB_COLUMN_FLAME_MM] = 64;
  for (int wick = 1; wick <= 2; wick++)
    {
      g_autoptr (GArray) doubts = NULL;

      values[WB_COLUMN_WICK_NUMBER] = wick;
      doubts = wb_app_bench_find_doubts (sample, WB_APP_ASK_ROUND, values, 120);
      g_assert_cmpuint (doubts->len, ==, wick == 1 ? 1 : 0);
    }
  evening_tear_down (&evening);
}

static void
test_snuff_with_a_round (void)
{
  Evening evening;
  WbAppBenchSample *sample = set_up (&evening);
  g_autoptr (GPtrArray) readings = readings_new ();
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;
  gint64 before = wb_app_notebook_get_last_entry (evening.notebook);

  wb_clock_advance (wb_clock_get (), 4 * HOUR_US);
  add (readings, 1, WB_COLUMN_FLAME_MM, 15);
  add (readings, 2, WB_COLUMN_FLAME_MM, 16);
  wb_app_bench_snuff_all_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_EVENT_SNUFFED, readings, NULL, app_keep_result_cb,
                                &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_state (sample, WB_APP_BENCH_COOLING);
  g_assert_cmpint (wb_app_notebook_get_last_entry (evening.notebook), ==, before + 1);
  g_assert_cmpfloat (wb_app_bench_sample_get_wick_last (sample, 2, WB_COLUMN_FLAME_MM, NULL), ==, 16);
  g_assert_cmpfloat (wb_app_bench_sample_get_last_min (sample), ==, 240);
  evening_tear_down (&evening);
}

static gboolean
is_loaded (gpointer amend)
{
  return wb_app_live_list_get_loaded (WB_APP_LIVE_LIST (amend));
}

/* Each wick's going out ended the burn with the other's, and neither may be taken out; one that was relit did not. */
static void
test_ends_of_each_wick (void)
{
  static const struct { int wick; WbEvent event; gboolean ends; } rows[] = {
    { 1, WB_EVENT_SELF_EXTINGUISHED, FALSE }, { 1, WB_EVENT_RELIT, FALSE }, { 2, WB_EVENT_DROWNED, FALSE },
    { 2, WB_EVENT_SELF_EXTINGUISHED, TRUE }, { 1, WB_EVENT_SELF_EXTINGUISHED, TRUE },
  };
  Evening evening;
  WbAppBenchSample *sample = set_up (&evening);
  g_autoptr (WbAppAmend) amend = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      wb_clock_advance (wb_clock_get (), 10 * MINUTE_US);
      read_event (&evening, sample, rows[i].wick, rows[i].event, 10 * (i + 1));
    }
  amend = wb_app_amend_new (evening.notebook, wb_app_bench_sample_get_id (sample));
  app_wait_until (is_loaded, amend, "what may be amended");
  /* The burn first, then its readings from the last to the first. */
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (WbAppAmendItem) item = g_list_model_get_item (G_LIST_MODEL (amend), G_N_ELEMENTS (rows) - i);

      g_test_message ("row %u", i);
      g_assert_cmpfloat (((const WbReading *) wb_app_amend_item_get_record (item))->elapsed_min, ==, 10 * (i + 1));
      g_assert_cmpint (wb_app_amend_item_ends_burn (item), ==, rows[i].ends);
    }
  g_clear_object (&amend);
  evening_tear_down (&evening);
}

void
test_app_wicks_add (void)
{
  g_test_add_func ("/app/wicks/one-moment-is-one-entry", test_one_moment_is_one_entry);
  g_test_add_func ("/app/wicks/a-second-look-in-the-same-minute", test_a_second_look_in_the_same_minute);
  g_test_add_func ("/app/wicks/one-wick-out-is-no-end", test_one_wick_out_is_no_end);
  g_test_add_func ("/app/wicks/what-happened-alone-leaves-the-round-due", test_event_alone_leaves_the_round_due);
  g_test_add_func ("/app/wicks/limits-of-each-wick", test_limits_of_each_wick);
  g_test_add_func ("/app/wicks/doubts-of-each-wick", test_doubts_of_each_wick);
  g_test_add_func ("/app/wicks/snuff-with-a-round", test_snuff_with_a_round);
  g_test_add_func ("/app/wicks/ends-of-each-wick", test_ends_of_each_wick);
}
