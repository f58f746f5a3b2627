/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-calc-allocation.h"

#include <math.h>
#include <string.h>

#include <glib.h>

#include "calc-table.h"
#include "wb-calc-random.h"

#define MOST 8

static double
cost_of (const WbCalcAllocationAlternative *alternatives,
         const double                      *further,
         gsize                              n)
{
  double sum = 0.0;

  for (gsize i = 0; i < n; i++)
    sum += alternatives[i].cost * further[i];
  return sum;
}

/* The rows of one example stand together; returns how many. */
static gsize
read_example (const CalcTable             *table,
              gsize                        from,
              WbCalcAllocationAlternative *alternatives,
              WbCalcAllocationQuestion    *question)
{
  const char *name = calc_table_text (table, "example", from);
  gsize n = 0;

  question->larger = calc_table_number (table, "larger", from) != 0.0;
  question->budget = calc_table_number (table, "budget", from);
  question->indifference = 0.0;
  for (gsize row = from; row < calc_table_n_rows (table) && g_str_equal (calc_table_text (table, "example", row), name); row++)
    alternatives[n++] = (WbCalcAllocationAlternative) {
      .mean = calc_table_number (table, "mean", row),
      .variance = calc_table_number (table, "variance", row),
      .had = calc_table_number (table, "had", row),
      .cost = 1.0,
    };
  return n;
}

/*
 * The first and third round every share but the best's, the second cuts them off, and the best gets what is left: there 48, where the
 * rule has 46.9, so that ours by largest remainders are up to one off.
 */
static void
test_published (void)
{
  g_autoptr (CalcTable) table = calc_table_load ("allocation_published");
  gsize n_examples = 0, n;

  for (gsize from = 0; from < calc_table_n_rows (table); from += n)
    {
      WbCalcAllocationAlternative alternatives[MOST];
      WbCalcAllocationQuestion question;
      gsize whole[MOST], best;
      double share[MOST];

      n = read_example (table, from, alternatives, &question);
      best = question.larger ? n - 1 : 0;
      g_assert_cmpint (wb_calc_allocation_share (alternatives, n, &question, share), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_allocation_count (alternatives, n, &question, whole), ==, WB_CALC_OK);
      for (gsize i = 0; i < n; i++)
        {
          double published = calc_table_number (table, "further", from + i);

          if (i != best)
            g_assert_cmpfloat (n_examples == 1 ? floor (share[i]) : round (share[i]), ==, published);
          g_assert_cmpfloat (fabs ((double) whole[i] - published), <=, n_examples == 1 ? 1.0 : 0.0);
        }
      n_examples++;
    }
  g_assert_cmpuint (n_examples, ==, 3);
}

/* The first example in fractions: ratios to the second are sqrt (1 + 9 / 16 + 9 / 81 + 4 / 256) : 1 : 9 / 4 : 1 : 1 / 4. */
static void
test_by_hand (void)
{
  const WbCalcAllocationAlternative alternatives[] = {
    { 1, 1, 0, 1, false }, { 2, 1, 0, 1, false }, { 3, 9, 0, 1, false }, { 4, 9, 0, 1, false }, { 5, 4, 0, 1, false }
  };
  const WbCalcAllocationQuestion question = { false, 50.0, 0.0 };
  const double ratio[] = { sqrt (1.0 + 9.0 / 16.0 + 9.0 / 81.0 + 4.0 / 256.0), 1.0, 2.25, 1.0, 0.25 };
  double further[5];

  g_assert_cmpint (wb_calc_allocation_share (alternatives, 5, &question, further), ==, WB_CALC_OK);
  for (gsize i = 0; i < 5; i++)
    calc_assert_digits ("share", further[i], 50.0 * ratio[i] / (4.5 + ratio[0]), 13);
}

/* log of 1 - Bonferroni's bound, the sum of the chances that another looks better, for N observations each. */
static double
log_wrong (const WbCalcAllocationAlternative *alternatives,
           gsize                              n,
           const double                      *number)
{
  double sum = 0.0;

  for (gsize i = 1; i < n; i++)
    sum += 0.5 * erfc ((alternatives[i].mean - alternatives[0].mean)
                       / sqrt (2.0 * (alternatives[i].variance / number[i] + alternatives[0].variance / number[0])));
  return log (sum);
}

/*
 * What the rule is for: with a large budget no split of the same cost that moves 30 of 100 from one to another is better by more than
 * 1 % of the logarithm (the rule is a limit); even shares, and those of a rule that does not look at costs, are worse.
 */
static void
test_purpose (void)
{
  WbCalcAllocationAlternative alternatives[] = {
    { 1.0, 2.0, 0, 1.0, false }, { 1.6, 1.0, 0, 9.0, false }, { 1.8, 4.0, 0, 8.0, false }, { 2.2, 3.0, 0, 7.0, false },
    { 1.7, 1.5, 0, 9.0, false }, { 1.9, 2.0, 0, 9.0, false }, { 1.6, 1.0, 0, 8.0, false }
  };
  const gsize n = G_N_ELEMENTS (alternatives);
  const WbCalcAllocationQuestion question = { false, 40000.0, 0.0 };
  double further[MOST], other[MOST], at, spent;

  g_assert_cmpint (wb_calc_allocation_share (alternatives, n, &question, further), ==, WB_CALC_OK);
  calc_assert_digits ("cost", cost_of (alternatives, further, n), question.budget, 12);
  at = log_wrong (alternatives, n, further);
  for (gsize from = 0; from < n; from++)
    for (gsize to = 0; to < n; to++)
      {
        if (from == to)
          continue;
        memcpy (other, further, sizeof further);
        other[from] -= 0.3 * further[from];
        other[to] += 0.3 * further[from] * alternatives[from].cost / alternatives[to].cost;
        g_assert_cmpfloat (log_wrong (alternatives, n, other), >, 1.01 * at);
      }
  for (gsize i = 0; i < n; i++)
    other[i] = question.budget / (double) n / alternatives[i].cost;
  g_assert_cmpfloat (log_wrong (alternatives, n, other), >, 0.8 * at);

  WbCalcAllocationAlternative blind[G_N_ELEMENTS (alternatives)];

  memcpy (blind, alternatives, sizeof blind);
  for (gsize i = 0; i < n; i++)
    blind[i].cost = 1.0;
  g_assert_cmpint (wb_calc_allocation_share (blind, n, &question, other), ==, WB_CALC_OK);
  spent = cost_of (alternatives, other, n);
  for (gsize i = 0; i < n; i++)
    other[i] *= question.budget / spent;
  g_assert_cmpfloat (log_wrong (alternatives, n, other), >, 0.97 * at);
}

static gsize
draw (WbCalcRandom                *random,
      WbCalcAllocationAlternative *alternatives)
{
  gsize n = 2 + (gsize) wb_calc_random_below (random, MOST - 1);

  for (gsize i = 0; i < n; i++)
    alternatives[i] = (WbCalcAllocationAlternative) { 10.0 + wb_calc_random_normal (random), 0.1 + wb_calc_random_uniform (random),
                                                      (double) wb_calc_random_below (random, 12), 1.0,
                                                      i > 1 && wb_calc_random_uniform (random) < 0.2 };
  return n;
}

/* Whole parts make the budget and are within one of their shares; nobody who is excluded gets anything. */
static void
test_sums (void)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 4, 1);
  for (int round = 0; round < 500; round++)
    {
      WbCalcAllocationAlternative alternatives[MOST];
      gsize n = draw (&random, alternatives), whole[MOST], sum = 0;
      WbCalcAllocationQuestion question = { round % 2 == 0, (double) wb_calc_random_below (&random, 60), round % 3 == 0 ? 0.2 : 0.0 };
      double further[MOST];

      g_assert_cmpint (wb_calc_allocation_share (alternatives, n, &question, further), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_allocation_count (alternatives, n, &question, whole), ==, WB_CALC_OK);
      g_assert_cmpfloat_with_epsilon (cost_of (alternatives, further, n), question.budget, 1e-9);
      for (gsize i = 0; i < n; i++)
        {
          sum += whole[i];
          g_assert_cmpfloat (further[i], >=, 0.0);
          g_assert_cmpfloat (fabs ((double) whole[i] - further[i]), <, 1.0);
          g_assert_true (!alternatives[i].excluded || further[i] == 0.0);
        }
      g_assert_cmpfloat ((double) sum, ==, question.budget);
    }
}

/* With costs nothing is overspent, and what is left pays for none that misses a part of its share. */
static void
test_costs (void)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 5, 1);
  for (int round = 0; round < 300; round++)
    {
      WbCalcAllocationAlternative alternatives[MOST];
      gsize n = draw (&random, alternatives), whole[MOST];
      WbCalcAllocationQuestion question = { true, 40.0, 0.0 };
      double further[MOST], left = 40.0;

      for (gsize i = 0; i < n; i++)
        alternatives[i].cost = 0.5 + 3.0 * wb_calc_random_uniform (&random);
      g_assert_cmpint (wb_calc_allocation_share (alternatives, n, &question, further), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_allocation_count (alternatives, n, &question, whole), ==, WB_CALC_OK);
      g_assert_cmpfloat_with_epsilon (cost_of (alternatives, further, n), 40.0, 1e-9);
      for (gsize i = 0; i < n; i++)
        left -= alternatives[i].cost * (double) whole[i];
      g_assert_cmpfloat (left, >=, -1e-6);
      for (gsize i = 0; i < n; i++)
        g_assert_true (further[i] - (double) whole[i] < 1e-6 || alternatives[i].cost > left);
    }
}

/* The order does not count, nor a shift nor a unit; smaller is better is larger is better of the negatives. */
static void
test_properties (void)
{
  WbCalcRandom random;

  wb_calc_random_init (&random, 6, 1);
  for (int round = 0; round < 100; round++)
    {
      WbCalcAllocationAlternative plain[MOST], other[MOST];
      gsize n = draw (&random, plain);
      WbCalcAllocationQuestion question = { true, 25.0, 0.1 }, turned = { false, 25.0, 0.1 * 25.4 };
      double a[MOST], b[MOST];

      for (gsize i = 0; i < n; i++)
        {
          other[i] = plain[n - 1 - i];
          other[i].mean = 1000.0 - 25.4 * other[i].mean;
          other[i].variance *= 25.4 * 25.4;
        }
      g_assert_cmpint (wb_calc_allocation_share (plain, n, &question, a), ==, WB_CALC_OK);
      g_assert_cmpint (wb_calc_allocation_share (other, n, &turned, b), ==, WB_CALC_OK);
      for (gsize i = 0; i < n; i++)
        g_assert_cmpfloat_with_epsilon (a[i], b[n - 1 - i], 1e-8);
    }
}

/* Two that are equal share what the others leave; an indifference leaves more to the others. */
static void
test_dead_heat (void)
{
  const WbCalcAllocationAlternative alternatives[] = { { 5, 1, 2, 1, false }, { 5, 4, 2, 1, false }, { 4, 1, 2, 1, false } };
  WbCalcAllocationQuestion question = { true, 20.0, 0.0 };
  double further[3], wider[3];

  g_assert_cmpint (wb_calc_allocation_share (alternatives, 3, &question, further), ==, WB_CALC_OK);
  /* Standard deviations are as 1 to 2, so are the 24 observations of both. */
  calc_assert_digits ("first", further[0], 6.0, 9);
  calc_assert_digits ("second", further[1], 14.0, 9);
  g_assert_cmpfloat (further[2], ==, 0.0);
  question.indifference = 0.5;
  g_assert_cmpint (wb_calc_allocation_share (alternatives, 3, &question, wider), ==, WB_CALC_OK);
  g_assert_cmpfloat (wider[1], <, further[1]);
  /* Where nothing is told apart, the spreads alone say it. */
  question.indifference = 10.0;
  question.budget = 200.0;
  g_assert_cmpint (wb_calc_allocation_share (alternatives, 3, &question, wider), ==, WB_CALC_OK);
  calc_assert_digits ("variances", (wider[1] + 2.0) / (wider[2] + 2.0), 4.0, 10);
}

static void
test_refusals (void)
{
  WbCalcAllocationAlternative alternatives[] = { { 1, 1, 3, 1, false }, { 2, 1, 3, 1, false }, { 3, 1, 3, 1, false } };
  WbCalcAllocationQuestion question = { true, 10.0, 0.0 };
  double *numbers[] = { &alternatives[1].mean, &alternatives[1].variance, &alternatives[1].had,
                        &alternatives[1].cost, &question.budget,         &question.indifference };
  double further[3] = { -1, -1, -1 };
  gsize whole[3];

  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      const double bad[] = { NAN, INFINITY, -INFINITY, i == 0 ? NAN : -1.0 };
      double kept = *numbers[i];

      for (gsize k = 0; k < G_N_ELEMENTS (bad); k++)
        {
          *numbers[i] = bad[k];
          g_assert_cmpint (wb_calc_allocation_share (alternatives, 3, &question, further), ==, WB_CALC_BAD_INPUT);
          g_assert_cmpint (wb_calc_allocation_count (alternatives, 3, &question, whole), ==, WB_CALC_BAD_INPUT);
        }
      *numbers[i] = kept;
    }
  alternatives[1].variance = 0.0;
  g_assert_cmpint (wb_calc_allocation_share (alternatives, 3, &question, further), ==, WB_CALC_BAD_INPUT);
  alternatives[1].variance = 1.0;
  alternatives[1].cost = 1e-320;
  g_assert_cmpint (wb_calc_allocation_share (alternatives, 3, &question, further), ==, WB_CALC_BAD_INPUT);
  alternatives[1].cost = 0.0;
  g_assert_cmpint (wb_calc_allocation_share (alternatives, 3, &question, further), ==, WB_CALC_BAD_INPUT);
  alternatives[1].cost = 1.0;
  g_assert_cmpint (wb_calc_allocation_share (alternatives, 1, &question, further), ==, WB_CALC_TOO_FEW);
  g_assert_cmpint (wb_calc_allocation_share (alternatives, 0, &question, further), ==, WB_CALC_TOO_FEW);
  alternatives[0].excluded = alternatives[2].excluded = true;
  g_assert_cmpint (wb_calc_allocation_share (alternatives, 3, &question, further), ==, WB_CALC_TOO_FEW);
  g_assert_cmpfloat (further[0], ==, -1.0);
  alternatives[0].excluded = false;
  question.budget = 0.0;
  g_assert_cmpint (wb_calc_allocation_count (alternatives, 3, &question, whole), ==, WB_CALC_OK);
  g_assert_cmpuint (whole[0] + whole[1] + whole[2], ==, 0);
  question.budget = 1e18;
  g_assert_cmpint (wb_calc_allocation_count (alternatives, 3, &question, whole), ==, WB_CALC_BAD_INPUT);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/calc/allocation/published-examples", test_published);
  g_test_add_func ("/calc/allocation/the-first-example-in-fractions", test_by_hand);
  g_test_add_func ("/calc/allocation/no-other-split-is-told-sooner", test_purpose);
  g_test_add_func ("/calc/allocation/whole-parts-make-the-budget", test_sums);
  g_test_add_func ("/calc/allocation/costs-are-kept-to", test_costs);
  g_test_add_func ("/calc/allocation/order-and-unit-do-not-matter", test_properties);
  g_test_add_func ("/calc/allocation/a-dead-heat-is-bounded", test_dead_heat);
  g_test_add_func ("/calc/allocation/bad-input-is-told", test_refusals);
  return g_test_run ();
}
