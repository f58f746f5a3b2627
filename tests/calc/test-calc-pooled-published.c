/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-pooled.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-pooled-model.h"
#include "calc-table.h"

/* A prior this wide says nothing that nine digits show. */
#define FLAT_FACTOR 1e6

/* Minus twice the log likelihood alone: the wide priors of `n` spreads taken off. */
static double
criterion (const WbCalcPooled *fit,
           gsize               n)
{
  return -2.0 * (wb_calc_pooled_get_log_marginal (fit) + (double) n * (log (FLAT_FACTOR) + 0.5 * log (2.0 * G_PI)));
}

/*
 * An unknown residual spread in a model of known noise: part of it, `known`, is the noise, the rest a family with a member a row. The
 * sum of both variances is the residual's, whatever the share.
 */
static void
end_row_with_residual (CalcPooledModel *model,
                       gsize            family,
                       double           y,
                       double           known)
{
  calc_pooled_model_add_term (model, calc_pooled_model_add_member (model, family), 1.0);
  calc_pooled_model_end_row (model, y, known);
}

static CalcPooledModel *
dyestuff_model (const char *stem,
                double      batch_spread,
                double      batch_factor,
                double      known)
{
  g_autoptr (CalcTable) table = calc_table_load (stem);
  gsize n_batches;
  g_autofree gsize *batch = calc_table_levels (table, "batch", &n_batches);
  CalcPooledModel *model = calc_pooled_model_new ();
  gsize batches = calc_pooled_model_add_family (model, batch_spread, batch_factor);
  gsize runs = calc_pooled_model_add_family (model, sqrt (known), FLAT_FACTOR);
  gsize mean = calc_pooled_model_add_stated (model, 0.0, INFINITY);
  gsize first = calc_pooled_model_add_members (model, batches, n_batches);

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      calc_pooled_model_add_term (model, mean, 1.0);
      calc_pooled_model_add_term (model, first + batch[i], 1.0);
      end_row_with_residual (model, runs, calc_table_number (table, "yield", i), known);
    }
  return model;
}

/* Davies' dyestuff: closed form of the balanced layout, lme4 beside it. */
static void
test_dyestuff (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("dyestuff_certified");
  g_autoptr (CalcPooledModel) model = dyestuff_model ("dyestuff_data", 30.0, FLAT_FACTOR, 500.0);
  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);
  gsize intercept = 0;
  double mean, variance;

  calc_assert_digits ("batch", calc_pooled_spread (fit, 0), calc_table_certified (certified, "reml_sd_batch"), 8);
  calc_assert_digits ("run", hypot (calc_pooled_spread (fit, 1), sqrt (500.0)), calc_table_certified (certified, "reml_sd_residual"), 8);
  calc_pooled_ask (fit, 0, &intercept, 1, &mean, &variance);
  calc_assert_digits ("mean", mean, calc_table_certified (certified, "intercept"), 10);
  calc_assert_digits ("sd", sqrt (variance), calc_table_certified_sd (certified, "intercept"), 8);
  calc_assert_digits ("criterion", criterion (fit, 2), calc_table_certified (certified, "reml_criterion"), 9);
  for (gsize g = 0; g < 6; g++)
    {
      g_autofree char *name = g_strdup_printf ("blup_effect[%c]", (char) ('A' + g));

      calc_assert_digits (name, wb_calc_pooled_get_mean (fit)[1 + g], calc_table_certified (certified, name), 8);
    }
}

/* Box and Tiao's dyestuff2 has its optimum at a batch variance of 0: there the rest is as published, and nothing higher lies elsewhere. */
static void
test_boundary (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("dyestuff2_certified");
  g_autoptr (CalcPooledModel) none = dyestuff_model ("dyestuff2_data", 1e-5, 0.0, 3.0);
  g_autoptr (CalcPooledModel) weak = dyestuff_model ("dyestuff2_data", 2.0, 0.7, 3.0);
  g_autoptr (WbCalcPooled) at_none = calc_pooled_model_fit (none, NULL);
  g_autoptr (WbCalcPooled) at_weak = calc_pooled_model_fit (weak, NULL);

  calc_assert_digits ("run", hypot (calc_pooled_spread (at_none, 1), sqrt (3.0)),
                      calc_table_certified (certified, "reml_sd_residual"), 8);
  calc_assert_digits ("mean", wb_calc_pooled_get_mean (at_none)[0], calc_table_certified (certified, "intercept"), 9);
  calc_assert_digits ("criterion", criterion (at_none, 1), calc_table_certified (certified, "reml_criterion"), 9);
  g_assert_cmpfloat_with_epsilon (calc_pooled_spread (at_none, 0), 1e-5, 1e-18);
  /* An opinion keeps the spread off 0, the data below the opinion. */
  g_assert_cmpfloat (calc_pooled_spread (at_weak, 0), <, 2.0);
  g_assert_cmpfloat (calc_pooled_spread (at_weak, 0), >, 0.5);
}

/* Belenky's sleep study with an intercept and a slope of each subject, uncorrelated: R's lme4. */
static void
test_sleepstudy (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("sleepstudy_certified");
  g_autoptr (CalcTable) table = calc_table_load ("sleepstudy_data");
  g_autoptr (CalcPooledModel) model = calc_pooled_model_new ();
  gsize n_subjects;
  g_autofree gsize *subject = calc_table_levels (table, "subject", &n_subjects);
  gsize levels = calc_pooled_model_add_family (model, 10.0, FLAT_FACTOR);
  gsize slopes = calc_pooled_model_add_family (model, 10.0, FLAT_FACTOR);
  gsize rest = calc_pooled_model_add_family (model, 10.0, FLAT_FACTOR);
  gsize intercept = calc_pooled_model_add_stated (model, 0.0, INFINITY);
  gsize days = calc_pooled_model_add_stated (model, 0.0, INFINITY);
  gsize level = calc_pooled_model_add_members (model, levels, n_subjects);
  gsize slope = calc_pooled_model_add_members (model, slopes, n_subjects);

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      double day = calc_table_number (table, "days", i);

      calc_pooled_model_add_term (model, intercept, 1.0);
      calc_pooled_model_add_term (model, days, day);
      calc_pooled_model_add_term (model, level + subject[i], 1.0);
      calc_pooled_model_add_term (model, slope + subject[i], day);
      end_row_with_residual (model, rest, calc_table_number (table, "reaction", i), 100.0);
    }

  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);

  calc_assert_digits ("levels", calc_pooled_spread (fit, levels), calc_table_certified (certified, "uncorrelated_sd_intercept"), 6);
  calc_assert_digits ("slopes", calc_pooled_spread (fit, slopes), calc_table_certified (certified, "uncorrelated_sd_slope"), 6);
  calc_assert_digits ("rest", hypot (calc_pooled_spread (fit, rest), 10.0),
                      calc_table_certified (certified, "uncorrelated_sd_residual"), 6);
  calc_assert_digits ("criterion", criterion (fit, 3), calc_table_certified (certified, "uncorrelated_reml_criterion"), 9);
  calc_assert_digits ("intercept", wb_calc_pooled_get_mean (fit)[intercept], calc_table_certified (certified, "intercept"), 9);
  calc_assert_digits ("days", wb_calc_pooled_get_mean (fit)[days], calc_table_certified (certified, "slope_days"), 9);
}

/* Mean squares of a two-way layout without repeats, rows by plate. */
static void
two_way (const double *y,
         gsize         n_plates,
         gsize         n_samples,
         double       *plates,
         double       *samples,
         double       *rest)
{
  gsize n = n_plates * n_samples;
  g_autofree double *plate = g_new0 (double, n_plates);
  g_autofree double *sample = g_new0 (double, n_samples);
  double mean = 0.0;

  for (gsize i = 0; i < n; i++)
    {
      mean += y[i] / (double) n;
      plate[i / n_samples] += y[i] / (double) n_samples;
      sample[i % n_samples] += y[i] / (double) n_plates;
    }
  *plates = *samples = *rest = 0.0;
  for (gsize i = 0; i < n; i++)
    {
      *plates += pow (plate[i / n_samples] - mean, 2.0) / (double) (n_plates - 1);
      *samples += pow (sample[i % n_samples] - mean, 2.0) / (double) (n_samples - 1);
      *rest += pow (y[i] - plate[i / n_samples] - sample[i % n_samples] + mean, 2.0) / (double) ((n_plates - 1) * (n_samples - 1));
    }
}

/* Penicillin: plates and samples crossed; lme4's printed figures, and the closed form of a balanced layout. */
static void
test_penicillin (void)
{
  g_autoptr (CalcTable) certified = calc_table_load ("penicillin_certified");
  g_autoptr (CalcTable) table = calc_table_load ("penicillin_data");
  g_autofree double *y = calc_table_numbers (table, "diameter");
  g_autoptr (CalcPooledModel) model = calc_pooled_model_new ();
  gsize n_plates, n_samples;
  g_autofree gsize *plate = calc_table_levels (table, "plate", &n_plates);
  g_autofree gsize *sample = calc_table_levels (table, "sample", &n_samples);
  gsize plates = calc_pooled_model_add_family (model, 1.0, FLAT_FACTOR);
  gsize samples = calc_pooled_model_add_family (model, 1.0, FLAT_FACTOR);
  gsize rest = calc_pooled_model_add_family (model, 1.0, FLAT_FACTOR);
  gsize mean = calc_pooled_model_add_stated (model, 0.0, INFINITY);
  gsize of_plate = calc_pooled_model_add_members (model, plates, n_plates);
  gsize of_sample = calc_pooled_model_add_members (model, samples, n_samples);
  double ms_plates, ms_samples, ms_rest, intercept, variance;

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      calc_pooled_model_add_term (model, mean, 1.0);
      calc_pooled_model_add_term (model, of_plate + plate[i], 1.0);
      calc_pooled_model_add_term (model, of_sample + sample[i], 1.0);
      end_row_with_residual (model, rest, y[i], 0.1);
    }

  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);

  two_way (y, n_plates, n_samples, &ms_plates, &ms_samples, &ms_rest);
  calc_assert_digits ("plates", calc_pooled_spread (fit, plates), sqrt ((ms_plates - ms_rest) / (double) n_samples), 8);
  calc_assert_digits ("samples", calc_pooled_spread (fit, samples), sqrt ((ms_samples - ms_rest) / (double) n_plates), 8);
  calc_assert_digits ("rest", hypot (calc_pooled_spread (fit, rest), sqrt (0.1)), sqrt (ms_rest), 8);
  calc_pooled_ask (fit, 0, &mean, 1, &intercept, &variance);
  calc_assert_digits ("variance", variance, (ms_plates + ms_samples - ms_rest) / (double) (n_plates * n_samples), 8);
  calc_assert_digits ("published", calc_pooled_spread (fit, plates), calc_table_certified (certified, "published_reml_sd_plate"), 4);
  calc_assert_digits ("published", calc_pooled_spread (fit, samples), calc_table_certified (certified, "published_reml_sd_sample"), 4.5);
  calc_assert_digits ("published", sqrt (ms_rest), calc_table_certified (certified, "published_reml_sd_residual"), 4);
  calc_assert_digits ("published", intercept, calc_table_certified (certified, "published_intercept"), 6.5);
  calc_assert_digits ("published", criterion (fit, 3), calc_table_certified (certified, "published_reml_criterion"), 6.5);
  calc_assert_digits ("SPSS", criterion (fit, 3), calc_table_certified (certified, "published_reml_criterion_spss"), 8.5);
}

/* Rubin's eight schools with the spread between them known: closed form. */
static void
check_schools (const char *tau_text)
{
  g_autoptr (CalcTable) data = calc_table_load ("eight_schools_data");
  g_autoptr (CalcTable) certified = calc_table_load ("eight_schools_certified");
  g_autoptr (CalcPooledModel) model = calc_pooled_model_new ();
  g_autofree char *mu_name = g_strdup_printf ("fixed_tau=%s;flat_mu;mu_hat", tau_text);
  gsize schools = calc_pooled_model_add_family (model, g_ascii_strtod (tau_text, NULL), 0.0);
  gsize mu = calc_pooled_model_add_stated (model, 0.0, INFINITY);
  gsize first = calc_pooled_model_add_members (model, schools, 8);
  WbCalcPooledRows rows;
  double mean[8], covariance[64];

  for (gsize i = 0; i < 8; i++)
    {
      calc_pooled_model_add_term (model, mu, 1.0);
      calc_pooled_model_add_term (model, first + i, 1.0);
      calc_pooled_model_end_row (model, calc_table_number (data, "y", i), pow (calc_table_number (data, "sigma", i), 2.0));
    }

  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);

  g_assert_cmpuint (wb_calc_pooled_get_n_points (fit), ==, 1);
  g_assert_cmpfloat (wb_calc_pooled_get_weight (fit, 0), ==, 1.0);
  calc_pooled_ask (fit, 0, &mu, 1, mean, covariance);
  calc_assert_digits (mu_name, mean[0], calc_table_certified (certified, mu_name), 11);
  calc_assert_digits (mu_name, sqrt (covariance[0]), calc_table_certified_sd (certified, mu_name), 11);
  rows = calc_pooled_model_get_rows (model);
  g_assert_cmpint (wb_calc_pooled_predict (fit, 0, &rows, mean, covariance), ==, WB_CALC_OK);
  for (gsize i = 0; i < 8; i++)
    {
      g_autofree char *name = g_strdup_printf ("fixed_tau=%s;flat_mu;theta_mean[%s]", tau_text, calc_table_text (data, "school", i));

      calc_assert_digits (name, mean[i], calc_table_certified (certified, name), 11);
      calc_assert_digits (name, sqrt (covariance[9 * i]), calc_table_certified_sd (certified, name), 11);
    }
}

static void
test_schools (void)
{
  check_schools ("5");
  check_schools ("10");
}

/* The conjugate hand example in fractions: its means do not depend on s2, and with s2 = 1 the precision is the certified one. */
static void
test_hand (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("nig_hand_data");
  g_autoptr (CalcTable) certified = calc_table_load ("nig_hand_certified");
  g_autoptr (CalcPooledModel) model = calc_pooled_model_new ();
  const gsize both[] = { calc_pooled_model_add_stated (model, 0.0, 1.0), calc_pooled_model_add_stated (model, 0.0, 1.0) };
  double a, b, d, mean[2], covariance[4];

  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    {
      calc_pooled_model_add_term (model, both[0], 1.0);
      calc_pooled_model_add_term (model, both[1], calc_table_number (data, "x", i));
      calc_pooled_model_end_row (model, calc_table_number (data, "y", i), 1.0);
    }

  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);

  calc_pooled_ask (fit, 0, both, 2, mean, covariance);
  a = calc_table_certified (certified, "Lambda_n[0;0]");
  b = calc_table_certified (certified, "Lambda_n[0;1]");
  d = calc_table_certified (certified, "Lambda_n[1;1]");
  calc_assert_digits ("intercept", mean[0], calc_table_certified (certified, "mu_n[0]"), 13);
  calc_assert_digits ("slope", mean[1], calc_table_certified (certified, "mu_n[1]"), 13);
  calc_assert_digits ("variance", covariance[0], d / (a * d - b * b), 13);
  calc_assert_digits ("covariance", covariance[1], -b / (a * d - b * b), 13);
  calc_assert_digits ("variance", covariance[3], a / (a * d - b * b), 13);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/pooled/dyestuff-is-restricted-maximum-likelihood", test_dyestuff);
  g_test_add_func ("/calc/pooled/dyestuff2-has-no-spread-between-batches", test_boundary);
  g_test_add_func ("/calc/pooled/sleepstudy-has-levels-and-slopes", test_sleepstudy);
  g_test_add_func ("/calc/pooled/penicillin-is-crossed", test_penicillin);
  g_test_add_func ("/calc/pooled/eight-schools-are-pooled-partially", test_schools);
  g_test_add_func ("/calc/pooled/the-hand-example-in-fractions", test_hand);
  return g_test_run ();
}
