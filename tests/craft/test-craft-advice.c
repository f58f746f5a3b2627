/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"
#include "wb-craft-advice.h"

#define INNER 76.2

static WbCraftAdvice *
advise_with (const WbCraftAnswer *answer,
             const GPtrArray     *wicks,
             double               near_enough)
{
  return wb_craft_advice_new (answer->data, answer->figures, answer->limits, answer->estimates, answer->ranking, wicks, near_enough, NULL,
                              WB_INSTANT_NONE);
}

static WbCraftAdvice *
advise (const WbCraftAnswer *answer)
{
  return advise_with (answer, NULL, 0);
}

static WbCraftAnswer *
answer_of (WbDataset *data)
{
  return wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
}

static const WbCraftAdvised *
find (const WbCraftAdvice *advice,
      guint                cell)
{
  for (guint g = 0; g < advice->n_groups; g++)
    for (guint i = 0; i < advice->groups[g].n_cells; i++)
      if (advice->groups[g].cells[i].cell == cell)
        return &advice->groups[g].cells[i];
  g_assert_not_reached ();
}

static const WbCraftSign *
find_sign (const WbCraftAdvised *advised,
           WbCraftSignKind       kind)
{
  for (guint i = 0; i < advised->signs->len; i++)
    if (((const WbCraftSign *) g_ptr_array_index (advised->signs, i))->kind == kind)
      return g_ptr_array_index (advised->signs, i);
  return NULL;
}

static gboolean
says (const WbCraftAdvised *advised,
      const char           *words)
{
  for (guint i = 0; i < advised->reasons->len; i++)
    if (strstr (g_ptr_array_index (advised->reasons, i), words) != NULL)
      return TRUE;
  return FALSE;
}

static void
show (const WbCraftAdvised *advised)
{
  g_autofree char *size = wb_craft_advised_dup_size_words (advised);

  g_test_message ("%s, %s, share %.2f", wb_craft_running_get_key (advised->running), size, advised->share);
  for (guint i = 0; i < advised->reasons->len; i++)
    g_test_message ("  %s", (const char *) g_ptr_array_index (advised->reasons, i));
}

/* "S-1" and so on: two candles each with so many calm burns whose pools go towards `limit_mm`. */
static WbDataset *
calm_wicks (const double *limit_mm,
            guint         n,
            guint         burns,
            double        load_pct)
{
  WbDataset *data = test_craft_data_new ();

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, load_pct);

      for (guint k = 0; k < 2; k++)
        {
          g_autofree char *code = g_strdup_printf ("C%u-%u", i + 1, k + 1);
          guint sample = test_craft_add_sample (data, cell, code);

          for (guint b = 0; b < burns; b++)
            test_craft_calm_burn (data, sample, limit_mm[i], 1.2, INNER);
        }
    }
  return data;
}

static guint
cell_of_row (const WbDataset *data,
             guint            row)
{
  guint burn = wb_readings_get_burn (data->readings, row);

  return g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, burn));
}

/* Sets a column of every reading of a cell at its burns' last minute, or of all of them. */
static void
set_all (WbDataset *data,
         guint      cell,
         WbColumn   column,
         double     value,
         gboolean   only_last)
{
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    if (cell_of_row (data, row) == cell && (!only_last || wb_readings_get_elapsed_min (data->readings, row) == 240))
      test_craft_set (data, row, column, value);
}

/* ---- Which size ---- */

/* A candle that smells of little, with a pool as it should be, needs no larger wick. */
static void
test_weak_throw (void)
{
  const double limit[] = { 90, 96 };
  WbDataset *data = calm_wicks (limit, 2, 4, 6);
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;

  set_all (data, 0, WB_COLUMN_THROW, 1, TRUE);
  set_all (data, 0, WB_COLUMN_ALONE, 1, TRUE);
  set_all (data, 1, WB_COLUMN_THROW, 4, TRUE);
  set_all (data, 1, WB_COLUMN_ALONE, 1, TRUE);
  answer = answer_of (data);
  advice = advise (answer);
  show (find (advice, 0));
  g_assert_cmpint (find (advice, 0)->size, ==, WB_CRAFT_SIZE_CARRY_ON);
  g_assert_true (says (find (advice, 0), "as they should be: look at cure, fragrance, load and room, not for a larger wick"));
  g_assert_false (says (find (advice, 1), "throw"));
}

/* The first burn alone asks for nothing larger, the same in every burn does. */
static void
test_first_burn (void)
{
  const double limit[] = { 60, 60 };

  for (guint burns = 1; burns <= 4; burns += 3)
    {
      g_autoptr (WbCraftAnswer) answer = answer_of (calm_wicks (limit, 2, burns, 0));
      g_autoptr (WbCraftAdvice) advice = advise (answer);
      const WbCraftAdvised *advised = find (advice, 0);

      show (advised);
      g_assert_nonnull (find_sign (advised, WB_CRAFT_SIGN_HANG_UP));
      g_assert_cmpint (advised->size, ==, burns == 1 ? WB_CRAFT_SIZE_CARRY_ON : WB_CRAFT_SIZE_UP);
      g_assert_cmpint (says (advised, "The first burn alone is no reason for a larger wick: hang-up of "), ==, burns == 1);
      if (burns == 1)
        continue;
      /* thirds are not known there: the hang-up may be what cleans up, the pool speaks */
      g_assert_false (find_sign (advised, WB_CRAFT_SIGN_HANG_UP)->speaks);
      g_assert_true (find_sign (advised, WB_CRAFT_SIGN_NO_FULL_POOL)->speaks);
      g_assert_cmpstr (advised->next_name, ==, "S-2");
      g_assert_true (advised->next_tested);
    }
}

/* What drowns or goes out says so at once, and names the reading. */
static void
test_drowned_at_once (void)
{
  const double limit[] = { 90, 96 };

  for (guint out = 0; out < 2; out++)
    {
      WbDataset *data = calm_wicks (limit, 2, 1, 0);
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autoptr (WbCraftAdvice) advice = NULL;
      const WbCraftSign *sign;

      test_craft_set (data, 2, WB_COLUMN_EVENT, out == 0 ? WB_EVENT_DROWNED : WB_EVENT_SELF_EXTINGUISHED);
      answer = answer_of (data);
      advice = advise (answer);
      show (find (advice, 0));
      g_assert_cmpint (find (advice, 0)->size, ==, WB_CRAFT_SIZE_UP);
      sign = find_sign (find (advice, 0), out == 0 ? WB_CRAFT_SIGN_DROWNED : WB_CRAFT_SIGN_WENT_OUT);
      g_assert_nonnull (sign);
      g_assert_cmpint (sign->reading, ==, wb_readings_get_id (data->readings, 2));
      g_assert_cmpuint (sign->burn, ==, 0);
      g_assert_cmpuint (sign->sample, ==, 0);
      g_assert_cmpfloat (sign->elapsed_min, ==, 180);
      g_assert_cmpint (find (advice, 1)->size, ==, WB_CRAFT_SIZE_CARRY_ON);
    }
}

/* A carbon cap with a pool that does not get there: another series, not another size. */
static void
test_both_kinds (void)
{
  const double limit[] = { 60, 90 };
  WbDataset *data = calm_wicks (limit, 2, 4, 0);
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;

  set_all (data, 0, WB_COLUMN_MUSHROOM, 2, TRUE);
  set_all (data, 1, WB_COLUMN_MUSHROOM, 2, TRUE);
  answer = answer_of (data);
  advice = advise (answer);
  show (find (advice, 0));
  show (find (advice, 1));
  g_assert_cmpint (find (advice, 0)->size, ==, WB_CRAFT_SIZE_CHANGE_SERIES);
  g_assert_true (says (find (advice, 0), "Too small and too large at once"));
  /* a cap alone, without debris, may be the trim's */
  g_assert_cmpint (find (advice, 1)->size, ==, WB_CRAFT_SIZE_CARRY_ON);
  g_assert_false (find_sign (find (advice, 1), WB_CRAFT_SIGN_CARBON_CAP)->speaks);
}

/* Deep pool, hot glass, soot, tall flame, a cap that sheds, a pool that is full at once: one size down, each alone. */
static void
test_too_large (void)
{
  static const struct { WbColumn column; double value; WbCraftSignKind kind; } cases[] = {
    { WB_COLUMN_DEPTH_MM, 16, WB_CRAFT_SIGN_DEEP_POOL }, { WB_COLUMN_VESSEL_C, 66, WB_CRAFT_SIGN_HOT_VESSEL },
    { WB_COLUMN_SOOT, 2, WB_CRAFT_SIGN_SOOT }, { WB_COLUMN_FLAME_MM, 42, WB_CRAFT_SIGN_TALL_FLAME },
    { WB_COLUMN_MUSHROOM, 2, WB_CRAFT_SIGN_CARBON_CAP }, { WB_COLUMN_POOL_MM, INNER, WB_CRAFT_SIGN_EARLY_POOL },
  };
  const double limit[] = { 85, 90 };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbDataset *data = calm_wicks (limit, 2, 3, 0);
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autoptr (WbCraftAdvice) advice = NULL;
      const WbCraftSign *sign;

      set_all (data, 1, cases[i].column, cases[i].value, FALSE);
      if (cases[i].kind == WB_CRAFT_SIGN_CARBON_CAP)
        set_all (data, 1, WB_COLUMN_EVENT, WB_EVENT_DEBRIS, TRUE);
      answer = answer_of (data);
      advice = advise (answer);
      show (find (advice, 1));
      sign = find_sign (find (advice, 1), cases[i].kind);
      g_assert_nonnull (sign);
      g_assert_true (sign->speaks);
      g_assert_false (sign->up);
      g_assert_cmpint (sign->reading, !=, 0);
      g_assert_cmpint (find (advice, 1)->size, ==, WB_CRAFT_SIZE_DOWN);
      g_assert_cmpstr (find (advice, 1)->next_name, ==, "S-1");
      g_assert_cmpuint (find (advice, 0)->signs->len, ==, 0);
    }
}

/* What was seen once, and is not far off, may be a misreading. */
static void
test_once_is_faint (void)
{
  const double limit[] = { 85, 90 };
  WbDataset *data = calm_wicks (limit, 2, 4, 0);
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;

  test_craft_set (data, 3, WB_COLUMN_DEPTH_MM, 15);
  answer = answer_of (data);
  advice = advise (answer);
  g_assert_nonnull (find_sign (find (advice, 0), WB_CRAFT_SIGN_DEEP_POOL));
  g_assert_false (find_sign (find (advice, 0), WB_CRAFT_SIGN_DEEP_POOL)->speaks);
  g_assert_cmpint (find (advice, 0)->size, ==, WB_CRAFT_SIZE_CARRY_ON);
}

/* Too small a pool, but each step adds much to the flame: the next would come near the limit. */
static void
test_near_a_limit (void)
{
  const double limit[] = { 55, 60 };

  for (guint steep = 0; steep < 2; steep++)
    {
      WbDataset *data = calm_wicks (limit, 2, 4, 0);
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autoptr (WbCraftAdvice) advice = NULL;
      g_autoptr (GPtrArray) wicks = g_ptr_array_new ();
      WbWick *third = wb_record_new (&wb_wick_type);
      const WbCraftAdvised *advised;

      if (steep == 1)
        set_all (data, 1, WB_COLUMN_FLAME_MM, 37, FALSE);
      third->record.id = 9001;
      third->series = g_strdup ("Sedge");
      third->size = g_strdup ("S-3");
      third->step = 3;
      third->kind = wb_dataset_get_wick (data, 0)->kind;
      for (guint i = 0; i < data->wicks->len; i++)
        g_ptr_array_add (wicks, g_ptr_array_index (data->wicks, i));
      g_ptr_array_add (wicks, third);
      answer = answer_of (data);
      advice = advise_with (answer, wicks, 0);
      advised = find (advice, 1);
      show (advised);
      g_test_message ("chance that one size up crosses: %g", advised->p_hot);
      g_assert_cmpint (advised->size, ==, steep == 0 ? WB_CRAFT_SIZE_UP : WB_CRAFT_SIZE_CHANGE_SERIES);
      g_assert_cmpint (says (advised, "The next size up would come near a limit: about "), ==, steep == 1);
      if (steep == 0)
        {
          g_assert_cmpfloat (advised->p_hot, <=, 0.05);
          g_assert_cmpstr (advised->next_name, ==, "S-3");
          g_assert_false (advised->next_tested);
          /* every wick of it is too small: the one outside is named */
          g_assert_cmpint (advice->groups[0].all, ==, WB_CRAFT_SIZE_UP);
          g_assert_cmpint (advice->groups[0].outside, ==, 9001);
          g_assert_nonnull (strstr (advice->groups[0].answer, "All of them are too small (melt pool not full after "));
          g_assert_nonnull (strstr (advice->groups[0].answer, "): S-3, the next size up, belongs into the test."));
        }
      else
        {
          g_assert_cmpfloat (advised->p_hot, >, 0.05);
          g_assert_null (advised->next_name);
          g_assert_null (advice->groups[0].outside_name);
        }
      wb_record_free (third);
    }
}

/* A size outside of the test is not advised where all earlier tests foretell a limit; what they foretell never cools. */
static void
test_foretold_by_all (void)
{
  const double limit[] = { 55, 60 };
  const struct { double p_cross; gboolean up; } cases[] = { { NAN, TRUE }, { 0, TRUE }, { 0.09, TRUE }, { 0.15, FALSE }, { 1, FALSE } };
  g_autoptr (WbCraftAnswer) answer = answer_of (calm_wicks (limit, 2, 4, 0));
  g_autoptr (GPtrArray) wicks = g_ptr_array_new ();
  WbWick *third = wb_record_copy (wb_dataset_get_wick (answer->data, 1));

  third->record.id = 9001;
  g_free (third->size);
  third->size = g_strdup ("S-3");
  third->step = 3;
  for (guint i = 0; i < answer->data->wicks->len; i++)
    g_ptr_array_add (wicks, g_ptr_array_index (answer->data->wicks, i));
  g_ptr_array_add (wicks, third);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      /* the same wick beside the cell that has its larger size in the test is not asked about */
      const WbCraftForetoldSize sizes[] = { { 0, 9001, 1 }, { 1, 9001, cases[i].p_cross } };
      g_autoptr (GArray) foretold = g_array_new (FALSE, FALSE, sizeof (WbCraftForetoldSize));
      g_autoptr (WbCraftAdvice) alone = advise_with (answer, wicks, 0), advice = NULL;
      double own = find (alone, 1)->p_hot;

      g_array_append_vals (foretold, sizes, G_N_ELEMENTS (sizes));
      advice = wb_craft_advice_new (answer->data, answer->figures, answer->limits, answer->estimates, answer->ranking, wicks, 0, foretold,
                                    WB_INSTANT_NONE);
      show (find (advice, 1));
      g_assert_cmpint (find (alone, 1)->size, ==, WB_CRAFT_SIZE_UP);
      g_assert_cmpint (find (advice, 1)->size, ==, cases[i].up ? WB_CRAFT_SIZE_UP : WB_CRAFT_SIZE_CHANGE_SERIES);
      g_assert_cmpfloat (find (advice, 1)->p_hot, ==, cases[i].up ? own : cases[i].p_cross);
      g_assert_cmpint (says (find (advice, 1), "By all earlier tests the next size up would come near a limit: about "), ==, !cases[i].up);
      g_assert_cmpint (find (advice, 0)->size, ==, find (alone, 0)->size);
      /* and it is not named as what belongs into the test */
      g_assert_cmpint (advice->groups[0].outside, ==, cases[i].up ? 9001 : 0);
    }
  wb_record_free (third);
}

/* ---- Who is in the running ---- */

static void
test_crossed_and_above (void)
{
  const double limit[] = { 80, 90, 96 };
  WbDataset *data = calm_wicks (limit, 3, 2, 0);
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;
  guint row = 0;

  while (cell_of_row (data, row) != 1)
    row++;
  test_craft_set (data, row, WB_COLUMN_FLAME_MM, 90);
  answer = answer_of (data);
  advice = advise (answer);
  g_test_message ("%s", advice->groups[0].answer);
  g_assert_cmpint (find (advice, 0)->running, ==, WB_CRAFT_RUNNING_OPEN);
  g_assert_cmpint (find (advice, 1)->running, ==, WB_CRAFT_RUNNING_CROSSED);
  g_assert_cmpint (find (advice, 2)->running, ==, WB_CRAFT_RUNNING_ABOVE_CROSSED);
  g_assert_nonnull (strstr (find (advice, 2)->why, "S-2, a smaller size of its series"));
  g_assert_cmpfloat (find (advice, 1)->share, ==, 0);
  g_assert_cmpfloat (find (advice, 2)->share, ==, 0);
  g_assert_cmpfloat (find (advice, 0)->share, ==, 1);
  g_assert_cmpuint (find (advice, 1)->burn_on, ==, 0);
  g_assert_cmpint (find (advice, 1)->size, ==, WB_CRAFT_SIZE_DOWN);
  g_assert_cmpint (find_sign (find (advice, 1), WB_CRAFT_SIGN_CROSSED)->reading, ==, wb_readings_get_id (data->readings, row));
  g_assert_cmpstr (advice->groups[0].line, ==, "Next: light S-1; S-3 and S-2 cannot win any more.");
}

static WbCraftAnswer *
answer_of_strengths (const double *strength,
                     guint         n,
                     guint         samples,
                     guint         burns)
{
  WbDataset *data = test_craft_data_new ();

  test_craft_add_wicks (data, strength, n, samples, burns, 0.6);
  return answer_of (data);
}

/* What is behind after the upper third rests, for the lower one may bring it back; what is behind to the end is out. */
static void
test_behind_rests_first (void)
{
  const double strength[] = { 3.4, 4.4, 5.4 };
  g_autoptr (WbCraftAnswer) early = answer_of_strengths (strength, 3, 3, 3), late = answer_of_strengths (strength, 3, 3, 0);
  g_autoptr (WbCraftAdvice) first = advise (early), last = advise (late);

  g_assert_cmpfloat (test_craft_find_ranked (early, 0)->p_best, <, WB_CRAFT_ADVICE_CANNOT_WIN);
  g_assert_cmpint (find (first, 0)->running, ==, WB_CRAFT_RUNNING_RESTING);
  g_assert_cmpfloat (find (first, 0)->share, ==, 0);
  g_assert_null (strstr (first->groups[0].answer, "cannot win"));
  g_assert_nonnull (strstr (first->groups[0].answer, " rest for now: a candle that rests is not lost, and may be lit later."));
  g_assert_cmpint (find (last, 0)->running, ==, WB_CRAFT_RUNNING_BEHIND);
  g_assert_nonnull (strstr (find (last, 0)->why, "Its chance of being the best is fewer than 1 in 100."));
}

/* ---- When it may stop ---- */

/* Two that are the same: neither will ever be the best for sure, and yet the search stops. */
static void
test_dead_heat (void)
{
  const double strength[] = { 4.4, 4.5 };
  g_autoptr (WbCraftAnswer) answer = answer_of_strengths (strength, 2, 6, 0);
  g_autoptr (WbCraftAdvice) advice = advise (answer);
  const WbCraftRanked *first = &answer->ranking->groups[0].cells[0];

  g_test_message ("best %.2f near %.2f: %s", first->p_best, first->p_near, advice->groups[0].answer);
  g_assert_cmpfloat (first->p_best, <, 0.9);
  g_assert_cmpfloat (first->p_near, >=, 0.9);
  g_assert_true (advice->groups[0].over);
  g_assert_cmpuint (advice->groups[0].leader, ==, 0);
}

/* Sure by the upper third, but not read where it is decided: it goes on. */
static void
test_not_before_the_end_is_read (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };
  g_autoptr (WbCraftAnswer) answer = answer_of_strengths (strength, 3, 3, 3);
  g_autoptr (WbCraftAdvice) advice = advise (answer);

  g_assert_cmpfloat (answer->ranking->groups[0].cells[0].p_near, >=, 0.9);
  g_assert_true (advice->groups[0].cells[0].unread);
  g_assert_false (advice->groups[0].over);
}

/* The search is over, the burn-down of what it found is not: all burns go there, and what is missing is said. */
static void
test_burn_down_goes_on (void)
{
  const double strength[] = { 3.0, 4.4, 6.6 };
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL, strict = NULL;
  const WbCraftAdviceGroup *group;

  for (guint burns = 10; burns < 24 && (advice == NULL || !advice->groups[0].over); burns++)
    {
      g_clear_pointer (&advice, wb_craft_advice_free);
      g_clear_pointer (&answer, wb_craft_answer_unref);
      answer = answer_of_strengths (strength, 3, 3, burns);
      advice = advise (answer);
    }
  group = &advice->groups[0];
  g_test_message ("%s", group->answer);
  g_assert_true (group->over);
  g_assert_cmpuint (group->cells[0].cell, ==, 1);
  g_assert_cmpuint (group->cells[0].burn_on, ==, 3);
  g_assert_cmpfloat (group->cells[0].share, ==, 1);
  g_assert_cmpuint (group->missing->len, >, 0);
  g_assert_nonnull (strstr (group->answer, "Burn its candles down to the end all the same"));
  g_assert_cmpstr (group->line, ==, "Next: burn S-2 down to its end; the search can stop.");
  /* a maker who wants to be surer goes on */
  strict = advise_with (answer, NULL, MIN (group->cells[0].share, 0.99999));
  g_assert_cmpint (strict->groups[0].over, ==, answer->ranking->groups[0].cells[0].p_near >= 0.99999);
}

/* As sure as the protocol wants to be; what is recommended does not follow it. */
static void
test_stops_as_sure_as_the_protocol_asks (void)
{
  const double strength[] = { 3.8, 4.9 };
  g_autoptr (WbCraftAnswer) answer = answer_of_strengths (strength, 2, 2, 0);
  const WbCraftRanked *first = &answer->ranking->groups[0].cells[0];
  WbProtocol *protocol = (WbProtocol *) answer->data->protocol;
  const double pct = floor (100 * first->p_near);
  const struct { double pct, enough; } cases[] = { { NAN, 0.9 }, { 90, 0.9 }, { 75, 0.75 }, { pct, pct / 100 }, { pct + 1, (pct + 1) / 100 }, { 10, 0.5 }, { 1e9, 0.99 } };

  g_test_message ("near %.3f", first->p_near);
  g_assert_cmpfloat (first->p_near, >, 0.5);
  g_assert_cmpfloat (first->p_near, <, 0.89);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbCraftAdvice) advice = NULL;

      protocol->stop_sure_pct = cases[i].pct;
      advice = advise (answer);
      g_test_message ("%g: %s", cases[i].pct, advice->groups[0].answer);
      g_assert_cmpfloat_with_epsilon (advice->near_enough, cases[i].enough, 1e-12);
      g_assert_cmpint (advice->groups[0].over, ==, first->p_near >= cases[i].enough);
      /* stopped sooner than a recommendation may: it is not told to be found */
      if (advice->groups[0].over)
        g_assert_nonnull (strstr (advice->groups[0].answer, "as sure as the protocol asks"));
    }
  g_assert_cmpint (first->verdict, !=, WB_CRAFT_VERDICT_RECOMMENDED);
}

static void
test_nothing_more (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };
  g_autoptr (WbCraftAnswer) answer = answer_of_strengths (strength, 3, 3, 0);
  g_autoptr (WbCraftAdvice) advice = advise (answer);
  double sum = 0;

  g_assert_cmpint (answer->ranking->groups[0].cells[0].verdict, ==, WB_CRAFT_VERDICT_RECOMMENDED);
  g_assert_true (advice->groups[0].over);
  g_assert_cmpuint (advice->groups[0].missing->len, ==, 0);
  g_assert_true (g_str_has_prefix (advice->groups[0].answer, "Nothing more need be burnt: S-2"));
  for (guint i = 0; i < advice->groups[0].n_cells; i++)
    sum += advice->groups[0].cells[i].share;
  g_assert_cmpfloat (sum, ==, 0);
}

/* Before anything is lit all are alike; what was never lit comes before what was. */
static void
test_begins_with_the_unlit (void)
{
  const double limit[] = { 80, 90, 96 };
  WbDataset *data = calm_wicks (limit, 3, 0, 0), *half = calm_wicks (limit, 2, 3, 0);
  g_autoptr (WbCraftAnswer) none = answer_of (data), some = NULL;
  g_autoptr (WbCraftAdvice) first = advise (none), second = NULL;
  guint unlit = test_craft_add_cell (half, "Tern", INNER, "Sedge", "S-3", 3, 0);

  test_craft_add_sample (half, unlit, "C3-1");
  some = answer_of (half);
  second = advise (some);
  g_test_message ("%s", first->groups[0].answer);
  for (guint cell = 0; cell < 3; cell++)
    g_assert_cmpfloat_with_epsilon (find (first, cell)->share, 1.0 / 3, 1e-12);
  g_assert_true (g_str_has_prefix (first->groups[0].answer, "Planned only, and to be poured first: S-1, S-2 and S-3."));
  g_assert_false (first->groups[0].begun);
  g_assert_cmpfloat (find (second, unlit)->share, >, 0.5);
  g_assert_false (second->groups[0].over);
}

/* ---- Properties ---- */

static void
check_shares (const WbCraftAdvice *advice)
{
  for (guint g = 0; g < advice->n_groups; g++)
    {
      const WbCraftAdviceGroup *group = &advice->groups[g];
      guint open = 0;
      double sum = 0;

      for (guint i = 0; i < group->n_cells; i++)
        {
          const WbCraftAdvised *advised = &group->cells[i];

          open += advised->running == WB_CRAFT_RUNNING_OPEN;
          sum += advised->share;
          g_assert_cmpfloat (advised->share, >=, 0);
          g_assert_cmpint (advised->running == WB_CRAFT_RUNNING_OPEN, ==, advised->why == NULL);
          if (advised->running == WB_CRAFT_RUNNING_OPEN)
            continue;
          g_assert_cmpfloat (advised->share, ==, 0);
          g_assert_cmpuint (advised->burn_on + advised->pour, ==, 0);
        }
      if (open > 0 && !group->over)
        g_assert_cmpfloat_with_epsilon (sum, 1, 1e-9);
      g_assert_true (*group->answer != '\0');
    }
}

static void
test_shares_add_up (void)
{
  const double strength[] = { 3.2, 3.8, 4.4, 5.0, 7.0 };

  for (guint burns = 1; burns <= 13; burns += 3)
    for (guint samples = 1; samples <= 3; samples += 2)
      {
        g_autoptr (WbCraftAnswer) answer = answer_of_strengths (strength, 5, samples, burns);
        g_autoptr (WbCraftAdvice) advice = advise (answer);

        check_shares (advice);
      }
}

/* What is known worse, or is nearer to the best, gets no less. */
static void
test_shares_are_monotone (void)
{
  const double limit[] = { 86, 88, 90 };
  g_autoptr (WbCraftAnswer) answer = answer_of (calm_wicks (limit, 3, 4, 0));
  WbCraftRanked *cells = answer->ranking->groups[0].cells;
  double before = -1;

  for (guint i = 0; i < 3; i++)
    {
      cells[i].p_best = 1.0 / 3;
      cells[i].p_near = 0.5;
      cells[i].score = (WbCraftInterval) { 0.9 - 0.1 * i, 0.8 - 0.1 * i, 1.0 - 0.1 * i };
    }
  for (double half = 0.02; half < 0.2; half += 0.02)
    {
      g_autoptr (WbCraftAdvice) advice = NULL;

      cells[1].score.low = cells[1].score.value - half;
      cells[1].score.high = cells[1].score.value + half;
      advice = advise (answer);
      g_assert_cmpfloat (advice->groups[0].cells[1].share, >=, before - 1e-12);
      before = advice->groups[0].cells[1].share;
    }
  g_assert_cmpfloat (before, >, 1.0 / 3);
  before = 2;
  for (double behind = 0.06; behind < 0.5; behind += 0.04)
    {
      g_autoptr (WbCraftAdvice) advice = NULL;

      cells[1].score = (WbCraftInterval) { 0.9 - behind, 0.8 - behind, 1.0 - behind };
      advice = advise (answer);
      g_assert_cmpfloat (advice->groups[0].cells[1].share, <=, before + 1e-12);
      before = advice->groups[0].cells[1].share;
    }
}

/* The same answer gives the same advice, and each further candle that is advised is said. */
static void
test_pouring (void)
{
  const double limit[] = { 86, 90 };
  g_autoptr (WbCraftAnswer) answer = answer_of (calm_wicks (limit, 2, 3, 0));
  g_autoptr (WbCraftAdvice) one = advise (answer), other = advise (answer);
  const WbCraftAdviceGroup *group = &one->groups[0];

  g_assert_cmpstr (group->answer, ==, other->groups[0].answer);
  /* two were poured of what leads, and three are asked for */
  g_assert_cmpuint (group->leader, ==, 0);
  g_assert_cmpuint (group->cells[0].pour, ==, 1);
  g_assert_nonnull (strstr (group->cells[0].why_share, " 1 further candle, for a recommendation asks for 3 and 2 counts."));
  g_assert_nonnull (strstr (group->answer, "Further candles to pour: 1 of S-"));
}

/* The project's sample log, group by group: nobody stops after the upper part, and no two vessels are mixed. */
static void
test_sample_log (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
  WbDataset *data = test_craft_from_log (path);
  g_autoptr (WbCraftAnswer) answer = answer_of (data);
  g_autoptr (WbCraftAdvice) advice = advise (answer);

  g_assert_cmpuint (advice->n_groups, ==, 4);
  check_shares (advice);
  for (guint g = 0; g < advice->n_groups; g++)
    {
      g_test_message ("%s", advice->groups[g].answer);
      g_assert_false (advice->groups[g].over);
    }
  g_assert_cmpint (find (advice, test_craft_find_cell (data, "Osprey", "L-1", 6))->size, ==, WB_CRAFT_SIZE_UP);
  g_assert_cmpint (find (advice, test_craft_find_cell (data, "Osprey", "L-3", 6))->size, ==, WB_CRAFT_SIZE_CARRY_ON);
  g_assert_cmpint (find (advice, test_craft_find_cell (data, "Osprey", "L-5", 6))->size, ==, WB_CRAFT_SIZE_DOWN);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/advice/weak-throw-asks-for-no-larger-wick", test_weak_throw);
  g_test_add_func ("/craft/advice/the-first-burn-alone-asks-for-no-larger-wick", test_first_burn);
  g_test_add_func ("/craft/advice/what-drowns-or-goes-out-asks-for-a-larger-one-at-once", test_drowned_at_once);
  g_test_add_func ("/craft/advice/both-kinds-of-sign-ask-for-another-series", test_both_kinds);
  g_test_add_func ("/craft/advice/each-sign-of-too-large-a-wick-speaks-alone", test_too_large);
  g_test_add_func ("/craft/advice/what-was-seen-once-is-no-reason", test_once_is_faint);
  g_test_add_func ("/craft/advice/never-up-where-the-next-size-comes-near-a-limit", test_near_a_limit);
  g_test_add_func ("/craft/advice/never-up-where-all-earlier-tests-foretell-a-limit", test_foretold_by_all);
  g_test_add_func ("/craft/advice/nothing-goes-to-what-crossed-or-is-above-it", test_crossed_and_above);
  g_test_add_func ("/craft/advice/what-is-behind-rests-until-the-end-was-read", test_behind_rests_first);
  g_test_add_func ("/craft/advice/a-dead-heat-stops-the-search", test_dead_heat);
  g_test_add_func ("/craft/advice/no-stop-before-the-lower-third-was-read", test_not_before_the_end_is_read);
  g_test_add_func ("/craft/advice/stopping-does-not-end-the-burn-down", test_burn_down_goes_on);
  g_test_add_func ("/craft/advice/it-stops-as-sure-as-the-protocol-asks", test_stops_as_sure_as_the_protocol_asks);
  g_test_add_func ("/craft/advice/nothing-more-once-it-is-recommended", test_nothing_more);
  g_test_add_func ("/craft/advice/begins-with-what-was-never-lit", test_begins_with_the_unlit);
  g_test_add_func ("/craft/advice/shares-add-up-to-all", test_shares_add_up);
  g_test_add_func ("/craft/advice/shares-are-monotone", test_shares_are_monotone);
  g_test_add_func ("/craft/advice/further-candles-are-said", test_pouring);
  g_test_add_func ("/craft/advice/the-sample-log", test_sample_log);
  return g_test_run ();
}
