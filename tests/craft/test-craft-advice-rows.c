/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"
#include "wb-craft-advice.h"
#include "wb-craft-told.h"

#include "wb-craft-advice-private.h"

/* What an advice says row by row: one word that agrees with the rest, whole burns, what waits, and how a search ends. */

#define INNER 76.2
#define DAY_US (86400 * (gint64) G_USEC_PER_SEC)

static WbCraftAnswer *
answer_of (WbDataset *data)
{
  return wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
}

static WbCraftAdvice *
advise_with (const WbCraftAnswer *answer,
             const GPtrArray     *wicks,
             const GArray        *foretold,
             WbInstant            now)
{
  return wb_craft_advice_new (answer->data, answer->figures, answer->limits, answer->estimates, answer->ranking, wicks, 0, foretold, now);
}

static WbCraftAdvice *
advise (const WbCraftAnswer *answer)
{
  return advise_with (answer, NULL, NULL, WB_INSTANT_NONE);
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

/* ---- One word a row ---- */

typedef enum { PLANNED, CURING, READY, COOLING, ALIGHT, DONE, NO_CANDLE, N_KINDS } Kind;

static WbCraftAdvised
advised_of (WbCraftRunning running,
            Kind           kind,
            gboolean       shares,
            gboolean       pours)
{
  WbCraftAdvised advised = { .running = running, .share = shares ? 1 : 0, .in_ten = shares ? 10 : 0, .pour = pours };

  advised.candles.cured_at = (WbInstant) { 10 * DAY_US, 0, TRUE };
  advised.candles.cooled_at = advised.candles.cured_at;
  advised.candles.planned = kind == PLANNED;
  advised.candles.curing = kind == CURING;
  advised.candles.ready = kind == READY;
  advised.candles.cooling = kind == COOLING;
  advised.candles.alight = kind == ALIGHT;
  advised.candles.done = kind == DONE;
  return advised;
}

/* What a maker would say, state by state, while the search goes on. */
static const struct { WbCraftRunning running; WbCraftRow rows[N_KINDS]; } expected[] = {
  { WB_CRAFT_RUNNING_OPEN, { WB_CRAFT_ROW_POUR_FIRST, WB_CRAFT_ROW_CURES, WB_CRAFT_ROW_LIGHT, WB_CRAFT_ROW_COOLS, WB_CRAFT_ROW_BURNS_NOW,
                             WB_CRAFT_ROW_BURNT_DOWN, WB_CRAFT_ROW_BURNT_DOWN } },
  { WB_CRAFT_RUNNING_RESTING, { WB_CRAFT_ROW_RESTS, WB_CRAFT_ROW_RESTS, WB_CRAFT_ROW_RESTS, WB_CRAFT_ROW_RESTS, WB_CRAFT_ROW_BURNS_NOW,
                                WB_CRAFT_ROW_BURNT_DOWN, WB_CRAFT_ROW_BURNT_DOWN } },
  { WB_CRAFT_RUNNING_CROSSED, { WB_CRAFT_ROW_CROSSED, WB_CRAFT_ROW_CROSSED, WB_CRAFT_ROW_CROSSED, WB_CRAFT_ROW_CROSSED, WB_CRAFT_ROW_CROSSED,
                                WB_CRAFT_ROW_CROSSED, WB_CRAFT_ROW_CROSSED } },
  { WB_CRAFT_RUNNING_ABOVE_CROSSED, { WB_CRAFT_ROW_CANNOT_WIN, WB_CRAFT_ROW_CANNOT_WIN, WB_CRAFT_ROW_CANNOT_WIN, WB_CRAFT_ROW_CANNOT_WIN,
                                      WB_CRAFT_ROW_BURNS_NOW, WB_CRAFT_ROW_CANNOT_WIN, WB_CRAFT_ROW_CANNOT_WIN } },
  { WB_CRAFT_RUNNING_BEHIND, { WB_CRAFT_ROW_CANNOT_WIN, WB_CRAFT_ROW_CANNOT_WIN, WB_CRAFT_ROW_CANNOT_WIN, WB_CRAFT_ROW_CANNOT_WIN,
                               WB_CRAFT_ROW_BURNS_NOW, WB_CRAFT_ROW_CANNOT_WIN, WB_CRAFT_ROW_CANNOT_WIN } },
  { WB_CRAFT_RUNNING_LEFT_OUT, { WB_CRAFT_ROW_LEFT_OUT, WB_CRAFT_ROW_LEFT_OUT, WB_CRAFT_ROW_LEFT_OUT, WB_CRAFT_ROW_LEFT_OUT,
                                 WB_CRAFT_ROW_BURNS_NOW, WB_CRAFT_ROW_LEFT_OUT, WB_CRAFT_ROW_LEFT_OUT } },
};

/* Of what was found once the search is over: what is left of it is burnt down, or it is the best of these. */
static const WbCraftRow found[N_KINDS] = {
  WB_CRAFT_ROW_POUR_FIRST, WB_CRAFT_ROW_BURN_DOWN, WB_CRAFT_ROW_BURN_DOWN, WB_CRAFT_ROW_BURN_DOWN, WB_CRAFT_ROW_BURNS_NOW,
  WB_CRAFT_ROW_BEST, WB_CRAFT_ROW_BEST
};

/* No row may say two things at once. */
static void
check_words (const WbCraftAdvised *advised)
{
  g_autofree char *row = wb_craft_advised_dup_row_words (advised), *size = wb_craft_advised_dup_size_words (advised);
  g_autofree char *share = wb_craft_advised_dup_share_words (advised);
  gboolean burnt_on = strstr (row, "light") != NULL || g_str_equal (row, "burns now") || g_str_equal (row, "burn down") || strstr (row, "cools") != NULL;

  g_test_message ("%s | %s | %s", row, share, size);
  g_assert_cmpint (*row, !=, '\0');
  /* "rests · carry on", "cannot win · carry on" */
  if (strstr (size, "carry on") != NULL)
    g_assert_true (burnt_on);
  if (advised->running != WB_CRAFT_RUNNING_OPEN || advised->row == WB_CRAFT_ROW_FINISHED)
    g_assert_cmpstr (size, !=, "carry on");
  /* what is lit next has burns, and what is out has none */
  if (g_str_equal (row, "light next"))
    g_assert_nonnull (strstr (share, "next"));
  if (g_str_equal (row, "rests"))
    g_assert_cmpstr (share, ==, "no burns for now");
  if (g_str_equal (row, "burnt down") || g_str_equal (row, "finished"))
    g_assert_cmpstr (share, ==, "");
  if (g_str_has_prefix (row, "cures") || g_str_has_prefix (row, "cools"))
    g_assert_nonnull (strstr (row, " until "));
}

static void
check_row (WbCraftAdvised *advised,
           gboolean        finished,
           gboolean        over,
           gboolean        poor,
           gboolean        leads,
           WbCraftRow      row)
{
  advised->row = wb_craft_advice_find_row (advised, finished, over, poor, leads);
  g_assert_cmpstr (wb_craft_row_get_key (advised->row), ==, wb_craft_row_get_key (row));
  check_words (advised);
}

static void
test_one_word (void)
{
  for (guint r = 0; r < G_N_ELEMENTS (expected); r++)
    for (Kind kind = 0; kind < N_KINDS; kind++)
      {
        gboolean open = expected[r].running == WB_CRAFT_RUNNING_OPEN;
        WbCraftAdvised advised = advised_of (expected[r].running, kind, open && kind != DONE && kind != NO_CANDLE, FALSE);
        WbCraftAdvised other = advised_of (expected[r].running, kind, FALSE, FALSE);

        g_test_message ("%s, kind %d", wb_craft_running_get_key (expected[r].running), kind);
        check_row (&advised, FALSE, FALSE, FALSE, open, expected[r].rows[kind]);
        check_row (&other, TRUE, TRUE, FALSE, FALSE, WB_CRAFT_ROW_FINISHED);
        /* once the search is over only what is in the running is told otherwise */
        check_row (&advised, FALSE, TRUE, FALSE, TRUE, open ? found[kind] : expected[r].rows[kind]);
        check_row (&other, FALSE, TRUE, FALSE, FALSE, open && kind != ALIGHT ? WB_CRAFT_ROW_NOT_NEEDED : expected[r].rows[kind]);
        check_row (&other, FALSE, TRUE, TRUE, FALSE, open && kind != ALIGHT ? WB_CRAFT_ROW_NOT_ENOUGH : expected[r].rows[kind]);
      }
}

/* Fit to light, and yet none of the next ten; none left, and more to pour. */
static void
test_words_beside (void)
{
  WbCraftAdvised later = advised_of (WB_CRAFT_RUNNING_OPEN, READY, FALSE, FALSE), more = advised_of (WB_CRAFT_RUNNING_OPEN, DONE, TRUE, TRUE);
  WbCraftAdvised first = advised_of (WB_CRAFT_RUNNING_OPEN, NO_CANDLE, FALSE, TRUE);
  g_autofree char *share = NULL;

  later.share = 0.03;
  check_row (&later, FALSE, FALSE, FALSE, FALSE, WB_CRAFT_ROW_LATER);
  share = wb_craft_advised_dup_share_words (&later);
  g_assert_cmpstr (share, ==, "none of the next 10 burns");
  check_row (&more, FALSE, FALSE, FALSE, FALSE, WB_CRAFT_ROW_POUR_MORE);
  check_row (&more, FALSE, TRUE, FALSE, TRUE, WB_CRAFT_ROW_POUR_MORE);
  check_row (&first, FALSE, FALSE, FALSE, FALSE, WB_CRAFT_ROW_POUR_MORE);
}

/* ---- What waits ---- */

/* "S-1" and so on, so many candles each, planned only. */
static WbDataset *
planned_wicks (guint n,
               guint samples)
{
  WbDataset *data = test_craft_data_new ();

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0);

      for (guint k = 0; k < samples; k++)
        {
          g_autofree char *code = g_strdup_printf ("C%u-%u", i + 1, k + 1);

          test_craft_add_sample (data, cell, code);
        }
    }
  return data;
}

/* S-1 is planned, S-2 cures, S-3 may be lit: each is told as what it is, and only what may be lit is to be lit. */
static void
test_waiting (void)
{
  WbDataset *data = planned_wicks (3, 2);
  const WbInstant now = { 100 * DAY_US, 0, TRUE };
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL, later = NULL;
  g_autofree char *cures = NULL;

  for (guint i = 2; i < 6; i++)
    {
      WbSample *sample = g_ptr_array_index (data->samples, i);

      sample->poured_on = i < 4 ? 99 : 80;
      sample->cure_days = 7;
    }
  answer = answer_of (data);
  advice = advise_with (answer, NULL, NULL, now);
  g_test_message ("%s", advice->groups[0].answer);
  g_assert_cmpint (find (advice, 0)->row, ==, WB_CRAFT_ROW_POUR_FIRST);
  g_assert_cmpint (find (advice, 1)->row, ==, WB_CRAFT_ROW_CURES);
  g_assert_cmpint (find (advice, 2)->row, ==, WB_CRAFT_ROW_LIGHT);
  g_assert_cmpuint (find (advice, 0)->burn_on, ==, 0);
  g_assert_cmpuint (find (advice, 0)->candles.planned, ==, 2);
  g_assert_cmpuint (find (advice, 1)->candles.curing, ==, 2);
  g_assert_cmpuint (find (advice, 2)->candles.ready, ==, 2);
  cures = wb_craft_advised_dup_row_words (find (advice, 1));
  g_assert_cmpstr (cures, ==, "cures until 17 Apr 1970");
  g_assert_cmpstr (advice->groups[0].line, ==, "Next: light S-3.");
  g_assert_true (g_str_has_prefix (advice->groups[0].answer, "Light first: S-3. Still to cure, and not to be lit before: S-2 until 17 Apr 1970. "
                                                             "Planned only, and to be poured first: S-1."));
  /* a week later there is nothing to wait for */
  later = advise_with (answer, NULL, NULL, (WbInstant) { 107 * DAY_US, 0, TRUE });
  g_assert_cmpint (find (later, 1)->row, ==, WB_CRAFT_ROW_LIGHT);
  g_assert_cmpstr (later->groups[0].line, ==, "Next: light S-2 and S-3.");
}

/* Nothing can be lit: the line says until when, or what is to be poured; before the first burn it says whose question it answers. */
static void
test_nothing_to_light (void)
{
  WbDataset *data = planned_wicks (2, 1);
  const WbInstant now = { 100 * DAY_US, 0, TRUE };
  g_autoptr (WbCraftAnswer) planned = answer_of (planned_wicks (2, 1)), curing = NULL;
  g_autoptr (WbCraftAdvice) first = advise_with (planned, NULL, NULL, now), second = NULL;

  for (guint i = 0; i < 2; i++)
    {
      ((WbSample *) g_ptr_array_index (data->samples, i))->poured_on = 99;
      ((WbSample *) g_ptr_array_index (data->samples, i))->cure_days = 7 + i;
    }
  curing = answer_of (data);
  second = advise_with (curing, NULL, NULL, now);
  g_assert_cmpstr (first->groups[0].line, ==, "Next: pour S-1 and S-2 first.");
  g_assert_cmpstr (second->groups[0].line, ==, "Next: nothing to light yet; still to cure: S-1 until 17 Apr 1970; S-2 until 18 Apr 1970.");
  g_assert_nonnull (strstr (first->groups[0].answer, "This says in which order the wicks of this test are burnt; which wicks belong into a test"));
}

/* What was put out an hour ago cools as long as the protocol asks. */
static void
test_cooling (void)
{
  WbDataset *data = planned_wicks (2, 1);
  WbProtocol *protocol = (WbProtocol *) data->protocol;
  const WbInstant now = { 100 * DAY_US, 0, TRUE };
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL, next_day = NULL;
  WbBurn *burn;

  protocol->cool_s = 5 * 3600;
  for (guint i = 0; i < 2; i++)
    {
      ((WbSample *) g_ptr_array_index (data->samples, i))->poured_on = 80;
      test_craft_calm_burn (data, i, 90, 1.2, INNER);
    }
  burn = g_ptr_array_index (data->burns, 0);
  burn->lit_at = (WbInstant) { now.utc_us - 5 * 3600 * (gint64) G_USEC_PER_SEC, 0, TRUE };
  answer = answer_of (data);
  advice = advise_with (answer, NULL, NULL, now);
  g_test_message ("%s", advice->groups[0].answer);
  g_assert_cmpint (find (advice, 0)->row, ==, WB_CRAFT_ROW_COOLS);
  g_assert_cmpint (find (advice, 1)->row, ==, WB_CRAFT_ROW_LIGHT);
  g_assert_nonnull (strstr (advice->groups[0].answer, "Still to cool: S-1 until "));
  next_day = advise_with (answer, NULL, NULL, (WbInstant) { now.utc_us + DAY_US, 0, TRUE });
  g_assert_cmpint (find (next_day, 0)->row, ==, WB_CRAFT_ROW_LIGHT);
}

/* ---- Whole burns ---- */

static void
check_tens (const WbCraftAdvice *advice)
{
  for (guint g = 0; g < advice->n_groups; g++)
    {
      const WbCraftAdviceGroup *group = &advice->groups[g];
      guint tens = 0;
      double sum = 0;

      for (guint i = 0; i < group->n_cells; i++)
        {
          const WbCraftAdvised *advised = &group->cells[i];

          tens += advised->in_ten;
          sum += advised->share;
          /* a whole burn at most from its share, and none of nothing */
          g_assert_cmpfloat (fabs (advised->in_ten - 10 * advised->share), <, 1);
          g_assert_cmpint (advised->share > 0, ==, advised->why_share != NULL);
        }
      g_assert_cmpuint (tens, ==, sum > 0 ? 10 : 0);
    }
}

static void
test_tens (void)
{
  const double strength[] = { 3.2, 3.8, 4.4, 5.0, 5.6, 6.2, 7.0 };

  for (guint n = 1; n <= 13; n += 3)
    {
      g_autoptr (WbCraftAnswer) answer = answer_of (planned_wicks (n, 1));
      g_autoptr (WbCraftAdvice) advice = advise (answer);

      check_tens (advice);
    }
  for (guint burns = 1; burns <= 10; burns += 9)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autoptr (WbCraftAdvice) advice = NULL;

      test_craft_add_wicks (data, strength, 7, 2, burns, 0.6);
      answer = answer_of (data);
      advice = advise (answer);
      check_tens (advice);
    }
}

/* ---- How it ends ---- */

static WbCraftAnswer *
answer_of_strengths (const double *strength,
                     guint         n)
{
  WbDataset *data = test_craft_data_new ();

  test_craft_add_wicks (data, strength, n, 3, 0, 0.6);
  return answer_of (data);
}

/* The wicks of the data and one more size of their series. */
static GPtrArray *
wicks_with (const WbDataset *data,
            gint64           step)
{
  GPtrArray *wicks = g_ptr_array_new_with_free_func (wb_record_free);
  WbWick *further = wb_record_copy (wb_dataset_get_wick (data, 0));

  further->record.id = 9001;
  g_free (further->size);
  further->size = g_strdup_printf ("S-%" G_GINT64_FORMAT, step);
  further->step = step;
  for (guint i = 0; i < data->wicks->len; i++)
    g_ptr_array_add (wicks, wb_record_copy (g_ptr_array_index (data->wicks, i)));
  g_ptr_array_add (wicks, further);
  return wicks;
}

/* All far too weak: the search ends, none is good enough, and the next size up is to be tested, unless that is foretold too hot. */
static void
test_all_too_weak (void)
{
  const double strength[] = { 1.7, 2.1 };
  g_autoptr (WbCraftAnswer) answer = answer_of_strengths (strength, 2);
  g_autoptr (GPtrArray) wicks = wicks_with (answer->data, 3);
  const WbCraftForetoldSize hot = { 1, 9001, 0.4 };
  g_autoptr (GArray) foretold = g_array_new (FALSE, FALSE, sizeof hot);
  g_autoptr (WbCraftAdvice) advice = advise_with (answer, wicks, NULL, WB_INSTANT_NONE), warned = NULL;
  const WbCraftAdviceGroup *group = &advice->groups[0];

  g_test_message ("score %.2f near %.2f: %s", answer->ranking->groups[0].cells[0].score.value, answer->ranking->groups[0].cells[0].p_near, group->answer);
  g_assert_true (wb_craft_score_is_poor (answer->ranking->groups[0].cells[0].score.value));
  g_assert_true (group->over);
  g_assert_true (group->poor);
  g_assert_null (strstr (group->answer, "Nothing more need be burnt"));
  g_assert_nonnull (strstr (group->answer, "none is good enough"));
  g_assert_nonnull (strstr (group->answer, "Test instead: S-3, one size up from S-2, which was too small: "));
  g_assert_nonnull (strstr (group->answer, "(burn "));
  g_assert_cmpint (group->outside, ==, 9001);
  g_assert_cmpstr (group->line, ==, "Next: nothing of it; none is good enough. Test S-3 instead.");
  for (guint i = 0; i < group->n_cells; i++)
    {
      g_assert_cmpuint (group->cells[i].in_ten + group->cells[i].burn_on + group->cells[i].pour, ==, 0);
      check_words (&group->cells[i]);
    }
  g_array_append_val (foretold, hot);
  warned = advise_with (answer, wicks, foretold, WB_INSTANT_NONE);
  g_test_message ("%s", warned->groups[0].answer);
  g_assert_true (warned->groups[0].poor);
  g_assert_cmpint (warned->groups[0].outside, ==, 0);
  g_assert_null (strstr (warned->groups[0].answer, "Test instead: S-3"));
  g_assert_nonnull (strstr (warned->groups[0].answer, "ask the page Wick ladder"));
  g_assert_cmpstr (warned->groups[0].line, ==, "Next: nothing of it; none is good enough. Ask the wick ladder for others.");
}

/* One leads, but all that is left surely does poorly: it is told with its score, and nobody needs to know more of it. */
static void
test_leader_does_poorly (void)
{
  const double strength[] = { 1.9, 3.5 };
  g_autoptr (WbCraftAnswer) answer = answer_of_strengths (strength, 2);
  g_autoptr (GPtrArray) wicks = wicks_with (answer->data, 3);
  g_autoptr (WbCraftAdvice) advice = advise_with (answer, wicks, NULL, WB_INSTANT_NONE);
  const WbCraftAdviceGroup *group = &advice->groups[0];

  g_test_message ("score %.2f: %s", answer->ranking->groups[0].cells[0].score.value, group->answer);
  g_assert_cmpuint (group->leader, ==, 0);
  g_assert_true (group->poor);
  g_assert_nonnull (strstr (group->answer, "but none is good enough: even S-2, the best of them, does poorly (0."));
  g_assert_nonnull (strstr (group->answer, "Test instead: S-3, one size up from S-2"));
  g_assert_cmpint (group->cells[0].row, ==, WB_CRAFT_ROW_NOT_ENOUGH);
}

/* All too hot: the way is down, by the crossing that says so. */
static void
test_all_too_hot (void)
{
  const double strength[] = { 9.5, 11 };
  g_autoptr (WbCraftAnswer) answer = answer_of_strengths (strength, 2);
  g_autoptr (GPtrArray) wicks = wicks_with (answer->data, 0);
  g_autoptr (WbCraftAdvice) advice = advise_with (answer, wicks, NULL, WB_INSTANT_NONE);
  const WbCraftAdviceGroup *group = &advice->groups[0];

  g_test_message ("%s", group->answer);
  g_assert_true (group->poor);
  g_assert_cmpuint (group->leader, ==, G_MAXUINT);
  g_assert_nonnull (strstr (group->answer, "No wick of this test can win any more, and none is good enough"));
  g_assert_nonnull (strstr (group->answer, "Test instead: S-0, one size down from S-1, which was too large: "));
  g_assert_null (strstr (group->answer, "one size up"));
}

/* However weak the throw, no larger wick. */
static void
test_poor_by_throw (void)
{
  const double strength[] = { 4.4, 4.5 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (GPtrArray) wicks = NULL;
  g_autoptr (WbCraftAdvice) advice = NULL;

  test_craft_add_wicks (data, strength, 2, 3, 0, 0.6);
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    {
      test_craft_set (data, row, WB_COLUMN_THROW, 1);
      test_craft_set (data, row, WB_COLUMN_ALONE, 1);
    }
  for (guint i = 0; i < data->cells->len; i++)
    ((WbCell *) g_ptr_array_index (data->cells, i))->fragrance = 7;
  answer = answer_of (data);
  wicks = wicks_with (answer->data, 3);
  advice = advise_with (answer, wicks, NULL, WB_INSTANT_NONE);
  g_test_message ("score %.2f: %s", answer->ranking->groups[0].cells[0].score.value, advice->groups[0].answer);
  g_assert_null (strstr (advice->groups[0].answer, "one size up"));
  g_assert_cmpint (advice->groups[0].outside, ==, 0);
}

/* Finished: it says so, and for whom it was decided, in every place; nothing is advised. */
static void
test_finished (void)
{
  const double strength[] = { 3.4, 4.4, 6.6 };

  for (guint decided = 0; decided < 2; decided++)
    {
      WbDataset *data = test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autoptr (WbCraftAdvice) advice = NULL;

      test_craft_add_wicks (data, strength, 3, 3, 0, 0.6);
      data->experiment->closed = TRUE;
      if (decided)
        {
          WbDecision *decision = wb_record_new (&wb_decision_type);

          decision->cell = wb_dataset_get_cell (data, 1)->record.id;
          decision->signed_by = g_strdup ("Wren");
          decision->signed_at = (WbInstant) { 300 * DAY_US, 0, TRUE };
          g_ptr_array_add (data->decisions, decision);
        }
      answer = answer_of (data);
      advice = advise (answer);
      g_test_message ("%s", advice->groups[0].answer);
      g_assert_true (advice->groups[0].finished);
      g_assert_cmpuint (advice->groups[0].decided, ==, decided ? 1 : G_MAXUINT);
      g_assert_true (g_str_has_prefix (advice->groups[0].answer,
                                       decided ? "Finished, and decided for S-2, signed by Wren on 28 Oct 1970: nothing of it is burnt any more."
                                               : "Finished: nothing of it is burnt any more, and nothing is signed for this vessel and scent."));
      g_assert_cmpstr (advice->groups[0].line, ==, advice->groups[0].answer);
      for (guint i = 0; i < advice->groups[0].n_cells; i++)
        {
          g_assert_cmpint (advice->groups[0].cells[i].row, ==, WB_CRAFT_ROW_FINISHED);
          g_assert_cmpuint (advice->groups[0].cells[i].in_ten + advice->groups[0].cells[i].burn_on + advice->groups[0].cells[i].pour, ==, 0);
        }
    }
}

/* ---- The readings that say so ---- */

static gboolean
names_reading (const char *text)
{
  const char *burn = strstr (text, "burn "), *figure = strpbrk (text, "0123456789");

  return burn != NULL && g_ascii_isdigit (burn[5]) && (strstr (burn, " of ") != NULL) && figure != NULL;
}

/* Each sentence of a row whose wick was burnt names a sample, a burn and what was read; what names none is a remark on the materials. */
static void
check_readings (const WbDataset      *data,
                const WbCraftAdvised *advised)
{
  guint burnt = 0;

  for (guint i = 0; i < data->burns->len; i++)
    burnt += g_array_index (data->sample_cell, guint, g_array_index (data->burn_sample, guint, i)) == advised->cell;
  if (burnt == 0)
    return;
  if (advised->why != NULL && !names_reading (advised->why))
    g_error ("%s", advised->why);
  if (advised->why_share != NULL && !names_reading (advised->why_share))
    g_error ("%s", advised->why_share);
  for (guint i = 0; i < advised->reasons->len; i++)
    {
      const char *reason = g_ptr_array_index (advised->reasons, i);

      if (!names_reading (reason) && strstr (reason, "among the materials") == NULL && strstr (reason, "is not known") == NULL
          && strstr (reason, "all the same") == NULL)
        g_error ("%s", reason);
    }
}

static void
test_readings (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "burn-log-clean.csv", NULL);
  const double strength[] = { 2.0, 3.4, 4.4, 5.4, 10 };

  for (guint round = 0; round < 4; round += 1 + (round == 1))
    {
      WbDataset *data = round == 0 ? test_craft_from_log (path) : test_craft_data_new ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autoptr (WbCraftAdvice) advice = NULL;

      if (round > 0)
        test_craft_add_wicks (data, strength, 5, 2, round == 3 ? 0 : 3 * round, 0.6);
      answer = answer_of (data);
      advice = advise (answer);
      for (guint g = 0; g < advice->n_groups; g++)
        {
          g_test_message ("%s", advice->groups[g].answer);
          g_assert_cmpint (strstr (advice->groups[g].answer, "By its own melt pools") != NULL, ==, advice->groups[g].pools != NULL);
          g_assert_true (advice->groups[g].pools == NULL || names_reading (advice->groups[g].pools));
          for (guint i = 0; i < advice->groups[g].n_cells; i++)
            check_readings (data, &advice->groups[g].cells[i]);
        }
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/advice-rows/one-word-a-row-that-agrees-with-the-rest", test_one_word);
  g_test_add_func ("/craft/advice-rows/light-later-and-pour-more", test_words_beside);
  g_test_add_func ("/craft/advice-rows/what-is-planned-cures-and-may-be-lit", test_waiting);
  g_test_add_func ("/craft/advice-rows/nothing-to-light-says-until-when", test_nothing_to_light);
  g_test_add_func ("/craft/advice-rows/what-cools-waits", test_cooling);
  g_test_add_func ("/craft/advice-rows/whole-burns-add-up-to-ten", test_tens);
  g_test_add_func ("/craft/advice-rows/all-too-weak-names-a-larger-one-unless-too-hot", test_all_too_weak);
  g_test_add_func ("/craft/advice-rows/a-leader-that-does-poorly-is-not-good-enough", test_leader_does_poorly);
  g_test_add_func ("/craft/advice-rows/all-too-hot-names-a-smaller-one", test_all_too_hot);
  g_test_add_func ("/craft/advice-rows/a-weak-throw-names-no-larger-one", test_poor_by_throw);
  g_test_add_func ("/craft/advice-rows/what-is-finished-says-so", test_finished);
  g_test_add_func ("/craft/advice-rows/each-names-the-readings-that-say-so", test_readings);
  return g_test_run ();
}
