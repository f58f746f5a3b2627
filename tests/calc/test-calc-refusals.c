/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

/* A NaN or an infinity at any place of any array that a function takes is WB_CALC_BAD_INPUT. */

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-sample.h"
#include "wb-calc-anova.h"
#include "wb-calc-censored.h"
#include "wb-calc-compare.h"
#include "wb-calc-desirability.h"
#include "wb-calc-ellipse.h"
#include "wb-calc-growth.h"
#include "wb-calc-inverse.h"
#include "wb-calc-linear.h"
#include "wb-calc-nonlinear.h"
#include "wb-calc-rank.h"
#include "wb-calc-ridge.h"
#include "wb-calc-summary.h"

#define N CALC_SAMPLE_N

typedef WbCalcStatus (*Call) (CalcSample *sample);

static WbCalcStatus
call_summary (CalcSample *sample)
{
  WbCalcSummary summary;

  return wb_calc_summary_of (sample->y, N, &summary);
}

static WbCalcStatus
call_linear (CalcSample *sample)
{
  WbCalcLinear fit;
  WbCalcStatus status = wb_calc_linear_fit (sample->x, sample->y, sample->weights, N, 2, true, &fit);

  wb_calc_linear_clear (&fit);
  return status;
}

static WbCalcStatus
call_inverse (CalcSample *sample)
{
  WbCalcInverseLine line;

  return wb_calc_inverse_fit (sample->t, sample->y, sample->weights, N, &line);
}

static WbCalcStatus
call_inverse_known (CalcSample *sample)
{
  WbCalcInverseLine line;

  return wb_calc_inverse_fit_known (sample->t, sample->y, sample->weights, N, &line);
}

/* The readings of what is looked for, in the first places of `x`. */
static WbCalcStatus
call_inverse_new (CalcSample *sample)
{
  WbCalcInverseLine line;
  WbCalcInverse inverse;
  WbCalcStatus status = wb_calc_inverse_fit (sample->t, sample->y, NULL, N, &line);

  return status != WB_CALC_OK ? status : wb_calc_inverse_new (&line, sample->x, 3, 0.9, &inverse);
}

static WbCalcStatus
call_inverse_at (CalcSample *sample)
{
  WbCalcInverseLine line;
  WbCalcInverse inverse;
  WbCalcStatus status = wb_calc_inverse_fit (sample->t, sample->y, NULL, N, &line);

  return status != WB_CALC_OK ? status : wb_calc_inverse_at (&line, sample->weights[0], sample->weights[1], 0.9, &inverse);
}

/* Both and their variances. */
static WbCalcStatus
call_inverse_ratio (CalcSample *sample)
{
  double *w = sample->weights;
  WbCalcInverse inverse;

  return wb_calc_inverse_ratio (w[0], w[1], w[2], w[3], 1e-3 * w[4], 5, 0.9, &inverse);
}

static WbCalcStatus
call_ridge (CalcSample *sample)
{
  const double mean[] = { 0, 0 }, precision[] = { 0.1, 0, 0, 0.1 };
  WbCalcRidgePrior prior = { mean, precision, 2, 1 };
  WbCalcRidge fit;
  WbCalcStatus status = wb_calc_ridge_fit (sample->x, sample->y, sample->weights, N, 2, &prior, &fit);

  wb_calc_ridge_clear (&fit);
  return status;
}

/* The prior's numbers, in the first places of `t`. */
static WbCalcStatus
call_ridge_prior (CalcSample *sample)
{
  double *p = sample->t;
  const double precision[] = { p[2], 0, 0, p[3] };
  WbCalcRidgePrior prior = { p, precision, p[4], p[5] };
  WbCalcRidge fit;
  WbCalcStatus status = wb_calc_ridge_fit (sample->x, sample->y, NULL, N, 2, &prior, &fit);

  wb_calc_ridge_clear (&fit);
  return status;
}

static WbCalcStatus
call_anova (CalcSample *sample)
{
  WbCalcAnova result;
  WbCalcStatus status = wb_calc_anova_one_way (sample->y, sample->group, N, 3, &result);

  wb_calc_anova_clear (&result);
  return status;
}

static WbCalcStatus
call_kruskal_wallis (CalcSample *sample)
{
  WbCalcKruskalWallis result;

  return wb_calc_compare_kruskal_wallis (sample->y, sample->group, N, 3, NULL, &result);
}

static WbCalcStatus
call_ellipse (CalcSample *sample)
{
  double ring_x[N], ring_y[N];
  WbCalcEllipse ellipse;

  /* Round a ring, so that a fit is found: what is poisoned stays so. */
  for (gsize i = 0; i < N; i++)
    {
      ring_x[i] = 0.01 * sample->x[2 * i] + 3.0 * cos (0.5 * (double) i);
      ring_y[i] = 0.01 * sample->y[i] + 2.0 * sin (0.5 * (double) i);
    }
  return wb_calc_ellipse_fit (ring_x, ring_y, N, &ellipse);
}

static WbCalcStatus
call_censored (CalcSample *sample)
{
  double beta[] = { 20.0, 1.0 };
  WbCalcCensoredFit fit;

  return wb_calc_censored_fit (sample->y, sample->censored, N, 2, calc_sample_line, sample, beta, 5.0, &fit);
}

static WbCalcStatus
call_nonlinear (CalcSample *sample)
{
  double beta[] = { 20.0, 1.0 };
  WbCalcNonlinear fit;

  return wb_calc_nonlinear_fit (sample->y, N, 2, calc_sample_line_alone, sample, NULL, NULL, beta, &fit);
}

static WbCalcStatus
call_growth_simple (CalcSample *sample)
{
  double y[N];
  WbCalcGrowthCurve curve;

  for (gsize i = 0; i < N; i++)
    y[i] = sample->y[i] - 26.0 + wb_calc_growth_value (80.0, 1.5, (double) (i % 4 + 1));
  return wb_calc_growth_fit_simple (sample->t, y, sample->censored, N, &curve);
}

static WbCalcStatus
call_growth_least_squares (CalcSample *sample)
{
  double y[N];
  WbCalcGrowthCurve curve;

  for (gsize i = 0; i < N; i++)
    y[i] = sample->y[i] - 26.0 + wb_calc_growth_value (80.0, 1.5, (double) (i % 4 + 1));
  return wb_calc_growth_fit_least_squares (sample->t, y, N, 70.0, 1.0, &curve);
}

static WbCalcStatus
call_rank (CalcSample *sample)
{
  WbCalcRankOptions options = { 0.05, -INFINITY };
  WbCalcRank result;
  WbCalcStatus status = wb_calc_rank_acceptability (sample->y, N / 3, 3, &options, NULL, NULL, &result);

  wb_calc_rank_clear (&result);
  return status;
}

/* Three means, a mean square, degrees of freedom and a coverage, in the first places of `weights`. */
static WbCalcStatus
call_tukey (CalcSample *sample)
{
  const double *w = sample->weights;
  const gsize count[] = { 4, 4, 3 };
  WbCalcComparison pairs[3];

  return wb_calc_compare_tukey (w, count, 3, w[3], isinf (w[4]) ? NAN : 8.0 + w[4], 0.5 * w[5], pairs);
}

static WbCalcStatus
call_tukey_pair (CalcSample *sample)
{
  const double *w = sample->weights;
  WbCalcComparison pair;

  return wb_calc_compare_tukey_pair (w[0], w[1], 4, w[2], isinf (w[3]) ? NAN : 8.0 + w[3], w[4], &pair);
}

static WbCalcStatus
call_holm (CalcSample *sample)
{
  double p[N], adjusted[N];

  for (gsize i = 0; i < N; i++)
    p[i] = sample->weights[i] / 2.0;
  return wb_calc_compare_holm (p, N, adjusted);
}

static WbCalcStatus
call_desirability (CalcSample *sample)
{
  double d[] = { 0.5, 0.7, 1.0 };
  double overall;

  return wb_calc_desirability_overall (d, sample->weights, 3, &overall);
}

/* Every place of an array, and every kind of number that is none. */
static void
assert_refused (const char *name,
                Call        call,
                gsize       at,
                gsize       n)
{
  static const double poisons[] = { NAN, INFINITY, -INFINITY };

  for (gsize i = 0; i < n; i++)
    for (gsize k = 0; k < G_N_ELEMENTS (poisons); k++)
      {
        CalcSample sample = calc_sample_draw (3);

        if (call (&sample) != WB_CALC_OK)
          g_error ("%s refuses good data", name);
        *(double *) (gpointer) ((char *) &sample + at + i * sizeof (double)) = poisons[k];
        if (call (&sample) != WB_CALC_BAD_INPUT)
          g_error ("%s lets %g pass at %" G_GSIZE_FORMAT, name, poisons[k], i);
      }
}

static void
test_poison (void)
{
  assert_refused ("summary", call_summary, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("linear y", call_linear, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("linear x", call_linear, G_STRUCT_OFFSET (CalcSample, x), 2 * N);
  assert_refused ("linear weights", call_linear, G_STRUCT_OFFSET (CalcSample, weights), N);
  assert_refused ("inverse y", call_inverse, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("inverse x", call_inverse, G_STRUCT_OFFSET (CalcSample, t), N);
  assert_refused ("inverse weights", call_inverse, G_STRUCT_OFFSET (CalcSample, weights), N);
  assert_refused ("inverse by variances", call_inverse_known, G_STRUCT_OFFSET (CalcSample, weights), N);
  assert_refused ("inverse of new ones", call_inverse_new, G_STRUCT_OFFSET (CalcSample, x), 3);
  assert_refused ("inverse of a value", call_inverse_at, G_STRUCT_OFFSET (CalcSample, weights), 2);
  assert_refused ("ratio", call_inverse_ratio, G_STRUCT_OFFSET (CalcSample, weights), 5);
  assert_refused ("ridge y", call_ridge, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("ridge x", call_ridge, G_STRUCT_OFFSET (CalcSample, x), 2 * N);
  assert_refused ("ridge weights", call_ridge, G_STRUCT_OFFSET (CalcSample, weights), N);
  assert_refused ("ridge prior", call_ridge_prior, G_STRUCT_OFFSET (CalcSample, t), 6);
  assert_refused ("anova", call_anova, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("kruskal-wallis", call_kruskal_wallis, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("ellipse", call_ellipse, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("censored", call_censored, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("nonlinear", call_nonlinear, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("growth y", call_growth_simple, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("growth t", call_growth_simple, G_STRUCT_OFFSET (CalcSample, t), N);
  assert_refused ("growth by least squares y", call_growth_least_squares, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("growth by least squares t", call_growth_least_squares, G_STRUCT_OFFSET (CalcSample, t), N);
  assert_refused ("rank", call_rank, G_STRUCT_OFFSET (CalcSample, y), N);
  assert_refused ("tukey", call_tukey, G_STRUCT_OFFSET (CalcSample, weights), 6);
  assert_refused ("tukey pair", call_tukey_pair, G_STRUCT_OFFSET (CalcSample, weights), 5);
  assert_refused ("holm", call_holm, G_STRUCT_OFFSET (CalcSample, weights), N);
  assert_refused ("desirability", call_desirability, G_STRUCT_OFFSET (CalcSample, weights), 3);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/refusals/nan-and-infinity-are-refused-anywhere", test_poison);
  return g_test_run ();
}
