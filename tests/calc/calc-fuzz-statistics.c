/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "calc-fuzz.h"
#include "wb-calc-anova.h"
#include "wb-calc-compare.h"
#include "wb-calc-ellipse.h"
#include "wb-calc-linear.h"
#include "wb-calc-power.h"
#include "wb-calc-quantile.h"
#include "wb-calc-ridge.h"
#include "wb-calc-summary.h"

#define MOST CALC_FUZZ_MOST

static bool
is_nan_or_chance (double p)
{
  return isnan (p) || (p >= 0.0 && p <= 1.0);
}

/* Some quantiles ask for infinite values to be taken: only NaN is refused there. */
static void
check_order_statistics (CalcFuzz *fuzz,
                        double   *x,
                        gsize     n)
{
  double p[] = { wb_calc_random_uniform (&fuzz->random), 0.0, 1.0 };
  double quantiles[3];
  bool has_nan = false;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_summary_quantiles";
  for (gsize i = 0; i < n; i++)
    has_nan = has_nan || isnan (x[i]);
  status = wb_calc_summary_quantiles (x, n, p, 3, quantiles);
  calc_fuzz_expect (fuzz, (status == WB_CALC_BAD_INPUT) == has_nan, "a NaN passed, or was seen where none is");
  if (status != WB_CALC_OK)
    return;
  calc_fuzz_expect (fuzz, quantiles[1] <= quantiles[0] && quantiles[0] <= quantiles[2], "quantiles are out of order");
  fuzz->subject = "wb_calc_summary_sort";
  wb_calc_summary_sort (x, n);
  for (gsize i = 1; i < n; i++)
    calc_fuzz_expect (fuzz, x[i - 1] <= x[i], "not sorted");
  fuzz->subject = "wb_calc_summary_sorted_quantile";
  calc_fuzz_expect (fuzz, wb_calc_summary_sorted_quantile (x, n, p[0]) == quantiles[0], "another quantile");
}

void
calc_fuzz_summary (CalcFuzz *fuzz)
{
  double x[MOST];
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  WbCalcSummary summary;

  fuzz->subject = "wb_calc_summary_of";
  calc_fuzz_fill (fuzz, x, n);
  if (calc_fuzz_expect_status (fuzz, wb_calc_summary_of (x, n, &summary)))
    {
      calc_fuzz_expect (fuzz, summary.min <= summary.mean && summary.mean <= summary.max, "mean outside the values");
      calc_fuzz_expect (fuzz, n == 1 ? isnan (summary.sd) : summary.sd >= 0.0 && isfinite (summary.sd), "sd");
      calc_fuzz_expect (fuzz, isnan (summary.autocorr) || fabs (summary.autocorr) <= 1.0, "autocorrelation");
    }
  check_order_statistics (fuzz, x, n);
}

void
calc_fuzz_quantiles (CalcFuzz *fuzz)
{
  double p = calc_fuzz_chance (fuzz, 0.7) ? wb_calc_random_uniform (&fuzz->random) : calc_fuzz_number (fuzz);
  double df = calc_fuzz_chance (fuzz, 0.1) ? INFINITY : calc_fuzz_chance (fuzz, 0.5) ? calc_fuzz_positive (fuzz) : calc_fuzz_number (fuzz);
  bool inside = p > 0.0 && p < 1.0;
  double q;

  fuzz->subject = "wb_calc_normal_quantile";
  q = wb_calc_normal_quantile (p);
  calc_fuzz_expect (fuzz, inside ? isfinite (q) : isnan (q), "outside and inside the domain");
  fuzz->subject = "wb_calc_student_quantile";
  q = wb_calc_student_quantile (p, df);
  /* With few degrees of freedom, or p at its ends, t may lie beyond the range of a double. */
  calc_fuzz_expect (fuzz, inside && df > 0.0 ? isfinite (q) || (!isnan (q) && (df < 1.0 || p < 1e-100)) : isnan (q),
                    "outside and inside the domain");
  fuzz->subject = "wb_calc_chisq_quantile";
  q = wb_calc_chisq_quantile (p, df);
  calc_fuzz_expect (fuzz, inside && df > 0.0 ? q >= 0.0 && isinf (q) == isinf (df) : isnan (q), "outside and inside the domain");
  fuzz->subject = "wb_calc_normal_below";
  calc_fuzz_expect_chance (fuzz, wb_calc_normal_below (df), "P");
  calc_fuzz_expect (fuzz, isnan (wb_calc_normal_below (NAN)), "NaN passed");
}

void
calc_fuzz_linear (CalcFuzz *fuzz)
{
  double x[MOST * 4], y[MOST], weights[MOST], at[4];
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  gsize columns = calc_fuzz_below (fuzz, 5);
  bool weighted = calc_fuzz_chance (fuzz, 0.3);
  WbCalcLinear fit;
  WbCalcLinearPrediction prediction;

  fuzz->subject = "wb_calc_linear_fit";
  calc_fuzz_fill (fuzz, x, n * columns);
  calc_fuzz_fill (fuzz, y, n);
  if (weighted)
    calc_fuzz_fill_positive (fuzz, weights, n);
  if (!calc_fuzz_expect_status (fuzz, wb_calc_linear_fit (x, y, weighted ? weights : NULL, n, columns, calc_fuzz_chance (fuzz, 0.7), &fit)))
    {
      calc_fuzz_expect (fuzz, fit.coefficient == NULL && fit.covariance == NULL, "something is left of a failure");
      return;
    }
  calc_fuzz_expect_finite (fuzz, fit.coefficient, fit.p, "a coefficient");
  calc_fuzz_expect_finite (fuzz, fit.covariance, fit.p * fit.p, "a covariance");
  calc_fuzz_expect (fuzz, isfinite (fit.residual_sum_sq) && isfinite (fit.residual_sd) && isfinite (fit.regression_sum_sq), "sums of squares");
  calc_fuzz_expect (fuzz, is_nan_or_chance (fit.r_squared) && is_nan_or_chance (fit.p_value), "R2 or p");
  calc_fuzz_expect (fuzz, isnan (fit.f) || fit.f >= 0.0, "F");
  for (gsize j = 0; j < fit.p; j++)
    calc_fuzz_expect (fuzz, wb_calc_linear_coefficient_sd (&fit, j) >= 0.0, "sd of a coefficient");
  calc_fuzz_expect (fuzz, isnan (wb_calc_linear_coefficient_sd (&fit, fit.p)), "a coefficient that there is not");

  fuzz->subject = "wb_calc_linear_predict";
  calc_fuzz_fill (fuzz, at, columns);
  if (calc_fuzz_expect_status (fuzz, wb_calc_linear_predict (&fit, at, 0.9, &prediction)))
    calc_fuzz_expect (fuzz, isfinite (prediction.new_low) && isfinite (prediction.new_high) && prediction.new_low <= prediction.low
                                && prediction.low <= prediction.value && prediction.value <= prediction.high,
                      "an interval that is none");
  wb_calc_linear_clear (&fit);
}

static void
check_anova (CalcFuzz          *fuzz,
             const WbCalcAnova *result)
{
  calc_fuzz_expect (fuzz, isfinite (result->mean) && isfinite (result->total_sum_sq) && isfinite (result->residual_sum_sq), "sums");
  calc_fuzz_expect (fuzz, result->residual_df == 0 ? isnan (result->residual_mean_sq) : isfinite (result->residual_mean_sq), "mean square");
  calc_fuzz_expect (fuzz, isnan (result->r_squared) || (result->r_squared >= -1e-9 && result->r_squared <= 1.0), "R2");
  for (gsize t = 0; t < result->n_terms; t++)
    {
      const WbCalcAnovaTerm *term = &result->terms[t];

      calc_fuzz_expect (fuzz, isfinite (term->sum_sq) && term->sum_sq >= 0.0, "sum of squares");
      calc_fuzz_expect (fuzz, isnan (term->f) == isnan (term->p) && (isnan (term->f) || term->f >= 0.0), "F");
      calc_fuzz_expect (fuzz, is_nan_or_chance (term->p) && is_nan_or_chance (term->partial_eta_sq), "p or share");
      calc_fuzz_expect (fuzz, isnan (term->eta_sq) || (term->eta_sq >= 0.0 && term->eta_sq <= 1.0 + 1e-9), "share");
    }
}

void
calc_fuzz_anova (CalcFuzz *fuzz)
{
  double y[MOST];
  gsize first[MOST], second[MOST];
  const gsize *level[] = { first, second };
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  gsize n_levels[] = { 1 + calc_fuzz_below (fuzz, 4), 1 + calc_fuzz_below (fuzz, 4) };
  gsize n_factors = calc_fuzz_below (fuzz, 3);
  WbCalcAnovaData data = { n, y, n_factors, level, n_levels };
  unsigned terms[3];
  gsize n_terms;
  bool bad_first, bad_second;
  WbCalcAnova result;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_anova_fit";
  n_terms = wb_calc_anova_all_terms (n_factors, 1 + calc_fuzz_below (fuzz, 2), terms);
  calc_fuzz_fill (fuzz, y, n);
  bad_first = calc_fuzz_indexes (fuzz, first, n, n_levels[0]);
  bad_second = calc_fuzz_indexes (fuzz, second, n, n_levels[1]);
  status = wb_calc_anova_fit (&data, terms, n_terms, NULL, NULL, &result);
  calc_fuzz_expect (fuzz, status == WB_CALC_BAD_INPUT || !((bad_first && n_factors > 0) || (bad_second && n_factors > 1)), "a level out of range passed");
  if (calc_fuzz_expect_status (fuzz, status))
    check_anova (fuzz, &result);
  wb_calc_anova_clear (&result);

  fuzz->subject = "wb_calc_anova_one_way";
  status = wb_calc_anova_one_way (y, first, n, n_levels[0], &result);
  calc_fuzz_expect (fuzz, status == WB_CALC_BAD_INPUT || !bad_first, "a group out of range passed");
  if (calc_fuzz_expect_status (fuzz, status))
    check_anova (fuzz, &result);
  wb_calc_anova_clear (&result);
}

static void
check_ridge (CalcFuzz    *fuzz,
             WbCalcRidge *fit)
{
  double at[4], root[16];
  WbCalcRidgePrediction prediction;

  calc_fuzz_expect_finite (fuzz, fit->mean, fit->p, "a mean");
  calc_fuzz_expect_finite (fuzz, fit->covariance, fit->p * fit->p, "a covariance");
  calc_fuzz_expect_finite (fuzz, fit->precision, fit->p * fit->p, "a precision");
  calc_fuzz_expect (fuzz, fit->a > 0.0 && isfinite (fit->a) && fit->b > 0.0 && isfinite (fit->b), "a or b");
  calc_fuzz_expect (fuzz, !isinf (fit->log_marginal), "the evidence");
  for (gsize j = 0; j < fit->p; j++)
    calc_fuzz_expect (fuzz, wb_calc_ridge_coefficient_scale (fit, j) >= 0.0, "scale of a coefficient");
  fuzz->subject = "wb_calc_ridge_root";
  if (wb_calc_ridge_root (fit, root) == WB_CALC_OK)
    calc_fuzz_expect_finite (fuzz, root, fit->p * fit->p, "a root");
  fuzz->subject = "wb_calc_ridge_predict";
  calc_fuzz_fill (fuzz, at, fit->p);
  if (!calc_fuzz_expect_status (fuzz, wb_calc_ridge_predict (fit, at, &prediction)))
    return;
  calc_fuzz_expect (fuzz, isfinite (prediction.mean) && isfinite (prediction.scale_new) && prediction.scale_new >= prediction.scale_mean
                              && prediction.df > 0.0,
                    "a distribution that is none");
  fuzz->subject = "wb_calc_ridge_prediction_below";
  calc_fuzz_expect_chance (fuzz, wb_calc_ridge_prediction_below (&prediction, calc_fuzz_number (fuzz)), "P");
}

void
calc_fuzz_ridge (CalcFuzz *fuzz)
{
  double x[MOST * 4], y[MOST], weights[MOST], mean[4], precision[16] = { 0 };
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  gsize p = calc_fuzz_below (fuzz, 5);
  bool weighted = calc_fuzz_chance (fuzz, 0.3);
  WbCalcRidgePrior prior = { mean, precision, calc_fuzz_positive (fuzz), calc_fuzz_positive (fuzz) };
  WbCalcRidge fit;

  fuzz->subject = "wb_calc_ridge_fit";
  calc_fuzz_fill (fuzz, x, n * p);
  calc_fuzz_fill (fuzz, y, n);
  calc_fuzz_fill (fuzz, mean, p);
  if (weighted)
    calc_fuzz_fill_positive (fuzz, weights, n);
  for (gsize j = 0; j < p; j++)
    precision[j * p + j] = calc_fuzz_chance (fuzz, 0.2) ? 0.0 : calc_fuzz_positive (fuzz);
  if (calc_fuzz_expect_status (fuzz, wb_calc_ridge_fit (x, y, weighted ? weights : NULL, n, p, &prior, &fit)))
    check_ridge (fuzz, &fit);
  else
    calc_fuzz_expect (fuzz, fit.mean == NULL, "something is left of a failure");
  wb_calc_ridge_clear (&fit);
}

void
calc_fuzz_ellipse (CalcFuzz *fuzz)
{
  double x[MOST], y[MOST];
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  WbCalcEllipse ellipse;

  fuzz->subject = "wb_calc_ellipse_fit";
  calc_fuzz_fill (fuzz, x, n);
  calc_fuzz_fill (fuzz, y, n);
  if (!calc_fuzz_expect_status (fuzz, wb_calc_ellipse_fit (x, y, n, &ellipse)))
    return;
  calc_fuzz_expect (fuzz, isfinite (ellipse.centre_x) && isfinite (ellipse.centre_y), "the centre");
  calc_fuzz_expect (fuzz, isfinite (ellipse.semi_major) && ellipse.semi_major >= ellipse.semi_minor && ellipse.semi_minor > 0.0, "the axes");
  calc_fuzz_expect (fuzz, ellipse.theta >= 0.0 && ellipse.theta < G_PI, "the angle");
  calc_fuzz_expect_finite (fuzz, ellipse.conic, 6, "the conic");
}

void
calc_fuzz_tukey (CalcFuzz *fuzz)
{
  double mean[6], mean_sq[1];
  gsize count[6];
  gsize k = calc_fuzz_below (fuzz, 6);
  double df = 1.0 + calc_fuzz_positive (fuzz);
  WbCalcComparison pairs[15];

  fuzz->subject = "wb_calc_compare_tukey_pair";
  calc_fuzz_fill (fuzz, mean, 4);
  if (calc_fuzz_expect_status (fuzz, wb_calc_compare_tukey_pair (mean[0], fabs (mean[1]), 2 + k, fabs (mean[2]), df, fabs (mean[3]), pairs)))
    {
      calc_fuzz_expect_chance (fuzz, pairs[0].p, "p");
      calc_fuzz_expect (fuzz, isfinite (pairs[0].low) && isfinite (pairs[0].high), "an interval that is none");
    }
  fuzz->poisoned = false;
  fuzz->subject = "wb_calc_compare_tukey";
  calc_fuzz_fill (fuzz, mean, k);
  calc_fuzz_fill_positive (fuzz, mean_sq, 1);
  for (gsize i = 0; i < k; i++)
    count[i] = 1 + calc_fuzz_below (fuzz, 9);
  if (!calc_fuzz_expect_status (fuzz, wb_calc_compare_tukey (mean, count, k, mean_sq[0], df, 0.9, pairs)))
    return;
  for (gsize i = 0; i < k * (k - 1) / 2; i++)
    {
      calc_fuzz_expect_chance (fuzz, pairs[i].p, "p");
      calc_fuzz_expect (fuzz, isfinite (pairs[i].low) && isfinite (pairs[i].high) && pairs[i].low <= pairs[i].difference
                                  && pairs[i].difference <= pairs[i].high,
                        "an interval that is none");
    }
}

void
calc_fuzz_equivalence (CalcFuzz *fuzz)
{
  double numbers[3];
  double df = calc_fuzz_chance (fuzz, 0.1) ? INFINITY : 1.0 + calc_fuzz_positive (fuzz);
  WbCalcEquivalence result;

  fuzz->subject = "wb_calc_compare_equivalence";
  calc_fuzz_fill (fuzz, numbers, 3);
  if (!calc_fuzz_expect_status (fuzz, wb_calc_compare_equivalence (numbers[0], fabs (numbers[1]), df, fabs (numbers[2]), 0.05, &result)))
    return;
  calc_fuzz_expect_chance (fuzz, result.p, "p");
  calc_fuzz_expect (fuzz, isfinite (result.low) && isfinite (result.high) && result.low <= numbers[0] && numbers[0] <= result.high,
                    "an interval that is none");
  calc_fuzz_expect (fuzz, result.equivalent == (result.p <= 0.05), "p and the answer");
}

void
calc_fuzz_range (CalcFuzz *fuzz)
{
  gsize k = calc_fuzz_chance (fuzz, 0.02) ? calc_fuzz_below (fuzz, 1100) : calc_fuzz_below (fuzz, 12);
  double df = calc_fuzz_chance (fuzz, 0.1) ? INFINITY : calc_fuzz_number (fuzz);
  double q = calc_fuzz_number (fuzz);
  bool inside = k >= 2 && k <= 1000 && df >= 1.0;
  double p = NAN, tail = NAN, back = NAN;

  fuzz->subject = "wb_calc_compare_studentized_range";
  calc_fuzz_expect (fuzz, (wb_calc_compare_studentized_range (q, k, df, &p) == WB_CALC_OK) == inside, "outside and inside the domain");
  calc_fuzz_expect (fuzz, wb_calc_compare_studentized_range (NAN, k, df, &back) == WB_CALC_BAD_INPUT, "NaN passed");
  if (inside)
    calc_fuzz_expect_chance (fuzz, p, "P");
  fuzz->subject = "wb_calc_compare_studentized_range_tail";
  calc_fuzz_expect (fuzz, (wb_calc_compare_studentized_range_tail (q, k, df, &tail) == WB_CALC_OK) == inside, "outside and inside the domain");
  if (inside)
    calc_fuzz_expect (fuzz, fabs (p + tail - 1.0) < 1e-9, "the two tails do not make 1");
  fuzz->subject = "wb_calc_compare_studentized_range_quantile";
  p = wb_calc_random_uniform (&fuzz->random);
  calc_fuzz_expect (fuzz, (wb_calc_compare_studentized_range_quantile (p, k, df, &back) == WB_CALC_OK) == inside, "outside and inside the domain");
  if (inside)
    calc_fuzz_expect (fuzz, isfinite (back) && back > 0.0, "the quantile");
}

void
calc_fuzz_power (CalcFuzz *fuzz)
{
  double numbers[4];
  double power = NAN;
  gsize most = 2 + calc_fuzz_below (fuzz, 500);
  WbCalcPowerSamples samples = { 0, NAN };

  fuzz->subject = "wb_calc_power_of_f";
  calc_fuzz_fill_positive (fuzz, numbers, 3);
  if (calc_fuzz_chance (fuzz, 0.5))
    numbers[1] += 1.0;
  if (calc_fuzz_expect_status (fuzz, wb_calc_power_of_f (wb_calc_random_uniform (&fuzz->random), numbers[0], numbers[1], numbers[2], &power)))
    calc_fuzz_expect_chance (fuzz, power, "the power");
  fuzz->poisoned = false;
  fuzz->subject = "wb_calc_power_samples";
  calc_fuzz_fill_positive (fuzz, numbers, 2);
  if (calc_fuzz_expect_status (fuzz, wb_calc_power_samples (numbers[0], numbers[1], 2 + calc_fuzz_below (fuzz, 20), 0.05, 0.8, most, &samples)))
    {
      calc_fuzz_expect (fuzz, samples.n >= 2 && samples.n <= most, "samples");
      calc_fuzz_expect (fuzz, samples.power >= 0.8 && samples.power <= 1.0, "power");
    }
}

void
calc_fuzz_ranks (CalcFuzz *fuzz)
{
  double y[MOST], sums[4], adjusted[MOST];
  gsize group[MOST];
  gsize n = calc_fuzz_below (fuzz, MOST + 1);
  gsize n_groups = 1 + calc_fuzz_below (fuzz, 4);
  bool bad;
  bool chances = true;
  WbCalcKruskalWallis result;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_compare_kruskal_wallis";
  calc_fuzz_fill (fuzz, y, n);
  bad = calc_fuzz_indexes (fuzz, group, n, n_groups);
  status = wb_calc_compare_kruskal_wallis (y, group, n, n_groups, sums, &result);
  calc_fuzz_expect (fuzz, status == WB_CALC_BAD_INPUT || !bad, "a group out of range passed");
  if (calc_fuzz_expect_status (fuzz, status))
    {
      calc_fuzz_expect (fuzz, isfinite (result.h) && result.h >= 0.0 && result.df >= 1, "H");
      calc_fuzz_expect_chance (fuzz, result.p, "p");
    }

  fuzz->subject = "wb_calc_compare_holm";
  for (gsize i = 0; i < n && calc_fuzz_chance (fuzz, 0.95); i++)
    y[i] = wb_calc_random_uniform (&fuzz->random);
  for (gsize i = 0; i < n; i++)
    chances = chances && y[i] >= 0.0 && y[i] <= 1.0;
  status = wb_calc_compare_holm (y, n, adjusted);
  calc_fuzz_expect (fuzz, status == (chances ? WB_CALC_OK : WB_CALC_BAD_INPUT), "no chance passed, or a chance was refused");
  for (gsize i = 0; i < n && chances; i++)
    calc_fuzz_expect (fuzz, adjusted[i] >= y[i] && adjusted[i] <= 1.0, "an adjusted p below its own");
}
