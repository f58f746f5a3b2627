/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

/* What the points around the mode of a pooled model say of its spreads, against the integral. */

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-pooled-model.h"
#include "wb-calc-random.h"

/* A family of four members, each seen once, that shares nothing with others; returns a further member in no row. */
static gsize
add_lone_family (CalcPooledModel *model,
                 WbCalcRandom    *random)
{
  gsize family = calc_pooled_model_add_family (model, 1.0, 0.7);

  for (gsize i = 0; i < 4; i++)
    {
      calc_pooled_model_add_term (model, calc_pooled_model_add_member (model, family), 1.0);
      calc_pooled_model_end_row (model, 1.5 * wb_calc_random_normal (random), 0.3);
    }
  return calc_pooled_model_add_member (model, family);
}

/* Mean of what family k's log spread is above its mode, and its root mean square, by integral; the others are held. */
static void
integrate (const CalcPooledModel *model,
           const WbCalcPooled    *fit,
           gsize                  k,
           double                *mean,
           double                *root)
{
  gsize n = wb_calc_pooled_get_n_families (fit);
  g_autofree double *at = g_memdup2 (wb_calc_pooled_get_log_spreads (fit), n * sizeof *at);
  double whole = 0.0, sum = 0.0, square = 0.0;

  for (double off = -5.0; off < 5.0; off += 0.02)
    {
      double density;

      at[k] = wb_calc_pooled_get_log_spreads (fit)[k] + off;
      density = exp (calc_pooled_model_condition (model, at, NULL, NULL) - wb_calc_pooled_get_log_marginal (fit));
      whole += density;
      sum += density * off;
      square += density * off * off;
    }
  *mean = sum / whole;
  *root = sqrt (square / whole);
}

/* Uncertain spreads of few members, their posterior skewed: what the points say of a new member's spread against the integral. */
static void
check_points (guint64 seed,
              gsize   n_families,
              double  mean_within,
              double  root_within)
{
  g_autoptr (CalcPooledModel) model = calc_pooled_model_new ();
  g_autofree gsize *fresh = g_new (gsize, n_families);
  WbCalcRandom random;

  wb_calc_random_init (&random, seed, 2);
  for (gsize k = 0; k < n_families; k++)
    fresh[k] = add_lone_family (model, &random);

  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);

  g_assert_cmpuint (wb_calc_pooled_get_n_points (fit), ==, 1 + 2 * n_families);
  for (gsize k = 0; k < n_families; k++)
    {
      double wanted_mean, wanted_root, sum = 0.0, square = 0.0;

      integrate (model, fit, k, &wanted_mean, &wanted_root);
      for (gsize i = 0; i < wb_calc_pooled_get_n_points (fit); i++)
        {
          double mean, variance, off;

          calc_pooled_ask (fit, i, &fresh[k], 1, &mean, &variance);
          off = 0.5 * log (variance) - wb_calc_pooled_get_log_spreads (fit)[k];
          sum += wb_calc_pooled_get_weight (fit, i) * off;
          square += wb_calc_pooled_get_weight (fit, i) * off * off;
        }
      g_test_message ("%g of %g, %g of %g", sum, wanted_mean, sqrt (square), wanted_root);
      g_assert_cmpfloat_with_epsilon (sum, wanted_mean, mean_within);
      g_assert_cmpfloat_with_epsilon (sqrt (square) / wanted_root, 1.0, root_within);
    }
}

static void
test_points (void)
{
  for (guint64 seed = 1; seed <= 12; seed++)
    check_points (seed, 1, 0.03, 0.08);
  for (guint64 seed = 1; seed <= 3; seed++)
    check_points (seed, 6, 0.025, 0.08);
}

/* A spread that many members tell is held at its mode; the uncertain one beside it has its points, as right as alone. */
static void
test_known (void)
{
  g_autoptr (CalcPooledModel) model = calc_pooled_model_new ();
  gsize many = calc_pooled_model_add_family (model, 1.0, 0.7), fresh, other;
  double wanted_mean, wanted_root, sum = 0.0, square = 0.0;
  WbCalcRandom random;

  wb_calc_random_init (&random, 5, 2);
  for (gsize i = 0; i < 120; i++)
    {
      calc_pooled_model_add_term (model, calc_pooled_model_add_member (model, many), 1.0);
      calc_pooled_model_end_row (model, 1.5 * wb_calc_random_normal (&random), 0.3);
    }
  other = calc_pooled_model_add_member (model, many);
  fresh = add_lone_family (model, &random);

  g_autoptr (WbCalcPooled) fit = calc_pooled_model_fit (model, NULL);

  g_assert_cmpuint (wb_calc_pooled_get_n_points (fit), ==, 3);
  integrate (model, fit, many, &wanted_mean, &wanted_root);
  g_assert_cmpfloat (wanted_root, <, 0.125);
  g_assert_cmpfloat_with_epsilon (sqrt (wb_calc_pooled_get_log_spreads_covariance (fit)[0]) / wanted_root, 1.0, 0.1);
  integrate (model, fit, 1, &wanted_mean, &wanted_root);
  for (gsize i = 0; i < 3; i++)
    {
      double mean, variance, off;

      calc_pooled_ask (fit, i, &other, 1, &mean, &variance);
      g_assert_cmpfloat_with_epsilon (0.5 * log (variance), wb_calc_pooled_get_log_spreads (fit)[0], 1e-12);
      calc_pooled_ask (fit, i, &fresh, 1, &mean, &variance);
      off = 0.5 * log (variance) - wb_calc_pooled_get_log_spreads (fit)[1];
      sum += wb_calc_pooled_get_weight (fit, i) * off;
      square += wb_calc_pooled_get_weight (fit, i) * off * off;
    }
  g_assert_cmpfloat_with_epsilon (sum, wanted_mean, 0.03);
  g_assert_cmpfloat_with_epsilon (sqrt (square) / wanted_root, 1.0, 0.08);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/pooled/points-carry-a-skewed-spread", test_points);
  g_test_add_func ("/calc/pooled/a-spread-that-is-known-needs-no-points", test_known);
  return g_test_run ();
}
