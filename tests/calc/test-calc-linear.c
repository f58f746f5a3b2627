/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-linear.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

/* Data and answers of one NIST StRD linear regression set. */
static void
check_nist (const char *stem,
            gsize       columns,
            bool        intercept,
            double      digits,
            double      sd_digits)
{
  g_autofree char *data_stem = g_strconcat (stem, "_data", NULL);
  g_autofree char *certified_stem = g_strconcat (stem, "_certified", NULL);
  g_autoptr (CalcTable) data = calc_table_load (data_stem);
  g_autoptr (CalcTable) certified = calc_table_load (certified_stem);
  gsize n = calc_table_n_rows (data);
  g_autofree double *x = g_new (double, n * columns);
  g_autofree double *y = calc_table_numbers (data, "y");
  WbCalcLinear fit;

  for (gsize i = 0; i < n; i++)
    for (gsize j = 0; j < columns; j++)
      {
        g_autofree char *name = columns == 1 ? g_strdup ("x") : g_strdup_printf ("x%" G_GSIZE_FORMAT, j + 1);

        x[i * columns + j] = calc_table_number (data, name, i);
      }
  g_assert_cmpint (wb_calc_linear_fit (x, y, NULL, n, columns, intercept, &fit), ==, WB_CALC_OK);
  for (gsize j = 0; j < fit.p; j++)
    {
      g_autofree char *name = g_strdup_printf ("B%" G_GSIZE_FORMAT, j + (intercept ? 0 : 1));

      calc_assert_digits (name, fit.coefficient[j], calc_table_certified (certified, name), digits);
      calc_assert_digits (name, wb_calc_linear_coefficient_sd (&fit, j), calc_table_certified_sd (certified, name), sd_digits);
    }
  calc_assert_digits ("residual sd", fit.residual_sd, calc_table_certified (certified, "residual_sd"), sd_digits);
  calc_assert_digits ("R2", fit.r_squared, calc_table_certified (certified, "r_squared"), digits);
  calc_assert_digits ("F", fit.f, calc_table_certified (certified, "f_statistic"), sd_digits);
  calc_assert_digits ("regression", fit.regression_sum_sq, calc_table_certified (certified, "ss_regression"), sd_digits);
  calc_assert_digits ("residual", fit.residual_sum_sq, calc_table_certified (certified, "ss_residual"), sd_digits);
  g_assert_cmpfloat ((double) fit.residual_df, ==, calc_table_certified (certified, "df_residual"));
  g_assert_cmpfloat ((double) fit.regression_df, ==, calc_table_certified (certified, "df_regression"));
  wb_calc_linear_clear (&fit);
}

/* The 20 runs of a three-factor design as a full quadratic, in the order b0, b1 .. b3, b11 .. b33, b12, b13, b23, or its linear part alone. */
static WbCalcLinear
fit_surface (const CalcTable *runs,
             const char      *third,
             const char      *response,
             gsize            columns)
{
  gsize n = calc_table_n_rows (runs);
  g_autofree double *rows = g_new (double, n * columns);
  g_autofree double *y = calc_table_numbers (runs, response);
  WbCalcLinear fit;

  for (gsize i = 0; i < n; i++)
    {
      double z = calc_table_number (runs, third, i);
      /* the page prints the third factor's axial runs as 1.63, and got its equations with 1.633 */
      const double x[] = {
        calc_table_number (runs, "x1_silica", i), calc_table_number (runs, "x2_silane", i), fabs (z) == 1.63 ? copysign (1.633, z) : z
      };
      const double terms[] = { x[0], x[1], x[2], x[0] * x[0], x[1] * x[1], x[2] * x[2], x[0] * x[1], x[0] * x[2], x[1] * x[2] };

      for (gsize j = 0; j < columns; j++)
        rows[i * columns + j] = terms[j];
    }
  g_assert_cmpint (wb_calc_linear_fit (rows, y, NULL, n, columns, true, &fit), ==, WB_CALC_OK);
  return fit;
}

static void
check_surface (const CalcTable *runs,
               const char      *third,
               const char      *response,
               gsize            columns,
               const CalcTable *equations,
               gsize            row,
               double           tolerance,
               double           r_squared)
{
  static const char *const names[] = { "b0", "b1", "b2", "b3", "b11", "b22", "b33", "b12", "b13", "b23" };
  WbCalcLinear fit = fit_surface (runs, third, response, columns);

  for (gsize j = 0; j < fit.p; j++)
    g_assert_cmpfloat_with_epsilon (fit.coefficient[j], calc_table_number (equations, names[j], row), tolerance);
  g_assert_cmpfloat_with_epsilon (fit.r_squared, r_squared, 0.00051);
  wb_calc_linear_clear (&fit);
}

/*
 * The tyre tread example of the NIST/SEMATECH e-Handbook, 5.5.3.2.2: its printed
 * equations and R2 from its printed runs, to their last digit or one off; but y2's
 * x2 squared, where it prints -124.92 and least squares gives -124.82.
 */
static void
test_handbook_surfaces (void)
{
  g_autoptr (CalcTable) runs = calc_table_load ("tire_tread_data");
  g_autoptr (CalcTable) equations = calc_table_load ("equations_nist_published");
  g_autoptr (CalcTable) optimum = calc_table_load ("optimum_certified");

  check_surface (runs, "x3_sulfur_nist_handbook", "y1_pico_abrasion", 9, equations, 0, 0.011,
                 calc_table_certified (optimum, "nist_published_r2_y1"));
  check_surface (runs, "x3_sulfur_nist_handbook", "y2_modulus200", 9, equations, 1, 0.11,
                 calc_table_certified (optimum, "nist_published_r2_y2"));
  check_surface (runs, "x3_sulfur_nist_handbook", "y3_elongation", 3, equations, 2, 0.011,
                 calc_table_certified (optimum, "nist_published_r2_y3_linear"));
  check_surface (runs, "x3_sulfur_nist_handbook", "y4_hardness", 9, equations, 3, 0.011,
                 calc_table_certified (optimum, "nist_published_r2_y4"));
}

/* Digits: of coefficients, then of the rest. Plain QR in doubles reaches 11.9 for Norris' intercept, a difference of means 4,000 times its size; refined, 14. */
static void
test_norris (void)
{
  check_nist ("norris", 1, true, 13.5, 13.5);
}

static void
test_noint1 (void)
{
  check_nist ("noint1", 1, false, 14, 13.5);
}

static void
test_longley (void)
{
  check_nist ("longley", 6, true, 13.5, 14);
}

/* Intervals of the Norris line by R's predict. */
static void
test_intervals (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("norris_data");
  g_autoptr (CalcTable) derived = calc_table_load ("norris_derived");
  g_autofree double *x = calc_table_numbers (data, "x");
  g_autofree double *y = calc_table_numbers (data, "y");
  WbCalcLinear fit;

  g_assert_cmpint (wb_calc_linear_fit (x, y, NULL, calc_table_n_rows (data), 1, true, &fit), ==, WB_CALC_OK);
  calc_assert_digits ("covariance", fit.covariance[1], calc_table_certified (derived, "norris;cov_B0_B1"), 8);
  for (int at = 0; at <= 1000; at += 500)
    {
      double row = at;
      WbCalcLinearPrediction prediction;
      g_autofree char *line = g_strdup_printf ("norris;fit_at_x=%d", at);
      g_autofree char *low = g_strdup_printf ("norris;ci95_lo_at_x=%d", at);
      g_autofree char *new_low = g_strdup_printf ("norris;pi95_lo_at_x=%d", at);
      g_autofree char *new_high = g_strdup_printf ("norris;pi95_hi_at_x=%d", at);

      g_assert_cmpint (wb_calc_linear_predict (&fit, &row, 0.95, &prediction), ==, WB_CALC_OK);
      calc_assert_digits (line, prediction.value, calc_table_certified (derived, line), 8);
      calc_assert_digits (line, prediction.sd, calc_table_certified_sd (derived, line), 8);
      calc_assert_digits (low, prediction.low, calc_table_certified (derived, low), 8);
      calc_assert_digits (new_low, prediction.new_low, calc_table_certified (derived, new_low), 8);
      calc_assert_digits (new_high, prediction.new_high, calc_table_certified (derived, new_high), 8);
    }
  wb_calc_linear_clear (&fit);
}

/* A weight of 3 is the observation three times, but for the degrees of freedom. */
static void
test_weights (void)
{
  double x[] = { 1, 2, 3, 4, 5 };
  double y[] = { 2.1, 3.9, 6.2, 7.8, 10.1 };
  double weights[] = { 1, 3, 1, 1, 2 };
  double repeated_x[] = { 1, 2, 2, 2, 3, 4, 5, 5 };
  double repeated_y[] = { 2.1, 3.9, 3.9, 3.9, 6.2, 7.8, 10.1, 10.1 };
  WbCalcLinear weighted;
  WbCalcLinear repeated;

  g_assert_cmpint (wb_calc_linear_fit (x, y, weights, 5, 1, true, &weighted), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_linear_fit (repeated_x, repeated_y, NULL, 8, 1, true, &repeated), ==, WB_CALC_OK);
  for (gsize j = 0; j < 2; j++)
    calc_assert_digits ("coefficient", weighted.coefficient[j], repeated.coefficient[j], 12);
  calc_assert_digits ("rss", weighted.residual_sum_sq, repeated.residual_sum_sq, 11);
  g_assert_cmpuint (weighted.residual_df, ==, 3);
  wb_calc_linear_clear (&weighted);
  wb_calc_linear_clear (&repeated);
}

/* The eight schools as one: mean by inverse variance and Cochran's Q, which is the residual sum of squares. Closed form. */
static void
test_weighted_mean (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("eight_schools_data");
  g_autoptr (CalcTable) certified = calc_table_load ("eight_schools_certified");
  g_autofree double *y = calc_table_numbers (data, "y");
  g_autofree double *weights = calc_table_numbers (data, "sigma");
  WbCalcLinear fit;

  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    weights[i] = 1.0 / (weights[i] * weights[i]);
  g_assert_cmpint (wb_calc_linear_fit (NULL, y, weights, calc_table_n_rows (data), 0, true, &fit), ==, WB_CALC_OK);
  calc_assert_digits ("mean", fit.coefficient[0], calc_table_certified (certified, "fixed_effect_mean"), 11);
  /* The errors are known: s^2 is 1, and not what the residuals make of it. */
  calc_assert_digits ("sd", wb_calc_linear_coefficient_sd (&fit, 0) / fit.residual_sd,
                      calc_table_certified_sd (certified, "fixed_effect_mean"), 11);
  calc_assert_digits ("Q", fit.residual_sum_sq, calc_table_certified (certified, "cochran_Q"), 11);
  wb_calc_linear_clear (&fit);
}

static void
test_edges (void)
{
  double x[] = { 1, 1, 2, 2, 3, 3, 4, 4 };
  double y[] = { 1, 2, 3, 5 };
  double equal[] = { 7, 7, 7, 7 };
  double bad[] = { 1, 2, NAN, 5 };
  double weights[] = { 1, 1, 0, 1 };
  WbCalcLinear fit;
  WbCalcLinearPrediction prediction;

  g_assert_cmpint (wb_calc_linear_fit (x, y, NULL, 0, 1, true, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_linear_fit (x, y, NULL, 1, 1, true, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_linear_fit (x, y, NULL, 2, 1, true, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_linear_fit (x, bad, NULL, 4, 1, true, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_linear_fit (bad, y, NULL, 4, 1, true, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_linear_fit (x, y, weights, 4, 1, true, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_linear_fit (NULL, y, NULL, 4, 0, false, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_linear_fit (equal, y, NULL, 4, 1, true, &fit), ==, WB_CALC_UNIDENTIFIED);
  /* Two columns that are the same. */
  g_assert_cmpint (wb_calc_linear_fit (x, y, NULL, 4, 2, true, &fit), ==, WB_CALC_UNIDENTIFIED);
  g_assert_null (fit.coefficient);

  /* The intercept alone is the mean. */
  g_assert_cmpint (wb_calc_linear_fit (NULL, y, NULL, 4, 0, true, &fit), ==, WB_CALC_OK);
  g_assert_cmpfloat (fit.coefficient[0], ==, 2.75);
  calc_assert_digits ("sd of the mean", wb_calc_linear_coefficient_sd (&fit, 0), sqrt (8.75 / 3.0 / 4.0), 14);
  g_assert_true (isnan (fit.f));
  g_assert_cmpint (wb_calc_linear_predict (&fit, NULL, 1.5, &prediction), ==, WB_CALC_BAD_INPUT);
  wb_calc_linear_clear (&fit);

  /* All equal: a flat line, nothing explained. */
  g_assert_cmpint (wb_calc_linear_fit (y, equal, NULL, 4, 1, true, &fit), ==, WB_CALC_OK);
  g_assert_cmpfloat (fit.coefficient[0], ==, 7.0);
  g_assert_cmpfloat (fit.coefficient[1], ==, 0.0);
  g_assert_true (isnan (fit.r_squared));
  wb_calc_linear_clear (&fit);
  wb_calc_linear_clear (&fit);
}

/* Huge scale and shift: the slope scales, the fit does not change. */
static void
test_scale (void)
{
  double x[] = { 1, 2, 3, 5, 8 };
  double y[] = { 1.2, 1.9, 3.4, 4.9, 8.2 };
  double big_x[5];
  double big_y[5];
  WbCalcLinear plain;
  WbCalcLinear big;

  for (gsize i = 0; i < 5; i++)
    {
      big_x[i] = 1e150 * x[i];
      big_y[i] = 1e-100 * y[i];
    }
  g_assert_cmpint (wb_calc_linear_fit (x, y, NULL, 5, 1, true, &plain), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_linear_fit (big_x, big_y, NULL, 5, 1, true, &big), ==, WB_CALC_OK);
  calc_assert_digits ("slope", big.coefficient[1] * 1e250, plain.coefficient[1], 12);
  calc_assert_digits ("F", big.f, plain.f, 11);
  wb_calc_linear_clear (&plain);
  wb_calc_linear_clear (&big);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/linear/nist-norris", test_norris);
  g_test_add_func ("/calc/linear/the-handbook-surfaces-come-out", test_handbook_surfaces);
  g_test_add_func ("/calc/linear/nist-noint1-through-the-origin", test_noint1);
  g_test_add_func ("/calc/linear/nist-longley", test_longley);
  g_test_add_func ("/calc/linear/intervals-of-the-norris-line", test_intervals);
  g_test_add_func ("/calc/linear/a-weight-repeats-its-observation", test_weights);
  g_test_add_func ("/calc/linear/weights-are-inverse-variances", test_weighted_mean);
  g_test_add_func ("/calc/linear/few-equal-and-bad-data-are-told", test_edges);
  g_test_add_func ("/calc/linear/scale-carries-over", test_scale);
  return g_test_run ();
}
