/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft.h"
#include "wb-craft-score-private.h"

#define DRAWS 1024

/* One aim, one stop at most, estimates made by hand: what comes out is an integral that can be had otherwise. */
typedef struct
{
  WbDataset       *data;
  WbCraftCell      cells[2];
  WbCraftEstimates estimates;
} Bench;

static void
bench_init (Bench   *bench,
            WbFigure figure,
            WbStage  stage,
            gboolean worst)
{
  bench->data = test_craft_data_new ();
  for (guint i = 0; i < 2; i++)
    {
      test_craft_add_cell (bench->data, "Tern", 76.2, "Sedge", i == 0 ? "S-1" : "S-2", i + 1, 0);
      bench->cells[i] = (WbCraftCell) { .cell = i, .samples = 2, .burns = 4 };
      for (WbFigure f = 0; f < WB_N_FIGURES; f++)
        for (WbStage s = 0; s < WB_N_STAGES; s++)
          {
            bench->cells[i].stage_figure[s][f].mean = NAN;
            bench->cells[i].stage_worst[s][f].mean = NAN;
          }
      for (WbStage s = 0; s < WB_N_STAGES; s++)
        bench->cells[i].stage_growth[s] = (WbCraftGrowth) { .status = WB_CRAFT_FIT_NO_READINGS, .log_limit = NAN, .log_tau = NAN };
    }
  for (guint i = bench->data->aims->len; i-- > 0;)
    {
      const WbAim *aim = g_ptr_array_index (bench->data->aims, i);

      if (aim->figure != (int) figure || aim->stage != (int) stage || aim->worst != worst)
        g_ptr_array_remove_index (bench->data->aims, i);
    }
  bench->estimates = (WbCraftEstimates) { bench->cells, 2 };
}

static WbCraftEstimate
log_estimate (double mean,
              double se,
              double sample_sd,
              double burn_sd)
{
  return (WbCraftEstimate) {
    .mean = log (mean), .se = se, .df = 1e6, .sample_sd = sample_sd, .burn_sd = burn_sd, .log_scale = TRUE,
    .samples = 2, .burns = 4,
  };
}

static WbCraftScore *
score (Bench          *bench,
       const gboolean *failed)
{
  const guint members[] = { 0, 1 };
  const gboolean none[] = { FALSE, FALSE };

  return wb_craft_score_new (bench->data, &bench->estimates, members, failed != NULL ? failed : none, 2, 1, DRAWS, NULL, NULL);
}

static double
mean_recipe (const WbCraftScore *result,
             guint               cell)
{
  double sum = 0;

  for (guint i = 0; i < result->n_draws; i++)
    sum += result->recipe[i * result->n_cells + cell];
  return sum / result->n_draws;
}

/* E d (x), ln x ~ N (ln mean, sd²), by a fine sum over 20,000 equal steps of ± 6 sd. */
static double
expected (double (*d) (double),
          double mean,
          double sd)
{
  double sum = 0, weights = 0;

  for (int i = -10000; i <= 10000; i++)
    {
      double z = 6.0 * i / 10000, weight = exp (-z * z / 2);

      sum += weight * d (mean * exp (sd * z));
      weights += weight;
    }
  return sum / weights;
}

/* House profile: flame 0 up to 5 mm, 1 from 13 to 25, 0 from 45. */
static double
flame (double x)
{
  return x <= 5 || x >= 45 ? 0 : x < 13 ? (x - 5) / 8 : x <= 25 ? 1 : (45 - x) / 20;
}

static void
test_spread_between_candles_is_integrated (void)
{
  const struct { double mean, sd; } cases[] = { { 20, 0.05 }, { 25, 0.2 }, { 30, 0.1 }, { 11, 0.3 }, { 40, 0.15 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Bench bench;
      g_autoptr (WbCraftScore) result = NULL;

      bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
      g_ptr_array_set_size (bench.data->limits, 0);
      for (guint c = 0; c < 2; c++)
        bench.cells[c].stage_figure[WB_STAGE_UPPER][WB_FIGURE_FLAME] = log_estimate (cases[i].mean, 0, cases[i].sd, 0);
      result = score (&bench, NULL);
      /* 15 strata err by little: kinks and all */
      g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0), expected (flame, cases[i].mean, cases[i].sd), 0.005);
      g_assert_cmpfloat (mean_recipe (result, 0), ==, mean_recipe (result, 1));
      g_assert_cmpfloat_with_epsilon (result->desirability[0], mean_recipe (result, 0), 1e-9);
      wb_dataset_free (bench.data);
    }
}

static void
test_what_is_not_known_widens (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
  bench.cells[0].stage_figure[WB_STAGE_UPPER][WB_FIGURE_FLAME] = log_estimate (30, 0.1, 0, 0);
  bench.cells[1].stage_figure[WB_STAGE_UPPER][WB_FIGURE_FLAME] = log_estimate (30, 0, 0.1, 0);
  result = score (&bench, NULL);
  /* uncertainty of the recipe and spread of its candles integrate to the same mean, not to the same draws */
  g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0), mean_recipe (result, 1), 0.02);
  g_assert_cmpfloat (result->recipe[0], !=, result->recipe[2]);
  g_assert_cmpfloat_with_epsilon (result->recipe[1], result->recipe[3], 1e-12);
  wb_dataset_free (bench.data);
}

/* Chance that the highest of two burns passes 50 mm: 1 − Φ((ln 50 − ln m) / sd)², over candles of one kind. */
static void
test_chance_of_crossing (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;
  double under = 0.5 * erfc (-log (50.0 / 40.0) / 0.2 / sqrt (2));

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, TRUE);
  bench.cells[0].stage_worst[WB_STAGE_LOWER][WB_FIGURE_FLAME] = log_estimate (40, 0, 0, 0.2);
  bench.cells[1].stage_worst[WB_STAGE_LOWER][WB_FIGURE_FLAME] = log_estimate (20, 0, 0, 0.2);
  result = score (&bench, NULL);
  g_assert_cmpfloat_with_epsilon (result->p_cross[0], 1 - under * under, 1e-6);
  g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0), flame (40) * under * under, 1e-6);
  g_assert_cmpfloat (result->p_cross[1], <, 1e-4);
  wb_dataset_free (bench.data);
}

static void
test_a_crossed_limit_fails_the_cell (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;
  const gboolean failed[] = { TRUE, FALSE };

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
  for (guint c = 0; c < 2; c++)
    bench.cells[c].stage_figure[WB_STAGE_UPPER][WB_FIGURE_FLAME] = log_estimate (20, 0.02, 0.02, 0);
  result = score (&bench, failed);
  g_assert_cmpfloat (mean_recipe (result, 0), ==, 0);
  g_assert_cmpfloat (mean_recipe (result, 1), >, 0.95);
  wb_dataset_free (bench.data);
}

/* House profile of the upper third: nothing at half an hour an inch, all at one, 0.3 at one and a half or never. */
static void
test_full_pool_early_and_late (void)
{
  const struct { double multiple, desirability; } cases[] = {
    { 0.5, 0 }, { 0.75, 0.5 }, { 1, 1 }, { 1.25, 0.65 }, { 1.6, 0.3 }, { INFINITY, 0.3 }
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Bench bench;
      g_autoptr (WbCraftScore) result = NULL;
      double t = cases[i].multiple * 3, tau = 1.2;
      double limit = isinf (t) ? 70 : 76.2 / -expm1 (-t / tau);

      bench_init (&bench, WB_FIGURE_FULL_POOL, WB_STAGE_UPPER, FALSE);
      for (guint c = 0; c < 2; c++)
        bench.cells[c].stage_growth[WB_STAGE_UPPER] = (WbCraftGrowth) {
          .status = WB_CRAFT_FIT_OK, .log_limit = log (limit), .log_tau = log (tau), .df = 1e6
        };
      result = score (&bench, NULL);
      g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0), cases[i].desirability, 1e-6);
      wb_dataset_free (bench.data);
    }
}

/* All readings at the wall: full some time before the first of them. At 0.4 of the due time that is too early for anything. */
static void
test_all_at_the_wall (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;

  bench_init (&bench, WB_FIGURE_FULL_POOL, WB_STAGE_UPPER, FALSE);
  for (guint c = 0; c < 2; c++)
    {
      bench.cells[c].stage_growth[WB_STAGE_UPPER].status = WB_CRAFT_FIT_ALL_AT_WALL;
      bench.cells[c].stage_growth[WB_STAGE_UPPER].at_wall_h = c == 0 ? 1.2 : 3;
    }
  result = score (&bench, NULL);
  g_assert_cmpfloat (mean_recipe (result, 0), ==, 0);
  /* uniform on 0 to 3 h: half of it below 0.5, the rest rising to 1 */
  g_assert_cmpfloat_with_epsilon (mean_recipe (result, 1), 0.25, 0.03);
  wb_dataset_free (bench.data);
}

static void
test_nothing_read_is_dropped (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
  result = score (&bench, NULL);
  g_assert_true (result->dropped[0]);
  g_assert_true (isnan (result->desirability[0]));
  g_assert_cmpfloat (mean_recipe (result, 0), ==, 0);
  wb_dataset_free (bench.data);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/score/the-spread-between-candles-is-integrated", test_spread_between_candles_is_integrated);
  g_test_add_func ("/craft/score/what-is-not-known-widens", test_what_is_not_known_widens);
  g_test_add_func ("/craft/score/the-chance-of-crossing-is-an-integral", test_chance_of_crossing);
  g_test_add_func ("/craft/score/a-crossed-limit-fails-the-cell", test_a_crossed_limit_fails_the_cell);
  g_test_add_func ("/craft/score/too-early-costs-all-and-late-less", test_full_pool_early_and_late);
  g_test_add_func ("/craft/score/all-at-the-wall-came-before-it-was-seen", test_all_at_the_wall);
  g_test_add_func ("/craft/score/what-nobody-read-is-dropped", test_nothing_read_is_dropped);
  return g_test_run ();
}
