/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-growth.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

/* NIST StRD, Misra1a: y = b1 (1 - exp (-b2 x)), so tau = 1 / b2; b2's standard deviation by the delta method, which is exact here. */
static void
test_misra1a (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("misra1a_data");
  g_autoptr (CalcTable) certified = calc_table_load ("misra1a_certified");
  g_autoptr (CalcTable) starts = calc_table_load ("misra1a_start");
  g_autofree double *x = calc_table_numbers (data, "x");
  g_autofree double *y = calc_table_numbers (data, "y");
  static const char *const columns[] = { "start1", "start2" };

  for (gsize s = 0; s < 2; s++)
    {
      double b1 = calc_table_number (starts, columns[s], 0);
      double b2 = calc_table_number (starts, columns[s], 1);
      WbCalcGrowthCurve curve;

      g_assert_cmpint (wb_calc_growth_fit_least_squares (x, y, calc_table_n_rows (data), b1, 1.0 / b2, &curve), ==, WB_CALC_OK);
      calc_assert_digits (columns[s], curve.level, calc_table_certified (certified, "b1"), 8);
      calc_assert_digits (columns[s], 1.0 / curve.pace, calc_table_certified (certified, "b2"), 8);
      calc_assert_digits (columns[s], curve.level_sd, calc_table_certified_sd (certified, "b1"), 8);
      calc_assert_digits (columns[s],
                          curve.pace_sd / (curve.pace * curve.pace),
                          calc_table_certified_sd (certified, "b2"),
                          8);
      calc_assert_digits (columns[s], curve.rss, calc_table_certified (certified, "residual_ss"), 10);
      calc_assert_digits (columns[s], curve.sigma, calc_table_certified (certified, "residual_sd"), 10);
    }
}

/* Without censoring the likelihood has its maximum at the least squares, with sigma^2 = RSS / n. */
static void
test_uncensored_limit (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("misra1a_data");
  g_autoptr (CalcTable) certified = calc_table_load ("misra1a_certified");
  g_autofree double *x = calc_table_numbers (data, "x");
  g_autofree double *y = calc_table_numbers (data, "y");
  WbCalcGrowthCurve curve;

  g_assert_cmpint (wb_calc_growth_fit_simple (x, y, NULL, calc_table_n_rows (data), &curve), ==, WB_CALC_OK);
  calc_assert_digits ("b1", curve.level, calc_table_certified (certified, "b1"), 8);
  calc_assert_digits ("b2", 1.0 / curve.pace, calc_table_certified (certified, "b2"), 8);
  calc_assert_digits ("sigma",
                      curve.sigma * sqrt (14.0 / 12.0),
                      calc_table_certified (certified, "residual_sd"),
                      8);
}

typedef struct
{
  gsize n;
  double *t;
  double *y;
  bool *censored;
} Wall;

static Wall
load_wall (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("growth_wall_data");
  Wall wall = {
    .n = calc_table_n_rows (data),
    .t = calc_table_numbers (data, "t_h"),
    .y = calc_table_numbers (data, "pool_mm"),
  };

  wall.censored = g_new0 (bool, wall.n);
  for (gsize i = 0; i < wall.n; i++)
    wall.censored[i] = calc_table_number (data, "at_wall", i) == 1.0;
  return wall;
}

static void
free_wall (Wall *wall)
{
  g_free (wall->t);
  g_free (wall->y);
  g_free (wall->censored);
}

/* Censored at a wall of 76: direct maximisation of the likelihood in R. */
static void
test_wall (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("growth_wall_certified");
  Wall wall = load_wall ();
  WbCalcGrowthCurve curve;

  g_assert_cmpint (wb_calc_growth_fit_simple (wall.t, wall.y, wall.censored, wall.n, &curve), ==, WB_CALC_OK);
  calc_assert_digits ("level", curve.level, calc_table_certified (certified, "pool_limit_mm"), 5);
  calc_assert_digits ("pace", curve.pace, calc_table_certified (certified, "tau_h"), 5);
  calc_assert_digits ("sigma", curve.sigma, calc_table_certified (certified, "sigma_mm"), 4);
  /* R's optimiser leaves its Hessian coarse; second differences of the likelihood are the sharper check. */
  calc_assert_digits ("level sd", curve.level_sd, calc_table_certified_sd (certified, "pool_limit_mm"), 2);
  calc_assert_digits ("pace sd", curve.pace_sd, calc_table_certified_sd (certified, "tau_h"), 2);
  calc_assert_digits ("sigma sd", curve.sigma_sd, calc_table_certified_sd (certified, "sigma_mm"), 2);
  calc_assert_digits ("level sd", curve.level_sd, calc_table_certified_sd (certified, "differences_pool_limit_mm"), 5);
  calc_assert_digits ("pace sd", curve.pace_sd, calc_table_certified_sd (certified, "differences_tau_h"), 5);
  calc_assert_digits ("sigma sd", curve.sigma_sd, calc_table_certified_sd (certified, "differences_sigma_mm"), 5);
  calc_assert_digits ("-loglik", curve.minus_loglik, calc_table_certified (certified, "minus_loglik"), 7);
  calc_assert_digits ("time to the wall",
                      -curve.pace * log (1.0 - 76.0 / curve.level),
                      calc_table_certified (certified, "time_to_wall_h"),
                      5);
  g_assert_cmpuint (curve.n_censored, ==, 2);

  /* Taking the wall for a measurement misleads, by as much as the same reference says. */
  g_assert_cmpint (wb_calc_growth_fit_least_squares (wall.t, wall.y, wall.n, 80, 1.5, &curve), ==, WB_CALC_OK);
  calc_assert_digits ("naive level", curve.level, calc_table_certified (certified, "naive_pool_limit_mm"), 6);
  calc_assert_digits ("naive pace", curve.pace, calc_table_certified (certified, "naive_tau_h"), 5);
  calc_assert_digits ("naive time to the wall",
                      -curve.pace * log (1.0 - 76.0 / curve.level),
                      calc_table_certified (certified, "naive_time_to_wall_h"),
                      5);
  free_wall (&wall);
}

/* Order, unit of length and unit of time change the answer only as they must. */
static void
test_invariance (void)
{
  Wall wall = load_wall ();
  WbCalcGrowthCurve plain;
  WbCalcGrowthCurve other;
  double t[12];
  double y[12];
  bool censored[12];

  for (gsize i = 0; i < 12; i++)
    {
      t[i] = wall.t[11 - i] * 3600.0;
      y[i] = wall.y[11 - i] / 25.4e3;
      censored[i] = wall.censored[11 - i];
    }
  g_assert_cmpint (wb_calc_growth_fit_simple (wall.t, wall.y, wall.censored, 12, &plain), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, censored, 12, &other), ==, WB_CALC_OK);
  calc_assert_digits ("level", other.level * 25.4e3, plain.level, 9);
  calc_assert_digits ("pace", other.pace / 3600.0, plain.pace, 9);
  calc_assert_digits ("variance", other.log_var[0], plain.log_var[0], 7);
  calc_assert_digits ("covariance", other.log_cov, plain.log_cov, 7);
  free_wall (&wall);
}

static void
test_refusals (void)
{
  double t[] = { 1, 2, 3, 4, 1, 2, 3, 4 };
  double y[] = { 41, 60, 71, 77, 43, 62, 72, 78 };
  double flat[] = { 50.1, 49.8, 50.2, 49.9, 50.0, 50.3, 49.7, 50.0 };
  double straight[] = { 10.1, 19.8, 30.3, 40.1, 9.9, 20.2, 29.7, 40.2 };
  double nothing[] = { 0, 0, 0, 0, 0, 0, 0, 0 };
  double one_time[] = { 2, 2, 2, 2, 2, 2, 2, 2 };
  double exact[8];
  bool all[] = { true, true, true, true, true, true, true, true };
  WbCalcGrowthCurve curve;

  for (gsize i = 0; i < 8; i++)
    exact[i] = wb_calc_growth_value (80.0, 1.5, t[i]);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, NULL, 8, &curve), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, NULL, 0, &curve), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, NULL, 1, &curve), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, NULL, 2, &curve), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, NULL, 3, &curve), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_growth_fit_simple (one_time, y, NULL, 8, &curve), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, all, 8, &curve), ==, WB_CALC_ONLY_CENSORED);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, flat, NULL, 8, &curve), ==, WB_CALC_FLAT);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, nothing, NULL, 8, &curve), ==, WB_CALC_FLAT);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, straight, NULL, 8, &curve), ==, WB_CALC_UNIDENTIFIED);
  g_assert_cmpint (wb_calc_growth_fit_simple (t, exact, NULL, 8, &curve), ==, WB_CALC_UNIDENTIFIED);

  g_assert_cmpint (wb_calc_growth_fit_least_squares (t, y, 2, 80, 1, &curve), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_growth_fit_least_squares (t, y, 8, 0, 1, &curve), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_growth_fit_least_squares (t, y, 8, 80, NAN, &curve), ==, WB_CALC_BAD_INPUT);

  t[3] = -1.0;
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, NULL, 8, &curve), ==, WB_CALC_BAD_INPUT);
  t[3] = 4.0;
  y[3] = NAN;
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, NULL, 8, &curve), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_growth_fit_least_squares (t, y, 8, 80, 1, &curve), ==, WB_CALC_BAD_INPUT);
  y[3] = INFINITY;
  g_assert_cmpint (wb_calc_growth_fit_simple (t, y, NULL, 8, &curve), ==, WB_CALC_BAD_INPUT);
}

static void
test_value (void)
{
  g_assert_cmpfloat (wb_calc_growth_value (80.0, 2.0, 0.0), ==, 0.0);
  g_assert_cmpfloat_with_epsilon (wb_calc_growth_value (80.0, 2.0, 2.0), 80.0 * (1.0 - 1.0 / G_E), 1e-12);
  g_assert_true (isnan (wb_calc_growth_value (80.0, 0.0, 2.0)));
  g_assert_true (isnan (wb_calc_growth_value (80.0, 2.0, -1.0)));
  g_assert_true (isnan (wb_calc_growth_value (80.0, 2.0, NAN)));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/growth/misra1a-from-both-starts", test_misra1a);
  g_test_add_func ("/calc/growth/without-a-wall-it-is-least-squares", test_uncensored_limit);
  g_test_add_func ("/calc/growth/a-reading-at-the-wall-says-at-least", test_wall);
  g_test_add_func ("/calc/growth/order-and-units-change-nothing", test_invariance);
  g_test_add_func ("/calc/growth/what-the-data-cannot-carry-is-refused", test_refusals);
  g_test_add_func ("/calc/growth/the-curve-starts-at-zero", test_value);
  return g_test_run ();
}
