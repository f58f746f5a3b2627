/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ridge.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

/* Numbers and fractions such as 1/100. */
static double
prior_number (const CalcTable *prior,
              const char      *parameter)
{
  for (gsize i = 0; i < calc_table_n_rows (prior); i++)
    if (g_str_equal (calc_table_text (prior, "parameter", i), parameter))
      {
        g_auto (GStrv) parts = g_strsplit (calc_table_text (prior, "value", i), "/", 2);
        double value = g_ascii_strtod (parts[0], NULL);

        return parts[1] == NULL ? value : value / g_ascii_strtod (parts[1], NULL);
      }
  g_error ("no %s", parameter);
}

/* A line with the intercept as a column of ones. */
static WbCalcRidge
fit_line (const CalcTable *data,
          const CalcTable *prior_table)
{
  gsize n = calc_table_n_rows (data);
  g_autofree double *x = g_new (double, 2 * n);
  g_autofree double *y = calc_table_numbers (data, "y");
  double mean[] = { prior_number (prior_table, "mu_0[0]"), prior_number (prior_table, "mu_0[1]") };
  double precision[] = {
    prior_number (prior_table, "Lambda_0[0;0]"),
    prior_number (prior_table, "Lambda_0[0;1]"),
    prior_number (prior_table, "Lambda_0[1;0]"),
    prior_number (prior_table, "Lambda_0[1;1]"),
  };
  WbCalcRidgePrior prior = { mean, precision, prior_number (prior_table, "a_0"), prior_number (prior_table, "b_0") };
  WbCalcRidge fit;

  for (gsize i = 0; i < n; i++)
    {
      x[2 * i] = 1.0;
      x[2 * i + 1] = calc_table_number (data, "x", i);
    }
  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, n, 2, &prior, &fit), ==, WB_CALC_OK);
  return fit;
}

/* Conjugate updates in exact rationals; evidence confirmed by numerical integration. */
static void
check_exact (const char *stem,
             double      digits)
{
  g_autofree char *data_stem = g_strconcat (stem, "_data", NULL);
  g_autofree char *prior_stem = g_strconcat (stem, "_prior", NULL);
  g_autofree char *certified_stem = g_strconcat (stem, "_certified", NULL);
  g_autoptr (CalcTable) data = calc_table_load (data_stem);
  g_autoptr (CalcTable) prior = calc_table_load (prior_stem);
  g_autoptr (CalcTable) certified = calc_table_load (certified_stem);
  WbCalcRidge fit = fit_line (data, prior);

  for (gsize j = 0; j < 2; j++)
    {
      g_autofree char *mean = g_strdup_printf ("mu_n[%" G_GSIZE_FORMAT "]", j);
      g_autofree char *scale = g_strdup_printf ("beta[%" G_GSIZE_FORMAT "]_t_scale", j);
      g_autofree char *low = g_strdup_printf ("beta[%" G_GSIZE_FORMAT "]_ci95_lo", j);

      calc_assert_digits (mean, fit.mean[j], calc_table_certified (certified, mean), digits);
      calc_assert_digits (scale, wb_calc_ridge_coefficient_scale (&fit, j), calc_table_certified (certified, scale), digits);
      calc_assert_digits (low,
                          fit.mean[j] - gsl_cdf_tdist_Pinv (0.975, 2.0 * fit.a) * wb_calc_ridge_coefficient_scale (&fit, j),
                          calc_table_certified (certified, low),
                          10);
      for (gsize k = 0; k < 2; k++)
        {
          g_autofree char *precision = g_strdup_printf ("Lambda_n[%" G_GSIZE_FORMAT ";%" G_GSIZE_FORMAT "]", j, k);

          calc_assert_digits (precision, fit.precision[j * 2 + k], calc_table_certified (certified, precision), 14);
        }
    }
  g_assert_cmpfloat (fit.a, ==, calc_table_certified (certified, "a_n"));
  calc_assert_digits ("b_n", fit.b, calc_table_certified (certified, "b_n"), digits);
  calc_assert_digits ("evidence", fit.log_marginal, calc_table_certified (certified, "log_marginal_likelihood"), 12);
  wb_calc_ridge_clear (&fit);
}

static void
test_hand (void)
{
  check_exact ("nig_hand", 13);
}

static void
test_norris (void)
{
  check_exact ("nig_norris", 11);
}

static void
test_prediction (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("nig_hand_data");
  g_autoptr (CalcTable) prior = calc_table_load ("nig_hand_prior");
  g_autoptr (CalcTable) certified = calc_table_load ("nig_hand_certified");
  WbCalcRidge fit = fit_line (data, prior);
  WbCalcRidgePrediction prediction;
  double row[] = { 1.0, 5.0 };
  double bad[] = { 1.0, NAN };

  g_assert_cmpint (wb_calc_ridge_predict (&fit, row, &prediction), ==, WB_CALC_OK);
  calc_assert_digits ("mean", prediction.mean, calc_table_certified (certified, "predict[1;5]_mean"), 13);
  calc_assert_digits ("new", prediction.scale_new, calc_table_certified (certified, "predict[1;5]_t_scale_new_obs"), 13);
  calc_assert_digits ("line", prediction.scale_mean, calc_table_certified (certified, "predict[1;5]_t_scale_mean"), 13);
  g_assert_cmpfloat (prediction.df, ==, calc_table_certified (certified, "t_df"));
  g_assert_cmpfloat_with_epsilon (
      wb_calc_ridge_prediction_below (&prediction, calc_table_certified (certified, "predict[1;5]_pi95_lo")), 0.025, 1e-10);
  g_assert_cmpfloat_with_epsilon (
      wb_calc_ridge_prediction_below (&prediction, calc_table_certified (certified, "predict[1;5]_pi95_hi")), 0.975, 1e-10);
  g_assert_cmpfloat (wb_calc_ridge_prediction_below (&prediction, INFINITY), ==, 1.0);
  g_assert_cmpfloat (wb_calc_ridge_prediction_below (&prediction, -INFINITY), ==, 0.0);
  g_assert_cmpint (wb_calc_ridge_predict (&fit, bad, &prediction), ==, WB_CALC_BAD_INPUT);
  wb_calc_ridge_clear (&fit);
}

/* Learning from the rows in two helpings, or in another order, ends in the same place; the evidences multiply. */
static void
test_in_two_helpings (void)
{
  double x[] = { 1, 0, 1, 1, 1, 2, 1, 3, 1, 4 };
  double y[] = { 1, 3, 2, 5, 4 };
  double mean[] = { 0, 0 };
  double precision[] = { 1, 0.25, 0.25, 1 };
  WbCalcRidgePrior prior = { mean, precision, 2.0, 1.0 };
  WbCalcRidge whole, first, second;

  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 5, 2, &prior, &whole), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_ridge_fit (x + 4, y + 2, NULL, 3, 2, &prior, &first), ==, WB_CALC_OK);

  WbCalcRidgePrior learnt = { first.mean, first.precision, first.a, first.b };

  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 2, 2, &learnt, &second), ==, WB_CALC_OK);
  for (gsize j = 0; j < 2; j++)
    calc_assert_digits ("mean", second.mean[j], whole.mean[j], 12);
  calc_assert_digits ("b", second.b, whole.b, 12);
  calc_assert_digits ("evidence", first.log_marginal + second.log_marginal, whole.log_marginal, 12);
  wb_calc_ridge_clear (&whole);
  wb_calc_ridge_clear (&first);
  wb_calc_ridge_clear (&second);
}

/* A flat prior on the coefficients gives least squares; a weight of two is the row twice, but for n. */
static void
test_flat_and_weights (void)
{
  double x[] = { 1, 1, 1, 2, 1, 3, 1, 4 };
  double y[] = { 2.0, 3.0, 5.0, 6.0 };
  double weights[] = { 1, 1, 2, 1 };
  double twice_x[] = { 1, 1, 1, 2, 1, 3, 1, 3, 1, 4 };
  double twice_y[] = { 2.0, 3.0, 5.0, 5.0, 6.0 };
  double mean[] = { 0, 0 };
  double flat[] = { 0, 0, 0, 0 };
  WbCalcRidgePrior prior = { mean, flat, 1.0, 1.0 };
  WbCalcRidge fit, twice;

  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 4, 2, &prior, &fit), ==, WB_CALC_OK);
  /* By hand: slope 7 / 5, intercept 4 - 2.5 * 1.4. */
  calc_assert_digits ("slope", fit.mean[1], 1.4, 13);
  calc_assert_digits ("intercept", fit.mean[0], 0.5, 12);
  g_assert_true (isnan (fit.log_marginal));
  wb_calc_ridge_clear (&fit);

  g_assert_cmpint (wb_calc_ridge_fit (x, y, weights, 4, 2, &prior, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_ridge_fit (twice_x, twice_y, NULL, 5, 2, &prior, &twice), ==, WB_CALC_OK);
  calc_assert_digits ("slope", fit.mean[1], twice.mean[1], 12);
  calc_assert_digits ("b", fit.b, twice.b, 12);
  wb_calc_ridge_clear (&fit);
  wb_calc_ridge_clear (&twice);
}

static void
test_edges (void)
{
  double x[] = { 1, 2, 1, 2, 1, 2 };
  double y[] = { 1, 2, 3 };
  double bad_y[] = { 1, NAN, 3 };
  double zero_weight[] = { 1, 0, 1 };
  double mean[] = { 0.5, -1.0 };
  double good[] = { 1, 0, 0, 2 };
  double flat[] = { 0, 0, 0, 0 };
  double negative[] = { 1, 0, 0, -1 };
  double lopsided[] = { 1, 0.5, 0, 1 };
  WbCalcRidgePrior prior = { mean, good, 3.0, 2.0 };
  WbCalcRidge fit;

  /* No data: the prior. */
  g_assert_cmpint (wb_calc_ridge_fit (NULL, NULL, NULL, 0, 2, &prior, &fit), ==, WB_CALC_OK);
  calc_assert_digits ("mean", fit.mean[0], 0.5, 14);
  g_assert_cmpfloat (fit.a, ==, 3.0);
  calc_assert_digits ("b", fit.b, 2.0, 14);
  calc_assert_digits ("evidence of nothing", fit.log_marginal, 0.0, 13);
  wb_calc_ridge_clear (&fit);

  g_assert_cmpint (wb_calc_ridge_fit (x, bad_y, NULL, 3, 2, &prior, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_ridge_fit (x, y, zero_weight, 3, 2, &prior, &fit), ==, WB_CALC_BAD_INPUT);
  prior.precision = negative;
  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 3, 2, &prior, &fit), ==, WB_CALC_BAD_INPUT);
  prior.precision = lopsided;
  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 3, 2, &prior, &fit), ==, WB_CALC_BAD_INPUT);
  /* Three times the same row under a flat prior leaves a direction open. */
  prior.precision = flat;
  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 3, 2, &prior, &fit), ==, WB_CALC_UNIDENTIFIED);
  g_assert_null (fit.mean);
  prior.precision = good;
  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 3, 2, &prior, &fit), ==, WB_CALC_OK);
  wb_calc_ridge_clear (&fit);
  prior.b = 0.0;
  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 3, 2, &prior, &fit), ==, WB_CALC_BAD_INPUT);
  prior.b = 2.0;
  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 3, 0, &prior, &fit), ==, WB_CALC_BAD_INPUT);
}

/*
 * Rubin's eight schools with the spread between them held at `tau`: known errors are weights,
 * schools are deviations from a flat mean. Closed form. What the fit calls s2 is 1 here.
 */
static void
check_schools (const CalcTable *data,
               const CalcTable *certified,
               const char      *tau_text)
{
  double tau = g_ascii_strtod (tau_text, NULL);
  gsize n = calc_table_n_rows (data);
  gsize p = n + 1;
  g_autofree double *x = g_new0 (double, n * p);
  g_autofree double *y = calc_table_numbers (data, "y");
  g_autofree double *weights = g_new (double, n);
  g_autofree double *mean = g_new0 (double, p);
  g_autofree double *precision = g_new0 (double, p * p);
  g_autofree char *mu = g_strdup_printf ("fixed_tau=%s;flat_mu;mu_hat", tau_text);
  WbCalcRidgePrior prior = { mean, precision, 1.0, 1.0 };
  WbCalcRidge fit;

  for (gsize i = 0; i < n; i++)
    {
      double sigma = calc_table_number (data, "sigma", i);

      weights[i] = 1.0 / (sigma * sigma);
      x[i * p] = x[i * p + i + 1] = 1.0;
      precision[(i + 1) * p + i + 1] = 1.0 / (tau * tau);
    }
  g_assert_cmpint (wb_calc_ridge_fit (x, y, weights, n, p, &prior, &fit), ==, WB_CALC_OK);
  calc_assert_digits (mu, fit.mean[0], calc_table_certified (certified, mu), 11);
  calc_assert_digits (mu, sqrt (fit.covariance[0]), calc_table_certified_sd (certified, mu), 11);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *name = g_strdup_printf ("fixed_tau=%s;flat_mu;theta_mean[%s]", tau_text, calc_table_text (data, "school", i));
      double variance = fit.covariance[0] + 2.0 * fit.covariance[i + 1] + fit.covariance[(i + 1) * p + i + 1];

      calc_assert_digits (name, fit.mean[0] + fit.mean[i + 1], calc_table_certified (certified, name), 11);
      calc_assert_digits (name, sqrt (variance), calc_table_certified_sd (certified, name), 11);
    }
  wb_calc_ridge_clear (&fit);
}

static void
test_schools (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("eight_schools_data");
  g_autoptr (CalcTable) certified = calc_table_load ("eight_schools_certified");

  check_schools (data, certified, "5");
  check_schools (data, certified, "10");
}

/* root root' gives the covariance back. */
static void
test_root (void)
{
  const double x[] = { 1, 0, 1, 1, 1, 2, 1, 5 }, y[] = { 1, 2, 2, 6 };
  const double mean[] = { 0, 0 }, precision[] = { 0.1, 0.02, 0.02, 0.3 };
  WbCalcRidgePrior prior = { mean, precision, 2, 1 };
  WbCalcRidge fit;
  double root[4];

  g_assert_cmpint (wb_calc_ridge_fit (x, y, NULL, 4, 2, &prior, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_ridge_root (&fit, root), ==, WB_CALC_OK);
  g_assert_cmpfloat (root[1], ==, 0);
  for (int i = 0; i < 2; i++)
    for (int j = 0; j < 2; j++)
      g_assert_cmpfloat_with_epsilon (root[2 * i] * root[2 * j] + root[2 * i + 1] * root[2 * j + 1],
                                      fit.covariance[2 * i + j], 1e-12);
  fit.covariance[0] = 0;
  g_assert_cmpint (wb_calc_ridge_root (&fit, root), ==, WB_CALC_UNIDENTIFIED);
  wb_calc_ridge_clear (&fit);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/ridge/the-hand-example-in-fractions", test_hand);
  g_test_add_func ("/calc/ridge/norris-with-a-prior", test_norris);
  g_test_add_func ("/calc/ridge/eight-schools-are-pooled-partially", test_schools);
  g_test_add_func ("/calc/ridge/predictions-follow-t", test_prediction);
  g_test_add_func ("/calc/ridge/two-helpings-teach-as-much-as-one", test_in_two_helpings);
  g_test_add_func ("/calc/ridge/a-flat-prior-is-least-squares", test_flat_and_weights);
  g_test_add_func ("/calc/ridge/the-root-gives-the-covariance-back", test_root);
  g_test_add_func ("/calc/ridge/nothing-singular-and-bad-input-are-told", test_edges);
  return g_test_run ();
}
