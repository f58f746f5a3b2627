/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-desirability.h"

#include <math.h>

#include <glib.h>

#include "calc-table.h"

static WbCalcDesirability
shape_of_row (const CalcTable *table,
              gsize            row)
{
  const char *kind = calc_table_text (table, "kind", row);
  double low = calc_table_number (table, "low", row);
  double target = calc_table_number (table, "target", row);
  double high = calc_table_number (table, "high", row);
  double s = calc_table_number (table, "s", row);
  double t = calc_table_number (table, "t", row);

  if (g_str_equal (kind, "max"))
    return wb_calc_desirability_max (low, target, s);
  if (g_str_equal (kind, "min"))
    return wb_calc_desirability_min (target, high, s);
  g_assert_cmpstr (kind, ==, "target");
  return wb_calc_desirability_target (low, target, high, s, t);
}

/* Hand cases of the formulas in the NIST/SEMATECH e-Handbook, 5.5.3.2.2. */
static void
test_single (void)
{
  g_autoptr (CalcTable) cases = calc_table_load ("d_function_cases");

  for (gsize i = 0; i < calc_table_n_rows (cases); i++)
    {
      WbCalcDesirability shape = shape_of_row (cases, i);
      g_autofree char *name = g_strdup_printf ("row %" G_GSIZE_FORMAT, i + 1);
      double d = NAN;

      g_assert_cmpint (wb_calc_desirability_value (&shape, calc_table_number (cases, "y", i), &d), ==, WB_CALC_OK);
      calc_assert_digits (name, d, calc_table_number (cases, "d", i), 14);
    }
}

static gsize
parse_list (const char *text,
            double     *numbers)
{
  g_auto (GStrv) fields = g_strsplit (text, " ", -1);
  gsize n = g_strv_length (fields);

  for (gsize i = 0; i < n; i++)
    numbers[i] = g_ascii_strtod (fields[i], NULL);
  return n;
}

static void
test_overall (void)
{
  g_autoptr (CalcTable) cases = calc_table_load ("overall_d_cases");

  for (gsize i = 0; i < calc_table_n_rows (cases); i++)
    {
      double d[8];
      double weights[8];
      double overall = NAN;
      gsize n = parse_list (calc_table_text (cases, "d", i), d);
      g_autofree char *name = g_strdup_printf ("row %" G_GSIZE_FORMAT, i + 1);

      g_assert_cmpuint (parse_list (calc_table_text (cases, "weights", i), weights), ==, n);
      g_assert_cmpint (wb_calc_desirability_overall (d, weights, n, &overall), ==, WB_CALC_OK);
      calc_assert_digits (name, overall, calc_table_number (cases, "D_weighted_geometric_mean", i), 14);
    }
}

/* y of a quadratic response surface at x. */
static double
response (const CalcTable *equations,
          gsize            row,
          const double     x[3])
{
  static const char *const squares[] = { "b11", "b22", "b33" };
  static const char *const lines[] = { "b1", "b2", "b3" };
  double y = calc_table_number (equations, "b0", row);

  for (gsize i = 0; i < 3; i++)
    y += calc_table_number (equations, lines[i], row) * x[i]
         + calc_table_number (equations, squares[i], row) * x[i] * x[i];
  return y + calc_table_number (equations, "b12", row) * x[0] * x[1]
         + calc_table_number (equations, "b13", row) * x[0] * x[2]
         + calc_table_number (equations, "b23", row) * x[1] * x[2];
}

static void
load_shapes (WbCalcDesirability shapes[4])
{
  g_autoptr (CalcTable) limits = calc_table_load ("limits");

  for (gsize r = 0; r < 4; r++)
    {
      double low = calc_table_number (limits, "low", r);
      double target = calc_table_number (limits, "target", r);
      double high = calc_table_number (limits, "high", r);

      shapes[r] = g_str_equal (calc_table_text (limits, "goal", r), "maximize")
                      ? wb_calc_desirability_max (low, target, 1.0)
                      : wb_calc_desirability_target (low, target, high, 1.0, 1.0);
    }
}

static double
overall_at (const CalcTable *equations,
            const double     x[3],
            double           y[4],
            double           d[4])
{
  WbCalcDesirability shapes[4];
  double overall = NAN;

  load_shapes (shapes);
  for (gsize r = 0; r < 4; r++)
    {
      y[r] = response (equations, r, x);
      g_assert_cmpint (wb_calc_desirability_value (&shapes[r], y[r], &d[r]), ==, WB_CALC_OK);
    }
  g_assert_cmpint (wb_calc_desirability_overall (d, NULL, 4, &overall), ==, WB_CALC_OK);
  return overall;
}

/*
 * The tyre tread example of the NIST/SEMATECH e-Handbook, 5.5.3.2.2. The page's
 * printed d1 and d3 do not follow from its own y1 and y3, and are left out.
 */
static void
test_handbook (void)
{
  g_autoptr (CalcTable) equations = calc_table_load ("equations_nist_published");
  g_autoptr (CalcTable) optimum = calc_table_load ("optimum_certified");
  double x[3] = {
    calc_table_certified (optimum, "nist_published_x1"),
    calc_table_certified (optimum, "nist_published_x2"),
    calc_table_certified (optimum, "nist_published_x3"),
  };
  double y[4];
  double d[4];
  double overall = overall_at (equations, x, y, d);

  g_assert_cmpfloat_with_epsilon (overall, calc_table_certified (optimum, "nist_published_D"), 0.0005);
  g_assert_cmpfloat_with_epsilon (d[1], calc_table_certified (optimum, "nist_published_d2"), 0.005);
  g_assert_cmpfloat_with_epsilon (d[3], calc_table_certified (optimum, "nist_published_d4"), 0.01);
  for (gsize r = 0; r < 4; r++)
    {
      g_autofree char *published = g_strdup_printf ("nist_published_y%" G_GSIZE_FORMAT, r + 1);
      g_autofree char *computed = g_strdup_printf ("nist_equations_at_published_x_d%" G_GSIZE_FORMAT, r + 1);

      /* The page rounds x to two places: y within 0.1 %. */
      calc_assert_digits (published, y[r], calc_table_certified (optimum, published), 3);
      calc_assert_digits (computed, d[r], calc_table_certified (optimum, computed), 8);
    }
  calc_assert_digits ("D", overall, calc_table_certified (optimum, "nist_equations_at_published_x_D"), 10);
}

/* The article's optimum, y, d and D = 0.583, as summarised by others; equations refitted to its data. */
static void
test_article (void)
{
  g_autoptr (CalcTable) equations = calc_table_load ("equations_derringer_suich_refit");
  g_autoptr (CalcTable) optimum = calc_table_load ("optimum_certified");
  double x[3] = {
    calc_table_certified (optimum, "derringer_suich_published_x1"),
    calc_table_certified (optimum, "derringer_suich_published_x2"),
    calc_table_certified (optimum, "derringer_suich_published_x3"),
  };
  double y[4];
  double d[4];

  /* The article rounds x to three places and d to three: y within 0.1 % of what it prints, d within 0.002. */
  g_assert_cmpfloat_with_epsilon (overall_at (equations, x, y, d),
                                  calc_table_certified (optimum, "derringer_suich_published_D"),
                                  0.0005);
  for (gsize r = 0; r < 4; r++)
    {
      g_autofree char *of_y = g_strdup_printf ("derringer_suich_published_y%" G_GSIZE_FORMAT, r + 1);
      g_autofree char *of_d = g_strdup_printf ("derringer_suich_published_d%" G_GSIZE_FORMAT, r + 1);

      calc_assert_digits (of_y, y[r], calc_table_certified (optimum, of_y), 3);
      g_assert_cmpfloat_with_epsilon (d[r], calc_table_certified (optimum, of_d), 0.002);
    }
}

/* The optimum of a set of equations, where it was searched for: its figures, and nothing higher 0.01 away in any direction within the box. */
static void
check_optimum (const char *equations_stem,
               const char *prefix,
               double      edge)
{
  g_autoptr (CalcTable) equations = calc_table_load (equations_stem);
  g_autoptr (CalcTable) optimum = calc_table_load ("optimum_certified");
  g_autofree char *overall_name = g_strconcat (prefix, "_D", NULL);
  double x[3];
  double y[4];
  double d[4];

  for (gsize k = 0; k < 3; k++)
    {
      g_autofree char *name = g_strdup_printf ("%s_x%" G_GSIZE_FORMAT, prefix, k + 1);

      x[k] = calc_table_certified (optimum, name);
    }

  double best = overall_at (equations, x, y, d);

  calc_assert_digits (overall_name, best, calc_table_certified (optimum, overall_name), 10);
  for (gsize r = 0; r < 4; r++)
    {
      g_autofree char *of_y = g_strdup_printf ("%s_y%" G_GSIZE_FORMAT, prefix, r + 1);
      g_autofree char *of_d = g_strdup_printf ("%s_d%" G_GSIZE_FORMAT, prefix, r + 1);

      calc_assert_digits (of_y, y[r], calc_table_certified (optimum, of_y), 8);
      calc_assert_digits (of_d, d[r], calc_table_certified (optimum, of_d), 8);
    }
  for (int k = 0; k < 27; k++)
    {
      double other[3] = {
        CLAMP (x[0] + 0.01 * (k % 3 - 1), -edge, edge),
        CLAMP (x[1] + 0.01 * (k / 3 % 3 - 1), -edge, edge),
        CLAMP (x[2] + 0.01 * (k / 9 - 1), -edge, edge),
      };

      g_assert_cmpfloat (overall_at (equations, other, y, d), <=, best + 1e-10);
    }
}

static void
test_optimum (void)
{
  check_optimum ("equations_nist_published", "nist_equations_optimum_in_box_1", 1.0);
  check_optimum ("equations_derringer_suich_refit", "ds_refit_optimum_in_box_1.633", 1.633);
}

static void
test_floors_and_steps (void)
{
  WbCalcDesirability shape = wb_calc_desirability_trapezoid (1.0, 2.0, 4.0, 8.0);
  WbCalcDesirability step = wb_calc_desirability_trapezoid (3.0, 3.0, 5.0, 5.0);

  shape.floor_high = 0.3;
  g_assert_cmpfloat (wb_calc_desirability_at (&shape, 1.0), ==, 0.0);
  g_assert_cmpfloat (wb_calc_desirability_at (&shape, 1.5), ==, 0.5);
  g_assert_cmpfloat (wb_calc_desirability_at (&shape, 3.0), ==, 1.0);
  g_assert_cmpfloat_with_epsilon (wb_calc_desirability_at (&shape, 6.0), 0.65, 1e-15);
  g_assert_cmpfloat (wb_calc_desirability_at (&shape, 8.0), ==, 0.3);
  g_assert_cmpfloat (wb_calc_desirability_at (&shape, INFINITY), ==, 0.3);
  g_assert_cmpfloat (wb_calc_desirability_at (&shape, -INFINITY), ==, 0.0);

  g_assert_cmpfloat (wb_calc_desirability_at (&step, 2.999), ==, 0.0);
  g_assert_cmpfloat (wb_calc_desirability_at (&step, 3.0), ==, 1.0);
  g_assert_cmpfloat (wb_calc_desirability_at (&step, 5.0), ==, 1.0);
  g_assert_cmpfloat (wb_calc_desirability_at (&step, 5.001), ==, 0.0);
}

/* Moving and stretching figure and limits together changes nothing. */
static void
test_invariance (void)
{
  WbCalcDesirability shape = wb_calc_desirability_target (400, 500, 600, 2.0, 0.5);
  WbCalcDesirability moved = wb_calc_desirability_target (-32 + 400 * 8, -32 + 500 * 8, -32 + 600 * 8, 2.0, 0.5);

  for (double y = 380.0; y < 620.0; y += 7.0)
    g_assert_cmpfloat_with_epsilon (wb_calc_desirability_at (&shape, y),
                                    wb_calc_desirability_at (&moved, -32 + y * 8),
                                    1e-15);
}

static void
test_bad_input (void)
{
  WbCalcDesirability good = wb_calc_desirability_max (1, 2, 1);
  WbCalcDesirability bad[] = {
    wb_calc_desirability_max (2, 1, 1),          wb_calc_desirability_max (NAN, 1, 1),
    wb_calc_desirability_max (1, 2, 0),          wb_calc_desirability_min (1, 2, NAN),
    wb_calc_desirability_target (1, 2, 1, 1, 1), wb_calc_desirability_max (-INFINITY, 2, 1),
    wb_calc_desirability_max (1, INFINITY, 1),   wb_calc_desirability_trapezoid (1, 2, 3, INFINITY),
  };
  double d = 0.25;
  double with_nan[] = { 0.5, NAN };
  double above[] = { 0.5, 1.0001 };
  double fine[] = { 0.5, 0.0 };
  double negative[] = { 1.0, -1.0 };
  double zeros[] = { 0.0, 0.0 };
  double first_only[] = { 1.0, 0.0 };

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_cmpint (wb_calc_desirability_value (&bad[i], 1.5, &d), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_desirability_value (&good, NAN, &d), ==, WB_CALC_BAD_INPUT);
  g_assert_true (isnan (wb_calc_desirability_at (&good, NAN)));
  good.floor_low = 1.5;
  g_assert_cmpint (wb_calc_desirability_check (&good), ==, WB_CALC_BAD_INPUT);

  g_assert_cmpint (wb_calc_desirability_overall (fine, NULL, 0, &d), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_desirability_overall (with_nan, NULL, 2, &d), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_desirability_overall (above, NULL, 2, &d), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_desirability_overall (fine, negative, 2, &d), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_desirability_overall (fine, zeros, 2, &d), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpfloat (d, ==, 0.25);

  /* What has no weight cannot spoil the answer. */
  g_assert_cmpint (wb_calc_desirability_overall (fine, first_only, 2, &d), ==, WB_CALC_OK);
  g_assert_cmpfloat (d, ==, 0.5);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calc/desirability/single-values-follow-the-handbook", test_single);
  g_test_add_func ("/calc/desirability/overall-is-the-weighted-geometric-mean", test_overall);
  g_test_add_func ("/calc/desirability/the-handbook-example-comes-out", test_handbook);
  g_test_add_func ("/calc/desirability/the-article-optimum-comes-out", test_article);
  g_test_add_func ("/calc/desirability/an-optimum-is-the-highest-around", test_optimum);
  g_test_add_func ("/calc/desirability/floors-hold-and-steps-are-closed", test_floors_and_steps);
  g_test_add_func ("/calc/desirability/shift-and-scale-change-nothing", test_invariance);
  g_test_add_func ("/calc/desirability/bad-input-is-refused", test_bad_input);
  return g_test_run ();
}
