/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "app-paper.h"
#include "decision-bench.h"
#include "wb-app-decision-papers.h"
#include "wb-app-pour.h"
#include "wb-app-query.h"

#include <math.h>
#include <string.h>

/* Both papers of the demo's decision on the Hob (all invented), as commands and window make them. */

static char *
read_paper (DecisionBench              *bench,
            const WbAppProductionTerms *terms)
{
  g_autoptr (WbRecord) decision = (WbRecord *) decision_bench_dup_decision (bench->notebook);
  g_autoptr (GError) error = NULL;
  WbReportDocument *document = wb_app_decision_papers_sync (bench->notebook, decision->id, terms, WB_REPORT_A4, &error);

  g_assert_no_error (error);
  return app_read_paper (document);
}

static void
assert_says (const char *text,
             const char *what)
{
  if (strstr (text, what) == NULL)
    g_error ("“%s” is not in: %s", what, text);
}

static WbAppProductionTerms
read_terms (DecisionBench *bench)
{
  g_autoptr (WbRecord) decision = (WbRecord *) decision_bench_dup_decision (bench->notebook);
  g_autoptr (GError) error = NULL;
  WbAppProductionTerms terms;

  g_assert_true (wb_app_production_terms_read_sync (bench->notebook, decision->id, &terms, &error));
  g_assert_no_error (error);
  return terms;
}

/* What is on the card is what the record says, and how it stands by now. */
static void
test_card (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) decision = NULL;
  g_autofree char *before = NULL, *after = NULL;

  decision_bench_open (&bench);
  decision = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  before = read_paper (&bench, NULL);
  assert_says (before, "Recipe card");
  assert_says (before, ((const WbDecision *) (gpointer) decision)->signed_by);
  assert_says (before, "Reopened: it does not stand");
  g_assert_null (strstr (before, "A limit was crossed in HF-1"));
  decision_bench_burn (bench.notebook, ((const WbDecision *) (gpointer) decision)->cell, 88);
  after = read_paper (&bench, NULL);
  assert_says (after, "A limit was crossed in HF-1");
  decision_bench_close (&bench);
}

static double
set_trim (DecisionBench *bench,
          double         trim_mm)
{
  g_autoptr (GPtrArray) protocols = wb_app_query_list_sync (bench->notebook, &wb_protocol_type, NULL);
  double before = NAN;

  for (guint i = 0; i < protocols->len; i++)
    if (((const WbRecord *) protocols->pdata[i])->id == bench->answer->data->protocol->record.id)
      {
        WbProtocol *protocol = protocols->pdata[i];

        before = protocol->trim_mm;
        protocol->trim_mm = trim_mm;
        app_save (bench->notebook, protocol);
      }
  return before;
}

/* The version of the signature, of several before it the last; what it says since counts from the next signature on. */
static void
test_protocol_of_then (void)
{
  DecisionBench bench;
  g_autofree char *first = NULL, *then = NULL, *anew = NULL, *late = NULL;

  decision_bench_open (&bench);
  first = read_paper (&bench, NULL);
  g_assert_cmpfloat (set_trim (&bench, 4.25), ==, 6);
  set_trim (&bench, 4.5);
  then = read_paper (&bench, NULL);
  assert_says (first, "to 6 mm before each burn.");
  assert_says (then, "to 6 mm before each burn.");
  decision_bench_sign_what_is (&bench);
  anew = read_paper (&bench, NULL);
  assert_says (anew, "to 4.5 mm before each burn.");
  set_trim (&bench, 3);
  late = read_paper (&bench, NULL);
  assert_says (late, "to 4.5 mm before each burn.");
  decision_bench_close (&bench);
}

/* It is the answer's entry that counts: what was recorded while the dialog stood open was not before its maker's eyes. */
static void
test_protocol_while_signing (void)
{
  DecisionBench bench;
  g_autoptr (WbRecord) record = NULL;
  g_autofree char *text = NULL;
  WbDecision *decision;

  decision_bench_open (&bench);
  record = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  decision = (WbDecision *) (gpointer) record;
  decision->answer_entry = wb_app_notebook_get_last_entry (bench.notebook);
  set_trim (&bench, 4.5);
  decision->signed_at.utc_us += G_USEC_PER_SEC;
  app_save (bench.notebook, decision);
  text = read_paper (&bench, NULL);
  assert_says (text, "to 6 mm before each burn.");
  decision_bench_close (&bench);
}

/* Melts that are weighed alike share a page; lots that the signature does not cover are warned of. */
static void
test_production (void)
{
  DecisionBench bench;
  WbAppProductionTerms terms;
  g_autofree char *text = NULL, *told = NULL, *covered = NULL;
  g_autoptr (GPtrArray) parts = NULL;
  g_autoptr (WbRecord) decision = NULL;
  const char *wax_lot = NULL;

  decision_bench_open (&bench);
  terms = read_terms (&bench);
  g_assert_cmpuint (terms.vessels, ==, 12);
  g_assert_cmpfloat (terms.overage_pct, >, 0);
  terms.vessels = 48;
  terms.pot_g = 3000;
  text = read_paper (&bench, &terms);
  assert_says (text, "Production batch sheet");
  assert_says (text, "Lot used");
  g_assert_null (strstr (text, "48 × "));
  g_assert_null (strstr (text, "is not covered"));
  decision = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  parts = wb_craft_lot_parts_of_decision (bench.answer->data, (const WbDecision *) (gpointer) decision);
  for (guint i = 0; i < parts->len; i++)
    if (((const WbCraftLotPart *) parts->pdata[i])->material == bench.answer->data->wax)
      wax_lot = ((const WbCraftLotPart *) parts->pdata[i])->lots;
  g_assert_nonnull (wax_lot);
  terms.wax_lot = wax_lot;
  covered = read_paper (&bench, &terms);
  assert_says (covered, "Lot to be used");
  g_assert_null (strstr (covered, "is not covered"));
  terms.wax_lot = "NEVER-1";
  told = read_paper (&bench, &terms);
  assert_says (told, "Wax lot NEVER-1 of ");
  assert_says (told, "is not covered");
  decision_bench_close (&bench);
}

static void
test_refused (void)
{
  DecisionBench bench;
  WbAppProductionTerms terms;
  g_autoptr (WbRecord) decision = NULL, wax = NULL;
  g_autoptr (WbReportDocument) card = NULL;
  g_autoptr (GError) error = NULL;

  decision_bench_open (&bench);
  decision = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  terms = read_terms (&bench);
  terms.pot_g = 20;
  g_assert_null (wb_app_decision_papers_sync (bench.notebook, decision->id, &terms, -1, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_assert_nonnull (strstr (error->message, "The pot holds less than one candle takes"));
  g_clear_error (&error);
  /* the id of something else */
  g_assert_null (wb_app_decision_papers_sync (bench.notebook, bench.experiment, NULL, -1, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN);
  g_clear_error (&error);
  g_assert_false (wb_app_production_terms_read_sync (bench.notebook, bench.experiment, &terms, &error));
  g_assert_nonnull (error);
  g_clear_error (&error);
  card = wb_app_decision_papers_sync (bench.notebook, decision->id, NULL, -1, &error);
  g_assert_no_error (error);
  g_assert_false (wb_app_decision_papers_write_sync (bench.notebook, card, wb_app_notebook_get_path (bench.notebook), &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  decision_bench_close (&bench);
}

static char *
dup_lack (WbAppPour  *pour,
          gint64      cell,
          const char *text)
{
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_array_append_val (cells, cell);
  return wb_app_pour_dup_lack (pour, cells, wb_app_pour_get_data (pour)->wax->record.id, text);
}

/* At the pour of a recipe that is signed for: a lot that is not covered is told, one that is and another recipe are not. */
static void
test_pour (void)
{
  DecisionBench bench;
  WbAppPour *pour;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (WbRecord) decision = NULL;
  g_autoptr (GPtrArray) parts = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *lack = NULL, *covered = NULL, *other = NULL, *nothing = NULL;
  const char *burnt = NULL;
  gint64 cell, elsewhere = 0;

  decision_bench_open (&bench);
  decision = (WbRecord *) decision_bench_dup_decision (bench.notebook);
  cell = ((const WbDecision *) (gpointer) decision)->cell;
  parts = wb_craft_lot_parts_of_decision (bench.answer->data, (const WbDecision *) (gpointer) decision);
  for (guint i = 0; i < parts->len; i++)
    if (((const WbCraftLotPart *) parts->pdata[i])->material == bench.answer->data->wax)
      burnt = ((const WbCraftLotPart *) parts->pdata[i])->lots;
  for (guint i = 0; i < bench.answer->data->cells->len; i++)
    if (wb_dataset_get_cell (bench.answer->data, i)->record.id != cell)
      elsewhere = wb_dataset_get_cell (bench.answer->data, i)->record.id;
  pour = wb_app_pour_new (bench.notebook, bench.experiment);
  wb_app_pour_load_async (pour, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_pour_load_finish (pour, app_wait_result (&result), &error));
  g_assert_no_error (error);
  lack = dup_lack (pour, cell, "NEVER-1");
  assert_says (lack, "Wax lot NEVER-1 of ");
  assert_says (lack, "is not covered: the decision for HF-1 holds for ");
  covered = dup_lack (pour, cell, burnt);
  g_assert_null (covered);
  other = dup_lack (pour, elsewhere, "NEVER-1");
  g_assert_null (other);
  nothing = dup_lack (pour, cell, NULL);
  g_assert_null (nothing);
  g_clear_object (&result);
  g_assert_finalize_object (pour);
  decision_bench_close (&bench);
}

void
test_app_decision_papers_add (void)
{
  g_test_add_func ("/app/decision-papers/the-card-says-how-it-stands", test_card);
  g_test_add_func ("/app/decision-papers/the-protocol-is-that-of-the-signature", test_protocol_of_then);
  g_test_add_func ("/app/decision-papers/the-protocol-is-that-of-the-answer", test_protocol_while_signing);
  g_test_add_func ("/app/decision-papers/a-lot-that-is-not-covered-is-warned-of", test_production);
  g_test_add_func ("/app/decision-papers/whoever-pours-is-told-of-a-lot-that-is-not-covered", test_pour);
  g_test_add_func ("/app/decision-papers/what-cannot-be-is-refused", test_refused);
}
