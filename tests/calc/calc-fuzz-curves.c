/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "calc-fuzz.h"
#include "wb-calc-censored.h"
#include "wb-calc-growth-runs.h"
#include "wb-calc-growth.h"
#include "wb-calc-nonlinear.h"

#define MOST CALC_FUZZ_MOST

/* Beyond these the pooled fit is asked for a status and no crash: its figures may then be NaN. */
#define SHORTEST_TIME 1e-9
#define LONGEST_TIME 1e9

/* Times that a run may have: whole hours, the same twice, or anything at all that is not below 0. */
static void
fill_times (CalcFuzz *fuzz,
            double   *t,
            gsize     n)
{
  if (calc_fuzz_chance (fuzz, 0.3))
    {
      calc_fuzz_fill_positive (fuzz, t, n);
      return;
    }
  for (gsize i = 0; i < n; i++)
    t[i] = (double) calc_fuzz_below (fuzz, 6);
}

/* Readings of a curve with noise, or anything at all. */
static void
fill_readings (CalcFuzz     *fuzz,
               const double *t,
               double       *y,
               bool         *censored,
               gsize         n)
{
  double noise = calc_fuzz_chance (fuzz, 0.2) ? 0.0 : 2.0;
  double wall = calc_fuzz_chance (fuzz, 0.5) ? 70.0 : INFINITY;
  double pace = exp (wb_calc_random_normal (&fuzz->random));

  if (calc_fuzz_chance (fuzz, 0.4))
    calc_fuzz_fill (fuzz, y, n);
  else
    for (gsize i = 0; i < n; i++)
      y[i] = isfinite (t[i]) ? -80.0 * expm1 (-t[i] / pace) + noise * wb_calc_random_normal (&fuzz->random) : 0.0;
  for (gsize i = 0; i < n; i++)
    {
      censored[i] = y[i] >= wall;
      y[i] = isfinite (y[i]) ? fmin (y[i], wall) : y[i];
    }
}

static double
line (const double *beta,
      size_t        i,
      double       *gradient,
      double       *curvature,
      void         *user)
{
  const double *x = user;

  gradient[0] = 1.0;
  gradient[1] = x[i];
  return beta[0] + beta[1] * x[i];
}

void
calc_fuzz_censored (CalcFuzz *fuzz)
{
  double x[MOST], y[MOST];
  bool censored[MOST];
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  double beta[2] = { calc_fuzz_number (fuzz), calc_fuzz_number (fuzz) };
  double before = beta[0];
  WbCalcCensoredFit fit;
  WbCalcCensoredReading reading;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_censored_reading";
  reading = wb_calc_censored_reading (20.0 + 100.0 * wb_calc_random_normal (&fuzz->random), 20.0, calc_fuzz_chance (fuzz, 0.5),
                                      0.01 + wb_calc_random_uniform (&fuzz->random));
  calc_fuzz_expect (fuzz, isfinite (reading.minus_loglik) && isfinite (reading.score) && reading.weight >= 0.0 && isfinite (reading.weight),
                    "not finite");
  fuzz->subject = "wb_calc_censored_fit";
  for (gsize i = 0; i < n; i++)
    x[i] = wb_calc_random_normal (&fuzz->random);
  calc_fuzz_fill (fuzz, y, n);
  for (gsize i = 0; i < n; i++)
    censored[i] = calc_fuzz_chance (fuzz, 0.3);
  status = wb_calc_censored_fit (y, calc_fuzz_chance (fuzz, 0.5) ? censored : NULL, n, 2, line, x, beta, calc_fuzz_positive (fuzz), &fit);
  if (calc_fuzz_expect_status (fuzz, status))
    {
      calc_fuzz_expect_finite (fuzz, beta, 2, "a parameter");
      calc_fuzz_expect (fuzz, isfinite (fit.log_sigma) && isfinite (fit.minus_loglik), "sigma or the likelihood");
      calc_fuzz_expect_finite (fuzz, fit.covariance, 9, "a covariance");
      for (gsize j = 0; j < 3; j++)
        calc_fuzz_expect (fuzz, fit.covariance[j * 4] > 0.0, "a variance not above 0");
    }
  else
    calc_fuzz_expect (fuzz, beta[0] == before, "a start was changed by a failure");
}

/* b0 exp (b1 x) */
static double
exponential (const double *beta,
             size_t        i,
             double       *gradient,
             void         *user)
{
  const double *x = user;

  gradient[0] = exp (beta[1] * x[i]);
  gradient[1] = beta[0] * x[i] * gradient[0];
  return beta[0] * gradient[0];
}

/* b0 x^b1 / (b1 + x): undefined here and there. */
static double
broken (const double *beta,
        size_t        i,
        double       *gradient,
        void         *user)
{
  const double *x = user;

  gradient[0] = pow (x[i], beta[1]) / (beta[1] + x[i]);
  gradient[1] = beta[0] * gradient[0] * (log (x[i]) - 1.0 / (beta[1] + x[i]));
  return beta[0] * gradient[0];
}

void
calc_fuzz_nonlinear (CalcFuzz *fuzz)
{
  double x[MOST], y[MOST];
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  gsize p = calc_fuzz_chance (fuzz, 0.05) ? 9 * calc_fuzz_below (fuzz, 2) : 2;
  double beta[9] = { 1.0, 0.1 };
  double before;
  WbCalcNonlinear fit;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_nonlinear_fit";
  for (gsize i = 0; i < n; i++)
    x[i] = (double) i + (double) calc_fuzz_below (fuzz, 2);
  calc_fuzz_fill (fuzz, y, n);
  if (calc_fuzz_chance (fuzz, 0.5))
    calc_fuzz_fill (fuzz, beta, 2);
  before = beta[0];
  status = wb_calc_nonlinear_fit (y, n, p, calc_fuzz_chance (fuzz, 0.5) ? exponential : broken, x, NULL, NULL, beta, &fit);
  if (calc_fuzz_expect_status (fuzz, status))
    {
      calc_fuzz_expect_finite (fuzz, beta, 2, "a parameter");
      calc_fuzz_expect_finite (fuzz, fit.covariance, 4, "a covariance");
      calc_fuzz_expect_finite (fuzz, fit.sd, 2, "a standard deviation");
      calc_fuzz_expect (fuzz, isfinite (fit.residual_sd) && isfinite (fit.residual_sum_sq), "the residual");
      calc_fuzz_expect (fuzz, fit.residual_df + 2 == n, "degrees of freedom");
    }
  else
    calc_fuzz_expect (fuzz, isnan (before) || beta[0] == before, "a start was changed by a failure");
}

static void
check_curve (CalcFuzz                *fuzz,
             const WbCalcGrowthCurve *curve)
{
  calc_fuzz_expect (fuzz, isfinite (curve->level) && curve->level > 0.0 && isfinite (curve->pace) && curve->pace > 0.0, "level or pace");
  calc_fuzz_expect (fuzz, isfinite (curve->level_sd) && isfinite (curve->pace_sd) && isfinite (curve->sigma), "a standard deviation");
  calc_fuzz_expect_finite (fuzz, curve->log_var, 2, "a variance");
  calc_fuzz_expect (fuzz, isfinite (curve->log_cov) && isfinite (curve->rss), "covariance or rss");
}

void
calc_fuzz_growth (CalcFuzz *fuzz)
{
  double t[MOST], y[MOST];
  bool censored[MOST];
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  double start[2];
  double value;
  WbCalcGrowthCurve curve;

  fuzz->subject = "wb_calc_growth_fit_simple";
  fill_times (fuzz, t, n);
  fill_readings (fuzz, t, y, censored, n);
  if (calc_fuzz_expect_status (fuzz, wb_calc_growth_fit_simple (t, y, calc_fuzz_chance (fuzz, 0.7) ? censored : NULL, n, &curve)))
    check_curve (fuzz, &curve);
  fuzz->subject = "wb_calc_growth_fit_least_squares";
  start[0] = calc_fuzz_chance (fuzz, 0.8) ? 80.0 : calc_fuzz_positive (fuzz);
  start[1] = calc_fuzz_chance (fuzz, 0.8) ? 1.5 : calc_fuzz_positive (fuzz);
  if (calc_fuzz_expect_status (fuzz, wb_calc_growth_fit_least_squares (t, y, n, start[0], start[1], &curve)))
    check_curve (fuzz, &curve);
  fuzz->subject = "wb_calc_growth_value";
  value = wb_calc_growth_value (start[0], start[1], n > 0 ? t[0] : 0.0);
  calc_fuzz_expect (fuzz, n > 0 && isnan (t[0]) ? isnan (value) : value >= 0.0 && value <= start[0], "outside 0 and the level");
  fuzz->subject = "wb_calc_growth_bent_value";
  value = wb_calc_growth_bent_value (start[0], start[1], 1.3, n > 0 ? t[0] : 0.0);
  calc_fuzz_expect (fuzz, n > 0 && isnan (t[0]) ? isnan (value) : value >= 0.0 && value <= start[0], "outside 0 and the level");
  fuzz->subject = "wb_calc_growth_bent_time";
  value = wb_calc_growth_bent_time (start[0], start[1], 1.3, n > 0 ? y[0] : 1.0);
  calc_fuzz_expect (fuzz, n > 0 && !(y[0] > 0.0) ? isnan (value) : value >= 0.0, "a time below 0");
}

static void
check_group (CalcFuzz                *fuzz,
             const WbCalcGrowthGroup *group)
{
  bool stands = group->status == WB_CALC_OK || group->status == WB_CALC_UNIDENTIFIED;

  calc_fuzz_expect (fuzz, (guint) group->status < WB_CALC_N_STATUSES, "a status that there is not");
  if (!stands)
    return;
  calc_fuzz_expect (fuzz, isfinite (group->log_level) && isfinite (group->log_pace) && isfinite (group->sigma), "a figure that stands");
  calc_fuzz_expect (fuzz, isfinite (group->var_log_level) && group->var_log_level >= 0.0 && isfinite (group->var_log_pace)
                              && group->var_log_pace >= 0.0 && isfinite (group->cov),
                    "a variance");
  calc_fuzz_expect (fuzz, group->df >= 1.0, "degrees of freedom below 1");
}

#define DRAWS 8

static void
draw_pool (CalcFuzz               *fuzz,
           const WbCalcGrowthPool *pool,
           bool                    wild)
{
  double levels[DRAWS * 4], paces[DRAWS * 4], units[DRAWS], runs[DRAWS];
  gsize asked[4], n = 0, n_shared, n_local;

  fuzz->subject = "wb_calc_growth_pool_draw";
  for (gsize g = 0; g < pool->n_groups; g++)
    if (pool->groups[g].status == WB_CALC_OK)
      asked[n++] = g;
  calc_fuzz_expect (fuzz, wb_calc_growth_pool_n_deviates (pool, &n_shared, &n_local) >= n_shared + pool->n_groups * n_local, "too few deviates");
  calc_fuzz_expect (fuzz, isnan (wb_calc_growth_pool_get_unit (pool, 1000)), "a unit that there is not");
  if (wb_calc_growth_pool_draw (pool, asked, n, fuzz->number, DRAWS, NULL, levels, paces, units, runs) != WB_CALC_OK || wild)
    return;
  calc_fuzz_expect_finite (fuzz, levels, DRAWS * n, "a level");
  calc_fuzz_expect_finite (fuzz, paces, DRAWS * n, "a pace");
  calc_fuzz_expect_finite (fuzz, units, DRAWS, "a spread of units");
  calc_fuzz_expect_finite (fuzz, runs, DRAWS, "a spread of runs");
}

static void
contrast_pool (CalcFuzz               *fuzz,
               const WbCalcGrowthPool *pool,
               bool                    wild)
{
  double of_level[4], of_pace[4];
  gsize asked[4];
  gsize n = 1 + calc_fuzz_below (fuzz, 4);
  bool bad = calc_fuzz_indexes (fuzz, asked, n, pool->n_groups);
  WbCalcGrowthContrast contrast;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_growth_pool_contrast";
  calc_fuzz_fill (fuzz, of_level, n);
  calc_fuzz_fill (fuzz, of_pace, n);
  for (gsize k = 0; k < n; k++)
    wild = wild || !(fabs (of_level[k]) < LONGEST_TIME) || !(fabs (of_pace[k]) < LONGEST_TIME);
  status = wb_calc_growth_pool_contrast (pool, asked, of_level, of_pace, n, &contrast);
  calc_fuzz_expect (fuzz, status == WB_CALC_BAD_INPUT || status == WB_CALC_TOO_FEW || !bad, "an index out of range passed");
  if (status != WB_CALC_OK || wild)
    return;
  calc_fuzz_expect (fuzz, isfinite (contrast.value) && isfinite (contrast.sd) && contrast.sd >= 0.0, "a contrast");
  calc_fuzz_expect (fuzz, contrast.df >= 1.0, "degrees of freedom below 1");
}

void
calc_fuzz_pool (CalcFuzz *fuzz)
{
  double t[MOST], y[MOST];
  bool censored[MOST];
  gsize run[MOST], run_unit[6], unit_group[4];
  gsize n_groups = 1 + calc_fuzz_below (fuzz, 3);
  gsize n_units = 1 + calc_fuzz_below (fuzz, 4);
  gsize n_runs = 1 + calc_fuzz_below (fuzz, 6);
  WbCalcGrowthData data = { calc_fuzz_below (fuzz, MOST + 1), t, y, calc_fuzz_chance (fuzz, 0.7) ? censored : NULL, run,
                            n_runs, run_unit, n_units, unit_group, n_groups };
  WbCalcGrowthPrior prior = { { 0.04, 3.0 }, { 0.04, 3.0 }, { 0.2, 2.0 }, { 0.03, 2.5 }, { 0.05, 2.5 }, 1.0, calc_fuzz_chance (fuzz, 0.5) ? 1.0 : 0.0 };
  double columns[2 * 4], column_sd[2] = { INFINITY, 0.0 }, covariates[6], covariate_sd = 0.02;
  gsize paces[4];
  bool bad;
  bool wild = false;
  WbCalcGrowthPool pool;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_growth_fit_pooled";
  fill_times (fuzz, t, data.n_readings);
  for (gsize i = 0; i < data.n_readings; i++)
    wild = wild || (t[i] > 0.0 && (t[i] < SHORTEST_TIME || t[i] > LONGEST_TIME));
  fill_readings (fuzz, t, y, censored, data.n_readings);
  bad = calc_fuzz_indexes (fuzz, run, data.n_readings, n_runs);
  bad = calc_fuzz_indexes (fuzz, run_unit, n_runs, n_units) || bad;
  bad = calc_fuzz_indexes (fuzz, unit_group, n_units, n_groups) || bad;
  if (calc_fuzz_chance (fuzz, 0.5))
    {
      data.n_paces = 2;
      data.group_pace = paces;
      bad = calc_fuzz_indexes (fuzz, paces, n_groups, 2) || bad;
      data.n_covariates = 1;
      data.run_covariate = covariates;
      data.covariate_sd = &covariate_sd;
      calc_fuzz_fill (fuzz, covariates, n_runs);
      data.may_bend = calc_fuzz_chance (fuzz, 0.3);
    }
  data.borrow = calc_fuzz_chance (fuzz, 0.4);
  for (gsize g = 0; g < n_groups; g++)
    {
      columns[2 * g] = 1.0;
      columns[2 * g + 1] = (double) g;
    }
  data.n_columns = 2;
  data.group_column = columns;
  data.column_sd = column_sd;
  for (gsize i = 0; i < n_runs && data.n_covariates > 0; i++)
    wild = wild || fabs (covariates[i]) > LONGEST_TIME;
  status = wb_calc_growth_fit_pooled (&data, calc_fuzz_chance (fuzz, 0.5) ? &prior : NULL, NULL, NULL, &pool);
  calc_fuzz_expect (fuzz, status == WB_CALC_BAD_INPUT || !bad, "an index out of range passed");
  if (calc_fuzz_expect_status (fuzz, status) && !wild)
    for (gsize g = 0; g < pool.n_groups; g++)
      check_group (fuzz, &pool.groups[g]);
  if (status == WB_CALC_OK)
    {
      draw_pool (fuzz, &pool, wild);
      contrast_pool (fuzz, &pool, wild);
    }
  wb_calc_growth_pool_clear (&pool);
}

static void
check_runs (CalcFuzz               *fuzz,
            const WbCalcGrowthRuns *fit)
{
  calc_fuzz_expect (fuzz, fit->sigma > 0.0 && isfinite (fit->sigma) && fit->df > 0.0 && isfinite (fit->minus_loglik), "the noise");
  for (gsize r = 0; r < fit->n_runs; r++)
    if (fit->runs[r].status == WB_CALC_OK)
      calc_fuzz_expect (fuzz, isfinite (fit->runs[r].log_level) && fit->runs[r].variance > 0.0 && isfinite (fit->runs[r].variance)
                                  && isfinite (fit->runs[r].slope), "a level");
    else
      calc_fuzz_expect (fuzz, isnan (fit->runs[r].log_level), "a level that does not stand");
  for (gsize p = 0; p < fit->n_paces; p++)
    calc_fuzz_expect (fuzz, fit->paces[p].status != WB_CALC_OK
                                || (isfinite (fit->paces[p].log_pace) && fit->paces[p].variance > 0.0 && isfinite (fit->paces[p].variance)),
                      "a pace");
}

void
calc_fuzz_growth_runs (CalcFuzz *fuzz)
{
  double t[MOST], y[MOST];
  bool censored[MOST];
  gsize run[MOST], run_pace[6];
  gsize n = calc_fuzz_below (fuzz, MOST + 1), n_runs = 1 + calc_fuzz_below (fuzz, 6), n_paces = 1 + calc_fuzz_below (fuzz, 3);
  WbCalcGrowthRuns fit;
  WbCalcStatus status;
  bool bad;

  fuzz->subject = "wb_calc_growth_fit_runs";
  fill_times (fuzz, t, n);
  fill_readings (fuzz, t, y, censored, n);
  bad = calc_fuzz_indexes (fuzz, run, n, n_runs);
  bad = calc_fuzz_indexes (fuzz, run_pace, n_runs, n_paces) || bad;
  status = wb_calc_growth_fit_runs (t, y, calc_fuzz_chance (fuzz, 0.7) ? censored : NULL, run, n, run_pace, n_runs, n_paces, &fit);
  calc_fuzz_expect (fuzz, status == WB_CALC_BAD_INPUT || !bad, "an index out of range passed");
  if (calc_fuzz_expect_status (fuzz, status))
    check_runs (fuzz, &fit);
  wb_calc_growth_runs_clear (&fit);
}

void
calc_fuzz_foretell (CalcFuzz *fuzz)
{
  double numbers[6];
  WbCalcGrowthGroup group = { .status = WB_CALC_OK, .sigma = 1.0 };
  WbCalcGrowthWhat what = calc_fuzz_chance (fuzz, 0.5) ? WB_CALC_GROWTH_MEAN : WB_CALC_GROWTH_NEXT_RUN;
  double root = fabs (wb_calc_random_normal (&fuzz->random));
  double value = NAN, low = NAN, high = NAN;
  WbCalcGrowthTime time;

  group.log_level = 4.0 + wb_calc_random_normal (&fuzz->random);
  group.log_pace = wb_calc_random_normal (&fuzz->random);
  group.var_log_level = root * root;
  group.var_log_pace = fabs (wb_calc_random_normal (&fuzz->random));
  group.cov = root * sqrt (group.var_log_pace) * (2.0 * wb_calc_random_uniform (&fuzz->random) - 1.0);
  group.df = calc_fuzz_chance (fuzz, 0.3) ? INFINITY : 1.0 + calc_fuzz_positive (fuzz);
  group.between_units_sd = calc_fuzz_chance (fuzz, 0.2) ? NAN : 0.05;
  group.between_runs_sd = calc_fuzz_chance (fuzz, 0.2) ? NAN : 0.05;
  if (what == WB_CALC_GROWTH_NEXT_RUN && isnan (group.between_units_sd))
    what = WB_CALC_GROWTH_MEAN;

  fuzz->subject = "wb_calc_growth_time_to";
  calc_fuzz_fill_positive (fuzz, numbers, 1);
  if (calc_fuzz_expect_status (fuzz, wb_calc_growth_time_to (&group, numbers[0], what, 0.9, fuzz->number, 50, &time)))
    {
      calc_fuzz_expect (fuzz, time.never == isnan (time.value) && time.high_never == isnan (time.high) && time.low_never == isnan (time.low),
                        "never and NaN are not the same");
      calc_fuzz_expect (fuzz, isnan (time.high) || (time.low <= time.high && isfinite (time.high) && time.low >= 0.0), "an interval that is none");
      calc_fuzz_expect_chance (fuzz, time.p_never, "p_never");
    }
  fuzz->poisoned = FALSE;

  fuzz->subject = "wb_calc_growth_at";
  calc_fuzz_fill_positive (fuzz, numbers, 1);
  if (calc_fuzz_expect_status (fuzz, wb_calc_growth_at (&group, numbers[0], what, 0.9, &value, &low, &high)))
    calc_fuzz_expect (fuzz, low >= 0.0 && low <= value && value <= high && isfinite (value), "an interval that is none");
  fuzz->poisoned = FALSE;

  fuzz->subject = "wb_calc_growth_draw";
  for (gsize i = 0; i < 4; i++)
    numbers[i] = wb_calc_random_normal (&fuzz->random);
  numbers[2] = fabs (numbers[2]);
  if (calc_fuzz_chance (fuzz, 0.2))
    {
      numbers[calc_fuzz_below (fuzz, 4)] = calc_fuzz_chance (fuzz, 0.5) ? NAN : INFINITY;
      fuzz->poisoned = TRUE;
    }
  if (calc_fuzz_expect_status (fuzz, wb_calc_growth_draw (&group, what, numbers[0], numbers[1], numbers[2], numbers[3], &value, &low)))
    calc_fuzz_expect (fuzz, value >= 0.0 && low >= 0.0, "level or pace");
}
