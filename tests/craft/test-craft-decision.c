/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"

#include "wb-craft-crossed.h"
#include "wb-craft-decision.h"

/* What a decision would say of invented labs whose answer is plain. */

static WbCraftAnswer *
ask (guint samples,
     guint burns)
{
  const double strength[] = { 3.4, 4.4, 6.6 };
  WbDataset *data = test_craft_data_new ();

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), samples, burns, 0.6);
  return wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
}

static WbCraftDecision *
propose (const WbCraftAnswer *answer,
         guint                cell,
         const GPtrArray     *elsewhere)
{
  for (guint i = 0; i < answer->ranking->groups[0].n_cells; i++)
    if (answer->ranking->groups[0].cells[i].cell == cell)
      {
        WbCraftDecision *proposal = wb_craft_decision_new (answer, 0, i, elsewhere);

        g_test_message ("%s\n%s\n%s\n%s\n%s", proposal->recipe, proposal->conditions, proposal->rests_on, proposal->not_tested, proposal->holds_until);
        return proposal;
      }
  g_assert_not_reached ();
}

static void
assert_has (const char *text,
            const char *part)
{
  if (strstr (text, part) == NULL)
    g_error ("“%s” is not in: %s", part, text);
}

static void
test_recommended (void)
{
  g_autoptr (WbCraftAnswer) answer = ask (3, 0);
  g_autoptr (WbCraftDecision) proposal = propose (answer, 1, NULL);
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type);
  const WbDecision *decision = (const WbDecision *) (gpointer) record;
  g_autofree char *told = NULL;

  g_assert_cmpint (proposal->verdict, ==, WB_CRAFT_VERDICT_RECOMMENDED);
  g_assert_false (proposal->needs_reason);
  g_assert_cmpuint (proposal->crossed->len + proposal->against->len, ==, 0);
  assert_has (proposal->rests_on, "3 samples and ");
  assert_has (proposal->rests_on, "burnt to the end that the protocol states: 3.");
  assert_has (proposal->rests_on, "Parts of the candle that were read: upper third, middle third, lower third.");
  assert_has (proposal->rests_on, "Limits that were kept: flame height");
  assert_has (proposal->rests_on, "Verdict: recommended.");
  assert_has (proposal->rests_on, "in 100");
  assert_has (proposal->conditions, "at a time.");
  assert_has (proposal->not_tested, "Never tried: short burns, burns well past the usual length, an untrimmed wick.");
  g_assert_null (strstr (proposal->not_tested, "differs from the next"));
  assert_has (proposal->holds_until, "Any candle of this recipe that crosses a limit.");
  assert_has (proposal->holds_until, "wax, wick");

  wb_craft_decision_fill (proposal, answer, (WbDecision *) (gpointer) record);
  g_assert_cmpint (decision->cell, ==, wb_dataset_get_cell (answer->data, 1)->record.id);
  g_assert_cmpstr (decision->not_tested, ==, proposal->not_tested);
  g_assert_cmpint (decision->samples, ==, 3);
  g_assert_cmpfloat (decision->score, ==, wb_craft_decision_find_ranked (answer, 1)->score.value);
  told = wb_craft_decision_dup_signed (decision);
  assert_has (told, "recommended; it scored ");
}

/* What crossed a limit is told first, in full, and asks for a reason. */
static void
test_crossed (void)
{
  g_autoptr (WbCraftAnswer) answer = ask (3, 0);
  g_autoptr (WbCraftDecision) proposal = propose (answer, 2, NULL);
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type), unranked = wb_record_new (&wb_decision_type);

  g_assert_cmpint (proposal->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
  g_assert_true (proposal->needs_reason);
  g_assert_cmpuint (proposal->crossed->len, >=, 1);
  assert_has (g_ptr_array_index (proposal->crossed, 0), "A limit was crossed: flame height");
  assert_has (proposal->rests_on, "Limits that were crossed: flame height");
  wb_craft_decision_fill (proposal, answer, (WbDecision *) (gpointer) record);
  wb_craft_decision_fill_unranked (answer->data, answer->figures, answer->limits, 2, (WbDecision *) (gpointer) unranked);
  assert_has (((const WbDecision *) (gpointer) record)->crossed, g_ptr_array_index (proposal->crossed, 0));
  g_assert_cmpstr (((const WbDecision *) (gpointer) record)->crossed, ==, ((const WbDecision *) (gpointer) unranked)->crossed);
  /* none of it twice */
  for (guint i = 0; i < proposal->against->len; i++)
    g_assert_false (g_ptr_array_find_with_equal_func (proposal->crossed, g_ptr_array_index (proposal->against, i), g_str_equal, NULL));
}

/* What the same recipe did in another experiment counts as much. */
static void
test_elsewhere (void)
{
  g_autoptr (WbCraftAnswer) answer = ask (3, 0);
  g_autoptr (GPtrArray) elsewhere = g_ptr_array_new ();
  g_autoptr (WbCraftDecision) proposal = NULL;
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type);

  g_ptr_array_add (elsewhere, (gpointer) "A limit was crossed in CF-9: outside wall 90 °C.");
  proposal = propose (answer, 1, elsewhere);
  g_assert_cmpint (proposal->verdict, ==, WB_CRAFT_VERDICT_RECOMMENDED);
  g_assert_true (proposal->needs_reason);
  g_assert_cmpuint (proposal->crossed->len, ==, 1);
  /* signed, it stands in a field of its own, out of reach of whoever edits the sentences */
  g_assert_null (strstr (proposal->rests_on, "CF-9"));
  wb_craft_decision_fill (proposal, answer, (WbDecision *) (gpointer) record);
  g_assert_cmpstr (((const WbDecision *) (gpointer) record)->crossed, ==, "A limit was crossed in CF-9: outside wall 90 °C.");
  assert_has (proposal->rests_on, "Limits that the samples which count here passed: flame height");
  g_assert_null (strstr (proposal->rests_on, "Limits that were kept"));
}

/* Of lines, the one that begins so, without its end. */
static char *
dup_line (const char *text,
          const char *start)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (guint i = 0; lines[i] != NULL; i++)
    if (g_str_has_prefix (lines[i], start))
      return g_strdup (lines[i]);
  g_error ("no line of “%s” in: %s", start, text);
}

/* What one burn of four tells is no condition of all. */
static void
test_partly_known (void)
{
  const double strength[] = { 4.4 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftDecision) proposal = NULL;
  guint first, n;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 2, 2, 0.6);
  for (guint i = 0; i < data->burns->len; i++)
    ((WbBurn *) g_ptr_array_index (data->burns, i))->trim_mm = i == 0 ? 6 : NAN;
  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    {
      wb_readings_set (data->readings, row, WB_COLUMN_DRAUGHT, NAN);
      wb_readings_set (data->readings, row, WB_COLUMN_ROOM_C, NAN);
    }
  wb_readings_get_burn_rows (data->readings, 1, &first, &n);
  wb_readings_set (data->readings, first, WB_COLUMN_DRAUGHT, WB_DRAUGHT_NONE);
  wb_readings_set (data->readings, first, WB_COLUMN_ROOM_C, 21);
  for (guint i = 0; i < data->samples->len; i++)
    {
      ((WbSample *) g_ptr_array_index (data->samples, i))->fill_g = i == 0 ? 180 : NAN;
      ((WbSample *) g_ptr_array_index (data->samples, i))->cure_days = i == 0 ? 10 : NAN;
    }
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  proposal = propose (answer, 0, NULL);
  assert_has (proposal->conditions, "Wick trimmed to 6.0\302\240mm. That is noted for 1 of 4 burns only.");
  assert_has (proposal->conditions, "Without draught. That is noted for 1 of 4 burns only.");
  assert_has (proposal->conditions, "In a room of 21\302\240°C. That is noted for 1 of 4 burns only.");
  assert_has (proposal->conditions, "Lit after a cure of at least 10\302\240d. That is noted for 2 of 4 burns only.");
  assert_has (proposal->conditions, "That is noted for 1 of 2 samples only.");
}

static void
test_little (void)
{
  g_autoptr (WbCraftAnswer) answer = ask (1, 2);
  g_autoptr (WbCraftDecision) proposal = propose (answer, 1, NULL);

  g_assert_true (proposal->needs_reason);
  g_assert_cmpuint (proposal->against->len, >, 0);
  assert_has (proposal->rests_on, "1 sample and 2 burns; none burnt to the end that the protocol states.");
  assert_has (proposal->not_tested, "only one was burnt");
  assert_has (proposal->not_tested, "Parts of the candle that were not read: ");
  assert_has (proposal->not_tested, "Limits not tested over the whole candle: ");
}

/* Setting the sample aside does not take its crossing out of the decision. */
static void
test_set_aside (void)
{
  const double strength[] = { 3.4, 4.4 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftDecision) proposal = NULL;
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type), unranked = wb_record_new (&wb_decision_type);
  g_autofree char *passed = NULL;

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 4, 0, 0.6);
  wb_readings_set (data->readings, wb_readings_get_length (data->readings) - 1, WB_COLUMN_VESSEL_C, 84);
  ((WbSample *) g_ptr_array_index (data->samples, data->samples->len - 1))->set_aside_cause = WB_CAUSE_OTHER;
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  proposal = propose (answer, 1, NULL);
  g_assert_true (proposal->needs_reason);
  g_assert_cmpuint (proposal->crossed->len, ==, 1);
  assert_has (g_ptr_array_index (proposal->crossed, 0), "A sample that was set aside crossed a limit");
  assert_has (proposal->rests_on, "1 sample more was set aside.");
  wb_craft_decision_fill (proposal, answer, (WbDecision *) (gpointer) record);
  wb_craft_decision_fill_unranked (answer->data, answer->figures, answer->limits, 1, (WbDecision *) (gpointer) unranked);
  g_assert_cmpstr (((const WbDecision *) (gpointer) record)->crossed, ==, g_ptr_array_index (proposal->crossed, 0));
  g_assert_cmpstr (((const WbDecision *) (gpointer) unranked)->crossed, ==, g_ptr_array_index (proposal->crossed, 0));
  assert_has (proposal->rests_on, "Limits that a sample which was set aside crossed: outside wall");
  passed = dup_line (proposal->rests_on, "Limits that the samples which count here passed: ");
  g_assert_null (strstr (passed, "outside wall"));
}

/* One that may still be chosen, or one of which too little is known, keeps the experiment open. */
static void
test_all_rejected (void)
{
  const double strength[] = { 6.6, 7.2 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) some = ask (3, 0), all = NULL;
  WbDecision *decision;

  g_assert_false (wb_craft_decision_is_all_rejected (some));
  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 3, 0, 0.6);
  all = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_assert_true (wb_craft_decision_is_all_rejected (all));
  decision = wb_record_new (&wb_decision_type);
  decision->cell = wb_dataset_get_cell (data, 0)->record.id;
  g_ptr_array_add (data->decisions, decision);
  g_assert_false (wb_craft_decision_is_all_rejected (all));
}

static void
test_undecided (void)
{
  WbDataset *data = test_craft_data_new ();
  WbDecision *decision = wb_record_new (&wb_decision_type);
  guint n;

  test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B4", 4, 8);
  test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B5", 5, 8);
  test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B4", 4, 0);
  g_assert_cmpuint (wb_craft_decision_count_undecided (data, &n), ==, 2);
  g_assert_cmpuint (n, ==, 2);
  decision->cell = wb_dataset_get_cell (data, 1)->record.id;
  g_ptr_array_add (data->decisions, decision);
  g_assert_cmpuint (wb_craft_decision_count_undecided (data, &n), ==, 1);
  /* what is left out of the grid waits for nothing */
  ((WbCell *) g_ptr_array_index (data->cells, 2))->left_out = TRUE;
  g_assert_cmpuint (wb_craft_decision_count_undecided (data, &n), ==, 0);
  g_assert_cmpuint (n, ==, 1);
  wb_dataset_free (data);
}

/* Every reading over a limit, with a crack whatever the limits say; a limit that is off is over nothing. */
static void
test_crossings (void)
{
  WbDataset *data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B4", 4, 8), other = test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B5", 5, 8);
  guint sample = test_craft_add_sample (data, cell, "T1"), burn = test_craft_add_burn (data, sample), second;
  g_autoptr (GPtrArray) all = NULL, none = NULL, after = NULL;

  test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, 30);
  test_craft_read (data, burn, 120, WB_COLUMN_VESSEL_C, 84);
  test_craft_read (data, burn, 180, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  second = test_craft_add_burn (data, test_craft_add_sample (data, other, "T2"));
  test_craft_read (data, second, 60, WB_COLUMN_VESSEL_C, 90);
  all = wb_craft_crossed_new (data, cell);
  g_assert_cmpuint (all->len, ==, 2);
  assert_has (((const WbCraftCrossed *) all->pdata[0])->text, "120 min of burn 1 of sample T1");
  assert_has (((const WbCraftCrossed *) all->pdata[1])->text, "T1");
  for (guint i = 0; i < data->limits->len; i++)
    ((WbLimit *) g_ptr_array_index (data->limits, i))->off = TRUE;
  after = wb_craft_crossed_new (data, cell);
  g_assert_cmpuint (after->len, ==, 1);
  assert_has (((const WbCraftCrossed *) after->pdata[0])->text, "the vessel cracked in burn 1 of sample T1");
  none = wb_craft_crossed_new (data, other);
  g_assert_cmpuint (none->len, ==, 0);
  wb_dataset_free (data);
}

/* A crack stands with the signature whatever its limit says, once, whether or not the combination was ranked. */
static void
test_crack_kept (void)
{
  const double strength[] = { 3.4, 4.4 };
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftDecision) proposal = NULL;
  g_autoptr (WbRecord) record = wb_record_new (&wb_decision_type), unranked = wb_record_new (&wb_decision_type);

  test_craft_add_wicks (data, strength, G_N_ELEMENTS (strength), 4, 0, 0.6);
  wb_readings_set (data->readings, wb_readings_get_length (data->readings) - 1, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  for (guint i = 0; i < data->limits->len; i++)
    ((WbLimit *) g_ptr_array_index (data->limits, i))->off = ((WbLimit *) g_ptr_array_index (data->limits, i))->kind == WB_LIMIT_VESSEL_CRACK;
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  proposal = propose (answer, 1, NULL);
  g_assert_true (proposal->needs_reason);
  g_assert_cmpuint (proposal->crossed->len, ==, 1);
  assert_has (g_ptr_array_index (proposal->crossed, 0), "vessel cracked; its limit is turned off");
  wb_craft_decision_fill (proposal, answer, (WbDecision *) (gpointer) record);
  wb_craft_decision_fill_unranked (answer->data, answer->figures, answer->limits, 1, (WbDecision *) (gpointer) unranked);
  g_assert_cmpstr (((const WbDecision *) (gpointer) record)->crossed, ==, g_ptr_array_index (proposal->crossed, 0));
  g_assert_cmpstr (((const WbDecision *) (gpointer) unranked)->crossed, ==, g_ptr_array_index (proposal->crossed, 0));
}

/* The wall was hot when it cracked: that the crack's own limit is off hides it behind no other, nor the wall behind it. */
static void
test_hot_crack (void)
{
  WbDataset *data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B4", 4, 8), burn = test_craft_add_burn (data, test_craft_add_sample (data, cell, "T1"));
  g_autoptr (GPtrArray) all = NULL;

  test_craft_read (data, burn, 180, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
  wb_readings_set (data->readings, 0, WB_COLUMN_VESSEL_C, 95);
  for (guint i = 0; i < data->limits->len; i++)
    ((WbLimit *) g_ptr_array_index (data->limits, i))->off = ((WbLimit *) g_ptr_array_index (data->limits, i))->kind == WB_LIMIT_VESSEL_CRACK;
  all = wb_craft_crossed_new (data, cell);
  g_assert_cmpuint (all->len, ==, 2);
  assert_has (((const WbCraftCrossed *) all->pdata[0])->text, "the vessel cracked in burn 1 of sample T1");
  assert_has (((const WbCraftCrossed *) all->pdata[1])->text, "95");
  wb_dataset_free (data);
}

/* Held against a limit as it was, the same reading may have been under it. */
static void
test_other_limit (void)
{
  WbDataset *data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Hob", 76.2, "Brosk", "B4", 4, 8), burn = test_craft_add_burn (data, test_craft_add_sample (data, cell, "T1"));
  g_autoptr (GPtrArray) all = NULL;
  g_autoptr (WbRecord) copy = NULL;
  const WbCraftCrossed *crossed;
  WbLimit *version;

  test_craft_read (data, burn, 120, WB_COLUMN_VESSEL_C, 84);
  all = wb_craft_crossed_new (data, cell);
  g_assert_cmpuint (all->len, ==, 1);
  crossed = all->pdata[0];
  copy = wb_record_copy (g_ptr_array_index (data->limits, crossed->limit));
  version = (WbLimit *) (gpointer) copy;
  g_assert_true (wb_craft_crossed_is_over (data, crossed, version));
  version->off = TRUE;
  g_assert_false (wb_craft_crossed_is_over (data, crossed, version));
  version->off = FALSE;
  version->stop_at = 84;
  g_assert_false (wb_craft_crossed_is_over (data, crossed, version));
  version->stop_at = 83.9;
  g_assert_true (wb_craft_crossed_is_over (data, crossed, version));
  wb_dataset_free (data);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/decision/a-recommended-one-says-what-it-rests-on-and-what-not", test_recommended);
  g_test_add_func ("/craft/decision/a-crossing-stands-first-and-asks-for-a-reason", test_crossed);
  g_test_add_func ("/craft/decision/a-crossing-in-another-experiment-asks-for-a-reason", test_elsewhere);
  g_test_add_func ("/craft/decision/what-few-burns-tell-is-told-of-few", test_partly_known);
  g_test_add_func ("/craft/decision/too-little-data-is-told", test_little);
  g_test_add_func ("/craft/decision/setting-a-sample-aside-clears-nothing", test_set_aside);
  g_test_add_func ("/craft/decision/an-experiment-may-be-rejected-as-a-whole", test_all_rejected);
  g_test_add_func ("/craft/decision/each-vessel-and-scent-waits-for-its-own", test_undecided);
  g_test_add_func ("/craft/decision/crossings-of-a-recipe-are-found", test_crossings);
  g_test_add_func ("/craft/decision/a-crack-is-kept-with-the-signature", test_crack_kept);
  g_test_add_func ("/craft/decision/a-crack-is-found-behind-no-other-limit", test_hot_crack);
  g_test_add_func ("/craft/decision/a-reading-is-held-against-the-limit-as-it-was", test_other_limit);
  return g_test_run ();
}
