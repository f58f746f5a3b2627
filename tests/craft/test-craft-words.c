/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"
#include "wb-craft-growth-words.h"
#include "wb-craft-same-ratings.h"

#define INNER 76.2

/* Two wicks with two samples of two calm burns each; every burn's mushroom is rated so. */
static WbDataset *
calm_new (double mushroom)
{
  WbDataset *data = test_craft_data_new ();

  for (guint i = 0; i < 2; i++)
    {
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", i == 0 ? "S-1" : "S-2", i + 1, 0);

      for (guint k = 0; k < 2; k++)
        {
          guint sample = test_craft_add_sample (data, cell, k == 0 ? "a" : "b");

          for (guint b = 0; b < 2; b++)
            test_craft_calm_burn (data, sample, 78 + 4 * i + k, 1.2, INNER);
        }
    }
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    wb_readings_set (data->readings, row, WB_COLUMN_MUSHROOM, mushroom);
  return data;
}

static char *
dup_alike (const WbCraftEstimates *estimates,
           WbFigure                figure)
{
  g_autoptr (GArray) all = wb_craft_same_ratings_new (estimates, WB_STAGE_ALL);

  for (guint i = 0; i < all->len; i++)
    {
      const WbCraftSameRatings *same = &g_array_index (all, WbCraftSameRatings, i);

      if (same->figure == figure)
        {
          g_assert_cmpfloat_with_epsilon (same->differs_at_most, 1 - pow (0.1, 0.25), 1e-12); /* four samples */
          return wb_craft_same_ratings_dup_text (same);
        }
    }
  return NULL;
}

/* Nothing of it was ever seen, or always the same: a bound, by candles and not by burns. */
static void
test_all_ratings_alike (void)
{
  for (guint mushroom = 0; mushroom < 2; mushroom++)
    {
      g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (calm_new (mushroom), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      g_autofree char *of_soot = dup_alike (answer->estimates, WB_FIGURE_SOOT);
      g_autofree char *of_mushroom = dup_alike (answer->estimates, WB_FIGURE_MUSHROOM);

      g_assert_cmpstr (of_soot, ==, "Soot was never seen in 8 burns of 4 samples: at most 44 candles in 100 would show any (90 in 100 sure).");
      g_assert_cmpstr (of_mushroom, ==, mushroom == 0
                       ? "Mushroom was never seen in 8 burns of 4 samples: at most 44 candles in 100 would show any (90 in 100 sure)."
                       : "Mushroom was rated 1 in each of 8 burns of 4 samples: at most 44 candles in 100 would be rated otherwise (90 in 100 sure).");
    }
}

static void
test_one_rating_differs (void)
{
  WbDataset *data = calm_new (0);
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autofree char *of_soot = NULL;

  wb_readings_set (data->readings, wb_readings_get_length (data->readings) - 1, WB_COLUMN_SOOT, 1);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  of_soot = dup_alike (answer->estimates, WB_FIGURE_SOOT);
  g_assert_null (of_soot);
}

/* Who has it, once for each status; a plain fit needs no word. */
static void
test_growth_notes (void)
{
  const char *const names[] = { "B3", "B4", "B5", "B6" };
  WbCraftGrowth growth[4] = { { .status = WB_CRAFT_FIT_HELD }, { .status = WB_CRAFT_FIT_OK }, { .status = WB_CRAFT_FIT_HELD },
                              { .status = WB_CRAFT_FIT_BENT, .exponent = 1.4 } };
  const WbCraftGrowth *const growths[] = { &growth[0], &growth[1], &growth[2], &growth[3] };
  g_autoptr (GPtrArray) some = wb_craft_growth_dup_notes (4, names, growths);
  g_autoptr (GPtrArray) all = NULL;

  g_assert_cmpuint (some->len, ==, 2);
  g_assert_true (g_str_has_prefix (g_ptr_array_index (some, 0), "B6: fitted; the pools"));
  g_assert_true (g_str_has_suffix (g_ptr_array_index (some, 0), "(exponent 1.40 on the time)."));
  g_assert_cmpstr (g_ptr_array_index (some, 1), ==, "B3 and B5: every pool is held by an earlier ring.");
  for (guint i = 0; i < 4; i++)
    growth[i].status = WB_CRAFT_FIT_STATED;
  all = wb_craft_growth_dup_notes (4, names, growths);
  g_assert_cmpuint (all->len, ==, 1);
  g_assert_true (g_str_has_prefix (g_ptr_array_index (all, 0), "All of them: fitted; no combination has a second sample"));
}

static void
test_weights_in_words (void)
{
  const struct { double low, high; guint below, above; const char *said; } cases[] = {
    { 0.4, 5.1, 1, 0, "Soot, upper third, weighs 2: the answer holds from 0.40 to 5.10; below, S-2 would lead; above, S-1 would lead." },
    { 0.4, NAN, 1, G_MAXUINT, "Soot, upper third, weighs 2: the answer holds from 0.40; below, S-2 would lead." },
    { NAN, 2.2, G_MAXUINT, 1, "Soot, upper third, weighs 2: the answer holds up to 2.20; above, S-2 would lead." },
    { 0, NAN, 1, G_MAXUINT, "Soot, upper third, weighs 2: the answer holds as long as it counts; left out, S-2 would lead." },
    { 0, 5.1, 1, 1, "Soot, upper third, weighs 2: the answer holds as long as it counts, up to 5.10; left out, S-2 would lead; above, S-2 would lead." },
    { NAN, NAN, G_MAXUINT, G_MAXUINT, NULL },
  };
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (calm_new (0), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  WbCraftGroup *group = &answer->ranking->groups[0];

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbCraftWeight weight = { WB_FIGURE_SOOT, WB_STAGE_UPPER, 2, cases[i].low, cases[i].high, cases[i].below, cases[i].above };
      gboolean holds = !(cases[i].high < 4) && !(cases[i].low > 1);
      g_autoptr (GPtrArray) told = NULL;

      g_array_set_size (group->weights, 0);
      g_array_append_val (group->weights, weight);
      told = wb_craft_group_dup_weights (answer->data, group);
      g_assert_cmpuint (told->len, ==, holds + (cases[i].said != NULL));
      if (holds)
        g_assert_cmpstr (g_ptr_array_index (told, 0), ==, "No single weight, halved or doubled, changes the winner.");
      if (cases[i].said != NULL)
        g_assert_cmpstr (g_ptr_array_index (told, told->len - 1), ==, cases[i].said);
    }
}

/* Of many the nearest few, and how many more. */
static void
test_few_of_many_weights (void)
{
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (calm_new (0), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  WbCraftGroup *group = &answer->ranking->groups[0];
  g_autoptr (GPtrArray) told = NULL;

  g_array_set_size (group->weights, 0);
  for (guint i = 0; i < 6; i++)
    {
      WbCraftWeight weight = { WB_FIGURE_SOOT, WB_STAGE_UPPER, 1, NAN, 7 - i, G_MAXUINT, 1 };

      g_array_append_val (group->weights, weight);
    }
  told = wb_craft_group_dup_weights (answer->data, group);
  g_assert_cmpuint (told->len, ==, 6);
  g_assert_nonnull (strstr (g_ptr_array_index (told, 1), "up to 2.00"));
  g_assert_nonnull (strstr (g_ptr_array_index (told, 4), "up to 5.00"));
  g_assert_cmpstr (g_ptr_array_index (told, 5), ==, "2 other weights could change it too, if moved further.");
}

/* Which of two samples was misread nobody can tell: both are named; with a third, the odd one out alone. */
static void
test_a_sample_unlike_its_fellows (void)
{
  for (guint samples = 2; samples < 4; samples++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      const char *const codes[] = { "a", "b", "c" };

      for (guint i = 0; i < 4; i++)
        {
          g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
          guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0);

          for (guint k = 0; k < samples; k++)
            for (guint b = 0, sample = test_craft_add_sample (data, cell, codes[k]); b < 2; b++)
              test_craft_calm_burn (data, sample, 74 + 2 * i + k, 1.2, INNER);
        }
      /* the first sample of the first wick: the radius was written down for the diameter */
      for (guint row = 0; row < wb_readings_get_length (data->readings) && wb_readings_get_burn (data->readings, row) < 2; row++)
        wb_readings_set (data->readings, row, WB_COLUMN_POOL_MM, wb_readings_get (data->readings, row, WB_COLUMN_POOL_MM) / 2);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      for (guint cell = 0; cell < 4; cell++)
        g_assert_cmpuint (test_craft_count_sentences (test_craft_find_ranked (answer, cell), "Sample "), ==, cell > 0 ? 0 : samples == 2 ? 2 : 1);
      if (samples == 3)
        g_assert_cmpuint (test_craft_count_sentences (test_craft_find_ranked (answer, 0), "Sample a reads unlike its fellows"), ==, 1);
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/words/ratings-all-alike-have-a-bound", test_all_ratings_alike);
  g_test_add_func ("/craft/words/one-rating-that-differs-has-none", test_one_rating_differs);
  g_test_add_func ("/craft/words/curves-that-are-no-plain-fits", test_growth_notes);
  g_test_add_func ("/craft/words/how-far-a-weight-may-move", test_weights_in_words);
  g_test_add_func ("/craft/words/few-of-many-weights", test_few_of_many_weights);
  g_test_add_func ("/craft/words/a-sample-unlike-its-fellows-is-named", test_a_sample_unlike_its_fellows);
  return g_test_run ();
}
