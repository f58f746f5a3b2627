/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-compare.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

/* The mpmath reference of scipy's own tests: 72 points. */
static void
test_cdf (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("studentized_range_cdf");

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      double q = calc_table_number (table, "q", i);
      gsize k = (gsize) calc_table_number (table, "k", i);
      double df = calc_table_number (table, "df", i);
      double expected = calc_table_number (table, "cdf", i);
      g_autofree char *name = g_strdup_printf ("q=%g k=%" G_GSIZE_FORMAT " df=%g", q, k, df);
      double p, tail;

      g_assert_cmpint (wb_calc_compare_studentized_range (q, k, df, &p), ==, WB_CALC_OK);
      g_assert_cmpfloat_with_epsilon (p, expected, 1e-13);
      if (expected > 1e-13)
        calc_assert_digits (name, p, expected, 10.5);
      g_assert_cmpint (wb_calc_compare_studentized_range_tail (q, k, df, &tail), ==, WB_CALC_OK);
      g_assert_cmpfloat_with_epsilon (p + tail, 1.0, 1e-12);
    }
}

static void
test_quantiles (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("studentized_range_quantiles");

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      gsize k = (gsize) calc_table_number (table, "k", i);
      double df = g_str_equal (calc_table_text (table, "df", i), "inf") ? INFINITY : calc_table_number (table, "df", i);
      double p = calc_table_number (table, "p", i);
      g_autofree char *name = g_strdup_printf ("p=%g k=%" G_GSIZE_FORMAT " df=%g", p, k, df);
      double q;

      g_assert_cmpint (wb_calc_compare_studentized_range_quantile (p, k, df, &q), ==, WB_CALC_OK);
      calc_assert_digits (name, q, calc_table_number (table, "q", i), 9);
    }
}

/* Two means: the range is sqrt (2) |t|, far into either tail. */
static void
test_two_means (void)
{
  for (double df = 1.0; df < 2000.0; df *= 3.0)
    for (double t = 1e-6; t < 1e4; t *= 7.0)
      {
        g_autofree char *name = g_strdup_printf ("t=%g df=%g", t, df);
        double expected = 2.0 * gsl_cdf_tdist_Q (t, df);
        double p, tail;

        g_assert_cmpint (wb_calc_compare_studentized_range (G_SQRT2 * t, 2, df, &p), ==, WB_CALC_OK);
        g_assert_cmpint (wb_calc_compare_studentized_range_tail (G_SQRT2 * t, 2, df, &tail), ==, WB_CALC_OK);
        g_assert_cmpfloat_with_epsilon (p, 1.0 - expected, 1e-11);
        if (expected > 1e-13)
          calc_assert_digits (name, tail, expected, 9);
      }
}

static void
test_round_trip (void)
{
  static const double probabilities[] = { 1e-6, 0.01, 0.3, 0.5, 0.7, 0.999, 1.0 - 1e-9 };

  for (gsize i = 0; i < G_N_ELEMENTS (probabilities); i++)
    for (gsize k = 2; k < 200; k = k * 3 + 1)
      {
        double q, p;

        g_assert_cmpint (wb_calc_compare_studentized_range_quantile (probabilities[i], k, 7.5, &q), ==, WB_CALC_OK);
        g_assert_cmpint (wb_calc_compare_studentized_range (q, k, 7.5, &p), ==, WB_CALC_OK);
        g_assert_cmpfloat_with_epsilon (p, probabilities[i], 1e-11);
      }
}

static void
test_domain (void)
{
  double p = 0.5;

  g_assert_cmpint (wb_calc_compare_studentized_range (-1.0, 3, 5, &p), ==, WB_CALC_OK);
  g_assert_cmpfloat (p, ==, 0.0);
  g_assert_cmpint (wb_calc_compare_studentized_range (INFINITY, 3, 5, &p), ==, WB_CALC_OK);
  g_assert_cmpfloat (p, ==, 1.0);
  g_assert_cmpint (wb_calc_compare_studentized_range_tail (INFINITY, 3, 5, &p), ==, WB_CALC_OK);
  g_assert_cmpfloat (p, ==, 0.0);
  g_assert_cmpint (wb_calc_compare_studentized_range (NAN, 3, 5, &p), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_studentized_range (3, 1, 5, &p), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_studentized_range (3, 3, 0.5, &p), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_studentized_range (3, 3, NAN, &p), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_studentized_range (3, 100000, 5, &p), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_studentized_range_quantile (0.0, 3, 5, &p), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_compare_studentized_range_quantile (1.0, 3, 5, &p), ==, WB_CALC_BAD_INPUT);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/compare-range/the-distribution-agrees-with-mpmath", test_cdf);
  g_test_add_func ("/calc/compare-range/quantiles-agree-with-an-independent-quadrature", test_quantiles);
  g_test_add_func ("/calc/compare-range/two-means-are-students-t", test_two_means);
  g_test_add_func ("/calc/compare-range/a-quantile-has-its-probability", test_round_trip);
  g_test_add_func ("/calc/compare-range/outside-the-domain-is-refused", test_domain);
  return g_test_run ();
}
