/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <math.h>

#include "calc-table.h"
#include "wb-calc-quantile.h"

/* NIST/SEMATECH e-Handbook of Statistical Methods, tables 1.3.6.7.1, .2 and .4 (from memory, to the digits printed there). */
static void
test_tables (void)
{
  const struct { double p, df, t; } student[] = {
    { 0.95, 1, 6.314 }, { 0.95, 2, 2.920 }, { 0.95, 5, 2.015 }, { 0.95, 10, 1.812 }, { 0.975, 30, 2.042 },
    { 0.95, INFINITY, 1.645 },
  };
  const struct { double p, df, x; } chisq[] = {
    { 0.95, 1, 3.841 }, { 0.95, 10, 18.307 }, { 0.05, 10, 3.940 }, { 0.99, 5, 15.086 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (student); i++)
    g_assert_cmpfloat_with_epsilon (wb_calc_student_quantile (student[i].p, student[i].df), student[i].t, 5.1e-4);
  for (guint i = 0; i < G_N_ELEMENTS (chisq); i++)
    g_assert_cmpfloat_with_epsilon (wb_calc_chisq_quantile (chisq[i].p, chisq[i].df), chisq[i].x, 5.1e-4);
  g_assert_cmpfloat_with_epsilon (wb_calc_normal_quantile (0.975), 1.959964, 1e-6);
  g_assert_cmpfloat_with_epsilon (wb_calc_normal_below (1.959964), 0.975, 1e-6);
}

/* mpmath, 40 digits. Reached: normal 14.8 digits, t 13 (1 degree of freedom at p = 0.9995, which as a double is off by 1e-13 of its tail), chi-square 14.3. */
static void
test_mpmath (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("distribution_quantiles");
  guint n = 0;

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      const char *distribution = calc_table_text (table, "distribution", i);
      double df = calc_table_number (table, "df1", i);
      double p = calc_table_number (table, "p", i);
      double expected = calc_table_number (table, "quantile", i);
      g_autofree char *name = g_strdup_printf ("%s df=%g p=%g", distribution, df, p);

      /* F enters by its tail only: see the analysis of variance. */
      if (g_str_equal (distribution, "F"))
        continue;
      n++;
      if (g_str_equal (distribution, "normal"))
        calc_assert_digits (name, wb_calc_normal_quantile (p), expected, 14.5);
      else if (g_str_equal (distribution, "t"))
        calc_assert_digits (name, wb_calc_student_quantile (p, df), expected, 12.9);
      else
        calc_assert_digits (name, wb_calc_chisq_quantile (p, df), expected, 14);
    }
  g_assert_cmpuint (n, ==, 125);
}

/* The normal's far tail, by mpmath: what is small is small to all its digits. */
static void
test_tails (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("distribution_upper_tails");
  guint n = 0;

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    if (g_str_equal (calc_table_text (table, "distribution", i), "normal"))
      {
        double x = calc_table_number (table, "x", i);

        calc_assert_digits ("tail", wb_calc_normal_below (-x), calc_table_number (table, "upper_tail_p", i), 14);
        n++;
      }
  g_assert_cmpuint (n, ==, 3);
}

static void
test_quantile_undoes_chance (void)
{
  for (double p = 0.001; p < 1; p += 0.0173)
    {
      g_assert_cmpfloat_with_epsilon (wb_calc_normal_below (wb_calc_normal_quantile (p)), p, 1e-9);
      for (double df = 1; df < 200; df *= 3)
        g_assert_cmpfloat_with_epsilon (wb_calc_student_quantile (p, df), -wb_calc_student_quantile (1 - p, df), 1e-6);
    }
}

/* The two ways of the chi-square meet: its mean is df and its variance 2 df, nearly normal there. */
static void
test_large_degrees_of_freedom (void)
{
  for (double p = 0.01; p < 1; p += 0.07)
    g_assert_cmpfloat_with_epsilon (wb_calc_chisq_quantile (p, 9999.999) / wb_calc_chisq_quantile (p, 10000.001), 1, 2e-6);
  g_assert_cmpfloat_with_epsilon (wb_calc_chisq_quantile (0.5, 1e9) / 1e9, 1, 1e-8);
}

static void
test_outside_the_domain (void)
{
  const double bad_p[] = { 0, 1, -0.1, 1.1, NAN };

  for (guint i = 0; i < G_N_ELEMENTS (bad_p); i++)
    {
      g_assert_true (isnan (wb_calc_normal_quantile (bad_p[i])));
      g_assert_true (isnan (wb_calc_student_quantile (bad_p[i], 3)));
      g_assert_true (isnan (wb_calc_chisq_quantile (bad_p[i], 3)));
    }
  g_assert_true (isnan (wb_calc_student_quantile (0.5, 0)));
  g_assert_true (isnan (wb_calc_student_quantile (0.5, NAN)));
  g_assert_true (isnan (wb_calc_chisq_quantile (0.5, NAN)));
  g_assert_true (isnan (wb_calc_normal_below (NAN)));
  g_assert_cmpfloat (wb_calc_normal_below (-INFINITY), ==, 0);
  g_assert_true (isinf (wb_calc_chisq_quantile (0.5, INFINITY)));
}

/* Where GSL's own inverse of the gamma distribution gives up, as it does all over, the quantile is still the chance's. */
static void
test_chisq_where_gsl_gives_up (void)
{
  guint given_up = 0;

  for (double df = 0.2; df < 1e4; df *= 1.07)
    for (guint i = 1; i < 400; i++)
      {
        double p = i / 400.0, x = wb_calc_chisq_quantile (p, df);

        given_up += !isfinite (gsl_cdf_chisq_Pinv (p, df));
        g_assert_true (isfinite (x) && x > 0.0);
        g_assert_cmpfloat_with_epsilon (gsl_cdf_chisq_P (x, df) / p, 1.0, 1e-6);
      }
  g_assert_cmpuint (given_up, >, 0);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/quantile/tables-of-the-handbook", test_tables);
  g_test_add_func ("/calc/quantile/forty-digits-of-mpmath", test_mpmath);
  g_test_add_func ("/calc/quantile/the-far-tail-keeps-its-digits", test_tails);
  g_test_add_func ("/calc/quantile/a-quantile-undoes-the-chance", test_quantile_undoes_chance);
  g_test_add_func ("/calc/quantile/large-degrees-of-freedom", test_large_degrees_of_freedom);
  g_test_add_func ("/calc/quantile/outside-the-domain-is-nan", test_outside_the_domain);
  g_test_add_func ("/calc/quantile/where-gsl-gives-up", test_chisq_where_gsl_gives_up);
  return g_test_run ();
}
