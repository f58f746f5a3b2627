/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"
#include "wb-calc-random.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

static WbCalcGrowthGroup
group_of (double level,
          double pace,
          double level_sd,
          double pace_sd,
          double df)
{
  return (WbCalcGrowthGroup) {
    .status = WB_CALC_OK,
    .log_level = log (level),
    .log_pace = log (pace),
    .var_log_level = level_sd * level_sd,
    .var_log_pace = pace_sd * pace_sd,
    .cov = 0.5 * level_sd * pace_sd,
    .df = df,
    .sigma = 1.5,
    .between_units_sd = 0.04,
    .between_runs_sd = 0.03,
  };
}

/* The time that the wall example's reference gives for its own level and pace. */
static void
test_reference (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("growth_wall_certified");
  WbCalcGrowthGroup group = group_of (calc_table_certified (certified, "pool_limit_mm"), calc_table_certified (certified, "tau_h"), 0.02, 0.05, 10.0);
  WbCalcGrowthTime time;

  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_MEAN, 0.9, 1, 0, &time), ==, WB_CALC_OK);
  g_assert_false (time.never);
  calc_assert_digits ("time", time.value, calc_table_certified (certified, "time_to_wall_h"), 5);
  g_assert_cmpfloat (time.low, <, time.value);
  g_assert_true (time.high_never || time.high > time.value);
}

/* P (never) = P (ln A <= ln D) is known in closed form: the t distribution. */
static void
test_never (void)
{
  double df = 7.0;
  WbCalcGrowthGroup group = group_of (75.0, 1.4, 0.03, 0.05, df);
  WbCalcGrowthTime mean;
  WbCalcGrowthTime next;
  double spread = sqrt (0.03 * 0.03 + 0.04 * 0.04 + 0.03 * 0.03);
  double distance = log (76.0 / 75.0);
  gsize n = 65536;

  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_MEAN, 0.9, 7, n, &mean), ==, WB_CALC_OK);
  g_assert_true (mean.never);
  g_assert_true (isnan (mean.value));
  g_assert_true (mean.high_never);
  g_assert_true (isnan (mean.high));
  g_assert_false (mean.low_never);
  /* Four standard errors of 65536 draws. */
  g_assert_cmpfloat_with_epsilon (mean.p_never, gsl_cdf_tdist_P (distance / 0.03, df), 0.008);

  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_NEXT_RUN, 0.9, 7, n, &next), ==, WB_CALC_OK);
  g_assert_cmpfloat_with_epsilon (next.p_never, gsl_cdf_tdist_P (distance / spread, df), 0.008);

  /* Far out of reach: never even at the lower end. */
  g_assert_cmpint (wb_calc_growth_time_to (&group, 500.0, WB_CALC_GROWTH_MEAN, 0.9, 7, 0, &mean), ==, WB_CALC_OK);
  g_assert_true (mean.low_never && mean.high_never && isnan (mean.low));
  g_assert_cmpfloat (mean.p_never, >, 0.999);
}

/* With all the uncertainty in tau the time's quantiles are those of tau. */
static void
test_quantiles (void)
{
  WbCalcGrowthGroup group = group_of (100.0, 2.0, 0.0, 0.1, 5.0);
  WbCalcGrowthTime time;
  double reach = 0.1 * gsl_cdf_tdist_Pinv (0.95, 5.0);

  g_assert_cmpint (wb_calc_growth_time_to (&group, 50.0, WB_CALC_GROWTH_MEAN, 0.9, 3, 262144, &time), ==, WB_CALC_OK);
  calc_assert_digits ("value", time.value, 2.0 * G_LN2, 14);
  calc_assert_digits ("low", time.low, time.value * exp (-reach), 2.3);
  calc_assert_digits ("high", time.high, time.value * exp (reach), 2.3);
  g_assert_cmpfloat (time.p_never, ==, 0.0);
}

static void
test_seed (void)
{
  WbCalcGrowthGroup group = group_of (80.0, 1.5, 0.03, 0.08, 4.0);
  WbCalcGrowthTime a;
  WbCalcGrowthTime b;

  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_NEXT_RUN, 0.9, 11, 1000, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_NEXT_RUN, 0.9, 11, 1000, &b), ==, WB_CALC_OK);
  g_assert_cmpfloat (a.low, ==, b.low);
  g_assert_cmpfloat (a.p_never, ==, b.p_never);
  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_NEXT_RUN, 0.9, 12, 1000, &b), ==, WB_CALC_OK);
  g_assert_cmpfloat (a.low, !=, b.low);
}

/* The band against draws of the same group. */
static void
test_band (void)
{
  WbCalcGrowthGroup group = group_of (80.0, 1.5, 0.02, 0.04, INFINITY);
  WbCalcRandom random;
  double value, low, high;
  guint inside = 0;
  guint n = 20000;

  g_assert_cmpint (wb_calc_growth_at (&group, 2.0, WB_CALC_GROWTH_MEAN, 0.9, &value, &low, &high), ==, WB_CALC_OK);
  calc_assert_digits ("value", value, wb_calc_growth_value (80.0, 1.5, 2.0), 14);
  wb_calc_random_init (&random, 1, 1);
  for (guint k = 0; k < n; k++)
    {
      double level, pace;
      double z_level = wb_calc_random_normal (&random);
      double z_pace = wb_calc_random_normal (&random);

      g_assert_cmpint (wb_calc_growth_draw (&group, WB_CALC_GROWTH_MEAN, z_level, z_pace, 1.0, 0.0, &level, &pace), ==, WB_CALC_OK);
      double d = wb_calc_growth_value (level, pace, 2.0);

      inside += d >= low && d <= high ? 1 : 0;
    }
  /* 90 % +- four standard errors, and a little for the linearisation. */
  g_assert_cmpfloat_with_epsilon (inside / (double) n, 0.9, 0.012);

  g_assert_cmpint (wb_calc_growth_at (&group, 0.0, WB_CALC_GROWTH_MEAN, 0.9, &value, &low, &high), ==, WB_CALC_OK);
  g_assert_true (value == 0.0 && low == 0.0 && high == 0.0);
  g_assert_cmpint (wb_calc_growth_at (&group, 1e6, WB_CALC_GROWTH_MEAN, 0.9, &value, &low, &high), ==, WB_CALC_OK);
  calc_assert_digits ("far out", high / value, exp (0.02 * gsl_cdf_ugaussian_Pinv (0.95)), 10);
}

static void
test_refusals (void)
{
  WbCalcGrowthGroup group = group_of (80.0, 1.5, 0.03, 0.08, 4.0);
  WbCalcGrowthTime time;
  double value, low, high;

  g_assert_cmpint (wb_calc_growth_time_to (&group, 0.0, WB_CALC_GROWTH_MEAN, 0.9, 1, 0, &time), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_growth_time_to (&group, NAN, WB_CALC_GROWTH_MEAN, 0.9, 1, 0, &time), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_MEAN, 1.0, 1, 0, &time), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_growth_at (&group, -1.0, WB_CALC_GROWTH_MEAN, 0.9, &value, &low, &high), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_growth_draw (&group, WB_CALC_GROWTH_MEAN, NAN, 0, 1, 0, &value, &low), ==, WB_CALC_BAD_INPUT);
  group.between_units_sd = NAN;
  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_NEXT_RUN, 0.9, 1, 0, &time), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_MEAN, 0.9, 1, 0, &time), ==, WB_CALC_OK);
  group.status = WB_CALC_ONLY_CENSORED;
  g_assert_cmpint (wb_calc_growth_time_to (&group, 76.0, WB_CALC_GROWTH_MEAN, 0.9, 1, 0, &time), ==, WB_CALC_ONLY_CENSORED);
  g_assert_cmpint (wb_calc_growth_at (&group, 1.0, WB_CALC_GROWTH_MEAN, 0.9, &value, &low, &high), ==, WB_CALC_ONLY_CENSORED);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/growth-foretell/the-reference-time-comes-out", test_reference);
  g_test_add_func ("/calc/growth-foretell/never-is-as-likely-as-the-t-distribution-says", test_never);
  g_test_add_func ("/calc/growth-foretell/quantiles-of-the-time-follow-the-pace", test_quantiles);
  g_test_add_func ("/calc/growth-foretell/the-same-seed-gives-the-same-answer", test_seed);
  g_test_add_func ("/calc/growth-foretell/the-band-holds-the-draws", test_band);
  g_test_add_func ("/calc/growth-foretell/what-is-not-estimated-is-not-foretold", test_refusals);
  return g_test_run ();
}
