/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"

#define INNER 76.2

static WbDataset *
load_log (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);

  return test_craft_from_log (path);
}

/* What a maker reading the log would say: carry on with L-3; nobody can be recommended, it ends after the upper part. */
static void
test_sample_log (void)
{
  WbDataset *data = load_log ();
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  guint l3 = test_craft_find_cell (data, "Osprey", "L-3", 6);
  const WbCraftGroup *group = test_craft_find_group (answer, l3);
  g_autofree char *title = wb_craft_group_dup_title (data, group);
  g_autoptr (GPtrArray) common = NULL;
  g_autofree char *words = wb_craft_group_dup_answer (data, group);
  g_autofree char *sure = wb_craft_group_dup_sureness (data, group);

  g_assert_cmpuint (answer->ranking->seed, ==, 1);
  g_assert_cmpuint (answer->ranking->draws, ==, 4000);
  g_assert_cmpuint (answer->ranking->n_groups, ==, 4);
  test_craft_check_chances (answer->ranking);
  g_assert_cmpuint (group->n_cells, ==, 5);
  g_assert_cmpuint (group->cells[0].cell, ==, l3);
  g_assert_cmpfloat (group->cells[0].p_best, >, 0.5);
  for (guint i = 0; i < group->n_cells; i++)
    {
      g_assert_cmpint (group->cells[i].verdict, ==, WB_CRAFT_VERDICT_CANDIDATE);
      g_assert_true (test_craft_has_reason (&group->cells[i], "not_burnt_down"));
      g_assert_true (test_craft_has_reason (&group->cells[i], "limit_not_tested"));
      g_assert_true (test_craft_has_reason (&group->cells[i], "stage_not_read"));
    }
  /* many reasons of one kind, one sentence: two limits of one flame, two thirds not read */
  g_assert_cmpuint (test_craft_count_sentences (&group->cells[0],
                                     "Read in the lower third on too few samples: flame height (0 of 3); outside wall of the vessel (0 of 3)."),
                    ==, 1);
  g_assert_cmpuint (test_craft_count_sentences (&group->cells[0], "Nothing was read here, so it is out of the score: middle third; lower third."), ==, 1);
  /* it was rated in that log, but among others */
  g_assert_cmpuint (test_craft_count_sentences (&group->cells[0],
                                     "Not read in any combination, so out of the score: Hot throw of a candle alone in its room (upper third)."),
                    ==, 1);
  /* too thick a ring and too hot: both far behind */
  g_assert_cmpfloat (test_craft_find_ranked (answer, test_craft_find_cell (data, "Osprey", "L-1", 6))->p_near, <, 0.05);
  g_assert_cmpfloat (test_craft_find_ranked (answer, test_craft_find_cell (data, "Osprey", "L-5", 6))->p_near, <, 0.05);
  g_assert_nonnull (strstr (title, "Osprey"));
  g_assert_true (g_str_has_prefix (words, "On 2 samples and 8 burns so far, L-3 would do best on average: "));
  /* the thinnest is told as too small, the leader is not */
  g_assert_true (test_craft_has_reason (test_craft_find_ranked (answer, test_craft_find_cell (data, "Osprey", "L-1", 6)), "pool_short"));
  g_assert_false (test_craft_has_reason (&group->cells[0], "pool_short"));
  /* every one that does not lead says what keeps it back, and what all say can be told once */
  for (guint i = 1; i < group->n_cells; i++)
    {
      g_assert_true (test_craft_has_reason (&group->cells[i], "not_near_best"));
      g_assert_true (test_craft_has_reason (&group->cells[i], "costs_most"));
    }
  common = wb_craft_group_dup_common_sentences (group);
  g_assert_true (g_ptr_array_find_with_equal_func (common, "Samples burnt: 2 of 3.", g_str_equal, NULL));
  for (guint i = 0; i < common->len; i++)
    g_assert_false (g_str_has_prefix (g_ptr_array_index (common, i), "Its chance of being within"));
  /* that log states neither tare nor fill nor height */
  g_assert_nonnull (strstr (sure, "For want of a tare, fill or height all counts as the upper third."));
  g_assert_nonnull (strstr (sure, "It scores 0.8"));
  g_assert_nonnull (strstr (sure, "most of what it lacks is: Time to full melt pool, upper third."));
}

static void
test_a_seed_tells_all (void)
{
  WbDataset *first = load_log (), *second = load_log (), *third = load_log ();
  g_autoptr (WbCraftAnswer) a = wb_craft_answer_new (first, NULL, WB_CRAFT_WITHIN_SCENT, 7, NULL, NULL);
  g_autoptr (WbCraftAnswer) b = wb_craft_answer_new (second, NULL, WB_CRAFT_WITHIN_SCENT, 7, NULL, NULL);
  g_autoptr (WbCraftAnswer) c = wb_craft_answer_new (third, NULL, WB_CRAFT_WITHIN_SCENT, 8, NULL, NULL);

  for (guint cell = 0; cell < first->cells->len; cell++)
    {
      const WbCraftRanked *of_a = test_craft_find_ranked (a, cell), *of_b = test_craft_find_ranked (b, cell), *of_c = test_craft_find_ranked (c, cell);

      g_assert_cmpfloat (of_a->p_best, ==, of_b->p_best);
      g_assert_cmpfloat (of_a->score.low, ==, of_b->score.low);
      /* another seed: within the Monte Carlo error that is told */
      g_assert_cmpfloat (fabs (of_a->p_best - of_c->p_best), <=, 5 * sqrt (2) * MAX (of_a->p_best_error, 0.002));
      g_assert_cmpfloat (fabs (of_a->score.value - of_c->score.value), <, 0.01);
    }
}

/* A recipe's score is its own: it does not hang on who else is in the group. */
static void
test_groups (void)
{
  WbDataset *first = load_log (), *second = load_log (), *third = load_log ();
  g_autoptr (WbCraftAnswer) scent = wb_craft_answer_new (first, NULL, WB_CRAFT_WITHIN_SCENT, 1, NULL, NULL);
  g_autoptr (WbCraftAnswer) vessel = wb_craft_answer_new (second, NULL, WB_CRAFT_WITHIN_VESSEL, 1, NULL, NULL);
  g_autoptr (WbCraftAnswer) all = wb_craft_answer_new (third, NULL, WB_CRAFT_WITHIN_ALL, 1, NULL, NULL);

  g_assert_cmpuint (vessel->ranking->n_groups, ==, 2);
  g_assert_cmpuint (all->ranking->n_groups, ==, 1);
  g_assert_cmpuint (all->ranking->groups[0].n_cells, ==, 20);
  test_craft_check_chances (all->ranking);
  for (guint cell = 0; cell < first->cells->len; cell++)
    {
      g_assert_cmpfloat_with_epsilon (test_craft_find_ranked (scent, cell)->score.value, test_craft_find_ranked (vessel, cell)->score.value, 1e-12);
      g_assert_cmpfloat_with_epsilon (test_craft_find_ranked (scent, cell)->score.value, test_craft_find_ranked (all, cell)->score.value, 1e-12);
    }
  g_assert_cmpint (wb_craft_within_from_key ("vessel"), ==, WB_CRAFT_WITHIN_VESSEL);
  g_assert_cmpint (wb_craft_within_from_key ("wick"), ==, -1);
  g_assert_cmpstr (wb_craft_within_get_key (WB_CRAFT_WITHIN_ALL), ==, "all");
}

static void
test_dead_heat (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autofree char *words = NULL;
  g_autofree char *said = NULL;
  gboolean alike;

  for (guint i = 0; i < 2; i++)
    {
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", i == 0 ? "S-3" : "S-3b", i + 3, 0);

      for (guint k = 0; k < 3; k++)
        for (guint b = 0, sample = test_craft_add_sample (data, cell, k == 0 ? "a" : k == 1 ? "b" : "c"); b < 3; b++)
          test_craft_calm_burn (data, sample, 82 + k, 1.15, INNER);
    }
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 0)->p_best, >, 0.35);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 1)->p_best, >, 0.35);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 0)->p_near, >, 0.5);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 1)->p_near, >, 0.5);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  g_test_message ("%s", words);
  /* alike where each is all but sure to be near the best, else only not told apart */
  alike = test_craft_find_ranked (answer, 0)->p_near >= 0.9 && test_craft_find_ranked (answer, 1)->p_near >= 0.9;
  said = g_strdup_printf ("%s and %s %s", answer->ranking->groups[0].cells[0].cell == 0 ? "S-3" : "S-3b",
                          answer->ranking->groups[0].cells[0].cell == 0 ? "S-3b" : "S-3", alike ? "are as good as each other" : "cannot be told apart");
  g_assert_nonnull (strstr (words, said));
  g_assert_null (strstr (words, "would do best"));
}

static void
test_a_figure_that_one_lacks_is_borrowed (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const double strength[] = { 4.0, 4.3, 4.6, 5.0 };
  const WbCraftRanked *lacking;

  test_craft_add_wicks (data, strength, 4, 2, 2, 0.6);
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    if (wb_readings_get_burn (data->readings, row) >= 12) /* the fourth cell's */
      wb_readings_set (data->readings, row, WB_COLUMN_DEPTH_MM, NAN);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  lacking = test_craft_find_ranked (answer, 3);
  g_assert_true (test_craft_has_reason (lacking, "figure_borrowed"));
  g_assert_false (test_craft_has_reason (test_craft_find_ranked (answer, 2), "figure_borrowed"));
  for (guint i = 0; i < lacking->parts->len; i++)
    {
      const WbCraftPart *part = &g_array_index (lacking->parts, WbCraftPart, i);

      if (part->figure == WB_FIGURE_DEPTH && part->stage == WB_STAGE_UPPER)
        {
          g_assert_true (isnan (part->value));
          g_assert_false (part->dropped);
          g_assert_cmpfloat (part->desirability, >, 0);
        }
    }
}

/* Nobody knows whether it crosses, which is not that it never does. */
static void
test_a_limit_that_was_not_read_has_no_chance (void)
{
  static const WbColumn hot[] = { WB_COLUMN_FLAME_MM, WB_COLUMN_FLAME_MAX_MM, WB_COLUMN_VESSEL_C };
  const double strength[] = { 4.0, 4.6 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;

  test_craft_add_wicks (data, strength, 2, 2, 2, 0.6);
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    for (guint i = 0; i < G_N_ELEMENTS (hot) && wb_readings_get_burn (data->readings, row) >= 4; i++)
      wb_readings_set (data->readings, row, hot[i], NAN);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 0)->p_cross, <, 1);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 1)->score.value, >, 0);
  g_assert_true (isnan (test_craft_find_ranked (answer, 1)->p_cross));
  g_assert_true (isnan (test_craft_find_ranked (answer, 1)->p_cross_error));
}

/* A mean that a few draws take out of the middle 90 %: the interval reaches to it. */
static void
test_an_interval_holds_its_value (void)
{
  static const double strength[][2] = { { 2.9, 6.0 }, { 2.9, 9.0 } };

  for (guint seed = 1; seed < 6; seed++)
    for (guint i = 0; i < G_N_ELEMENTS (strength); i++)
      {
        WbDataset *data = test_craft_data_new ();
        g_autoptr (WbCraftAnswer) answer = NULL;

        test_craft_add_wicks (data, strength[i], 2, 1, 2, 0.6);
        answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, seed, NULL, NULL);
        test_craft_check_chances (answer->ranking);
      }
}

static void
test_no_cells (void)
{
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (test_craft_data_new (), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_autoptr (WbCraftAnswer) again = wb_craft_answer_ref (answer);

  g_assert_cmpuint (again->ranking->n_groups, ==, 0);
}

static gboolean
say_stop (double   done,
          gpointer user)
{
  double *last = user;

  g_assert_cmpfloat (done, >=, *last);
  g_assert_cmpfloat (done, <=, 1 + 1e-9);
  *last = done;
  return done < 0.7;
}

static void
test_it_can_be_stopped (void)
{
  double last = 0;

  g_assert_null (wb_craft_answer_new (load_log (), NULL, WB_CRAFT_WITHIN_SCENT, 0, say_stop, &last));
  g_assert_cmpfloat (last, >=, 0.7);
}

static double
any_value (GRand   *random,
           WbColumn column)
{
  const WbColumnSpec *spec = wb_column_get_spec (column);
  double value = g_rand_double_range (random, spec->minimum, MIN (spec->maximum, 200));

  return spec->integer ? floor (value) : value;
}

/* Whatever stands in the log: every number told is a number or says that it is none, and chances add up. */
static void
test_any_log (void)
{
  guint n = g_test_slow () ? 60 : 20; /* `-m slow` */

  for (guint seed = 0; seed < n; seed++)
    {
      g_autoptr (GRand) random = g_rand_new_with_seed (seed);
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      guint cells = g_rand_int_range (random, 1, 5);

      for (guint i = 0; i < cells; i++)
        {
          g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

          test_craft_add_cell (data, i == 3 ? "Other" : "Tern", i == 3 ? 60 : INNER, "Sedge", size, i + 1, i % 2 * 6);
        }
      for (guint i = 0; i < cells; i++)
        for (guint k = g_rand_int_range (random, 0, 3); k > 0; k--)
          for (guint sample = test_craft_add_sample (data, i, "x"), b = g_rand_int_range (random, 0, 4); b > 0; b--)
            for (guint burn = test_craft_add_burn (data, sample), hour = 0; hour <= 4; hour++)
              for (guint row = test_craft_add_reading (data, burn, hour * 60), c = 0; c <= WB_COLUMN_WICK_NUMBER; c++)
                if (g_rand_double (random) < 0.3 && c != WB_COLUMN_POOL_FULL && c != WB_COLUMN_WICK_NUMBER)
                  test_craft_set (data, row, c, any_value (random, c));
      answer = wb_craft_answer_new (data, NULL, seed % 3, 0, NULL, NULL);
      test_craft_check_chances (answer->ranking);
      for (guint g = 0; g < answer->ranking->n_groups; g++)
        {
          const WbCraftGroup *group = &answer->ranking->groups[g];
          g_autofree char *words = wb_craft_group_dup_answer (data, group);
          g_autofree char *sure = wb_craft_group_dup_sureness (data, group);

          g_assert_true (g_utf8_validate (words, -1, NULL));
          g_assert_true (g_utf8_validate (sure, -1, NULL));
          for (guint i = 0; i < group->n_cells; i++)
            {
              const WbCraftRanked *ranked = &group->cells[i];

              g_assert_true (isnan (ranked->score.value) || (ranked->score.value >= 0 && ranked->score.value <= 1));
              g_assert_true (isnan (ranked->p_cross) || (ranked->p_cross >= 0 && ranked->p_cross <= 1));
              for (guint k = 0; k < ranked->parts->len; k++)
                g_assert_false (isinf (g_array_index (ranked->parts, WbCraftPart, k).value));
            }
        }
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/ranking/the-sample-log-as-its-maker-reads-it", test_sample_log);
  g_test_add_func ("/craft/ranking/a-seed-tells-all", test_a_seed_tells_all);
  g_test_add_func ("/craft/ranking/a-score-does-not-hang-on-the-group", test_groups);
  g_test_add_func ("/craft/ranking/a-dead-heat-is-called-one", test_dead_heat);
  g_test_add_func ("/craft/ranking/a-figure-that-one-lacks-is-borrowed", test_a_figure_that_one_lacks_is_borrowed);
  g_test_add_func ("/craft/ranking/a-limit-that-was-not-read-has-no-chance", test_a_limit_that_was_not_read_has_no_chance);
  g_test_add_func ("/craft/ranking/an-interval-holds-its-value", test_an_interval_holds_its_value);
  g_test_add_func ("/craft/ranking/no-cells-no-groups", test_no_cells);
  g_test_add_func ("/craft/ranking/any-log-gives-chances-that-add-up", test_any_log);
  g_test_add_func ("/craft/ranking/it-can-be-stopped", test_it_can_be_stopped);
  return g_test_run ();
}
