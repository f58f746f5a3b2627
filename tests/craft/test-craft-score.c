/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft.h"
#include "wb-calc-random.h"
#include "wb-craft-score-private.h"
#include "wb-craft-workers-private.h"

#define DRAWS 1024

/* One aim, one stop at most, draws made by hand: what comes out is an integral that can be had otherwise. */
typedef struct
{
  WbDataset    *data;
  WbCraftDraws *draws;
} Bench;

static void
draw_free (gpointer data)
{
  WbCraftDraw *draw = data;

  g_free (draw->level);
  g_free (draw->pace);
  g_free (draw->sample_sd);
  g_free (draw->burn_sd);
  g_free (draw->read);
  g_free (draw);
}

static void
bench_init (Bench   *bench,
            WbFigure figure,
            WbStage  stage,
            gboolean worst)
{
  bench->data = test_craft_data_new ();
  for (guint i = 0; i < 2; i++)
    test_craft_add_cell (bench->data, "Tern", 76.2, "Sedge", i == 0 ? "S-1" : "S-2", i + 1, 0);
  for (guint i = bench->data->aims->len; i-- > 0;)
    {
      const WbAim *aim = g_ptr_array_index (bench->data->aims, i);

      if (aim->figure != (int) figure || aim->stage != (int) stage || aim->worst != worst)
        g_ptr_array_remove_index (bench->data->aims, i);
    }
  bench->draws = g_new0 (WbCraftDraws, 1);
  bench->draws->n_draws = DRAWS;
  bench->draws->n_cells = 2;
  bench->draws->all = g_ptr_array_new_with_free_func (draw_free);
}

static void
bench_clear (Bench *bench)
{
  wb_craft_draws_free (bench->draws);
  wb_dataset_free (bench->data);
}

/* Draws on the logarithm around the means of the two cells, the spreads known. */
static WbCraftDraw *
bench_put (Bench   *bench,
           WbFigure figure,
           WbStage  stage,
           WbCraftLook look,
           double   first,
           double   second,
           double   se,
           double   sample_sd,
           double   burn_sd)
{
  WbCraftDraw *draw = g_new0 (WbCraftDraw, 1);
  WbCalcRandom random;

  *draw = (WbCraftDraw) {
    .figure = figure, .stage = stage, .look = look, .growth = figure == WB_FIGURE_FULL_POOL, .log_scale = TRUE, .exponent = 1,
    .high = 400, .level = g_new (double, 2 * DRAWS), .pace = g_new0 (double, 2 * DRAWS),
    .sample_sd = g_new (double, DRAWS), .burn_sd = g_new (double, DRAWS), .read = g_new (gboolean, 2)
  };
  wb_calc_random_init (&random, 1, 1);
  for (guint i = 0; i < DRAWS; i++)
    {
      draw->level[2 * i] = log (first) + se * wb_calc_random_normal (&random);
      draw->level[2 * i + 1] = log (second) + se * wb_calc_random_normal (&random);
      draw->sample_sd[i] = sample_sd;
      draw->burn_sd[i] = burn_sd;
    }
  draw->read[0] = draw->read[1] = TRUE;
  g_ptr_array_add (bench->draws->all, draw);
  return draw;
}

static WbCraftScore *
score (Bench *bench)
{
  const guint members[] = { 0, 1 };

  return wb_craft_score_new (bench->data, bench->draws, members, 2, 1, NULL, NULL);
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
      bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_CRAFT_LOOK_END, cases[i].mean, cases[i].mean, 0, cases[i].sd, 0);
      result = score (&bench);
      /* 15 strata err by little: kinks and all */
      g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0), expected (flame, cases[i].mean, cases[i].sd), 0.005);
      g_assert_cmpfloat (mean_recipe (result, 0), ==, mean_recipe (result, 1));
      g_assert_cmpfloat_with_epsilon (result->desirability[0], mean_recipe (result, 0), 1e-9);
      bench_clear (&bench);
    }
}

static void
test_what_is_not_known_widens (void)
{
  Bench unsure, spread;
  g_autoptr (WbCraftScore) of_unsure = NULL, of_spread = NULL;

  bench_init (&unsure, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
  bench_init (&spread, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
  bench_put (&unsure, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_CRAFT_LOOK_END, 30, 30, 0.1, 0, 0);
  bench_put (&spread, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_CRAFT_LOOK_END, 30, 30, 0, 0.1, 0);
  of_unsure = score (&unsure);
  of_spread = score (&spread);
  /* uncertainty of the recipe and spread of its candles integrate to the same mean, not to the same draws */
  g_assert_cmpfloat_with_epsilon (mean_recipe (of_unsure, 0), mean_recipe (of_spread, 0), 0.02);
  g_assert_cmpfloat (of_unsure->recipe[0], !=, of_unsure->recipe[2]);
  g_assert_cmpfloat_with_epsilon (of_spread->recipe[0], of_spread->recipe[2], 1e-12);
  bench_clear (&unsure);
  bench_clear (&spread);
}

/* Chance that the highest of a candle's burns passes 50 mm: 1 − Φ((ln 50 − ln m) / sd), over candles of one kind. */
static void
test_chance_of_crossing (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;
  double under = 0.5 * erfc (-log (50.0 / 40.0) / 0.2 / sqrt (2));

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, TRUE);
  bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, WB_CRAFT_LOOK_WORST, 40, 20, 0, 0, 0.1);
  bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, WB_CRAFT_LOOK_PEAK, 40, 20, 0, 0, 0.2);
  result = score (&bench);
  g_assert_cmpfloat_with_epsilon (result->p_cross[0], 1 - under, 1e-6);
  g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0), flame (40) * under, 1e-6);
  g_assert_cmpfloat (result->p_cross[1], <, 1e-4);
  bench_clear (&bench);
}

/*
 * Every candle of the first wick is calm until its last burn, and passes 77 °C then: its next candle will, too. The
 * calm wick beside it stays calm.
 */
static void
test_danger_in_the_last_burn (void)
{
  static const double highest[][3] = { { 60, 62, 82 }, { 55, 58, 60 } };
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autoptr (WbCraftEstimates) estimates = NULL;
  g_autoptr (WbCraftDraws) draws = NULL;
  g_autoptr (WbCraftScore) result = NULL;
  const guint members[] = { 0, 1 };

  for (guint cell = 0; cell < 2; cell++)
    {
      test_craft_add_cell (data, "Hob", 76.2, "S", cell == 0 ? "1" : "2", cell + 1, 6);
      for (guint sample = 0; sample < 3; sample++)
        {
          g_autofree char *code = g_strdup_printf ("%u-%u", cell, sample);
          guint candle = test_craft_add_sample (data, cell, code);

          for (guint burn = 0; burn < 3; burn++)
            test_craft_read (data, test_craft_calm_burn (data, candle, 80, 1.2, 76.2), 240, WB_COLUMN_VESSEL_C,
                             highest[cell][burn] + sample);
        }
    }
  figures = wb_craft_figures_new (data);
  estimates = wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL);
  draws = wb_craft_draws_new (data, figures, estimates, 1, DRAWS, NULL, NULL);
  result = wb_craft_score_new (data, draws, members, 2, 1, NULL, NULL);
  g_assert_cmpfloat (result->p_cross[0], >, 0.85);
  g_assert_cmpfloat (result->p_cross[1], <, 0.1);
}

/* What a cell has not read of a limit is not tested, and not guessed. */
static void
test_a_limit_not_read_is_not_guessed (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, TRUE);
  bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, WB_CRAFT_LOOK_WORST, 60, 60, 0, 0, 0.1)->read[1] = FALSE;
  bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, WB_CRAFT_LOOK_PEAK, 70, 70, 0, 0, 0.1)->read[1] = FALSE;
  result = score (&bench);
  g_assert_cmpfloat (result->p_cross[0], >, 0.99);
  g_assert_cmpfloat (result->p_cross[1], ==, 0);
  g_assert_true (result->tested[0]);
  g_assert_false (result->tested[1]);
  g_assert_false (result->borrowed[0]);
  g_assert_true (result->borrowed[1]);
  bench_clear (&bench);
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
      WbCraftDraw *draw;

      bench_init (&bench, WB_FIGURE_FULL_POOL, WB_STAGE_UPPER, FALSE);
      draw = bench_put (&bench, WB_FIGURE_FULL_POOL, WB_STAGE_UPPER, WB_CRAFT_LOOK_END, limit, limit, 0, 0, 0);
      for (guint k = 0; k < 2 * DRAWS; k++)
        draw->pace[k] = log (tau);
      result = score (&bench);
      g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0), cases[i].desirability, 1e-6);
      bench_clear (&bench);
    }
}

/*
 * All readings of an experiment at the wall: no curve, but full some time before the first of them. At 0.4 of the
 * due time that is too early for anything; uniform on 0 to 3 h, half of it is below 0.5, the rest rising to 1.
 */
static void
test_all_at_the_wall (void)
{
  const struct { double at_h, score, epsilon; } cases[] = { { 1.2, 0, 1e-9 }, { 3, 0.25, 0.03 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Bench bench;
      g_autoptr (WbCraftFigures) figures = NULL;
      g_autoptr (WbCraftEstimates) estimates = NULL;
      g_autoptr (WbCraftScore) result = NULL;

      bench_init (&bench, WB_FIGURE_FULL_POOL, WB_STAGE_UPPER, FALSE);
      for (guint cell = 0; cell < 2; cell++)
        test_craft_read (bench.data, test_craft_add_burn (bench.data, test_craft_add_sample (bench.data, cell, cell == 0 ? "A" : "B")),
                         60 * cases[i].at_h, WB_COLUMN_POOL_MM, 76.2);
      figures = wb_craft_figures_new (bench.data);
      estimates = wb_craft_estimates_new (bench.data, figures, WB_STAGE_ALL, NULL, NULL, NULL);
      wb_craft_draws_free (bench.draws);
      bench.draws = wb_craft_draws_new (bench.data, figures, estimates, 1, DRAWS, NULL, NULL);
      result = score (&bench);
      g_assert_true (result->asks);
      g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0), cases[i].score, cases[i].epsilon);
      bench_clear (&bench);
    }
}

static void
test_nothing_read_is_dropped (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
  result = score (&bench);
  g_assert_true (result->dropped[0]);
  g_assert_true (isnan (result->desirability[0]));
  g_assert_cmpfloat (mean_recipe (result, 0), ==, 0);
  bench_clear (&bench);
}

/* Sure of everything: 0.625 of the flame, and of the depth 0.75, whatever the weights have in common. */
static void
test_weights (void)
{
  const struct { double flame, depth; } cases[] = { { 1, 1 }, { 0.5, 3 }, { 1, 0.3 }, { 1, 40 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Bench bench;
      g_autoptr (WbCraftScore) result = NULL;
      WbDataset *house = test_craft_data_new ();

      bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
      for (guint a = 0; a < house->aims->len; a++)
        {
          const WbAim *aim = g_ptr_array_index (house->aims, a);

          if (aim->figure == WB_FIGURE_DEPTH && aim->stage == WB_STAGE_UPPER)
            g_ptr_array_add (bench.data->aims, wb_record_copy (aim));
        }
      ((WbAim *) g_ptr_array_index (bench.data->aims, 0))->weight = cases[i].flame;
      ((WbAim *) g_ptr_array_index (bench.data->aims, 1))->weight = cases[i].depth;
      bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_CRAFT_LOOK_END, 10, 10, 0, 0, 0);
      bench_put (&bench, WB_FIGURE_DEPTH, WB_STAGE_UPPER, WB_CRAFT_LOOK_END, 5, 1, 0, 0, 0);
      result = score (&bench);
      g_assert_cmpfloat_with_epsilon (mean_recipe (result, 0),
                                      pow (0.625, cases[i].flame / (cases[i].flame + cases[i].depth))
                                          * pow (0.75, cases[i].depth / (cases[i].flame + cases[i].depth)), 1e-12);
      /* worth nothing in one aim is worth nothing */
      g_assert_cmpfloat (mean_recipe (result, 1), ==, 0);
      wb_dataset_free (house);
      bench_clear (&bench);
    }
}

/* Blocks are added in their order: any number of threads gives the same bits. */
static void
test_threads (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) alone = NULL;

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, TRUE);
  bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_LOWER, WB_CRAFT_LOOK_WORST, 33, 29, 0.1, 0.1, 0.2);
  wb_craft_workers_set_threads (1);
  alone = score (&bench);
  for (guint threads = 2; threads <= 5; threads++)
    {
      g_autoptr (WbCraftScore) together = NULL;

      wb_craft_workers_set_threads (threads);
      together = score (&bench);
      g_assert_cmpmem (together->recipe, 2 * DRAWS * sizeof (double), alone->recipe, 2 * DRAWS * sizeof (double));
      g_assert_cmpmem (together->candle, 2 * DRAWS * sizeof (double), alone->candle, 2 * DRAWS * sizeof (double));
      g_assert_cmpmem (together->desirability, 2 * sizeof (double), alone->desirability, 2 * sizeof (double));
      g_assert_cmpmem (together->p_cross, 2 * sizeof (double), alone->p_cross, 2 * sizeof (double));
    }
  wb_craft_workers_set_threads (0);
  bench_clear (&bench);
}

static void
test_not_a_number_is_not_a_score (void)
{
  Bench bench;
  g_autoptr (WbCraftScore) result = NULL;

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
  bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_CRAFT_LOOK_END, 20, 20, 0, 0, 0)->level[6] = NAN;
  result = score (&bench);
  g_assert_true (isnan (result->recipe[6]));
  g_assert_cmpfloat_with_epsilon (result->recipe[7], 1, 1e-12);
  bench_clear (&bench);
}

static gboolean
stop_at_half (double   done,
              gpointer user)
{
  double *last = user;

  g_assert_cmpfloat (done, >=, *last);
  g_assert_cmpfloat (done, <=, 1);
  *last = done;
  return done < 0.5;
}

static void
test_stop (void)
{
  Bench bench;
  const guint members[] = { 0, 1 };

  bench_init (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, FALSE);
  bench_put (&bench, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_CRAFT_LOOK_END, 20, 20, 0, 0, 0);
  for (guint threads = 1; threads <= 2; threads++)
    {
      double last = 0;

      wb_craft_workers_set_threads (threads);
      g_assert_null (wb_craft_score_new (bench.data, bench.draws, members, 2, 1, stop_at_half, &last));
      g_assert_cmpfloat (last, >=, 0.5);
    }
  wb_craft_workers_set_threads (0);
  bench_clear (&bench);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/score/the-spread-between-candles-is-integrated", test_spread_between_candles_is_integrated);
  g_test_add_func ("/craft/score/what-is-not-known-widens", test_what_is_not_known_widens);
  g_test_add_func ("/craft/score/the-chance-of-crossing-is-an-integral", test_chance_of_crossing);
  g_test_add_func ("/craft/score/a-danger-in-the-last-burn-is-not-averaged-away", test_danger_in_the_last_burn);
  g_test_add_func ("/craft/score/a-limit-not-read-is-not-guessed", test_a_limit_not_read_is_not_guessed);
  g_test_add_func ("/craft/score/too-early-costs-all-and-late-less", test_full_pool_early_and_late);
  g_test_add_func ("/craft/score/all-at-the-wall-came-before-it-was-seen", test_all_at_the_wall);
  g_test_add_func ("/craft/score/what-nobody-read-is-dropped", test_nothing_read_is_dropped);
  g_test_add_func ("/craft/score/weights-count-by-their-share", test_weights);
  g_test_add_func ("/craft/score/threads-change-no-bit", test_threads);
  g_test_add_func ("/craft/score/what-is-no-number-is-no-score", test_not_a_number_is_not_a_score);
  g_test_add_func ("/craft/score/stops-when-told", test_stop);
  return g_test_run ();
}
