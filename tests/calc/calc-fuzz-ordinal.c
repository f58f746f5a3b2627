/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "calc-fuzz.h"
#include "wb-calc-ordinal.h"

#define MOST CALC_FUZZ_MOST
#define N_DRAWS 20
#define MOST_CATEGORIES 6

static double
draw_factor (CalcFuzz *fuzz)
{
  return calc_fuzz_chance (fuzz, 0.9) ? 2.0 : calc_fuzz_positive (fuzz);
}

static WbCalcOrdinalPrior
draw_prior (CalcFuzz *fuzz)
{
  if (calc_fuzz_chance (fuzz, 0.7))
    return WB_CALC_ORDINAL_PRIOR_USUAL;
  return (WbCalcOrdinalPrior) { { calc_fuzz_chance (fuzz, 0.5) ? 0.0 : 0.5, draw_factor (fuzz) },
                                { calc_fuzz_chance (fuzz, 0.5) ? 0.0 : 0.5, draw_factor (fuzz) },
                                calc_fuzz_chance (fuzz, 0.8) ? 2.0 : calc_fuzz_positive (fuzz),
                                calc_fuzz_chance (fuzz, 0.8) ? 0.0 : calc_fuzz_positive (fuzz) };
}

static void
expect_chances (CalcFuzz     *fuzz,
                const double *chances,
                gsize         n)
{
  double sum = 0.0;

  for (gsize k = 0; k < n; k++)
    {
      calc_fuzz_expect (fuzz, chances[k] >= 0.0 && chances[k] <= 1.0 + 1e-12, "no chance");
      sum += chances[k];
    }
  calc_fuzz_expect (fuzz, fabs (sum - 1.0) < 1e-9, "chances do not make 1");
}

static void
check_draws (CalcFuzz                 *fuzz,
             const WbCalcOrdinalDraws *draws)
{
  double chances[MOST_CATEGORIES];
  gsize draw = calc_fuzz_below (fuzz, draws->n_draws);
  gsize group = calc_fuzz_below (fuzz, draws->n_groups);
  WbCalcOrdinalSummary summary;

  calc_fuzz_expect_finite (fuzz, draws->eta, draws->n_draws * draws->n_groups, "an eta");
  calc_fuzz_expect_finite (fuzz, draws->slope, draws->n_draws * draws->n_columns, "a slope");
  calc_fuzz_expect_finite (fuzz, draws->group_sd, draws->n_draws, "a spread of groups");
  calc_fuzz_expect_finite (fuzz, draws->unit_sd, draws->n_draws, "a spread of units");
  fuzz->subject = "wb_calc_ordinal_chances";
  wb_calc_ordinal_chances (draws, draw, group, wb_calc_random_normal (&fuzz->random), chances);
  expect_chances (fuzz, chances, draws->n_categories);
  fuzz->subject = "wb_calc_ordinal_chances_next";
  wb_calc_ordinal_chances_next (draws, draw, group, chances);
  expect_chances (fuzz, chances, draws->n_categories);
  fuzz->subject = "wb_calc_ordinal_summarise";
  calc_fuzz_expect (fuzz, wb_calc_ordinal_summarise (draws, group, NAN, &summary) == WB_CALC_BAD_INPUT, "NaN passed");
  calc_fuzz_expect (fuzz, wb_calc_ordinal_summarise (draws, draws->n_groups, 0.9, &summary) == WB_CALC_BAD_INPUT, "a group that there is not passed");
  if (wb_calc_ordinal_summarise (draws, group, 0.9, &summary) == WB_CALC_OK)
    {
      expect_chances (fuzz, summary.chance, draws->n_categories);
      calc_fuzz_expect (fuzz, summary.low <= summary.high && summary.low >= -1e-9 && summary.high <= (double) draws->n_categories - 1.0 + 1e-9,
                        "an interval outside the categories");
    }
}

void
calc_fuzz_ordinal (CalcFuzz *fuzz)
{
  gsize rating[MOST], unit[MOST], group[MOST];
  double x[4 * 2];
  gsize n_categories = 2 + calc_fuzz_below (fuzz, MOST_CATEGORIES - 1);
  WbCalcOrdinalData data = {
    .n = 1 + calc_fuzz_below (fuzz, MOST), .rating = rating, .unit = unit, .group = group, .n_categories = n_categories,
    .n_units = 1 + calc_fuzz_below (fuzz, 6), .n_groups = 1 + calc_fuzz_below (fuzz, 4), .n_columns = calc_fuzz_below (fuzz, 3), .x = x,
  };
  WbCalcOrdinalPrior prior = draw_prior (fuzz);
  bool bad = false;
  WbCalcOrdinalDraws draws;
  WbCalcStatus status;

  fuzz->subject = "wb_calc_ordinal_fit";
  /* Now and then every rating is the same. */
  calc_fuzz_indexes (fuzz, rating, data.n, calc_fuzz_chance (fuzz, 0.2) ? 1 : n_categories);
  for (gsize i = 0; i < data.n; i++)
    bad = bad || rating[i] >= n_categories;
  bad = calc_fuzz_indexes (fuzz, unit, data.n, data.n_units) || bad;
  bad = calc_fuzz_indexes (fuzz, group, data.n, data.n_groups) || bad;
  calc_fuzz_fill (fuzz, x, data.n_groups * data.n_columns);
  status = wb_calc_ordinal_fit (&data, &prior, N_DRAWS, fuzz->number, NULL, NULL, &draws);
  calc_fuzz_expect (fuzz, status == WB_CALC_BAD_INPUT || !bad, "an index out of range passed");
  if (calc_fuzz_expect_status (fuzz, status) || status == WB_CALC_ALL_SAME)
    check_draws (fuzz, &draws);
  wb_calc_ordinal_clear (&draws);
}
