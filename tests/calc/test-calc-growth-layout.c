/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-growth-bench.h"
#include "calc-table.h"

/* A group of one unit with `n_runs` curves of a little noise. */
static gsize
add_good_group (CalcGrowthBench *bench,
                double           level,
                double           pace,
                gsize            n_runs,
                double           wall)
{
  gsize group = calc_growth_bench_add_group (bench);
  WbCalcRandom random;

  wb_calc_random_init (&random, 31, group);
  for (gsize u = 0; u < 2; u++)
    {
      gsize unit = calc_growth_bench_add_unit (bench, group);

      for (gsize r = 0; r < n_runs; r++)
        calc_growth_bench_grow (bench, calc_growth_bench_add_run (bench, unit), level * (1.0 + 0.04 * (double) u), pace, 4, 0.8, &random, wall);
    }
  return group;
}

static gsize
add_lone_run (CalcGrowthBench *bench,
              gsize           *group)
{
  *group = calc_growth_bench_add_group (bench);
  return calc_growth_bench_add_run (bench, calc_growth_bench_add_unit (bench, *group));
}

static WbCalcStatus
fit (const CalcGrowthBench *bench,
     WbCalcGrowthPool      *pool)
{
  WbCalcGrowthData data = calc_growth_bench_data (bench);

  return wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, pool);
}

/* Each group is told apart; none that cannot be fitted spoils the others. */
static void
test_statuses (void)
{
  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  gsize first = add_good_group (bench, 70.0, 1.4, 3, 76.0);
  gsize second = add_good_group (bench, 85.0, 1.6, 3, 76.0);
  gsize group_at_wall, group_empty, group_zero, group_start, group_one_time;
  gsize at_wall = add_lone_run (bench, &group_at_wall);
  gsize zero, at_start, one_time;
  WbCalcGrowthPool pool;

  add_lone_run (bench, &group_empty);
  zero = add_lone_run (bench, &group_zero);
  at_start = add_lone_run (bench, &group_start);
  one_time = add_lone_run (bench, &group_one_time);
  for (gsize k = 1; k <= 4; k++)
    {
      calc_growth_bench_read (bench, at_wall, (double) k, 70.0 + (double) k, true);
      calc_growth_bench_read (bench, zero, (double) k, 0.0, false);
    }
  calc_growth_bench_read (bench, at_start, 0.0, 0.0, false);
  /* 60 mm after one hour, at the wall from the second on. */
  calc_growth_bench_read (bench, one_time, 1.0, 60.0, false);
  calc_growth_bench_read (bench, one_time, 2.0, 76.0, true);
  calc_growth_bench_read (bench, one_time, 3.0, 76.0, true);

  g_assert_cmpint (fit (bench, &pool), ==, WB_CALC_OK);
  g_assert_cmpint (pool.groups[first].status, ==, WB_CALC_OK);
  g_assert_cmpint (pool.groups[second].status, ==, WB_CALC_OK);
  g_assert_cmpfloat (fabs (pool.groups[first].log_level - log (71.4)), <, 0.03);

  g_assert_cmpint (pool.groups[group_at_wall].status, ==, WB_CALC_ONLY_CENSORED);
  g_assert_cmpfloat (pool.groups[group_at_wall].lower_bound, ==, 74.0);
  g_assert_true (isnan (pool.groups[group_at_wall].log_level));
  g_assert_true (isnan (pool.run_log_level[at_wall]));
  g_assert_cmpuint (pool.groups[group_at_wall].n_censored, ==, 4);

  g_assert_cmpint (pool.groups[group_empty].status, ==, WB_CALC_TOO_FEW);
  g_assert_cmpuint (pool.groups[group_empty].n_runs, ==, 0);
  g_assert_cmpint (pool.groups[group_zero].status, ==, WB_CALC_FLAT);
  g_assert_true (isnan (pool.groups[group_zero].log_level));
  g_assert_cmpint (pool.groups[group_start].status, ==, WB_CALC_TOO_FEW);

  /* One time with a number is enough where two other groups lend their pace. */
  g_assert_cmpint (pool.groups[group_one_time].status, ==, WB_CALC_OK);
  g_assert_cmpfloat (exp (pool.groups[group_one_time].log_level), >, 76.0);
  g_assert_cmpfloat (pool.groups[group_one_time].var_log_level, >, pool.groups[first].var_log_level);
  wb_calc_growth_pool_clear (&pool);
}

static void
test_no_lenders (void)
{
  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  gsize good = add_good_group (bench, 70.0, 1.4, 3, 76.0);
  gsize borrower;
  gsize run = add_lone_run (bench, &borrower);
  WbCalcGrowthPool pool;

  calc_growth_bench_read (bench, run, 1.0, 60.0, false);
  calc_growth_bench_read (bench, run, 2.0, 76.0, true);
  g_assert_cmpint (fit (bench, &pool), ==, WB_CALC_OK);
  g_assert_cmpint (pool.groups[good].status, ==, WB_CALC_OK);
  g_assert_cmpint (pool.groups[borrower].status, ==, WB_CALC_TOO_FEW);
  g_assert_cmpuint (pool.groups[borrower].n_readings, ==, 2);
  wb_calc_growth_pool_clear (&pool);
}

/* But with an opinion on how far paces differ one neighbour's is something to go by. */
static void
test_one_lender (void)
{
  static const WbCalcGrowthPrior prior = {
    .between_units = { 0.04, 3.0 }, .between_runs = { 0.025, 3.0 }, .between_paces = { 0.05, 2.5 }, .pace_sd = 1.0,
  };
  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  gsize good = add_good_group (bench, 70.0, 1.4, 3, 76.0);
  gsize borrower;
  gsize run = add_lone_run (bench, &borrower);
  WbCalcGrowthData data;
  WbCalcGrowthPool pool;

  /* 100 (1 - exp (-1 / 1.4)) */
  calc_growth_bench_read (bench, run, 1.0, 51.0, false);
  calc_growth_bench_read (bench, run, 3.0, 76.0, true);
  data = calc_growth_bench_data (bench);
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, &prior, NULL, NULL, &pool), ==, WB_CALC_OK);
  g_assert_cmpint (pool.groups[borrower].status, ==, WB_CALC_OK);
  g_assert_cmpfloat_with_epsilon (pool.groups[borrower].log_level, log (100), 0.1);
  g_assert_cmpfloat (pool.groups[borrower].var_log_level, >, pool.groups[good].var_log_level);
  wb_calc_growth_pool_clear (&pool);
}

static void
test_shapes (void)
{
  static const struct
  {
    const char *name;
    double y[4];
    WbCalcStatus status;
  } cases[] = {
    { "flat from the first hour", { 50.2, 49.9, 50.1, 49.8 }, WB_CALC_FLAT },
    { "straight", { 10.1, 19.9, 30.2, 39.8 }, WB_CALC_UNIDENTIFIED },
    { "growing", { 35.0, 52.5, 61.0, 66.5 }, WB_CALC_OK },
    { "shrinking", { 50.0, 40.0, 30.0, 20.0 }, WB_CALC_FLAT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
      gsize group;
      gsize run = add_lone_run (bench, &group);
      WbCalcGrowthPool pool;

      for (gsize k = 0; k < 4; k++)
        calc_growth_bench_read (bench, run, (double) (k + 1), cases[i].y[k], false);
      g_test_message ("%s", cases[i].name);
      g_assert_cmpint (fit (bench, &pool), ==, WB_CALC_OK);
      g_assert_cmpint (pool.groups[0].status, ==, cases[i].status);
      g_assert_true (isfinite (pool.groups[0].log_level));
      g_assert_true (isfinite (pool.groups[0].var_log_level));
      wb_calc_growth_pool_clear (&pool);
    }
}

static void
test_nothing_to_fit (void)
{
  g_autoptr (CalcGrowthBench) empty = calc_growth_bench_new ();
  g_autoptr (CalcGrowthBench) few = calc_growth_bench_new ();
  g_autoptr (CalcGrowthBench) wall = calc_growth_bench_new ();
  gsize group;
  gsize run = add_lone_run (few, &group);
  WbCalcGrowthPool pool;

  g_assert_cmpint (fit (empty, &pool), ==, WB_CALC_TOO_FEW);
  wb_calc_growth_pool_clear (&pool);

  calc_growth_bench_read (few, run, 1.0, 40.0, false);
  calc_growth_bench_read (few, run, 2.0, 60.0, false);
  g_assert_cmpint (fit (few, &pool), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (pool.groups[group].status, ==, WB_CALC_TOO_FEW);
  g_assert_cmpuint (pool.groups[group].n_readings, ==, 2);
  wb_calc_growth_pool_clear (&pool);

  run = add_lone_run (wall, &group);
  for (gsize k = 1; k <= 4; k++)
    calc_growth_bench_read (wall, run, (double) k, 76.0, true);
  g_assert_cmpint (fit (wall, &pool), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (pool.groups[0].status, ==, WB_CALC_ONLY_CENSORED);
  wb_calc_growth_pool_clear (&pool);
  wb_calc_growth_pool_clear (&pool);
}

static void
test_bad_input (void)
{
  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  WbCalcGrowthData data;
  WbCalcGrowthPrior prior = { .between_units = { NAN, 1.0 } };
  WbCalcGrowthPool pool;
  double t[] = { 1, 2, 3, 4, 5 };
  double y[] = { 30, 50, 60, 65, 68 };
  size_t run[] = { 0, 0, 0, 0, 0 };
  size_t zero[] = { 0 };
  size_t one[] = { 1 };

  data = (WbCalcGrowthData) { 5, t, y, NULL, run, 1, zero, 1, zero, 1 };
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_OK);
  wb_calc_growth_pool_clear (&pool);
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, &prior, NULL, NULL, &pool), ==, WB_CALC_BAD_INPUT);
  g_assert_null (pool.groups);
  y[2] = NAN;
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_BAD_INPUT);
  y[2] = 60;
  t[2] = -3;
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_BAD_INPUT);
  t[2] = INFINITY;
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_BAD_INPUT);
  t[2] = 3;
  run[4] = 1;
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_BAD_INPUT);
  run[4] = 0;
  data.run_unit = one;
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_BAD_INPUT);
  data.run_unit = zero;
  data.unit_group = one;
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_BAD_INPUT);
}

static bool
count_down (void *user)
{
  int *left = user;

  return (*left)-- > 0;
}

static void
test_cancel (void)
{
  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  WbCalcGrowthData data;
  WbCalcGrowthPool pool;
  int left = 25;

  add_good_group (bench, 70.0, 1.4, 3, 76.0);
  data = calc_growth_bench_data (bench);
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, count_down, &left, &pool), ==, WB_CALC_CANCELLED);
  g_assert_null (pool.groups);
  /* It stopped when told, and did not ask on. */
  g_assert_cmpint (left, ==, -1);
}

/* Two readings a group tell a level and a pace each and no noise: without an opinion on it that is refused. */
static void
test_noise_untold (void)
{
  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  WbCalcGrowthPrior prior = { .between_units = { 0.04, 2.0 }, .between_runs = { 0.02, 2.0 }, .between_paces = { 0.05, 2.0 }, .pace_sd = 1.0 };
  WbCalcGrowthPool pool;
  WbCalcGrowthData data;

  for (gsize g = 0; g < 3; g++)
    {
      gsize group, run = add_lone_run (bench, &group);

      for (gsize k = 1; k <= 2; k++)
        calc_growth_bench_read (bench, run, 2.0 * (double) k, (60.0 + 5.0 * (double) g) * -expm1 (-2.0 * (double) k / 1.2), false);
    }
  data = calc_growth_bench_data (bench);
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, &prior, NULL, NULL, &pool), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (pool.groups[1].status, ==, WB_CALC_TOO_FEW);
  wb_calc_growth_pool_clear (&pool);
  prior.reading_sd = 0.8;
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, &prior, NULL, NULL, &pool), ==, WB_CALC_OK);
  g_assert_cmpfloat_with_epsilon (pool.sigma, 0.8, 1e-9);
  for (gsize g = 0; g < 3; g++)
    {
      g_assert_cmpint (pool.groups[g].status, ==, WB_CALC_OK);
      g_assert_cmpfloat_with_epsilon (exp (pool.groups[g].log_level), 60.0 + 5.0 * (double) g, 0.5);
      g_assert_cmpfloat_with_epsilon (exp (pool.groups[g].log_pace), 1.2, 0.05);
    }
  wb_calc_growth_pool_clear (&pool);
}

/* A group that was short of the wall once and at it later tells a pace, but not how slow it may be. */
static void
test_bracketed (void)
{
  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  WbCalcGrowthPrior prior = { .between_units = { 0.04, 2.0 }, .between_runs = { 0.02, 2.0 }, .between_paces = { 0.05, 2.0 }, .pace_sd = 1.0,
                              .reading_sd = 0.8 };
  WbCalcGrowthPool pool;
  WbCalcGrowthData data;

  for (gsize g = 0; g < 3; g++)
    {
      gsize group, run = add_lone_run (bench, &group);

      calc_growth_bench_read (bench, run, 1.0, 62.0 + (double) g, false);
      calc_growth_bench_read (bench, run, 2.0, 76.0, true);
    }
  data = calc_growth_bench_data (bench);
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, &prior, NULL, NULL, &pool), ==, WB_CALC_OK);
  for (gsize g = 0; g < 3; g++)
    {
      double half = 1.645 * sqrt (pool.groups[g].var_log_level);

      g_assert_cmpint (pool.groups[g].n_censored, ==, 1);
      /* from a curve that is at the wall just in time to one that grows nearly straight */
      g_assert_cmpfloat (exp (pool.groups[g].log_level - half), <, 80.0);
      g_assert_cmpfloat (exp (pool.groups[g].log_level + half), >, 120.0);
    }
  wb_calc_growth_pool_clear (&pool);
  /* without an opinion on how far paces differ there is nobody to go by */
  prior.between_paces.factor = 0.0;
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, &prior, NULL, NULL, &pool), ==, WB_CALC_TOO_FEW);
  wb_calc_growth_pool_clear (&pool);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/growth-layout/groups-that-cannot-be-fitted-are-told-apart", test_statuses);
  g_test_add_func ("/calc/growth-layout/one-neighbour-is-too-few-to-borrow-a-pace-from", test_no_lenders);
  g_test_add_func ("/calc/growth-layout/one-neighbour-lends-a-pace-that-is-known-to-be-alike", test_one_lender);
  g_test_add_func ("/calc/growth-layout/flat-and-straight-growth-is-named", test_shapes);
  g_test_add_func ("/calc/growth-layout/noise-that-no-reading-tells-is-stated", test_noise_untold);
  g_test_add_func ("/calc/growth-layout/short-of-the-wall-once-is-told-as-open", test_bracketed);
  g_test_add_func ("/calc/growth-layout/nothing-to-fit-is-too-few", test_nothing_to_fit);
  g_test_add_func ("/calc/growth-layout/bad-input-is-refused", test_bad_input);
  g_test_add_func ("/calc/growth-layout/a-fit-stops-when-told", test_cancel);
  return g_test_run ();
}
