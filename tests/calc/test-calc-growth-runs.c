/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include <gsl/gsl_errno.h>

#include "calc-growth-bench.h"
#include "wb-calc-growth-runs.h"

#define MOST 400

/* Runs of hourly readings with a reader's error, stopped at a wall. */
typedef struct
{
  double t[MOST], y[MOST];
  bool   censored[MOST];
  gsize  run[MOST], n;
  gsize  run_pace[MOST], n_runs;
} Readings;

static void
grow (Readings     *self,
      gsize         pace_index,
      double        level,
      double        pace,
      double        noise,
      double        wall,
      WbCalcRandom *random)
{
  for (gsize k = 1; k <= 5; k++, self->n++)
    {
      double y = wb_calc_growth_value (level, pace, 0.8 * (double) k) + noise * wb_calc_random_normal (random);

      self->t[self->n] = 0.8 * (double) k;
      self->y[self->n] = MIN (y, wall);
      self->censored[self->n] = y >= wall;
      self->run[self->n] = self->n_runs;
    }
  self->run_pace[self->n_runs++] = pace_index;
}

static WbCalcStatus
fit (const Readings   *self,
     gsize             n_paces,
     WbCalcGrowthRuns *result)
{
  return wb_calc_growth_fit_runs (self->t, self->y, self->censored, self->run, self->n, self->run_pace, self->n_runs, n_paces, result);
}

static Readings *
make (guint64 seed,
      double  noise,
      double  wall)
{
  Readings *self = g_new0 (Readings, 1);
  WbCalcRandom random;

  wb_calc_random_init (&random, seed, 0);
  for (gsize r = 0; r < 40; r++)
    grow (self, r % 2, 70 * exp (0.1 * wb_calc_random_normal (&random)), r % 2 == 0 ? 1.2 : 2, noise, wall, &random);
  return self;
}

/* One run, one pace: the least squares of one curve, whose errors have n - 2 degrees of freedom too. */
static void
test_one_run (void)
{
  for (guint64 seed = 1; seed <= 20; seed++)
    {
      Readings self = { .n = 0 };
      WbCalcGrowthCurve curve;
      WbCalcGrowthRuns result;
      WbCalcRandom random;
      double slope, variance;

      wb_calc_random_init (&random, seed, 0);
      grow (&self, 0, 75, 1.3, 1, INFINITY, &random);
      g_assert_cmpint (fit (&self, 1, &result), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_growth_fit_least_squares (self.t, self.y, self.n, 80, 1, &curve), ==, WB_CALC_OK);
      slope = result.runs[0].slope;
      variance = result.runs[0].variance + slope * slope * result.paces[0].variance;
      g_assert_cmpfloat_with_epsilon (result.runs[0].log_level, log (curve.level), 1e-6);
      g_assert_cmpfloat_with_epsilon (result.paces[0].log_pace, log (curve.pace), 1e-6);
      g_assert_cmpfloat_with_epsilon (result.sigma / curve.sigma, 1, 1e-6);
      g_assert_cmpfloat_with_epsilon (result.paces[0].variance / curve.log_var[1], 1, 1e-5);
      g_assert_cmpfloat_with_epsilon (variance / curve.log_var[0], 1, 1e-5);
      g_assert_cmpfloat_with_epsilon (slope * result.paces[0].variance / curve.log_cov, 1, 1e-5);
      g_assert_cmpfloat (result.df, ==, 3);
      wb_calc_growth_runs_clear (&result);
    }
}

/* With readings at the wall: the censored maximum of one curve, whose sigma^2 lacks the n / (n - 2). */
static void
test_one_run_at_the_wall (void)
{
  guint tried = 0;

  for (guint64 seed = 1; seed <= 20; seed++)
    {
      Readings self = { .n = 0 };
      WbCalcGrowthCurve curve;
      WbCalcGrowthRuns result;
      WbCalcRandom random;

      wb_calc_random_init (&random, seed, 1);
      grow (&self, 0, 75, 1.3, 1, 70, &random);
      if (wb_calc_growth_fit_simple (self.t, self.y, self.censored, self.n, &curve) != WB_CALC_OK || curve.n_censored == 0)
        continue;
      tried++;
      g_assert_cmpint (fit (&self, 1, &result), ==, WB_CALC_OK);
      g_assert_cmpfloat_with_epsilon (result.runs[0].log_level, log (curve.level), 1e-4);
      g_assert_cmpfloat_with_epsilon (result.paces[0].log_pace, log (curve.pace), 1e-4);
      g_assert_cmpfloat_with_epsilon (result.minus_loglik, curve.minus_loglik, 1e-6);
      g_assert_cmpint ((int) result.runs[0].n_censored, ==, (int) curve.n_censored);
      wb_calc_growth_runs_clear (&result);
    }
  g_assert_cmpuint (tried, >, 10);
}

/* Over many invented data sets: truths inside 1.645 sd in 90 of 100, sigma^2 without bias. */
static void
test_covers (void)
{
  guint level_in = 0, pace_in = 0, n = 0;
  double squares = 0;

  for (guint64 seed = 1; seed <= 100; seed++)
    {
      g_autofree Readings *self = make (seed, 1.5, 72);
      WbCalcGrowthRuns result;
      WbCalcRandom random;

      g_assert_cmpint (fit (self, 2, &result), ==, WB_CALC_OK);
      wb_calc_random_init (&random, seed, 0);
      squares += result.sigma * result.sigma / (1.5 * 1.5) / 100;
      for (gsize p = 0; p < 2; p++)
        pace_in += fabs (result.paces[p].log_pace - log (p == 0 ? 1.2 : 2)) < 1.645 * sqrt (result.paces[p].variance);
      for (gsize r = 0; r < self->n_runs; r++)
        {
          double truth = log (70) + 0.1 * wb_calc_random_normal (&random), slope = result.runs[r].slope;

          for (gsize k = 0; k < 5; k++)
            wb_calc_random_normal (&random);
          if (result.runs[r].status != WB_CALC_OK)
            continue;
          n++;
          level_in += fabs (result.runs[r].log_level - truth)
                      < 1.645 * sqrt (result.runs[r].variance + slope * slope * result.paces[r % 2].variance);
        }
      wb_calc_growth_runs_clear (&result);
    }
  g_assert_cmpfloat_with_epsilon ((double) level_in / n, 0.9, 0.02);
  g_assert_cmpfloat_with_epsilon (pace_in / 200.0, 0.9, 0.06);
  g_assert_cmpfloat_with_epsilon (squares, 1, 0.04);
}

/* The pooled fit of the same runs, each a group of its own, no spread of paces: the same levels. */
static void
test_against_the_pooled_fit (void)
{
  g_autofree Readings *self = make (3, 1, INFINITY);
  gsize unit[MOST];
  WbCalcGrowthData data = { self->n, self->t, self->y, self->censored, self->run, self->n_runs, unit, self->n_runs, unit, self->n_runs,
                            2, self->run_pace };
  /* a spread between paces of next to nothing */
  WbCalcGrowthPrior prior = { .between_paces = { 1e-4, 1.01 } };
  WbCalcGrowthPool pool;
  WbCalcGrowthRuns result;

  for (gsize r = 0; r < self->n_runs; r++)
    unit[r] = r;
  g_assert_cmpint (fit (self, 2, &result), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_growth_fit_pooled (&data, &prior, NULL, NULL, &pool), ==, WB_CALC_OK);
  g_assert_cmpfloat_with_epsilon (pool.sigma / result.sigma, 1, 0.01);
  for (gsize r = 0; r < self->n_runs; r++)
    {
      double slope = result.runs[r].slope;

      g_assert_cmpfloat_with_epsilon (pool.groups[r].log_level, result.runs[r].log_level, 1e-3);
      g_assert_cmpfloat_with_epsilon (pool.groups[r].log_pace, result.paces[r % 2].log_pace, 2e-3);
      g_assert_cmpfloat_with_epsilon (pool.groups[r].var_log_level
                                          / (result.runs[r].variance + slope * slope * result.paces[r % 2].variance), 1, 0.05);
    }
  wb_calc_growth_pool_clear (&pool);
  wb_calc_growth_runs_clear (&result);
}

static void
test_units_and_order (void)
{
  g_autofree Readings *self = make (5, 1, 72), *other = make (5, 1, 72);
  WbCalcGrowthRuns result, scaled, turned;

  g_assert_cmpint (fit (self, 2, &result), ==, WB_CALC_OK);
  for (gsize i = 0; i < self->n; i++)
    {
      other->t[i] *= 60;
      other->y[i] /= 25.4;
    }
  g_assert_cmpint (fit (other, 2, &scaled), ==, WB_CALC_OK);
  for (gsize i = 0; i < self->n; i++)
    {
      gsize from = self->n - 1 - i;

      other->t[i] = self->t[from];
      other->y[i] = self->y[from];
      other->censored[i] = self->censored[from];
      other->run[i] = self->run[from];
    }
  g_assert_cmpint (fit (other, 2, &turned), ==, WB_CALC_OK);
  for (gsize r = 0; r < self->n_runs; r++)
    {
      g_assert_cmpint (result.runs[r].status, ==, scaled.runs[r].status);
      g_assert_cmpint (result.runs[r].status, ==, turned.runs[r].status);
      if (result.runs[r].status != WB_CALC_OK)
        continue;
      g_assert_cmpfloat_with_epsilon (scaled.runs[r].log_level, result.runs[r].log_level - log (25.4), 1e-7);
      g_assert_cmpfloat_with_epsilon (scaled.runs[r].variance / result.runs[r].variance, 1, 1e-6);
      g_assert_cmpfloat_with_epsilon (turned.runs[r].log_level, result.runs[r].log_level, 1e-7);
      g_assert_cmpfloat_with_epsilon (turned.runs[r].slope, result.runs[r].slope, 1e-6);
    }
  for (gsize p = 0; p < 2; p++)
    g_assert_cmpfloat_with_epsilon (scaled.paces[p].log_pace, result.paces[p].log_pace + log (60), 1e-7);
  g_assert_cmpfloat_with_epsilon (scaled.sigma * 25.4 / result.sigma, 1, 1e-7);
  wb_calc_growth_runs_clear (&result);
  wb_calc_growth_runs_clear (&scaled);
  wb_calc_growth_runs_clear (&turned);
}

static void
test_says_what_cannot_be_told (void)
{
  Readings self = { .n = 0 };
  WbCalcGrowthRuns result;
  WbCalcRandom random;

  wb_calc_random_init (&random, 1, 0);
  grow (&self, 0, 75, 1.3, 1, INFINITY, &random);
  grow (&self, 0, 75, 1.3, 1, 10, &random);        /* all at the wall */
  grow (&self, 1, 75, 0.01, 0, INFINITY, &random); /* grown up at once */
  self.y[10] = 75.5;
  grow (&self, 2, 7000, 2000, 0.2, INFINITY, &random); /* straight */
  self.t[self.n] = 1;                              /* one reading, and no other run of its pace */
  self.y[self.n] = 40;
  self.run[self.n++] = self.n_runs;
  self.run_pace[self.n_runs++] = 3;
  self.run_pace[self.n_runs++] = 0;                /* nothing read */
  g_assert_cmpint (fit (&self, 4, &result), ==, WB_CALC_OK);
  g_assert_cmpint (result.runs[0].status, ==, WB_CALC_OK);
  g_assert_cmpint (result.runs[1].status, ==, WB_CALC_ONLY_CENSORED);
  g_assert_cmpfloat (result.runs[1].lower_bound, ==, 10);
  g_assert_true (isnan (result.runs[1].log_level));
  g_assert_cmpint (result.paces[1].status, ==, WB_CALC_FLAT);
  g_assert_cmpint (result.runs[2].status, ==, WB_CALC_FLAT);
  g_assert_cmpint (result.paces[2].status, ==, WB_CALC_UNIDENTIFIED);
  g_assert_cmpint (result.paces[3].status, ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (result.runs[4].status, ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (result.runs[5].status, ==, WB_CALC_TOO_FEW);
  g_assert_cmpint ((int) result.paces[0].n_runs, ==, 1);
  wb_calc_growth_runs_clear (&result);

  self.y[0] = NAN;
  g_assert_cmpint (fit (&self, 4, &result), ==, WB_CALC_BAD_INPUT);
  wb_calc_growth_runs_clear (&result);
  self.y[0] = 40;
  self.t[0] = -1;
  g_assert_cmpint (fit (&self, 4, &result), ==, WB_CALC_BAD_INPUT);
  wb_calc_growth_runs_clear (&result);
  self.t[0] = 0.8;
  g_assert_cmpint (fit (&self, 3, &result), ==, WB_CALC_BAD_INPUT);
  wb_calc_growth_runs_clear (&result);
}

static void
test_exact_readings (void)
{
  Readings self = { .n = 0 };
  WbCalcGrowthRuns result;
  WbCalcRandom random;

  wb_calc_random_init (&random, 1, 0);
  grow (&self, 0, 75, 1.3, 0, INFINITY, &random);
  g_assert_cmpint (fit (&self, 1, &result), ==, WB_CALC_UNIDENTIFIED);
  wb_calc_growth_runs_clear (&result);
  self.n = 2;
  g_assert_cmpint (fit (&self, 1, &result), ==, WB_CALC_TOO_FEW);
  wb_calc_growth_runs_clear (&result);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/growth-runs/one-run-is-least-squares", test_one_run);
  g_test_add_func ("/calc/growth-runs/one-run-at-the-wall-is-the-censored-fit", test_one_run_at_the_wall);
  g_test_add_func ("/calc/growth-runs/covers-the-truth", test_covers);
  g_test_add_func ("/calc/growth-runs/agrees-with-the-pooled-fit", test_against_the_pooled_fit);
  g_test_add_func ("/calc/growth-runs/units-and-order-change-nothing", test_units_and_order);
  g_test_add_func ("/calc/growth-runs/says-what-cannot-be-told", test_says_what_cannot_be_told);
  g_test_add_func ("/calc/growth-runs/exact-readings-have-no-noise", test_exact_readings);
  return g_test_run ();
}
