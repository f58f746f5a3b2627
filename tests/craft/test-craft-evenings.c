/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-evenings.h"

#include "wb-clock.h"

#include <math.h>
#include <string.h>

#define HOUR_US (3600 * (gint64) G_USEC_PER_SEC)

static WbDay
day_of (const char *iso)
{
  WbDay day;

  g_assert_true (wb_day_parse (iso, &day, NULL));
  return day;
}

static WbInstant
at (const char *iso,
    int         hour)
{
  return wb_clock_local (wb_clock_get (), day_of (iso), hour, 0, 0);
}

static WbCraftEveningsBench
bench_of (guint       places,
          const char *evenings,
          const char *first)
{
  WbCraftEveningsBench bench = { .places = places, .begins_min = WB_EVENING_BEGINS_MIN, .first = day_of (first),
                                 .horizon_days = WB_CRAFT_EVENINGS_HORIZON_DAYS };

  g_assert_true (wb_evenings_parse (evenings, &bench.evenings, NULL));
  return bench;
}

/* "2026-12-01 a1 b3; ..." with a letter for each cohort. */
static char *
tell (const WbCraftEvenings *plan)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < plan->evenings->len; i++)
    {
      const WbCraftEvening *evening = &g_array_index (plan->evenings, WbCraftEvening, i);
      g_autofree char *day = wb_day_format (evening->day);

      g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", day);
      for (guint k = evening->first; k < evening->first + evening->n; k++)
        {
          const WbCraftEveningsBurn *burn = &g_array_index (plan->burns, WbCraftEveningsBurn, k);

          g_string_append_printf (text, " %c%u", 'a' + (int) burn->cohort, burn->burn);
        }
    }
  return g_string_free (text, FALSE);
}

static void
assert_plan (const WbCraftEveningsCohort *cohorts,
             guint                        n,
             const WbCraftEveningsBench  *bench,
             const char                  *expected)
{
  g_autoptr (WbCraftEvenings) plan = wb_craft_evenings_new (cohorts, n, bench);
  g_autofree char *told = tell (plan);

  g_assert_cmpstr (told, ==, expected);
  g_assert_cmpuint (plan->problems->len, ==, 0);
  g_assert_false (plan->cut);
  g_assert_cmpuint (plan->left, ==, 0);
}

/* Tuesdays and Fridays; the cure of b ends on Wednesday. */
static void
test_days_of_the_week (void)
{
  const WbCraftEveningsCohort cohorts[] = {
    { "A", 4, 2, 2, WB_INSTANT_NONE, 14400, 14400 },
    { "B", 6, 0, 2, at ("2026-12-02", 0), 14400, 14400 },
  };
  const WbCraftEveningsBench bench = bench_of (12, "tue fri", "2026-11-30");

  assert_plan (cohorts, G_N_ELEMENTS (cohorts), &bench, "2026-12-01 a3; 2026-12-04 a4 b1; 2026-12-08 b2");
}

/* Ten places: the begun cohort goes on to its end, the new one of eight waits, the small one fits beside it. */
static void
test_begun_comes_first (void)
{
  const WbCraftEveningsCohort cohorts[] = {
    { "A", 8, 0, 2, WB_INSTANT_NONE, 14400, 14400 },
    { "B", 6, 1, 2, WB_INSTANT_NONE, 14400, 14400 },
    { "C", 4, 0, 1, WB_INSTANT_NONE, 14400, 14400 },
  };
  const WbCraftEveningsBench bench = bench_of (10, "mon tue wed thu fri sat sun", "2026-11-30");

  assert_plan (cohorts, G_N_ELEMENTS (cohorts), &bench, "2026-11-30 b2 c1; 2026-12-01 b3; 2026-12-02 a1; 2026-12-03 a2");
}

/* Two days of cooling between daily evenings; cured in the night after the evening is not cured for it. */
static void
test_cooling_and_cure (void)
{
  const WbCraftEveningsCohort cohorts[] = {
    { "A", 2, 0, 3, at ("2026-12-01", 20), 4 * 3600, 40 * 3600 },
  };
  const WbCraftEveningsBench bench = bench_of (12, "mon tue wed thu fri sat sun", "2026-11-30");

  assert_plan (cohorts, 1, &bench, "2026-12-02 a1; 2026-12-04 a2; 2026-12-06 a3");
}

/*
 * Summer time of Berlin ends on 2026-10-25, and begins on 2026-03-29 (the zone's rule: last Sundays of October and March): 19:00
 * stays 19:00 on the wall, and an evening that is only 23 hours after the last one is too early for what waits 24.
 */
static void
test_summer_time (void)
{
  const WbCraftEveningsCohort autumn[] = { { "A", 2, 0, 2, WB_INSTANT_NONE, 14400, 20 * 3600 } };
  const WbCraftEveningsBench in_autumn = bench_of (12, "sat sun", "2026-10-24"), in_spring = bench_of (12, "sat sun mon", "2026-03-28");
  g_autoptr (WbCraftEvenings) plan = wb_craft_evenings_new (autumn, 1, &in_autumn);

  g_assert_cmpuint (plan->evenings->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    g_assert_true (wb_instant_shows (g_array_index (plan->evenings, WbCraftEvening, i).begins, 19, 0));
  g_assert_cmpint (g_array_index (plan->evenings, WbCraftEvening, 1).begins.utc_us
                   - g_array_index (plan->evenings, WbCraftEvening, 0).begins.utc_us, ==, 25 * HOUR_US);
  assert_plan (autumn, 1, &in_spring, "2026-03-28 a1; 2026-03-30 a2");
}

/* Of one experiment the lowest number burns to its end first, whatever the order of the list and however many the bench holds; one that
 * was begun goes on before it. Of another experiment burns beside it. */
static void
test_one_after_another (void)
{
  WbCraftEveningsCohort cohorts[] = {
    { .name = "T5, cohort 2", .samples = 4, .left = 2, .ready_at = WB_INSTANT_NONE, .burn_s = 4 * 3600, .cool_s = 0, .experiment = 5, .number = 2 },
    { .name = "T5, cohort 1", .samples = 4, .left = 2, .ready_at = WB_INSTANT_NONE, .burn_s = 4 * 3600, .cool_s = 0, .experiment = 5, .number = 1 },
    { .name = "T6, cohort 2", .samples = 4, .left = 1, .ready_at = WB_INSTANT_NONE, .burn_s = 4 * 3600, .cool_s = 0, .experiment = 6, .number = 2 },
    { .name = "T5", .samples = 1, .left = 1, .ready_at = WB_INSTANT_NONE, .burn_s = 4 * 3600, .cool_s = 0, .experiment = 5 },
  };
  const WbCraftEveningsBench bench = bench_of (20, "mon tue wed thu fri sat sun", "2026-12-01");

  assert_plan (cohorts, G_N_ELEMENTS (cohorts), &bench, "2026-12-01 b1 c1 d1; 2026-12-02 b2; 2026-12-03 a1; 2026-12-04 a2");
  cohorts[0].begun = TRUE;
  assert_plan (cohorts, G_N_ELEMENTS (cohorts), &bench, "2026-12-01 a1 c1 d1; 2026-12-02 a2; 2026-12-03 b1; 2026-12-04 b2");
}

/* Nothing of its experiment burns before one that the bench cannot hold: told once, and not as late. */
static void
test_behind_too_large (void)
{
  const WbCraftEveningsCohort cohorts[] = {
    { .name = "T5, cohort 1", .samples = 9, .left = 2, .ready_at = WB_INSTANT_NONE, .experiment = 5, .number = 1 },
    { .name = "T5, cohort 2", .samples = 4, .left = 2, .ready_at = WB_INSTANT_NONE, .experiment = 5, .number = 2 },
  };
  const WbCraftEveningsBench bench = bench_of (8, "tue", "2026-12-01");
  g_autoptr (WbCraftEvenings) plan = wb_craft_evenings_new (cohorts, 2, &bench);

  g_assert_cmpuint (plan->evenings->len, ==, 0);
  g_assert_cmpuint (plan->left, ==, 4);
  g_assert_cmpuint (plan->problems->len, ==, 1);
  g_assert_false (plan->cut);
}

static void
test_too_large (void)
{
  const WbCraftEveningsCohort cohorts[] = {
    { "T5, cohort 2", 14, 0, 8, WB_INSTANT_NONE, 14400, 14400 },
    { "T6", 3, 0, 1, WB_INSTANT_NONE, 14400, 14400 },
  };
  const WbCraftEveningsBench bench = bench_of (12, "wed", "2026-11-30");
  g_autoptr (WbCraftEvenings) plan = wb_craft_evenings_new (cohorts, 2, &bench);
  g_autofree char *told = tell (plan);

  g_assert_cmpstr (told, ==, "2026-12-02 b1");
  g_assert_cmpuint (plan->problems->len, ==, 1);
  g_assert_cmpstr (g_ptr_array_index (plan->problems, 0), ==,
                   "T5, cohort 2: its 14 samples burn together, and places on the bench: 12. Its evenings are not planned: divide it "
                   "among cohorts on its plan page.");
  g_assert_cmpuint (plan->left, ==, 8);
  g_assert_false (plan->cut);
}

static void
test_horizon (void)
{
  const WbCraftEveningsCohort cohorts[] = { { "A", 2, 0, 10, WB_INSTANT_NONE, 14400, 14400 } };
  WbCraftEveningsBench bench = bench_of (12, "wed", "2026-11-30");

  bench.horizon_days = 15; /* 2, 9 December; the 16th is 16 days on */
  g_autoptr (WbCraftEvenings) plan = wb_craft_evenings_new (cohorts, 1, &bench);

  g_assert_cmpuint (plan->evenings->len, ==, 2);
  g_assert_true (plan->cut);
  g_assert_cmpuint (plan->left, ==, 8);
  g_assert_cmpuint (plan->problems->len, ==, 1);
  g_assert_nonnull (strstr (g_ptr_array_index (plan->problems, 0), "8 burns"));
  g_assert_cmpint (wb_craft_evenings_get_last (plan), ==, day_of ("2026-12-09"));
}

static void
test_nothing (void)
{
  const WbCraftEveningsCohort done[] = { { "A", 2, 8, 0, WB_INSTANT_NONE, 14400, 14400 } };
  const WbCraftEveningsCohort waits[] = { { "A", 2, 0, 1, WB_INSTANT_NONE, 14400, 14400 } };
  const WbCraftEveningsBench bench = bench_of (12, "wed", "2026-11-30"), never = bench_of (12, "", "2026-11-30");
  g_autoptr (WbCraftEvenings) empty = wb_craft_evenings_new (NULL, 0, &bench), none = wb_craft_evenings_new (waits, 1, &never);

  assert_plan (done, 1, &bench, "");
  g_assert_cmpint (wb_craft_evenings_get_last (empty), ==, WB_DAY_NONE);
  g_assert_cmpuint (none->evenings->len, ==, 0);
  g_assert_cmpuint (none->left, ==, 1);
}

typedef struct
{
  gint64 ready_us;
  guint  next;
} Seen;

static void
assert_sound (const WbCraftEveningsCohort *cohorts,
              guint                        n,
              const WbCraftEveningsBench  *bench,
              const WbCraftEvenings       *plan)
{
  g_autofree Seen *seen = g_new0 (Seen, n);
  guint planned = 0, wanted = 0;
  WbDay last = WB_DAY_NONE;

  for (guint i = 0; i < n; i++)
    {
      seen[i] = (Seen) { cohorts[i].ready_at.known ? cohorts[i].ready_at.utc_us : G_MININT64, cohorts[i].done + 1 };
      wanted += cohorts[i].left;
    }
  for (guint i = 0; i < plan->evenings->len; i++)
    {
      const WbCraftEvening *evening = &g_array_index (plan->evenings, WbCraftEvening, i);
      guint places = 0;

      g_assert_true (last == WB_DAY_NONE || evening->day > last);
      g_assert_true (wb_evenings_has (bench->evenings, wb_day_get_weekday (evening->day)));
      g_assert_cmpint (evening->day, >=, bench->first);
      g_assert_cmpint (evening->day, <, bench->first + (WbDay) bench->horizon_days);
      last = evening->day;
      for (guint k = evening->first; k < evening->first + evening->n; k++)
        {
          const WbCraftEveningsBurn *burn = &g_array_index (plan->burns, WbCraftEveningsBurn, k);
          const WbCraftEveningsCohort *cohort = &cohorts[burn->cohort];

          places += cohort->samples;
          g_assert_cmpuint (burn->burn, ==, seen[burn->cohort].next++);
          g_assert_cmpint (evening->begins.utc_us, >=, seen[burn->cohort].ready_us);
          seen[burn->cohort].ready_us = evening->begins.utc_us + (gint64) ((cohort->burn_s + cohort->cool_s) * G_USEC_PER_SEC);
          planned++;
        }
      g_assert_cmpuint (places, ==, evening->places);
      g_assert_cmpuint (places, <=, bench->places);
    }
  g_assert_cmpuint (planned + plan->left, ==, wanted);
  for (guint i = 0; i < n; i++)
    g_assert_true (seen[i].next == cohorts[i].done + cohorts[i].left + 1 || plan->cut || cohorts[i].samples > bench->places);
}

/* 300 notebooks drawn at random, by a seed that a failure can be repeated from. */
static void
test_properties (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20261130);

  for (guint round = 0; round < 300; round++)
    {
      WbCraftEveningsCohort cohorts[9];
      guint n = (guint) g_rand_int_range (rand, 0, 10);
      WbCraftEveningsBench bench = bench_of ((guint) g_rand_int_range (rand, 1, 13), "", "2026-10-20");

      bench.evenings = (guint) g_rand_int_range (rand, 1, 128);
      bench.begins_min = g_rand_int_range (rand, 0, 1440);
      for (guint i = 0; i < n; i++)
        {
          cohorts[i] = (WbCraftEveningsCohort) {
            "A", (guint) g_rand_int_range (rand, 1, 15), (guint) g_rand_int_range (rand, 0, 3), (guint) g_rand_int_range (rand, 0, 12),
            WB_INSTANT_NONE, g_rand_double_range (rand, 3600, 6 * 3600), g_rand_double_range (rand, 0, 60 * 3600),
          };
          if (g_rand_boolean (rand))
            cohorts[i].ready_at = wb_clock_local (wb_clock_get (), bench.first + g_rand_int_range (rand, -5, 30), 12, 0, 0);
        }
      g_autoptr (WbCraftEvenings) plan = wb_craft_evenings_new (cohorts, n, &bench);
      g_autoptr (WbCraftEvenings) again = wb_craft_evenings_new (cohorts, n, &bench);
      g_autofree char *first = tell (plan), *second = tell (again);

      assert_sound (cohorts, n, &bench, plan);
      g_assert_cmpstr (first, ==, second);
    }
}

/*
 * By hand, from Monday 2 March 2026 on, Mondays and Thursdays, 12 places. 24 samples are two cohorts, 8 burns each 16 evenings, the first
 * on Monday 16 March, when they have cured: the 16th is a Thursday seven weeks later, 7 May.
 */
static void
test_foretell (void)
{
  WbCraftEveningsBench bench = { 12, 1u << 0 | 1u << 3, 19 * 60, day_of ("2026-03-02"), 366 };
  WbCraftEveningsGrid grid = { 24, 8, wb_clock_local (wb_clock_get (), day_of ("2026-03-16"), 0, 0, 0), 4 * 3600, 8 * 3600 };
  WbCraftEveningsCohort other = { "T5", 6, 2, 10, WB_INSTANT_NONE, 4 * 3600, 8 * 3600, 1, 0, TRUE };
  WbCraftEveningsOutlook outlook = wb_craft_evenings_foretell (NULL, 0, &bench, &grid);

  g_assert_cmpuint (outlook.evenings, ==, 16);
  g_assert_cmpint (outlook.last, ==, day_of ("2026-05-07"));
  g_assert_false (outlook.late);
  /* Six are on their way with ten burns left, four of them during the cure: for six evenings there is no room for twelve beside them. */
  outlook = wb_craft_evenings_foretell (&other, 1, &bench, &grid);
  g_assert_cmpuint (outlook.evenings, ==, 16);
  g_assert_cmpint (outlook.last, ==, day_of ("2026-05-28"));
  /* Six find room beside them, and wait for nobody. */
  grid.samples = 6;
  g_assert_cmpint (wb_craft_evenings_foretell (&other, 1, &bench, &grid).last, ==, day_of ("2026-04-09"));
  /* Thirteen are seven and six. */
  grid.samples = 13;
  g_assert_cmpuint (wb_craft_evenings_foretell (NULL, 0, &bench, &grid).evenings, ==, 16);
  /* More than a year of evenings. */
  grid.samples = 120;
  grid.burns = 20;
  outlook = wb_craft_evenings_foretell (NULL, 0, &bench, &grid);
  g_assert_true (outlook.late);
  g_assert_cmpint (outlook.last, ==, WB_DAY_NONE);
  grid.burns = 0;
  outlook = wb_craft_evenings_foretell (NULL, 0, &bench, &grid);
  g_assert_false (outlook.late);
  g_assert_cmpint (outlook.last, ==, WB_DAY_NONE);
  grid.burns = 4;
  bench.places = 0;
  g_assert_cmpuint (wb_craft_evenings_foretell (NULL, 0, &bench, &grid).evenings, ==, 0);
}

/* Tuesdays and Fridays from Monday 30 November 2026 on, without the holidays. */
static void
test_left_out (void)
{
  g_autoptr (GArray) out = wb_evenings_out_parse ("2026-12-04 2026-12-22..2027-01-03", NULL);
  WbCraftEveningsBench bench = bench_of (12, "tue fri", "2026-11-30");
  const WbCraftEveningsCohort cohort = { "T5", 4, 0, 7, WB_INSTANT_NONE, NAN, NAN, 1, 0, FALSE };
  static const char *const days[] = { "2026-12-01", "2026-12-08", "2026-12-11", "2026-12-15", "2026-12-18", "2027-01-05", "2027-01-08" };
  g_autoptr (WbCraftEvenings) plan = NULL;

  bench.out = out;
  plan = wb_craft_evenings_new (&cohort, 1, &bench);
  g_assert_cmpuint (plan->evenings->len, ==, G_N_ELEMENTS (days));
  for (guint i = 0; i < G_N_ELEMENTS (days); i++)
    g_assert_cmpint (g_array_index (plan->evenings, WbCraftEvening, i).day, ==, day_of (days[i]));
}

int
main (int    argc,
      char **argv)
{
  /* Before anybody asks the clock. */
  g_setenv ("TZ", "Europe/Berlin", TRUE);
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/evenings/fall-on-the-days-of-the-week-that-are-said", test_days_of_the_week);
  g_test_add_func ("/craft/evenings/a-begun-cohort-comes-before-a-new-one", test_begun_comes_first);
  g_test_add_func ("/craft/evenings/nothing-burns-before-it-has-cured-or-cooled", test_cooling_and_cure);
  g_test_add_func ("/craft/evenings/begin-at-the-same-time-by-the-wall-clock", test_summer_time);
  g_test_add_func ("/craft/evenings/cohorts-of-an-experiment-one-after-another", test_one_after_another);
  g_test_add_func ("/craft/evenings/none-overtakes-one-that-is-too-large", test_behind_too_large);
  g_test_add_func ("/craft/evenings/a-cohort-larger-than-the-bench-is-named", test_too_large);
  g_test_add_func ("/craft/evenings/what-comes-behind-the-horizon-is-counted", test_horizon);
  g_test_add_func ("/craft/evenings/nothing-to-burn-makes-no-evening", test_nothing);
  g_test_add_func ("/craft/evenings/rules-hold-of-any-notebook", test_properties);
  g_test_add_func ("/craft/evenings/days-until-an-answer-are-told-before-the-pour", test_foretell);
  g_test_add_func ("/craft/evenings/none-falls-on-a-day-that-is-left-out", test_left_out);
  return g_test_run ();
}
