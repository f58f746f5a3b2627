/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"
#include "wb-craft-decision.h"
#include "wb-craft-told.h"

/*
 * What a practised maker would answer, asked whole: invented logs, of which the right answer is
 * plain to anybody who burns candles, through figures, limits, estimates, draws, score and words.
 */

static void
show (const WbCraftAnswer *answer)
{
  const WbCraftGroup *group = &answer->ranking->groups[0];
  g_autofree char *words = wb_craft_group_dup_answer (answer->data, group);
  g_autofree char *sure = wb_craft_group_dup_sureness (answer->data, group);

  g_test_message ("%s", words);
  g_test_message ("%s", sure);
  g_test_message ("p_none %.3f", group->p_none);
  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];

      g_test_message ("S-%u %s score %.3f (%.3f to %.3f) best %.3f near %.3f cross %.3f", ranked->cell + 1, wb_craft_verdict_get_key (ranked->verdict),
                      ranked->score.value, ranked->score.low, ranked->score.high, ranked->p_best, ranked->p_near, ranked->p_cross);
      for (guint k = 0; k < ranked->reasons->len; k++)
        g_test_message ("    %s", ((WbCraftReason *) g_ptr_array_index (ranked->reasons, k))->text);
    }
}

static WbCraftAnswer *
ask (WbDataset *data)
{
  WbCraftAnswer *answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);

  show (answer);
  test_craft_check_chances (answer->ranking);
  return answer;
}

static void
check_verdict (const WbCraftAnswer *answer,
               guint                cell,
               WbCraftVerdict       verdict)
{
  g_assert_cmpstr (wb_craft_verdict_get_key (test_craft_find_ranked (answer, cell)->verdict), ==, wb_craft_verdict_get_key (verdict));
}

/* Is it in the answer, or in how sure it is? */
static gboolean
says (const WbCraftAnswer *answer,
      const char          *what)
{
  g_autofree char *words = wb_craft_group_dup_answer (answer->data, &answer->ranking->groups[0]);
  g_autofree char *sure = wb_craft_group_dup_sureness (answer->data, &answer->ranking->groups[0]);

  return strstr (words, what) != NULL || strstr (sure, what) != NULL;
}

/* Too small, right, too large, each burnt down three times: take the middle one. */
static void
test_obvious_best (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (GPtrArray) weights = NULL;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 0.6);
  answer = ask (data);
  check_verdict (answer, 0, WB_CRAFT_VERDICT_REJECTED);
  check_verdict (answer, 1, WB_CRAFT_VERDICT_RECOMMENDED);
  check_verdict (answer, 2, WB_CRAFT_VERDICT_REJECTED);
  g_assert_cmpuint (answer->ranking->groups[0].cells[0].cell, ==, 1);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 1)->p_best, >, 0.95);
  g_assert_true (says (answer, "S-2 would do best on average: more than 99 in 100; within 0.05 of the best: more than 99 in 100. S-2 is recommended."));
  g_assert_true (says (answer, "This rests on 3 samples and "));
  g_assert_true (says (answer, "Not to be used, because a limit was crossed: S-3 (flame height, outside wall of the vessel; 2 of 3 samples)."));
  g_assert_true (test_craft_has_reason (test_craft_find_ranked (answer, 0), "far_behind"));
  g_assert_true (test_craft_has_reason (test_craft_find_ranked (answer, 0), "costs_most"));
  /* what crossed a limit is told from what only does worse */
  g_assert_cmpstr (wb_craft_ranked_get_verdict_label (test_craft_find_ranked (answer, 0)), ==, "not the best");
  g_assert_cmpstr (wb_craft_ranked_get_verdict_label (test_craft_find_ranked (answer, 1)), ==, "recommended");
  g_assert_cmpstr (wb_craft_ranked_get_verdict_label (test_craft_find_ranked (answer, 2)), ==, "crossed a limit");
  weights = wb_craft_group_dup_weights (data, &answer->ranking->groups[0]);
  g_assert_cmpuint (weights->len, >, 0);
  g_assert_cmpstr (g_ptr_array_index (weights, 0), ==, "No single weight, halved or doubled, changes the winner.");
}

/* A candidate that does poorly says so; each verdict that the ranking has is explained once, in its order. */
static void
test_meanings (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (GPtrArray) meanings = NULL, poor = NULL;
  WbCraftRanked *first;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 0.6);
  answer = ask (data);
  first = &answer->ranking->groups[0].cells[0];
  meanings = wb_craft_ranking_dup_meanings (answer->ranking);
  g_assert_cmpuint (meanings->len, ==, 3);
  g_assert_true (g_str_has_prefix (g_ptr_array_index (meanings, 0), "recommended: "));
  g_assert_true (g_str_has_prefix (g_ptr_array_index (meanings, 1), "crossed a limit: "));
  g_assert_true (g_str_has_prefix (g_ptr_array_index (meanings, 2), "not the best: "));
  first->verdict = WB_CRAFT_VERDICT_CANDIDATE;
  g_assert_cmpstr (wb_craft_ranked_get_verdict_label (first), ==, "candidate");
  first->score.value = 0.4996;
  g_assert_cmpstr (wb_craft_ranked_get_verdict_label (first), ==, "candidate");
  first->score.value = 0.05;
  g_assert_cmpstr (wb_craft_ranked_get_verdict_label (first), ==, "candidate, poor so far");
  first->score.value = NAN;
  g_assert_cmpstr (wb_craft_ranked_get_verdict_label (first), ==, "candidate");
  first->score.value = 0.05;
  poor = wb_craft_ranking_dup_meanings (answer->ranking);
  g_assert_cmpstr (g_ptr_array_index (poor, 0), ==, "candidate, poor so far: the burns so far cannot rule it out yet, but it does poorly");
}

/* How good the best is stands beside who it is: the best of a poor field is not called good by its rank. */
static void
test_poor_field (void)
{
  static const struct { double score; const char *level; gboolean poor; } cases[] = {
    { 0.26, "the best of a poor field, none does well: 0.26 of 1", TRUE },
    { 0.4949, "the best of a poor field, none does well: 0.49 of 1", TRUE },
    { 0.4996, "does fairly well: 0.50 of 1", FALSE }, /* as it is printed */
    { WB_CRAFT_SCORE_POOR, "does fairly well: 0.50 of 1", FALSE },
    { 0.7449, "does fairly well: 0.74 of 1", FALSE },
    { 0.7496, "does well: 0.75 of 1", FALSE },
    { WB_CRAFT_SCORE_WELL, "does well: 0.75 of 1", FALSE },
  };
  const double strength[] = { 3.4, 4.4 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  WbCraftGroup *group;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 0.6);
  answer = ask (data);
  group = &answer->ranking->groups[0];
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *level = NULL, *brief = NULL, *sure = NULL, *words = NULL, *verdict = NULL;
      g_autoptr (WbCraftDecision) proposal = NULL;
      g_autoptr (WbRecord) stored = wb_record_new (&wb_decision_type);
      WbDecision *record = (WbDecision *) stored;

      group->cells[0].score.value = cases[i].score;
      level = wb_craft_group_dup_level (group);
      verdict = wb_craft_group_dup_brief_verdict (data, group);
      g_assert_cmpstr (verdict, ==, cases[i].poor ? "test other wicks" : "recommended");
      brief = wb_craft_group_dup_brief (data, group);
      sure = wb_craft_group_dup_brief_sureness (data, group);
      g_assert_cmpstr (level, ==, cases[i].level);
      g_assert_cmpstr (brief, ==, "S-2");
      g_assert_true (g_str_has_prefix (sure, "the best of those burnt: more than 99 in 100; on 3 samples and "));
      g_assert_cmpint (says (answer, "The field is poor: none of those burnt does well, and the best scores 0."), ==, cases[i].poor);
      /* and nobody is told to take it: neither by its verdict, nor by the sentences, nor where it is signed */
      g_assert_cmpstr (wb_craft_ranked_get_verdict_label (&group->cells[0]), ==, cases[i].poor ? "best of a poor field" : "recommended");
      g_assert_cmpint (says (answer, "S-2 is recommended."), ==, !cases[i].poor);
      g_assert_cmpint (says (answer, "Test other wicks: S-2 is only the best of those burnt."), ==, cases[i].poor);
      proposal = wb_craft_decision_new (answer, 0, 0, NULL);
      g_assert_cmpint (proposal->needs_reason, ==, cases[i].poor);
      g_assert_cmpint (proposal->against->len > 0, ==, cases[i].poor);
      wb_craft_decision_fill (proposal, answer, record);
      words = wb_craft_decision_dup_signed (record);
      g_assert_cmpint (g_str_has_prefix (words, "recommended; "), ==, !cases[i].poor);
      g_assert_cmpint (g_str_has_prefix (words, "best of a poor field; "), ==, cases[i].poor);
      g_assert_cmpint (says (answer, "A wick that was not tried may do better."), ==, cases[i].poor);
    }
  group->cells[0].score.value = 0.01;
  {
    g_autofree char *level = wb_craft_group_dup_level (group);
    g_autofree char *brief = wb_craft_group_dup_brief (data, group);
    g_autofree char *whole = wb_craft_group_dup_answer (data, group);

    g_assert_cmpstr (level, ==, "");
    g_assert_cmpstr (brief, ==, whole);
  }
}

/* Fine for two thirds, too hot in the last: the one that stays cool there, however it scores besides. */
static void
test_danger_near_the_end (void)
{
  const double strength[] = { 3.7, 5.0 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const WbCraftRanked *hot;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 1.2);
  answer = ask (data);
  hot = test_craft_find_ranked (answer, 1);
  check_verdict (answer, 0, WB_CRAFT_VERDICT_RECOMMENDED);
  check_verdict (answer, 1, WB_CRAFT_VERDICT_REJECTED);
  g_assert_cmpfloat (hot->p_best, ==, 0);
  g_assert_cmpfloat (hot->p_cross, >, 0.2);
  for (guint i = 0; i < answer->figures->n_burns; i++)
    if (answer->figures->burns[i].cell == 1 && answer->figures->burns[i].stage == WB_STAGE_UPPER)
      g_assert_cmpfloat (answer->figures->burns[i].vessel_max_c, <, 60); /* nothing to be seen of it at the top */
  g_assert_true (test_craft_has_reason (hot, "limit_crossed"));
  g_assert_true (says (answer, "S-1 is the only one of those burnt that crossed no limit. S-1 is recommended."));
  g_assert_true (says (answer, "Not to be used, because a limit was crossed: S-2 (outside wall of the vessel; 1 of 3 samples)."));
}

/* To set aside the sample that became too hot clears nothing: whoever reads the answer alone is told. */
static void
test_set_aside_does_not_clear (void)
{
  const double strength[] = { 3.4, 4.4 };

  for (guint aside = 0; aside < 2; aside++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      const WbCraftRanked *hot;
      guint row;

      test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 4, 0, 0.6);
      row = wb_readings_get_length (data->readings) - 1;
      if (aside == 1)
        wb_readings_set (data->readings, row, WB_COLUMN_VESSEL_C, 84);
      ((WbSample *) g_ptr_array_index (data->samples, data->samples->len - 1))->set_aside_cause = WB_CAUSE_OTHER;
      answer = ask (data);
      hot = test_craft_find_ranked (answer, 1);
      check_verdict (answer, 1, aside == 1 ? WB_CRAFT_VERDICT_CANDIDATE : WB_CRAFT_VERDICT_RECOMMENDED);
      g_assert_cmpint (test_craft_has_reason (hot, "set_aside_crossed"), ==, aside == 1);
      g_assert_cmpint (test_craft_has_reason (hot, "set_aside_not_cleared"), ==, aside == 1);
      g_assert_cmpint (test_craft_has_reason (hot, "burnt_down"), ==, aside == 0);
      g_assert_cmpint (says (answer, "S-2 is recommended."), ==, aside == 0);
      g_assert_cmpint (says (answer, "It is not recommended yet."), ==, aside == 1);
      g_assert_cmpint (says (answer, "Setting a sample aside clears no limit that it crossed: S-2 (outside wall of the vessel 84.0\302\240°C, sample "), ==, aside == 1);
    }
}

/* The only one left after a crossing did not stay under its limits if a sample that was set aside did not. */
static void
test_the_only_one_left_was_set_aside (void)
{
  const double strength[] = { 4.0, 5.0 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  guint row = 0;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 4, 0, 1.2);
  while (g_array_index (data->burn_sample, guint, wb_readings_get_burn (data->readings, row + 1)) == 0)
    row++;
  wb_readings_set (data->readings, row, WB_COLUMN_VESSEL_C, 84);
  ((WbSample *) g_ptr_array_index (data->samples, 0))->set_aside_cause = WB_CAUSE_OTHER;
  answer = ask (data);
  check_verdict (answer, 0, WB_CRAFT_VERDICT_CANDIDATE);
  check_verdict (answer, 1, WB_CRAFT_VERDICT_REJECTED);
  g_assert_false (says (answer, "crossed no limit"));
  g_assert_true (says (answer, "S-1 is the only one of those burnt that no sample that counts speaks against by crossing a limit. It is not recommended yet."));
}

/* A house limit is not called a safety limit, and every limit that was crossed is named. */
static void
test_what_was_crossed (void)
{
  const struct { double flame, vessel; const char *said; } cases[] = {
    { 60, NAN, "Not to be used, because a limit was crossed: S-2 (flame height; 1 of 3 samples)." },
    { 60, 84, "Not to be used, because a limit was crossed: S-2 (flame height, outside wall of the vessel; 1 of 3 samples)." },
    { 80, 84, "Not to be used, because a safety limit was crossed: S-2 (flame height, outside wall of the vessel; 1 of 3 samples)." },
  };
  const double strength[] = { 3.4, 4.4 };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      guint row;

      test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 0.6);
      row = wb_readings_get_length (data->readings) - 1;
      wb_readings_set (data->readings, row, WB_COLUMN_FLAME_MM, cases[i].flame);
      if (!isnan (cases[i].vessel))
        wb_readings_set (data->readings, row, WB_COLUMN_VESSEL_C, cases[i].vessel);
      answer = ask (data);
      g_test_message ("%s", cases[i].said);
      g_assert_true (says (answer, cases[i].said));
    }
}

/* None is any good, however many candles were burnt: nobody is made a winner of them. */
static void
test_hopeless (void)
{
  const double cold[] = { 2.2, 2.5, 2.8 }, hot[] = { 8, 9, 10 };

  for (guint i = 0; i < 2; i++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autoptr (GPtrArray) weights = NULL;

      test_craft_add_wicks (data, i == 0 ? cold : hot, 3, 3, 0, 0.6);
      answer = ask (data);
      g_assert_cmpfloat (answer->ranking->groups[0].p_none, >, 0.9);
      for (guint cell = 0; cell < 3; cell++)
        {
          check_verdict (answer, cell, WB_CRAFT_VERDICT_REJECTED);
          g_assert_true (test_craft_has_reason (test_craft_find_ranked (answer, cell), i == 0 ? "scores_nothing" : "limit_crossed"));
        }
      g_assert_true (says (answer, i == 0 ? "None of those burnt would do: even " : "None of these may be used: each crossed a safety limit."));
      g_assert_cmpint (says (answer, "No melt pool gets to the wall."), ==, i == 0);
      g_assert_false (says (answer, "would do best"));
      g_assert_false (says (answer, "is recommended"));
      weights = wb_craft_group_dup_weights (data, &answer->ranking->groups[0]);
      g_assert_cmpuint (weights->len, ==, 0);
    }
}

/* The same wick under two names: no winner, and what they differ in. */
static void
test_dead_heat (void)
{
  const double strength[] = { 3.4, 4.4, 4.4 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 0.6);
  answer = ask (data);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 1)->p_near, >=, 0.5);
  g_assert_cmpfloat (test_craft_find_ranked (answer, 2)->p_near, >=, 0.5);
  check_verdict (answer, 0, WB_CRAFT_VERDICT_REJECTED);
  for (guint cell = 1; cell < 3; cell++)
    g_assert_cmpint (test_craft_find_ranked (answer, cell)->verdict, <=, WB_CRAFT_VERDICT_CANDIDATE);
  /* whichever comes first: how far apart one log of the same wick happens to score is luck */
  g_assert_true (says (answer, "S-2 and S-3 cannot be told apart by these burns; within") || says (answer, "S-3 and S-2 cannot be told apart by these burns; within")
                 || says (answer, "S-2 and S-3 are as good as each other by these burns; within")
                 || says (answer, "S-3 and S-2 are as good as each other by these burns; within"));
  g_assert_true (says (answer, "This rests on 6 samples and "));
  g_assert_true (says (answer, " What tells them apart most is: "));
  g_assert_false (says (answer, "would do best"));
}

/* One sample was read by somebody who held the ruler wrong: no wick is recommended upon it, and the sample is named. */
static void
test_bad_tester (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };
  const WbColumn columns[] = { WB_COLUMN_POOL_A_MM, WB_COLUMN_POOL_B_MM, WB_COLUMN_DEPTH_MM };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 0.6);
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
      if (g_array_index (data->burn_sample, guint, wb_readings_get_burn (data->readings, row)) == 4)
        wb_readings_set (data->readings, row, columns[i], 0.6 * wb_readings_get (data->readings, row, columns[i]));
  answer = ask (data);
  g_assert_cmpuint (answer->ranking->groups[0].cells[0].cell, ==, 1);
  check_verdict (answer, 1, WB_CRAFT_VERDICT_CANDIDATE);
  check_verdict (answer, 2, WB_CRAFT_VERDICT_REJECTED);
  g_assert_cmpuint (test_craft_count_sentences (test_craft_find_ranked (answer, 1), "Sample C2-2 reads unlike its fellows, burn by burn: "), ==, 1);
  for (guint cell = 0; cell < 3; cell++)
    g_assert_cmpint (test_craft_has_reason (test_craft_find_ranked (answer, cell), "sample_unlike"), ==, cell == 1);
  g_assert_true (says (answer, "It is not recommended yet."));
  g_assert_true (says (answer, "Sample C2-2 reads unlike its fellows"));
}

/* The better of two, but for one reading of one candle: out, and its good score is explained. */
static void
test_rejected_by_one_reading (void)
{
  const double strength[] = { 3.8, 4.5 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const WbCraftRanked *out;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 0.6);
  wb_readings_set (data->readings, wb_readings_get_length (data->readings) - 1, WB_COLUMN_VESSEL_C, 78);
  answer = ask (data);
  out = test_craft_find_ranked (answer, 1);
  check_verdict (answer, 0, WB_CRAFT_VERDICT_RECOMMENDED);
  check_verdict (answer, 1, WB_CRAFT_VERDICT_REJECTED);
  g_assert_cmpfloat (out->score.value, >, test_craft_find_ranked (answer, 0)->score.value);
  g_assert_cmpuint (out->rank, ==, 2);
  g_assert_cmpfloat (out->p_best, ==, 0);
  g_assert_cmpuint (test_craft_count_sentences (out, "A limit was crossed: outside wall of the vessel"), ==, 1);
  g_assert_cmpuint (test_craft_count_sentences (out, "Its score is what the rest of its readings are worth; a limit was crossed, so it is out."), ==, 1);
  g_assert_true (says (answer, "S-1 is the only one of those burnt that crossed no limit."));
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/answers/set-aside-does-not-clear", test_set_aside_does_not_clear);
  g_test_add_func ("/craft/answers/the-only-one-left-was-set-aside", test_the_only_one_left_was_set_aside);
  g_test_add_func ("/craft/answers/what-was-crossed", test_what_was_crossed);
  g_test_add_func ("/craft/answers/an-obvious-best", test_obvious_best);
  g_test_add_func ("/craft/answers/each-verdict-is-explained", test_meanings);
  g_test_add_func ("/craft/answers/the-best-of-a-poor-field-is-called-so", test_poor_field);
  g_test_add_func ("/craft/answers/danger-near-the-end", test_danger_near_the_end);
  g_test_add_func ("/craft/answers/hopeless-data", test_hopeless);
  g_test_add_func ("/craft/answers/a-dead-heat", test_dead_heat);
  g_test_add_func ("/craft/answers/a-bad-tester", test_bad_tester);
  g_test_add_func ("/craft/answers/rejected-by-one-reading", test_rejected_by_one_reading);
  return g_test_run ();
}
