/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft.h"
#include "wb-craft-answer.h"

#define INNER 76.2

static WbDataset *
load_log (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);

  return test_craft_from_log (path);
}

static const WbCraftGroup *
find_group (const WbCraftAnswer *answer,
            guint                cell)
{
  for (guint g = 0; g < answer->ranking->n_groups; g++)
    for (guint i = 0; i < answer->ranking->groups[g].n_cells; i++)
      if (answer->ranking->groups[g].cells[i].cell == cell)
        return &answer->ranking->groups[g];
  g_assert_not_reached ();
}

static const WbCraftRanked *
find_ranked (const WbCraftAnswer *answer,
             guint                cell)
{
  const WbCraftGroup *group = find_group (answer, cell);

  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].cell == cell)
      return &group->cells[i];
  g_assert_not_reached ();
}

static gboolean
has_reason (const WbCraftRanked *ranked,
            const char          *code)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    if (g_str_equal (((WbCraftReason *) g_ptr_array_index (ranked->reasons, i))->code, code))
      return TRUE;
  return FALSE;
}

/* Chances are chances: they add up, and every rank is taken by somebody. */
static void
check_chances (const WbCraftRanking *ranking)
{
  for (guint g = 0; g < ranking->n_groups; g++)
    {
      const WbCraftGroup *group = &ranking->groups[g];
      double best = group->p_none;

      for (guint i = 0; i < group->n_cells; i++)
        {
          const WbCraftRanked *ranked = &group->cells[i];
          double ranks = 0;

          g_assert_cmpuint (ranked->rank, ==, i + 1);
          if (isnan (ranked->score.value))
            {
              g_assert_true (isnan (ranked->p_best) && isnan (ranked->p_near) && isnan (ranked->p_cross));
              continue;
            }
          best += ranked->p_best;
          for (guint r = 0; r < group->n_cells; r++)
            ranks += ranked->p_rank[r];
          g_assert_cmpfloat_with_epsilon (ranks, 1, 1e-9);
          g_assert_cmpfloat (ranked->p_near, >=, ranked->p_best - 1e-12);
          g_assert_cmpfloat (ranked->score.low, <=, ranked->score.value);
          g_assert_cmpfloat (ranked->score.high, >=, ranked->score.value);
          g_assert_cmpfloat (ranked->next_candle.high - ranked->next_candle.low, >=,
                             ranked->score.high - ranked->score.low - 0.05);
        }
      if (!isnan (group->p_none)) /* nobody of the group was burnt */
        g_assert_cmpfloat_with_epsilon (best, 1, 1e-9);
    }
}

/* How many of the sentences of a cell's reasons begin so. */
static guint
count_sentences (const WbCraftRanked *ranked,
                 const char          *start)
{
  g_autoptr (GPtrArray) sentences = wb_craft_ranked_dup_sentences (ranked);
  guint n = 0;

  for (guint i = 0; i < sentences->len; i++)
    n += g_str_has_prefix (g_ptr_array_index (sentences, i), start);
  return n;
}

/* What a maker reading the log would say: carry on with L-3; nobody can be recommended, it ends after the upper part. */
static void
test_sample_log (void)
{
  WbDataset *data = load_log ();
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  guint l3 = test_craft_find_cell (data, "Osprey", "L-3", 6);
  const WbCraftGroup *group = find_group (answer, l3);
  g_autofree char *title = wb_craft_group_dup_title (data, group);
  g_autofree char *words = wb_craft_group_dup_answer (data, group);
  g_autofree char *sure = wb_craft_group_dup_sureness (data, group);

  g_assert_cmpuint (answer->ranking->seed, ==, 1);
  g_assert_cmpuint (answer->ranking->draws, ==, 4000);
  g_assert_cmpuint (answer->ranking->n_groups, ==, 4);
  check_chances (answer->ranking);
  g_assert_cmpuint (group->n_cells, ==, 5);
  g_assert_cmpuint (group->cells[0].cell, ==, l3);
  g_assert_cmpfloat (group->cells[0].p_best, >, 0.5);
  for (guint i = 0; i < group->n_cells; i++)
    {
      g_assert_cmpint (group->cells[i].verdict, ==, WB_CRAFT_VERDICT_CANDIDATE);
      g_assert_true (has_reason (&group->cells[i], "not_burnt_down"));
      g_assert_true (has_reason (&group->cells[i], "limit_not_tested"));
      g_assert_true (has_reason (&group->cells[i], "stage_not_read"));
    }
  /* many reasons of one kind, one sentence: two limits of one flame, two thirds not read */
  g_assert_cmpuint (count_sentences (&group->cells[0],
                                     "Read in the lower third on too few samples: flame height (0 of 3); outside wall of the vessel (0 of 3)."),
                    ==, 1);
  g_assert_cmpuint (count_sentences (&group->cells[0], "Nothing was read here, so it is out of the score: middle third; lower third."), ==, 1);
  /* it was rated in that log, but among others */
  g_assert_cmpuint (count_sentences (&group->cells[0],
                                     "Not read in any combination, so out of the score: Hot throw of a candle alone in its room (upper third)."),
                    ==, 1);
  /* too thick a ring and too hot: both far behind */
  g_assert_cmpfloat (find_ranked (answer, test_craft_find_cell (data, "Osprey", "L-1", 6))->p_near, <, 0.05);
  g_assert_cmpfloat (find_ranked (answer, test_craft_find_cell (data, "Osprey", "L-5", 6))->p_near, <, 0.05);
  g_assert_nonnull (strstr (title, "Osprey"));
  g_assert_true (g_str_has_prefix (words, "L-3 would do best on average: "));
  g_assert_nonnull (strstr (sure, "upper third only"));
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
      const WbCraftRanked *of_a = find_ranked (a, cell), *of_b = find_ranked (b, cell), *of_c = find_ranked (c, cell);

      g_assert_cmpfloat (of_a->p_best, ==, of_b->p_best);
      g_assert_cmpfloat (of_a->score.low, ==, of_b->score.low);
      /* another seed: within the Monte Carlo error that is told */
      g_assert_cmpfloat (fabs (of_a->p_best - of_c->p_best), <=, 5 * sqrt (2) * MAX (of_a->mc_error, 0.002));
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
  check_chances (all->ranking);
  for (guint cell = 0; cell < first->cells->len; cell++)
    {
      g_assert_cmpfloat_with_epsilon (find_ranked (scent, cell)->score.value, find_ranked (vessel, cell)->score.value, 1e-12);
      g_assert_cmpfloat_with_epsilon (find_ranked (scent, cell)->score.value, find_ranked (all, cell)->score.value, 1e-12);
    }
  g_assert_cmpint (wb_craft_within_from_key ("vessel"), ==, WB_CRAFT_WITHIN_VESSEL);
  g_assert_cmpint (wb_craft_within_from_key ("wick"), ==, -1);
  g_assert_cmpstr (wb_craft_within_get_key (WB_CRAFT_WITHIN_ALL), ==, "all");
}

static void
add_wicks (WbDataset    *data,
           const double *strength,
           guint         n,
           guint         samples,
           guint         burns,
           double        bottom_heat)
{
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

      spec.strength_g_per_h = strength[i];
      spec.bottom_heat = bottom_heat;
      test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0), &spec, samples, burns, 3);
    }
}

static void
test_burnt_down_is_recommended (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const double strength[] = { 3.4, 4.4, 6.6 };
  const WbCraftRanked *right;
  g_autofree char *words = NULL;

  add_wicks (data, strength, 3, 3, 0, 0.6);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  check_chances (answer->ranking);
  right = &answer->ranking->groups[0].cells[0];
  for (guint i = 0; i < right->reasons->len; i++)
    g_test_message ("%s", ((WbCraftReason *) g_ptr_array_index (right->reasons, i))->text);
  g_assert_cmpuint (right->cell, ==, 1);
  g_assert_cmpstr (wb_craft_verdict_get_key (right->verdict), ==, "recommended");
  g_assert_cmpfloat (right->p_near, >=, 0.9);
  g_assert_cmpfloat (right->p_cross, <=, 0.05);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  g_assert_nonnull (strstr (words, "S-2 is recommended"));
  g_assert_cmpint (find_ranked (answer, 0)->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
}

/* The same data with fewer samples, and with an unread limit: at best a candidate. */
static void
test_what_is_missing_is_said (void)
{
  const double strength[] = { 3.4, 4.4 };

  for (guint i = 0; i < 2; i++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      const WbCraftRanked *right;

      add_wicks (data, strength, 2, i == 0 ? 2 : 3, 0, 0.6);
      if (i == 1)
        for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
          wb_readings_set (data->readings, row, WB_COLUMN_VESSEL_C, NAN);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      right = find_ranked (answer, 1);
      g_assert_cmpint (right->verdict, ==, WB_CRAFT_VERDICT_CANDIDATE);
      g_assert_true (has_reason (right, i == 0 ? "few_samples" : "limit_not_tested"));
      /* unscented: no throw is missed */
      g_assert_cmpint (has_reason (right, "figure_not_read"), ==, i == 1);
    }
}

/* A protocol may ask for more samples than three, never for fewer. */
static void
test_three_samples_at_least (void)
{
  const double strength[] = { 3.4, 4.4 };
  const struct { gint64 asked; guint samples; WbCraftVerdict verdict; const char *said; } cases[] = {
    { 1, 2, WB_CRAFT_VERDICT_CANDIDATE, "Samples burnt: 2 of 3." },
    { WB_INTEGER_NONE, 2, WB_CRAFT_VERDICT_CANDIDATE, "Samples burnt: 2 of 3." },
    { 1, 3, WB_CRAFT_VERDICT_RECOMMENDED, "3 samples were burnt" },
    { 4, 3, WB_CRAFT_VERDICT_CANDIDATE, "Samples burnt: 3 of 4." },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;

      data->protocol->samples_wanted = cases[i].asked;
      add_wicks (data, strength, 2, cases[i].samples, 0, 0.6);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      g_assert_cmpint (find_ranked (answer, 1)->verdict, ==, cases[i].verdict);
      g_assert_cmpuint (count_sentences (find_ranked (answer, 1), cases[i].said), ==, 1);
    }
}

static void
test_a_crossed_limit_fails_the_cell (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const double strength[] = { 4.0, 4.5 };
  const WbCraftRanked *failed;
  const WbCraftGroup *group;

  add_wicks (data, strength, 2, 2, 3, 0.6);
  /* the better wick, once, for one reading */
  wb_readings_set (data->readings, wb_readings_get_length (data->readings) - 1, WB_COLUMN_VESSEL_C, 78);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  failed = find_ranked (answer, 1);
  group = find_group (answer, 1);
  g_assert_cmpint (failed->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
  g_assert_true (has_reason (failed, "limit_crossed"));
  g_assert_cmpfloat (failed->score.value, ==, 0);
  g_assert_cmpfloat (failed->p_best, ==, 0);
  g_assert_cmpfloat (failed->p_cross, >=, 0.3);
  g_assert_cmpuint (failed->rank, ==, 2);
  g_assert_cmpuint (group->cells[0].cell, ==, 0);
  check_chances (answer->ranking);
}

/* Right at the top, too hot at the bottom: the last third decides. */
static void
test_danger_near_the_end (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const double strength[] = { 4.0, 4.8 };
  const WbCraftRanked *hot;

  add_wicks (data, strength, 2, 3, 0, 1.9);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  hot = find_ranked (answer, 1);
  g_assert_cmpint (hot->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
  g_assert_true (has_reason (hot, "limit_crossed"));
}

static void
test_dead_heat (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autofree char *words = NULL;

  for (guint i = 0; i < 2; i++)
    {
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", i == 0 ? "S-3" : "S-3b", i + 3, 0);

      for (guint k = 0; k < 3; k++)
        for (guint b = 0, sample = test_craft_add_sample (data, cell, k == 0 ? "a" : k == 1 ? "b" : "c"); b < 3; b++)
          test_craft_calm_burn (data, sample, 82 + k, 1.15, INNER);
    }
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_assert_cmpfloat (find_ranked (answer, 0)->p_best, >, 0.35);
  g_assert_cmpfloat (find_ranked (answer, 1)->p_best, >, 0.35);
  g_assert_cmpfloat (find_ranked (answer, 0)->p_near, >, 0.5);
  g_assert_cmpfloat (find_ranked (answer, 1)->p_near, >, 0.5);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  g_assert_nonnull (strstr (words, "cannot yet be told from"));
}

static void
test_a_figure_that_one_lacks_is_borrowed (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const double strength[] = { 4.0, 4.3, 4.6, 5.0 };
  const WbCraftRanked *lacking;

  add_wicks (data, strength, 4, 2, 2, 0.6);
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    if (wb_readings_get_burn (data->readings, row) >= 12) /* the fourth cell's */
      wb_readings_set (data->readings, row, WB_COLUMN_DEPTH_MM, NAN);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  lacking = find_ranked (answer, 3);
  g_assert_true (has_reason (lacking, "figure_borrowed"));
  g_assert_false (has_reason (find_ranked (answer, 2), "figure_borrowed"));
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

static void
test_too_little (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  guint cells[3], sample;
  g_autofree char *words = NULL;

  for (guint i = 0; i < 3; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      cells[i] = test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0);
    }
  /* one burn; two burns without a pool; never burnt */
  test_craft_calm_burn (data, test_craft_add_sample (data, cells[0], "a"), 80, 1.2, INNER);
  sample = test_craft_add_sample (data, cells[1], "b");
  for (guint i = 0; i < 2; i++)
    test_craft_read (data, test_craft_add_burn (data, sample), 240, WB_COLUMN_FLAME_MM, 20);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  for (guint i = 0; i < 3; i++)
    g_assert_cmpint (find_ranked (answer, cells[i])->verdict, ==, WB_CRAFT_VERDICT_TOO_LITTLE_DATA);
  g_assert_true (has_reason (find_ranked (answer, cells[0]), "few_burns"));
  g_assert_true (has_reason (find_ranked (answer, cells[1]), "no_full_pool"));
  g_assert_true (has_reason (find_ranked (answer, cells[2]), "no_burns"));
  g_assert_true (isnan (find_ranked (answer, cells[2])->score.value));
  g_assert_cmpuint (find_ranked (answer, cells[2])->rank, ==, 3);
  check_chances (answer->ranking);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  g_assert_nonnull (strstr (words, "too little data"));
}

/* Burnt, but nothing read that the score asks for: no score, which is not a score of 0. */
static void
test_nothing_asked_was_read (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autofree char *words = NULL;
  guint sample = test_craft_add_sample (data, test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-1", 1, 0), "a");

  for (guint i = 0; i < 2; i++)
    test_craft_read (data, test_craft_add_burn (data, sample), 240, WB_COLUMN_ROOM_C, 21);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  check_chances (answer->ranking);
  g_assert_true (isnan (find_ranked (answer, 0)->score.value));
  g_assert_true (isnan (answer->ranking->groups[0].p_none));
  g_assert_cmpint (find_ranked (answer, 0)->verdict, ==, WB_CRAFT_VERDICT_TOO_LITTLE_DATA);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  g_assert_cmpstr (words, ==, "Nothing can be said yet: nothing that the score asks for was read.");
}

/* One rejected, the other never burnt: the answer speaks of what was burnt. */
static void
test_rejected_beside_unburnt (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autofree char *words = NULL;
  guint sample = test_craft_add_sample (data, test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-1", 1, 0), "a");

  test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-2", 2, 0);
  for (guint i = 0; i < 2; i++)
    {
      guint burn = test_craft_calm_burn (data, sample, 85, 1.2, INNER);

      test_craft_read (data, burn, 240, WB_COLUMN_FLAME_MAX_MM, 60);
    }
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  g_assert_cmpstr (words, ==, "None of those burnt so far may be used: each was rejected.");
}

/* A mean that a few draws take out of the middle 90 %: the interval reaches to it. */
static void
test_an_interval_holds_its_value (void)
{
  const double strength[] = { 2.9, 6.0 };

  for (guint seed = 1; seed < 6; seed++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;

      add_wicks (data, strength, 2, 1, 2, 0.6);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, seed, NULL, NULL);
      check_chances (answer->ranking);
    }
}

static void
test_planned_only (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autofree char *words = NULL;

  test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-1", 1, 0);
  test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-2", 2, 0);
  ((WbCell *) g_ptr_array_index (data->cells, 1))->left_out = TRUE;
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_assert_cmpuint (answer->ranking->n_groups, ==, 1);
  g_assert_cmpuint (answer->ranking->groups[0].n_cells, ==, 1);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  g_assert_cmpstr (words, ==, "Nothing can be said yet: no burn counts.");
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
  for (guint seed = 0; seed < 60; seed++)
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
              for (guint row = test_craft_add_reading (data, burn, hour * 60), c = 0; c < WB_N_COLUMNS; c++)
                if (g_rand_double (random) < 0.3 && c != WB_COLUMN_POOL_FULL && c != WB_COLUMN_WICK_NUMBER)
                  test_craft_set (data, row, c, any_value (random, c));
      answer = wb_craft_answer_new (data, NULL, seed % 3, 0, NULL, NULL);
      check_chances (answer->ranking);
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
  g_test_add_func ("/craft/ranking/burnt-down-and-right-is-recommended", test_burnt_down_is_recommended);
  g_test_add_func ("/craft/ranking/what-is-missing-is-said", test_what_is_missing_is_said);
  g_test_add_func ("/craft/ranking/three-samples-at-least", test_three_samples_at_least);
  g_test_add_func ("/craft/ranking/a-crossed-limit-fails-the-cell", test_a_crossed_limit_fails_the_cell);
  g_test_add_func ("/craft/ranking/danger-near-the-end-is-seen", test_danger_near_the_end);
  g_test_add_func ("/craft/ranking/a-dead-heat-is-called-one", test_dead_heat);
  g_test_add_func ("/craft/ranking/a-figure-that-one-lacks-is-borrowed", test_a_figure_that_one_lacks_is_borrowed);
  g_test_add_func ("/craft/ranking/too-little-data-is-said", test_too_little);
  g_test_add_func ("/craft/ranking/no-score-where-nothing-asked-was-read", test_nothing_asked_was_read);
  g_test_add_func ("/craft/ranking/rejected-beside-unburnt-is-not-all", test_rejected_beside_unburnt);
  g_test_add_func ("/craft/ranking/an-interval-holds-its-value", test_an_interval_holds_its_value);
  g_test_add_func ("/craft/ranking/a-plan-has-no-answer-yet", test_planned_only);
  g_test_add_func ("/craft/ranking/no-cells-no-groups", test_no_cells);
  g_test_add_func ("/craft/ranking/any-log-gives-chances-that-add-up", test_any_log);
  g_test_add_func ("/craft/ranking/it-can-be-stopped", test_it_can_be_stopped);
  return g_test_run ();
}
