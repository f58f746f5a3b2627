/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-demo.h"
#include "wb-app-lot-trace.h"
#include "wb-app-query.h"
#include "wb-app-today.h"
#include "wb-clock.h"

/* The demo's decision on the Hob, behind which a lot of its wax came in (all invented). */

static WbAppNotebook *
open_demo (void)
{
  g_autofree char *path = app_new_path ();
  g_autoptr (GError) error = NULL;

  wb_app_demo_write (path, &error);
  g_assert_no_error (error);
  return app_open (path);
}

static WbAppTouched *
read_one (WbAppNotebook *notebook)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) touched = wb_app_touched_list_sync (notebook, 0, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (touched->len, ==, 1);
  return wb_app_touched_ref (touched->pdata[0]);
}

static guint
count (WbAppNotebook *notebook)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) touched = wb_app_touched_list_sync (notebook, 0, &error);

  g_assert_no_error (error);
  return touched->len;
}

static const WbCraftTouched *
get_change (const WbAppTouched *touched)
{
  return g_ptr_array_index (touched->changes, 0);
}

static void
test_told (void)
{
  WbAppNotebook *notebook = open_demo ();
  g_autoptr (WbAppTouched) touched = read_one (notebook);

  g_assert_cmpstr (touched->experiment_code, ==, "HF-1");
  g_assert_cmpuint (touched->changes->len, ==, 1);
  g_assert_cmpuint (touched->open, ==, 1);
  g_assert_cmpstr (get_change (touched)->text, ==, "Wax lot W-112 of Dunmarl soft is new: the decision for HF-1 rests on W-107.");
  g_assert_cmpstr (touched->lots, ==, "Dunmarl soft W-107; Brosk B4 K-42");
  g_assert_cmpint (wb_app_touched_get_test (touched), ==, 0);
  app_close (notebook);
}

static gboolean
explain (WbAppNotebook      *notebook,
         const WbAppTouched *touched,
         const char         *why,
         GError            **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  wb_app_touched_explain_async (notebook, touched, why, NULL, app_keep_result_cb, &result);
  return wb_app_touched_explain_finish (notebook, app_wait_result (&result), error);
}

static void
test_explained (void)
{
  WbAppNotebook *notebook = open_demo ();
  g_autoptr (WbAppTouched) touched = read_one (notebook), after = NULL, again = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) lots = NULL;

  g_assert_false (explain (notebook, touched, "   ", &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_error (&error);
  g_assert_true (explain (notebook, touched, "The same drum, relabelled.", &error));
  g_assert_no_error (error);
  after = read_one (notebook);
  g_assert_cmpuint (after->open, ==, 0);
  g_assert_cmpint (get_change (after)->state, ==, WB_CRAFT_TOUCHED_EXPLAINED);
  g_assert_cmpstr (get_change (after)->why, ==, "The same drum, relabelled.");
  app_undo (notebook, FALSE);
  again = read_one (notebook);
  g_assert_cmpuint (again->open, ==, 1);

  /* used up, the lot asks nothing more */
  lots = wb_app_query_list_sync (notebook, &wb_lot_type, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < lots->len; i++)
    if (g_str_equal (((WbLot *) lots->pdata[i])->code, "W-112"))
      {
        ((WbLot *) lots->pdata[i])->used_up = TRUE;
        app_save (notebook, lots->pdata[i]);
      }
  g_assert_cmpuint (count (notebook), ==, 0);
  app_close (notebook);
}

static WbDecision *
dup_decision (WbAppNotebook *notebook)
{
  g_autoptr (GPtrArray) decisions = wb_app_query_list_sync (notebook, &wb_decision_type, NULL);

  g_assert_cmpuint (decisions->len, ==, 1);
  return wb_record_copy (decisions->pdata[0]);
}

/* Signed over a lot that lies there unburnt, it is one of what is known not to be covered, and nothing new. */
static void
test_signed_anew (void)
{
  WbAppNotebook *notebook = open_demo ();
  g_autoptr (GPtrArray) touched = NULL;
  g_autoptr (WbRecord) record = (WbRecord *) dup_decision (notebook);
  WbDecision *decision = (WbDecision *) (gpointer) record;

  /* a note that is written under it is no new signature */
  decision->note = g_strdup ("Framed above the bench.");
  app_save (notebook, decision);
  g_assert_cmpuint (count (notebook), ==, 1);
  /* a decision of its own for the same scent takes its place */
  decision->record.id = 0;
  decision->record.entry = 0;
  decision->signed_at = wb_clock_now (wb_clock_get ());
  decision->answer_entry = wb_app_notebook_get_last_entry (notebook);
  app_save (notebook, decision);
  touched = wb_app_touched_list_sync (notebook, 0, NULL);
  g_assert_cmpuint (touched->len, ==, 1);
  g_assert_cmpint (get_change (touched->pdata[0])->kind, ==, WB_CRAFT_TOUCHED_NOT_BURNT);
  app_close (notebook);
}

/* The same candle in another experiment, but for its dye: a decision for the one leaves the other's as it is. */
static void
test_dyed (void)
{
  WbAppNotebook *notebook = open_demo ();
  g_autoptr (WbRecord) record = (WbRecord *) dup_decision (notebook), dye = wb_record_new (&wb_dye_type);
  g_autoptr (GPtrArray) experiments = wb_app_query_list_sync (notebook, &wb_experiment_type, NULL), cells = NULL, all = NULL;
  WbDecision *decision = (WbDecision *) (gpointer) record;
  WbExperiment *other = NULL;
  const WbExperiment *own = NULL;
  WbCell *cell;
  gint64 tint;

  for (guint i = 0; i < experiments->len; i++)
    if (((const WbRecord *) experiments->pdata[i])->id == decision->experiment)
      own = experiments->pdata[i];
    else if (other == NULL)
      other = experiments->pdata[i];
  g_assert_true (own != NULL && other != NULL);
  ((WbDye *) (gpointer) dye)->name = g_strdup ("Invented blue");
  tint = app_save (notebook, dye);
  cells = wb_app_query_list_by_sync (notebook, &wb_cell_type, "experiment", ((const WbRecord *) other)->id, NULL);
  cell = g_ptr_array_index (cells, 0);
  all = wb_app_query_list_by_sync (notebook, &wb_cell_type, "experiment", decision->experiment, NULL);
  for (guint i = 0; i < all->len; i++)
    if (((const WbRecord *) all->pdata[i])->id == decision->cell)
      {
        const WbCell *decided = all->pdata[i];

        cell->vessel = decided->vessel;
        cell->fragrance = decided->fragrance;
        cell->load_pct = decided->load_pct;
        cell->load_basis = decided->load_basis;
      }
  app_save (notebook, cell);
  other->wax = own->wax;
  other->additive = own->additive;
  other->additive_pct = own->additive_pct;
  other->dye = tint;
  other->dye_pct = 0.2;
  app_save (notebook, other);
  decision->record.id = 0;
  decision->record.entry = 0;
  decision->experiment = other->record.id;
  decision->cell = cell->record.id;
  decision->signed_at = wb_clock_now (wb_clock_get ());
  app_save (notebook, decision);
  /* the one is told of as before; the other, of which no candle was burnt, rests on no lot */
  g_assert_cmpuint (count (notebook), ==, 2);
  app_close (notebook);
}

static gint64
find_wick (const WbAppMaterials *materials,
           const char           *size)
{
  for (guint i = 0; i < materials->wicks->len; i++)
    if (g_str_equal (((const WbWick *) materials->wicks->pdata[i])->size, size))
      return ((const WbRecord *) materials->wicks->pdata[i])->id;
  g_assert_not_reached ();
}

/* Fills a plan with the confirmation test; its sizes have to be those. */
static WbAppPlan *
fill_plan (WbAppNotebook      *notebook,
           const WbAppTouched *touched,
           const char *const  *sizes)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = wb_app_query_dataset_sync (notebook, touched->experiment, &error);
  WbAppPlan *plan = wb_app_plan_new (notebook, wb_app_query_materials_sync (notebook, &error));
  const GPtrArray *cells;

  g_assert_no_error (error);
  wb_app_touched_fill_plan (touched, data, plan);
  g_assert_true (wb_app_plan_is_complete (plan));
  cells = wb_app_plan_get_cells (plan);
  g_assert_cmpuint (cells->len, ==, g_strv_length ((char **) sizes));
  for (guint i = 0; i < cells->len; i++)
    {
      const WbCell *cell = g_ptr_array_index (cells, i);

      g_assert_cmpint (cell->wick, ==, find_wick (wb_app_plan_get_materials (plan), sizes[i]));
      g_assert_false (cell->left_out);
    }
  return plan;
}

static void
test_planned (void)
{
  WbAppNotebook *notebook = open_demo ();
  g_autoptr (WbAppTouched) touched = read_one (notebook), after = NULL;
  const char *const sizes[] = { "B3", "B4", "B5", NULL };
  WbAppPlan *plan = fill_plan (notebook, touched, sizes);
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GPtrArray) confirmations = NULL, experiments = NULL;
  g_autoptr (GError) error = NULL;
  const WbConfirmation *confirmation;
  gint64 id, entry;

  g_assert_cmpint (wb_app_plan_get_experiment (plan)->repeats, ==, touched->experiment);
  g_assert_nonnull (strstr (wb_app_plan_get_experiment (plan)->question, "Wax lot W-112 of Dunmarl soft is new."));
  wb_app_plan_save_async (plan, NULL, app_keep_result_cb, &result);
  id = wb_app_plan_save_finish (plan, app_wait_result (&result), &error);
  g_assert_no_error (error);
  entry = wb_app_notebook_get_last_entry (notebook);

  confirmations = wb_app_query_list_sync (notebook, &wb_confirmation_type, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (confirmations->len, ==, 1);
  confirmation = confirmations->pdata[0];
  g_assert_cmpint (confirmation->experiment, ==, id);
  g_assert_cmpint (confirmation->record.entry, ==, entry);
  g_assert_cmpint (confirmation->changed, ==, get_change (touched)->changed);
  after = read_one (notebook);
  g_assert_cmpuint (after->open, ==, 0);
  g_assert_cmpint (wb_app_touched_get_test (after), ==, id);
  g_clear_object (&result);
  app_finalize (plan, "the plan");
  app_close (notebook);
}

/* What the series has not is said, and there is a test of what it has. */
static void
test_ends (void)
{
  const struct { const char *chosen; const char *sizes[4]; const char *said; } cases[] = {
    { "B1", { "B1", "B2", NULL }, "Brosk B1 is the smallest of its series" },
    { "B6", { "B5", "B6", NULL }, "Brosk B6 is the largest of its series" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbAppNotebook *notebook = open_demo ();
      g_autoptr (WbAppMaterials) materials = wb_app_query_materials_sync (notebook, NULL);
      g_autoptr (WbRecord) decision = (WbRecord *) dup_decision (notebook);
      g_autoptr (GPtrArray) cells = wb_app_query_list_by_sync (notebook, &wb_cell_type, "experiment", ((WbDecision *) decision)->experiment, NULL);
      g_autoptr (WbAppTouched) touched = NULL;
      WbAppPlan *plan;

      for (guint k = 0; k < cells->len; k++)
        if (((WbRecord *) cells->pdata[k])->id == ((WbDecision *) decision)->cell)
          {
            ((WbCell *) cells->pdata[k])->wick = find_wick (materials, cases[i].chosen);
            app_save (notebook, cells->pdata[k]);
          }
      touched = read_one (notebook);
      plan = fill_plan (notebook, touched, cases[i].sizes);
      g_assert_nonnull (strstr (wb_app_plan_get_experiment (plan)->question, cases[i].said));
      app_finalize (plan, "the plan");
      app_close (notebook);
    }
}

static WbAppDue *
find_touched (WbAppToday *today)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (today)); i++)
    {
      g_autoptr (WbAppDue) due = g_list_model_get_item (G_LIST_MODEL (today), i);

      if (wb_app_due_get_kind (due) == WB_APP_DUE_TOUCHED)
        return g_steal_pointer (&due);
    }
  return NULL;
}

static gboolean
tells (gpointer today)
{
  g_autoptr (WbAppDue) due = find_touched (today);

  return due != NULL;
}

static gboolean
tells_nothing (gpointer today)
{
  return !tells (today);
}

static gboolean
asks_to_sign (gpointer today)
{
  g_autoptr (WbAppDue) due = find_touched (today);

  return due != NULL && strstr (wb_app_due_get_detail (due), "sign the decision for HF-1 anew") != NULL;
}

static void
test_today (void)
{
  WbAppNotebook *notebook = open_demo ();
  WbAppBench *bench = wb_app_bench_new (notebook);
  WbAppExperiments *experiments = wb_app_experiments_new (notebook);
  WbAppToday *today = wb_app_today_new (bench, experiments);
  g_autoptr (WbAppTouched) touched = read_one (notebook);
  const char *const sizes[] = { "B3", "B4", "B5", NULL };
  g_autoptr (WbAppDue) due = NULL;
  g_autoptr (WbRecord) test = NULL;
  g_autoptr (GAsyncResult) result = NULL, read = NULL;
  g_autoptr (GError) error = NULL;
  WbAppPlan *plan;
  gint64 id;

  app_wait_until (tells, today, "the decision that is touched");
  due = find_touched (today);
  g_assert_cmpstr (wb_app_due_get_title (due), ==, "Wax lot W-112 of Dunmarl soft is new");
  g_assert_cmpint (wb_app_due_get_decision (due), ==, touched->decision);

  plan = fill_plan (notebook, touched, sizes);
  wb_app_plan_save_async (plan, NULL, app_keep_result_cb, &result);
  id = wb_app_plan_save_finish (plan, app_wait_result (&result), &error);
  g_assert_no_error (error);
  app_wait_until (tells_nothing, today, "Today to wait for the test");

  /* its maker says that it is finished */
  wb_app_query_get_async (notebook, &wb_experiment_type, id, NULL, app_keep_result_cb, &read);
  test = wb_app_query_get_finish (notebook, app_wait_result (&read), &error);
  g_assert_no_error (error);
  ((WbExperiment *) test)->closed = TRUE;
  app_save (notebook, test);
  app_wait_until (asks_to_sign, today, "Today to ask for a new signature");

  g_clear_object (&result);
  g_clear_object (&read);
  app_finalize (plan, "the plan");
  g_clear_object (&due);
  app_finalize (today, "Today");
  app_finalize (experiments, "the experiments");
  app_finalize (bench, "the bench");
  app_close (notebook);
}

void
test_app_touched_add (void)
{
  g_test_add_func ("/app/touched/a-lot-that-came-after-the-signature-is-told", test_told);
  g_test_add_func ("/app/touched/a-reason-answers-it-and-is-kept", test_explained);
  g_test_add_func ("/app/touched/a-newer-decision-takes-its-place", test_signed_anew);
  g_test_add_func ("/app/touched/a-dyed-candle-is-another", test_dyed);
  g_test_add_func ("/app/touched/a-confirmation-test-is-one-entry-with-its-confirmation", test_planned);
  g_test_add_func ("/app/touched/at-the-ends-of-a-series-what-there-is-is-tested", test_ends);
  g_test_add_func ("/app/touched/today-tells-it-and-asks-to-sign-anew", test_today);
}
