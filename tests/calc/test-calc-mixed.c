/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"
#include "wb-calc-linear.h"
#include "wb-calc-random.h"

static const WbCalcMixedColumn flat = { WB_CALC_MIXED_KNOWN, INFINITY };

/* A data set of one block whose one column is the mean, and what it stands in. */
typedef struct
{
  double           *y;
  size_t           *unit, *block;
  double           *ones;
  WbCalcMixedSpread spread[2];
  WbCalcMixedData   data;
} Batches;

static Batches
batches_load (const char *stem,
              double      shift,
              double      scale)
{
  g_autoptr (CalcTable) table = calc_table_load (stem);
  gsize n = calc_table_n_rows (table), n_batches;
  Batches self = { calc_table_numbers (table, "yield"), calc_table_levels (table, "batch", &n_batches), g_new0 (size_t, n), g_new (double, n),
                   { { .start = 40.0 * fabs (scale) }, { .start = 40.0 * fabs (scale) } }, { 0 } };

  for (gsize i = 0; i < n; i++)
    {
      self.ones[i] = 1.0;
      self.y[i] = shift + scale * self.y[i];
    }
  return self;
}

static WbCalcMixed *
batches_fit (Batches *self,
             gsize    n)
{
  WbCalcMixed *fit;

  self->data = (WbCalcMixedData) { .n_rows = n, .y = self->y, .unit = self->unit, .block = self->block, .n_blocks = 1,
                                   .n_global = 1, .global = self->ones, .global_column = &flat, .n_spreads = 2, .spread = self->spread };
  g_assert_cmpint (wb_calc_mixed_fit (&self->data, NULL, NULL, &fit), ==, WB_CALC_OK);
  return fit;
}

static void
batches_clear (Batches *self)
{
  g_free (self->y);
  g_free (self->unit);
  g_free (self->block);
  g_free (self->ones);
}

static WbCalcMixedContrast
ask (const WbCalcMixed *fit,
     const double      *global)
{
  WbCalcMixedTarget target = { 0, NULL, global };
  double weight = 1.0;
  WbCalcMixedContrast contrast;

  g_assert_cmpint (wb_calc_mixed_contrast (fit, &target, &weight, 1, &contrast), ==, WB_CALC_OK);
  return contrast;
}

static WbCalcMixedContrast
mean_of (const WbCalcMixed *fit)
{
  static const double one = 1.0;

  return ask (fit, &one);
}

/*
 * Davies' dyestuff: closed form of the balanced layout, lme4 beside it. The mean of 6
 * batches has 5 degrees of freedom; ours are found by second differences on the
 * logarithms, where they are 5 but for the differences' truncation.
 */
static void
test_dyestuff (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("dyestuff_certified");
  Batches batches = batches_load ("dyestuff_data", 0.0, 1.0);
  WbCalcMixed *fit = batches_fit (&batches, 30);
  WbCalcMixedContrast mean = mean_of (fit);

  calc_assert_digits ("mean", mean.value, calc_table_certified (certified, "intercept"), 10);
  calc_assert_digits ("sd", mean.sd, calc_table_certified_sd (certified, "intercept"), 8);
  calc_assert_digits ("df", mean.df, 5.0, 2.5);
  calc_assert_digits ("unit", wb_calc_mixed_get_spread (fit, WB_CALC_MIXED_UNIT), calc_table_certified (certified, "reml_sd_batch"), 8);
  calc_assert_digits ("run", wb_calc_mixed_get_spread (fit, WB_CALC_MIXED_RUN), calc_table_certified (certified, "reml_sd_residual"), 8);
  calc_assert_digits ("criterion", wb_calc_mixed_get_criterion (fit), calc_table_certified (certified, "reml_criterion"), 8);
  for (gsize g = 0; g < 6; g++)
    {
      g_autofree char *name = g_strdup_printf ("blup_effect[%c]", (char) ('A' + g));

      calc_assert_digits (name, wb_calc_mixed_get_unit (fit, g), calc_table_certified (certified, name), 8);
    }
  g_assert_true (isnan (wb_calc_mixed_get_unit (fit, 6)));
  wb_calc_mixed_free (fit);
  batches_clear (&batches);
}

/* Box and Tiao's dyestuff2 has its optimum at a batch variance of 0. */
static void
test_boundary (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("dyestuff2_certified");
  Batches batches = batches_load ("dyestuff2_data", 0.0, 1.0);
  WbCalcMixed *fit = batches_fit (&batches, 30);
  WbCalcMixedContrast mean = mean_of (fit);

  g_assert_cmpfloat (wb_calc_mixed_get_spread (fit, WB_CALC_MIXED_UNIT), ==, 0.0);
  calc_assert_digits ("run", wb_calc_mixed_get_spread (fit, WB_CALC_MIXED_RUN), calc_table_certified (certified, "reml_sd_residual"), 5);
  calc_assert_digits ("criterion", wb_calc_mixed_get_criterion (fit), calc_table_certified (certified, "reml_criterion"), 7);
  calc_assert_digits ("mean", mean.value, calc_table_certified (certified, "intercept"), 10);
  g_assert_cmpfloat (mean.df, ==, 5.0);
  wb_calc_mixed_free (fit);
  batches_clear (&batches);
}

/*
 * Belenky's sleepstudy as lme4's documentation fits it: reaction on days, intercept and
 * slope of each subject random, correlated and not. Subjects are blocks whose local
 * columns are random around the global ones.
 */
static void
check_sleepstudy (bool        correlated,
                  const char *prefix)
{
  g_autoptr (CalcTable) table = calc_table_load ("sleepstudy_data");
  g_autoptr (CalcTable) certified = calc_table_load ("sleepstudy_certified");
  gsize n = calc_table_n_rows (table), n_subjects;
  g_autofree gsize *subject = calc_table_levels (table, "subject", &n_subjects);
  g_autofree double *y = calc_table_numbers (table, "reaction");
  g_autofree double *x = g_new (double, 2 * n);
  WbCalcMixedColumn local[2] = { { 2, 0 }, { 3, 0 } }, global[2] = { flat, flat };
  WbCalcMixedSpread spread[4] = { { .start = 20 }, { .start = 0, .held = true }, { .start = 20 }, { .start = 5 } };
  WbCalcMixedData data = { .n_rows = n, .y = y, .unit = subject, .block = subject, .n_blocks = n_subjects, .n_local = 2, .local = x,
                           .local_column = local, .correlated = correlated, .n_global = 2, .global = x, .global_column = global,
                           .n_spreads = 4, .spread = spread };
  static const char *parts[] = { "sd_intercept", "sd_slope", "sd_residual" };
  static const size_t index[] = { 2, 3, WB_CALC_MIXED_RUN };
  g_autofree char *criterion = g_strconcat (prefix, "reml_criterion", NULL);
  WbCalcMixed *fit;

  for (gsize i = 0; i < n; i++)
    {
      x[2 * i] = 1.0;
      x[2 * i + 1] = calc_table_number (table, "days", i);
    }
  g_assert_cmpint (wb_calc_mixed_fit (&data, NULL, NULL, &fit), ==, WB_CALC_OK);
  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *name = g_strconcat (prefix, parts[i], NULL);

      calc_assert_digits (name, wb_calc_mixed_get_spread (fit, index[i]), calc_table_certified (certified, name), 6);
    }
  calc_assert_digits ("criterion", wb_calc_mixed_get_criterion (fit), calc_table_certified (certified, criterion), 9);
  if (correlated)
    {
      static const double intercept[] = { 1, 0 }, slope[] = { 0, 1 };
      WbCalcMixedTarget last = { n_subjects - 1, slope, NULL };
      double weight = 1.0;
      WbCalcMixedContrast of_slope = ask (fit, slope), of_last;

      calc_assert_digits ("correlation", wb_calc_mixed_get_correlation (fit), calc_table_certified (certified, "corr_intercept_slope"), 5);
      calc_assert_digits ("intercept", ask (fit, intercept).value, calc_table_certified (certified, "intercept"), 9);
      calc_assert_digits ("its sd", ask (fit, intercept).sd, calc_table_certified_sd (certified, "intercept"), 6);
      calc_assert_digits ("slope", of_slope.value, calc_table_certified (certified, "slope_days"), 9);
      calc_assert_digits ("its sd", of_slope.sd, calc_table_certified_sd (certified, "slope_days"), 6);
      /* lmerTest's documentation prints 17 degrees of freedom for it (from memory); the balanced layout has subjects - 1 */
      calc_assert_digits ("its df", of_slope.df, 17.0, 2);
      g_assert_cmpint (wb_calc_mixed_contrast (fit, &last, &weight, 1, &of_last), ==, WB_CALC_OK);
      calc_assert_digits ("a subject's slope", of_last.value, calc_table_certified (certified, "blup_slope[372]"), 6);
    }
  wb_calc_mixed_free (fit);
}

static void
test_sleepstudy (void)
{
  check_sleepstudy (true, "");
  check_sleepstudy (false, "uncorrelated_");
}

static void
test_shift_and_scale (void)
{
  Batches plain = batches_load ("dyestuff_data", 0.0, 1.0), moved = batches_load ("dyestuff_data", 1e6, -1e-3);
  WbCalcMixed *one = batches_fit (&plain, 30), *other = batches_fit (&moved, 30);

  calc_assert_digits ("mean", mean_of (other).value, 1e6 - 1e-3 * mean_of (one).value, 12);
  calc_assert_digits ("unit", wb_calc_mixed_get_spread (other, WB_CALC_MIXED_UNIT), 1e-3 * wb_calc_mixed_get_spread (one, WB_CALC_MIXED_UNIT), 5);
  calc_assert_digits ("df", mean_of (other).df, mean_of (one).df, 3);
  wb_calc_mixed_free (one);
  wb_calc_mixed_free (other);
  batches_clear (&plain);
  batches_clear (&moved);
}

/* An invented layout: 5 blocks, units of 1 to 4 runs, a covariate, a row outside now and then. */
#define N_BLOCKS 5
#define MAX_ROWS 64

typedef struct
{
  size_t            n;
  double            y[MAX_ROWS], variance[MAX_ROWS], local[MAX_ROWS], global[2 * MAX_ROWS];
  bool              outside[MAX_ROWS];
  size_t            unit[MAX_ROWS], block[MAX_ROWS];
  WbCalcMixedColumn local_column, global_column[2];
  WbCalcMixedSpread spread[3];
  WbCalcMixedData   data;
} Layout;

static void
layout_fill (Layout  *layout,
             uint64_t seed)
{
  WbCalcRandom random;
  size_t unit = 0;

  *layout = (Layout) { .local_column = { 2, 0 }, .global_column = { flat, flat },
                       .spread = { { .start = 0.5 }, { .start = 0.5 }, { .start = 0.5 } } };
  wb_calc_random_init (&random, seed, 1);
  for (size_t block = 0; block < N_BLOCKS; block++)
    {
      double of_block = 0.8 * wb_calc_random_normal (&random);

      for (size_t u = 0; u < 3; u++, unit++)
        {
          double of_unit = 0.6 * wb_calc_random_normal (&random);

          for (size_t r = 0; r < 1 + (block + u) % 4; r++)
            {
              size_t i = layout->n++;

              layout->block[i] = block;
              layout->unit[i] = unit;
              layout->local[i] = layout->global[2 * i] = 1.0;
              layout->global[2 * i + 1] = wb_calc_random_normal (&random);
              layout->variance[i] = 0.01 * (double) (1 + i % 3);
              layout->y[i] = 3.0 + 0.7 * layout->global[2 * i + 1] + of_block + of_unit
                             + hypot (0.4, sqrt (layout->variance[i])) * wb_calc_random_normal (&random);
            }
        }
      layout->outside[layout->n - 1] = block == 2;
      layout->variance[layout->n - 1] += block == 2 ? 0.3 : 0.0;
    }
  layout->data = (WbCalcMixedData) { .n_rows = layout->n, .y = layout->y, .variance = layout->variance, .outside = layout->outside,
                                     .unit = layout->unit, .block = layout->block, .n_blocks = N_BLOCKS, .n_local = 1,
                                     .local = layout->local, .local_column = &layout->local_column, .n_global = 2,
                                     .global = layout->global, .global_column = layout->global_column, .n_spreads = 3,
                                     .spread = layout->spread };
}

/*
 * The answer must be that of generalised least squares with the dense covariance of all
 * rows, made here by its definition and whitened by its Cholesky factor.
 */
static void
test_dense (void)
{
  Layout layout;
  WbCalcMixed *fit;
  WbCalcLinear line;
  double v[MAX_ROWS * MAX_ROWS], x[2 * MAX_ROWS], y[MAX_ROWS];
  double run, unit, block;
  size_t n;

  layout_fill (&layout, 3);
  n = layout.n;
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_OK);
  run = wb_calc_mixed_get_spread (fit, WB_CALC_MIXED_RUN);
  unit = wb_calc_mixed_get_spread (fit, WB_CALC_MIXED_UNIT);
  block = wb_calc_mixed_get_spread (fit, 2);
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < n; j++)
      {
        bool both = !layout.outside[i] && !layout.outside[j];

        v[i * n + j] = (layout.block[i] == layout.block[j] ? block * block : 0.0)
                       + (both && layout.unit[i] == layout.unit[j] ? unit * unit : 0.0)
                       + (i == j ? layout.variance[i] + (both ? run * run : 0.0) : 0.0);
      }
  /* L by rows, then L^-1 of every column */
  for (size_t j = 0; j < n; j++)
    for (size_t i = j; i < n; i++)
      {
        double sum = v[i * n + j];

        for (size_t k = 0; k < j; k++)
          sum -= v[i * n + k] * v[j * n + k];
        v[i * n + j] = i == j ? sqrt (sum) : sum / v[j * n + j];
      }
  for (size_t i = 0; i < n; i++)
    {
      double row[3] = { layout.global[2 * i], layout.global[2 * i + 1], layout.y[i] };

      for (size_t k = 0; k < i; k++)
        {
          row[0] -= v[i * n + k] * x[2 * k];
          row[1] -= v[i * n + k] * x[2 * k + 1];
          row[2] -= v[i * n + k] * y[k];
        }
      x[2 * i] = row[0] / v[i * n + i];
      x[2 * i + 1] = row[1] / v[i * n + i];
      y[i] = row[2] / v[i * n + i];
    }
  g_assert_cmpint (wb_calc_linear_fit (x, y, NULL, n, 2, false, &line), ==, WB_CALC_OK);
  for (size_t j = 0; j < 2; j++)
    {
      double weights[2] = { j == 0 ? 1.0 : 0.0, j == 1 ? 1.0 : 0.0 };
      WbCalcMixedContrast contrast = ask (fit, weights);

      calc_assert_digits ("coefficient", contrast.value, line.coefficient[j], 9);
      calc_assert_digits ("sd", contrast.sd, sqrt (line.covariance[j * 2 + j]) / line.residual_sd, 9);
      g_assert_cmpfloat (contrast.df, >, 2.0);
      g_assert_cmpfloat (contrast.df, <=, (double) (n - 2));
    }
  wb_calc_linear_clear (&line);
  wb_calc_mixed_free (fit);
}

/* Draws must have the answer's own mean and spread, and be the same again for the same seed. */
static void
test_draws (void)
{
  enum { N_DRAWS = 8192 };
  static const double ones[2] = { 1.0, 0.0 };
  double one = 1.0, weight = 1.0, sum = 0.0, squares = 0.0, least = INFINITY, most = 0.0;
  g_autofree double *values = g_new (double, N_DRAWS), *again = g_new (double, N_DRAWS), *spreads = g_new (double, 3 * N_DRAWS);
  WbCalcMixedTarget target = { 1, &one, ones };
  WbCalcMixedContrast contrast;
  Layout layout;
  WbCalcMixed *fit;

  layout_fill (&layout, 3);
  for (size_t k = 0; k < 3; k++)
    {
      layout.spread[k].median = 0.5;
      layout.spread[k].factor = 2.0;
    }
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_OK);
  g_assert_cmpuint (wb_calc_mixed_get_n_deviates (fit), ==, 2 + N_BLOCKS);
  g_assert_cmpint (wb_calc_mixed_contrast (fit, &target, &weight, 1, &contrast), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_mixed_draw (fit, &target, 1, 5, N_DRAWS, NULL, values, spreads), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_mixed_draw (fit, &target, 1, 5, N_DRAWS, NULL, again, NULL), ==, WB_CALC_OK);
  g_assert_cmpmem (values, N_DRAWS * sizeof *values, again, N_DRAWS * sizeof *again);
  for (size_t i = 0; i < N_DRAWS; i++)
    {
      sum += values[i] / N_DRAWS;
      squares += values[i] * values[i] / N_DRAWS;
      least = fmin (least, spreads[3 * i + 1]);
      most = fmax (most, spreads[3 * i + 1]);
    }
  /* the spreads' own uncertainty widens the draws, by no more than a t of the contrast's df would */
  g_assert_cmpfloat_with_epsilon (sum, contrast.value, 0.15 * contrast.sd);
  g_assert_cmpfloat (sqrt (squares - sum * sum), >, 0.9 * contrast.sd);
  g_assert_cmpfloat (sqrt (squares - sum * sum), <, 1.5 * contrast.sd);
  g_assert_cmpfloat (most, >, 1.5 * least);
  wb_calc_mixed_free (fit);
}

/* A flat column that depends on another is left out, and what leans on it cannot be asked. */
static void
test_dependent (void)
{
  Layout layout;
  WbCalcMixed *fit;
  double slope[2] = { 0.0, 1.0 };
  WbCalcMixedTarget target = { 0, NULL, slope };
  double weight = 1.0;
  WbCalcMixedContrast contrast;

  layout_fill (&layout, 3);
  for (size_t i = 0; i < layout.n; i++)
    layout.global[2 * i + 1] = 2.0;
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_mixed_contrast (fit, &target, &weight, 1, &contrast), ==, WB_CALC_UNIDENTIFIED);
  wb_calc_mixed_free (fit);
}

static bool
say_no (void *user)
{
  (*(int *) user)++;
  return false;
}

static void
test_refusals (void)
{
  Layout layout;
  WbCalcMixed *fit;
  int asked = 0;

  layout_fill (&layout, 3);
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, say_no, &asked, &fit), ==, WB_CALC_CANCELLED);
  g_assert_cmpint (asked, >, 0);
  g_assert_null (fit);
  layout.y[4] = NAN;
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_BAD_INPUT);
  layout_fill (&layout, 3);
  layout.global[1] = INFINITY;
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_BAD_INPUT);
  layout_fill (&layout, 3);
  layout.block[0] = 1;
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_BAD_INPUT);
  layout_fill (&layout, 3);
  layout.unit[0] = layout.unit[5];
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_BAD_INPUT);
  layout_fill (&layout, 3);
  layout.spread[0].start = 0.0;
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_BAD_INPUT);
  layout_fill (&layout, 3);
  layout.data.n_rows = 2;
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_TOO_FEW);
  layout.data.n_rows = 0;
  g_assert_cmpint (wb_calc_mixed_fit (&layout.data, NULL, NULL, &fit), ==, WB_CALC_TOO_FEW);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/mixed/dyestuff-is-answered-as-published", test_dyestuff);
  g_test_add_func ("/calc/mixed/a-spread-of-zero-is-found-and-not-believed-too-much", test_boundary);
  g_test_add_func ("/calc/mixed/sleepstudy-is-answered-as-published", test_sleepstudy);
  g_test_add_func ("/calc/mixed/shift-and-scale-change-nothing", test_shift_and_scale);
  g_test_add_func ("/calc/mixed/it-is-least-squares-with-the-dense-covariance", test_dense);
  g_test_add_func ("/calc/mixed/draws-have-the-answers-mean-and-spread", test_draws);
  g_test_add_func ("/calc/mixed/a-dependent-column-is-left-out", test_dependent);
  g_test_add_func ("/calc/mixed/bad-input-is-refused", test_refusals);
  return g_test_run ();
}
