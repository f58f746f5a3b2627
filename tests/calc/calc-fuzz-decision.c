/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <float.h>
#include <math.h>

#include "calc-fuzz.h"
#include "wb-calc-allocation.h"
#include "wb-calc-blocks.h"
#include "wb-calc-desirability.h"
#include "wb-calc-rank.h"
#include "wb-calc-summary.h"

static WbCalcDesirability
draw_shape (CalcFuzz *fuzz)
{
  double limits[4];

  for (gsize i = 0; i < 4; i++)
    limits[i] = calc_fuzz_number (fuzz);
  /* Now and then as they come, so that shapes out of order are asked for too. */
  if (calc_fuzz_chance (fuzz, 0.9))
    wb_calc_summary_sort (limits, 4);
  switch (calc_fuzz_below (fuzz, 4))
    {
    case 0:
      return wb_calc_desirability_max (limits[0], limits[1], calc_fuzz_positive (fuzz));
    case 1:
      return wb_calc_desirability_min (limits[0], limits[1], calc_fuzz_positive (fuzz));
    case 2:
      return wb_calc_desirability_target (limits[0], limits[1], limits[2], calc_fuzz_positive (fuzz), calc_fuzz_positive (fuzz));
    default:
      return wb_calc_desirability_trapezoid (limits[0], limits[1], limits[2], limits[3]);
    }
}

void
calc_fuzz_desirability (CalcFuzz *fuzz)
{
  double d[CALC_FUZZ_MOST], weights[CALC_FUZZ_MOST];
  gsize n = calc_fuzz_below (fuzz, CALC_FUZZ_MOST + 1);
  bool weighted = calc_fuzz_chance (fuzz, 0.5);
  double overall = NAN;
  double largest = 0.0;
  double smallest = 1.0;

  for (gsize i = 0; i < n; i++)
    {
      WbCalcDesirability shape = draw_shape (fuzz);
      double y = calc_fuzz_chance (fuzz, 0.1) ? INFINITY : calc_fuzz_number (fuzz);

      fuzz->subject = "wb_calc_desirability_value";
      d[i] = 1.0;
      if (wb_calc_desirability_value (&shape, y, &d[i]) == WB_CALC_OK)
        {
          calc_fuzz_expect_chance (fuzz, d[i], "d");
          calc_fuzz_expect (fuzz, wb_calc_desirability_at (&shape, y) == d[i], "another d");
        }
      calc_fuzz_expect (fuzz, wb_calc_desirability_value (&shape, NAN, &overall) == WB_CALC_BAD_INPUT, "NaN passed");
      shape.one_from = NAN;
      fuzz->subject = "wb_calc_desirability_check";
      calc_fuzz_expect (fuzz, wb_calc_desirability_check (&shape) == WB_CALC_BAD_INPUT, "NaN passed");
      largest = fmax (largest, d[i]);
      smallest = fmin (smallest, d[i]);
    }
  fuzz->subject = "wb_calc_desirability_overall";
  if (weighted)
    calc_fuzz_fill_positive (fuzz, weights, n);
  if (calc_fuzz_expect_status (fuzz, wb_calc_desirability_overall (d, weighted ? weights : NULL, n, &overall)))
    calc_fuzz_expect (fuzz, overall >= smallest * (1.0 - 1e-9) && overall <= largest * (1.0 + 1e-9), "D outside its parts");
}

void
calc_fuzz_rank (CalcFuzz *fuzz)
{
  double draws[CALC_FUZZ_MOST * 5];
  gsize n_draws = calc_fuzz_below (fuzz, CALC_FUZZ_MOST + 1);
  gsize n = calc_fuzz_below (fuzz, 6);
  WbCalcRankOptions options = { calc_fuzz_chance (fuzz, 0.5) ? 0.05 : calc_fuzz_positive (fuzz),
                                calc_fuzz_chance (fuzz, 0.5) ? -INFINITY : calc_fuzz_number (fuzz) };
  double sum = 0.0;
  WbCalcRank result;

  fuzz->subject = "wb_calc_rank_acceptability";
  calc_fuzz_fill (fuzz, draws, n_draws * n);
  if (calc_fuzz_expect_status (fuzz, wb_calc_rank_acceptability (draws, n_draws, n, &options, NULL, NULL, &result)))
    {
      calc_fuzz_expect_finite (fuzz, result.mean, n, "a mean");
      calc_fuzz_expect_finite (fuzz, result.expected_loss, n, "an expected loss");
      calc_fuzz_expect_finite (fuzz, result.expected_rank, n, "an expected rank");
      for (gsize i = 0; i < n; i++)
        {
          double row = 0.0;

          for (gsize r = 0; r < n; r++)
            row += result.rank[i * n + r];
          calc_fuzz_expect (fuzz, fabs (row - 1.0) < 1e-9, "the ranks of one do not make 1");
          calc_fuzz_expect (fuzz, result.p_near[i] >= result.p_best[i] - 1e-9 && result.p_near[i] <= 1.0 + 1e-9, "near and best");
          calc_fuzz_expect (fuzz, result.expected_loss[i] >= 0.0, "a loss below 0");
          sum += result.p_best[i];
        }
      calc_fuzz_expect (fuzz, fabs (sum + result.p_none - 1.0) < 1e-9, "best and none do not make 1");
    }
  else
    calc_fuzz_expect (fuzz, result.rank == NULL, "something is left of a failure");
  wb_calc_rank_clear (&result);
  options.margin = NAN;
  calc_fuzz_expect (fuzz, wb_calc_rank_acceptability (draws, n_draws, n, &options, NULL, NULL, &result) != WB_CALC_OK, "NaN passed");
  options = (WbCalcRankOptions) { 0.0, NAN };
  calc_fuzz_expect (fuzz, wb_calc_rank_acceptability (draws, n_draws, n, &options, NULL, NULL, &result) != WB_CALC_OK, "NaN passed");
  wb_calc_rank_clear (&result);
  fuzz->subject = "wb_calc_rank_error";
  sum = wb_calc_rank_error (calc_fuzz_number (fuzz), n_draws);
  calc_fuzz_expect (fuzz, isnan (sum) || (sum >= 0.0 && sum <= 0.5), "the error of a chance");
}

void
calc_fuzz_random (CalcFuzz *fuzz)
{
  WbCalcRandom random;
  double df = calc_fuzz_chance (fuzz, 0.1) ? INFINITY : calc_fuzz_number (fuzz);
  gsize n = calc_fuzz_below (fuzz, CALC_FUZZ_MOST + 1);
  gsize items[CALC_FUZZ_MOST];
  guint64 bound = wb_calc_random_next (&fuzz->random) >> calc_fuzz_below (fuzz, 64);
  guint64 seen = 0;

  fuzz->subject = "wb_calc_random_n_blocks";
  calc_fuzz_expect (fuzz, wb_calc_random_n_blocks (bound) >= bound / WB_CALC_RANDOM_BLOCK
                              && wb_calc_random_n_blocks (bound) <= bound / WB_CALC_RANDOM_BLOCK + 1,
                    "blocks");
  seen = bound;
  wb_calc_random_init (&random, wb_calc_random_split (&seen), wb_calc_random_next (&fuzz->random));
  seen = 0;
  fuzz->subject = "wb_calc_random_uniform";
  double x = wb_calc_random_uniform (&random);

  calc_fuzz_expect (fuzz, x > 0.0 && x < 1.0, "an end");
  fuzz->subject = "wb_calc_random_normal";
  calc_fuzz_expect (fuzz, isfinite (wb_calc_random_normal (&random)), "not finite");
  fuzz->subject = "wb_calc_random_chisq";
  x = wb_calc_random_chisq (&random, df);
  calc_fuzz_expect (fuzz, df > 0.0 ? x >= 0.0 && isinf (x) == isinf (df) : isnan (x), "outside and inside the domain");
  fuzz->subject = "wb_calc_random_t";
  x = wb_calc_random_t (&random, df);
  /* Far below one degree of freedom a draw may leave the range of a double. */
  calc_fuzz_expect (fuzz, df > 0.0 ? (df < 0.1 ? !isnan (x) : isfinite (x)) : isnan (x), "outside and inside the domain");
  fuzz->subject = "wb_calc_random_below";
  calc_fuzz_expect (fuzz, wb_calc_random_below (&random, bound) < MAX (bound, 1), "at or above the bound");
  fuzz->subject = "wb_calc_random_shuffle";
  for (gsize i = 0; i < n; i++)
    items[i] = i;
  wb_calc_random_shuffle (&random, items, n);
  for (gsize i = 0; i < n; i++)
    seen |= G_GUINT64_CONSTANT (1) << items[i];
  calc_fuzz_expect (fuzz, seen == (G_GUINT64_CONSTANT (1) << n) - 1, "not the same items");
}

/* Counts that fit together, and now and then not. */
static gsize
draw_layout (CalcFuzz           *fuzz,
             WbCalcBlocksLayout *layout,
             gsize              *replications,
             gsize              *sizes)
{
  gsize v = 1 + calc_fuzz_below (fuzz, 8), b = 1 + calc_fuzz_below (fuzz, 6), plots = MAX (v, b) + calc_fuzz_below (fuzz, CALC_FUZZ_MOST);

  for (gsize i = 0; i < plots; i++)
    {
      replications[i < v ? i : calc_fuzz_below (fuzz, v)]++;
      sizes[i < b ? i : calc_fuzz_below (fuzz, b)]++;
    }
  if (calc_fuzz_chance (fuzz, 0.1))
    sizes[calc_fuzz_below (fuzz, b)] = (gsize) wb_calc_random_next (&fuzz->random);
  *layout = (WbCalcBlocksLayout) { v, replications, b, sizes };
  return plots;
}

void
calc_fuzz_blocks (CalcFuzz *fuzz)
{
  gsize replications[8] = { 0 }, sizes[6] = { 0 }, treatments[2 * CALC_FUZZ_MOST] = { 0 }, held[2 * CALC_FUZZ_MOST];
  WbCalcBlocksOptions options = { .seed = wb_calc_random_next (&fuzz->random), .n_tries = 1, .n_moves = 300 };
  WbCalcBlocksFigures figures, again;
  WbCalcBlocksLayout layout;
  gsize plots = draw_layout (fuzz, &layout, replications, sizes);

  for (gsize i = 0; i < 2 * CALC_FUZZ_MOST; i++)
    held[i] = calc_fuzz_chance (fuzz, 0.1) ? calc_fuzz_below (fuzz, 9) : SIZE_MAX;
  if (calc_fuzz_chance (fuzz, 0.5))
    options.held = held;
  fuzz->subject = "wb_calc_blocks_search";
  if (calc_fuzz_expect_status (fuzz, wb_calc_blocks_search (&layout, &options, treatments, &figures)))
    {
      calc_fuzz_expect_chance (fuzz, figures.efficiency, "the efficiency");
      calc_fuzz_expect (fuzz, figures.efficiency <= figures.bound + 1e-9, "above its bound");
      calc_fuzz_expect (fuzz, figures.connected == (figures.efficiency > 0.0), "connected and nothing told");
      calc_fuzz_expect (fuzz, figures.smallest <= figures.efficiency + 1e-9, "the least above the mean");
      fuzz->subject = "wb_calc_blocks_measure";
      calc_fuzz_expect (fuzz, wb_calc_blocks_measure (&layout, treatments, &again) == WB_CALC_OK, "its own design is none");
      calc_fuzz_expect (fuzz, again.efficiency == figures.efficiency && again.repeats == figures.repeats, "measured anew it is another");
      for (gsize i = 0; i < plots && options.held != NULL; i++)
        calc_fuzz_expect (fuzz, held[i] == SIZE_MAX || held[i] == treatments[i], "what was held moved");
    }
  else
    calc_fuzz_expect (fuzz, isnan (figures.efficiency), "something is left of a failure");
  fuzz->subject = "wb_calc_blocks_measure";
  treatments[0] = layout.n_treatments;
  calc_fuzz_expect (fuzz, wb_calc_blocks_measure (&layout, treatments, &again) == WB_CALC_BAD_INPUT, "a treatment that there is not passed");
}

void
calc_fuzz_allocation (CalcFuzz *fuzz)
{
  WbCalcAllocationAlternative alternatives[CALC_FUZZ_MOST];
  WbCalcAllocationQuestion question = { calc_fuzz_chance (fuzz, 0.5), calc_fuzz_positive (fuzz),
                                        calc_fuzz_chance (fuzz, 0.5) ? 0.0 : calc_fuzz_positive (fuzz) };
  gsize n = calc_fuzz_below (fuzz, CALC_FUZZ_MOST + 1), whole[CALC_FUZZ_MOST];
  double means[CALC_FUZZ_MOST], further[CALC_FUZZ_MOST], spent = 0.0, all = question.budget, slack = DBL_MIN;
  WbCalcStatus status;

  calc_fuzz_fill (fuzz, means, n);
  for (gsize i = 0; i < n; i++)
    alternatives[i] = (WbCalcAllocationAlternative) { means[i], calc_fuzz_positive (fuzz), (double) calc_fuzz_below (fuzz, 9),
                                                      calc_fuzz_chance (fuzz, 0.5) ? 1.0 : calc_fuzz_positive (fuzz),
                                                      calc_fuzz_chance (fuzz, 0.2) };
  fuzz->subject = "wb_calc_allocation_share";
  status = wb_calc_allocation_share (alternatives, n, &question, further);
  if (calc_fuzz_expect_status (fuzz, status))
    {
      calc_fuzz_expect_finite (fuzz, further, n, "a share");
      for (gsize i = 0; i < n; i++)
        {
          calc_fuzz_expect (fuzz, further[i] >= 0.0, "a share below 0");
          spent += further[i] * alternatives[i].cost;
          all += alternatives[i].had * alternatives[i].cost;
          slack += DBL_MIN * alternatives[i].cost;
        }
      /* Below the least normal number a double has fewer digits. */
      calc_fuzz_expect (fuzz, fabs (spent - question.budget) <= 1e-9 * all + slack, "shares do not make the budget");
    }
  fuzz->subject = "wb_calc_allocation_count";
  if (wb_calc_allocation_count (alternatives, n, &question, whole) == WB_CALC_OK)
    {
      calc_fuzz_expect (fuzz, status == WB_CALC_OK, "parts without shares");
      for (gsize i = 0; i < n && status == WB_CALC_OK; i++)
        calc_fuzz_expect (fuzz, fabs ((double) whole[i] - further[i]) <= 1.0 + 1e-9 * further[i], "far from its share");
    }
}
