/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "app-loop.h"
#include "wb-app-label.h"
#include "wb-app-lot-trace.h"
#include "wb-app-plan.h"
#include "wb-app-pour.h"
#include "wb-clock.h"
#include "wb-report-label-code.h"

#include <math.h>
#include <string.h>

typedef struct
{
  WbAppNotebook *notebook;
  gint64         wax, small, wide, wicks[3], scent;
  WbAppPlan     *plan;
} Bench;

static void
set_up (Bench *bench)
{
  g_autoptr (GError) error = NULL;
  WbAppMaterials *materials;

  bench->notebook = app_new_notebook ();
  bench->wax = app_add_wax (bench->notebook, "Heath blend");
  bench->small = app_add_vessel (bench->notebook, "Tern", 76);
  bench->wide = app_add_vessel (bench->notebook, "Gannet", 110);
  bench->wicks[0] = app_add_wick (bench->notebook, "Sedge", "S-2", 2);
  bench->wicks[1] = app_add_wick (bench->notebook, "Sedge", "S-3", 3);
  bench->wicks[2] = app_add_wick (bench->notebook, "Sedge", "S-4", 4);
  bench->scent = app_add_fragrance (bench->notebook, "Harbour mist");
  materials = wb_app_query_materials_sync (bench->notebook, &error);
  g_assert_no_error (error);
  bench->plan = wb_app_plan_new (bench->notebook, materials);
}

/* A plan that can be saved: one vessel, three wicks, a scent and the control. */
static void
fill_in (Bench *bench)
{
  WbExperiment *experiment = wb_app_plan_get_experiment (bench->plan);

  g_free (experiment->title);
  experiment->title = g_strdup ("Which Sedge for the Tern");
  experiment->wax = bench->wax;
  wb_app_plan_set_vessel (bench->plan, bench->small, TRUE);
  /* The grid's order is the materials', not the order of choosing. */
  wb_app_plan_set_wick (bench->plan, bench->wicks[2], TRUE);
  wb_app_plan_set_wick (bench->plan, bench->wicks[0], TRUE);
  wb_app_plan_set_wick (bench->plan, bench->wicks[1], TRUE);
  wb_app_plan_add_scent (bench->plan, 0, 0, WB_BASIS_WAX);
  wb_app_plan_add_scent (bench->plan, bench->scent, 8, WB_BASIS_WAX);
}

static void
tear_down (Bench *bench)
{
  g_clear_object (&bench->plan);
  app_close (bench->notebook);
}

static gint64
save_plan (Bench *bench)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  gint64 id;

  wb_app_plan_save_async (bench->plan, NULL, app_keep_result_cb, &result);
  id = wb_app_plan_save_finish (bench->plan, app_wait_result (&result), &error);
  g_assert_no_error (error);
  g_assert_cmpint (id, >, 0);
  return id;
}

static const WbAppPlanProblem *
find_problem (Bench      *bench,
              const char *field,
              gboolean    blocks)
{
  const GPtrArray *problems = wb_app_plan_get_problems (bench->plan);

  for (guint i = 0; i < problems->len; i++)
    {
      const WbAppPlanProblem *problem = g_ptr_array_index (problems, i);

      if (strcmp (problem->field, field) == 0 && problem->blocks == blocks)
        return problem;
    }
  return NULL;
}

/* The shelf changes while a plan is being made: what is gone leaves the grid, the rest stays. */
static void
test_materials_anew (void)
{
  Bench bench;
  g_autoptr (GArray) scents = NULL;
  g_autoptr (GError) error = NULL;
  WbAppMaterials *materials;

  set_up (&bench);
  fill_in (&bench);
  scents = g_array_copy ((GArray *) wb_app_plan_get_scents (bench.plan));
  g_array_index (scents, WbCraftScent, 0).load_pct = 5; /* of the control: it has none */
  g_array_set_size (scents, 1);
  wb_app_plan_set_scents (bench.plan, scents);
  g_assert_cmpuint (wb_app_plan_get_cells (bench.plan)->len, ==, 3);
  g_assert_cmpfloat (g_array_index (wb_app_plan_get_scents (bench.plan), WbCraftScent, 0).load_pct, ==, 0);

  materials = wb_app_query_materials_sync (bench.notebook, &error);
  g_assert_no_error (error);
  g_ptr_array_remove_index (materials->wicks, 0);
  g_ptr_array_set_size (materials->waxes, 0);
  wb_app_plan_set_materials (bench.plan, materials);
  g_assert_cmpuint (wb_app_plan_get_cells (bench.plan)->len, ==, 2);
  g_assert_false (wb_app_plan_has_wick (bench.plan, bench.wicks[0]));
  g_assert_true (wb_app_plan_has_vessel (bench.plan, bench.small));
  g_assert_nonnull (find_problem (&bench, "wax", TRUE));
  tear_down (&bench);
}

/* A dye without a share could not be weighed. */
static void
test_shares (void)
{
  Bench bench;
  WbExperiment *experiment;

  set_up (&bench);
  fill_in (&bench);
  experiment = wb_app_plan_get_experiment (bench.plan);
  experiment->dye = 4711;
  wb_app_plan_touch (bench.plan);
  g_assert_nonnull (find_problem (&bench, "dye_pct", TRUE));
  experiment->dye_pct = 0.05;
  experiment->additive = 4712;
  wb_app_plan_touch (bench.plan);
  g_assert_null (find_problem (&bench, "dye_pct", TRUE));
  g_assert_nonnull (find_problem (&bench, "additive_pct", TRUE));
  tear_down (&bench);
}

static void
test_no_experiment (void)
{
  Bench bench;
  g_autoptr (GError) error = NULL;

  set_up (&bench);
  g_assert_null (wb_app_query_dataset_sync (bench.notebook, 4711, &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN);
  tear_down (&bench);
}

static void
test_problems (void)
{
  Bench bench;
  const char *missing[] = { "title", "wax", "vessels", "wicks", "scents" };

  set_up (&bench);
  for (guint i = 0; i < G_N_ELEMENTS (missing); i++)
    g_assert_nonnull (find_problem (&bench, missing[i], TRUE));
  fill_in (&bench);
  g_assert_true (wb_app_plan_is_complete (bench.plan));
  g_assert_cmpuint (wb_app_plan_get_problems (bench.plan)->len, ==, 0);

  /* Common practice, no source: above about 90 to 100 mm makers use more than one wick. */
  wb_app_plan_set_vessel (bench.plan, bench.wide, TRUE);
  g_assert_nonnull (find_problem (&bench, "wicks", FALSE));
  wb_app_plan_set_wick_choice (bench.plan, bench.wicks[2], 2, 40, TRUE);
  g_assert_null (find_problem (&bench, "wicks", FALSE));
  /* In a ring: three of them 70 mm apart need a circle of 70 / sin 60° = 80.8 mm, and the Tern has 76 mm. */
  wb_app_plan_set_wick_choice (bench.plan, bench.wicks[2], 3, 70, TRUE);
  g_assert_nonnull (strstr (find_problem (&bench, "wicks", TRUE)->text, "do not fit into Tern"));
  wb_app_plan_set_wick_choice (bench.plan, bench.wicks[2], 3, 70, FALSE);
  wb_app_plan_set_wick_choice (bench.plan, bench.wicks[2], 3, 65, TRUE);
  g_assert_null (find_problem (&bench, "wicks", TRUE));
  /* The wax takes 10 % of its own mass: 12 % is above, and 9.5 % of the total is 10.5 % of the wax. */
  wb_app_plan_add_scent (bench.plan, bench.scent, 9.5, WB_BASIS_TOTAL);
  g_assert_nonnull (find_problem (&bench, "load", FALSE));
  wb_app_plan_add_scent (bench.plan, bench.scent, 8, WB_BASIS_WAX);
  g_assert_nonnull (find_problem (&bench, "scents", TRUE));
  g_assert_false (wb_app_plan_is_complete (bench.plan));
  wb_app_plan_set_samples_per_cell (bench.plan, 2);
  g_assert_nonnull (find_problem (&bench, "samples", FALSE));
  tear_down (&bench);
}

/* A vessel of which one has to be warned and a blend whose shares do not make 100 % are told, and stand in nobody's way. */
static void
test_cautions (void)
{
  Bench bench;
  WbAppMaterials *materials;
  WbFragrancePart *part = wb_record_new (&wb_fragrance_part_type);
  g_autoptr (GError) error = NULL;

  set_up (&bench);
  fill_in (&bench);
  g_assert_null (find_problem (&bench, "vessels", FALSE));
  g_assert_null (find_problem (&bench, "scents", FALSE));
  materials = wb_app_query_materials_sync (bench.notebook, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < materials->vessels->len; i++)
    ((WbVessel *) materials->vessels->pdata[i])->origin = WB_ORIGIN_SECOND_HAND;
  ((WbFragrance *) materials->fragrances->pdata[0])->blend = TRUE;
  part->fragrance = bench.scent;
  part->share_pct = 60;
  g_ptr_array_add (materials->parts, part);
  wb_app_plan_set_materials (bench.plan, materials);
  g_assert_true (g_str_has_prefix (find_problem (&bench, "vessels", FALSE)->text, "Tern: A second-hand vessel"));
  g_assert_nonnull (strstr (find_problem (&bench, "scents", FALSE)->text, "Harbour mist: The parts of the blend add up to 60"));
  g_assert_true (wb_app_plan_is_complete (bench.plan));
  tear_down (&bench);
}

/* What the batch sheet lacks, and wicks that differ in nothing, are told and stand in nobody's way. */
static void
test_second_look (void)
{
  Bench bench;
  WbAppMaterials *materials;
  g_autoptr (GError) error = NULL;

  set_up (&bench);
  fill_in (&bench);
  g_assert_null (find_problem (&bench, "vessels", FALSE));
  g_assert_null (find_problem (&bench, "wicks", FALSE));
  materials = wb_app_query_materials_sync (bench.notebook, &error);
  g_assert_no_error (error);
  ((WbWax *) g_ptr_array_index (materials->waxes, 0))->density = NAN;
  ((WbWick *) g_ptr_array_index (materials->wicks, 2))->step = 3;
  wb_app_plan_set_materials (bench.plan, materials);
  g_assert_nonnull (strstr (find_problem (&bench, "vessels", FALSE)->text, "The batch sheet needs it."));
  g_assert_nonnull (strstr (find_problem (&bench, "wicks", FALSE)->text, "S-3 and S-4 have the same place"));
  g_assert_true (wb_app_plan_is_complete (bench.plan));
  tear_down (&bench);
}

static WbLimit *
find_limit (Bench      *bench,
            WbLimitKind kind)
{
  GPtrArray *limits = wb_app_plan_get_limits (bench->plan);

  for (guint i = 0; i < limits->len; i++)
    if (((WbLimit *) g_ptr_array_index (limits, i))->kind == (int) kind)
      return g_ptr_array_index (limits, i);
  g_assert_not_reached ();
}

/* EN 15493 and ASTM F2417 name 75 mm and 3 in of flame (told by test laboratories): a maker may only tighten it. */
static void
test_limits (void)
{
  Bench bench;
  WbLimit *flame, *vessel;

  set_up (&bench);
  fill_in (&bench);
  flame = find_limit (&bench, WB_LIMIT_FLAME);
  vessel = find_limit (&bench, WB_LIMIT_VESSEL);
  flame->stop_at = 60;
  wb_app_plan_touch (bench.plan);
  g_assert_true (wb_app_plan_is_complete (bench.plan));
  flame->stop_at = 80;
  wb_app_plan_touch (bench.plan);
  g_assert_nonnull (find_problem (&bench, "limits", TRUE));
  flame->stop_at = 75;
  /* A house limit is the maker's own. */
  vessel->stop_at = 85;
  wb_app_plan_touch (bench.plan);
  g_assert_true (wb_app_plan_is_complete (bench.plan));
  vessel->off = TRUE;
  wb_app_plan_touch (bench.plan);
  g_assert_false (wb_app_plan_is_complete (bench.plan));
  vessel->off_reason = g_strdup ("No thermometer");
  wb_app_plan_touch (bench.plan);
  g_assert_true (wb_app_plan_is_complete (bench.plan));
  tear_down (&bench);
}

static void
test_cells (void)
{
  Bench bench;
  const GPtrArray *cells;
  WbCraftGridTotals totals;
  g_autofree char *name = NULL;
  g_auto (GStrv) codes = NULL;

  set_up (&bench);
  fill_in (&bench);
  cells = wb_app_plan_get_cells (bench.plan);
  g_assert_cmpuint (cells->len, ==, 6);
  g_assert_cmpint (((WbCell *) g_ptr_array_index (cells, 0))->wick, ==, bench.wicks[0]);
  wb_app_plan_set_cell_on (bench.plan, 0, FALSE);
  /* Switched off stays off while the grid grows around it. */
  wb_app_plan_set_vessel (bench.plan, bench.wide, TRUE);
  cells = wb_app_plan_get_cells (bench.plan);
  g_assert_cmpuint (cells->len, ==, 12);
  g_assert_true (((WbCell *) g_ptr_array_index (cells, 0))->left_out);
  totals = wb_app_plan_get_totals (bench.plan, 6);
  g_assert_cmpuint (totals.cells, ==, 11);
  g_assert_cmpuint (totals.samples, ==, 33);
  codes = wb_app_plan_dup_codes (bench.plan);
  g_assert_cmpuint (g_strv_length (codes), ==, 33);
  name = wb_app_plan_dup_cell_name (bench.plan, 0);
  g_assert_nonnull (strstr (name, "Tern"));
  g_assert_nonnull (strstr (name, "no fragrance"));
  tear_down (&bench);
}

static void
test_save (void)
{
  Bench bench;
  gint64 before, id;
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GError) error = NULL;

  set_up (&bench);
  fill_in (&bench);
  wb_app_plan_set_cell_on (bench.plan, 5, FALSE);
  before = wb_app_notebook_get_last_entry (bench.notebook);
  id = save_plan (&bench);
  g_assert_cmpint (wb_app_notebook_get_last_entry (bench.notebook), ==, before + 1);

  data = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (data->experiment->code, ==, "E-1");
  g_assert_cmpuint (data->samples->len, ==, 15);
  g_assert_cmpuint (data->limits->len, ==, wb_app_plan_get_limits (bench.plan)->len);
  g_assert_cmpuint (data->aims->len, >, 0);
  g_assert_cmpfloat (data->protocol->burn_s, ==, 4 * 3600);
  tear_down (&bench);
}

/* Two plans saved one after the other: codes, the samples' too, and titles stay distinct, and a title that is taken is refused. */
static void
test_second (void)
{
  Bench bench;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) experiments = NULL, samples = NULL;
  g_autoptr (GHashTable) codes = g_hash_table_new (g_str_hash, g_str_equal);

  set_up (&bench);
  fill_in (&bench);
  save_plan (&bench);
  wb_app_plan_save_async (bench.plan, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_plan_save_finish (bench.plan, app_wait_result (&result), &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_object (&result);
  g_free (wb_app_plan_get_experiment (bench.plan)->title);
  wb_app_plan_get_experiment (bench.plan)->title = g_strdup ("The same once more");
  save_plan (&bench);
  experiments = wb_app_query_experiments_sync (bench.notebook, NULL);
  g_assert_cmpuint (experiments->len, ==, 2);
  g_assert_cmpstr (wb_app_experiment_get_code (g_ptr_array_index (experiments, 1)), ==, "E-2");
  g_assert_cmpint (wb_app_experiment_get_state (g_ptr_array_index (experiments, 1)), ==, WB_CRAFT_STATE_PLANNED);
  samples = wb_app_query_list_sync (bench.notebook, &wb_sample_type, NULL);
  g_assert_cmpuint (samples->len, ==, 36);
  for (guint i = 0; i < samples->len; i++)
    g_assert_true (g_hash_table_add (codes, ((WbSample *) g_ptr_array_index (samples, i))->code));
  tear_down (&bench);
}

static void
load_pour (WbAppPour *pour)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;

  wb_app_pour_load_async (pour, NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_pour_load_finish (pour, app_wait_result (&result), &error));
  g_assert_no_error (error);
}

/* Two scents: two batches. One is marked, its samples carry the day, the lot and what was weighed. */
static void
test_pour (void)
{
  Bench bench;
  gint64 id;
  WbAppPour *pour;
  const WbAppPourBatch *batch;
  g_autoptr (WbRecord) actual = NULL;
  g_autoptr (GArray) poured = g_array_new (FALSE, FALSE, sizeof (WbAppPouredSample));
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  const WbSample *sample;
  WbAppPouredSample measured = { 0, { 210.5, 181.9, NAN, NAN, NAN, NAN, NAN } };

  set_up (&bench);
  fill_in (&bench);
  id = save_plan (&bench);
  pour = wb_app_pour_new (bench.notebook, id);
  load_pour (pour);
  g_assert_cmpuint (wb_app_pour_get_batches (pour)->len, ==, 2);
  batch = g_ptr_array_index (wb_app_pour_get_batches (pour), 0);
  g_assert_null (batch->refusal);
  g_assert_cmpuint (batch->samples->len, ==, 9);
  /* 200 g of water at a density of 0.9: 180 g a candle, and 5 % more for nine. */
  g_assert_cmpfloat_with_epsilon (g_array_index (batch->lines, WbAppPourLine, 0).fill_g, 180, 1e-9);
  g_assert_cmpfloat_with_epsilon (batch->sheet->total_g, 9 * 180 * 1.05, 0.11);

  actual = wb_record_copy (batch->batch);
  ((WbBatch *) actual)->wax_lot = g_strdup ("W-17");
  measured.sample = ((WbRecord *) g_ptr_array_index (batch->samples, 0))->id;
  g_array_append_val (poured, measured);
  wb_app_pour_mark_async (pour, 0, (WbBatch *) actual, NULL, poured, "K-4", NULL, "V-9", NULL, app_keep_result_cb, &result);
  g_assert_true (wb_app_pour_mark_finish (pour, app_wait_result (&result), &error));
  g_assert_no_error (error);
  g_clear_object (&result);

  load_pour (pour);
  batch = g_ptr_array_index (wb_app_pour_get_batches (pour), 0);
  g_assert_true (batch->poured);
  sample = g_ptr_array_index (batch->samples, 0);
  g_assert_cmpfloat (sample->tare_g, ==, 210.5);
  g_assert_cmpfloat (sample->fill_g, ==, 181.9);
  g_assert_cmpstr (sample->wax_lot, ==, "W-17");
  g_assert_cmpstr (sample->wick_lot, ==, "K-4");
  /* and the vessel's can be traced */
  g_assert_cmpstr (sample->vessel_lot, ==, "V-9");
  {
    const WbDataset *data = wb_app_pour_get_data (pour);
    gint64 vessel = wb_app_pour_find_vessel (pour, batch);
    g_autoptr (WbAppLotTrace) trace = NULL;

    g_assert_cmpint (vessel, ==, wb_dataset_get_cell (data, 0)->vessel);
    trace = wb_app_lot_trace_sync (bench.notebook, vessel, "v-9", &error);
    g_assert_no_error (error);
    g_assert_true (trace->is_record);
    g_assert_cmpuint (trace->samples, ==, batch->samples->len);
  }
  g_assert_cmpint (sample->poured_on, ==, wb_instant_get_day (wb_clock_now (wb_clock_get ())));
  wb_app_pour_mark_async (pour, 0, batch->batch, NULL, NULL, NULL, NULL, NULL, NULL, app_keep_result_cb, &result);
  g_assert_false (wb_app_pour_mark_finish (pour, app_wait_result (&result), &error));
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_REFUSED);
  g_clear_object (&result);
  g_assert_finalize_object (pour);
  tear_down (&bench);
}

static void
mark_pour (WbAppPour *pour,
           guint      batch)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  const WbAppPourBatch *marked = g_ptr_array_index (wb_app_pour_get_batches (pour), batch);

  wb_app_pour_mark_async (pour, batch, marked->batch, NULL, NULL, NULL, NULL, NULL, NULL, app_keep_result_cb, &result);
  wb_app_pour_mark_finish (pour, app_wait_result (&result), &error);
  g_assert_no_error (error);
  load_pour (pour);
}

static void
assert_batch (WbAppPour  *pour,
              guint       place,
              const char *code,
              const char *title,
              gboolean    poured)
{
  const WbAppPourBatch *batch = g_ptr_array_index (wb_app_pour_get_batches (pour), place);

  g_assert_cmpstr (batch->batch->code, ==, code);
  g_assert_cmpstr (batch->title, ==, title);
  g_assert_cmpint (batch->poured, ==, poured);
}

/* The sheet on paper names a batch: it keeps that name while it waits, whichever of the two is poured first. */
static void
test_second_first (void)
{
  Bench bench;
  WbAppPour *pour;
  g_autofree char *first = NULL, *second = NULL;

  set_up (&bench);
  fill_in (&bench);
  pour = wb_app_pour_new (bench.notebook, save_plan (&bench));
  load_pour (pour);
  first = g_strdup (((const WbAppPourBatch *) wb_app_pour_get_batches (pour)->pdata[0])->title);
  second = g_strdup (((const WbAppPourBatch *) wb_app_pour_get_batches (pour)->pdata[1])->title);
  assert_batch (pour, 0, "B1", first, FALSE);
  assert_batch (pour, 1, "B2", second, FALSE);
  mark_pour (pour, 1);
  assert_batch (pour, 0, "B1", first, FALSE);
  assert_batch (pour, 1, "B2", second, TRUE);
  mark_pour (pour, 0);
  assert_batch (pour, 0, "B1", first, TRUE);
  assert_batch (pour, 1, "B2", second, TRUE);
  g_assert_finalize_object (pour);
  tear_down (&bench);
}

/* A plan begun from a stored one, in the plan's own place or beside it. */
static WbDataset *
begin_from (Bench   *bench,
            gint64   id,
            gboolean replaces)
{
  g_autoptr (GError) error = NULL;
  WbDataset *data = wb_app_query_dataset_sync (bench->notebook, id, &error);

  g_assert_no_error (error);
  g_clear_object (&bench->plan);
  bench->plan = wb_app_plan_new (bench->notebook, wb_app_query_materials_sync (bench->notebook, &error));
  wb_app_plan_take (bench->plan, data, replaces);
  return data;
}

/* Before anything is poured another size comes in and a combination goes: one entry, the same experiment, no row left over. */
static void
test_change (void)
{
  Bench bench;
  g_autoptr (WbDataset) before = NULL;
  g_autoptr (WbDataset) after = NULL;
  g_autoptr (WbDataset) undone = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  gint64 id, entry;

  set_up (&bench);
  fill_in (&bench);
  wb_app_plan_set_wick (bench.plan, bench.wicks[2], FALSE);
  wb_app_plan_set_cell_on (bench.plan, 3, FALSE);
  id = save_plan (&bench);
  before = begin_from (&bench, id, TRUE);
  g_assert_true (wb_app_plan_can_replace (before));
  /* It begins as it stands: the same grid, the same one left out. */
  g_assert_cmpuint (wb_app_plan_get_cells (bench.plan)->len, ==, 4);
  g_assert_true (((WbCell *) g_ptr_array_index (wb_app_plan_get_cells (bench.plan), 3))->left_out);
  g_assert_cmpuint (wb_app_plan_get_scents (bench.plan)->len, ==, 2);
  entry = wb_app_notebook_get_last_entry (bench.notebook);
  wb_app_plan_set_wick (bench.plan, bench.wicks[2], TRUE);
  wb_app_plan_get_protocol (bench.plan)->trim_mm = 5;
  g_assert_cmpint (save_plan (&bench), ==, id);
  g_assert_cmpint (wb_app_notebook_get_last_entry (bench.notebook), ==, entry + 1);

  after = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (after->experiment->code, ==, before->experiment->code);
  g_assert_cmpuint (after->cells->len, ==, 6);
  g_assert_cmpuint (after->samples->len, ==, 5 * (guint) after->experiment->samples_per_cell);
  g_assert_cmpuint (after->limits->len, ==, before->limits->len);
  g_assert_cmpint (after->protocol->record.id, ==, before->protocol->record.id);
  g_assert_cmpfloat (after->protocol->trim_mm, ==, 5);

  wb_app_notebook_undo_async (bench.notebook, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_notebook_save_finish (bench.notebook, app_wait_result (&result), NULL, &error), >, entry + 1);
  g_assert_no_error (error);
  undone = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (undone->cells->len, ==, 4);
  g_assert_cmpuint (undone->samples->len, ==, before->samples->len);
  g_clear_object (&result);
  tear_down (&bench);
}

static const WbSample *
find_sample (const WbDataset *data,
             gint64           id)
{
  for (guint i = 0; i < data->samples->len; i++)
    if (wb_dataset_get_sample (data, i)->record.id == id)
      return wb_dataset_get_sample (data, i);
  return NULL;
}

static gboolean
find_label (Bench         *bench,
            const WbUuid  *uuid,
            GError       **error)
{
  g_autoptr (GAsyncResult) result = NULL;
  g_autofree char *code = wb_report_label_code_new (uuid);
  WbAppLabel *label;

  wb_app_label_find_async (bench->notebook, code, NULL, app_keep_result_cb, &result);
  label = wb_app_label_find_finish (bench->notebook, app_wait_result (&result), error);
  if (label == NULL)
    return FALSE;
  wb_app_label_free (label);
  return TRUE;
}

/* Labels may be printed, codes drawn and cohorts made before the pour: what both plans have is the same sample afterwards. */
static void
test_change_keeps (void)
{
  Bench bench;
  g_autoptr (WbDataset) before = NULL;
  g_autoptr (WbDataset) after = NULL;
  g_autoptr (GHashTable) codes = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  guint gone = 0;
  gint64 id;

  set_up (&bench);
  fill_in (&bench);
  id = save_plan (&bench);
  before = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < before->samples->len; i++)
    {
      WbSample *sample = wb_record_copy (wb_dataset_get_sample (before, i));

      sample->cohort = 1 + i % 2;
      sample->blind_code = 100 + i;
      g_ptr_array_add (records, sample);
    }
  g_assert_cmpint (wb_app_notebook_save_sync (bench.notebook, "Divide", records, NULL, &error), >, 0);
  g_clear_pointer (&before, wb_dataset_free);

  before = begin_from (&bench, id, TRUE);
  wb_app_plan_set_wick (bench.plan, bench.wicks[2], FALSE);
  wb_app_plan_set_samples_per_cell (bench.plan, (guint) before->experiment->samples_per_cell + 1);
  g_assert_cmpint (save_plan (&bench), ==, id);
  after = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (after->samples->len, ==, after->cells->len * (guint) after->experiment->samples_per_cell);
  for (guint i = 0; i < after->samples->len; i++)
    g_assert_true (g_hash_table_add (codes, wb_dataset_get_sample (after, i)->code));
  for (guint i = 0; i < before->samples->len; i++)
    {
      const WbSample *then = wb_dataset_get_sample (before, i), *now = find_sample (after, then->record.id);
      gboolean stays = wb_dataset_get_cell (before, g_array_index (before->sample_cell, guint, i))->wick != bench.wicks[2];

      g_assert_cmpint (now != NULL, ==, stays);
      g_assert_cmpint (find_label (&bench, &then->uuid, &error), ==, stays);
      if (!stays)
        {
          g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_UNKNOWN);
          g_assert_nonnull (strstr (error->message, then->code));
          g_clear_error (&error);
          gone++;
          continue;
        }
      g_assert_cmpstr (now->code, ==, then->code);
      g_assert_cmpint (now->cell, ==, then->cell);
      g_assert_cmpint (now->cohort, ==, then->cohort);
      g_assert_cmpint (now->blind_code, ==, then->blind_code);
    }
  g_assert_cmpuint (gone, >, 0);
  tear_down (&bench);
}

/* An experiment that came from a file says nowhere how many of each it has: another like it begins with as many as there are. */
static void
test_take_unsaid (void)
{
  Bench bench;
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (WbDataset) again = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbExperiment *experiment;
  gint64 id, planned;

  set_up (&bench);
  fill_in (&bench);
  id = save_plan (&bench);
  data = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_no_error (error);
  planned = data->experiment->samples_per_cell;
  experiment = wb_record_copy (data->experiment);
  experiment->samples_per_cell = WB_INTEGER_NONE;
  g_ptr_array_add (records, experiment);
  g_assert_cmpint (wb_app_notebook_save_sync (bench.notebook, "Forget", records, NULL, &error), >, 0);
  g_assert_no_error (error);
  again = begin_from (&bench, id, FALSE);
  g_assert_cmpint (wb_app_plan_get_experiment (bench.plan)->samples_per_cell, ==, planned);
  tear_down (&bench);
}

/* A protocol that others are burnt by is theirs: the change gets one of its own, and the others stay as they are. */
static void
test_change_shared (void)
{
  Bench bench;
  g_autoptr (WbDataset) first = NULL;
  g_autoptr (WbDataset) second = NULL;
  g_autoptr (WbDataset) changed = NULL;
  g_autoptr (WbDataset) other = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  g_autoptr (GError) error = NULL;
  WbExperiment *experiment;
  gint64 id, shared;

  set_up (&bench);
  fill_in (&bench);
  id = save_plan (&bench);
  first = begin_from (&bench, id, FALSE);
  shared = save_plan (&bench);
  second = wb_app_query_dataset_sync (bench.notebook, shared, &error);
  experiment = wb_record_copy (second->experiment);
  experiment->protocol = first->experiment->protocol;
  g_ptr_array_add (records, experiment);
  g_assert_cmpint (wb_app_notebook_save_sync (bench.notebook, "Share", records, NULL, &error), >, 0);
  g_assert_no_error (error);

  g_clear_pointer (&second, wb_dataset_free);
  second = begin_from (&bench, shared, TRUE);
  wb_app_plan_get_protocol (bench.plan)->trim_mm = 3;
  ((WbLimit *) g_ptr_array_index (wb_app_plan_get_limits (bench.plan), 0))->ask_at = 1;
  g_assert_cmpint (save_plan (&bench), ==, shared);
  changed = wb_app_query_dataset_sync (bench.notebook, shared, &error);
  g_assert_no_error (error);
  other = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat (changed->protocol->trim_mm, ==, 3);
  g_assert_cmpuint (changed->limits->len, ==, first->limits->len);
  g_assert_cmpint (other->protocol->record.id, ==, first->protocol->record.id);
  g_assert_cmpfloat (other->protocol->trim_mm, ==, first->protocol->trim_mm);
  g_assert_cmpuint (other->limits->len, ==, first->limits->len);
  for (guint i = 0; i < other->limits->len; i++)
    g_assert_cmpfloat (((WbLimit *) g_ptr_array_index (other->limits, i))->ask_at, !=, 1);
  tear_down (&bench);
}

/* One wick beside two of it, and two at two distances: taken over, the plan has them all, and codes tell them apart. */
static void
test_several_wicks (void)
{
  Bench bench;
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (GHashTable) codes = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GArray) twice = NULL;
  const GArray *choices;
  gint64 id;

  set_up (&bench);
  fill_in (&bench);
  wb_app_plan_set_wick_choice (bench.plan, bench.wicks[0], 2, 40, TRUE);
  wb_app_plan_set_wick_choice (bench.plan, bench.wicks[0], 2, 25, TRUE);
  wb_app_plan_set_wick_choice (bench.plan, bench.wicks[0], 2, 25, TRUE);
  wb_app_plan_set_wick_choice (bench.plan, 4711, 2, 25, TRUE);
  wb_app_plan_set_wick (bench.plan, bench.wicks[1], FALSE);
  wb_app_plan_set_wick (bench.plan, bench.wicks[2], FALSE);
  g_assert_cmpuint (wb_app_plan_get_cells (bench.plan)->len, ==, 6);
  wb_app_plan_set_cell_on (bench.plan, 1, FALSE); /* unscented, two of them 25 mm apart */
  g_assert_cmpuint (wb_app_plan_get_totals (bench.plan, 4).wicks, ==, 3 * (1 + 2 + 1 + 2 + 2));
  id = save_plan (&bench);

  data = begin_from (&bench, id, FALSE);
  for (guint i = 0; i < data->samples->len; i++)
    g_assert_true (g_hash_table_add (codes, wb_dataset_get_sample (data, i)->code));
  g_assert_cmpuint (wb_app_plan_get_cells (bench.plan)->len, ==, 6);
  for (guint i = 0; i < 6; i++)
    g_assert_cmpint (((WbCell *) g_ptr_array_index (wb_app_plan_get_cells (bench.plan), i))->left_out, ==, i == 1);
  choices = wb_app_plan_get_wick_choices (bench.plan);
  g_assert_cmpuint (choices->len, ==, 3);
  g_assert_cmpuint (g_array_index (choices, WbCraftWickChoice, 0).count, ==, 1);
  g_assert_cmpfloat (g_array_index (choices, WbCraftWickChoice, 1).spacing_mm, ==, 25);
  g_assert_cmpfloat (g_array_index (choices, WbCraftWickChoice, 2).spacing_mm, ==, 40);
  twice = g_array_copy ((GArray *) choices);
  g_array_append_val (twice, g_array_index (choices, WbCraftWickChoice, 2));
  wb_app_plan_set_wick_choices (bench.plan, twice);
  g_assert_nonnull (strstr (find_problem (&bench, "wicks", TRUE)->text, "twice"));
  tear_down (&bench);
}

/* Repeated with another wax: known as what it repeats, and what differs is told, also when its stored plan is changed later. */
static void
test_repeat (void)
{
  Bench bench;
  g_autoptr (WbDataset) source = NULL;
  g_autoptr (WbDataset) stored = NULL;
  g_autoptr (WbDataset) changed = NULL;
  g_autoptr (WbDataset) other = NULL;
  g_autoptr (GError) error = NULL;
  gint64 id, repeat, another;

  set_up (&bench);
  another = app_add_wax (bench.notebook, "Dunmarl soft");
  fill_in (&bench);
  id = save_plan (&bench);
  source = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_clear_object (&bench.plan);
  bench.plan = wb_app_plan_new (bench.notebook, wb_app_query_materials_sync (bench.notebook, &error));
  g_assert_null (wb_app_plan_get_changes (bench.plan));
  wb_app_plan_repeat (bench.plan, source);
  g_assert_cmpuint (wb_app_plan_get_changes (bench.plan)->len, ==, 0);
  g_assert_cmpstr (wb_app_plan_get_repeated (bench.plan), ==, "E-1");
  wb_app_plan_get_experiment (bench.plan)->wax = another;
  wb_app_plan_touch (bench.plan);
  g_assert_cmpuint (wb_craft_repeat_count (wb_app_plan_get_changes (bench.plan)), ==, 1);
  /* a part of the grid is told, and is no second change */
  wb_app_plan_set_wick (bench.plan, bench.wicks[0], FALSE);
  g_assert_cmpuint (wb_app_plan_get_changes (bench.plan)->len, ==, 2);
  g_assert_cmpuint (wb_craft_repeat_count (wb_app_plan_get_changes (bench.plan)), ==, 1);
  wb_app_plan_set_wick (bench.plan, bench.wicks[0], TRUE);
  repeat = save_plan (&bench);
  stored = wb_app_query_dataset_sync (bench.notebook, repeat, &error);
  g_assert_no_error (error);
  g_assert_cmpint (stored->experiment->repeats, ==, id);
  for (guint i = 0; i < stored->samples->len; i++)
    g_assert_true (g_str_has_prefix (wb_dataset_get_sample (stored, i)->code, "R2-"));
  /* what is stored stays */
  for (guint i = 0; i < source->samples->len; i++)
    g_assert_cmpuint (wb_craft_grid_run_of_code (wb_dataset_get_sample (source, i)->code), ==, 1);

  changed = begin_from (&bench, repeat, TRUE);
  g_assert_null (wb_app_plan_get_changes (bench.plan)); /* not read yet */
  wb_app_plan_set_repeated (bench.plan, source);
  g_assert_cmpuint (wb_app_plan_get_changes (bench.plan)->len, ==, 1);
  /* One that only begins like it repeats nothing. */
  other = begin_from (&bench, repeat, FALSE);
  g_assert_cmpint (wb_app_plan_get_experiment (bench.plan)->repeats, ==, 0);
  tear_down (&bench);
}

/* Further samples of two of its combinations: nothing else is planned, and nothing is told as changed but that the grid is a part. */
static void
test_repeat_some (void)
{
  Bench bench;
  g_autoptr (WbDataset) source = NULL, stored = NULL;
  g_autoptr (GArray) cells = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GError) error = NULL;
  gint64 id;
  guint on = 0;

  set_up (&bench);
  fill_in (&bench);
  id = save_plan (&bench);
  source = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_cmpuint (source->cells->len, >, 2);
  for (guint i = 0; i < 2; i++)
    g_array_append_val (cells, wb_dataset_get_cell (source, i)->record.id);
  g_clear_object (&bench.plan);
  bench.plan = wb_app_plan_new (bench.notebook, wb_app_query_materials_sync (bench.notebook, &error));
  wb_app_plan_repeat_some (bench.plan, source, cells, 4);
  g_assert_cmpuint (wb_craft_repeat_count (wb_app_plan_get_changes (bench.plan)), ==, 0);
  stored = wb_app_query_dataset_sync (bench.notebook, save_plan (&bench), &error);
  g_assert_no_error (error);
  g_assert_cmpint (stored->experiment->repeats, ==, id);
  g_assert_cmpuint (stored->samples->len, ==, 2 * 4);
  for (guint i = 0; i < stored->cells->len; i++)
    {
      const WbCell *cell = wb_dataset_get_cell (stored, i), *first = wb_dataset_get_cell (source, 0), *second = wb_dataset_get_cell (source, 1);

      if (cell->left_out)
        continue;
      on++;
      g_assert_true ((cell->wick == first->wick && cell->vessel == first->vessel && cell->fragrance == first->fragrance)
                     || (cell->wick == second->wick && cell->vessel == second->vessel && cell->fragrance == second->fragrance));
    }
  g_assert_cmpuint (on, ==, 2);
  tear_down (&bench);
}

/* Once a sample is poured its plan stands; another experiment may still begin with it. */
static void
test_another (void)
{
  Bench bench;
  g_autoptr (WbDataset) first = NULL;
  g_autoptr (WbDataset) second = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  WbSample *sample;
  gint64 id, other;

  set_up (&bench);
  fill_in (&bench);
  id = save_plan (&bench);
  first = begin_from (&bench, id, FALSE);
  sample = wb_record_copy (wb_dataset_get_sample (first, 0));
  sample->poured_on = wb_instant_get_day (wb_clock_now (wb_clock_get ()));
  g_ptr_array_add (records, sample);
  g_assert_cmpint (wb_app_notebook_save_sync (bench.notebook, "Pour", records, NULL, &error), >, 0);
  g_assert_no_error (error);
  other = save_plan (&bench);
  g_assert_cmpint (other, !=, id);
  second = wb_app_query_dataset_sync (bench.notebook, other, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (second->experiment->code, !=, first->experiment->code);
  g_assert_false (wb_uuid_equal (&second->experiment->uuid, &first->experiment->uuid));
  g_assert_cmpuint (second->cells->len, ==, first->cells->len);
  g_assert_cmpuint (second->samples->len, ==, first->samples->len);
  g_assert_cmpint (second->protocol->record.id, !=, first->protocol->record.id);
  g_assert_null (strstr (second->protocol->name, first->experiment->code));
  g_clear_pointer (&first, wb_dataset_free);
  first = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_false (wb_app_plan_can_replace (first));
  g_assert_true (wb_app_plan_can_replace (second));
  tear_down (&bench);
}

/* Poured while its plan was being changed: the change is refused, and nothing of it is written. */
static void
test_change_late (void)
{
  Bench bench;
  g_autoptr (WbDataset) data = NULL;
  g_autoptr (WbDataset) after = NULL;
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (wb_record_free);
  WbSample *sample;
  gint64 id;

  set_up (&bench);
  fill_in (&bench);
  id = save_plan (&bench);
  data = begin_from (&bench, id, TRUE);
  wb_app_plan_set_wick (bench.plan, bench.wicks[2], FALSE);
  sample = wb_record_copy (wb_dataset_get_sample (data, 0));
  sample->poured_on = wb_instant_get_day (wb_clock_now (wb_clock_get ()));
  g_ptr_array_add (records, sample);
  g_assert_cmpint (wb_app_notebook_save_sync (bench.notebook, "Pour", records, NULL, &error), >, 0);
  wb_app_plan_save_async (bench.plan, NULL, app_keep_result_cb, &result);
  g_assert_cmpint (wb_app_plan_save_finish (bench.plan, app_wait_result (&result), &error), ==, 0);
  g_assert_error (error, WB_APP_ERROR, WB_APP_ERROR_CHANGED);
  g_clear_error (&error);
  after = wb_app_query_dataset_sync (bench.notebook, id, &error);
  g_assert_cmpuint (after->cells->len, ==, data->cells->len);
  g_assert_cmpuint (after->samples->len, ==, data->samples->len);
  g_clear_object (&result);
  tear_down (&bench);
}

void
test_app_plan_add (void)
{
  g_test_add_func ("/app/plan/a-plan-is-changed-in-one-entry", test_change);
  g_test_add_func ("/app/plan/one-wick-stands-beside-two-of-it", test_several_wicks);
  g_test_add_func ("/app/plan/a-repeat-tells-what-it-changes", test_repeat);
  g_test_add_func ("/app/plan/further-samples-of-some-combinations-repeat-those-alone", test_repeat_some);
  g_test_add_func ("/app/plan/a-change-keeps-what-both-have", test_change_keeps);
  g_test_add_func ("/app/plan/as-many-as-there-are-where-none-is-said", test_take_unsaid);
  g_test_add_func ("/app/plan/a-protocol-of-others-stays-theirs", test_change_shared);
  g_test_add_func ("/app/plan/another-begins-with-a-stored-one", test_another);
  g_test_add_func ("/app/plan/poured-meanwhile-it-stands", test_change_late);
  g_test_add_func ("/app/plan/what-is-missing-is-said", test_problems);
  g_test_add_func ("/app/plan/what-the-batch-sheet-lacks-is-told", test_second_look);
  g_test_add_func ("/app/plan/cautions-are-told-and-stand-in-no-way", test_cautions);
  g_test_add_func ("/app/plan/the-shelf-may-change-meanwhile", test_materials_anew);
  g_test_add_func ("/app/plan/a-dye-needs-its-share", test_shares);
  g_test_add_func ("/app/plan/an-unknown-experiment-is-told", test_no_experiment);
  g_test_add_func ("/app/plan/a-published-limit-is-only-tightened", test_limits);
  g_test_add_func ("/app/plan/a-cell-that-is-off-stays-off", test_cells);
  g_test_add_func ("/app/plan/all-of-it-is-one-entry", test_save);
  g_test_add_func ("/app/plan/a-second-plan-gets-a-code-of-its-own", test_second);
  g_test_add_func ("/app/pour/a-batch-a-scent-and-its-samples-marked", test_pour);
  g_test_add_func ("/app/pour/the-second-poured-first-keeps-both-numbers", test_second_first);
}
