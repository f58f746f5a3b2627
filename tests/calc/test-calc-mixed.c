/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-mixed.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"
#include "wb-calc-linear.h"
#include "wb-calc-random.h"

static WbCalcMixed
fit_batches (const char *stem,
             double      shift,
             double      scale)
{
  g_autoptr (CalcTable) data = calc_table_load (stem);
  gsize n_batches;
  g_autofree gsize *batch = calc_table_levels (data, "batch", &n_batches);
  g_autofree double *yield = calc_table_numbers (data, "yield");
  WbCalcMixed fit;

  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    yield[i] = shift + scale * yield[i];
  g_assert_cmpint (wb_calc_mixed_fit (NULL, yield, batch, calc_table_n_rows (data), 0, true, n_batches, &fit), ==, WB_CALC_OK);
  return fit;
}

static WbCalcMixedContrast
mean_of (const WbCalcMixed *fit)
{
  double weights[] = { 1.0 };
  WbCalcMixedContrast contrast;

  g_assert_cmpuint (fit->p, ==, 1);
  g_assert_cmpint (wb_calc_mixed_contrast (fit, weights, &contrast), ==, WB_CALC_OK);
  return contrast;
}

/* Davies' dyestuff: closed form of the balanced layout, lme4 beside it. The mean of 6 batches has 5 degrees of freedom. */
static void
test_dyestuff (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("dyestuff_certified");
  WbCalcMixed fit = fit_batches ("dyestuff_data", 0.0, 1.0);
  WbCalcMixedContrast mean = mean_of (&fit);

  g_assert_cmpint (fit.situation, ==, WB_CALC_MIXED_INTERIOR);
  calc_assert_digits ("mean", mean.value, calc_table_certified (certified, "intercept"), 10);
  calc_assert_digits ("sd", mean.sd, calc_table_certified_sd (certified, "intercept"), 10);
  calc_assert_digits ("df", mean.df, 5.0, 9);
  calc_assert_digits ("group", fit.var_group, calc_table_certified (certified, "reml_var_batch"), 9);
  calc_assert_digits ("residual", fit.var_residual, calc_table_certified (certified, "reml_var_residual"), 9);
  calc_assert_digits ("criterion", fit.criterion, calc_table_certified (certified, "reml_criterion"), 8);
  for (gsize g = 0; g < 6; g++)
    {
      g_autofree char *name = g_strdup_printf ("blup_effect[%c]", (char) ('A' + g));

      calc_assert_digits (name, fit.group_effect[g], calc_table_certified (certified, name), 8);
    }
  wb_calc_mixed_clear (&fit);
}

/* Box and Tiao's dyestuff2 has its optimum at a batch variance of 0. */
static void
test_boundary (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("dyestuff2_certified");
  WbCalcMixed fit = fit_batches ("dyestuff2_data", 0.0, 1.0);
  WbCalcMixedContrast mean = mean_of (&fit);

  g_assert_cmpint (fit.situation, ==, WB_CALC_MIXED_BOUNDARY);
  g_assert_cmpfloat (fit.var_group, ==, 0.0);
  calc_assert_digits ("residual", sqrt (fit.var_residual), calc_table_certified (certified, "reml_sd_residual"), 10);
  calc_assert_digits ("criterion", fit.criterion, calc_table_certified (certified, "reml_criterion"), 7);
  calc_assert_digits ("mean", mean.value, calc_table_certified (certified, "intercept"), 10);
  g_assert_cmpfloat (mean.df, ==, 5.0);
  for (gsize g = 0; g < 6; g++)
    g_assert_cmpfloat (fit.group_effect[g], ==, 0.0);
  wb_calc_mixed_clear (&fit);
}

static void
test_shift_and_scale (void)
{
  WbCalcMixed plain = fit_batches ("dyestuff_data", 0.0, 1.0);
  WbCalcMixed moved = fit_batches ("dyestuff_data", 1e6, -1e-3);

  calc_assert_digits ("mean", moved.coefficient[0], 1e6 - 1e-3 * plain.coefficient[0], 12);
  calc_assert_digits ("group", moved.var_group, 1e-6 * plain.var_group, 6);
  calc_assert_digits ("df", mean_of (&moved).df, 5.0, 6);
  wb_calc_mixed_clear (&plain);
  wb_calc_mixed_clear (&moved);
}

/*
 * Unbalanced, with two covariates: the score of the restricted likelihood, built
 * directly from dense matrices of this small case, must vanish, and the coefficients
 * must be those of generalised least squares. Here: least squares on whitened rows.
 */
static void
test_whitening (void)
{
  static const gsize sizes[] = { 1, 4, 2, 6, 3, 5 };
  double x[2 * 21];
  double y[21];
  size_t group[21];
  double white_x[3 * 21];
  double white_y[21];
  gsize n = 0;
  WbCalcRandom random;
  WbCalcMixed fit;
  WbCalcLinear line;

  wb_calc_random_init (&random, 4, 4);
  for (gsize g = 0; g < G_N_ELEMENTS (sizes); g++)
    {
      double effect = 3.0 * wb_calc_random_normal (&random);

      for (gsize k = 0; k < sizes[g]; k++, n++)
        {
          x[2 * n] = 20.0 + wb_calc_random_normal (&random);
          x[2 * n + 1] = (double) (g % 2);
          y[n] = 5.0 + 0.7 * x[2 * n] + 2.0 * x[2 * n + 1] + effect + wb_calc_random_normal (&random);
          group[n] = g;
        }
    }
  g_assert_cmpint (wb_calc_mixed_fit (x, y, group, n, 2, true, 6, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (fit.situation, ==, WB_CALC_MIXED_INTERIOR);

  /* V^-1/2 of a block takes off (1 - sqrt (ve / (ve + m vg))) of the group's mean. */
  for (gsize first = 0, g = 0; g < G_N_ELEMENTS (sizes); first += sizes[g++])
    {
      double m = (double) sizes[g];
      double share = 1.0 - sqrt (fit.var_residual / (fit.var_residual + m * fit.var_group));
      double means[4] = { 0.0 };

      for (gsize i = first; i < first + sizes[g]; i++)
        {
          double row[4] = { 1.0, x[2 * i], x[2 * i + 1], y[i] };

          for (gsize j = 0; j < 4; j++)
            means[j] += row[j] / m;
        }
      for (gsize i = first; i < first + sizes[g]; i++)
        {
          white_x[3 * i] = 1.0 - share * means[0];
          white_x[3 * i + 1] = x[2 * i] - share * means[1];
          white_x[3 * i + 2] = x[2 * i + 1] - share * means[2];
          white_y[i] = y[i] - share * means[3];
        }
    }
  g_assert_cmpint (wb_calc_linear_fit (white_x, white_y, NULL, n, 3, false, &line), ==, WB_CALC_OK);
  for (gsize j = 0; j < 3; j++)
    {
      calc_assert_digits ("coefficient", fit.coefficient[j], line.coefficient[j], 8);
      for (gsize k = 0; k < 3; k++)
        calc_assert_digits ("covariance",
                            fit.covariance[j * 3 + k],
                            line.covariance[j * 3 + k] * fit.var_residual / (line.residual_sd * line.residual_sd),
                            7);
    }
  /* At the optimum of the restricted likelihood the whitened residual variance is var_residual itself. */
  calc_assert_digits ("residual", line.residual_sd * line.residual_sd, fit.var_residual, 9);
  wb_calc_linear_clear (&line);

  /* Within-group columns know almost all residual degrees of freedom, between-group ones only the groups'. */
  double within[] = { 0.0, 1.0, 0.0 };
  double between[] = { 0.0, 0.0, 1.0 };
  WbCalcMixedContrast of_within, of_between;

  g_assert_cmpint (wb_calc_mixed_contrast (&fit, within, &of_within), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_mixed_contrast (&fit, between, &of_between), ==, WB_CALC_OK);
  g_assert_cmpfloat (of_within.df, >, 12.0);
  g_assert_cmpfloat (of_between.df, <, 6.0);
  wb_calc_mixed_clear (&fit);
}

static void
test_situations (void)
{
  double y[] = { 1.0, 2.0, 4.0, 7.0 };
  double equal[] = { 3.0, 3.0, 3.0, 3.0 };
  double dummy[] = { 0, 0, 1, 1 };
  size_t each[] = { 0, 1, 2, 3 };
  size_t pairs[] = { 0, 0, 1, 1 };
  WbCalcMixed fit;
  WbCalcMixedContrast mean;

  /* One observation a group: the mean of four with 3 degrees of freedom. */
  g_assert_cmpint (wb_calc_mixed_fit (NULL, y, each, 4, 0, true, 4, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (fit.situation, ==, WB_CALC_MIXED_UNREPLICATED);
  mean = mean_of (&fit);
  calc_assert_digits ("mean", mean.value, 3.5, 14);
  calc_assert_digits ("variance", fit.var_group, 7.0, 13);
  g_assert_cmpfloat (fit.var_residual, ==, 0.0);
  calc_assert_digits ("sd", mean.sd, sqrt (7.0 / 4.0), 13);
  g_assert_cmpfloat (mean.df, ==, 3.0);
  calc_assert_digits ("effect", fit.group_effect[3], 3.5, 13);
  wb_calc_mixed_clear (&fit);

  /* A column for each group leaves nothing to tell the group variance by. */
  g_assert_cmpint (wb_calc_mixed_fit (dummy, y, pairs, 4, 1, true, 2, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (fit.situation, ==, WB_CALC_MIXED_UNKNOWN);
  g_assert_true (isnan (fit.var_group));
  calc_assert_digits ("residual", fit.var_residual, 2.5, 12);
  wb_calc_mixed_clear (&fit);

  g_assert_cmpint (wb_calc_mixed_fit (NULL, equal, pairs, 4, 0, true, 2, &fit), ==, WB_CALC_OK);
  g_assert_cmpfloat (fit.coefficient[0], ==, 3.0);
  g_assert_cmpfloat (fit.var_residual, ==, 0.0);
  g_assert_cmpfloat (mean_of (&fit).sd, ==, 0.0);
  g_assert_true (isnan (fit.criterion));
  wb_calc_mixed_clear (&fit);
}

static void
test_refusals (void)
{
  double y[] = { 1.0, 2.0, 4.0, 7.0 };
  double bad[] = { 1.0, NAN, 4.0, 7.0 };
  double ones[] = { 1, 1, 1, 1 };
  double weights[] = { INFINITY };
  size_t pairs[] = { 0, 0, 1, 1 };
  size_t one[] = { 0, 0, 0, 0 };
  WbCalcMixed fit;
  WbCalcMixedContrast contrast;

  g_assert_cmpint (wb_calc_mixed_fit (NULL, y, pairs, 0, 0, true, 2, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_mixed_fit (NULL, y, pairs, 1, 0, true, 2, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_mixed_fit (NULL, y, pairs, 2, 0, true, 2, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_mixed_fit (NULL, y, one, 4, 0, true, 2, &fit), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_mixed_fit (NULL, y, pairs, 4, 0, true, 1, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_mixed_fit (NULL, y, pairs, 4, 0, false, 2, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_mixed_fit (NULL, bad, pairs, 4, 0, true, 2, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_mixed_fit (bad, y, pairs, 4, 1, true, 2, &fit), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_mixed_fit (ones, y, pairs, 4, 1, true, 2, &fit), ==, WB_CALC_UNIDENTIFIED);
  g_assert_null (fit.coefficient);
  g_assert_cmpint (wb_calc_mixed_fit (NULL, y, pairs, 4, 0, true, 2, &fit), ==, WB_CALC_OK);
  g_assert_cmpint (wb_calc_mixed_contrast (&fit, weights, &contrast), ==, WB_CALC_BAD_INPUT);
  wb_calc_mixed_clear (&fit);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/mixed/dyestuff-comes-out", test_dyestuff);
  g_test_add_func ("/calc/mixed/dyestuff2-ends-at-the-boundary", test_boundary);
  g_test_add_func ("/calc/mixed/shift-and-scale-carry-over", test_shift_and_scale);
  g_test_add_func ("/calc/mixed/an-unbalanced-fit-is-least-squares-on-whitened-rows", test_whitening);
  g_test_add_func ("/calc/mixed/what-the-data-do-not-know-is-told", test_situations);
  g_test_add_func ("/calc/mixed/few-and-bad-data-are-refused", test_refusals);
  return g_test_run ();
}
