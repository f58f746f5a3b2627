/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-evening.h"
#include "wb-app-evening.h"
#include "wb-clock.h"
#include "wb-store-records.h"

#include <math.h>
#include <string.h>

/* Lines of a sheet that are seldom: throw burns, vessels of two wicks, samples left cold; in an invented workshop with an invented scent. */

#define ROUND_1 1

static guint
find (WbAppEvening    *sheet,
      guint            moment,
      WbAppEveningKind kind,
      WbColumn         column)
{
  const WbAppEveningMoment *at = wb_app_evening_get_moment (sheet, moment);

  for (guint i = at->first; i < at->first + at->n; i++)
    if (wb_app_evening_get_column (sheet, i)->kind == kind && (kind != WB_APP_EVENING_FIELD || wb_app_evening_get_column (sheet, i)->column == column))
      return i;
  g_error ("no column %d in moment %u", column, moment);
}

static void
type (WbAppEvening    *sheet,
      guint            row,
      guint            moment,
      WbAppEveningKind kind,
      WbColumn         column,
      const char      *text)
{
  wb_app_evening_set_text (sheet, row, find (sheet, moment, kind, column), text);
}

static void
type_field (WbAppEvening *sheet,
            guint         row,
            guint         moment,
            WbColumn      column,
            const char   *text)
{
  type (sheet, row, moment, WB_APP_EVENING_FIELD, column, text);
}

static void
type_kind (WbAppEvening *sheet,
           guint         row,
           const char   *text)
{
  type (sheet, row, 0, WB_APP_EVENING_BURN, WB_N_COLUMNS, text);
}

static void
type_place (WbAppEvening *sheet,
            guint         row,
            const char   *text)
{
  type (sheet, row, 0, WB_APP_EVENING_PLACE, WB_N_COLUMNS, text);
}

static void
type_time (WbAppEvening *sheet,
           guint         row,
           guint         moment,
           const char   *text)
{
  type (sheet, row, moment, WB_APP_EVENING_TIME, WB_N_COLUMNS, text);
}

static guint
snuffed (WbAppEvening *sheet)
{
  return wb_app_evening_get_n_moments (sheet) - 2;
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
  wb_app_evening_set_head (sheet, WB_APP_EVENING_WHO, "Wren");
  return sheet;
}

static const WbAppEveningCell *
get_field (WbAppEvening *sheet,
           guint         row,
           guint         moment,
           WbColumn      column)
{
  return wb_app_evening_get_cell (sheet, row, find (sheet, moment, WB_APP_EVENING_FIELD, column));
}

static const WbAppEveningCell *
get_lit (WbAppEvening *sheet,
         guint         row)
{
  return wb_app_evening_get_cell (sheet, row, 0);
}

static gboolean
has_burn (gpointer sample)
{
  return wb_app_bench_sample_get_burn (sample) != NULL;
}

/* The last burn's readings, by the store's own functions; owned by the array. */
static GPtrArray *
list_readings (Evening          *evening,
               WbAppBenchSample *sample)
{
  g_autoptr (GError) error = NULL;
  WbStore *store = wb_store_open (wb_app_notebook_get_path (evening->notebook), WB_STORE_READ, &error);
  GPtrArray *readings;

  g_assert_no_error (error);
  readings = wb_store_list (store, &wb_reading_type, "burn", wb_app_bench_sample_get_burn (sample)->record.id, &error);
  g_assert_no_error (error);
  wb_store_close (store);
  return readings;
}

/* Rated at an hour of its burn, which began at that time. */
static void
type_throw_burn (WbAppEvening *sheet,
                 guint         row,
                 const char   *lit,
                 const char   *room)
{
  type_time (sheet, row, 0, lit);
  type_kind (sheet, row, "throw");
  type_place (sheet, row, room);
  type_time (sheet, row, ROUND_1, "60");
  type_field (sheet, row, ROUND_1, WB_COLUMN_THROW, "4");
  type_time (sheet, row, snuffed (sheet), "90");
}

static void
assert_unscored (WbAppEvening *sheet,
                 guint         row,
                 const char   *words)
{
  g_autofree char *unscored = wb_app_evening_dup_unscored (sheet, row, ROUND_1);

  if (words == NULL)
    g_assert_cmpstr (unscored, ==, NULL);
  else if (unscored == NULL || strstr (unscored, words) == NULL)
    g_error ("“%s” does not say “%s”", unscored, words);
}

/* The columns of a throw burn show where a line is one, and take what the bench asks; each rating bears all of it. */
static void
test_asked (void)
{
  Evening evening;
  g_autoptr (WbAppEvening) sheet = NULL;
  WbAppBenchSample *sample;
  g_autoptr (GPtrArray) readings = NULL;
  guint distance, alone, n = 0;

  evening_set_up_scented (&evening, 10);
  sheet = sheet_new (&evening, 12);
  sample = wb_app_evening_get_sample (sheet, 0);
  distance = find (sheet, 0, WB_APP_EVENING_FIELD, WB_COLUMN_THROW_DISTANCE_M);
  alone = find (sheet, ROUND_1, WB_APP_EVENING_FIELD, WB_COLUMN_ALONE);
  g_assert_false (wb_app_evening_is_shown (sheet, distance));
  type_throw_burn (sheet, 0, "19:30", "");
  g_assert_true (wb_app_evening_is_shown (sheet, distance));
  g_assert_true (wb_app_evening_is_asked (sheet, 0, distance));
  g_assert_false (wb_app_evening_is_asked (sheet, 1, distance));
  g_assert_false (wb_app_evening_is_asked (sheet, 0, alone));
  /* As at the bench it has a room with a name. */
  g_assert_cmpint (wb_app_evening_get_cell (sheet, 0, find (sheet, 0, WB_APP_EVENING_PLACE, 0))->state, ==, WB_APP_EVENING_WRONG);
  type_place (sheet, 0, "Box room");
  type_field (sheet, 0, 0, WB_COLUMN_THROW_DISTANCE_M, "2.5");
  type_field (sheet, 0, 0, WB_COLUMN_THROW_BLIND, "y");
  type (sheet, 0, 0, WB_APP_EVENING_RATER, WB_N_COLUMNS, "Linnet");
  /* In another line it is asked of nobody. */
  type_time (sheet, 1, 0, "22:30");
  type_time (sheet, 1, snuffed (sheet), "60");
  type_field (sheet, 1, 0, WB_COLUMN_THROW_DISTANCE_M, "2");
  g_assert_cmpint (get_field (sheet, 1, 0, WB_COLUMN_THROW_DISTANCE_M)->state, ==, WB_APP_EVENING_WRONG);
  type_field (sheet, 1, 0, WB_COLUMN_THROW_DISTANCE_M, "");
  g_assert_cmpfloat (wb_app_evening_foretell_alone (sheet, 0, ROUND_1), ==, 1);
  assert_unscored (sheet, 0, NULL);
  evening_save_sheet (sheet);
  app_wait_until (has_burn, sample, "the bench to know the burn");

  g_assert_cmpint (wb_app_bench_sample_get_burn (sample)->kind, ==, WB_BURN_THROW);
  g_assert_null (wb_app_bench_sample_get_burn (sample)->note);
  readings = list_readings (&evening, sample);
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);

      if (isnan (reading->values[WB_COLUMN_THROW]))
        continue;
      n++;
      g_assert_cmpfloat (reading->values[WB_COLUMN_THROW], ==, 4);
      g_assert_cmpfloat (reading->values[WB_COLUMN_ALONE], ==, 1);
      g_assert_cmpfloat (reading->values[WB_COLUMN_THROW_DISTANCE_M], ==, 2.5);
      g_assert_cmpfloat (reading->values[WB_COLUMN_THROW_BLIND], ==, 1);
      g_assert_cmpstr (reading->rater, ==, "Linnet");
      g_assert_cmpstr (reading->throw_room, ==, "Box room");
    }
  g_assert_cmpuint (n, ==, 1);
  /* It shows again as it was typed. */
  wb_app_evening_set_head (sheet, WB_APP_EVENING_OPENED, "19:00");
  g_assert_true (wb_app_evening_is_shown (sheet, distance));
  g_assert_cmpstr (wb_app_evening_get_cell (sheet, 0, find (sheet, 0, WB_APP_EVENING_RATER, 0))->stored, ==, "Linnet");
  g_assert_cmpstr (wb_app_evening_get_cell (sheet, 0, distance)->stored, ==, "2.5");
  g_clear_object (&sheet);
  evening_tear_down (&evening);
}

/* Among other scented flames, by the lines of the sheet alone: a note, and why; the person knows better. */
static void
test_among_others (void)
{
  Evening evening;
  g_autoptr (WbAppEvening) sheet = NULL;
  WbAppBenchSample *sample;

  evening_set_up_scented (&evening, 10);
  sheet = sheet_new (&evening, 12);
  sample = wb_app_evening_get_sample (sheet, 0);
  type_throw_burn (sheet, 0, "19:30", "Box room");
  g_assert_cmpint (get_lit (sheet, 0)->state, ==, WB_APP_EVENING_FINE);
  /* An ordinary burn, of which the paper does not say where it stood. */
  type_time (sheet, 1, 0, "20:00");
  type_time (sheet, 1, snuffed (sheet), "23:00");
  assert_unscored (sheet, 0, "it is not said in which room");
  g_assert_cmpfloat (wb_app_evening_foretell_alone (sheet, 0, ROUND_1), ==, 0);
  /* Lit when the other was not yet: its lighting is no deviation. Lit while it burns, it is. */
  g_assert_cmpint (get_lit (sheet, 0)->state, ==, WB_APP_EVENING_FINE);
  type_time (sheet, 0, 0, "20:10");
  g_assert_cmpint (get_lit (sheet, 0)->state, ==, WB_APP_EVENING_DOUBTED);
  g_assert_nonnull (strstr (get_lit (sheet, 0)->problem, "stands alone in its room"));
  type_time (sheet, 0, 0, "19:30");
  /* Out before it was rated, or lit after that. */
  type_time (sheet, 1, snuffed (sheet), "20:29");
  assert_unscored (sheet, 0, NULL);
  type_time (sheet, 1, 0, "20:31");
  type_time (sheet, 1, snuffed (sheet), "23:00");
  assert_unscored (sheet, 0, NULL);
  /* Another throw burn, in another room and in the same. */
  type_time (sheet, 1, 0, "20:00");
  type_kind (sheet, 1, "throw");
  type_place (sheet, 1, "Hall");
  assert_unscored (sheet, 0, NULL);
  type_place (sheet, 1, "box room ");
  assert_unscored (sheet, 0, "in the same room");
  type_field (sheet, 0, ROUND_1, WB_COLUMN_ALONE, "yes");
  assert_unscored (sheet, 0, NULL);
  type_field (sheet, 0, ROUND_1, WB_COLUMN_ALONE, "no");
  assert_unscored (sheet, 0, "it is said");
  type_field (sheet, 0, ROUND_1, WB_COLUMN_ALONE, "");
  /* A rating of another kind of burn is none. */
  type_field (sheet, 2, ROUND_1, WB_COLUMN_THROW, "3");
  type_time (sheet, 2, 0, "22:00");
  type_time (sheet, 2, ROUND_1, "60");
  type_time (sheet, 2, snuffed (sheet), "23:30");
  assert_unscored (sheet, 2, "only a throw burn's is");
  evening_save_sheet (sheet);
  app_wait_until (has_burn, sample, "the bench to know the burn");
  g_assert_cmpfloat (wb_app_bench_sample_get_last (sample, WB_COLUMN_ALONE), ==, 0);
  g_assert_cmpstr (wb_app_bench_sample_get_last_text (sample, WB_READING_TEXT_RATER), ==, "Wren");
  g_clear_object (&sheet);
  evening_tear_down (&evening);
}

/* Fit to burn, not yet to smell: it has happened, and is told and noted, as at the bench. */
static void
test_early (void)
{
  Evening evening;
  g_autoptr (WbAppEvening) sheet = NULL;

  evening_set_up_scented (&evening, 10);
  sheet = sheet_new (&evening, 5);
  type_throw_burn (sheet, 0, "19:30", "Box room");
  g_assert_cmpint (get_lit (sheet, 0)->state, ==, WB_APP_EVENING_DOUBTED);
  g_assert_nonnull (strstr (get_lit (sheet, 0)->problem, "fit to smell from"));
  evening_save_sheet (sheet);
  app_wait_until (has_burn, wb_app_evening_get_sample (sheet, 0), "the bench to know the burn");
  g_assert_nonnull (strstr (wb_app_bench_sample_get_burn (wb_app_evening_get_sample (sheet, 0))->note, "fit to smell from"));
  g_clear_object (&sheet);
  evening_tear_down (&evening);
}

/* Twice within a minute is a slip, or the same once more; an hour later it is not. */
static void
test_twice (void)
{
  Evening evening;
  g_autoptr (WbAppEvening) sheet = NULL;

  evening_set_up_scented (&evening, 10);
  sheet = sheet_new (&evening, 12);
  type_throw_burn (sheet, 0, "19:30", "Box room");
  type_field (sheet, 0, ROUND_1 + 1, WB_COLUMN_THROW, "3");
  type_time (sheet, 0, ROUND_1 + 1, "85");
  g_assert_cmpint (get_field (sheet, 0, ROUND_1 + 1, WB_COLUMN_THROW)->state, ==, WB_APP_EVENING_FINE);
  type_time (sheet, 0, ROUND_1 + 1, "61");
  g_assert_cmpint (get_field (sheet, 0, ROUND_1 + 1, WB_COLUMN_THROW)->state, ==, WB_APP_EVENING_DOUBTED);
  g_assert_cmpint (get_field (sheet, 0, ROUND_1 + 1, WB_COLUMN_THROW)->doubt.kind, ==, WB_CRAFT_DOUBT_AGAIN);
  g_assert_cmpint (get_field (sheet, 0, ROUND_1, WB_COLUMN_THROW)->state, ==, WB_APP_EVENING_FINE);
  g_clear_object (&sheet);
  evening_tear_down (&evening);
}

static double
find_event (GPtrArray *readings,
            double     minute,
            double     wick)
{
  for (guint i = 0; i < readings->len; i++)
    {
      const WbReading *reading = g_ptr_array_index (readings, i);
      double of = reading->values[WB_COLUMN_WICK_NUMBER];

      if (reading->elapsed_min == minute && (of == wick || (isnan (of) && isnan (wick))) && !isnan (reading->values[WB_COLUMN_EVENT]))
        return reading->values[WB_COLUMN_EVENT];
    }
  return NAN;
}

/* What befalls one wick of two stands with that wick, in its round; what befalls the vessel stands with the vessel. */
static void
test_one_wick (void)
{
  Evening evening;
  g_autoptr (WbAppEvening) sheet = NULL;
  g_autoptr (GPtrArray) readings = NULL, of_other = NULL;
  WbAppBenchSample *sample, *other;

  evening_set_up_wicks (&evening, 2);
  sheet = sheet_new (&evening, 12);
  sample = wb_app_evening_get_sample (sheet, 0);
  other = wb_app_evening_get_sample (sheet, 1);
  for (guint row = 0; row < 2; row++)
    {
      type_time (sheet, row, 0, "19:30");
      type_time (sheet, row, ROUND_1, "60");
      type_time (sheet, row, snuffed (sheet), "90");
    }
  g_assert_false (wb_app_evening_is_asked (sheet, 0, find (sheet, ROUND_1, WB_APP_EVENING_FIELD, WB_COLUMN_EVENT)));
  type_field (sheet, 0, ROUND_1, WB_COLUMN_EVENT, "-/merged");
  g_assert_cmpint (get_field (sheet, 0, ROUND_1, WB_COLUMN_EVENT)->state, ==, WB_APP_EVENING_WRONG);
  type_field (sheet, 0, ROUND_1, WB_COLUMN_EVENT, "-/vessel");
  g_assert_cmpint (get_field (sheet, 0, ROUND_1, WB_COLUMN_EVENT)->state, ==, WB_APP_EVENING_WRONG);
  type_field (sheet, 0, ROUND_1, WB_COLUMN_EVENT, "-/drowned");
  g_assert_cmpint (get_field (sheet, 0, ROUND_1, WB_COLUMN_EVENT)->state, ==, WB_APP_EVENING_FINE);
  type_field (sheet, 0, ROUND_1, WB_COLUMN_FLAME_MAX_MM, "20/-");
  type_field (sheet, 1, ROUND_1, WB_COLUMN_FLAME_MAX_MM, "20/21");
  /* Both by themselves, one after the other: nobody snuffed it. */
  type_field (sheet, 1, ROUND_1, WB_COLUMN_EVENT, "went/-");
  type_field (sheet, 1, snuffed (sheet), WB_COLUMN_EVENT, "-/went");
  evening_save_sheet (sheet);
  app_wait_until (has_burn, sample, "the bench to know the burn");
  readings = list_readings (&evening, sample);
  of_other = list_readings (&evening, other);
  g_assert_cmpfloat (find_event (readings, 60, 2), ==, WB_EVENT_DROWNED);
  g_assert_true (isnan (find_event (readings, 60, 1)));
  g_assert_true (isnan (find_event (readings, 60, NAN)));
  g_assert_cmpfloat (find_event (readings, 90, NAN), ==, WB_EVENT_SNUFFED);
  g_assert_true (isnan (find_event (of_other, 90, NAN)));
  g_assert_cmpfloat (find_event (of_other, 60, 1), ==, WB_EVENT_SELF_EXTINGUISHED);
  g_assert_cmpfloat (find_event (of_other, 90, 2), ==, WB_EVENT_SELF_EXTINGUISHED);
  g_assert_cmpint (wb_app_bench_sample_get_state (other), !=, WB_APP_BENCH_ALIGHT);
  /* And shows again as it was typed. */
  wb_app_evening_set_head (sheet, WB_APP_EVENING_OPENED, "19:00");
  type_time (sheet, 0, ROUND_1, "60");
  g_assert_cmpint (get_field (sheet, 0, ROUND_1, WB_COLUMN_EVENT)->state, ==, WB_APP_EVENING_STORED);
  g_assert_true (g_str_has_prefix (get_field (sheet, 0, ROUND_1, WB_COLUMN_EVENT)->stored, "-/"));
  g_clear_object (&sheet);
  evening_tear_down (&evening);
}

/* A dash where its lighting would stand: that sample was left cold, though a time holds for all. */
static void
test_not_lit (void)
{
  Evening evening;
  g_autoptr (WbAppEvening) sheet = NULL;
  WbAppEveningCounts counts;
  guint pool;

  evening_set_up (&evening);
  sheet = sheet_new (&evening, 12);
  pool = find (sheet, ROUND_1, WB_APP_EVENING_FIELD, WB_COLUMN_POOL_MM);
  g_assert_false (wb_app_evening_is_asked (sheet, 0, pool));
  type_time (sheet, WB_APP_EVENING_ALL, 0, "19:30");
  type_time (sheet, WB_APP_EVENING_ALL, ROUND_1, "60");
  type_time (sheet, WB_APP_EVENING_ALL, snuffed (sheet), "90");
  g_assert_true (wb_app_evening_is_asked (sheet, 0, pool));
  wb_app_evening_set_text (sheet, 0, pool, "30");
  wb_app_evening_set_text (sheet, 1, pool, "31");
  type_time (sheet, 1, 0, "-");
  g_assert_cmpint (wb_app_evening_get_cell (sheet, 1, pool)->state, ==, WB_APP_EVENING_WRONG);
  wb_app_evening_set_text (sheet, 1, pool, "");
  g_assert_cmpint (get_lit (sheet, 1)->state, ==, WB_APP_EVENING_FINE);
  g_assert_false (wb_app_evening_is_asked (sheet, 1, pool));
  wb_app_evening_count (sheet, &counts);
  g_assert_cmpuint (counts.wrong, ==, 0);
  g_assert_cmpuint (counts.burns, ==, 1);
  evening_save_sheet (sheet);
  app_wait_until (has_burn, wb_app_evening_get_sample (sheet, 0), "the bench to know the burn");
  g_assert_null (wb_app_bench_sample_get_burn (wb_app_evening_get_sample (sheet, 1)));
  g_clear_object (&sheet);
  evening_tear_down (&evening);
}

/* A day that is set right is that of another half-typed sheet: both are kept. */
static void
test_two_drafts (void)
{
  Evening evening;
  WbAppEvening *first, *second, *again;
  g_autofree char *day = NULL;
  g_autoptr (GError) error = NULL;
  guint pool;

  evening_set_up (&evening);
  first = sheet_new (&evening, 12);
  second = wb_app_evening_new (evening.bench, evening.experiment);
  again = wb_app_evening_new (evening.bench, evening.experiment);
  pool = find (first, ROUND_1, WB_APP_EVENING_FIELD, WB_COLUMN_POOL_MM);
  day = g_strdup (wb_app_evening_get_head (first, WB_APP_EVENING_DAY));
  wb_app_evening_set_text (first, 0, pool, "31");
  g_assert_true (wb_app_evening_keep (first, &error));
  wb_app_evening_set_head (second, WB_APP_EVENING_DAY, "2020-03-11");
  wb_app_evening_set_text (second, 1, pool, "47");
  g_assert_true (wb_app_evening_keep (second, &error));
  wb_app_evening_set_head (second, WB_APP_EVENING_DAY, day);
  g_assert_true (wb_app_evening_keep (second, &error));
  wb_app_evening_set_text (second, 1, pool, "48");
  g_assert_true (wb_app_evening_keep (second, &error));
  g_assert_no_error (error);
  /* The one written to last, and by the day as well as by none. */
  g_assert_true (wb_app_evening_take_up (again, day));
  g_assert_cmpstr (wb_app_evening_get_text (again, 1, pool), ==, "48");
  g_assert_true (wb_app_evening_take_up (again, NULL));
  g_assert_cmpstr (wb_app_evening_get_text (again, 1, pool), ==, "48");
  /* Emptied, the second goes alone. */
  wb_app_evening_begin_anew (second);
  g_assert_true (wb_app_evening_take_up (again, day));
  g_assert_cmpstr (wb_app_evening_get_text (again, 0, pool), ==, "31");
  wb_app_evening_begin_anew (again);
  g_assert_false (wb_app_evening_take_up (again, NULL));
  g_assert_finalize_object (again);
  g_assert_finalize_object (second);
  g_assert_finalize_object (first);
  evening_tear_down (&evening);
}

void
test_app_sheet_throw_add (void)
{
  g_test_add_func ("/app/sheet/a-sample-that-was-not-lit", test_not_lit);
  g_test_add_func ("/app/sheet/two-half-typed-sheets-of-one-day-are-kept", test_two_drafts);
  g_test_add_func ("/app/sheet/a-throw-burn-takes-what-the-bench-asks", test_asked);
  g_test_add_func ("/app/sheet/a-rating-among-other-flames-is-a-note", test_among_others);
  g_test_add_func ("/app/sheet/a-throw-burn-before-it-is-fit-to-smell-is-noted", test_early);
  g_test_add_func ("/app/sheet/two-ratings-within-a-minute-are-doubted", test_twice);
  g_test_add_func ("/app/sheet/an-event-of-one-wick-of-two", test_one_wick);
}
