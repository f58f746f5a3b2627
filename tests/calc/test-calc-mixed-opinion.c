/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "wb-calc-quantile.h"

#define N 6
#define MEDIAN 0.05

/* One row a unit, one unit a block, read next to exactly: all of the spread is between units, and nothing tells how much it is. */
static WbCalcMixedContrast
believe (double factor)
{
  static const double y[N] = { 1.0, 2.0, 3.0, 4.0, 5.0, 6.0 };
  static const double variance[N] = { 1e-8, 1e-8, 1e-8, 1e-8, 1e-8, 1e-8 };
  static const double local[N] = { 1.0, 1.0, 1.0, 1.0, 1.0, 1.0 };
  static const size_t place[N] = { 0, 1, 2, 3, 4, 5 };
  const double weight = 1.0;
  WbCalcMixedSpread spreads[2] = { { .start = 1e-4, .held = true }, { .start = MEDIAN, .median = MEDIAN, .factor = factor } };
  WbCalcMixedColumn flat = { WB_CALC_MIXED_KNOWN, INFINITY };
  WbCalcMixedData data = {
    .n_rows = N, .y = y, .variance = variance, .unit = place, .block = place, .n_blocks = N,
    .n_local = 1, .local = local, .local_column = &flat, .n_spreads = 2, .spread = spreads,
  };
  WbCalcMixedTarget target = { 2, &weight, NULL };
  WbCalcMixedContrast contrast;
  WbCalcMixed *fit;

  g_assert_cmpint (wb_calc_mixed_fit (&data, NULL, NULL, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_mixed_contrast (fit, &target, &weight, 1, &contrast), ==, WB_CALC_OK);
  wb_calc_mixed_free (fit);
  return contrast;
}

/* Chance that a normal with a log-normal sd lies within `half`, by the midpoint rule. */
static double
chance_within (double half,
               double factor)
{
  double sum = 0.0, step = 0.01;

  for (double z = -8.0 + step / 2; z < 8.0; z += step)
    sum += step * exp (-z * z / 2) / sqrt (2 * G_PI) * (2 * wb_calc_normal_below (half / (MEDIAN * pow (factor, z))) - 1);
  return sum;
}

/* An interval that rests on an opinion alone holds as often as it says, if the opinion is right. */
static void
test_interval_of_an_opinion (void)
{
  static const double factors[] = { 1.2, 1.5, 2.0, 2.5 };

  for (size_t i = 0; i < G_N_ELEMENTS (factors); i++)
    {
      WbCalcMixedContrast contrast = believe (factors[i]);
      double half = wb_calc_student_quantile (0.95, contrast.df) * contrast.sd;

      g_assert_cmpfloat_with_epsilon (contrast.value, 3.0, 1e-9);
      g_assert_cmpfloat_with_epsilon (contrast.sd, MEDIAN, 0.01 * MEDIAN);
      g_assert_cmpfloat_with_epsilon (chance_within (half, factors[i]), 0.9, 0.005);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/mixed-opinion/an-interval-holds-as-often-as-it-says", test_interval_of_an_opinion);
  return g_test_run ();
}
