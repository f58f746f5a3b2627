/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"
#include "wb-craft-verdict-private.h"

#define INNER 76.2

static void
test_burnt_down_is_recommended (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const double strength[] = { 3.4, 4.4, 6.6 };
  const WbCraftRanked *right;
  g_autofree char *words = NULL;

  test_craft_add_wicks (data, strength, 3, 3, 0, 0.6);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  test_craft_check_chances (answer->ranking);
  right = &answer->ranking->groups[0].cells[0];
  for (guint i = 0; i < right->reasons->len; i++)
    g_test_message ("%s", ((WbCraftReason *) g_ptr_array_index (right->reasons, i))->text);
  g_assert_cmpuint (right->cell, ==, 1);
  g_assert_cmpstr (wb_craft_verdict_get_key (right->verdict), ==, "recommended");
  g_assert_cmpfloat (right->p_near, >=, 0.9);
  g_assert_cmpfloat (right->p_cross, <=, 0.05);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  g_assert_nonnull (strstr (words, "S-2 is recommended"));
  g_assert_cmpint (test_craft_find_ranked (answer, 0)->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
}

/* The wick that leads, one of whose flames drowned in mid-life, is told as that and not recommended; at the end of its life it went out as it should. */
static void
test_went_out (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };

  for (guint end = 0; end < 2; end++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autofree char *sureness = NULL;
      const WbCraftRanked *right;
      guint burn = 0, first, n;

      test_craft_add_wicks (data, strength, 3, 3, 0, 0.6);
      while (g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, burn)) != 1)
        burn++;
      if (end == 1)
        while (burn + 1 < data->burns->len
               && g_array_index (data->burn_sample, guint, burn + 1) == g_array_index (data->burn_sample, guint, burn))
          burn++;
      wb_readings_get_burn_rows (data->readings, burn, &first, &n);
      test_craft_set (data, first + n - 1 - (end == 0), WB_COLUMN_EVENT, WB_EVENT_SELF_EXTINGUISHED);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      right = test_craft_find_ranked (answer, 1);
      sureness = wb_craft_group_dup_sureness (data, &answer->ranking->groups[0]);
      g_test_message ("%s", sureness);
      g_assert_cmpint (right->verdict, ==, end == 0 ? WB_CRAFT_VERDICT_CANDIDATE : WB_CRAFT_VERDICT_RECOMMENDED);
      g_assert_cmpint (test_craft_has_reason (right, "went_out"), ==, end == 0);
      g_assert_cmpuint (test_craft_count_sentences (right, "Went out by itself before the protocol's length: C2-1 (burn 1, at "), ==, end == 0);
      g_assert_cmpint (strstr (sureness, "Went out by itself before the protocol's length: S-2 (sample ") != NULL, ==, end == 0);
      g_assert_cmpint (test_craft_find_ranked (answer, 0)->rank, >, right->rank);
      g_assert_false (test_craft_has_reason (test_craft_find_ranked (answer, 0), "went_out"));
    }
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
      g_autofree char *sureness = NULL;
      const WbCraftRanked *right;
      guint alight, done;

      test_craft_add_wicks (data, strength, 2, i == 0 ? 2 : 3, 0, 0.6);
      done = data->burns->len;
      alight = test_craft_add_burn (data, data->samples->len - 1);
      ((WbBurn *) wb_dataset_get_burn (data, alight))->session = 1;
      test_craft_read (data, alight, 60, WB_COLUMN_FLAME_MM, 20);
      if (i == 1)
        for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
          wb_readings_set (data->readings, row, WB_COLUMN_VESSEL_C, NAN);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      right = test_craft_find_ranked (answer, 1);
      g_assert_cmpint (right->verdict, ==, WB_CRAFT_VERDICT_CANDIDATE);
      g_assert_true (test_craft_has_reason (right, i == 0 ? "few_samples" : "limit_not_tested"));
      /* two poured are never three, however they burn; and what is alight is no burn yet */
      g_assert_cmpint (test_craft_has_reason (right, "few_poured"), ==, i == 0);
      g_assert_cmpuint (right->alight, ==, 1);
      g_assert_cmpuint (right->burns + test_craft_find_ranked (answer, 0)->burns, ==, done);
      sureness = wb_craft_group_dup_sureness (data, &answer->ranking->groups[0]);
      g_test_message ("%s", sureness);
      g_assert_nonnull (strstr (sureness, " 1 burn is still alight and not counted."));
      g_assert_cmpint (strstr (sureness, "2 samples were poured and count, and a recommendation asks for 3") != NULL, ==, i == 0);
      g_assert_cmpint (right->cross_part, ==, i == 1);
      g_assert_false (right->crossed);
      /* unscented: no throw is missed */
      g_assert_cmpint (test_craft_has_reason (right, "figure_not_read"), ==, i == 1);
    }
}

/* A limit that was crossed stands before any chance, however small the draws find it; and a chance says what it covers. */
static void
test_crossed_comes_first (void)
{
  static const struct { gboolean crossed, part; const char *chance, *told; gboolean cracked; } cases[] = {
    { FALSE, FALSE, "1 %", "1 %" }, { FALSE, TRUE, "1 %", "1 % (of what was read)" }, { TRUE, FALSE, "1 %", "crossed; 1 %" },
    { TRUE, TRUE, "1 %", "crossed; 1 % (of what was read)" }, { TRUE, TRUE, NULL, "crossed" }, { FALSE, TRUE, NULL, NULL },
    { FALSE, FALSE, "1 %", "vessel cracked; 1 %", TRUE }, { FALSE, TRUE, NULL, "vessel cracked", TRUE }, { TRUE, FALSE, "1 %", "crossed; 1 %", TRUE },
  };
  const double strength[] = { 3.4, 4.4 };
  g_autoptr (WbCraftAnswer) answer = NULL;
  WbDataset *data = test_craft_data_new ();
  guint over;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbCraftRanked ranked = { .crossed = cases[i].crossed, .cracked = cases[i].cracked, .cross_part = cases[i].part };
      g_autofree char *told = wb_craft_ranked_dup_crossing (&ranked, cases[i].chance);

      g_assert_cmpstr (told, ==, cases[i].told);
    }
  test_craft_add_wicks (data, strength, 2, 3, 0, 0.6);
  over = test_craft_add_burn (data, data->samples->len - 1);
  test_craft_read (data, over, 60, WB_COLUMN_FLAME_MM, 90);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_assert_true (test_craft_find_ranked (answer, 1)->crossed);
  g_assert_false (test_craft_find_ranked (answer, 0)->crossed);
}

/* No tare, no fill, no height: with the end of life and the masses on the record a candle still tells its thirds. */
static void
test_without_a_fill (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };

  for (guint noted = 0; noted < 2; noted++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      const WbCraftRanked *right;

      test_craft_add_wicks (data, strength, 3, 3, 0, 0.6);
      for (guint i = 0; i < data->samples->len; i++)
        {
          WbSample *sample = g_ptr_array_index (data->samples, i);

          sample->tare_g = sample->fill_g = sample->wax_height_mm = NAN;
        }
      for (guint burn = 0; burn < data->burns->len && noted; burn++)
        if (burn + 1 == data->burns->len
            || g_array_index (data->burn_sample, guint, burn + 1) != g_array_index (data->burn_sample, guint, burn))
          {
            guint first, n;

            wb_readings_get_burn_rows (data->readings, burn, &first, &n);
            test_craft_set (data, first + n - 1, WB_COLUMN_EVENT, WB_EVENT_END_OF_LIFE);
          }
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      right = test_craft_find_ranked (answer, 1);
      g_assert_cmpint (right->verdict, ==, noted ? WB_CRAFT_VERDICT_RECOMMENDED : WB_CRAFT_VERDICT_CANDIDATE);
      g_assert_cmpuint (test_craft_count_sentences (right, noted ? "Neither tare nor fill is stated for 3 of 3 samples: their thirds"
                                                                 : "Neither tare nor fill nor height of the wax is stated for 3 of 3 samples"),
                        ==, 1);
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
      test_craft_add_wicks (data, strength, 2, cases[i].samples, 0, 0.6);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      g_assert_cmpint (test_craft_find_ranked (answer, 1)->verdict, ==, cases[i].verdict);
      g_assert_cmpuint (test_craft_count_sentences (test_craft_find_ranked (answer, 1), cases[i].said), ==, 1);
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

  test_craft_add_wicks (data, strength, 2, 2, 3, 0.6);
  /* the better wick, once, for one reading: it is out, whatever the rest of its readings would be worth */
  wb_readings_set (data->readings, wb_readings_get_length (data->readings) - 1, WB_COLUMN_VESSEL_C, 78);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  failed = test_craft_find_ranked (answer, 1);
  group = test_craft_find_group (answer, 1);
  g_assert_cmpint (failed->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
  g_assert_true (test_craft_has_reason (failed, "limit_crossed"));
  g_assert_cmpfloat (failed->p_best, ==, 0);
  g_assert_cmpfloat (failed->p_near, ==, 0);
  g_assert_cmpuint (failed->rank, ==, 2);
  g_assert_cmpuint (group->cells[0].cell, ==, 0);
  test_craft_check_chances (answer->ranking);
}

/* Right at the top, too hot at the bottom: the last third decides. */
static void
test_danger_near_the_end (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const double strength[] = { 4.0, 4.8 };
  const WbCraftRanked *hot;

  test_craft_add_wicks (data, strength, 2, 3, 0, 1.9);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  hot = test_craft_find_ranked (answer, 1);
  /* whoever reads only the answer is told what is not to be used */
  {
    g_autofree char *sure = wb_craft_group_dup_sureness (answer->data, &answer->ranking->groups[0]);

    g_test_message ("%s", sure);
    g_assert_nonnull (strstr (sure, "Not to be used, because a limit was crossed: "));
  }
  g_assert_cmpint (hot->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
  g_assert_true (test_craft_has_reason (hot, "limit_crossed"));
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
    g_assert_cmpint (test_craft_find_ranked (answer, cells[i])->verdict, ==, WB_CRAFT_VERDICT_TOO_LITTLE_DATA);
  g_assert_true (test_craft_has_reason (test_craft_find_ranked (answer, cells[0]), "few_burns"));
  g_assert_true (test_craft_has_reason (test_craft_find_ranked (answer, cells[1]), "no_full_pool"));
  g_assert_true (test_craft_has_reason (test_craft_find_ranked (answer, cells[2]), "no_burns"));
  g_assert_true (isnan (test_craft_find_ranked (answer, cells[2])->score.value));
  g_assert_cmpuint (test_craft_find_ranked (answer, cells[2])->rank, ==, 3);
  test_craft_check_chances (answer->ranking);
  words = wb_craft_group_dup_answer (data, &answer->ranking->groups[0]);
  /* one burn: how little it rests on comes first, and no chance is told beside it */
  g_assert_true (g_str_has_prefix (words, "There is too little data to answer: on 1 sample and "));
  g_assert_null (strstr (words, "chance"));
  g_assert_null (strstr (words, "best"));
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
  test_craft_check_chances (answer->ranking);
  g_assert_true (isnan (test_craft_find_ranked (answer, 0)->score.value));
  g_assert_true (isnan (answer->ranking->groups[0].p_none));
  g_assert_cmpint (test_craft_find_ranked (answer, 0)->verdict, ==, WB_CRAFT_VERDICT_TOO_LITTLE_DATA);
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
  g_assert_cmpstr (words, ==, "None of those burnt so far may be used: each crossed a limit.");
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

/* The verdict that the rules give where nothing but the chances stands against a cell that was burnt to its end. */
static WbCraftVerdict
judge_chances (const WbCraftAnswer *answer,
               guint                cell,
               double               p_near,
               double               p_cross,
               double               expected_loss)
{
  WbCraftRanked ranked = *test_craft_find_ranked (answer, cell);
  WbCraftVerdict verdict;

  ranked.p_near = p_near;
  ranked.p_cross = p_cross;
  ranked.expected_loss = expected_loss;
  ranked.reasons = g_ptr_array_new ();
  wb_craft_verdict_judge (answer->data, answer->figures, answer->limits, answer->estimates, &ranked);
  verdict = ranked.verdict;
  for (guint i = 0; i < ranked.reasons->len; i++)
    {
      WbCraftReason *reason = g_ptr_array_index (ranked.reasons, i);

      g_free (reason->code);
      g_free (reason->text);
      g_free (reason->subject);
      g_free (reason->place);
      g_free (reason);
    }
  g_ptr_array_unref (ranked.reasons);
  return verdict;
}

/* Recommended: near the best at least 0.9, crossing at most 5 %. Rejected by distance: near it below 2 in 100 and 0.1 behind on average. */
static void
test_bounds_of_the_rules (void)
{
  const double strength[] = { 3.4, 4.4 };
  const struct { double p_near, p_cross, loss; WbCraftVerdict verdict; } cases[] = {
    { 1, 0, 0, WB_CRAFT_VERDICT_RECOMMENDED },
    { 0.9, 0.05, 0.01, WB_CRAFT_VERDICT_RECOMMENDED },
    { 0.8999, 0, 0.01, WB_CRAFT_VERDICT_CANDIDATE },
    { 1, 0.0501, 0, WB_CRAFT_VERDICT_CANDIDATE },
    { 0.0199, 0, 0.1001, WB_CRAFT_VERDICT_REJECTED },
    { 0.0199, 0, 0.1, WB_CRAFT_VERDICT_CANDIDATE },
    { 0.02, 0, 0.5, WB_CRAFT_VERDICT_CANDIDATE },
    { NAN, NAN, NAN, WB_CRAFT_VERDICT_CANDIDATE },
  };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;

  test_craft_add_wicks (data, strength, 2, 3, 0, 0.6);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%g %g %g", cases[i].p_near, cases[i].p_cross, cases[i].loss);
      g_assert_cmpint (judge_chances (answer, 1, cases[i].p_near, cases[i].p_cross, cases[i].loss), ==, cases[i].verdict);
    }
}

/* Forgets how much wax `n` samples of a cell held, and that any of them was burnt to its end. */
static void
forget_fills (WbDataset *data,
              guint      cell,
              guint      n)
{
  for (guint i = 0; i < data->vessels->len; i++)
    ((WbVessel *) data->vessels->pdata[i])->wax_height_mm = NAN;
  for (guint i = 0; i < data->samples->len && n > 0; i++)
    {
      WbSample *sample = data->samples->pdata[i];

      if (g_array_index (data->sample_cell, guint, i) != cell)
        continue;
      n--;
      sample->tare_g = sample->fill_g = sample->wax_height_mm = NAN;
      for (guint b = 0; b < data->burns->len; b++)
        {
          guint first, rows;

          if (g_array_index (data->burn_sample, guint, b) != i)
            continue;
          wb_readings_get_burn_rows (data->readings, b, &first, &rows);
          for (guint row = first; row < first + rows; row++)
            if (wb_readings_get (data->readings, row, WB_COLUMN_EVENT) == WB_EVENT_END_OF_LIFE)
              wb_readings_set (data->readings, row, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
        }
    }
}

/* "All counts as the upper third" is said where that is so of all samples, not of one of three. */
static void
test_all_is_all (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };

  for (guint lacking = 1; lacking <= 3; lacking += 2)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autofree char *sure = NULL;

      test_craft_add_wicks (data, strength, 3, 3, 0, 0.6);
      for (guint cell = lacking == 1 ? 1 : 0; cell < (lacking == 1 ? 2 : 3); cell++)
        forget_fills (data, cell, lacking);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      g_assert_true (test_craft_has_reason (&answer->ranking->groups[0].cells[0], "fill_not_known"));
      sure = wb_craft_group_dup_sureness (data, &answer->ranking->groups[0]);
      g_test_message ("%s", sure);
      g_assert_cmpint (strstr (sure, "all counts as the upper third") != NULL, ==, lacking == 3);
      g_assert_cmpint (strstr (sure, "All three thirds were read.") != NULL, ==, lacking == 1);
    }
}

/* What is recommended is so no more where one logger's file of one burn says that its wall was over the limit. */
static void
test_a_loggers_file_fails_the_cell (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };

  for (guint logged = 0; logged < 2; logged++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      const WbCraftRanked *right;
      guint burn = 0;

      test_craft_add_wicks (data, strength, 3, 3, 0, 0.6);
      while (wb_dataset_get_sample (data, g_array_index (data->burn_sample, guint, burn))->cell != wb_dataset_get_cell (data, 1)->record.id)
        burn++;
      test_craft_log (data, burn, logged ? 85 : 60, 130, NAN, NAN);
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      right = test_craft_find_ranked (answer, 1);
      g_assert_cmpint (right->verdict, ==, logged ? WB_CRAFT_VERDICT_REJECTED : WB_CRAFT_VERDICT_RECOMMENDED);
      g_assert_cmpint (test_craft_has_reason (right, "limit_crossed"), ==, logged);
      g_assert_cmpuint (test_craft_count_sentences (right, "A limit was crossed: "), ==, logged);
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/verdict/burnt-down-and-right-is-recommended", test_burnt_down_is_recommended);
  g_test_add_func ("/craft/verdict/a-flame-that-went-out-is-told-and-recommends-nothing", test_went_out);
  g_test_add_func ("/craft/verdict/what-is-missing-is-said", test_what_is_missing_is_said);
  g_test_add_func ("/craft/verdict/a-crossed-limit-comes-before-its-chance", test_crossed_comes_first);
  g_test_add_func ("/craft/verdict/a-life-tells-its-thirds-without-a-fill", test_without_a_fill);
  g_test_add_func ("/craft/verdict/three-samples-at-least", test_three_samples_at_least);
  g_test_add_func ("/craft/verdict/a-crossed-limit-fails-the-cell", test_a_crossed_limit_fails_the_cell);
  g_test_add_func ("/craft/verdict/danger-near-the-end-is-seen", test_danger_near_the_end);
  g_test_add_func ("/craft/verdict/too-little-data-is-said", test_too_little);
  g_test_add_func ("/craft/verdict/no-score-where-nothing-asked-was-read", test_nothing_asked_was_read);
  g_test_add_func ("/craft/verdict/rejected-beside-unburnt-is-not-all", test_rejected_beside_unburnt);
  g_test_add_func ("/craft/verdict/a-plan-has-no-answer-yet", test_planned_only);
  g_test_add_func ("/craft/verdict/the-bounds-of-the-rules", test_bounds_of_the_rules);
  g_test_add_func ("/craft/verdict/all-is-said-of-all", test_all_is_all);
  g_test_add_func ("/craft/verdict/a-loggers-file-over-a-limit-fails-the-cell", test_a_loggers_file_fails_the_cell);
  return g_test_run ();
}
