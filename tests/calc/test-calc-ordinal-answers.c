/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-ordinal.h"

#include <math.h>
#include <string.h>

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>

#include "calc-ratings.h"

/* The next unit's chances are those of a known unit integrated over its deviate, and both sum to 1. */
static void
test_chances (void)
{
  g_autoptr (CalcRatings) lab = calc_ratings_new_lab (4, NULL);
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
  WbCalcOrdinalDraws draws;

  calc_ratings_fit (lab, &prior, 1, &draws);
  for (gsize d = 0; d < draws.n_draws; d += 400)
    for (gsize g = 0; g < draws.n_groups; g++)
      {
        double next[5];
        double sums[5] = { 0.0 };
        double total = 0.0;

        wb_calc_ordinal_chances_next (&draws, d, g, next);
        for (gsize i = 0; i < 2000; i++)
          {
            double chances[5];
            double all = 0.0;

            wb_calc_ordinal_chances (&draws, d, g, gsl_cdf_ugaussian_Pinv (((double) i + 0.5) / 2000.0), chances);
            for (gsize k = 0; k < 5; k++)
              {
                g_assert_cmpfloat (chances[k], >=, 0.0);
                sums[k] += chances[k] / 2000.0;
                all += chances[k];
              }
            calc_assert_within (all, 1.0, 1e-12);
          }
        for (gsize k = 0; k < 5; k++)
          {
            /* Midpoint rule of 2,000 equal chances. */
            calc_assert_within (next[k], sums[k], 5e-4);
            total += next[k];
          }
        calc_assert_within (total, 1.0, 1e-12);
      }
  wb_calc_ordinal_clear (&draws);
}

static void
assert_same_draws (const WbCalcOrdinalDraws *a,
                   const WbCalcOrdinalDraws *b)
{
  g_assert_cmpuint (a->n_draws, ==, b->n_draws);
  g_assert_cmpmem (a->eta, a->n_draws * a->n_groups * sizeof (double), b->eta, b->n_draws * b->n_groups * sizeof (double));
  g_assert_cmpmem (a->threshold, a->n_draws * (a->n_categories - 1) * sizeof (double), b->threshold,
                   b->n_draws * (b->n_categories - 1) * sizeof (double));
  g_assert_cmpmem (a->unit_sd, a->n_draws * sizeof (double), b->unit_sd, b->n_draws * sizeof (double));
  g_assert_cmpfloat (a->n_effective, ==, b->n_effective);
}

/* Same seed same bytes; another seed, others. A shift of a column, its unit and the order of observations change no bit. */
static void
test_bytes (void)
{
  g_autoptr (CalcRatings) lab = calc_ratings_new_lab (4, NULL);
  g_autoptr (CalcRatings) other = calc_ratings_new (5, 4, 1);
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
  WbCalcOrdinalDraws draws[3];

  for (gsize g = 0; g < 4; g++)
    other->x[g] = 1024.0 + 2.0 * lab->x[g];
  for (gsize i = lab->data.n; i-- > 0;)
    calc_ratings_add (other, lab->data.rating[i], lab->data.unit[i], lab->data.group[i]);
  calc_ratings_fit (lab, &prior, 9, &draws[0]);
  calc_ratings_fit (lab, &prior, 9, &draws[1]);
  calc_ratings_fit (other, &prior, 9, &draws[2]);
  assert_same_draws (&draws[0], &draws[1]);
  assert_same_draws (&draws[0], &draws[2]);
  for (gsize d = 0; d < draws[0].n_draws; d++)
    g_assert_cmpfloat (draws[0].slope[d], ==, 2.0 * draws[2].slope[d]);
  wb_calc_ordinal_clear (&draws[1]);
  calc_ratings_fit (lab, &prior, 10, &draws[1]);
  g_assert_cmpint (memcmp (draws[0].eta, draws[1].eta, 4 * draws[0].n_groups * sizeof (double)), !=, 0);
  for (gsize i = 0; i < 3; i++)
    wb_calc_ordinal_clear (&draws[i]);
}

/*
 * Groups and units numbered backwards, and the scale read backwards: another chain,
 * so the same answer within its error. With 8 seeds 4 standard errors of a
 * difference of means are 4 sqrt (2 / 3200) = 0.1 sd, an interval's ends 0.25 sd.
 */
static void
test_relabelled_and_mirrored (void)
{
  g_autoptr (CalcRatings) lab = calc_ratings_new_lab (4, NULL);
  g_autoptr (CalcRatings) relabelled = calc_ratings_new (5, 4, 1);
  g_autoptr (CalcRatings) mirrored = calc_ratings_new (5, 4, 1);
  CalcRatings *kinds[] = { lab, relabelled, mirrored };
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
  WbCalcOrdinalSummary mean[3][4];

  memset (mean, 0, sizeof mean);
  for (gsize g = 0; g < 4; g++)
    {
      relabelled->x[3 - g] = lab->x[g];
      mirrored->x[g] = lab->x[g];
    }
  for (gsize i = 0; i < lab->data.n; i++)
    {
      calc_ratings_add (relabelled, lab->data.rating[i], 100 - lab->data.unit[i], 3 - lab->data.group[i]);
      calc_ratings_add (mirrored, 4 - lab->data.rating[i], lab->data.unit[i], lab->data.group[i]);
    }
  for (gsize m = 0; m < 3; m++)
    for (gsize seed = 0; seed < 8; seed++)
      {
        WbCalcOrdinalDraws draws;

        calc_ratings_fit (kinds[m], &prior, 20 + seed, &draws);
        for (gsize g = 0; g < 4; g++)
          {
            WbCalcOrdinalSummary summary;

            g_assert_cmpint (wb_calc_ordinal_summarise (&draws, g, 0.9, &summary), ==, WB_CALC_OK);
            mean[m][g].mean += summary.mean / 8.0;
            mean[m][g].low += summary.low / 8.0;
            mean[m][g].high += summary.high / 8.0;
            for (gsize k = 0; k < 5; k++)
              mean[m][g].chance[k] += summary.chance[k] / 8.0;
          }
        wb_calc_ordinal_clear (&draws);
      }
  for (gsize g = 0; g < 4; g++)
    {
      double sd = (mean[0][g].high - mean[0][g].low) / 3.3;

      calc_assert_within (mean[1][3 - g].mean, mean[0][g].mean, 0.1 * sd);
      calc_assert_within (mean[1][3 - g].low, mean[0][g].low, 0.25 * sd);
      calc_assert_within (mean[1][3 - g].high, mean[0][g].high, 0.25 * sd);
      calc_assert_within (4.0 - mean[2][g].mean, mean[0][g].mean, 0.1 * sd);
      calc_assert_within (4.0 - mean[2][g].high, mean[0][g].low, 0.25 * sd);
      calc_assert_within (4.0 - mean[2][g].low, mean[0][g].high, 0.25 * sd);
      for (gsize k = 0; k < 5; k++)
        calc_assert_within (mean[2][g].chance[4 - k], mean[0][g].chance[k], 0.02);
    }
}

/*
 * 120 invented labs of 4 groups on a line, two units each, two ratings of each: the
 * 90 % interval of a group's expected rating must hold the truth in 84 to 96 of 100,
 * over all and in the weakest and the strongest group together, whose share has a
 * standard error of 2 in 100. (2,000 such labs from another seed gave 87.5, 89.8 and
 * 88.0 in the weakest, the middle and the strongest groups; 1,500 labs of 10 groups,
 * all of whose parameters were drawn from the prior, 90.0, 89.6 and 89.9.)
 */
static void
test_coverage (void)
{
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
  const gsize n_labs = 120;
  double hits[4] = { 0.0 };

  for (gsize l = 0; l < n_labs; l++)
    {
      double truth[4];
      g_autoptr (CalcRatings) lab = calc_ratings_new_lab (2000 + l, truth);
      WbCalcOrdinalDraws draws;

      calc_ratings_fit (lab, &prior, l, &draws);
      g_assert_cmpfloat (draws.n_effective, >=, 400.0);
      for (gsize i = 1; i < 4 * draws.n_draws; i++)
        g_assert_true (i % 4 == 0 || draws.threshold[i] >= draws.threshold[i - 1]);
      for (gsize g = 0; g < 4; g++)
        {
          WbCalcOrdinalSummary summary;

          g_assert_cmpint (wb_calc_ordinal_summarise (&draws, g, 0.9, &summary), ==, WB_CALC_OK);
          hits[g] += summary.low <= truth[g] && truth[g] <= summary.high ? 1.0 / (double) n_labs : 0.0;
        }
      wb_calc_ordinal_clear (&draws);
    }
  g_test_message ("covered: %.3f %.3f %.3f %.3f", hits[0], hits[1], hits[2], hits[3]);
  calc_assert_within ((hits[0] + hits[3]) / 2.0, 0.90, 0.06);
  calc_assert_within ((hits[0] + hits[1] + hits[2] + hits[3]) / 4.0, 0.90, 0.06);
}

/* A group at the top end: the interval is skewed, reaches no further than the scale, and has a width. */
static void
test_at_an_end (void)
{
  g_autoptr (CalcRatings) ratings = calc_ratings_new (5, 3, 1);
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
  WbCalcOrdinalDraws draws;
  WbCalcOrdinalSummary summary;

  for (gsize g = 0; g < 3; g++)
    ratings->x[g] = (double) g - 1.0;
  for (gsize i = 0; i < 12; i++)
    calc_ratings_add (ratings, i / 4 == 0 ? i % 2 : (i / 4 == 1 ? 2 + i % 2 : 4), i / 2, i / 4);
  calc_ratings_fit (ratings, &prior, 1, &draws);
  g_assert_cmpint (wb_calc_ordinal_summarise (&draws, 2, 0.9, &summary), ==, WB_CALC_OK);
  g_assert_cmpfloat (summary.high, <=, 4.0);
  g_assert_cmpfloat (summary.high, >, 3.95);
  g_assert_cmpfloat (summary.low, <, 3.8);
  g_assert_cmpfloat (summary.mean - summary.low, >, 2.0 * (summary.high - summary.mean));
  wb_calc_ordinal_clear (&draws);
}

/*
 * One unit in each group, its ratings always the same: which of the two spreads is
 * the large one cannot be told, so with equal priors they have one posterior, and
 * the chain must go between the two explanations.
 */
static void
test_one_unit_a_group (void)
{
  g_autoptr (CalcRatings) ratings = calc_ratings_new (5, 9, 0);
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
  WbCalcOrdinalDraws draws;
  CalcMoments group = { 0.0, 0.0, 0.0 };
  CalcMoments unit = { 0.0, 0.0, 0.0 };

  for (gsize i = 0; i < 36; i++)
    calc_ratings_add (ratings, i / 4 * 7 % 5, i / 4, i / 4);
  calc_ratings_fit (ratings, &prior, 1, &draws);
  g_assert_cmpfloat (draws.n_effective, >=, 400.0);
  for (gsize d = 0; d < draws.n_draws; d++)
    {
      calc_moments_add (&group, log (draws.group_sd[d]));
      calc_moments_add (&unit, log (draws.unit_sd[d]));
    }
  /* 4 standard errors of a difference of two means of 400 draws. */
  calc_assert_within (calc_moments_mean (&group), calc_moments_mean (&unit), 0.28 * calc_moments_sd (&unit));
  g_assert_cmpfloat (calc_moments_sd (&unit), >, 1.0);
  wb_calc_ordinal_clear (&draws);

  /* A wide prior lets the spread of units run to a hundred times that of ratings. */
  prior.between_units = (WbCalcOrdinalSpread) { 0.8, 3.0 };
  calc_ratings_fit (ratings, &prior, 1, &draws);
  g_assert_cmpfloat (draws.n_effective, >=, 400.0);
  wb_calc_ordinal_clear (&draws);
}

/* Without an observation a group lies on the line, wider than its neighbours; beyond the last it is wider still. */
static void
test_group_without_observations (void)
{
  g_autoptr (CalcRatings) ratings = calc_ratings_new (5, 5, 1);
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
  WbCalcOrdinalDraws draws;
  CalcMoments eta[5];

  memset (eta, 0, sizeof eta);
  for (gsize g = 0; g < 5; g++)
    ratings->x[g] = (double) g;
  for (gsize g = 0; g < 4; g++)
    for (gsize i = 0; i < 12 && g != 2; i++)
      calc_ratings_add (ratings, MIN (g + i % 3, 4), 4 * g + i / 3, g);
  calc_ratings_fit (ratings, &prior, 1, &draws);
  for (gsize d = 0; d < draws.n_draws; d++)
    for (gsize g = 0; g < 5; g++)
      calc_moments_add (&eta[g], draws.eta[d * 5 + g]);
  g_assert_cmpfloat (calc_moments_mean (&eta[2]), >, calc_moments_mean (&eta[1]));
  g_assert_cmpfloat (calc_moments_mean (&eta[2]), <, calc_moments_mean (&eta[3]));
  g_assert_cmpfloat (calc_moments_sd (&eta[2]), >, 1.1 * calc_moments_sd (&eta[1]));
  g_assert_cmpfloat (calc_moments_sd (&eta[4]), >, 1.1 * calc_moments_sd (&eta[2]));
  wb_calc_ordinal_clear (&draws);
}

/*
 * Every rating the same: a status of its own, the bound of Clopper and Pearson on
 * units (R's qbeta (0.9, 1, 10) and (0.9, 1, 4)), and draws that keep to it: the 90 %
 * quantile of the chance that the next unit of the groups rated differs.
 */
static void
test_all_the_same (void)
{
  static const struct
  {
    gsize  n_units;
    gsize  per_unit;
    gsize  category;
    double bound;
  } cases[] = { { 10, 1, 0, 0.2056717653 }, { 10, 3, 4, 0.2056717653 }, { 4, 1, 2, 0.4376586748 }, { 4, 4, 0, 0.4376586748 } };

  for (gsize c = 0; c < G_N_ELEMENTS (cases); c++)
    {
      g_autoptr (CalcRatings) ratings = calc_ratings_new (5, 2, 1);
      WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
      WbCalcOrdinalDraws draws;
      g_autofree double *differs = g_new0 (double, 4000);

      ratings->x[0] = -0.5;
      ratings->x[1] = 0.5;
      for (gsize i = 0; i < cases[c].n_units * cases[c].per_unit; i++)
        calc_ratings_add (ratings, cases[c].category, i / cases[c].per_unit, i / cases[c].per_unit % 2);
      g_assert_cmpint (wb_calc_ordinal_fit (&ratings->data, &prior, 4000, 1, NULL, NULL, &draws), ==, WB_CALC_ALL_SAME);
      g_assert_cmpuint (draws.same_category, ==, cases[c].category);
      calc_assert_within (draws.differs_at_most, cases[c].bound, 1e-9);
      for (gsize d = 0; d < 4000; d++)
        for (gsize g = 0; g < 2; g++)
          {
            double chances[5];

            wb_calc_ordinal_chances_next (&draws, d, g, chances);
            differs[d] += 0.5 * (1.0 - chances[cases[c].category]);
          }
      g_test_message ("90 %% of the draws below %g", calc_ratings_quantile (differs, 4000, 0.9));
      g_assert_cmpfloat (calc_ratings_quantile (differs, 4000, 0.9), <=, cases[c].bound);
      g_assert_cmpfloat (calc_ratings_quantile (differs, 4000, 0.9), >, 0.05 * cases[c].bound);
      wb_calc_ordinal_clear (&draws);
    }
}

static bool
count_down (void *user)
{
  int *left = user;

  return (*left)-- > 0;
}

static void
test_cancelled (void)
{
  g_autoptr (CalcRatings) lab = calc_ratings_new_lab (4, NULL);
  WbCalcOrdinalPrior prior = WB_CALC_ORDINAL_PRIOR_USUAL;
  WbCalcOrdinalDraws draws;
  static const int after[] = { 0, 3, 40 };

  for (gsize i = 0; i < G_N_ELEMENTS (after); i++)
    {
      int left = after[i];

      g_assert_cmpint (wb_calc_ordinal_fit (&lab->data, &prior, 4000, 1, count_down, &left, &draws), ==, WB_CALC_CANCELLED);
      g_assert_cmpint (left, ==, -1);
      g_assert_null (draws.eta);
      g_assert_cmpuint (draws.n_draws, ==, 0);
    }
}

static void
assert_refused (const WbCalcOrdinalData  *data,
                const WbCalcOrdinalPrior *prior,
                gsize                     n_draws,
                WbCalcStatus              status)
{
  WbCalcOrdinalDraws draws;

  g_assert_cmpint (wb_calc_ordinal_fit (data, prior, n_draws, 1, NULL, NULL, &draws), ==, status);
  g_assert_null (draws.eta);
}

static void
test_refused (void)
{
  g_autoptr (CalcRatings) lab = calc_ratings_new_lab (4, NULL);
  const WbCalcOrdinalPrior usual = WB_CALC_ORDINAL_PRIOR_USUAL;
  WbCalcOrdinalPrior priors[] = { usual, usual, usual, usual, usual, usual };
  WbCalcOrdinalData data = lab->data;

  priors[0].slope_sd = NAN;
  priors[1].slope_sd = 0.0;
  priors[2].between_units.median = -1.0;
  priors[3].between_units.factor = 1.0;
  priors[4].between_groups.median = INFINITY;
  priors[5].category_weight = NAN;
  for (gsize i = 0; i < G_N_ELEMENTS (priors); i++)
    assert_refused (&data, &priors[i], 100, WB_CALC_BAD_INPUT);
  assert_refused (&data, &usual, 0, WB_CALC_BAD_INPUT);
  data.n_categories = 1;
  assert_refused (&data, &usual, 100, WB_CALC_BAD_INPUT);
  data.n_categories = WB_CALC_ORDINAL_MAX_CATEGORIES + 1;
  assert_refused (&data, &usual, 100, WB_CALC_BAD_INPUT);
  data = lab->data;
  data.n_units = 3;
  assert_refused (&data, &usual, 100, WB_CALC_BAD_INPUT);
  data = lab->data;
  data.n_groups = 3;
  assert_refused (&data, &usual, 100, WB_CALC_BAD_INPUT);
  data = lab->data;
  data.n = 0;
  assert_refused (&data, &usual, 100, WB_CALC_TOO_FEW);
  lab->x[2] = NAN;
  assert_refused (&lab->data, &usual, 100, WB_CALC_BAD_INPUT);
  lab->x[2] = INFINITY;
  assert_refused (&lab->data, &usual, 100, WB_CALC_BAD_INPUT);
}

/* A slope of which nothing is known but that its prior's spread is half of the largest double: what two of them are is no number. */
static void
test_slope_beyond_a_double (void)
{
  static const gsize rating[] = { 2, 2, 1, 1, 0 }, unit[] = { 0, 0, 0, 4, 0 }, group[] = { 0, 0, 0, 0, 0 };
  static const double x[] = { 1.3682186739112994e308 };
  const WbCalcOrdinalData data = {
    .n = 5, .rating = rating, .unit = unit, .group = group, .n_categories = 4, .n_units = 5, .n_groups = 1, .n_columns = 1, .x = x,
  };
  WbCalcOrdinalPrior prior = { { 0.5, 2.0 }, { 0.0, 2.0 }, 9.636363415004717e307, 0.0 };
  WbCalcOrdinalDraws draws;

  g_assert_cmpint (wb_calc_ordinal_fit (&data, &prior, 20, 73862, NULL, NULL, &draws), ==, WB_CALC_NOT_CONVERGED);
  g_assert_null (draws.eta);
  /* one that a double holds at every place of it is drawn from its prior */
  prior.slope_sd = 1e306;
  g_assert_cmpint (wb_calc_ordinal_fit (&data, &prior, 20, 73862, NULL, NULL, &draws), ==, WB_CALC_OK);
  for (gsize i = 0; i < 20; i++)
    g_assert_true (isfinite (draws.slope[i]));
  wb_calc_ordinal_clear (&draws);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  gsl_set_error_handler_off ();
  g_test_add_func ("/calc/ordinal-answers/the-next-unit-is-integrated", test_chances);
  g_test_add_func ("/calc/ordinal-answers/same-seed-same-bytes", test_bytes);
  g_test_add_func ("/calc/ordinal-answers/labels-and-direction-do-not-matter", test_relabelled_and_mirrored);
  g_test_add_func ("/calc/ordinal-answers/intervals-cover", test_coverage);
  g_test_add_func ("/calc/ordinal-answers/an-end-is-skewed", test_at_an_end);
  g_test_add_func ("/calc/ordinal-answers/one-unit-a-group-has-two-explanations", test_one_unit_a_group);
  g_test_add_func ("/calc/ordinal-answers/a-group-without-observations-lies-on-the-line", test_group_without_observations);
  g_test_add_func ("/calc/ordinal-answers/all-the-same-is-bounded", test_all_the_same);
  g_test_add_func ("/calc/ordinal-answers/cancelled", test_cancelled);
  g_test_add_func ("/calc/ordinal-answers/bad-input-is-refused", test_refused);
  g_test_add_func ("/calc/ordinal-answers/a-slope-beyond-a-double-is-told", test_slope_beyond_a_double);
  return g_test_run ();
}
