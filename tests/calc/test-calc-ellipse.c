/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ellipse.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"

/* The direct fit in 50 digits; gander8 are the points of Gander, Golub and Strebel (1994), the others invented. */
static void
test_reference (void)
{
  static const struct
  {
    const char *stem;
    double digits;
    double theta_digits;
  } cases[] = { { "gander8", 10, 10 }, { "exact12", 8, 8 }, { "pool_full", 9, 9 }, { "near_circle", 9, 5 } };
  static const char *const letters[] = { "A", "B", "C", "D", "E", "F" };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *data_stem = g_strconcat (cases[i].stem, "_data", NULL);
      g_autofree char *certified_stem = g_strconcat (cases[i].stem, "_certified", NULL);
      g_autoptr (CalcTable) data = calc_table_load (data_stem);
      g_autoptr (CalcTable) certified = calc_table_load (certified_stem);
      g_autofree double *x = calc_table_numbers (data, "x");
      g_autofree double *y = calc_table_numbers (data, "y");
      WbCalcEllipse ellipse;

      g_assert_cmpint (wb_calc_ellipse_fit (x, y, calc_table_n_rows (data), &ellipse), ==, WB_CALC_OK);
      calc_assert_digits (data_stem, ellipse.centre_x, calc_table_certified (certified, "direct_ls_center_x"), cases[i].digits);
      calc_assert_digits (data_stem, ellipse.centre_y, calc_table_certified (certified, "direct_ls_center_y"), cases[i].digits);
      calc_assert_digits (data_stem, ellipse.semi_major, calc_table_certified (certified, "direct_ls_semi_major"), cases[i].digits);
      calc_assert_digits (data_stem, ellipse.semi_minor, calc_table_certified (certified, "direct_ls_semi_minor"), cases[i].digits);
      calc_assert_digits (data_stem, ellipse.theta, calc_table_certified (certified, "direct_ls_theta_rad"), cases[i].theta_digits);
      for (gsize k = 0; k < 6; k++)
        {
          g_autofree char *name = g_strconcat ("direct_ls_conic_", letters[k], NULL);

          calc_assert_digits (name, ellipse.conic[k], calc_table_certified (certified, name), cases[i].theta_digits);
        }
    }
}

/* An ellipse without noise is found again, wherever, however large and however turned. */
static void
test_invariance (void)
{
  static const double turns[] = { 0.0, 0.3, 1.2, 1.5707, 2.0, 3.1 };
  static const double scales[] = { 1e-250, 1e-6, 1.0, 1e6, 1e150 };

  for (gsize i = 0; i < G_N_ELEMENTS (turns); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (scales); j++)
      {
        double x[20], y[20];
        WbCalcEllipse ellipse;

        for (gsize k = 0; k < 20; k++)
          {
            double u = 3.0 * cos (0.31 * (double) k);
            double v = 2.0 * sin (0.31 * (double) k);

            x[k] = scales[j] * (50.0 + u * cos (turns[i]) - v * sin (turns[i]));
            y[k] = scales[j] * (-20.0 + u * sin (turns[i]) + v * cos (turns[i]));
          }
        g_assert_cmpint (wb_calc_ellipse_fit (x, y, 20, &ellipse), ==, WB_CALC_OK);
        for (gsize k = 0; k < 6; k++)
          g_assert_true (isfinite (ellipse.conic[k]));
        calc_assert_digits ("major", ellipse.semi_major, 3.0 * scales[j], 8);
        calc_assert_digits ("minor", ellipse.semi_minor, 2.0 * scales[j], 8);
        g_assert_true (ellipse.theta >= 0.0 && ellipse.theta < G_PI);
        /* 0 and pi are the same axis. */
        g_assert_cmpfloat_with_epsilon (remainder (ellipse.theta - turns[i], G_PI), 0.0, 1e-7);
      }
}

static void
test_refusals (void)
{
  double x[] = { 1, 2, 3, 4, 5, 6 };
  double line[] = { 2, 4, 6, 8, 10, 12 };
  double same[] = { 3, 3, 3, 3, 3, 3 };
  double bad[] = { 1, NAN, 3, 4, 5, 6 };
  WbCalcEllipse ellipse;

  g_assert_cmpint (wb_calc_ellipse_fit (x, line, 0, &ellipse), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_ellipse_fit (x, line, 4, &ellipse), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_ellipse_fit (x, line, 6, &ellipse), ==, WB_CALC_UNIDENTIFIED);
  g_assert_cmpint (wb_calc_ellipse_fit (same, same, 6, &ellipse), ==, WB_CALC_UNIDENTIFIED);
  g_assert_cmpint (wb_calc_ellipse_fit (x, bad, 6, &ellipse), ==, WB_CALC_BAD_INPUT);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/ellipse/the-direct-fit-agrees-with-fifty-digits", test_reference);
  g_test_add_func ("/calc/ellipse/shift-scale-and-turn-carry-over", test_invariance);
  g_test_add_func ("/calc/ellipse/lines-and-too-few-points-are-refused", test_refusals);
  return g_test_run ();
}
