/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-inverse.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"
#include "wb-calc-linear.h"
#include "wb-calc-quantile.h"
#include "wb-calc-random.h"

typedef struct
{
  CalcTable        *data;
  CalcTable        *certified;
  WbCalcInverseLine line;
} Calibration;

static Calibration
load (const char *stem,
      const char *x_name,
      const char *y_name)
{
  g_autofree char *data_stem = g_strconcat (stem, "_data", NULL);
  g_autofree char *certified_stem = g_strconcat (stem, "_certified", NULL);
  Calibration self = { .data = calc_table_load (data_stem), .certified = calc_table_load (certified_stem) };
  g_autofree double *x = calc_table_numbers (self.data, x_name);
  g_autofree double *y = calc_table_numbers (self.data, y_name);

  g_assert_cmpint (wb_calc_inverse_fit (x, y, NULL, calc_table_n_rows (self.data), &self.line), ==, WB_CALC_OK);
  return self;
}

static void
clear (Calibration *self)
{
  calc_table_free (self->data);
  calc_table_free (self->certified);
}

static double
certified (const Calibration *self,
           const char        *question,
           const char        *what)
{
  g_autofree char *name = g_strconcat (question, ";", what, NULL);

  return calc_table_certified (self->certified, name);
}

/* A question of a file's, with the line's own figures where it carries them. */
static void
check (const Calibration   *self,
       const char          *question,
       const WbCalcInverse *inverse)
{
  g_assert_cmpint (inverse->shape, ==, WB_CALC_INVERSE_BETWEEN);
  calc_assert_digits (question, inverse->value, certified (self, question, "x0"), 10);
  calc_assert_digits (question, inverse->low, certified (self, question, "fieller_lo"), 10);
  calc_assert_digits (question, inverse->high, certified (self, question, "fieller_hi"), 10);
  calc_assert_digits (question, inverse->g, certified (self, question, "g"), 9);
  calc_assert_digits ("slope", self->line.slope, certified (self, question, "b1"), 10);
  calc_assert_digits ("intercept", self->line.level - self->line.slope * self->line.centre, certified (self, question, "b0"), 9);
  calc_assert_digits ("Sxx", 1 / self->line.slope_factor, certified (self, question, "Sxx"), 12);
}

/* Published to as many digits as are printed. */
static void
check_published (const Calibration *self,
                 const char        *question,
                 const char        *what,
                 double             value,
                 double             last_digit)
{
  g_assert_cmpfloat_with_epsilon (value, certified (self, question, what), 0.51 * last_digit);
}

static void
test_arsenic (void)
{
  static const double three[] = { 3.17, 3.09, 3.16 };
  Calibration self = load ("arsenic", "x", "y");
  double one = 3;
  WbCalcInverse inverse;

  g_assert_cmpint (wb_calc_inverse_new (&self.line, &one, 1, 0.9, &inverse), ==, WB_CALC_OK);
  check (&self, "y0=3;90%", &inverse);
  check_published (&self, "published_y0=3;90%", "x0", inverse.value, 1e-4);
  check_published (&self, "published_y0=3;90%", "fieller_lo", inverse.low, 1e-4);
  check_published (&self, "published_y0=3;90%", "fieller_hi", inverse.high, 1e-4);
  calc_assert_digits ("s", sqrt (self.line.variance), certified (&self, "y0=3;90%", "s"), 10);
  g_assert_cmpfloat (self.line.df, ==, certified (&self, "y0=3;90%", "df"));
  g_assert_cmpint (wb_calc_inverse_new (&self.line, three, 3, 0.9, &inverse), ==, WB_CALC_OK);
  check (&self, "y0=3.17/3.09/3.16;90%", &inverse);
  g_assert_cmpint (wb_calc_inverse_at (&self.line, 3, 0, 0.9, &inverse), ==, WB_CALC_OK);
  check (&self, "mean_response=3;90%", &inverse);
  clear (&self);
}

static void
test_chamber (void)
{
  Calibration self = load ("chamber", "x", "y");
  WbCalcInverse inverse;

  g_assert_cmpint (wb_calc_inverse_at (&self.line, 400, 0, 0.99, &inverse), ==, WB_CALC_OK);
  check (&self, "mean_response=400;99%", &inverse);
  check_published (&self, "published_mean_response=400;99%", "x0", inverse.value, 0.1);
  check_published (&self, "published_mean_response=400;99%", "fieller_lo", inverse.low, 0.01);
  check_published (&self, "published_mean_response=400;99%", "fieller_hi", inverse.high, 0.01);
  clear (&self);
}

static void
test_thermometer (void)
{
  Calibration self = load ("thermometer", "x", "y");
  double y0 = 104;
  WbCalcInverse inverse;

  g_assert_cmpint (wb_calc_inverse_new (&self.line, &y0, 1, 0.95, &inverse), ==, WB_CALC_OK);
  check (&self, "y0=104;95%", &inverse);
  check_published (&self, "published_y0=104;95%", "x0", inverse.value, 1e-3);
  check_published (&self, "published_y0=104;95%", "fieller_lo", inverse.low, 0.1);
  check_published (&self, "published_y0=104;95%", "fieller_hi", inverse.high, 0.1);
  y0 = 100;
  g_assert_cmpint (wb_calc_inverse_new (&self.line, &y0, 1, 0.9, &inverse), ==, WB_CALC_OK);
  check (&self, "y0=100;90%", &inverse);
  check_published (&self, "published_y0=100;90%", "fieller_lo", inverse.low, 0.01);
  check_published (&self, "published_y0=100;90%", "fieller_hi", inverse.high, 0.01);
  clear (&self);
}

/* A slope that is not told from 0: no y0 has an interval with two ends. */
static void
test_flat_slope (void)
{
  Calibration self = load ("flat_slope", "x", "y");
  double y0 = 2.5;
  WbCalcInverse inverse;

  calc_assert_digits ("slope", self.line.slope, calc_table_certified (self.certified, "slope"), 10);
  calc_assert_digits ("its sd", sqrt (self.line.variance * self.line.slope_factor), calc_table_certified_sd (self.certified, "slope"), 10);
  g_assert_cmpint (wb_calc_inverse_new (&self.line, &y0, 1, 0.95, &inverse), ==, WB_CALC_OK);
  g_assert_cmpint (inverse.shape, ==, WB_CALC_INVERSE_ANYWHERE);
  g_assert_true (inverse.low == -INFINITY && inverse.high == INFINITY);
  calc_assert_digits ("x0", inverse.value, calc_table_certified (self.certified, "y0=2.5;x0"), 10);
  calc_assert_digits ("g", inverse.g, calc_table_certified (self.certified, "g_95"), 10);
  y0 = 8;
  g_assert_cmpint (wb_calc_inverse_new (&self.line, &y0, 1, 0.95, &inverse), ==, WB_CALC_OK);
  g_assert_cmpint (inverse.shape, ==, WB_CALC_INVERSE_OUTSIDE);
  calc_assert_digits ("x0", inverse.value, calc_table_certified (self.certified, "y0=8;x0"), 10);
  calc_assert_digits ("low", inverse.low, calc_table_certified (self.certified, "y0=8;two_rays_upper_end_of_lower_ray"), 9);
  calc_assert_digits ("high", inverse.high, calc_table_certified (self.certified, "y0=8;two_rays_lower_end_of_upper_ray"), 9);
  clear (&self);
}

/* The thermometer's corrections of GUM H.3: the line of its table, and the reading that has the correction at 30 °C. */
static void
test_gum (void)
{
  Calibration self = load ("gum_h3", "t", "b");
  double at_20 = self.line.level + self.line.slope * (20 - self.line.centre), away = 20 - self.line.centre, sd_30, from_30 = 30 - self.line.centre;
  WbCalcInverse inverse;

  calc_assert_digits ("at 20", at_20, calc_table_certified (self.certified, "intercept_at_t0=20"), 10);
  calc_assert_digits ("its sd", sqrt (self.line.variance * (self.line.level_factor + away * away * self.line.slope_factor)),
                      calc_table_certified_sd (self.certified, "intercept_at_t0=20"), 10);
  calc_assert_digits ("slope", self.line.slope, calc_table_certified (self.certified, "slope"), 10);
  calc_assert_digits ("its sd", sqrt (self.line.variance * self.line.slope_factor), calc_table_certified_sd (self.certified, "slope"), 10);
  calc_assert_digits ("rss", self.line.residual, calc_table_certified (self.certified, "residual_ss"), 10);
  sd_30 = sqrt (self.line.variance * (self.line.level_factor + from_30 * from_30 * self.line.slope_factor));
  calc_assert_digits ("sd at 30", sd_30, calc_table_certified_sd (self.certified, "correction_at_30"), 10);
  g_assert_cmpint (wb_calc_inverse_at (&self.line, calc_table_certified (self.certified, "correction_at_30"), 0, 0.9, &inverse), ==, WB_CALC_OK);
  calc_assert_digits ("reading", inverse.value, 30, 8);
  clear (&self);
}

/* Two drugs' hours of further sleep, read on the same ten people. */
static void
test_ratio (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("sleep_data");
  g_autoptr (CalcTable) answers = calc_table_load ("fieller_ratio_sleep_certified");
  g_autofree double *hours = calc_table_numbers (data, "extra");
  double mean[2] = { 0 }, var[2] = { 0 }, cov = 0;
  WbCalcInverse inverse;

  for (gsize i = 0; i < 20; i++)
    mean[i / 10] += hours[i] / 10;
  for (gsize i = 0; i < 10; i++)
    {
      double first = hours[i] - mean[0], second = hours[10 + i] - mean[1];

      var[0] += first * first / 90;
      var[1] += second * second / 90;
      cov += first * second / 90;
    }
  calc_assert_digits ("covariance", cov, calc_table_certified (answers, "cov_means"), 10);
  g_assert_cmpint (wb_calc_inverse_ratio (mean[0], mean[1], var[0], var[1], cov, 9, 0.95, &inverse), ==, WB_CALC_OK);
  g_assert_cmpint (inverse.shape, ==, WB_CALC_INVERSE_BETWEEN);
  calc_assert_digits ("ratio", inverse.value, calc_table_certified (answers, "ratio"), 10);
  calc_assert_digits ("low", inverse.low, calc_table_certified (answers, "fieller_lo"), 10);
  calc_assert_digits ("high", inverse.high, calc_table_certified (answers, "fieller_hi"), 10);
  calc_assert_digits ("g", inverse.g, calc_table_certified (answers, "g"), 10);
}

/* A weighted line is that of the linear models, and given variances leave its place alone. */
static void
test_weights (void)
{
  static const double x[] = { 1, 2, 3, 4, 6 }, y[] = { 2.2, 3.8, 6.3, 7.7, 12.4 }, weights[] = { 1, 3, 0.5, 2, 4 };
  double variances[5];
  WbCalcInverseLine line, known;
  WbCalcLinear fit;

  for (gsize i = 0; i < 5; i++)
    variances[i] = 0.04 / weights[i];
  g_assert_cmpint (wb_calc_inverse_fit (x, y, weights, 5, &line), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_inverse_fit_known (x, y, variances, 5, &known), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_linear_fit (x, y, weights, 5, 1, true, &fit), ==, WB_CALC_OK);
  calc_assert_digits ("slope", line.slope, fit.coefficient[1], 13);
  calc_assert_digits ("variance", line.variance, fit.residual_sd * fit.residual_sd, 11);
  calc_assert_digits ("of the slope", line.variance * line.slope_factor, fit.covariance[3], 11);
  calc_assert_digits ("slope", known.slope, line.slope, 13);
  calc_assert_digits ("of the slope", known.slope_factor, 0.04 * line.slope_factor, 12);
  calc_assert_digits ("chi-square", known.residual, line.residual / 0.04, 12);
  g_assert_cmpfloat (known.variance, ==, 1);
  g_assert_true (isinf (known.df));
  wb_calc_linear_clear (&fit);
}

/* y0 is known: what is left at each end of the interval is just rejected, whatever the shape. */
static void
test_ends_are_just_rejected (void)
{
  WbCalcRandom random;
  guint seen[WB_CALC_INVERSE_N_SHAPES] = { 0 };

  wb_calc_random_init (&random, 5, 0);
  for (guint k = 0; k < 2000; k++)
    {
      double x[6], y[6], slope = 0.2 * wb_calc_random_normal (&random), y0 = 2 * wb_calc_random_normal (&random), ends[2];
      double t = wb_calc_student_quantile (0.95, 4);
      WbCalcInverseLine line;
      WbCalcInverse inverse;

      for (guint i = 0; i < 6; i++)
        {
          x[i] = i;
          y[i] = slope * i + 0.5 * wb_calc_random_normal (&random);
        }
      g_assert_cmpint (wb_calc_inverse_fit (x, y, NULL, 6, &line), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_inverse_at (&line, y0, 0.01, 0.9, &inverse), ==, WB_CALC_OK);
      seen[inverse.shape]++;
      g_assert_cmpint (inverse.g < 1, ==, inverse.shape == WB_CALC_INVERSE_BETWEEN);
      if (inverse.shape == WB_CALC_INVERSE_ANYWHERE)
        continue;
      ends[0] = inverse.low;
      ends[1] = inverse.high;
      for (guint end = 0; end < 2; end++)
        {
          double away = ends[end] - line.centre;
          double variance = line.variance * (line.level_factor + away * away * line.slope_factor) + 0.01;

          calc_assert_digits ("t at an end", fabs (y0 - line.level - line.slope * away) / sqrt (variance), t, 6);
        }
    }
  g_assert_cmpuint (seen[WB_CALC_INVERSE_BETWEEN], >, 100);
  g_assert_cmpuint (seen[WB_CALC_INVERSE_OUTSIDE], >, 100);
  g_assert_cmpuint (seen[WB_CALC_INVERSE_ANYWHERE], >, 100);
}

static bool
holds (const WbCalcInverse *inverse,
       double               x)
{
  return inverse->shape == WB_CALC_INVERSE_OUTSIDE ? x <= inverse->low || x >= inverse->high : x >= inverse->low && x <= inverse->high;
}

/* The interval is exact: of 4,000 lines, 90 in 100 hold the x of two new observations, however flat the line is. */
static void
test_coverage (void)
{
  static const double slopes[] = { 1, 0.3, 0.05 };

  for (guint s = 0; s < G_N_ELEMENTS (slopes); s++)
    {
      WbCalcRandom random;
      guint held = 0;

      wb_calc_random_init (&random, 11 + s, 0);
      for (guint k = 0; k < 4000; k++)
        {
          double x[5], y[5], y0[2];
          WbCalcInverseLine line;
          WbCalcInverse inverse;

          for (guint i = 0; i < 5; i++)
            {
              x[i] = i;
              y[i] = slopes[s] * x[i] + 0.4 * wb_calc_random_normal (&random);
            }
          for (guint i = 0; i < 2; i++)
            y0[i] = slopes[s] * 3.3 + 0.4 * wb_calc_random_normal (&random);
          g_assert_cmpint (wb_calc_inverse_fit (x, y, NULL, 5, &line), ==, WB_CALC_OK);
          g_assert_cmpint (wb_calc_inverse_new (&line, y0, 2, 0.9, &inverse), ==, WB_CALC_OK);
          held += holds (&inverse, 3.3);
        }
      g_test_message ("slope %g: %u of 4000", slopes[s], held);
      /* three standard errors of 4,000 */
      g_assert_cmpfloat_with_epsilon (held / 4000.0, 0.9, 0.0143);
    }
}

/* What is known leaves a point, and what nothing tells is refused. */
static void
test_edges (void)
{
  double t = wb_calc_student_quantile (0.95, INFINITY);
  static const double x[] = { 1, 2, 3 }, y[] = { 1, 2, 3 };
  WbCalcInverseLine line;
  WbCalcInverse inverse;

  g_assert_cmpint (wb_calc_inverse_ratio (2, 5, 0, 0, 0, 3, 0.9, &inverse), ==, WB_CALC_OK);
  g_assert_true (inverse.low == 0.4 && inverse.high == 0.4 && inverse.value == 0.4 && inverse.g == 0);
  /* by hand: (2 - 5 r)^2 <= t^2 0.01 */
  g_assert_cmpint (wb_calc_inverse_ratio (2, 5, 0.01, 0, 0, INFINITY, 0.9, &inverse), ==, WB_CALC_OK);
  calc_assert_digits ("low", inverse.low, (2 - 0.1 * t) / 5, 14);
  calc_assert_digits ("high", inverse.high, (2 + 0.1 * t) / 5, 14);
  /* 0 by nothing: its size is known, and how it is turned is not */
  g_assert_cmpint (wb_calc_inverse_ratio (2, 0, 0.01, 0.04, 0, INFINITY, 0.9, &inverse), ==, WB_CALC_OK);
  g_assert_cmpint (inverse.shape, ==, WB_CALC_INVERSE_OUTSIDE);
  g_assert_true (isnan (inverse.value) && isinf (inverse.g));
  calc_assert_digits ("either side", inverse.high, -inverse.low, 14);
  g_assert_cmpint (wb_calc_inverse_ratio (2, 0, 0.01, 0.04, 0, INFINITY, 1e-300, &inverse), ==, WB_CALC_OK);
  g_assert_true (isinf (inverse.g));
  g_assert_cmpint (wb_calc_inverse_ratio (2, 0, 0.01, 0, 0, 3, 0.9, &inverse), ==, WB_CALC_UNIDENTIFIED);
  g_assert_cmpint (wb_calc_inverse_ratio (2, 1, 0.01, 0.01, 0.011, 3, 0.9, &inverse), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_inverse_ratio (2, 1, -0.01, 0.01, 0, 3, 0.9, &inverse), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_inverse_ratio (2, 1, 0.01, 0.01, 0, 0, 0.9, &inverse), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_inverse_ratio (2, 1, 0.01, 0.01, 0, 3, 1, &inverse), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_inverse_fit (x, y, NULL, 2, &line), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_inverse_fit_known (x, y, y, 1, &line), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_inverse_fit_known (x, y, y, 2, &line), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_inverse_new (&line, y, 1, 0.9, &inverse), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_inverse_fit ((double[]) { 2, 2, 2 }, y, NULL, 3, &line), ==, WB_CALC_UNIDENTIFIED);
  g_assert_cmpint (wb_calc_inverse_fit (x, y, NULL, 3, &line), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_inverse_new (&line, y, 0, 0.9, &inverse), ==, WB_CALC_TOO_FEW);
  /* three on a line */
  g_assert_cmpint (wb_calc_inverse_at (&line, 2.5, 0, 0.9, &inverse), ==, WB_CALC_OK);
  g_assert_true (inverse.low == 2.5 && inverse.high == 2.5);
}

/* A denominator of just t standard deviations: the other end has gone out of sight. */
static void
test_one_ray (void)
{
  double coverage = 0.9, t = wb_calc_student_quantile (0.95, INFINITY), d = t;
  WbCalcInverse inverse;

  /* whatever rounding makes of t^2 - t^2, the end that stays is 0.5 (n^2 - t^2 vn) / (n d) and the other has gone */
  g_assert_cmpint (wb_calc_inverse_ratio (8, d, 1, 1, 0, INFINITY, coverage, &inverse), ==, WB_CALC_OK);
  calc_assert_digits ("the end that stays", inverse.shape == WB_CALC_INVERSE_OUTSIDE ? inverse.high : inverse.low,
                      0.5 * (64 - t * t) / (8 * d), 12);
  g_assert_true (inverse.shape == WB_CALC_INVERSE_FROM || inverse.high > 1e12 || inverse.low < -1e12);
  g_assert_cmpint (wb_calc_inverse_ratio (-8, d, 1, 1, 0, INFINITY, coverage, &inverse), ==, WB_CALC_OK);
  calc_assert_digits ("the end that stays", inverse.shape == WB_CALC_INVERSE_OUTSIDE ? inverse.low : inverse.high,
                      -0.5 * (64 - t * t) / (8 * d), 12);
}

/* The ratio's unit leaves the range of a double, and nothing is told of it: the ends stay open. */
static void
test_tiny_unit (void)
{
  WbCalcInverse inverse;

  g_assert_cmpint (wb_calc_inverse_ratio (1e-175, 1e150, 0, 1e300, 0, 0.002, 0.9, &inverse), ==, WB_CALC_OK);
  g_assert_cmpint (inverse.shape, ==, WB_CALC_INVERSE_ANYWHERE);
  g_assert_true (inverse.low == -INFINITY && inverse.high == INFINITY);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/inverse/arsenic-of-graybill-and-iyer", test_arsenic);
  g_test_add_func ("/calc/inverse/chamber-of-graybill-and-iyer", test_chamber);
  g_test_add_func ("/calc/inverse/thermometer-of-graybill-and-iyer", test_thermometer);
  g_test_add_func ("/calc/inverse/a-flat-slope-has-two-rays-or-the-whole-line", test_flat_slope);
  g_test_add_func ("/calc/inverse/thermometer-of-the-gum", test_gum);
  g_test_add_func ("/calc/inverse/ratio-of-two-correlated-means", test_ratio);
  g_test_add_func ("/calc/inverse/a-weighted-line-is-that-of-the-linear-models", test_weights);
  g_test_add_func ("/calc/inverse/ends-are-just-rejected", test_ends_are_just_rejected);
  g_test_add_func ("/calc/inverse/intervals-hold-what-they-say", test_coverage);
  g_test_add_func ("/calc/inverse/edges", test_edges);
  g_test_add_func ("/calc/inverse/one-ray", test_one_ray);
  g_test_add_func ("/calc/inverse/an-open-end-stays-open-in-a-unit-of-nothing", test_tiny_unit);
  return g_test_run ();
}
