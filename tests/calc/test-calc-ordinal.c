/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ordinal.h"

#include <math.h>

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "calc-ratings.h"
#include "calc-table.h"

/* No effects at all: the chances have the conjugate posterior. */
static const WbCalcOrdinalPrior thresholds_only = { { 0.0, 0.0 }, { 0.0, 0.0 }, 1.0, 0.0 };

/*
 * One group, no effects: the chances are Dirichlet (w + n_0, ..., w + n_(K-1)), in
 * closed form. Categories never seen below, between and above are among them.
 * Means to 4 standard errors of 400 draws, 0.2 sd; the chance of the two lowest
 * together is beta, and of the draws 5 and 95 in 100 lie below its quantiles, to 4
 * standard errors of such a share.
 */
static void
test_dirichlet (void)
{
  static const gsize counts[][6] = {
    { 3, 5, 9, 4, 2, 1 }, { 0, 0, 7, 5, 0, 0 }, { 4, 0, 0, 6, 1, 0 }, { 1, 0, 0, 0, 0, 9 }, { 0, 0, 0, 12, 0, 0 }, { 15, 0, 0, 0, 0, 0 },
  };

  for (gsize c = 0; c < G_N_ELEMENTS (counts); c++)
    {
      g_autoptr (CalcRatings) ratings = calc_ratings_new (6, 1, 0);
      WbCalcOrdinalDraws draws;
      WbCalcOrdinalSummary summary;
      g_autofree double *low_two = g_new (double, 4000);
      double n = 0.0;
      double a = 2.0 / 6.0 + counts[c][0] + counts[c][1];

      for (gsize k = 0; k < 6; k++)
        for (gsize i = 0; i < counts[c][k]; i++)
          calc_ratings_add (ratings, k, (gsize) n++, 0);
      calc_ratings_fit (ratings, &thresholds_only, 11 + c, &draws);
      g_assert_cmpint (wb_calc_ordinal_summarise (&draws, 0, 0.9, &summary), ==, WB_CALC_OK);
      for (gsize k = 0; k < 6; k++)
        {
          double p = (counts[c][k] + 1.0 / 6.0) / (n + 1.0);

          calc_assert_within (summary.chance[k], p, 0.2 * sqrt (p * (1.0 - p) / (n + 2.0)));
        }
      for (gsize d = 0; d < 4000; d++)
        {
          double chances[6];

          wb_calc_ordinal_chances (&draws, d, 0, 0.0, chances);
          low_two[d] = chances[0] + chances[1];
        }

      calc_assert_within (calc_ratings_share_below (low_two, 4000, gsl_cdf_beta_Pinv (0.05, a, n + 1.0 - a)), 0.05, 0.044);
      calc_assert_within (calc_ratings_share_below (low_two, 4000, gsl_cdf_beta_Pinv (0.95, a, n + 1.0 - a)), 0.95, 0.044);
      wb_calc_ordinal_clear (&draws);
    }
}

/*
 * One rating: its chance was the thresholds' matter alone, whatever the spreads, so
 * these keep their prior exactly, ln s normal. 16 seeds, 400 draws or more each: 4
 * standard errors of a mean are 0.05 sd, of an sd 3.5 %.
 */
static void
test_one_rating (void)
{
  g_autoptr (CalcRatings) ratings = calc_ratings_new (5, 1, 0);
  WbCalcOrdinalPrior prior = { { 0.5, 2.0 }, { 0.8, 3.0 }, 2.0, 0.0 };
  CalcMoments group = { 0.0, 0.0, 0.0 };
  CalcMoments unit = { 0.0, 0.0, 0.0 };

  calc_ratings_add (ratings, 2, 0, 0);
  for (gsize seed = 0; seed < 16; seed++)
    {
      WbCalcOrdinalDraws draws;

      calc_ratings_fit (ratings, &prior, seed, &draws);
      for (gsize d = 0; d < draws.n_draws; d++)
        {
          calc_moments_add (&group, log (draws.group_sd[d] / 0.5) / log (2.0));
          calc_moments_add (&unit, log (draws.unit_sd[d] / 0.8) / log (3.0));
        }
      wb_calc_ordinal_clear (&draws);
    }
  calc_assert_within (calc_moments_mean (&group), 0.0, 0.05);
  calc_assert_within (calc_moments_mean (&unit), 0.0, 0.05);
  calc_assert_within (calc_moments_sd (&group), 1.0, 0.035);
  calc_assert_within (calc_moments_sd (&unit), 1.0, 0.035);
}

/*
 * The posterior of the same model and prior by JAGS 4.3.1 (4 chains of 40,000).
 * Eight seeds here are worth 3,200 draws, JAGS's worst column 2,200: 4 standard
 * errors of a mean are 0.11 sd, of an sd 8 %, and half as much again for the spreads,
 * whose upper tails are long.
 */
static void
assert_posterior (CalcRatings              *ratings,
                  const WbCalcOrdinalPrior *prior,
                  const char               *stem)
{
  g_autoptr (CalcTable) table = calc_table_load (stem);
  gsize n_rows = calc_table_n_rows (table);
  g_autofree CalcMoments *moments = g_new0 (CalcMoments, n_rows);

  for (gsize seed = 1; seed <= 8; seed++)
    {
      WbCalcOrdinalDraws draws;

      calc_ratings_fit (ratings, prior, seed, &draws);
      for (gsize d = 0; d < draws.n_draws; d++)
        for (gsize row = 0; row < n_rows; row++)
          calc_moments_add (&moments[row], calc_ratings_named (&draws, d, calc_table_text (table, "parameter", row)));
      wb_calc_ordinal_clear (&draws);
    }
  for (gsize row = 0; row < n_rows; row++)
    {
      double sd = calc_table_number (table, "std_dev", row);

      g_test_message ("%s", calc_table_text (table, "parameter", row));
      calc_assert_within (calc_moments_mean (&moments[row]), calc_table_number (table, "value", row), 0.11 * sd);
      calc_assert_within (calc_moments_sd (&moments[row]), sd, 0.12 * sd);
    }
}

static void
test_wine_posterior (void)
{
  g_autoptr (CalcRatings) wine = calc_ratings_load_wine ();
  WbCalcOrdinalPrior prior = { { 0.1, 1.5 }, { 0.5, 3.0 }, 2.0, 0.0 };

  assert_posterior (wine, &prior, "ratings_wine_posterior");
}

/* Invented: the strongest group wholly at the top, the middle category never seen. */
static void
test_separated_posterior (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("ratings_invented_data");
  g_autoptr (CalcRatings) ratings = calc_ratings_new (5, 6, 1);
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;

  for (gsize i = 0; i < calc_table_n_rows (table); i++)
    {
      gsize group = (gsize) calc_table_number (table, "group", i);

      ratings->x[group] = calc_table_number (table, "step", i);
      calc_ratings_add (ratings, (gsize) calc_table_number (table, "rating", i), (gsize) calc_table_number (table, "unit", i),
                        group);
    }
  assert_posterior (ratings, &prior, "ratings_invented_posterior");
}

/* The mean over the draws against a maximum-likelihood answer, in its standard errors. */
static void
assert_likelihood (const WbCalcOrdinalDraws *draws,
                   const CalcTable          *certified,
                   const char               *parameter,
                   const char               *name,
                   const double             *centre,
                   double                    tolerance)
{
  CalcMoments moments = { 0.0, 0.0, 0.0 };
  double sd = calc_table_certified_sd (certified, parameter);

  for (gsize d = 0; d < draws->n_draws; d++)
    {
      double value = calc_ratings_named (draws, d, name);

      /* The reference's thresholds are those at x = 0. */
      for (gsize j = 0; j < draws->n_columns && g_str_has_prefix (name, "theta"); j++)
        value += centre[j] * draws->slope[d * draws->n_columns + j];
      calc_moments_add (&moments, value);
    }
  g_test_message ("%s: %g, %g", parameter, calc_moments_mean (&moments), calc_moments_sd (&moments));
  calc_assert_within (calc_moments_mean (&moments), calc_table_certified (certified, parameter), tolerance * sd);
  calc_assert_within (calc_moments_sd (&moments), sd, 0.15 * sd);
}

/*
 * Bitterness of wine (Randall 1989) with weak priors, against R's clm and clmm
 * with the probit link. With 72 ratings the posterior of a threshold is skewed and
 * its mean lies further out than the mode: 0.25 standard errors are held (0.14 seen),
 * and standard deviations to 15 %.
 */
static void
test_wine_likelihood (void)
{
  static const char *const names[] = { "theta[1]", "theta[2]", "theta[3]", "theta[4]", "beta[1]", "beta[2]" };
  static const char *const parameters[] = { "threshold[1]", "threshold[2]", "threshold[3]", "threshold[4]", "temp", "contact" };
  static const double centre[] = { 0.5, 0.5 };
  g_autoptr (CalcTable) certified = calc_table_load ("ratings_wine_certified");
  g_autoptr (CalcRatings) wine = calc_ratings_load_wine ();
  WbCalcOrdinalPrior fixed = { { 0.0, 0.0 }, { 0.0, 0.0 }, 10.0, 0.0 };
  WbCalcOrdinalPrior mixed = { { 0.0, 0.0 }, { 0.66, 1.3 }, 10.0, 0.0 };
  WbCalcOrdinalDraws draws[2];

  calc_ratings_fit (wine, &fixed, 3, &draws[0]);
  calc_ratings_fit (wine, &mixed, 3, &draws[1]);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    for (gsize m = 0; m < 2; m++)
      {
        g_autofree char *parameter = g_strconcat (m == 0 ? "fixed_" : "mixed_", parameters[i], NULL);

        assert_likelihood (&draws[m], certified, parameter, names[i], centre, 0.25);
      }
  wb_calc_ordinal_clear (&draws[0]);
  wb_calc_ordinal_clear (&draws[1]);
}

/* Satisfaction with housing against R's polr, probit: 1,681 answers, so the mean is the mode to 0.2 standard errors (4 of 400 draws). */
static void
test_housing (void)
{
  static const char *const parameters[] = { "infl_medium", "infl_high", "apartment", "atrium", "terrace", "contact_high" };
  g_autoptr (CalcTable) certified = calc_table_load ("ratings_housing_certified");
  double centre[6];
  g_autoptr (CalcRatings) housing = calc_ratings_load_housing (centre);
  WbCalcOrdinalPrior prior = { { 0.0, 0.0 }, { 0.0, 0.0 }, 10.0, 0.0 };
  WbCalcOrdinalDraws draws;

  g_assert_cmpuint (housing->data.n, ==, 1681);
  calc_ratings_fit (housing, &prior, 5, &draws);
  for (gsize j = 0; j < 6; j++)
    {
      g_autofree char *name = g_strdup_printf ("beta[%d]", (int) j + 1);

      assert_likelihood (&draws, certified, parameters[j], name, centre, 0.2);
    }
  assert_likelihood (&draws, certified, "threshold[1]", "theta[1]", centre, 0.2);
  assert_likelihood (&draws, certified, "threshold[2]", "theta[2]", centre, 0.2);
  wb_calc_ordinal_clear (&draws);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/ordinal/chances-without-effects-are-dirichlet", test_dirichlet);
  g_test_add_func ("/calc/ordinal/one-rating-leaves-the-spreads-to-the-prior", test_one_rating);
  g_test_add_func ("/calc/ordinal/wine-agrees-with-another-sampler", test_wine_posterior);
  g_test_add_func ("/calc/ordinal/separated-ratings-agree-with-another-sampler", test_separated_posterior);
  g_test_add_func ("/calc/ordinal/wine-agrees-with-the-likelihood", test_wine_likelihood);
  g_test_add_func ("/calc/ordinal/housing-agrees-with-the-likelihood", test_housing);
  return g_test_run ();
}
