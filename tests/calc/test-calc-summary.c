/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-summary.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

/*
 * NIST Statistical Reference Datasets, univariate summary statistics. The digits
 * asked for NumAcc3 are what a careful sum in IEEE doubles can reach, for its data
 * are not exact in binary.
 */
static void
test_nist (void)
{
  static const struct
  {
    const char *stem;
    double mean_digits;
    double sd_digits;
    double autocorr_digits;
  } cases[] = {
    { "lew", 15, 14.9, 14.9 },
    { "mavro", 15, 13, 13.5 },
    { "numacc1", 15, 15, 15 },
    { "numacc3", 15, 9.45, 12.1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *data_stem = g_strconcat (cases[i].stem, "_data", NULL);
      g_autofree char *certified_stem = g_strconcat (cases[i].stem, "_certified", NULL);
      g_autoptr (CalcTable) data = calc_table_load (data_stem);
      g_autoptr (CalcTable) certified = calc_table_load (certified_stem);
      g_autofree double *y = calc_table_numbers (data, "y");
      WbCalcSummary summary;

      g_assert_cmpint (wb_calc_summary_of (y, calc_table_n_rows (data), &summary), ==, WB_CALC_OK);
      g_assert_cmpfloat ((double) summary.n, ==, calc_table_certified (certified, "n"));
      calc_assert_digits (data_stem, summary.mean, calc_table_certified (certified, "mean"), cases[i].mean_digits);
      calc_assert_digits (data_stem, summary.sd, calc_table_certified (certified, "sd"), cases[i].sd_digits);
      calc_assert_digits (data_stem,
                          summary.autocorr,
                          calc_table_certified (certified, "autocorr_lag1"),
                          cases[i].autocorr_digits);
    }
}

static void
test_edges (void)
{
  WbCalcSummary summary;
  double one[] = { 4.0 };
  double equal[] = { 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1 };
  double bad[] = { 1.0, NAN };
  double infinite[] = { 1.0, INFINITY };
  double huge[] = { 1e200, 3e200 };

  g_assert_cmpint (wb_calc_summary_of (NULL, 0, &summary), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_summary_of (bad, 2, &summary), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_summary_of (infinite, 2, &summary), ==, WB_CALC_BAD_INPUT);
  /* The squares leave the range of a double: no wrong sd may come out. */
  g_assert_cmpint (wb_calc_summary_of (huge, 2, &summary), ==, WB_CALC_BAD_INPUT);

  g_assert_cmpint (wb_calc_summary_of (one, 1, &summary), ==, WB_CALC_OK);
  g_assert_cmpfloat (summary.mean, ==, 4.0);
  g_assert_true (isnan (summary.sd));
  g_assert_true (isnan (summary.autocorr));

  g_assert_cmpint (wb_calc_summary_of (equal, 7, &summary), ==, WB_CALC_OK);
  g_assert_cmpfloat (summary.mean, ==, 0.1);
  g_assert_cmpfloat (summary.sd, ==, 0.0);
  g_assert_true (isnan (summary.autocorr));
}

static void
test_shift_and_scale (void)
{
  double x[] = { 3.0, 1.0, 4.0, 1.0, 5.0, 9.0, 2.0, 6.0 };
  double moved[G_N_ELEMENTS (x)];
  WbCalcSummary plain;
  WbCalcSummary other;

  for (gsize i = 0; i < G_N_ELEMENTS (x); i++)
    moved[i] = 4.0 * x[i] + 1048576.0;
  g_assert_cmpint (wb_calc_summary_of (x, G_N_ELEMENTS (x), &plain), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_summary_of (moved, G_N_ELEMENTS (x), &other), ==, WB_CALC_OK);
  calc_assert_digits ("mean", other.mean, 4.0 * plain.mean + 1048576.0, 15);
  calc_assert_digits ("sd", other.sd, 4.0 * plain.sd, 14);
  calc_assert_digits ("autocorrelation", other.autocorr, plain.autocorr, 13);
}

/* Hyndman and Fan's type 7: for 1..5, p = 0.4 lies at 1 + 4 * 0.4 = 2.6. */
static void
test_quantiles (void)
{
  double x[] = { 5.0, 1.0, 4.0, 2.0, 3.0 };
  double open[] = { INFINITY, 1.0, INFINITY, 2.0 };
  double p[] = { 0.0, 0.25, 0.4, 0.5, 1.0 };
  double q[5];
  double outside = 1.5;

  g_assert_cmpint (wb_calc_summary_quantiles (x, 5, p, 5, q), ==, WB_CALC_OK);
  g_assert_cmpfloat (q[0], ==, 1.0);
  g_assert_cmpfloat (q[1], ==, 2.0);
  g_assert_cmpfloat_with_epsilon (q[2], 2.6, 1e-15);
  g_assert_cmpfloat (q[3], ==, 3.0);
  g_assert_cmpfloat (q[4], ==, 5.0);
  g_assert_cmpfloat (x[0], ==, 5.0);

  g_assert_cmpint (wb_calc_summary_quantiles (open, 4, p, 5, q), ==, WB_CALC_OK);
  g_assert_cmpfloat (q[1], ==, 1.75);
  g_assert_true (isinf (q[3]) && isinf (q[4]));

  g_assert_cmpint (wb_calc_summary_quantiles (x, 1, p, 5, q), ==, WB_CALC_OK);
  g_assert_cmpfloat (q[0], ==, 5.0);
  g_assert_cmpfloat (q[4], ==, 5.0);
  g_assert_cmpint (wb_calc_summary_quantiles (x, 0, p, 5, q), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_summary_quantiles (x, 5, &outside, 1, q), ==, WB_CALC_BAD_INPUT);
  open[0] = NAN;
  g_assert_cmpint (wb_calc_summary_quantiles (open, 4, p, 5, q), ==, WB_CALC_BAD_INPUT);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/summary/nist-univariate-sets-agree", test_nist);
  g_test_add_func ("/calc/summary/few-equal-and-bad-values-are-told", test_edges);
  g_test_add_func ("/calc/summary/shift-and-scale-carry-over", test_shift_and_scale);
  g_test_add_func ("/calc/summary/quantiles-lie-between-order-statistics", test_quantiles);
  return g_test_run ();
}
