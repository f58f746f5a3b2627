/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-terms.h"
#include "test-craft.h"
#include "wb-calc-compare.h"
#include "wb-calc-quantile.h"
#include "wb-craft-effects.h"

static const char *const sizes[] = { "1", "2", "3", "4", "5" };

static const WbCraftComparison *
pair_of (const WbCraftEffects *self,
         guint                 i)
{
  return g_ptr_array_index (self->comparisons, i);
}

/* Montgomery, Design and Analysis of Experiments, battery life; data as read on public course pages (see test-craft-effects.c). */
static const double battery[3][3][4] = {
  { { 130, 155, 74, 180 }, { 34, 40, 80, 75 }, { 20, 70, 82, 58 } },
  { { 150, 188, 159, 126 }, { 136, 122, 106, 115 }, { 25, 70, 58, 45 } },
  { { 138, 110, 168, 160 }, { 174, 120, 150, 139 }, { 96, 104, 82, 60 } },
};

static WbDataset *
battery_data (void)
{
  static const char *const vessels[] = { "A", "B", "C" };
  WbDataset *data = test_craft_data_new ();

  for (guint m = 0; m < 3; m++)
    for (guint t = 0; t < 3; t++)
      {
        guint cell = test_craft_add_cell (data, vessels[m], 70 + m, "Sedge", sizes[t], t + 1, 0);

        for (guint k = 0; k < 4; k++)
          test_craft_add_value (data, cell, "x", WB_COLUMN_HANG_UP_MM, battery[m][t][k]);
      }
  return data;
}

/*
 * Published cell means (134.75, 57.25, 57.5; 155.75, 119.75, 49.5; 144, 145.75, 85.5) and
 * differences of temperatures (R's TukeyHSD, tests/calc/data/battery_certified.csv). The standard
 * error there is sqrt (675.213 x 2 / 12) = 10.6083; the weak opinion on the spreads
 * of a figure in mm moves it by less than a tenth, and that it cannot be below 0 moves the means by thousandths.
 */
static void
test_published_means_and_differences (void)
{
  static const double means[] = { 134.75, 57.25, 57.5, 155.75, 119.75, 49.5, 144, 145.75, 85.5 };
  static const double differences[] = { -37.25, -80.6666666667, -43.4166666667 };
  g_autoptr (WbDataset) data = battery_data ();
  g_autoptr (WbCraftEffects) self = test_craft_effects (data, WB_FIGURE_HANG_UP);
  const WbCraftInteraction *interaction = g_ptr_array_index (self->interactions, 0);

  g_assert_cmpint (self->basis, ==, WB_CRAFT_EFFECTS_BY_MODEL);
  g_assert_cmpuint (self->interactions->len, ==, 1);
  g_assert_cmpstr (interaction->first, ==, "vessel");
  g_assert_cmpstr (interaction->second, ==, "wick");
  g_assert_cmpuint (interaction->means->len, ==, 9);
  for (guint i = 0; i < 9; i++)
    {
      const WbCraftInteractionMean *mean = g_ptr_array_index (interaction->means, i);

      g_assert_cmpfloat_with_epsilon (mean->mean, means[i], 1e-9);
      g_assert_cmpuint (mean->samples, ==, 4);
      g_assert_cmpstr (mean->second, ==, sizes[i % 3]);
    }
  for (guint i = 0; i < 3; i++)
    {
      g_assert_cmpfloat_with_epsilon (pair_of (self, i)->difference.value, differences[i], 5e-3);
      g_assert_cmpfloat_with_epsilon (pair_of (self, i)->error, 10.6083, 0.1 * 10.6083);
    }
  /* the line through the means of three even steps is half the difference of its ends */
  g_assert_cmpfloat_with_epsilon (self->slope.interval.value, differences[1] / 2, 5e-3);
}

/*
 * Montgomery, soft drink bottling: three by two by two, two replicates. Sums of squares as published (R's anova in
 * tests/calc/data/bottling_certified.csv); means of two factors by hand: of
 * carbonation 10 at 25 psi (-3 - 1 - 1 + 0) / 4.
 */
static void
test_published_three_way_table (void)
{
  static const int y[3][2][2][2] = {
    { { { -3, -1 }, { -1, 0 } }, { { -1, 0 }, { 1, 1 } } },
    { { { 0, 1 }, { 2, 1 } }, { { 2, 3 }, { 6, 5 } } },
    { { { 5, 4 }, { 7, 6 } }, { { 7, 9 }, { 10, 11 } } },
  };
  static const struct { const char *key; double sum_sq, f; } table[] = {
    { "wick", 252.75, 178.411764706 }, { "vessel", 45.375, 64.0588235294 }, { "scent", 22.0416666667, 31.1176470588 },
    { "vessel:wick", 5.25, 3.70588235294 }, { "wick:scent", 0.583333333333, 0.411764705882 },
    { "vessel:scent", 1.04166666667, 1.47058823529 }, { "vessel:wick:scent", 1.08333333333, 0.764705882353 },
  };
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftEffects) self = NULL;
  const WbCraftInteraction *interaction;
  const WbCraftInteractionMean *mean;

  for (guint b = 0; b < 2; b++)
    for (guint a = 0; a < 3; a++)
      for (guint c = 0; c < 2; c++)
        {
          guint cell = test_craft_add_cell (data, b == 0 ? "A" : "B", 70 + b, "Sedge", sizes[a], a + 1, c == 0 ? 6 : 9);

          for (guint k = 0; k < 2; k++)
            test_craft_add_value (data, cell, "x", WB_COLUMN_VESSEL_C, y[a][b][c][k]);
        }
  self = test_craft_effects (data, WB_FIGURE_VESSEL);
  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_assert_cmpfloat_with_epsilon (test_craft_find_term (self, table[i].key)->sum_sq, table[i].sum_sq, 1e-8);
      g_assert_cmpfloat_with_epsilon (test_craft_find_term (self, table[i].key)->f, table[i].f, 1e-8);
    }
  g_assert_cmpuint (self->interactions->len, ==, 3);
  interaction = g_ptr_array_index (self->interactions, 0);
  mean = g_ptr_array_index (interaction->means, 0);
  g_assert_cmpfloat_with_epsilon (mean->mean, -1.25, 1e-12);
  g_assert_cmpuint (mean->combinations, ==, 2);
  g_assert_cmpuint (mean->samples, ==, 4);
  /* carbonation 14 at 30 psi */
  mean = g_ptr_array_index (interaction->means, 5);
  g_assert_cmpfloat_with_epsilon (mean->mean, 9.25, 1e-12);
}

/* Cells that stand for themselves are independent where no covariate moves: a pair's error is that of its two ends, told in mm. */
static void
test_a_pair_is_made_of_its_ends (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autoptr (WbCraftEstimates) estimates = NULL;
  g_autoptr (WbCraftEffects) self = NULL;
  const WbCraftEstimate *ends[3];

  for (guint t = 0; t < 3; t++)
    for (guint k = 0, cell = test_craft_add_cell (data, "A", 70, "Sedge", sizes[t], t + 1, 0); k < 2 + t; k++)
      test_craft_add_value (data, cell, "x", WB_COLUMN_FLAME_MM, 15 + 4 * t + 1.5 * k * (k % 2 == 0 ? 1 : -1));
  figures = wb_craft_figures_new (data);
  estimates = wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL);
  self = wb_craft_effects_new (data, figures, estimates, WB_FIGURE_FLAME);
  for (guint t = 0; t < 3; t++)
    ends[t] = &estimates->cells[t].figure[WB_FIGURE_FLAME];
  for (guint second = 1, i = 0; second < 3; second++)
    for (guint first = 0; first < second; first++, i++)
      {
        const WbCraftComparison *pair = pair_of (self, i);
        double above = exp (ends[second]->mean), below = exp (ends[first]->mean), q;
        double error = hypot (above * ends[second]->se, below * ends[first]->se);

        g_assert_cmpfloat_with_epsilon (pair->difference.value, above - below, 1e-9);
        g_assert_cmpuint (pair->combinations, ==, 1);
        g_assert_cmpuint (pair->samples, ==, 4 + first + second);
        g_assert_cmpfloat_with_epsilon (pair->error, error, 1e-6 * error);
        g_assert_cmpint (wb_calc_compare_studentized_range_quantile (0.9, 3, pair->df, &q), ==, WB_CALC_OK);
        g_assert_cmpfloat_with_epsilon (pair->difference.high, above - below + q * error / G_SQRT2, 1e-5 * error);
        g_assert_cmpfloat (pair->alone.high, <, pair->difference.high);
        g_assert_cmpfloat (pair->alone.low, >, pair->difference.low);
      }
}

/* Two standard normal deviates. */
static double
deviate (GRand *random)
{
  double u = 1 - g_rand_double (random), v = g_rand_double (random);

  return sqrt (-2 * log (u)) * cos (2 * G_PI * v);
}

typedef struct { guint pairs, held, labs, all_held, slopes; } Coverage;

#define N_WICKS 3

/* One lab: wicks whose flames grow by a fifth a step, samples and burns that spread by 7 and 6 %, read to 3 %. */
static WbDataset *
burn_flames_of (guint   n_samples,
                guint   seed,
                double *truth)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);

  for (guint t = 0; t < N_WICKS; t++)
    {
      guint cell = test_craft_add_cell (data, "A", 70, "Sedge", sizes[t], t + 1, 0);

      truth[t] = 16 * pow (1.2, t);
      for (guint k = 0; k < n_samples; k++)
        {
          guint sample = test_craft_add_sample (data, cell, "x");
          double of_sample = 0.07 * deviate (random);

          for (guint b = 0; b < 2; b++)
            test_craft_read (data, test_craft_add_burn (data, sample), 240, WB_COLUMN_FLAME_MM,
                             truth[t] * exp (of_sample + 0.06 * deviate (random) + 0.03 * deviate (random)));
        }
    }
  return data;
}

static WbDataset *
burn_flames (guint   seed,
             double *truth)
{
  return burn_flames_of (2, seed, truth);
}

/* One lab: pools towards limits that grow by 8 % a step, the strongest past the wall; read to a fraction of a mm. */
static WbDataset *
burn_pools (guint   seed,
            double *truth)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);

  for (guint t = 0; t < N_WICKS; t++)
    {
      guint cell = test_craft_add_cell (data, "A", 76, "Sedge", sizes[t], t + 1, 0);
      double limit = 66 * pow (1.08, t);

      truth[t] = limit * -expm1 (-4 / 1.2);
      for (guint k = 0; k < 2; k++)
        {
          guint sample = test_craft_add_sample (data, cell, "x");
          double of_sample = 0.03 * deviate (random);

          for (guint b = 0; b < 2; b++)
            {
              double own = limit * exp (of_sample + 0.02 * deviate (random));
              guint burn = test_craft_add_burn (data, sample);

              for (guint hour = 1; hour <= 4; hour++)
                test_craft_read (data, burn, 60 * hour, WB_COLUMN_POOL_MM,
                                 MIN (own * -expm1 (-(double) hour / 1.2) + 0.8 * deviate (random), 76));
            }
        }
    }
  return data;
}

static Coverage
cover (WbDataset *(*burn) (guint seed, double *truth),
       WbFigure    figure,
       guint       n_labs)
{
  Coverage coverage = { 0 };

  for (guint seed = 1; seed <= n_labs; seed++)
    {
      double truth[N_WICKS], mean = 1, added;
      g_autoptr (WbDataset) data = burn (seed, truth);
      g_autoptr (WbCraftEffects) self = test_craft_effects (data, figure);
      gboolean all = TRUE;

      g_assert_cmpuint (self->comparisons->len, ==, N_WICKS * (N_WICKS - 1) / 2);
      for (guint second = 1, i = 0; second < N_WICKS; second++)
        for (guint first = 0; first < second; first++, i++)
          {
            const WbCraftComparison *pair = pair_of (self, i);
            double difference = truth[second] - truth[first];

            coverage.pairs++;
            coverage.held += pair->alone.low <= difference && difference <= pair->alone.high;
            all = all && pair->difference.low <= difference && difference <= pair->difference.high;
          }
      for (guint t = 0; t < N_WICKS; t++)
        mean *= pow (truth[t], 1.0 / N_WICKS);
      added = 2 * mean * sinh (log (truth[N_WICKS - 1] / truth[0]) / (N_WICKS - 1) / 2);
      coverage.labs++;
      coverage.all_held += all;
      coverage.slopes += self->slope.interval.low <= added && added <= self->slope.interval.high;
    }
  return coverage;
}

/*
 * Intervals told in units hold the truth about as often as they say, 90 in 100; all
 * pairs of a lab together at least as often. Over 120 labs the share of 90 has a standard error of 3; WICKBENCH_LABS asks
 * for more.
 */
static void
assert_covers (const char *name,
               Coverage    coverage)
{
  double pairs = (double) coverage.held / coverage.pairs, all = (double) coverage.all_held / coverage.labs;
  double slopes = (double) coverage.slopes / coverage.labs;

  g_test_message ("%s, %u labs: pairs %.3f, all pairs of a lab %.3f, slopes %.3f", name, coverage.labs, pairs, all, slopes);
  g_assert_cmpfloat (pairs, >, 0.84);
  g_assert_cmpfloat (pairs, <, 0.98);
  g_assert_cmpfloat (all, >, 0.83);
  g_assert_cmpfloat (all, <, 0.99);
  g_assert_cmpfloat (slopes, >, 0.82);
  g_assert_cmpfloat (slopes, <, 0.98);
}

static guint
n_labs (void)
{
  const char *asked = g_getenv ("WICKBENCH_LABS");

  return asked != NULL ? (guint) g_ascii_strtoull (asked, NULL, 10) : 120;
}

static void
test_coverage_of_flames (void)
{
  assert_covers ("flames", cover (burn_flames, WB_FIGURE_FLAME, n_labs ()));
}

static void
test_coverage_of_pools (void)
{
  assert_covers ("pools", cover (burn_pools, WB_FIGURE_POOL, n_labs ()));
}

/* Pools at the wall read alike, and the curves still tell what a step adds. */
static void
test_walls_do_not_flatten_a_step (void)
{
  double truth[N_WICKS];
  g_autoptr (WbDataset) data = burn_pools (3, truth);
  g_autoptr (WbCraftEffects) self = test_craft_effects (data, WB_FIGURE_POOL);
  g_autoptr (WbCraftEffects) level = test_craft_effects (data, WB_FIGURE_POOL_LIMIT);
  g_autoptr (WbCraftEffects) time = test_craft_effects (data, WB_FIGURE_FULL_POOL);

  g_test_message ("%s", self->slope.text);
  g_assert_cmpint (self->basis, ==, WB_CRAFT_EFFECTS_BY_CURVES);
  g_assert_cmpfloat (self->slope.interval.value, >, 3);
  g_assert_cmpuint (self->slope.samples, ==, 6);
  g_assert_cmpuint (self->slope.burns, ==, 12);
  g_assert_nonnull (strstr (self->slope.text, "One step up adds"));
  g_assert_nonnull (strstr (self->slope.text, "mm after 4\302\240h"));
  g_assert_nonnull (strstr (self->finding, self->slope.text));
  /* at 4 h of a pace of 1.2 h the pool has 0.964 of its limit */
  g_assert_cmpfloat_with_epsilon (level->slope.interval.value / self->slope.interval.value, 1 / 0.9643, 0.05);
  /* the weakest wick's pool may well never fill the vessel: it has no time to compare */
  for (guint i = 0; i < time->comparisons->len; i++)
    g_assert_true (pair_of (time, i)->difference.value < 0 && isfinite (pair_of (time, i)->difference.low));
}

/* Alike within a margin is what the interval of the pair by itself says; so is what takes how many samples. */
static void
test_margin (void)
{
  double truth[N_WICKS];
  g_autoptr (WbDataset) data = burn_flames (5, truth);
  g_autoptr (WbCraftEffects) self = test_craft_effects (data, WB_FIGURE_FLAME);
  guint before = G_MAXUINT;

  g_assert_true (isnan (self->margin));
  for (guint i = 0; i < 3; i++)
    g_assert_cmpint (pair_of (self, i)->alike, ==, WB_CRAFT_ALIKE_NOT_ASKED);
  /* the house profile's flame climbs from worthless to right over 8 mm; a quarter of that */
  g_assert_cmpfloat_with_epsilon (self->needed.difference, 2, 1e-12);
  for (double margin = 1; margin < 20; margin += 0.5)
    {
      wb_craft_effects_set_margin (self, margin);
      for (guint i = 0; i < 3; i++)
        {
          const WbCraftComparison *pair = pair_of (self, i);

          g_assert_cmpint (pair->alike, ==, pair->alone.low > -margin && pair->alone.high < margin ? WB_CRAFT_ALIKE_YES : WB_CRAFT_ALIKE_NO);
        }
      g_assert_cmpfloat (self->needed.difference, ==, margin);
      g_assert_cmpuint (self->needed.samples, <=, before);
      before = self->needed.samples;
    }
  g_assert_cmpint (pair_of (self, 2)->alike, ==, WB_CRAFT_ALIKE_YES);
  g_assert_cmpuint (self->needed.samples, ==, 2);
  wb_craft_effects_set_margin (self, 0.01);
  g_assert_cmpuint (self->needed.samples, ==, 0);
  g_assert_nonnull (strstr (self->needed.text, "differ too much"));
  wb_craft_effects_set_margin (self, NAN);
  g_assert_cmpfloat_with_epsilon (self->needed.difference, 2, 1e-12);
}

/*
 * The samples needed rest on the spread between samples and burns: with spreads s and b, two burns each read to r,
 * one sample's mean spreads by sqrt (s^2 + (b^2 + r^2) / 2), which the labs come near on average.
 */
static void
test_samples_needed (void)
{
  double sum = 0, truth[N_WICKS];
  const guint n = 100;

  for (guint seed = 1; seed <= n; seed++)
    {
      g_autoptr (WbDataset) data = burn_flames (seed, truth);
      g_autoptr (WbCraftEffects) self = test_craft_effects (data, WB_FIGURE_FLAME);
      double mean_square = (truth[0] * truth[0] + truth[1] * truth[1] + truth[2] * truth[2]) / 3;

      sum += self->needed.sample_sd * self->needed.sample_sd / mean_square / n;
      g_assert_cmpuint (self->needed.least, ==, 2);
      g_assert_cmpuint (self->needed.most, ==, 2);
      g_assert_cmpuint (self->needed.samples, >, 2);
      g_assert_cmpfloat (self->needed.power, >=, 0.8);
      g_assert_nonnull (strstr (self->needed.text, "there are 2"));
    }
  g_test_message ("variance of a sample's mean, as a share: %.5f", sum);
  g_assert_cmpfloat_with_epsilon (sum, 0.07 * 0.07 + (0.06 * 0.06 + 0.03 * 0.03) / 2, 0.0015);
}

/*
 * As many samples as are said to be needed do find the difference, 80 times in 100 at 5 %; and two that are just the margin
 * apart are taken for alike 5 times in 100 at most. The shares of 120 labs have standard errors of 4 and 2.
 */
static void
test_as_many_samples_find_it (void)
{
  const guint n = n_labs ();
  double truth[N_WICKS], share_found = 0, share_alike = 0, share_wide = 0;
  guint asked = 0;

  for (guint seed = 1; seed <= 40; seed++)
    {
      g_autoptr (WbDataset) data = burn_flames (seed, truth);
      g_autoptr (WbCraftEffects) self = test_craft_effects (data, WB_FIGURE_FLAME);

      wb_craft_effects_set_margin (self, truth[1] - truth[0]);
      asked += self->needed.samples;
    }
  asked = (asked + 20) / 40;
  for (guint seed = 1001; seed <= 1000 + n; seed++)
    {
      g_autoptr (WbDataset) data = burn_flames_of (asked, seed, truth);
      g_autoptr (WbCraftEffects) self = test_craft_effects (data, WB_FIGURE_FLAME);
      const WbCraftComparison *pair = pair_of (self, 0);

      share_found += pair->difference.value / pair->error > wb_calc_student_quantile (0.975, pair->df) ? 1.0 / n : 0;
      wb_craft_effects_set_margin (self, truth[1] - truth[0]);
      share_alike += pair->alike == WB_CRAFT_ALIKE_YES ? 1.0 / n : 0;
      wb_craft_effects_set_margin (self, 2.5 * (truth[1] - truth[0]));
      share_wide += pair->alike == WB_CRAFT_ALIKE_YES ? 1.0 / n : 0;
    }
  g_test_message ("%u samples of each find it in %.3f, are alike at the margin in %.3f, within 2.5 times as much in %.3f", asked,
                  share_found, share_alike, share_wide);
  g_assert_cmpfloat (share_found, >, 0.7);
  g_assert_cmpfloat (share_alike, <, 0.12);
  g_assert_cmpfloat (share_wide, >, 0.8);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/effects-model/published-means-and-differences", test_published_means_and_differences);
  g_test_add_func ("/craft/effects-model/a-published-three-way-table", test_published_three_way_table);
  g_test_add_func ("/craft/effects-model/a-pair-is-made-of-its-ends", test_a_pair_is_made_of_its_ends);
  g_test_add_func ("/craft/effects-model/intervals-of-flames-hold-the-truth-as-often-as-they-say", test_coverage_of_flames);
  g_test_add_func ("/craft/effects-model/intervals-of-pools-hold-the-truth-as-often-as-they-say", test_coverage_of_pools);
  g_test_add_func ("/craft/effects-model/walls-do-not-flatten-a-step", test_walls_do_not_flatten_a_step);
  g_test_add_func ("/craft/effects-model/a-margin-asks-whether-two-are-alike", test_margin);
  g_test_add_func ("/craft/effects-model/samples-needed-rest-on-the-spreads", test_samples_needed);
  g_test_add_func ("/craft/effects-model/as-many-samples-find-it", test_as_many_samples_find_it);
  return g_test_run ();
}
