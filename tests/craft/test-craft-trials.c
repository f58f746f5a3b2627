/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"
#include "wb-calc-random.h"
#include "wb-craft-draws-private.h"
#include "wb-craft-trials-private.h"

#define WICKS 5
#define OF 1      /* the wick of which samples cross */
#define SAMPLES 3
#define BURNS 4
#define HOT_MM 55

/* How a sample crosses in its last burn. */
typedef enum
{
  NEVER,
  SHORT,    /* snuffed after two hours of four for another reason: it does not cross */
  SNUFFED,  /* the same, for its flame */
  ALIGHT,   /* read over the limit, and not out yet */
  BURNT_ON, /* read over the limit once, and let burn */
  LOGGED,   /* nobody saw it: its logger's file says that the glass was too hot */
  POWER,    /* in a burn past its time, which is of no standard kind */
  CRACKED,
  N_WAYS
} Way;

static void
burn_one (WbDataset    *data,
          guint         sample,
          double        typical_mm,
          Way           way,
          WbCalcRandom *random)
{
  static const double course[] = { 0.85, 0.92, 0.97, 1 };
  guint burn = test_craft_add_burn (data, sample), hours = way == SHORT || way == SNUFFED || way == ALIGHT ? 2 : 4, row = 0;

  if (way == POWER)
    ((WbBurn *) g_ptr_array_index (data->burns, burn))->kind = WB_BURN_POWER;
  if (way == ALIGHT)
    ((WbBurn *) g_ptr_array_index (data->burns, burn))->session = 1;
  for (guint hour = 1; hour <= hours; hour++)
    {
      double flame = typical_mm * course[hour - 1] * exp (0.03 * wb_calc_random_normal (random));
      gboolean over = hour == 2 && (way == SNUFFED || way == ALIGHT || way == BURNT_ON || way == POWER);

      row = test_craft_add_reading (data, burn, hour * 60);
      test_craft_set (data, row, WB_COLUMN_FLAME_MM, over ? HOT_MM : flame);
      test_craft_set (data, row, WB_COLUMN_POOL_MM, fmin (80 * -expm1 (-(double) hour / 1.15) + wb_calc_random_normal (random) / 2, 76.2));
      test_craft_set (data, row, WB_COLUMN_VESSEL_C, 30 + 4 * hour + wb_calc_random_normal (random) / 2);
      test_craft_set (data, row, WB_COLUMN_ROOM_C, 22);
    }
  test_craft_set (data, row, WB_COLUMN_HANG_UP_MM, 1);
  if (way != ALIGHT)
    test_craft_set (data, row, WB_COLUMN_EVENT, way == CRACKED ? WB_EVENT_VESSEL_CRACK : WB_EVENT_SNUFFED);
  if (way == LOGGED)
    test_craft_log (data, burn, 84, 100, NAN, NAN);
}

/* Wicks of flames from 26 mm, far from the 50 mm of the house; the first `crossed` samples of one of them cross in their last burn. */
static WbDataset *
make (Way   way,
      guint crossed)
{
  WbDataset *data = test_craft_data_new ();
  WbCalcRandom random;

  wb_calc_random_init (&random, 3, 0);
  for (guint c = 0; c < WICKS; c++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", c + 1);
      guint cell = test_craft_add_cell (data, "Tern", 76.2, "Sedge", size, c + 1, 6);

      for (guint s = 0; s < SAMPLES; s++)
        {
          g_autofree char *code = g_strdup_printf ("S%u-%u", c + 1, s + 1);
          guint sample = test_craft_add_sample (data, cell, code);
          double typical = (26 + 3 * c) * exp (0.06 * wb_calc_random_normal (&random));

          for (guint b = 0; b < BURNS; b++)
            burn_one (data, sample, typical * exp (0.05 * wb_calc_random_normal (&random)),
                      c == OF && s < crossed && b == BURNS - 1 ? way : NEVER, &random);
        }
    }
  return data;
}

static WbCraftAnswer *
ask (Way   way,
     guint crossed)
{
  return wb_craft_answer_new (make (way, crossed), NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
}

/* The ends of the Jeffreys interval are quantiles of Beta (x + ½, n - x + ½): Brown, Cai and DasGupta (2001). */
static double
jeffreys_low (guint x,
              guint n)
{
  return x == 0 ? 0 : gsl_cdf_beta_Pinv (0.025, x + 0.5, n - x + 0.5);
}

static void
test_expectation (void)
{
  /* reference: 81 of 263 and 15 of 148, 95 % (R 4.2.2); the mean of the same posterior is (x + ½) / (n + 1) */
  g_assert_cmpfloat_with_epsilon (jeffreys_low (81, 263), 0.254521934991, 1e-9);
  g_assert_cmpfloat_with_epsilon (jeffreys_low (15, 148), 0.0604485170093, 1e-9);
  g_assert_cmpfloat_with_epsilon (wb_craft_trials_expect (1, 3), 0.375, 1e-12);
  g_assert_cmpfloat_with_epsilon (wb_craft_trials_expect (3, 3), 0.875, 1e-12);
  g_assert_cmpfloat (wb_craft_trials_expect (0, 3), ==, 0);
  for (guint n = 1; n <= 40; n++)
    for (guint x = 1; x <= n; x++)
      {
        double chance = wb_craft_trials_expect (x, n);

        g_assert_cmpfloat (chance, <, 1);
        g_assert_cmpfloat (chance, >, jeffreys_low (x, n));
        g_assert_cmpfloat (chance, <, gsl_cdf_beta_Pinv (0.975, x + 0.5, n - x + 0.5));
        /* one more that crosses never lowers it, be it one of those burnt or a new one; one more that does not never raises it */
        g_assert_cmpfloat (wb_craft_trials_expect (x + 1, n + 1), >, chance);
        g_assert_cmpfloat (chance, >, wb_craft_trials_expect (x - 1, n));
        g_assert_cmpfloat (wb_craft_trials_expect (x, n + 1), <, chance);
      }
}

static void
test_whatever_shows_it_counts (void)
{
  for (Way way = NEVER; way < N_WAYS; way++)
    {
      g_autoptr (WbDataset) data = make (way, 2);
      g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
      WbCraftTrials trials = wb_craft_trials_count (data, figures, OF), others = wb_craft_trials_count (data, figures, OF + 1);

      g_test_message ("way %d", way);
      g_assert_cmpuint (trials.burnt, ==, SAMPLES);
      g_assert_cmpuint (trials.crossed, ==, way < SNUFFED ? 0 : 2);
      g_assert_cmpuint (trials.happened, ==, way == CRACKED ? 2 : 0);
      g_assert_cmpuint (others.burnt, ==, SAMPLES);
      g_assert_cmpuint (others.crossed, ==, 0);
      /* what was set aside is a trial where it crossed, for that is not cleared; and takes nothing from the score */
      for (guint i = 0; i < 2; i++)
        ((WbSample *) g_ptr_array_index (data->samples, OF * SAMPLES + 1 + i))->set_aside_cause = 0;
      trials = wb_craft_trials_count (data, figures, OF);
      g_assert_cmpuint (trials.burnt, ==, way < SNUFFED ? 1 : 2);
      g_assert_cmpuint (trials.crossed, ==, way < SNUFFED ? 0 : 2);
      g_assert_cmpuint (trials.happened, ==, way == CRACKED);
    }
}

/* To set aside all that crossed leaves the chance where those samples put it, and the score to the others. */
static void
test_set_aside_stays_in_the_chance (void)
{
  for (Way way = SNUFFED; way < N_WAYS; way++)
    {
      WbDataset *data = make (way, 1), *calm;
      g_autoptr (WbCraftAnswer) answer = NULL, without = NULL;
      const WbCraftRanked *ranked;

      ((WbSample *) g_ptr_array_index (data->samples, OF * SAMPLES))->set_aside_cause = WB_CAUSE_OTHER;
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
      ranked = test_craft_find_ranked (answer, OF);
      g_test_message ("way %d: %g", way, ranked->p_cross);
      g_assert_cmpfloat (ranked->p_cross, >=, 1.5 / (SAMPLES + 1));
      g_assert_false (ranked->crossed);
      g_assert_true (test_craft_has_reason (ranked, "set_aside_not_cleared"));
      g_assert_true (test_craft_has_reason (ranked, "may_cross"));
      if (way != CRACKED)
        continue;
      /* were a crack no crossing, nothing would be counted: the score is the same, for it rests on the others */
      calm = make (way, 1);
      ((WbSample *) g_ptr_array_index (calm->samples, OF * SAMPLES))->set_aside_cause = WB_CAUSE_OTHER;
      for (guint i = 0; i < calm->limits->len; i++)
        if (((WbLimit *) g_ptr_array_index (calm->limits, i))->kind == WB_LIMIT_VESSEL_CRACK)
          ((WbLimit *) g_ptr_array_index (calm->limits, i))->off = TRUE;
      without = wb_craft_answer_new (calm, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
      g_assert_cmpfloat_with_epsilon (ranked->score.value, test_craft_find_ranked (without, OF)->score.value, 1e-12);
    }
}

/* A crack whose limit is off is no crossing, so no trial: it stands before the chance, among the reasons and beside the answer. */
static void
test_a_crack_without_its_limit (void)
{
  static const char *const words[] = { "vessel cracked; its limit is turned off", "vessel cracked; there is no limit for it" };

  for (guint gone = 0; gone < 2; gone++)
    for (guint aside = 0; aside < 2; aside++)
      {
        WbDataset *data = make (CRACKED, 1);
        g_autoptr (WbCraftAnswer) answer = NULL;
        g_autofree char *told = NULL, *sentence = NULL, *sure = NULL;
        const WbCraftRanked *ranked;

        if (aside == 1)
          ((WbSample *) g_ptr_array_index (data->samples, OF * SAMPLES))->set_aside_cause = WB_CAUSE_OTHER;
        for (guint i = data->limits->len; i > 0; i--)
          {
            WbLimit *limit = g_ptr_array_index (data->limits, i - 1);

            if (limit->kind != WB_LIMIT_VESSEL_CRACK)
              continue;
            limit->off = TRUE;
            if (gone == 1)
              g_ptr_array_remove_index (data->limits, i - 1);
          }
        answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
        ranked = test_craft_find_ranked (answer, OF);
        told = wb_craft_ranked_dup_crossing (ranked, "< 1 %");
        sentence = g_strdup_printf ("In burn %u of sample S%u-1: %s.", BURNS, OF + 1, words[gone]);
        sure = wb_craft_group_dup_sureness (data, test_craft_find_group (answer, OF));
        g_test_message ("%s; %s", told, sure);
        g_assert_false (ranked->crossed);
        g_assert_true (ranked->cracked);
        g_assert_false (test_craft_find_ranked (answer, OF + 1)->cracked);
        g_assert_true (g_str_has_prefix (told, "vessel cracked; < 1 %"));
        g_assert_cmpuint (test_craft_count_sentences (ranked, sentence), ==, 1);
        g_assert_cmpint (ranked->verdict, !=, WB_CRAFT_VERDICT_RECOMMENDED);
        g_assert_false (test_craft_has_reason (ranked, "burnt_down"));
        g_assert_nonnull (strstr (sure, " A vessel cracked, which no limit tells here: S-2 (burn 4 of sample S2-1)."));
      }
}

/* A sample that nobody lit is no trial. */
static void
test_what_was_not_burnt_does_not_count (void)
{
  g_autoptr (WbDataset) data = make (SNUFFED, 1);
  g_autoptr (WbCraftFigures) figures = NULL;
  WbCraftTrials trials;

  test_craft_add_sample (data, WICKS - 1, "S5-4");
  figures = wb_craft_figures_new (data);
  trials = wb_craft_trials_count (data, figures, WICKS - 1);
  g_assert_cmpuint (trials.burnt, ==, SAMPLES);
}

/* One, two, three of three crossed, in whichever way: what is said of the next is no less, grows, and none is recommended. */
static void
test_a_crossing_is_never_explained_away (void)
{
  g_autoptr (WbCraftAnswer) calm = ask (NEVER, 0);

  g_assert_cmpfloat (test_craft_find_ranked (calm, OF)->p_cross, <, 0.01);
  for (Way way = SNUFFED; way < N_WAYS; way++)
    {
      double before = test_craft_find_ranked (calm, OF)->p_cross;

      for (guint crossed = 1; crossed <= SAMPLES; crossed++)
        {
          g_autoptr (WbCraftAnswer) answer = ask (way, crossed);
          const WbCraftRanked *ranked = test_craft_find_ranked (answer, OF);

          g_test_message ("way %d, %u of 3: %g, error %g", way, crossed, ranked->p_cross, ranked->p_cross_error);
          g_assert_cmpint (ranked->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
          g_assert_true (ranked->crossed);
          g_assert_cmpfloat (ranked->p_cross, >=, (crossed + 0.5) / (SAMPLES + 1));
          g_assert_cmpfloat (ranked->p_cross, <=, 1);
          g_assert_cmpfloat (ranked->p_cross, >, before);
          /* what was counted does not err by the draws: no "± 0.0" beside what three samples tell */
          if (ranked->p_cross == (crossed + 0.5) / (SAMPLES + 1))
            g_assert_true (isnan (ranked->p_cross_error));
          else
            g_assert_true (ranked->p_cross_error >= 0 && ranked->p_cross_error < 0.05);
          test_craft_check_chances (answer->ranking);
          before = ranked->p_cross;
        }
    }
}

static double
mean_peak (Way   way,
           guint crossed)
{
  g_autoptr (WbCraftAnswer) answer = ask (way, crossed);
  g_autoptr (WbCraftDraws) draws = wb_craft_draws_new (answer->data, answer->figures, answer->estimates, 1, 256, NULL, NULL);
  const WbCraftDraw *peak = wb_craft_draws_find (draws, WB_FIGURE_FLAME, WB_STAGE_UPPER, WB_CRAFT_LOOK_PEAK);
  double sum = 0;

  for (guint i = 0; i < 256; i++)
    sum += peak->level[i * WICKS + OF] / 256;
  return exp (sum);
}

/* The burn that was snuffed for its flame is known as at least as high as that, so that candles which cross are not those left out. */
static void
test_a_snuffed_burn_enters_the_peaks (void)
{
  double calm = mean_peak (NEVER, 0);

  g_assert_cmpfloat (calm, <, 33);
  g_assert_cmpfloat (mean_peak (SHORT, SAMPLES), <, calm + 1);
  g_assert_cmpfloat (mean_peak (SNUFFED, 1), >, calm + 1);
  g_assert_cmpfloat (mean_peak (SNUFFED, SAMPLES), >, 50);
  g_assert_cmpfloat (mean_peak (ALIGHT, SAMPLES), >, 50);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/trials/what-is-expected-of-the-next", test_expectation);
  g_test_add_func ("/craft/trials/whatever-shows-it-counts", test_whatever_shows_it_counts);
  g_test_add_func ("/craft/trials/what-was-set-aside-stays-in-the-chance", test_set_aside_stays_in_the_chance);
  g_test_add_func ("/craft/trials/a-crack-without-its-limit-is-told", test_a_crack_without_its_limit);
  g_test_add_func ("/craft/trials/what-was-not-burnt-does-not-count", test_what_was_not_burnt_does_not_count);
  g_test_add_func ("/craft/trials/a-crossing-is-never-explained-away", test_a_crossing_is_never_explained_away);
  g_test_add_func ("/craft/trials/a-snuffed-burn-enters-the-peaks", test_a_snuffed_burn_enters_the_peaks);
  return g_test_run ();
}
