/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-query.h"
#include "wb-clock.h"

#include <string.h>

/* Which answers count for which hazards, and how long a hazard waits for its answer. House: a flame is stopped above 50 mm. */

static void
wait_asked (WbAppBenchSample *sample,
            gboolean          unanswered)
{
  EveningAsked asked = { sample, unanswered };

  app_wait_until (evening_is_asked_so, &asked, unanswered ? "the question" : "the answer in the record");
}

/* The reading of that minute, as it stands in the file; caller frees. */
static WbReading *
load_reading (Evening *evening,
              double   minute)
{
  g_autoptr (GPtrArray) readings = wb_app_query_list_sync (evening->notebook, &wb_reading_type, NULL);

  for (guint i = 0; i < readings->len; i++)
    if (((WbReading *) g_ptr_array_index (readings, i))->elapsed_min == minute)
      return wb_record_copy (g_ptr_array_index (readings, i));
  g_assert_not_reached ();
}

static void
amend_flame (Evening *evening,
             double   minute,
             double   flame_mm)
{
  g_autoptr (WbRecord) reading = (WbRecord *) load_reading (evening, minute);

  ((WbReading *) reading)->values[WB_COLUMN_FLAME_MM] = flame_mm;
  app_save (evening->notebook, reading);
}

static void
amend_note (Evening    *evening,
            double      minute,
            const char *note)
{
  g_autoptr (WbRecord) reading = (WbRecord *) load_reading (evening, minute);

  wb_record_set_text ((WbReading *) reading, wb_record_type_find_field (&wb_reading_type, "note"), note);
  app_save (evening->notebook, reading);
}

static void
see_to (Evening          *evening,
        WbAppBenchSample *sample)
{
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_bench_answer_async (evening->bench, wb_app_bench_sample_get_id (sample), "as told", NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  wait_asked (sample, FALSE);
}

/* 44 mm after 30 "may pass 50 mm", and somebody saw to it. It was 84: that is over the limit, and nobody has seen to that. */
static void
test_amended (void)
{
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  g_autoptr (WbRecord) answered = NULL;
  g_autoptr (GPtrArray) told = NULL;

  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 30, 60);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 44, 120);
  wait_asked (sample, TRUE);
  see_to (&evening, sample);
  amend_flame (&evening, 120, 84);
  wait_asked (sample, TRUE);
  told = wb_app_bench_dup_unanswered (sample);
  for (guint i = 0; i < told->len; i++)
    g_assert_nonnull (strstr (((WbAppBenchHit *) g_ptr_array_index (told, i))->text, "84.0\u00a0mm: over the "));
  see_to (&evening, sample);
  answered = (WbRecord *) load_reading (&evening, 120);
  g_assert_nonnull (strstr (((WbReading *) answered)->note, "44.0\u00a0mm"));
  g_assert_nonnull (strstr (((WbReading *) answered)->note, "84.0\u00a0mm: over the house limit"));
  evening_tear_down (&evening);
}

/* The climb that an answer tells of moves with the reading before it: the reading that was answered is as it was. */
static void
test_amended_before (void)
{
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  EveningAsked answered = { sample, FALSE };

  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 30, 60);
  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 44, 120);
  wait_asked (sample, TRUE);
  see_to (&evening, sample);
  amend_flame (&evening, 60, 29);
  /* read back with what is saved next */
  evening_read_flame (&evening, sample, 25, 120.1);
  g_assert_true (evening_is_asked_so (&answered));
  evening_tear_down (&evening);
}

static void
set_us_units (Evening *evening,
              gboolean us_units)
{
  g_autoptr (WbRecord) settings = wb_record_copy (wb_app_notebook_get_settings (evening->notebook));

  ((WbNotebook *) settings)->us_units = us_units;
  app_save (evening->notebook, settings);
}

static gboolean
has_us_units (gpointer notebook)
{
  return wb_app_notebook_get_settings (notebook)->us_units;
}

/* What a note has to say of 52 mm for it to be an answer: that flame and that limit, in whatever units. */
static void
test_what_counts (void)
{
  static const struct
  {
    const char *note;
    gboolean    unanswered;
  } notes[] = {
    { "Seen to: flame height 52.0\u00a0mm: over the house limit of 50.0\u00a0mm", FALSE },
    { "drips; Seen to: flame height 52.0\u00a0mm: over the house limit of 50.0\u00a0mm; moved", FALSE },
    { "✓ Seen to: flame height 52.0\u00a0mm: over the house limit of 50.0\u00a0mm", FALSE },
    /* begun while the program spoke another language */
    { "✓ Erledigt: flame height 52.0\u00a0mm: over the house limit of 50.0\u00a0mm", FALSE },
    { "✓ Erledigt: draught from the door", TRUE },
    { "Seen to: draught from the door", TRUE },
    { "flame height 52.0\u00a0mm: over the house limit of 50.0\u00a0mm", TRUE },
    { "Seen to: flame height 44.0\u00a0mm, up 14.0\u00a0mm in 1\u00a0h: may pass the house limit of 50.0\u00a0mm before 21:00", TRUE },
    { "", TRUE },
  };
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);

  wb_clock_advance (wb_clock_get (), HOUR_US);
  evening_read_flame (&evening, sample, 52, 60);
  wait_asked (sample, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (notes); i++)
    {
      g_test_message ("%s", notes[i].note);
      amend_note (&evening, 60, notes[i].note);
      wait_asked (sample, notes[i].unanswered);
    }
  see_to (&evening, sample);
  set_us_units (&evening, TRUE);
  app_wait_until (has_us_units, evening.notebook, "inches");
  wb_app_bench_update (evening.bench);
  g_assert_nonnull (strstr (wb_app_bench_sample_get_alarm (sample), "\u00a0in"));
  g_assert_false (wb_app_bench_is_unanswered (sample));
  evening_tear_down (&evening);
}

static void
read_event (Evening          *evening,
            WbAppBenchSample *sample,
            WbEvent           event,
            double            flame_mm,
            double            minute)
{
  g_autoptr (WbRecord) record = wb_record_new (&wb_reading_type);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  ((WbReading *) record)->values[WB_COLUMN_EVENT] = event;
  ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = flame_mm;
  wb_app_bench_read_async (evening->bench, wb_app_bench_sample_get_id (sample), (WbReading *) record, NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_minute (sample, minute);
}

static guint
count_asking (Evening *evening)
{
  g_autoptr (GPtrArray) asking = wb_app_bench_dup_asking (evening->bench);

  return asking->len;
}

/* The whole surface alight, or broken glass, is not over with the flame, nor with the program: the flame that was too high is. */
static void
test_outlasts_the_flame (void)
{
  const WbEvent events[] = { WB_EVENT_SECONDARY_IGNITION, WB_EVENT_VESSEL_CRACK };

  for (guint i = 0; i < G_N_ELEMENTS (events); i++)
    {
      Evening evening;
      WbAppBenchSample *sample = evening_set_up_lit (&evening);
      g_autofree char *path = g_strdup (wb_app_notebook_get_path (evening.notebook));
      g_autoptr (GPtrArray) told = NULL;
      g_autoptr (WbRecord) answered = NULL;

      wb_clock_advance (wb_clock_get (), HOUR_US);
      read_event (&evening, sample, events[i], 60, 60);
      evening_snuff (&evening, sample);
      evening_wait_for_state (sample, WB_APP_BENCH_CROSSED);
      g_assert_true (wb_app_bench_is_unanswered (sample));
      evening_tear_down (&evening);
      evening_reopen (&evening, path);
      sample = evening_nth (&evening, 0);
      g_assert_cmpuint (count_asking (&evening), ==, 1);
      told = wb_app_bench_dup_unanswered (sample);
      g_assert_cmpuint (told->len, ==, 1);
      g_assert_null (strstr (((WbAppBenchHit *) g_ptr_array_index (told, 0))->text, "60.0"));
      see_to (&evening, sample);
      g_assert_cmpuint (count_asking (&evening), ==, 0);
      answered = (WbRecord *) load_reading (&evening, 60);
      g_assert_nonnull (strstr (((WbReading *) answered)->note, "Seen to: "));
      g_assert_null (strstr (((WbReading *) answered)->note, "60.0"));
      evening_tear_down (&evening);
    }
}

/* Whoever sets a candle aside has looked at it. */
static void
test_set_aside (void)
{
  Evening evening;
  WbAppBenchSample *sample = evening_set_up_lit (&evening);
  GAsyncResult *result = NULL;
  g_autoptr (GError) error = NULL;

  wb_clock_advance (wb_clock_get (), HOUR_US);
  read_event (&evening, sample, WB_EVENT_VESSEL_CRACK, 20, 60);
  evening_snuff (&evening, sample);
  evening_wait_for_state (sample, WB_APP_BENCH_CROSSED);
  g_assert_cmpuint (count_asking (&evening), ==, 1);
  wb_app_bench_set_aside_async (evening.bench, wb_app_bench_sample_get_id (sample), WB_CAUSE_CAVITY, "Broken", NULL, app_keep_result_cb, &result);
  g_assert_true (evening_finish (&evening, &result, &error));
  g_assert_no_error (error);
  evening_wait_for_state (sample, WB_APP_BENCH_ENDED);
  g_assert_cmpuint (count_asking (&evening), ==, 0);
  evening_tear_down (&evening);
}

void
test_app_hazard_add (void)
{
  g_test_add_func ("/app/hazard/an-amended-reading-is-told-anew", test_amended);
  g_test_add_func ("/app/hazard/an-answer-outlives-what-was-amended-before-it", test_amended_before);
  g_test_add_func ("/app/hazard/an-answer-counts-for-what-it-names", test_what_counts);
  g_test_add_func ("/app/hazard/fire-and-glass-wait-for-their-answer-when-it-is-out", test_outlasts_the_flame);
  g_test_add_func ("/app/hazard/set-aside-is-seen-to", test_set_aside);
}
