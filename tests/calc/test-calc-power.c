/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-power.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

static double
power_of_f (double alpha,
            double df1,
            double df2,
            double lambda)
{
  double power = NAN;

  g_assert_cmpint (wb_calc_power_of_f (alpha, df1, df2, lambda, &power), ==, WB_CALC_OK);
  return power;
}

/* PlantGrowth with the effect that was seen, 10 a group: R's power.anova.test, to the 7 digits of the table. */
static void
test_plantgrowth (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("plantgrowth_certified");
  double lambda = calc_table_certified (certified, "ss[group]") / calc_table_certified (certified, "ms[Residuals]");

  calc_assert_digits ("power", power_of_f (0.05, 2, 27, lambda), calc_table_certified (certified, "power_n10_observed_effect"), 7);
}

/* R's pf with a noncentrality, whose sum stops at 1e-9. */
static void
test_noncentral_f (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("power_of_f");

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    g_assert_cmpfloat_with_epsilon (power_of_f (calc_table_number (table, "alpha", i), calc_table_number (table, "df1", i),
                                                calc_table_number (table, "df2", i), calc_table_number (table, "lambda", i)),
                                    calc_table_number (table, "power", i), 1e-8);
}

/* With one degree of freedom it is |Z + delta| > sqrt (F) s, integrated over ln s by the trapezoidal rule: another way, to 10 digits. */
static void
test_by_quadrature (void)
{
  for (double df = 3.0; df < 100.0; df *= 2.5)
    for (double delta = 0.25; delta < 8.0; delta *= 2.0)
      {
        double critical = sqrt (gsl_cdf_fdist_Qinv (0.05, 1.0, df));
        double mass = 0.0;
        double sum = 0.0;

        for (double u = -12.0; u < 3.0; u += 0.005)
          {
            double s = exp (u);
            double density = exp (df * (u - 0.5 * expm1 (2.0 * u)));

            mass += density;
            sum += density * (gsl_cdf_ugaussian_Q (critical * s - delta) + gsl_cdf_ugaussian_P (-critical * s - delta));
          }
        calc_assert_digits ("power", power_of_f (0.05, 1.0, df, delta * delta), sum / mass, 10);
      }
}

/* R: a loop over n with pf; two groups are its power.t.test (17 for a difference of one sd at 0.8). */
static void
test_samples (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("power_samples");

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      double sd = calc_table_number (table, "sd", i);
      double difference = calc_table_number (table, "difference", i);
      gsize k = (gsize) calc_table_number (table, "k", i);
      WbCalcPowerSamples samples, turned;

      g_assert_cmpint (wb_calc_power_samples (difference, sd, k, calc_table_number (table, "alpha", i), calc_table_number (table, "power", i), 1000, &samples), ==, WB_CALC_OK);
      g_assert_cmpfloat ((double) samples.n, ==, calc_table_number (table, "n", i));
      g_assert_cmpfloat_with_epsilon (samples.power, calc_table_number (table, "reached", i), 1e-8);
      /* Sign and unit do not count. */
      g_assert_cmpint (wb_calc_power_samples (-25.4 * difference, 25.4 * sd, k, calc_table_number (table, "alpha", i), calc_table_number (table, "power", i), 1000, &turned), ==, WB_CALC_OK);
      g_assert_cmpuint (turned.n, ==, samples.n);
    }
}

/* More of anything that helps never costs power; without an effect the power is alpha. */
static void
test_monotony (void)
{
  double last = 0.0;

  calc_assert_digits ("no effect", power_of_f (0.05, 3, 12, 0.0), 0.05, 12);
  for (double lambda = 0.0; lambda < 2e6; lambda = 1.7 * lambda + 0.5)
    {
      double power = power_of_f (0.05, 3, 12, lambda);

      g_assert_cmpfloat (power, >=, last - 1e-12);
      g_assert_cmpfloat (power, <=, 1.0);
      last = power;
    }
  g_assert_cmpfloat (last, ==, 1.0);
  g_assert_cmpfloat (power_of_f (0.05, 1, 40, 4.0), >, power_of_f (0.05, 1, 10, 4.0));
  g_assert_cmpfloat (power_of_f (0.10, 1, 10, 4.0), >, power_of_f (0.05, 1, 10, 4.0));
}

/* The critical F is found where GSL's inverse gives up, and the power goes on smoothly: it rises with the groups and ends below the normal's. */
static void
test_many_groups (void)
{
  double last = 0.0;
  WbCalcPowerSamples samples;

  for (double df = 10.0; df < 1e6; df *= 1.07)
    {
      double power = power_of_f (0.05, 1.0, df, 7.84);

      g_assert_cmpfloat (power, >, last);
      last = power;
    }
  /* z at 0.975 is 1.95996; delta 2.8 */
  g_assert_cmpfloat_with_epsilon (last, gsl_cdf_ugaussian_P (2.8 - 1.959963984540054), 1e-5);
  for (gsize k = 2; k < 400; k++)
    {
      g_assert_cmpint (wb_calc_power_samples (2.0, 2.4646, k, 0.05, 0.8, 1000, &samples), ==, WB_CALC_OK);
      g_assert_cmpuint (samples.n, >=, 24);
      g_assert_cmpuint (samples.n, <=, 25);
    }
}

static void
test_refusals (void)
{
  static const double bad[] = { NAN, INFINITY, -INFINITY, -1.0 };
  double power;
  WbCalcPowerSamples samples;

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_assert_cmpint (wb_calc_power_of_f (bad[i], 1, 5, 1, &power), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_power_of_f (0.05, bad[i], 5, 1, &power), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_power_of_f (0.05, 1, bad[i], 1, &power), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_power_of_f (0.05, 1, 5, bad[i], &power), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_power_samples (1, bad[i], 2, 0.05, 0.8, 100, &samples), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_power_samples (1, 1, 2, bad[i], 0.8, 100, &samples), ==, WB_CALC_BAD_INPUT);
      g_assert_cmpint (wb_calc_power_samples (1, 1, 2, 0.05, bad[i], 100, &samples), ==, WB_CALC_BAD_INPUT);
    }
  g_assert_cmpint (wb_calc_power_samples (NAN, 1, 2, 0.05, 0.8, 100, &samples), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_power_samples (0, 1, 2, 0.05, 0.8, 100, &samples), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_power_samples (1, 1, 1, 0.05, 0.8, 100, &samples), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_power_samples (1, 1, 2, 0.05, 0.8, 16, &samples), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_power_samples (1, 1, 2, 0.05, 0.8, 17, &samples), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_power_samples (1, 1, 2, 0.05, 0.8, 1, &samples), ==, WB_CALC_TOO_FEW);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/power/many-groups-have-an-answer", test_many_groups);
  g_test_add_func ("/calc/power/plant-growth-with-the-effect-seen", test_plantgrowth);
  g_test_add_func ("/calc/power/the-noncentral-f-agrees-with-r", test_noncentral_f);
  g_test_add_func ("/calc/power/one-degree-of-freedom-by-quadrature", test_by_quadrature);
  g_test_add_func ("/calc/power/samples-to-tell-two-groups-apart", test_samples);
  g_test_add_func ("/calc/power/more-never-costs-power", test_monotony);
  g_test_add_func ("/calc/power/what-makes-no-sense-is-refused", test_refusals);
  return g_test_run ();
}
