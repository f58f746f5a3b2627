/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <string.h>

#include "app-loop.h"
#include "decision-bench.h"
#include "wb-app-compute-private.h"
#include "wb-app-query.h"

/* Signing, withdrawing and reopening of the demo's decision on the Hob (all invented). */

static guint
count_decisions (WbAppNotebook *notebook)
{
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (notebook, &wb_decision_type, NULL);

  return decisions->len;
}

/* As the window does when something was recorded: what the last answer knows of the same values is taken over. */
static void
ask_anew (DecisionBench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbCraftAnswer) last = g_steal_pointer (&bench->answer);

  bench->answer = wb_app_compute_answer (wb_app_notebook_get_path (bench->notebook), bench->experiment, WB_CRAFT_WITHIN_SCENT, 0,
                                         last->estimates->memo, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
}

static WbAppDecisionDraft *
draft (DecisionBench *bench)
{
  g_autoptr (GError) error = NULL;
  WbAppDecisionDraft *made = wb_app_decision_draft_sync (bench->notebook, bench->answer, bench->group, &error);

  g_assert_no_error (error);
  return made;
}

static guint
find_verdict (const WbAppDecisionDraft *made,
              WbCraftVerdict            verdict)
{
  for (guint i = 0; i < made->proposals->len; i++)
    if (((const WbCraftDecision *) made->proposals->pdata[i])->verdict == verdict)
      return i;
  g_assert_not_reached ();
}

static guint
find_cell (const WbAppDecisionDraft *made,
           gint64                    cell)
{
  for (guint i = 0; i < made->proposals->len; i++)
    if (wb_dataset_get_cell (made->answer->data, ((const WbCraftDecision *) made->proposals->pdata[i])->cell)->record.id == cell)
      return i;
  g_assert_not_reached ();
}

static gboolean
sign (DecisionBench                    *bench,
      const WbAppDecisionDraft *made,
      guint                     index,
      const char               *who,
      const char               *against,
      GError                  **error)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (WbRecord) record = (WbRecord *) wb_app_decision_draft_dup_record (made, index);
  WbDecision *decision = (WbDecision *) (gpointer) record;

  /* as if its maker had wiped out what stands there of crossings: the record keeps them */
  g_clear_pointer (&decision->crossed, g_free);
  g_clear_pointer (&decision->rests_on, g_free);
  g_free (decision->signed_by);
  decision->signed_by = g_strdup (who);
  decision->against = g_strdup (against);
  wb_app_decision_sign_async (bench->notebook, made, index, decision, FALSE, NULL, app_keep_result_cb, &result);
  return wb_app_decision_sign_finish (bench->notebook, app_wait_result (&result), error);
}

/* One record, one entry, what it rested on kept; undo brings the one before back. */
static void
test_signed_anew (void)
{
  DecisionBench bench;
  g_autoptr (WbAppDecisionDraft) made = NULL;
  g_autoptr (WbRecord) before = NULL, after = NULL, undone = NULL;
  g_autoptr (GError) error = NULL;
  const WbDecision *signature;
  gint64 entry;

  decision_bench_open (&bench);
  made = draft (&bench);
  before = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  entry = wb_app_notebook_get_last_entry (bench.notebook);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED); /* by a lot of its wax */
  g_assert_false (sign (&bench, made, 0, "  ", NULL, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  g_assert_true (sign (&bench, made, 0, "Wren", "The old lot is burnt up.", &error));
  g_assert_no_error (error);
  g_assert_cmpint (wb_app_notebook_get_last_entry (bench.notebook), ==, entry + 1);
  after = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  signature = (const WbDecision *) (gpointer) after;
  g_assert_cmpint (signature->record.id, ==, before->id);
  g_assert_cmpstr (signature->signed_by, ==, "Wren");
  g_assert_cmpint (signature->answer_entry, ==, entry);
  g_assert_cmpint (signature->verdict, ==, (int) ((const WbCraftDecision *) made->proposals->pdata[0])->verdict);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  app_undo (bench.notebook, FALSE);
  undone = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  g_assert_cmpstr (((const WbDecision *) (gpointer) undone)->signed_by, ==, ((const WbDecision *) (gpointer) before)->signed_by);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  decision_bench_close (&bench);
}

static gboolean
starts (const char *text,
        const char *with)
{
  return text != NULL && g_str_has_prefix (text, with);
}

/* The lot that lies there unburnt is told first, kept in what is signed, and the decision stands for the burnt one alone until that is used up. */
static void
test_lot_not_burnt (void)
{
  static const char said[] = "Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt";
  DecisionBench bench;
  g_autoptr (WbAppDecisionDraft) made = NULL, again = NULL;
  g_autoptr (GPtrArray) lots = NULL;
  g_autoptr (GError) error = NULL;

  decision_bench_open (&bench);
  made = draft (&bench);
  g_assert_cmpuint (made->proposals->len, >, 1);
  for (guint i = 0; i < made->proposals->len; i++)
    {
      const WbCraftDecision *proposal = made->proposals->pdata[i];

      g_assert_cmpuint (proposal->not_burnt->len, ==, 1);
      g_assert_cmpstr (proposal->not_burnt->pdata[0], ==, "Wax lot W-112 of Dunmarl soft is in the notebook and was not burnt: what you sign holds for W-107 only.");
      g_assert_true (starts (proposal->not_tested, said));
      g_assert_true (starts (proposal->holds_until, "It holds for these lots and for no other: Dunmarl soft W-107"));
    }
  g_assert_true (sign (&bench, made, 0, "Wren", "Known lots.", &error));
  g_assert_no_error (error);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  lots = wb_app_query_list_sync (bench.notebook, &wb_lot_type, NULL);
  for (guint i = 0; i < lots->len; i++)
    {
      ((WbLot *) lots->pdata[i])->used_up = TRUE;
      app_save (bench.notebook, lots->pdata[i]);
    }
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_STANDS);
  again = draft (&bench);
  g_assert_cmpuint (((const WbCraftDecision *) again->proposals->pdata[0])->not_burnt->len, ==, 0);
  decision_bench_close (&bench);
}

/* One that crossed a limit is signed with a reason alone, which is kept. */
static void
test_rejected (void)
{
  DecisionBench bench;
  g_autoptr (WbAppDecisionDraft) made = NULL;
  g_autoptr (WbRecord) after = NULL;
  g_autoptr (GError) error = NULL;
  guint index;

  decision_bench_open (&bench);
  made = draft (&bench);
  index = find_verdict (made, WB_CRAFT_VERDICT_REJECTED);
  g_assert_false (sign (&bench, made, index, "Wren", " \n", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  g_assert_cmpuint (count_decisions (bench.notebook), ==, 1);
  g_assert_true (sign (&bench, made, index, "Wren", "Asked for by the shop, burnt in a lantern.", &error));
  g_assert_no_error (error);
  after = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  g_assert_cmpstr (((const WbDecision *) (gpointer) after)->against, ==, "Asked for by the shop, burnt in a lantern.");
  g_assert_cmpint (((const WbDecision *) (gpointer) after)->verdict, ==, WB_DECIDED_REJECTED);
  decision_bench_close (&bench);
}

static void
test_withdrawn (void)
{
  DecisionBench bench;
  g_autoptr (WbAppDecisions) all = NULL, after = NULL, undone = NULL;
  const WbAppTouched *decision;
  const WbAppWithdrawn *withdrawn;
  g_autoptr (GAsyncResult) refused = NULL, result = NULL;
  g_autoptr (GError) error = NULL;

  decision_bench_open (&bench);
  all = wb_app_decisions_sync (bench.notebook, bench.experiment, NULL);
  g_assert_cmpuint (all->withdrawn->len, ==, 0);
  decision = wb_app_decisions_find (all, bench.answer->data, &bench.answer->ranking->groups[bench.group]);
  wb_app_decision_withdraw_async (bench.notebook, decision, " ", NULL, app_keep_result_cb, &refused);
  g_assert_false (wb_app_decision_sign_finish (bench.notebook, app_wait_result (&refused), &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  wb_app_decision_withdraw_async (bench.notebook, decision, "The glass is no longer made.", NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_decision_sign_finish (bench.notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count_decisions (bench.notebook), ==, 0);
  after = wb_app_decisions_sync (bench.notebook, bench.experiment, NULL);
  withdrawn = wb_app_decisions_find_withdrawn (after, bench.answer->data, &bench.answer->ranking->groups[bench.group]);
  g_assert_nonnull (withdrawn);
  g_assert_cmpstr (withdrawn->why, ==, "Withdraw the decision for HF-1: The glass is no longer made.");
  app_undo (bench.notebook, FALSE);
  g_assert_cmpuint (count_decisions (bench.notebook), ==, 1);
  undone = wb_app_decisions_sync (bench.notebook, bench.experiment, NULL);
  g_assert_cmpuint (undone->withdrawn->len, ==, 0);
  g_clear_object (&refused);
  g_clear_object (&result);
  decision_bench_close (&bench);
}

/* A crack counts whatever the limits say: the reasons tell nothing of one that is turned off. */
static void
crack (WbAppNotebook *notebook,
       gint64         cell)
{
  g_autoptr (GPtrArray) limits = wb_app_query_list_sync (notebook, &wb_limit_type, NULL);

  for (guint i = 0; i < limits->len; i++)
    {
      WbLimit *limit = limits->pdata[i];

      if (limit->kind != WB_LIMIT_VESSEL_CRACK)
        continue;
      limit->off = TRUE;
      g_free (limit->off_reason);
      limit->off_reason = g_strdup ("Tried by another.");
      app_save (notebook, limit);
    }
  decision_bench_burn_with (notebook, cell, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
}

/* A check burn of its own recipe that crosses a limit after the signature; signed anew with it known, it stands. */
static void
test_reopened (void)
{
  DecisionBench bench;
  g_autoptr (WbAppDecisionDraft) made = NULL, again = NULL;
  g_autoptr (WbRecord) record = NULL, kept = NULL;
  g_autoptr (GPtrArray) touched = NULL;
  g_autoptr (GError) error = NULL;
  const WbCraftTouched *change;
  guint index;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  made = draft (&bench);
  g_assert_cmpint (wb_dataset_get_cell (bench.answer->data, ((const WbCraftDecision *) made->proposals->pdata[0])->cell)->record.id, ==,
                   ((const WbDecision *) (gpointer) record)->cell);
  g_assert_true (sign (&bench, made, 0, "Wren", "Known lots.", &error));
  decision_bench_burn (bench.notebook, ((const WbDecision *) (gpointer) record)->cell, 50);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  decision_bench_burn (bench.notebook, ((const WbDecision *) (gpointer) record)->cell, 88);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  touched = wb_app_touched_list_sync (bench.notebook, 0, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (touched->len, ==, 1);
  change = ((const WbAppTouched *) touched->pdata[0])->changes->pdata[0];
  g_assert_cmpint (change->kind, ==, WB_CRAFT_TOUCHED_CROSSED);
  g_assert_nonnull (strstr (change->what, "A limit was crossed in HF-1: "));
  g_assert_nonnull (strstr (change->what, "88"));
  /* the answer that the draft rests on is older than the crossing: it is told all the same, but nothing can be signed by it */
  again = draft (&bench);
  g_assert_cmpuint (((const WbCraftDecision *) again->proposals->pdata[0])->crossed->len, ==, 1);
  g_assert_true (again->stale);
  g_assert_false (sign (&bench, again, 0, "Wren", "The probe lay in the flame.", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_assert_nonnull (strstr (error->message, "has changed since the comparison was worked out"));
  g_clear_error (&error);
  g_clear_pointer (&again, wb_app_decision_draft_free);
  crack (bench.notebook, ((const WbDecision *) (gpointer) record)->cell);
  ask_anew (&bench);
  bench.group = decision_bench_find_group (bench.answer, ((const WbDecision *) (gpointer) record)->cell);
  again = draft (&bench);
  g_assert_false (again->stale);
  index = find_cell (again, ((const WbDecision *) (gpointer) record)->cell);
  /* the wall and the crack by the reasons, once each */
  g_assert_cmpuint (((const WbCraftDecision *) again->proposals->pdata[index])->crossed->len, ==, 2);
  g_assert_nonnull (strstr (((const WbCraftDecision *) again->proposals->pdata[index])->crossed->pdata[0], "88"));
  g_assert_nonnull (strstr (((const WbCraftDecision *) again->proposals->pdata[index])->crossed->pdata[1], "vessel cracked; its limit is turned off"));
  g_assert_true (((const WbCraftDecision *) again->proposals->pdata[index])->needs_reason);
  g_assert_false (sign (&bench, again, index, "Wren", NULL, &error));
  g_clear_error (&error);
  g_assert_true (sign (&bench, again, index, "Wren", "The probe lay in the flame.", &error));
  g_assert_no_error (error);
  kept = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  g_assert_nonnull (strstr (((const WbDecision *) (gpointer) kept)->crossed, "88"));
  g_assert_nonnull (strstr (((const WbDecision *) (gpointer) kept)->crossed, "vessel cracked; its limit is turned off"));
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  decision_bench_close (&bench);
}

/* What was recorded while the dialog stood open is behind what was signed. */
static void
test_while_signing (void)
{
  DecisionBench bench;
  g_autoptr (WbAppDecisionDraft) made = NULL;
  g_autoptr (WbRecord) record = NULL;
  g_autoptr (GError) error = NULL;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  made = draft (&bench);
  decision_bench_burn (bench.notebook, ((const WbDecision *) (gpointer) record)->cell, 88);
  g_assert_true (sign (&bench, made, 0, "Wren", "Nothing was seen yet.", &error));
  g_assert_no_error (error);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  decision_bench_close (&bench);
}

/* The recipe burns in another experiment: what it crosses there reopens the decision, and asks for a reason before the next one. */
static void
test_elsewhere (void)
{
  DecisionBench bench;
  g_autoptr (WbAppDecisionDraft) made = NULL, again = NULL;
  g_autoptr (WbRecord) record = NULL, decided = NULL, next = NULL;
  g_autoptr (GPtrArray) experiments = NULL, cells = NULL, others = NULL;
  g_autoptr (GError) error = NULL;
  WbCell *cell;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  experiments = wb_app_query_list_sync (bench.notebook, &wb_experiment_type, NULL);
  for (guint i = 0; i < experiments->len; i++)
    if (g_str_equal (((const WbExperiment *) experiments->pdata[i])->code, "HA-1"))
      next = wb_record_copy (experiments->pdata[i]);
  cells = wb_app_query_list_by_sync (bench.notebook, &wb_cell_type, "experiment", bench.experiment, NULL);
  for (guint i = 0; i < cells->len; i++)
    if (((const WbRecord *) cells->pdata[i])->id == ((const WbDecision *) (gpointer) record)->cell)
      decided = wb_record_copy (cells->pdata[i]);
  others = wb_app_query_list_by_sync (bench.notebook, &wb_cell_type, "experiment", next->id, NULL);
  cell = others->pdata[0];
  cell->vessel = ((WbCell *) (gpointer) decided)->vessel;
  cell->wick = ((WbCell *) (gpointer) decided)->wick;
  cell->fragrance = ((WbCell *) (gpointer) decided)->fragrance;
  cell->load_pct = ((WbCell *) (gpointer) decided)->load_pct;
  app_save (bench.notebook, cell);
  made = draft (&bench);
  g_assert_cmpuint (((const WbCraftDecision *) made->proposals->pdata[0])->crossed->len, ==, 0);
  g_assert_true (sign (&bench, made, 0, "Wren", "Known lots.", &error));
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  /* another wick of that experiment is another recipe */
  decision_bench_burn (bench.notebook, ((const WbRecord *) others->pdata[1])->id, 88);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_IN_PART);
  decision_bench_burn (bench.notebook, cell->record.id, 88);
  g_assert_cmpint (decision_bench_get_standing (&bench), ==, WB_CRAFT_STANDING_REOPENED);
  again = draft (&bench);
  g_assert_cmpuint (((const WbCraftDecision *) again->proposals->pdata[0])->crossed->len, ==, 1);
  g_assert_nonnull (strstr (((const WbCraftDecision *) again->proposals->pdata[0])->crossed->pdata[0], "A limit was crossed in HA-1: "));
  decision_bench_close (&bench);
}

static void
withdraw (WbAppNotebook *notebook,
          gpointer       record,
          const char    *why)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbRecord *gone = wb_record_copy (record);

  gone->deleted = TRUE;
  g_ptr_array_add (records, gone);
  wb_app_notebook_save_sync (notebook, why, records, NULL, &error);
  g_assert_no_error (error);
}

/* Of two, the one that was withdrawn last, though it was signed first. */
static void
test_last_withdrawn (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) first = NULL, second = NULL;
  g_autoptr (GPtrArray) decisions = NULL;
  g_autoptr (WbAppDecisions) all = NULL;
  const WbAppWithdrawn *withdrawn;

  decision_bench_open (&bench);
  first = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  second = wb_record_copy (first);
  second->id = 0;
  app_save (bench.notebook, second);
  decisions = wb_app_query_list_sync (bench.notebook, &wb_decision_type, NULL);
  g_assert_cmpuint (decisions->len, ==, 2);
  withdraw (bench.notebook, decisions->pdata[((const WbRecord *) decisions->pdata[0])->id == first->id ? 1 : 0], "The second goes");
  withdraw (bench.notebook, first, "The first goes after it");
  all = wb_app_decisions_sync (bench.notebook, bench.experiment, NULL);
  g_assert_cmpuint (all->withdrawn->len, ==, 2);
  withdrawn = wb_app_decisions_find_withdrawn (all, bench.answer->data, &bench.answer->ranking->groups[bench.group]);
  g_assert_cmpstr (withdrawn->why, ==, "The first goes after it");
  decision_bench_close (&bench);
}

/* To finish goes in the same entry, and is taken back with it. */
static void
test_finish (void)
{
  DecisionBench bench;
  g_autoptr (WbAppDecisionDraft) made = NULL;
  g_autoptr (WbRecord) record = NULL, open = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GPtrArray) experiments = NULL;
  g_autoptr (GError) error = NULL;
  gint64 entry;

  decision_bench_open (&bench);
  open = wb_record_copy (bench.answer->data->experiment);
  ((WbExperiment *) (gpointer) open)->closed = FALSE;
  app_save (bench.notebook, open);
  ask_anew (&bench);
  made = draft (&bench);
  g_assert_cmpuint (made->undecided, ==, bench.answer->ranking->n_groups - 1);
  record = (WbRecord *) wb_app_decision_draft_dup_record (made, 0);
  ((WbDecision *) (gpointer) record)->against = g_strdup ("Known lots.");
  entry = wb_app_notebook_get_last_entry (bench.notebook);
  wb_app_decision_sign_async (bench.notebook, made, 0, (WbDecision *) (gpointer) record, TRUE, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_decision_sign_finish (bench.notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
  g_assert_cmpint (wb_app_notebook_get_last_entry (bench.notebook), ==, entry + 1);
  for (guint pass = 0; pass < 2; pass++)
    {
      g_clear_pointer (&experiments, g_ptr_array_unref);
      experiments = wb_app_query_list_sync (bench.notebook, &wb_experiment_type, NULL);
      for (guint i = 0; i < experiments->len; i++)
        if (((const WbRecord *) experiments->pdata[i])->id == bench.experiment)
          g_assert_cmpint (((const WbExperiment *) experiments->pdata[i])->closed, ==, pass == 0);
      if (pass == 0)
        app_undo (bench.notebook, FALSE);
    }
  g_clear_object (&result);
  decision_bench_close (&bench);
}

static const WbExperiment *
find_experiment (const GPtrArray *experiments,
                 gint64           id)
{
  for (guint i = 0; i < experiments->len; i++)
    if (((const WbRecord *) experiments->pdata[i])->id == id)
      return experiments->pdata[i];
  g_assert_not_reached ();
}

/* With a reason, in one entry, and undone at once. */
static void
test_none (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) open = NULL;
  g_autoptr (GPtrArray) before = NULL, after = NULL, undone = NULL;
  g_autoptr (GAsyncResult) refused = NULL, result = NULL;
  g_autoptr (GError) error = NULL;
  gint64 entry;

  decision_bench_open (&bench);
  open = wb_record_copy (bench.answer->data->experiment);
  ((WbExperiment *) (gpointer) open)->closed = FALSE;
  app_save (bench.notebook, open);
  before = wb_app_query_list_sync (bench.notebook, &wb_experiment_type, NULL);
  entry = wb_app_notebook_get_last_entry (bench.notebook);
  wb_app_decision_none_async (bench.notebook, find_experiment (before, bench.experiment), " \n", NULL, app_keep_result_cb, &refused);
  g_assert_false (wb_app_decision_sign_finish (bench.notebook, app_wait_result (&refused), &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  wb_app_decision_none_async (bench.notebook, find_experiment (before, bench.experiment), " Each wick floods the glass.", NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_decision_sign_finish (bench.notebook, app_wait_result (&result), &error));
  g_assert_no_error (error);
  g_assert_cmpint (wb_app_notebook_get_last_entry (bench.notebook), ==, entry + 1);
  after = wb_app_query_list_sync (bench.notebook, &wb_experiment_type, NULL);
  g_assert_true (find_experiment (after, bench.experiment)->closed);
  app_undo (bench.notebook, FALSE);
  undone = wb_app_query_list_sync (bench.notebook, &wb_experiment_type, NULL);
  g_assert_false (find_experiment (undone, bench.experiment)->closed);
  g_clear_object (&refused);
  g_clear_object (&result);
  decision_bench_close (&bench);
}

void
test_app_decision_add (void)
{
  g_test_add_func ("/app/decision/signed-anew-it-is-the-same-record-and-one-entry", test_signed_anew);
  g_test_add_func ("/app/decision/a-lot-that-was-not-burnt-is-told-and-not-covered", test_lot_not_burnt);
  g_test_add_func ("/app/decision/what-crossed-a-limit-is-signed-with-a-reason-alone", test_rejected);
  g_test_add_func ("/app/decision/it-is-withdrawn-with-a-reason", test_withdrawn);
  g_test_add_func ("/app/decision/a-later-crossing-reopens-it", test_reopened);
  g_test_add_func ("/app/decision/what-came-in-while-it-was-signed-reopens-it", test_while_signing);
  g_test_add_func ("/app/decision/a-crossing-in-another-experiment-reopens-it", test_elsewhere);
  g_test_add_func ("/app/decision/the-last-that-was-withdrawn-is-told", test_last_withdrawn);
  g_test_add_func ("/app/decision/to-finish-goes-with-it", test_finish);
  g_test_add_func ("/app/decision/an-experiment-is-finished-without-one-with-a-reason", test_none);
}
