/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-school.h"

/*
 * The pool grows with each hour and stays below its limit. Of one draw it is at the wall by an hour exactly where its full melt pool came
 * before it: so does the middle of all draws.
 */
static void
check_hours (const WbCraftLadder     *ladder,
             const WbCraftLadderStep *step)
{
  for (WbCraftFillPlace place = 0; place < WB_CRAFT_N_FILLS; place++)
    {
      const WbCraftForetoldAt *at = &step->at[place];
      double before_mm = 0;

      for (guint hour = 0; hour < WB_CRAFT_LADDER_HOURS; hour++)
        {
          const WbCraftInterval *pool = &at->pool_mm[hour];

          g_assert_cmpfloat (pool->value, >, before_mm);
          g_assert_cmpfloat (pool->value, <, at->pool_limit_mm.value);
          g_assert_cmpfloat (pool->low, <, pool->value);
          g_assert_cmpfloat (pool->high, >, pool->value);
          g_assert_cmpint (pool->value >= ladder->question.inner_diameter_mm, ==, at->full_pool_h.value <= hour + 1.0);
          before_mm = pool->value;
        }
    }
}

static void
test_the_log_teaches (void)
{
  TestSchool bench;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
  g_autoptr (WbCraftLadder) ladder = NULL;
  g_autoptr (WbCraftLadder) again = NULL;

  test_school_init (&bench);
  test_school_learn (&bench, test_craft_from_log (path));
  ladder = test_school_ask (&bench);
  g_test_message ("%s", ladder->answer);
  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (ladder->steps, i);

      g_test_message ("%s: right %.2f best %.2f %s", step->size, step->p_right, step->p_best, step->reason);
    }
  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_HISTORY);
  g_assert_cmpuint (ladder->experiments->len, ==, 1);
  g_assert_cmpuint (ladder->steps->len, ==, 5);
  /* the same vessel and scent as were burnt: L-3 took a little over three hours; L-5 is far too early */
  g_assert_true (test_school_find (ladder, "L-3")->in_ladder);
  g_assert_true (test_school_find (ladder, "L-4")->in_ladder);
  g_assert_false (test_school_find (ladder, "L-5")->in_ladder);
  for (guint i = 0; i < 5; i++)
    g_assert_cmpfloat (test_school_find (ladder, "L-3")->p_best, >=, ((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->p_best);
  test_school_check (ladder);
  g_assert_false (test_school_find (ladder, "L-3")->extrapolated);
  g_assert_cmpfloat_with_epsilon (test_school_find (ladder, "L-3")->pool_limit_mm.value, 84, 2.5);
  for (guint i = 0; i < ladder->steps->len; i++)
    check_hours (ladder, g_ptr_array_index (ladder->steps, i));
  g_assert_cmpfloat (ladder->p_holds_best, >, 0.8);
  g_assert_cmpfloat (ladder->p_holds_best, <=, 1);
  g_assert_nonnull (strstr (ladder->answer, "No earlier candle was read near its end"));
  again = test_school_ask (&bench);
  for (guint i = 0; i < ladder->steps->len; i++)
    g_assert_cmpfloat (((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->p_best, ==,
                       ((WbCraftLadderStep *) g_ptr_array_index (again->steps, i))->p_best);
  test_school_clear (&bench);
}

static WbDataset *
burn_series (const char   *vessel,
             double        inner_mm,
             const double *strength,
             guint         n,
             guint         burns,
             guint64       seed)
{
  WbDataset *data = test_craft_data_new ();
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

  spec.inner_mm = inner_mm;
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      spec.strength_g_per_h = strength[i];
      test_craft_burn_physics (data, test_craft_add_cell (data, vessel, inner_mm, "Sedge", size, i + 1, 0), &spec, 2, burns, seed);
    }
  return data;
}

/* From a vessel of 76 mm to one of 70 and one of 84: the size that the model makes right is on the ladder. */
static void
test_another_vessel (void)
{
  const double strength[] = { 3.2, 3.7, 4.3, 5.0, 5.8, 6.7 };
  const double inner[] = { 70, 84 };

  for (guint v = 0; v < G_N_ELEMENTS (inner); v++)
    {
      TestSchool bench;
      g_autoptr (WbCraftLadder) ladder = NULL;
      guint best = 0;
      double least = INFINITY;
      g_autofree char *size = NULL;

      test_school_init (&bench);
      test_school_learn (&bench, burn_series ("Tern", 76.2, strength, 6, 3, 5));
      bench.question.inner_diameter_mm = inner[v];
      bench.question.load_pct = 0;
      ladder = test_school_ask (&bench);
      for (guint i = 0; i < 6; i++)
        {
          WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
          double off;

          spec.inner_mm = inner[v];
          spec.strength_g_per_h = strength[i];
          off = fabs (wb_craft_physics_full_pool_h (&spec) / (inner[v] / 25.4) - 1);
          if (off < least)
            {
              least = off;
              best = i + 1;
            }
        }
      size = g_strdup_printf ("S-%u", best);
      g_test_message ("%g mm: %s; truly %s", inner[v], ladder->answer, size);
      test_school_check (ladder);
      g_assert_true (test_school_find (ladder, size)->in_ladder);
      g_assert_true (test_school_find (ladder, size)->extrapolated); /* no vessel of that width was tried */
      g_assert_nonnull (strstr (test_school_find (ladder, size)->reason, "vessel outside those tried"));
      test_school_clear (&bench);
    }
}

/* No single wick melts so wide a vessel: nothing is put forward, and the trade's way out is named. */
static void
test_too_wide_for_one_wick (void)
{
  const double strength[] = { 3.2, 3.7, 4.3, 5.0 };
  TestSchool bench;
  g_autoptr (WbCraftLadder) alone = NULL;
  g_autoptr (WbCraftLadder) many = NULL;

  test_school_init (&bench);
  test_school_learn (&bench, burn_series ("Tern", 76.2, strength, 4, 3, 5));
  bench.question.inner_diameter_mm = 180;
  bench.question.load_pct = 0;
  alone = test_school_ask (&bench);
  g_test_message ("%s", alone->answer);
  test_school_check (alone);
  g_assert_cmpuint (test_school_count_in (alone), ==, 0);
  g_assert_cmpfloat (alone->p_holds_best, ==, 0);
  g_assert_nonnull (strstr (alone->answer, "more than one wick (common practice)"));
  bench.question.wicks = 2;
  many = test_school_ask (&bench);
  test_school_check (many);
  g_assert_null (strstr (many->answer, "more than one wick"));
  test_school_clear (&bench);
}

/* A series that was hot at the bottom: what would cross there is not put forward. */
static void
test_danger_is_foretold (void)
{
  TestSchool bench;
  WbDataset *data = test_craft_data_new ();
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  g_autoptr (WbCraftLadder) ladder = NULL, untried = NULL;

  test_school_init (&bench);
  spec.bottom_heat = 2.2;
  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      spec.strength_g_per_h = 3.6 + 0.6 * i;
      test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", 76.2, "Sedge", size, i + 1, 0), &spec, 2, 0, 5);
    }
  test_school_learn (&bench, data);
  bench.question.inner_diameter_mm = 76.2;
  bench.question.load_pct = 0;
  ladder = test_school_ask (&bench);
  g_assert_nonnull (strstr (test_school_find (ladder, "S-4")->reason, "where a limit was crossed"));
  g_assert_cmpfloat (test_school_find (ladder, "S-4")->p_right, <, 0.1);
  g_assert_null (strstr (ladder->answer, "No earlier candle"));
  bench.question.inner_diameter_mm = 79;
  untried = test_school_ask (&bench);
  g_assert_nonnull (strstr (test_school_find (untried, "S-4")->reason, "may cross a limit"));
  g_assert_cmpfloat (test_school_find (untried, "S-4")->p_right, <, 0.2);
  test_school_clear (&bench);
}

static double
mean_p_cross (const WbCraftLadder *ladder)
{
  double sum = 0;

  for (guint i = 0; i < ladder->steps->len; i++)
    sum += ((const WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->p_cross;
  return sum / ladder->steps->len;
}

/* Tighter limits are crossed more often, and who asks for a small flame alone gets the small wicks. */
static void
test_the_makers_own_judge (void)
{
  const double strength[] = { 3.2, 3.7, 4.3, 5.0, 5.8, 6.7 };
  TestSchool bench;
  WbProtocol *protocol = wb_protocol_new_house ();
  WbProfile *profile = wb_profile_new_house ();
  g_autoptr (GPtrArray) limits = wb_limits_new_house (), aims = wb_aims_new_house ();
  g_autoptr (WbCraftLadder) house = NULL, tighter = NULL, small = NULL, throw = NULL;

  test_school_init (&bench);
  test_school_learn (&bench, burn_series ("Tern", 76.2, strength, 6, 3, 5));
  bench.question.inner_diameter_mm = 76.2;
  bench.question.load_pct = 0;
  house = test_school_ask (&bench);
  bench.question.protocol = protocol;
  bench.question.profile = profile;
  bench.question.limits = limits;
  bench.question.aims = aims;
  protocol->window_low = 0.9;
  bench.question.window_low = 0;
  for (guint i = 0; i < limits->len; i++)
    if (((WbLimit *) g_ptr_array_index (limits, i))->kind == WB_LIMIT_VESSEL)
      ((WbLimit *) g_ptr_array_index (limits, i))->stop_at = 50;
  tighter = test_school_ask (&bench);
  test_school_check (tighter);
  g_assert_null (tighter->question.limits);
  g_assert_cmpfloat (tighter->question.window_low, ==, 0.9);
  g_test_message ("crossing: house %.3f, at 50 degrees %.3f", mean_p_cross (house), mean_p_cross (tighter));
  g_assert_cmpfloat (mean_p_cross (tighter), >, mean_p_cross (house) + 0.1);
  for (guint i = 0; i < aims->len; i++)
    {
      WbAim *aim = g_ptr_array_index (aims, i);

      aim->figure = WB_FIGURE_FLAME;
      aim->zero_below = aim->one_from = NAN;
      aim->one_to = 5;
      aim->zero_above = 60;
      aim->late_floor = 0;
    }
  bench.question.protocol = NULL;
  small = test_school_ask (&bench);
  test_school_check (small);
  g_assert_true (test_school_find (small, "S-1")->in_ladder);
  g_assert_false (test_school_find (house, "S-1")->in_ladder);
  /* nothing to foretell of throw: the house's aims */
  for (guint i = 0; i < aims->len; i++)
    ((WbAim *) g_ptr_array_index (aims, i))->figure = WB_FIGURE_THROW;
  throw = test_school_ask (&bench);
  for (guint i = 0; i < throw->steps->len; i++)
    g_assert_cmpfloat (((const WbCraftLadderStep *) g_ptr_array_index (throw->steps, i))->p_best, ==,
                       ((const WbCraftLadderStep *) g_ptr_array_index (house->steps, i))->p_best);
  wb_record_free (protocol);
  wb_record_free (profile);
  test_school_clear (&bench);
}

static void
test_suppliers_guide (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) ladder = NULL;
  g_autoptr (WbCraftLadder) too_wide = NULL;
  const double middle[] = { 55, 62, 70, 78, 86 };

  test_school_init (&bench);
  for (guint i = 0; i < 5; i++)
    {
      g_autofree char *size = g_strdup_printf ("F-%u", i + 1);

      test_school_add_wick (&bench, "Fescue", size, i + 1, i + 1);
      test_school_add_guide (&bench, i + 1, 0, middle[i] - 6, middle[i] + 6);
    }
  bench.question.inner_diameter_mm = 71;
  ladder = test_school_ask (&bench);
  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_SUPPLIER);
  g_assert_true (test_school_find (ladder, "F-2")->in_ladder);
  g_assert_true (test_school_find (ladder, "F-3")->in_ladder);
  g_assert_true (test_school_find (ladder, "F-4")->in_ladder);
  g_assert_cmpuint (test_school_count_in (ladder), ==, 3);
  g_assert_true (isnan (ladder->p_holds_best));
  g_assert_true (isnan (test_school_find (ladder, "F-3")->p_right));
  bench.question.inner_diameter_mm = 150;
  too_wide = test_school_ask (&bench);
  g_assert_cmpuint (test_school_count_in (too_wide), ==, 0);
  test_school_clear (&bench);
}

static void
test_no_basis (void)
{
  TestSchool bench;
  g_autoptr (WbCraftLadder) ladder = NULL;
  g_autoptr (WbCraftLadder) no_vessel = NULL;

  test_school_init (&bench);
  test_school_add_wick (&bench, "Fescue", "F-1", 1, 1);
  ladder = test_school_ask (&bench);
  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_NOTHING);
  g_assert_true (g_str_has_prefix (ladder->answer, "No basis"));
  g_assert_cmpuint (test_school_count_in (ladder), ==, 0);
  bench.question.inner_diameter_mm = NAN;
  no_vessel = test_school_ask (&bench);
  g_assert_true (g_str_has_prefix (no_vessel->answer, "No basis"));
  test_school_clear (&bench);
}

static void
test_a_series_never_tried_is_named (void)
{
  TestSchool bench;
  const double strength[] = { 3.2, 3.7, 4.3, 5.0 };
  g_autoptr (WbCraftLadder) ladder = NULL;

  test_school_init (&bench);
  test_school_learn (&bench, burn_series ("Tern", 76.2, strength, 4, 2, 5));
  bench.question.inner_diameter_mm = 76.2;
  bench.question.load_pct = 0;
  test_school_add_wick (&bench, "Fescue", "F-3", 3, 900);
  ladder = test_school_ask (&bench);
  g_assert_nonnull (strstr (test_school_find (ladder, "F-3")->reason, "series never tried"));
  g_assert_true (test_school_find (ladder, "F-3")->extrapolated);
  /* and its foretold pool is far less sure */
  g_assert_cmpfloat (test_school_find (ladder, "F-3")->pool_limit_mm.high / test_school_find (ladder, "F-3")->pool_limit_mm.low, >,
                     1.2 * test_school_find (ladder, "S-3")->pool_limit_mm.high / test_school_find (ladder, "S-3")->pool_limit_mm.low);
  test_school_clear (&bench);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/ladder/the-sample-log-teaches", test_the_log_teaches);
  g_test_add_func ("/craft/ladder/another-vessel-gets-its-size", test_another_vessel);
  g_test_add_func ("/craft/ladder/too-wide-for-one-wick", test_too_wide_for_one_wick);
  g_test_add_func ("/craft/ladder/danger-near-the-end-is-foretold", test_danger_is_foretold);
  g_test_add_func ("/craft/ladder/the-maker-s-own-limits-and-aims-judge", test_the_makers_own_judge);
  g_test_add_func ("/craft/ladder/without-history-it-rests-on-the-supplier", test_suppliers_guide);
  g_test_add_func ("/craft/ladder/without-either-there-is-no-basis", test_no_basis);
  g_test_add_func ("/craft/ladder/a-series-never-tried-is-named", test_a_series_never_tried_is_named);
  return g_test_run ();
}
