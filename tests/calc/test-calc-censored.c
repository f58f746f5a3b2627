/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-censored.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_erf.h>

#include "calc-table.h"

typedef struct
{
  const double *x[2];
} Columns;

static double
linear_mean (const double *beta,
             size_t        i,
             double       *gradient,
             double       *curvature,
             void         *user)
{
  const Columns *columns = user;

  gradient[0] = 1.0;
  gradient[1] = columns->x[0][i];
  gradient[2] = columns->x[1][i];
  return beta[0] + beta[1] * gradient[1] + beta[2] * gradient[2];
}

/*
 * Tobin's durable goods, censored at 0 from below: R survival's survreg, equal to
 * the example printed in that package's documentation. Turned round, it is
 * censored from above.
 */
static void
test_tobin (void)
{
  static const char *const names[] = { "intercept", "age", "quant" };
  g_autoptr (CalcTable) data = calc_table_load ("tobin_data");
  g_autoptr (CalcTable) certified = calc_table_load ("tobin_certified");
  g_autofree double *y = calc_table_numbers (data, "durable");
  g_autofree double *age = calc_table_numbers (data, "age");
  g_autofree double *quant = calc_table_numbers (data, "quant");
  gsize n = calc_table_n_rows (data);
  g_autofree bool *censored = g_new0 (bool, n);
  Columns columns = { { age, quant } };
  double beta[3] = { 0.0, 0.0, 0.0 };
  WbCalcCensoredFit fit;

  for (gsize i = 0; i < n; i++)
    {
      censored[i] = y[i] <= 0.0;
      y[i] = -y[i];
    }
  g_assert_cmpint (wb_calc_censored_fit (y, censored, n, 3, linear_mean, &columns, beta, 5.0, &fit), ==, WB_CALC_OK);
  for (gsize j = 0; j < 3; j++)
    {
      calc_assert_digits (names[j], -beta[j], calc_table_certified (certified, names[j]), 7);
      calc_assert_digits (names[j],
                          sqrt (fit.covariance[j * 4 + j]),
                          calc_table_certified_sd (certified, names[j]),
                          7);
    }
  calc_assert_digits ("log scale", fit.log_sigma, calc_table_certified (certified, "log_scale"), 7);
  calc_assert_digits ("log scale sd",
                      sqrt (fit.covariance[15]),
                      calc_table_certified_sd (certified, "log_scale"),
                      7);
  calc_assert_digits ("loglik", -fit.minus_loglik, calc_table_certified (certified, "loglik"), 9);
}

/* Derivatives against differences of the function itself, from far below the wall to far above. */
static void
test_derivatives (void)
{
  for (double mu = -40.0; mu <= 30.0; mu += 2.5)
    for (int censored = 0; censored < 2; censored++)
      {
        double h = 1e-4;
        WbCalcCensoredReading at = wb_calc_censored_reading (mu, 3.0, censored, 1.7);
        WbCalcCensoredReading low = wb_calc_censored_reading (mu - h, 3.0, censored, 1.7);
        WbCalcCensoredReading high = wb_calc_censored_reading (mu + h, 3.0, censored, 1.7);

        g_assert_true (isfinite (at.minus_loglik) && at.minus_loglik >= 0.0);
        g_assert_cmpfloat_with_epsilon (at.score, (high.minus_loglik - low.minus_loglik) / (2 * h), 1e-6);
        g_assert_cmpfloat_with_epsilon (at.weight, (high.score - low.score) / (2 * h), 1e-6);
      }
}

/* At a wall, z standard deviations from it: -ln Phi (z) and the hazard by GSL's functions, from where erfc vanishes to where it is 2. */
static void
test_against_gsl (void)
{
  for (double z = -45.0; z < 9.0; z += 0.37)
    {
      WbCalcCensoredReading reading = wb_calc_censored_reading (z, 0.0, true, 1.0);
      double hazard = gsl_sf_hazard (-z);
      double minus_log = M_LN2 - gsl_sf_log_erfc (-z * M_SQRT1_2);

      g_assert_cmpfloat_with_epsilon (reading.minus_loglik, minus_log, 1e-12 * (1.0 + minus_log));
      g_assert_cmpfloat_with_epsilon (reading.score, -hazard, 1e-12 * (1.0 + hazard));
      g_assert_cmpfloat_with_epsilon (reading.weight, hazard * (hazard + z), 1e-10 * (1.0 + hazard));
    }
}

static void
test_bad_input (void)
{
  double x[] = { 1, 2, 3, 4, 5 };
  double z[] = { 1, 0, 1, 0, 1 };
  double y[] = { 1.1, 2.0, 2.9, 4.2, 5.0 };
  double on_the_line[] = { 1, 2, 3, 4, 5 };
  bool all[] = { true, true, true, true, true };
  Columns columns = { { x, z } };
  double beta[3] = { 0 };
  WbCalcCensoredFit fit;

  g_assert_cmpint (wb_calc_censored_fit (y, NULL, 3, 3, linear_mean, &columns, beta, 1.0, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_censored_fit (y, NULL, 0, 3, linear_mean, &columns, beta, 1.0, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_censored_fit (y, all, 5, 3, linear_mean, &columns, beta, 1.0, &fit), ==, WB_CALC_ONLY_CENSORED);
  g_assert_cmpint (wb_calc_censored_fit (y, NULL, 5, 0, linear_mean, &columns, beta, 1.0, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_censored_fit (y, NULL, 5, 3, linear_mean, &columns, beta, 0.0, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_censored_fit (on_the_line, NULL, 5, 3, linear_mean, &columns, beta, 1.0, &fit), ==, WB_CALC_UNIDENTIFIED);
  y[2] = NAN;
  g_assert_cmpint (wb_calc_censored_fit (y, NULL, 5, 3, linear_mean, &columns, beta, 1.0, &fit), ==, WB_CALC_BAD_INPUT);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/censored/tobins-example-comes-out", test_tobin);
  g_test_add_func ("/calc/censored/derivatives-belong-to-the-likelihood", test_derivatives);
  g_test_add_func ("/calc/censored/readings-at-a-wall-agree-with-gsl", test_against_gsl);
  g_test_add_func ("/calc/censored/bad-input-is-refused", test_bad_input);
  return g_test_run ();
}
