/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-rank.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_errno.h>

#include "calc-table.h"
#include "wb-calc-random.h"

static const WbCalcRankOptions PLAIN = { .margin = 0.0, .nothing = -INFINITY };

static WbCalcRank
rank (const double            *draws,
      gsize                    n_draws,
      gsize                    n,
      const WbCalcRankOptions *options)
{
  WbCalcRank result;

  g_assert_cmpint (wb_calc_rank_acceptability (draws, n_draws, n, options, NULL, NULL, &result), ==, WB_CALC_OK);
  return result;
}

/* Every alternative holds one rank and every rank is held. */
static void
assert_doubly_stochastic (const WbCalcRank *result)
{
  for (gsize i = 0; i < result->n; i++)
    {
      double row = 0.0;
      double column = 0.0;

      for (gsize j = 0; j < result->n; j++)
        {
          row += result->rank[i * result->n + j];
          column += result->rank[j * result->n + i];
        }
      g_assert_cmpfloat_with_epsilon (row, 1.0, 1e-12);
      g_assert_cmpfloat_with_epsilon (column, 1.0, 1e-12);
    }
}

/* Four independent normal scores; rank probabilities by quadrature. Tolerance: five standard errors. */
static void
test_gaussian (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("gaussian_rank_data");
  g_autoptr (CalcTable) certified = calc_table_load ("gaussian_rank_certified");
  gsize n_draws = 512 * WB_CALC_RANDOM_BLOCK;
  g_autofree double *draws = g_new (double, n_draws * 4);
  WbCalcRandom random;

  for (gsize k = 0; k < n_draws; k++)
    {
      if (k % WB_CALC_RANDOM_BLOCK == 0)
        wb_calc_random_init (&random, 42, k / WB_CALC_RANDOM_BLOCK);
      for (gsize i = 0; i < 4; i++)
        draws[k * 4 + i] = calc_table_number (data, "mean", i)
                           + calc_table_number (data, "sd", i) * wb_calc_random_normal (&random);
    }

  WbCalcRank result = rank (draws, n_draws, 4, &PLAIN);

  assert_doubly_stochastic (&result);
  for (gsize i = 0; i < 4; i++)
    {
      const char *name = calc_table_text (data, "alternative", i);
      g_autofree char *expected_rank = g_strdup_printf ("expected_rank[%s]", name);

      for (gsize r = 0; r < 4; r++)
        {
          g_autofree char *parameter = g_strdup_printf ("rank_probability[%s;%" G_GSIZE_FORMAT "]", name, r + 1);
          double p = calc_table_certified (certified, parameter);

          g_assert_cmpfloat_with_epsilon (result.rank[i * 4 + r], p, 5.0 * wb_calc_rank_error (p, n_draws));
        }
      g_assert_cmpfloat_with_epsilon (result.p_best[i], result.rank[i * 4], 1e-12);
      g_assert_cmpfloat_with_epsilon (result.expected_rank[i], calc_table_certified (certified, expected_rank), 0.015);
    }
  g_assert_cmpfloat (result.p_none, ==, 0.0);
  wb_calc_rank_clear (&result);
}

/* Two criteria, weights uniform on the simplex, fixed scores: exact areas. */
static void
test_smaa (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("smaa_exact2_data");
  g_autoptr (CalcTable) certified = calc_table_load ("smaa_exact2_certified");
  gsize n_draws = 256 * WB_CALC_RANDOM_BLOCK;
  g_autofree double *draws = g_new (double, n_draws * 3);
  WbCalcRandom random;

  for (gsize k = 0; k < n_draws; k++)
    {
      if (k % WB_CALC_RANDOM_BLOCK == 0)
        wb_calc_random_init (&random, 2, k / WB_CALC_RANDOM_BLOCK);

      double weight = wb_calc_random_uniform (&random);

      for (gsize i = 0; i < 3; i++)
        draws[k * 3 + i] = weight * calc_table_number (data, "c1", i)
                           + (1.0 - weight) * calc_table_number (data, "c2", i);
    }

  WbCalcRank result = rank (draws, n_draws, 3, &PLAIN);

  for (gsize i = 0; i < 3; i++)
    for (gsize r = 0; r < 3; r++)
      {
        g_autofree char *parameter = g_strdup_printf ("rank_acceptability[%s;%" G_GSIZE_FORMAT "]", calc_table_text (data, "alternative", i), r + 1);
        double p = calc_table_certified (certified, parameter);

        g_assert_cmpfloat_with_epsilon (result.rank[i * 3 + r], p, 5.0 * wb_calc_rank_error (p, n_draws) + 1e-12);
      }
  wb_calc_rank_clear (&result);
}

/* A share: X / (X + Y) of two chi-squares. */
static double
draw_beta (WbCalcRandom *random,
           double        alpha,
           double        beta)
{
  double x = wb_calc_random_chisq (random, 2.0 * alpha);

  return x / (x + wb_calc_random_chisq (random, 2.0 * beta));
}

/*
 * Two treatments, three criteria with beta distributions, weights uniform on the simplex (an
 * example of the R package smaa, data from the example of MCDA elicitation): 8,000,000 draws give
 * 0.3420 with an error of 0.00017. Tolerance: four standard errors of the draws here. Its
 * published answer, 0.3504 of 10,000 draws, lies within 1.8 of its own standard errors of that.
 */
static void
test_uncertain_criteria (void)
{
  g_autoptr (CalcTable) data = calc_table_load ("smaa_thrombo_data");
  g_autoptr (CalcTable) certified = calc_table_load ("smaa_thrombo_certified");
  gsize n_draws = 128 * WB_CALC_RANDOM_BLOCK;
  g_autofree double *draws = g_new0 (double, n_draws * 2);
  WbCalcRandom random;

  for (gsize k = 0; k < n_draws; k++)
    {
      if (k % WB_CALC_RANDOM_BLOCK == 0)
        wb_calc_random_init (&random, 11, k / WB_CALC_RANDOM_BLOCK);

      double cuts[] = { wb_calc_random_uniform (&random), wb_calc_random_uniform (&random) };
      double low = MIN (cuts[0], cuts[1]);
      double high = MAX (cuts[0], cuts[1]);
      double weights[] = { low, high - low, 1.0 - high };

      for (gsize row = 0; row < 6; row++)
        {
          double value = draw_beta (&random, calc_table_number (data, "beta_alpha", row), calc_table_number (data, "beta_beta", row));
          double best = calc_table_number (data, "value_at_best", row);
          double worst = calc_table_number (data, "value_at_worst", row);

          draws[k * 2 + row / 3] += weights[row % 3] * (worst - value) / (worst - best);
        }
    }

  WbCalcRank result = rank (draws, n_draws, 2, &PLAIN);
  double p = calc_table_certified (certified, "rank1_acceptability[Heparin]");

  g_assert_cmpfloat_with_epsilon (result.rank[0], p, 4.0 * wb_calc_rank_error (p, n_draws) + 0.0002);
  /* The values' spread is below 0.25: mean value within four standard errors. */
  g_assert_cmpfloat_with_epsilon (result.mean[0], calc_table_certified (certified, "mean_value[Heparin]"), 4.0 * 0.25 / sqrt ((double) n_draws));
  g_assert_cmpfloat_with_epsilon (result.mean[1], calc_table_certified (certified, "mean_value[Enoxaparin]"), 4.0 * 0.25 / sqrt ((double) n_draws));
  wb_calc_rank_clear (&result);
}

/* A hundred voters' orders are a hundred draws; Borda's points, n less the rank, are then 100 (n - expected rank), exactly. */
static void
test_borda (void)
{
  static const char *const cities[] = { "Memphis", "Nashville", "Chattanooga", "Knoxville" };
  static const char *const columns[] = { "rank1", "rank2", "rank3", "rank4" };
  g_autoptr (CalcTable) data = calc_table_load ("borda_tennessee_data");
  g_autoptr (CalcTable) certified = calc_table_load ("borda_tennessee_certified");
  double draws[400];
  gsize k = 0;

  for (gsize i = 0; i < calc_table_n_rows (data); i++)
    for (gsize voter = 0; voter < (gsize) calc_table_number (data, "voters_pct", i); voter++, k++)
      for (gsize c = 0; c < 4; c++)
        for (gsize r = 0; r < 4; r++)
          if (g_str_equal (calc_table_text (data, columns[r], i), cities[c]))
            draws[k * 4 + c] = 4.0 - (double) r;
  g_assert_cmpuint (k, ==, 100);

  WbCalcRank result = rank (draws, 100, 4, &PLAIN);

  for (gsize c = 0; c < 4; c++)
    {
      g_autofree char *name = g_strdup_printf ("borda[%s]", cities[c]);

      calc_assert_digits (name, 100.0 * (4.0 - result.expected_rank[c]), calc_table_certified (certified, name), 13);
    }
  wb_calc_rank_clear (&result);
}

/* By hand: four draws of three alternatives. */
static void
test_by_hand (void)
{
  double draws[] = {
    0.9, 0.8, 0.1, /* A best, B near */
    0.5, 0.5, 0.5, /* all tie */
    0.0, 0.0, 0.0, /* nobody */
    0.0, 0.7, 0.0, /* B alone */
  };
  WbCalcRankOptions options = { .margin = 0.1000001, .nothing = 0.0 };
  WbCalcRank result = rank (draws, 4, 3, &options);

  assert_doubly_stochastic (&result);
  g_assert_cmpfloat (result.p_none, ==, 0.25);
  g_assert_cmpfloat_with_epsilon (result.p_best[0], (1.0 + 1.0 / 3.0) / 4.0, 1e-15);
  g_assert_cmpfloat_with_epsilon (result.p_best[1], (1.0 + 1.0 / 3.0) / 4.0, 1e-15);
  g_assert_cmpfloat_with_epsilon (result.p_best[2], 1.0 / 12.0, 1e-15);
  g_assert_cmpfloat (result.p_near[0], ==, 0.5);
  g_assert_cmpfloat (result.p_near[1], ==, 0.75);
  g_assert_cmpfloat (result.p_near[2], ==, 0.25);
  g_assert_cmpfloat_with_epsilon (result.expected_loss[0], 0.7 / 4.0, 1e-15);
  g_assert_cmpfloat_with_epsilon (result.expected_loss[1], 0.1 / 4.0, 1e-15);
  g_assert_cmpfloat_with_epsilon (result.expected_loss[2], 1.5 / 4.0, 1e-15);
  g_assert_cmpfloat_with_epsilon (result.mean[1], 0.5, 1e-15);
  wb_calc_rank_clear (&result);
}

/* The order of the alternatives is only their order. */
static void
test_order (void)
{
  double draws[3 * 100];
  double turned[3 * 100];
  WbCalcRandom random;

  wb_calc_random_init (&random, 3, 0);
  for (gsize k = 0; k < 100; k++)
    for (gsize i = 0; i < 3; i++)
      {
        draws[k * 3 + i] = (double) wb_calc_random_below (&random, 4);
        turned[k * 3 + 2 - i] = draws[k * 3 + i];
      }

  WbCalcRankOptions options = { .margin = 1.0, .nothing = 0.0 };
  WbCalcRank a = rank (draws, 100, 3, &options);
  WbCalcRank b = rank (turned, 100, 3, &options);

  for (gsize i = 0; i < 3; i++)
    {
      g_assert_cmpfloat_with_epsilon (a.p_best[i], b.p_best[2 - i], 1e-12);
      g_assert_cmpfloat_with_epsilon (a.p_near[i], b.p_near[2 - i], 1e-12);
      g_assert_cmpfloat_with_epsilon (a.expected_rank[i], b.expected_rank[2 - i], 1e-12);
    }
  g_assert_cmpfloat (a.p_none, ==, b.p_none);
  wb_calc_rank_clear (&a);
  wb_calc_rank_clear (&b);
}

static bool
say_no (void *user)
{
  return false;
}

static void
test_edges (void)
{
  double draws[] = { 0.4, 0.2 };
  double bad[] = { 0.4, NAN };
  WbCalcRankOptions negative = { .margin = -0.1, .nothing = 0.0 };
  WbCalcRank result = rank (draws, 2, 1, &PLAIN);

  g_assert_cmpfloat (result.rank[0], ==, 1.0);
  g_assert_cmpfloat (result.p_best[0], ==, 1.0);
  g_assert_cmpfloat (result.expected_loss[0], ==, 0.0);
  wb_calc_rank_clear (&result);

  g_assert_cmpint (wb_calc_rank_acceptability (draws, 0, 2, &PLAIN, NULL, NULL, &result), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_rank_acceptability (draws, 2, 0, &PLAIN, NULL, NULL, &result), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_rank_acceptability (bad, 1, 2, &PLAIN, NULL, NULL, &result), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_rank_acceptability (draws, 1, 2, &negative, NULL, NULL, &result), ==, WB_CALC_BAD_INPUT);
  g_assert_cmpint (wb_calc_rank_acceptability (draws, 1, 2, &PLAIN, say_no, NULL, &result), ==, WB_CALC_CANCELLED);
  g_assert_null (result.rank);
  wb_calc_rank_clear (&result);

  g_assert_cmpfloat (wb_calc_rank_error (0.5, 100), ==, 0.05);
  g_assert_cmpfloat (wb_calc_rank_error (0.0, 100), ==, 0.0);
  g_assert_true (isnan (wb_calc_rank_error (0.5, 0)));
  g_assert_true (isnan (wb_calc_rank_error (1.5, 10)));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/rank/four-normal-scores-take-their-ranks", test_gaussian);
  g_test_add_func ("/calc/rank/uniform-weights-give-the-exact-areas", test_smaa);
  g_test_add_func ("/calc/rank/uncertain-criteria-and-weights", test_uncertain_criteria);
  g_test_add_func ("/calc/rank/a-vote-gives-bordas-points", test_borda);
  g_test_add_func ("/calc/rank/ties-nobody-and-losses-by-hand", test_by_hand);
  g_test_add_func ("/calc/rank/the-order-of-alternatives-does-not-count", test_order);
  g_test_add_func ("/calc/rank/few-and-bad-draws-are-told", test_edges);
  return g_test_run ();
}
