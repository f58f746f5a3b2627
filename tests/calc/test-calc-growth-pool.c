/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "calc-growth-bench.h"
#include "calc-table.h"

static CalcGrowthBench *
bench_of_batches (const char *stem,
                  double      scale)
{
  g_autoptr (CalcTable) data = calc_table_load (stem);
  gsize n_batches;
  g_autofree gsize *batch = calc_table_levels (data, "batch", &n_batches);
  g_autofree double *yield = calc_table_numbers (data, "yield");
  CalcGrowthBench *bench = calc_growth_bench_new ();
  gsize group = calc_growth_bench_add_group (bench);

  for (gsize u = 0; u < n_batches; u++)
    calc_growth_bench_add_unit (bench, group);
  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    calc_growth_bench_grow (bench, calc_growth_bench_add_run (bench, batch[i]), exp (yield[i] / scale), 1.5, 4, 0.0, NULL, INFINITY);
  return bench;
}

/*
 * Curves without noise make ln A of every run known, and the pooled fit is then
 * the mixed model of those logarithms: the dyestuff data of Davies (1947), whose
 * restricted likelihood lme4's documentation and a closed form answer. The mean of a
 * balanced layout has batches - 1 = 5 degrees of freedom.
 */
static void
test_dyestuff (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("dyestuff_certified");
  g_autoptr (CalcGrowthBench) bench = bench_of_batches ("dyestuff_data", 1000.0);
  WbCalcGrowthData data = calc_growth_bench_data (bench);
  WbCalcGrowthPool pool;

  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_OK);

  const WbCalcGrowthGroup *group = &pool.groups[0];

  g_assert_cmpint (group->status, ==, WB_CALC_OK);
  calc_assert_digits ("mean", 1000.0 * group->log_level, calc_table_certified (certified, "intercept"), 6);
  calc_assert_digits ("its sd",
                      1000.0 * sqrt (group->var_log_level),
                      calc_table_certified_sd (certified, "intercept"),
                      3.5);
  calc_assert_digits ("batches", 1000.0 * pool.between_units_sd, calc_table_certified (certified, "reml_sd_batch"), 3.5);
  calc_assert_digits ("within", 1000.0 * pool.between_runs_sd, calc_table_certified (certified, "reml_sd_residual"), 3.5);
  calc_assert_digits ("df", group->df, 5.0, 2.5);
  calc_assert_digits ("pace", exp (group->log_pace), 1.5, 5);
  g_assert_cmpfloat (pool.units_df, ==, 5.0);
  g_assert_true (isnan (pool.between_pace_sd));
  g_assert_cmpuint (group->n_readings, ==, 120);
  g_assert_cmpuint (group->n_runs, ==, 30);
  g_assert_cmpuint (group->n_units, ==, 6);
  wb_calc_growth_pool_clear (&pool);
}

/* Box and Tiao's dyestuff2: the variance between batches is 0 at the optimum (lme4's documentation). */
static void
test_boundary (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("dyestuff2_certified");
  g_autoptr (CalcGrowthBench) bench = bench_of_batches ("dyestuff2_data", 100.0);
  WbCalcGrowthData data = calc_growth_bench_data (bench);
  WbCalcGrowthPool pool;

  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_OK);
  g_assert_cmpfloat (pool.between_units_sd, ==, 0.0);
  calc_assert_digits ("within", 100.0 * pool.between_runs_sd, calc_table_certified (certified, "reml_sd_residual"), 3.5);
  calc_assert_digits ("mean", 100.0 * pool.groups[0].log_level, calc_table_certified (certified, "intercept"), 4);
  /* Not more sure than the six batches allow. */
  g_assert_cmpfloat (pool.groups[0].df, <=, 5.0);
  wb_calc_growth_pool_clear (&pool);
}

/* One curve alone: the pooled fit is the curve's own fit with the restricted sigma. */
static void
test_one_curve (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("misra1a_data");
  g_autoptr (CalcTable) certified = calc_table_load ("misra1a_certified");
  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  gsize run = calc_growth_bench_add_run (bench, calc_growth_bench_add_unit (bench, calc_growth_bench_add_group (bench)));
  WbCalcGrowthData growth;
  WbCalcGrowthPool pool;

  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    calc_growth_bench_read (bench, run, calc_table_number (data, "x", i), calc_table_number (data, "y", i), false);
  growth = calc_growth_bench_data (bench);
  g_assert_cmpint (wb_calc_growth_fit_pooled (&growth, NULL, NULL, NULL, &pool), ==, WB_CALC_OK);

  const WbCalcGrowthGroup *group = &pool.groups[0];

  calc_assert_digits ("b1", exp (group->log_level), calc_table_certified (certified, "b1"), 5);
  calc_assert_digits ("b2", exp (-group->log_pace), calc_table_certified (certified, "b2"), 5);
  calc_assert_digits ("sigma", group->sigma, calc_table_certified (certified, "residual_sd"), 3);
  calc_assert_digits ("b1 sd",
                      exp (group->log_level) * sqrt (group->var_log_level),
                      calc_table_certified_sd (certified, "b1"),
                      2);
  /* One unit and one run: nothing is known of the spread between them, and nothing is claimed. */
  g_assert_true (isnan (pool.between_units_sd));
  g_assert_true (isnan (pool.between_runs_sd));
  g_assert_cmpfloat_with_epsilon (group->df, 12.0, 0.7);
  wb_calc_growth_pool_clear (&pool);
}

typedef struct
{
  double log_level;
  double pace;
} Truth;

/* Three groups, three units each, four runs each, four hourly readings with a wall at 76. */
static CalcGrowthBench *
simulate (WbCalcRandom *random,
          const Truth   truth[3],
          double        wall)
{
  CalcGrowthBench *bench = calc_growth_bench_new ();

  for (gsize g = 0; g < 3; g++)
    {
      calc_growth_bench_add_group (bench);
      for (gsize u = 0; u < 3; u++)
        {
          gsize unit = calc_growth_bench_add_unit (bench, g);
          double of_unit = 0.04 * wb_calc_random_normal (random);

          for (gsize r = 0; r < 4; r++)
            {
              double of_run = 0.03 * wb_calc_random_normal (random);

              calc_growth_bench_grow (bench,
                                      calc_growth_bench_add_run (bench, unit),
                                      exp (truth[g].log_level + of_unit + of_run),
                                      truth[g].pace,
                                      4,
                                      1.5,
                                      random,
                                      wall);
            }
        }
    }
  return bench;
}

/*
 * Over 60 invented experiments the 90 % intervals must hold the truth in about 90 %
 * (180 intervals that share spreads by threes: 90 % +- 2.2 %, four of them allowed),
 * and the estimates must be right on the whole although half of the late readings stop at the wall.
 */
static void
test_coverage (void)
{
  static const Truth truth[3] = { { 4.17, 1.3 }, { 4.32, 1.5 }, { 4.45, 1.7 } };
  guint held = 0;
  guint pace_held = 0;
  double bias[3] = { 0.0 };

  for (guint k = 0; k < 60; k++)
    {
      WbCalcRandom random;
      WbCalcGrowthPool pool;

      wb_calc_random_init (&random, 77, k);

      g_autoptr (CalcGrowthBench) bench = simulate (&random, truth, 76.0);
      WbCalcGrowthData data = calc_growth_bench_data (bench);

      g_assert_cmpint (wb_calc_growth_fit_pooled (&data, NULL, NULL, NULL, &pool), ==, WB_CALC_OK);
      for (gsize g = 0; g < 3; g++)
        {
          const WbCalcGrowthGroup *group = &pool.groups[g];
          double reach = gsl_cdf_tdist_Pinv (0.95, group->df);

          g_assert_cmpint (group->status, ==, WB_CALC_OK);
          bias[g] += (group->log_level - truth[g].log_level) / 60.0;
          held += fabs (group->log_level - truth[g].log_level) < reach * sqrt (group->var_log_level) ? 1 : 0;
          pace_held += fabs (group->log_pace - log (truth[g].pace)) < reach * sqrt (group->var_log_pace) ? 1 : 0;
        }
      wb_calc_growth_pool_clear (&pool);
    }
  g_test_message ("level held %u, pace held %u of 180; bias %g %g %g", held, pace_held, bias[0], bias[1], bias[2]);
  g_assert_cmpuint (held, >=, 146);
  g_assert_cmpuint (held, <=, 178);
  g_assert_cmpuint (pace_held, >=, 146);
  for (gsize g = 0; g < 3; g++)
    g_assert_cmpfloat (fabs (bias[g]), <, 0.015);
}

static WbCalcGrowthPool
fit (const CalcGrowthBench   *bench,
     const WbCalcGrowthPrior *prior)
{
  WbCalcGrowthData data = calc_growth_bench_data (bench);
  WbCalcGrowthPool pool;

  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, prior, NULL, NULL, &pool), ==, WB_CALC_OK);
  return pool;
}

static void
test_units_and_order (void)
{
  static const Truth truth[3] = { { 4.1, 1.3 }, { 4.2, 1.4 }, { 4.3, 1.6 } };
  WbCalcRandom random;

  wb_calc_random_init (&random, 5, 0);

  g_autoptr (CalcGrowthBench) bench = simulate (&random, truth, 76.0);
  g_autoptr (CalcGrowthBench) turned = calc_growth_bench_new ();
  WbCalcGrowthData data = calc_growth_bench_data (bench);

  /* The same readings backwards, groups numbered backwards, inches and minutes. */
  turned->n_groups = 3;
  for (gsize u = 0; u < data.n_units; u++)
    calc_growth_bench_add_unit (turned, 2 - data.unit_group[u]);
  for (gsize r = 0; r < data.n_runs; r++)
    calc_growth_bench_add_run (turned, data.run_unit[r]);
  for (gsize i = data.n_readings; i-- > 0;)
    calc_growth_bench_read (turned, data.run[i], 60.0 * data.t[i], data.y[i] / 25.4, data.censored[i]);

  WbCalcGrowthPool plain = fit (bench, NULL);
  WbCalcGrowthPool other = fit (turned, NULL);

  calc_assert_digits ("sigma", other.sigma * 25.4, plain.sigma, 4);
  calc_assert_digits ("units", other.between_units_sd, plain.between_units_sd, 3);
  for (gsize g = 0; g < 3; g++)
    {
      calc_assert_digits ("level", other.groups[2 - g].log_level + log (25.4), plain.groups[g].log_level, 5);
      calc_assert_digits ("pace", other.groups[2 - g].log_pace - log (60.0), plain.groups[g].log_pace, 4);
      calc_assert_digits ("variance", other.groups[2 - g].var_log_level, plain.groups[g].var_log_level, 3);
    }
  for (gsize r = 0; r < data.n_runs; r++)
    calc_assert_digits ("run", other.run_log_level[r] + log (25.4), plain.run_log_level[r], 5);
  wb_calc_growth_pool_clear (&plain);
  wb_calc_growth_pool_clear (&other);
}

/* A wide prior opinion on the spread between units makes a question without replicates less sure, never more. */
static void
test_prior (void)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 9, 0);

  g_autoptr (CalcGrowthBench) bench = calc_growth_bench_new ();
  gsize unit = calc_growth_bench_add_unit (bench, calc_growth_bench_add_group (bench));

  for (gsize r = 0; r < 4; r++)
    calc_growth_bench_grow (bench, calc_growth_bench_add_run (bench, unit), 70.0, 1.4, 4, 1.5, &random, INFINITY);

  WbCalcGrowthPrior prior = { .between_units = { 0.05, 1.5 } };
  WbCalcGrowthPool without = fit (bench, NULL);
  WbCalcGrowthPool with = fit (bench, &prior);

  g_assert_true (isnan (without.between_units_sd));
  calc_assert_digits ("prior sd", with.between_units_sd, 0.05, 1.3);
  g_assert_cmpfloat (with.units_df, ==, 0.0);
  g_assert_cmpfloat (with.groups[0].var_log_level, >, without.groups[0].var_log_level);
  g_assert_cmpfloat (sqrt (with.groups[0].var_log_level), >, 0.045);
  /* a normal whose sd is known to a factor of 1.5 is a t of about 7.3; the runs tell a part of it */
  g_assert_cmpfloat (with.groups[0].df, >, 7.0);
  g_assert_cmpfloat (with.groups[0].df, <, 11.0);
  wb_calc_growth_pool_clear (&without);
  wb_calc_growth_pool_clear (&with);
}

/*
 * A contrast of one group is that group's own figure. Of two that share a common pace its variance
 * is below the sum of theirs, as the shared part cancels; swapping sign swaps the sign.
 */
static void
test_contrast (void)
{
  static const Truth truth[3] = { { 4.1, 1.3 }, { 4.2, 1.4 }, { 4.3, 1.6 } };
  const double one = 1, none = 0, apart[] = { 1, -1 }, back[] = { -1, 1 }, zeros[] = { 0, 0 }, wrong = NAN;
  const gsize both[] = { 2, 0 }, outside = 3;
  WbCalcGrowthContrast contrast, other;
  WbCalcRandom random;

  wb_calc_random_init (&random, 5, 0);

  g_autoptr (CalcGrowthBench) bench = simulate (&random, truth, INFINITY);
  WbCalcGrowthPool pool = fit (bench, NULL);

  for (gsize g = 0; g < 3; g++)
    {
      g_assert_cmpint (wb_calc_growth_pool_contrast (&pool, &g, &one, &none, 1, &contrast), ==, WB_CALC_OK);
      calc_assert_digits ("level", contrast.value, pool.groups[g].log_level, 9);
      calc_assert_digits ("its sd", contrast.sd, sqrt (pool.groups[g].var_log_level), 6);
      g_assert_cmpfloat (contrast.df, >=, 1);
      g_assert_cmpint (wb_calc_growth_pool_contrast (&pool, &g, &none, &one, 1, &contrast), ==, WB_CALC_OK);
      calc_assert_digits ("pace", contrast.value, pool.groups[g].log_pace, 9);
      calc_assert_digits ("its sd", contrast.sd, sqrt (pool.groups[g].var_log_pace), 6);
      g_assert_cmpint (wb_calc_growth_pool_contrast (&pool, &g, &one, &one, 1, &contrast), ==, WB_CALC_OK);
      calc_assert_digits ("variance of the sum", contrast.sd * contrast.sd,
                          pool.groups[g].var_log_level + pool.groups[g].var_log_pace + 2 * pool.groups[g].cov, 6);
    }
  g_assert_cmpint (wb_calc_growth_pool_contrast (&pool, both, zeros, apart, 2, &contrast), ==, WB_CALC_OK);
  calc_assert_digits ("paces apart", contrast.value, pool.groups[2].log_pace - pool.groups[0].log_pace, 6);
  g_assert_cmpfloat (contrast.sd, <, sqrt (pool.groups[0].var_log_pace + pool.groups[2].var_log_pace));
  g_assert_cmpint (wb_calc_growth_pool_contrast (&pool, both, zeros, back, 2, &other), ==, WB_CALC_OK);
  calc_assert_digits ("swapped", other.value, -contrast.value, 9);
  calc_assert_digits ("swapped sd", other.sd, contrast.sd, 9);
  g_assert_cmpint (wb_calc_growth_pool_contrast (&pool, &outside, &one, &none, 1, &contrast), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_growth_pool_contrast (&pool, both, &wrong, &none, 1, &contrast), ==, WB_CALC_BAD_INPUT);
  wb_calc_growth_pool_clear (&pool);
  g_assert_cmpint (wb_calc_growth_pool_contrast (&pool, both, &one, &none, 1, &contrast), ==, WB_CALC_TOO_FEW);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/growth-pool/noiseless-curves-give-the-dyestuff-answer", test_dyestuff);
  g_test_add_func ("/calc/growth-pool/a-spread-of-zero-is-found-and-not-believed-too-much", test_boundary);
  g_test_add_func ("/calc/growth-pool/one-curve-alone-is-its-own-fit", test_one_curve);
  g_test_add_func ("/calc/growth-pool/intervals-hold-the-truth-as-often-as-they-say", test_coverage);
  g_test_add_func ("/calc/growth-pool/order-and-units-change-nothing", test_units_and_order);
  g_test_add_func ("/calc/growth-pool/contrasts-keep-what-groups-share", test_contrast);
  g_test_add_func ("/calc/growth-pool/a-prior-spread-widens-an-answer-without-replicates", test_prior);
  return g_test_run ();
}
