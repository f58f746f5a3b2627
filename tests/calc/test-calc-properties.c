/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

/*
 * What has to hold of calc's functions whatever the data: the order of readings does not count, and
 * a shift and a change of unit come out as they went in. Functions whose own test file holds these
 * are left out here.
 */

#include <float.h>
#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-sample.h"
#include "calc-table.h"
#include "wb-calc-anova.h"
#include "wb-calc-censored.h"
#include "wb-calc-compare.h"
#include "wb-calc-desirability.h"
#include "wb-calc-growth.h"
#include "wb-calc-inverse.h"
#include "wb-calc-linear.h"
#include "wb-calc-nonlinear.h"
#include "wb-calc-quantile.h"
#include "wb-calc-rank.h"
#include "wb-calc-ridge.h"
#include "wb-calc-summary.h"

#define N CALC_SAMPLE_N

/* A change of unit and an offset that doubles hold to about 11 digits. */
#define UNIT 25.4
#define OFFSET 1000.0

/* The same readings in another order. */
static CalcSample
shuffled (const CalcSample *sample)
{
  CalcSample other;

  for (gsize i = 0; i < N; i++)
    {
      gsize from = (i * 5 + 3) % N;

      other.x[2 * i] = sample->x[2 * from];
      other.x[2 * i + 1] = sample->x[2 * from + 1];
      other.y[i] = sample->y[from];
      other.t[i] = sample->t[from];
      other.weights[i] = sample->weights[from];
      other.censored[i] = sample->censored[from];
      other.group[i] = sample->group[from];
    }
  return other;
}

static void
change (double *y,
        gsize   n,
        double  offset,
        double  unit)
{
  for (gsize i = 0; i < n; i++)
    y[i] = offset + unit * y[i];
}

static void
test_summary (void)
{
  CalcSample plain = calc_sample_draw (5);
  CalcSample other = shuffled (&plain);
  double p[] = { 0.1, 0.5, 0.8 };
  double q[3], other_q[3];
  WbCalcSummary a, b;

  change (other.y, N, OFFSET, -UNIT);
  g_assert_cmpint (wb_calc_summary_of (plain.y, N, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_summary_of (other.y, N, &b), ==, WB_CALC_OK);
  calc_assert_digits ("mean", b.mean, OFFSET - UNIT * a.mean, 14);
  calc_assert_digits ("sd", b.sd, UNIT * a.sd, 12);
  calc_assert_digits ("min", b.min, OFFSET - UNIT * a.max, 14);
  g_assert_cmpint (wb_calc_summary_quantiles (plain.y, N, p, 3, q), ==, WB_CALC_OK);
  /* Turned round, a quantile of p is one of 1 - p. */
  for (gsize i = 0; i < 3; i++)
    p[i] = 1.0 - p[i];
  g_assert_cmpint (wb_calc_summary_quantiles (other.y, N, p, 3, other_q), ==, WB_CALC_OK);
  for (gsize i = 0; i < 3; i++)
    calc_assert_digits ("quantile", other_q[i], OFFSET - UNIT * q[i], 12);
}

static void
test_linear (void)
{
  CalcSample plain = calc_sample_draw (7);
  CalcSample other = shuffled (&plain);
  double at[] = { 3.0, 1.0 };
  double other_at[] = { 1.0, OFFSET + 3.0 / UNIT };
  WbCalcLinear a, b;
  WbCalcLinearPrediction p, q;

  /* The columns change places too. */
  for (gsize i = 0; i < N; i++)
    {
      double first = other.x[2 * i];

      other.x[2 * i] = other.x[2 * i + 1];
      other.x[2 * i + 1] = OFFSET + first / UNIT;
    }
  change (other.y, N, -OFFSET, UNIT);
  change (other.weights, N, 0.0, 7.0);
  g_assert_cmpint (wb_calc_linear_fit (plain.x, plain.y, plain.weights, N, 2, true, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_linear_fit (other.x, other.y, other.weights, N, 2, true, &b), ==, WB_CALC_OK);
  calc_assert_digits ("slope", b.coefficient[2], UNIT * UNIT * a.coefficient[1], 10);
  calc_assert_digits ("slope", b.coefficient[1], UNIT * a.coefficient[2], 10);
  calc_assert_digits ("sd of a slope", wb_calc_linear_coefficient_sd (&b, 2), UNIT * UNIT * wb_calc_linear_coefficient_sd (&a, 1), 9);
  calc_assert_digits ("residual sd", b.residual_sd, UNIT * sqrt (7.0) * a.residual_sd, 10);
  calc_assert_digits ("R2", b.r_squared, a.r_squared, 10);
  calc_assert_digits ("F", b.f, a.f, 10);
  g_assert_cmpint (wb_calc_linear_predict (&a, at, 0.9, &p), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_linear_predict (&b, other_at, 0.9, &q), ==, WB_CALC_OK);
  /* The variance at x is a sum in which a shift of a column by 25,000 of its spreads makes the terms large. */
  calc_assert_digits ("low", q.low, -OFFSET + UNIT * p.low, 7);
  calc_assert_digits ("high", q.high, -OFFSET + UNIT * p.high, 7);
  at[1] = NAN;
  g_assert_cmpint (wb_calc_linear_predict (&a, at, 0.9, &p), ==, WB_CALC_BAD_INPUT);
  at[1] = INFINITY;
  g_assert_cmpint (wb_calc_linear_predict (&a, at, 0.9, &p), ==, WB_CALC_BAD_INPUT);
  wb_calc_linear_clear (&a);
  wb_calc_linear_clear (&b);
}

/* The shape, and where its ends lie, of a line read backwards; turned round, low and high change places. */
static void
test_inverse (void)
{
  CalcSample plain = calc_sample_draw (7);
  CalcSample other = shuffled (&plain);
  double y0 = 24.0, other_y0 = -OFFSET + UNIT * y0;
  WbCalcInverseLine a, b;
  WbCalcInverse p, q, turned;

  change (other.y, N, -OFFSET, UNIT);
  change (other.t, N, OFFSET, -1.0 / UNIT);
  change (other.weights, N, 0.0, 7.0);
  g_assert_cmpint (wb_calc_inverse_fit (plain.t, plain.y, plain.weights, N, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_inverse_fit (other.t, other.y, other.weights, N, &b), ==, WB_CALC_OK);
  for (double coverage = 0.05; coverage < 1.0; coverage += 0.1)
    {
      g_assert_cmpint (wb_calc_inverse_at (&a, y0, 0.5, coverage, &p), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_inverse_at (&b, other_y0, 0.5 * UNIT * UNIT, coverage, &q), ==, WB_CALC_OK);
      g_assert_cmpint (p.shape, ==, q.shape);
      calc_assert_digits ("g", q.g, p.g, 9);
      calc_assert_digits ("value", q.value, OFFSET - p.value / UNIT, 11);
      if (p.shape == WB_CALC_INVERSE_ANYWHERE)
        continue;
      calc_assert_digits ("low", q.low, OFFSET - p.high / UNIT, 9);
      calc_assert_digits ("high", q.high, OFFSET - p.low / UNIT, 9);
    }
  /* a ratio with both signs turned is the same ratio */
  g_assert_cmpint (wb_calc_inverse_ratio (2.0, 5.0, 0.3, 0.8, 0.1, 7.0, 0.9, &p), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_inverse_ratio (-2.0, -5.0, 0.3, 0.8, 0.1, 7.0, 0.9, &q), ==, WB_CALC_OK);
  g_assert_true (p.low == q.low && p.high == q.high && p.value == q.value);
  /* and upside down its ends are the other's reciprocals, where neither holds 0 */
  g_assert_cmpint (wb_calc_inverse_ratio (5.0, 2.0, 0.08, 0.03, 0.01, 7.0, 0.9, &p), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_inverse_ratio (2.0, 5.0, 0.03, 0.08, 0.01, 7.0, 0.9, &turned), ==, WB_CALC_OK);
  calc_assert_digits ("upside down", p.low, 1.0 / turned.high, 13);
  calc_assert_digits ("upside down", p.high, 1.0 / turned.low, 13);
}

/* y in another unit under a prior in that unit. */
static void
test_ridge (void)
{
  const double mean[] = { 1.0, -0.5 }, other_mean[] = { UNIT, -0.5 * UNIT }, precision[] = { 0.5, 0.1, 0.1, 0.8 };
  WbCalcRidgePrior prior = { mean, precision, 2.0, 1.5 };
  WbCalcRidgePrior other_prior = { other_mean, precision, 2.0, 1.5 * UNIT * UNIT };
  CalcSample plain = calc_sample_draw (9);
  CalcSample other = shuffled (&plain);
  const double at[] = { 2.0, 1.0 };
  WbCalcRidge a, b;
  WbCalcRidgePrediction p, q;

  change (other.y, N, 0.0, UNIT);
  g_assert_cmpint (wb_calc_ridge_fit (plain.x, plain.y, plain.weights, N, 2, &prior, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_ridge_fit (other.x, other.y, other.weights, N, 2, &other_prior, &b), ==, WB_CALC_OK);
  calc_assert_digits ("mean", b.mean[0], UNIT * a.mean[0], 12);
  calc_assert_digits ("scale", wb_calc_ridge_coefficient_scale (&b, 1), UNIT * wb_calc_ridge_coefficient_scale (&a, 1), 12);
  calc_assert_digits ("covariance", b.covariance[1], a.covariance[1], 11);
  calc_assert_digits ("evidence", b.log_marginal, a.log_marginal - N * log (UNIT), 11);
  g_assert_cmpint (wb_calc_ridge_predict (&a, at, &p), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_ridge_predict (&b, at, &q), ==, WB_CALC_OK);
  calc_assert_digits ("chance", wb_calc_ridge_prediction_below (&q, 20.0 * UNIT), wb_calc_ridge_prediction_below (&p, 20.0), 11);
  wb_calc_ridge_clear (&a);
  wb_calc_ridge_clear (&b);
}

static void
test_anova (void)
{
  CalcSample plain = calc_sample_draw (11);
  CalcSample other = shuffled (&plain);
  WbCalcAnova a, b;

  change (other.y, N, OFFSET, UNIT);
  for (gsize i = 0; i < N; i++)
    other.group[i] = 2 - other.group[i];
  g_assert_cmpint (wb_calc_anova_one_way (plain.y, plain.group, N, 3, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_anova_one_way (other.y, other.group, N, 3, &b), ==, WB_CALC_OK);
  calc_assert_digits ("F", b.terms[0].f, a.terms[0].f, 11);
  calc_assert_digits ("p", b.terms[0].p, a.terms[0].p, 11);
  calc_assert_digits ("sum of squares", b.residual_sum_sq, UNIT * UNIT * a.residual_sum_sq, 11);
  calc_assert_digits ("mean", b.mean, OFFSET + UNIT * a.mean, 13);
  wb_calc_anova_clear (&a);
  wb_calc_anova_clear (&b);
}

static void
test_comparisons (void)
{
  const double mean[] = { 3.0, 5.0, 4.2 };
  const gsize count[] = { 4, 7, 3 };
  /* The groups in the order 2, 0, 1, shifted, in another unit. */
  const double other_mean[] = { OFFSET + UNIT * 4.2, OFFSET + UNIT * 3.0, OFFSET + UNIT * 5.0 };
  const gsize other_count[] = { 3, 4, 7 };
  CalcSample plain = calc_sample_draw (13);
  CalcSample other = shuffled (&plain);
  WbCalcComparison a[3], b[3];
  WbCalcKruskalWallis h, g;
  double last = 0.0;

  g_assert_cmpint (wb_calc_compare_tukey (mean, count, 3, 1.3, 11, 0.95, a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_compare_tukey (other_mean, other_count, 3, 1.3 * UNIT * UNIT, 11, 0.95, b), ==, WB_CALC_OK);
  /* Pairs come as (0,1), (0,2), (1,2): the first of `a` is the last of `b`. */
  calc_assert_digits ("difference", b[2].difference, UNIT * a[0].difference, 12);
  calc_assert_digits ("low", b[2].low, UNIT * a[0].low, 11);
  calc_assert_digits ("p", b[2].p, a[0].p, 10);
  calc_assert_digits ("high turned round", b[0].high, -UNIT * a[1].low, 11);
  calc_assert_digits ("p turned round", b[1].p, a[2].p, 10);

  for (gsize i = 0; i < N; i++)
    {
      other.y[i] = -exp (-other.y[i] / 10.0);
      other.group[i] = (other.group[i] + 1) % 3;
    }
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (plain.y, plain.group, N, 3, NULL, &h), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_compare_kruskal_wallis (other.y, other.group, N, 3, NULL, &g), ==, WB_CALC_OK);
  calc_assert_digits ("H", g.h, h.h, 13);

  /* The studentized range: more with q, less with more means. */
  for (double q = 0.5; q < 8.0; q += 0.5)
    {
      double few, more;

      g_assert_cmpint (wb_calc_compare_studentized_range (q, 3, 7, &few), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_compare_studentized_range (q, 4, 7, &more), ==, WB_CALC_OK);
      g_assert_cmpfloat (few, >, last);
      g_assert_cmpfloat (more, <, few);
      last = few;
    }
}

/* A shift of y goes into the first parameter, a change of unit into all; censoring is a matter of order no more. */
static void
test_censored (void)
{
  CalcSample plain = calc_sample_draw (15);
  CalcSample other = shuffled (&plain);
  double a[] = { 20.0, 1.0 }, b[] = { OFFSET + 20.0 * UNIT, UNIT }, c[] = { 20.0, 1.0 };
  WbCalcCensoredFit fit, other_fit;
  WbCalcNonlinear least, other_least;

  change (other.y, N, OFFSET, UNIT);
  g_assert_cmpint (wb_calc_censored_fit (plain.y, plain.censored, N, 2, calc_sample_line, &plain, a, 3.0, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_censored_fit (other.y, other.censored, N, 2, calc_sample_line, &other, b, 3.0 * UNIT, &other_fit), ==, WB_CALC_OK);
  calc_assert_digits ("intercept", b[0], OFFSET + UNIT * a[0], 9);
  calc_assert_digits ("slope", b[1], UNIT * a[1], 7);
  calc_assert_digits ("sigma", exp (other_fit.log_sigma), UNIT * exp (fit.log_sigma), 8);
  calc_assert_digits ("variance", other_fit.covariance[4], UNIT * UNIT * fit.covariance[4], 7);

  /* Without a censored reading it is least squares, whose sigma has n - p below the sum. */
  g_assert_cmpint (wb_calc_censored_fit (plain.y, NULL, N, 2, calc_sample_line, &plain, a, 3.0, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_nonlinear_fit (plain.y, N, 2, calc_sample_line_alone, &plain, NULL, NULL, c, &least), ==, WB_CALC_OK);
  calc_assert_digits ("slope", a[1], c[1], 7);
  calc_assert_digits ("sigma", exp (fit.log_sigma), least.residual_sd * sqrt ((N - 2.0) / N), 9);
  b[0] = OFFSET;
  b[1] = 0.0;
  g_assert_cmpint (wb_calc_nonlinear_fit (other.y, N, 2, calc_sample_line_alone, &other, NULL, NULL, b, &other_least), ==, WB_CALC_OK);
  calc_assert_digits ("intercept", b[0], OFFSET + UNIT * c[0], 11);
  calc_assert_digits ("sd", other_least.sd[1], UNIT * least.sd[1], 11);
}

/* A shift and a unit of the scores carry over to means and losses and leave every chance alone. */
static void
test_rank (void)
{
  CalcSample plain = calc_sample_draw (17);
  CalcSample other = plain;
  WbCalcRankOptions options = { 1.0, 20.0 }, other_options = { UNIT, OFFSET + 20.0 * UNIT };
  WbCalcRank a, b;

  change (other.y, N, OFFSET, UNIT);
  g_assert_cmpint (wb_calc_rank_acceptability (plain.y, 4, 3, &options, NULL, NULL, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_rank_acceptability (other.y, 4, 3, &other_options, NULL, NULL, &b), ==, WB_CALC_OK);
  for (gsize i = 0; i < 3; i++)
    {
      g_assert_cmpfloat (b.p_best[i], ==, a.p_best[i]);
      g_assert_cmpfloat (b.p_near[i], ==, a.p_near[i]);
      calc_assert_digits ("mean", b.mean[i], OFFSET + UNIT * a.mean[i], 13);
      calc_assert_digits ("loss", b.expected_loss[i], UNIT * a.expected_loss[i], 11);
    }
  g_assert_cmpfloat (b.p_none, ==, a.p_none);
  wb_calc_rank_clear (&a);
  wb_calc_rank_clear (&b);
}

/* D is between its parts, has no order, takes weights in any unit, and a weight of 2 is the part twice. */
static void
test_desirability (void)
{
  const double d[] = { 0.4, 0.9, 0.7 }, weights[] = { 1.0, 2.0, 0.5 };
  const double turned[] = { 0.7, 0.4, 0.9 }, turned_weights[] = { 0.4e308, 0.8e308, 1.6e308 };
  const double tiny_weights[] = { 4 * DBL_TRUE_MIN, 8 * DBL_TRUE_MIN, 2 * DBL_TRUE_MIN };
  const double twice[] = { 0.4, 0.9, 0.9 };
  double a, b;

  g_assert_cmpint (wb_calc_desirability_overall (d, weights, 3, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_desirability_overall (turned, turned_weights, 3, &b), ==, WB_CALC_OK);
  calc_assert_digits ("D", b, a, 14);
  g_assert_cmpint (wb_calc_desirability_overall (d, tiny_weights, 3, &b), ==, WB_CALC_OK);
  calc_assert_digits ("D", b, a, 14);
  g_assert_true (a > 0.4 && a < 0.9);
  g_assert_cmpint (wb_calc_desirability_overall (d, weights, 2, &a), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_desirability_overall (twice, NULL, 3, &b), ==, WB_CALC_OK);
  calc_assert_digits ("D", b, a, 14);
}

/* Units of length and time of a group carry over to what it foretells: draws are paired by their seed. */
static void
test_foretell (void)
{
  WbCalcGrowthGroup a = { .status = WB_CALC_OK, .log_level = log (80.0), .log_pace = log (1.5), .var_log_level = 0.002,
                          .var_log_pace = 0.02, .cov = 0.003, .df = 6.0, .sigma = 1.0, .between_units_sd = 0.04, .between_runs_sd = 0.03 };
  WbCalcGrowthGroup b = a;
  WbCalcGrowthTime at, bt;
  double value, low, high, other_value, other_low, other_high;

  b.log_level += log (UNIT);
  b.log_pace += log (60.0);
  g_assert_cmpint (wb_calc_growth_time_to (&a, 76.0, WB_CALC_GROWTH_NEXT_RUN, 0.9, 5, 1000, &at), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_growth_time_to (&b, 76.0 * UNIT, WB_CALC_GROWTH_NEXT_RUN, 0.9, 5, 1000, &bt), ==, WB_CALC_OK);
  calc_assert_digits ("time", bt.value, 60.0 * at.value, 10);
  calc_assert_digits ("low", bt.low, 60.0 * at.low, 10);
  g_assert_cmpfloat (bt.p_never, ==, at.p_never);
  g_assert_cmpint (wb_calc_growth_at (&a, 2.0, WB_CALC_GROWTH_MEAN, 0.9, &value, &low, &high), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_growth_at (&b, 120.0, WB_CALC_GROWTH_MEAN, 0.9, &other_value, &other_low, &other_high), ==, WB_CALC_OK);
  calc_assert_digits ("value", other_value, UNIT * value, 12);
  calc_assert_digits ("low", other_low, UNIT * low, 12);
  calc_assert_digits ("high", other_high, UNIT * high, 12);
  g_assert_cmpint (wb_calc_growth_draw (&a, WB_CALC_GROWTH_MEAN, 0.3, -0.4, 1.1, 0.0, &value, &low), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_growth_draw (&b, WB_CALC_GROWTH_MEAN, 0.3, -0.4, 1.1, 0.0, &other_value, &other_low), ==, WB_CALC_OK);
  calc_assert_digits ("level", other_value, UNIT * value, 12);
  calc_assert_digits ("pace", other_low, 60.0 * low, 12);
  g_assert_cmpint (wb_calc_growth_draw (&a, WB_CALC_GROWTH_MEAN, NAN, -0.4, 1.1, 0.0, &value, &low), ==, WB_CALC_BAD_INPUT);
}

/* Quantiles: where GSL's own inverse gives NaN, they undo the chance all the same. */
static void
test_quantiles (void)
{
  /* By the series of the incomplete gamma function at small x: P = (x / 2)^a / Gamma (a + 1), a = df / 2. */
  const struct { double p, df; } few[] = { { 0.3, 0.1 }, { 0.108809, 0.203958 }, { 0.01, 0.1 } };

  for (gsize i = 0; i < G_N_ELEMENTS (few); i++)
    {
      double a = 0.5 * few[i].df;

      calc_assert_digits ("chi-square", wb_calc_chisq_quantile (few[i].p, few[i].df),
                          2.0 * exp ((log (few[i].p) + lgamma (a + 1.0)) / a), 8);
    }
  /* Cauchy at one degree of freedom: t = -cot (pi p), far out -1 / (pi p). */
  calc_assert_digits ("t", wb_calc_student_quantile (1e-250, 1.0), -1.0 / (G_PI * 1e-250), 9);
  calc_assert_digits ("t", wb_calc_student_quantile (0.9, 1.0), 1.0 / tan (G_PI * 0.1), 13);
  g_assert_true (wb_calc_student_quantile (1e-300, 0.5) == -INFINITY);
  /* Meeting in the middle: just before and just behind where the library gives up. */
  for (double p = 1e-100; p > 1e-220; p *= 1e-4)
    {
      double ratio = wb_calc_student_quantile (p * 1e-4, 0.8) / wb_calc_student_quantile (p, 0.8);

      calc_assert_digits ("a power of the chance", log (ratio), log (1e4) / 0.8, 9);
    }
  for (double p = 0.05; p < 1.0; p += 0.1)
    {
      g_assert_cmpfloat (wb_calc_student_quantile (p, 3.0), <, wb_calc_student_quantile (p + 0.01, 3.0));
      g_assert_cmpfloat (wb_calc_chisq_quantile (p, 3.0), <, wb_calc_chisq_quantile (p, 4.0));
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/properties/a-summary-knows-no-order-and-no-unit", test_summary);
  g_test_add_func ("/calc/properties/a-line-knows-no-order-and-no-unit", test_linear);
  g_test_add_func ("/calc/properties/a-line-backwards-knows-no-order-and-no-unit", test_inverse);
  g_test_add_func ("/calc/properties/a-prior-in-the-same-unit-leaves-ridge-alone", test_ridge);
  g_test_add_func ("/calc/properties/one-way-knows-no-order-and-no-unit", test_anova);
  g_test_add_func ("/calc/properties/comparisons-know-no-order-and-no-unit", test_comparisons);
  g_test_add_func ("/calc/properties/censored-fits-know-no-order-and-no-unit", test_censored);
  g_test_add_func ("/calc/properties/chances-of-ranks-know-no-unit", test_rank);
  g_test_add_func ("/calc/properties/desirability-lies-between-its-parts", test_desirability);
  g_test_add_func ("/calc/properties/what-is-foretold-carries-its-units", test_foretell);
  g_test_add_func ("/calc/properties/quantiles-where-the-library-gives-up", test_quantiles);
  return g_test_run ();
}
