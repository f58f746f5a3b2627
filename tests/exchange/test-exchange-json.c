/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-exchange.h"
#include "test-exchange-fixture.h"

#include "wb-exchange-json-fit.h"
#include "wb-exchange-json-list.h"
#include "wb-exchange-json-rank.h"
#include "wb-exchange-json.h"
#include "wb-exchange-notebook-writer.h"
#include "wb-record-types.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

/* Parsed back by json-glib; the keys are read by path, as "groups.0.cells.1.rank". */
static JsonNode *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  JsonNode *root = json_from_string (text, &error);

  g_assert_no_error (error);
  g_assert_nonnull (root);
  /* What json-glib takes and RFC 8259 does not know. */
  g_assert_null (strstr (text, "nan"));
  g_assert_null (strstr (text, "inf,"));
  return root;
}

static JsonNode *
at (JsonNode *root, const char *path)
{
  g_auto (GStrv) steps = g_strsplit (path, ".", -1);

  for (guint i = 0; steps[i] != NULL; i++)
    {
      if (JSON_NODE_HOLDS_ARRAY (root))
        root = json_array_get_element (json_node_get_array (root), (guint) g_ascii_strtoull (steps[i], NULL, 10));
      else
        root = json_object_get_member (json_node_get_object (root), steps[i]);
      if (root == NULL)
        g_error ("no %s in %s", steps[i], path);
    }
  return root;
}

#define assert_text(root, path, text) g_assert_cmpstr (json_node_get_string (at (root, path)), ==, text)
#define assert_number(root, path, number) g_assert_cmpfloat (json_node_get_double (at (root, path)), ==, number)
#define assert_null(root, path) g_assert_true (json_node_is_null (at (root, path)))
#define assert_length(root, path, n) g_assert_cmpuint (json_array_get_length (json_node_get_array (at (root, path))), ==, n)

static void
test_numbers (void)
{
  g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();
  g_autofree char *text = NULL;

  wb_exchange_json_add_real (json, "a", 76.2);
  wb_exchange_json_add_real (json, "b", 8);
  wb_exchange_json_add_real (json, "c", -0.1);
  wb_exchange_json_add_real (json, "d", NAN);
  wb_exchange_json_add_real (json, "e", INFINITY);
  wb_exchange_json_add_integer (json, "f", G_MAXINT64);
  wb_exchange_json_add_integer (json, "g", WB_INTEGER_NONE);
  wb_exchange_json_add_real (json, "h", 1e-7);
  wb_exchange_json_add_text (json, "i", "1.50000 \"2.50\" \\ 3.0\n");
  wb_exchange_json_add_interval (json, "j", (WbCraftInterval) { 2.5, NAN, 3 });
  wb_exchange_json_add_interval (json, "k", WB_CRAFT_INTERVAL_NONE);
  wb_exchange_json_add_flag (json, "l", TRUE);
  text = wb_exchange_json_to_text (json, FALSE);
  g_assert_cmpstr (text, ==,
                   "{\"a\":76.2,\"b\":8,\"c\":-0.1,\"d\":null,\"e\":null,\"f\":9223372036854775807,\"g\":null,\"h\":1e-7,"
                   "\"i\":\"1.50000 \\\"2.50\\\" \\\\ 3.0\\n\",\"j\":{\"value\":2.5,\"low\":null,\"high\":3},\"k\":null,"
                   "\"l\":true}\n");

  g_autoptr (JsonNode) root = parse (text);

  assert_text (root, "i", "1.50000 \"2.50\" \\ 3.0\n");
  assert_number (root, "h", 1e-7);
}

/* Nothing of the numbers is lost on the way, whatever they are. */
static void
test_numbers_read_back (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (guint i = 0; i < 2000; i++)
    {
      double value = ldexp (g_rand_double (rand) - 0.5, g_rand_int_range (rand, -60, 60));
      g_autoptr (WbExchangeJson) json = wb_exchange_json_new ();
      g_autofree char *text = NULL;

      wb_exchange_json_add_real (json, "x", value);
      text = wb_exchange_json_to_text (json, i % 2 == 0);

      g_autoptr (JsonNode) root = parse (text);

      assert_number (root, "x", value);
    }
}

static void
test_rank (void)
{
  WbDataset *data = test_exchange_dataset_new ();
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 5, NULL, NULL);
  g_autofree char *text = wb_exchange_json_rank (answer);
  g_autoptr (JsonNode) root = parse (text);
  static const char *const keys[] = {
    "vessel", "inner_diameter_mm", "wick_series", "wick_size", "wick_step", "wick_count", "fragrance", "load_pct", "load_basis",
    "rank", "score", "next_candle", "p_best", "p_best_error", "p_near", "p_near_error", "p_cross", "p_cross_error",
    "expected_loss", "verdict", "poor_field", "reasons", "limits", "parts",
    "samples", "burns",
  };

  assert_text (root, "experiment", "Autumn trial");
  g_assert_cmpint (json_node_get_int (at (root, "seed")), ==, 5);
  assert_text (root, "within", "scent");
  g_assert_true (json_node_get_boolean (at (root, "invented_data")));
  assert_length (root, "groups", 2);
  for (guint group = 0; group < 2; group++)
    for (guint cell = 0; cell < 2; cell++)
      {
        for (guint k = 0; k < G_N_ELEMENTS (keys); k++)
          {
            g_autofree char *path = g_strdup_printf ("groups.%u.cells.%u.%s", group, cell, keys[k]);

            g_assert_nonnull (at (root, path));
          }

        g_autofree char *rank = g_strdup_printf ("groups.%u.cells.%u.rank", group, cell);
        g_autofree char *limits = g_strdup_printf ("groups.%u.cells.%u.limits", group, cell);
        g_autofree char *limit = g_strdup_printf ("groups.%u.cells.%u.limits.0.limit", group, cell);

        g_assert_cmpint (json_node_get_int (at (root, rank)), ==, cell + 1);
        assert_length (root, limits, answer->limits->n_limits);
        assert_text (root, limit, "flame");
      }
  assert_text (root, "groups.0.vessel", "Tern");
  assert_text (root, "groups.0.fragrance", "Harbour mist");
  assert_number (root, "groups.0.load_pct", 8.5);
  assert_number (root, "groups.0.cells.0.inner_diameter_mm", 76.2);
  assert_text (root, "groups.1.vessel", "Water rail \327\220");
  assert_null (root, "groups.1.fragrance");
}

/* Groups that have less in common say less. */
static void
test_rank_within_all (void)
{
  g_autoptr (WbCraftAnswer) answer =
    wb_craft_answer_new (test_exchange_dataset_new (), NULL, WB_CRAFT_WITHIN_ALL, 1, NULL, NULL);
  g_autofree char *text = wb_exchange_json_rank (answer);
  g_autoptr (JsonNode) root = parse (text);

  assert_text (root, "within", "all");
  assert_length (root, "groups", 1);
  assert_length (root, "groups.0.cells", 4);
  assert_null (root, "groups.0.vessel");
  assert_null (root, "groups.0.fragrance");
  assert_null (root, "groups.0.load_pct");
}

static void
test_fit (void)
{
  g_autoptr (WbDataset) data = test_exchange_dataset_new ();
  WbCraftCell cells[2] = { 0 };
  WbCraftEstimates estimates = { cells, 2 };

  cells[0].growth = (WbCraftGrowth) { .status = WB_CRAFT_FIT_OK, .pool_limit_mm = { 80.5, 78, 83 }, .tau_h = { 1.5, 1, 2 },
                                      .full_pool_h = { 3.5, 3, NAN }, .p_in_window = 0.75, .p_never = 0.1 };
  cells[1].cell = 1;
  cells[1].growth = (WbCraftGrowth) { .status = WB_CRAFT_FIT_NO_READINGS, .pool_limit_mm = WB_CRAFT_INTERVAL_NONE,
                                      .tau_h = WB_CRAFT_INTERVAL_NONE, .full_pool_h = WB_CRAFT_INTERVAL_NONE,
                                      .p_in_window = NAN, .p_never = NAN };
  for (guint i = 0; i < WB_N_FIGURES; i++)
    {
      cells[0].figure[i].told = (WbCraftInterval) { 6.25, 5, 7 };
      cells[1].figure[i].told = WB_CRAFT_INTERVAL_NONE;
    }
  cells[0].samples = 2;
  cells[0].burns = 8;

  g_autofree char *text = wb_exchange_json_fit (data, &estimates, WB_STAGE_ALL);
  g_autoptr (JsonNode) root = parse (text);

  assert_text (root, "stage", "all");
  assert_text (root, "cells.0.status", wb_craft_fit_status_get_key (WB_CRAFT_FIT_OK));
  assert_number (root, "cells.0.pool_limit_mm.value", 80.5);
  assert_number (root, "cells.0.full_pool_h.value", 3.5);
  assert_null (root, "cells.0.full_pool_h.high");
  assert_number (root, "cells.0.full_pool_h.p_in_window", 0.75);
  assert_number (root, "cells.0.full_pool_h.p_never", 0.1);
  assert_number (root, "cells.0.depth_mm.low", 5.0);
  assert_number (root, "cells.0.consumption_g_per_h.value", 6.25);
  g_assert_cmpint (json_node_get_int (at (root, "cells.0.burns")), ==, 8);
  assert_null (root, "cells.1.full_pool_h");
  assert_null (root, "cells.1.pool_limit_mm");
  assert_null (root, "cells.1.flame_mm");
  assert_null (root, "cells.1.wick_step");
}

/* All that is known of pools that were never seen short of the wall: how wide at least, and how soon at the latest. */
static void
test_fit_at_wall (void)
{
  g_autoptr (WbDataset) data = test_exchange_dataset_new ();
  WbCraftCell cell = { 0 };
  WbCraftEstimates estimates = { &cell, 1 };

  cell.growth = (WbCraftGrowth) { .status = WB_CRAFT_FIT_ALL_AT_WALL, .pool_limit_mm = { NAN, 76, NAN },
                                  .tau_h = WB_CRAFT_INTERVAL_NONE, .full_pool_h = { NAN, NAN, 1 }, .p_in_window = NAN, .p_never = 0 };

  g_autofree char *text = wb_exchange_json_fit (data, &estimates, WB_STAGE_ALL);
  g_autoptr (JsonNode) root = parse (text);

  assert_null (root, "cells.0.pool_limit_mm.value");
  assert_number (root, "cells.0.pool_limit_mm.low", 76);
  assert_null (root, "cells.0.pool_limit_mm.high");
  assert_null (root, "cells.0.tau_h");
  assert_null (root, "cells.0.full_pool_h.value");
  assert_number (root, "cells.0.full_pool_h.high", 1);
}

static void
test_effects (void)
{
  g_autoptr (WbDataset) data = test_exchange_dataset_new ();
  g_autoptr (GPtrArray) terms = g_ptr_array_new (), comparisons = g_ptr_array_new ();
  WbCraftTerm wick = { (char *) "wick", 1, 12.5, 4.2, 0.03 }, residual = { (char *) "residual", 6, 30, NAN, NAN };
  WbCraftComparison pair = { (char *) "S-3", (char *) "S-4", { -2.5, -4, -1 }, 0.01, 0.6, 7.5, { -2.5, -3.6, -1.4 }, WB_CRAFT_ALIKE_NO, 2, 8 };
  WbCraftComparison not_asked = { .a = (char *) "S-5", .b = (char *) "S-4" };
  WbCraftInteractionMean mean = { (char *) "Tern", (char *) "S-3", 4.5, 2, 6 };
  g_autoptr (GPtrArray) means = g_ptr_array_new (), interactions = g_ptr_array_new ();
  WbCraftInteraction interaction = { "vessel", "wick", means };
  WbCraftEffects effects = { .figure = WB_FIGURE_HANG_UP, .n = 8, .terms = terms, .comparisons = comparisons,
                             .interactions = interactions, .basis = WB_CRAFT_EFFECTS_BY_MODEL, .margin = NAN,
                             .slope = { { -1.5, -2, -1 }, 8, 16, (char *) "One step up takes off 1 to 2 mm." },
                             .needed = { .difference = 1.25, .samples = 0, .power = NAN, .alpha = 0.05, .samples_low = 700, .sample_sd = 0.9,
                                         .sample_df = 3.5, .least = 1, .most = 2, .text = (char *) "Too many." },
                             .rank_h = NAN, .rank_df = NAN, .rank_p = NAN, .finding = (char *) "The wick matters." };

  g_ptr_array_add (terms, &wick);
  g_ptr_array_add (terms, &residual);
  g_ptr_array_add (comparisons, &pair);
  g_ptr_array_add (comparisons, &not_asked);
  g_ptr_array_add (means, &mean);
  g_ptr_array_add (interactions, &interaction);

  g_autofree char *text = wb_exchange_json_effects (data, &effects);
  g_autoptr (JsonNode) root = parse (text);

  assert_text (root, "figure", "hang_up_mm");
  assert_text (root, "terms.0.term", "wick");
  assert_number (root, "terms.0.sum_sq", 12.5);
  assert_null (root, "terms.1.f");
  assert_null (root, "terms.1.p");
  assert_number (root, "comparisons.0.difference.value", -2.5);
  assert_number (root, "comparisons.0.alone.high", -1.4);
  assert_number (root, "comparisons.0.df", 7.5);
  g_assert_cmpint (json_node_get_int (at (root, "comparisons.0.samples")), ==, 8);
  g_assert_false (json_node_get_boolean (at (root, "comparisons.0.equivalent")));
  assert_null (root, "comparisons.1.equivalent");
  assert_text (root, "interactions.0.b", "wick");
  assert_text (root, "interactions.0.means.0.a", "Tern");
  assert_number (root, "interactions.0.means.0.mean", 4.5);
  g_assert_cmpint (json_node_get_int (at (root, "interactions.0.means.0.samples")), ==, 6);
  assert_number (root, "slope.low", -2.0);
  assert_text (root, "slope.unit", "mm");
  assert_null (root, "margin");
  assert_number (root, "samples_needed.difference", 1.25);
  assert_null (root, "samples_needed.samples");
  assert_null (root, "samples_needed.samples_range.value");
  g_assert_cmpint (json_node_get_int (at (root, "samples_needed.samples_range.low")), ==, 700);
  assert_null (root, "samples_needed.samples_range.high");
  assert_number (root, "samples_needed.df", 3.5);
  assert_null (root, "samples_needed.power");
  assert_text (root, "sums_of_squares", "II");
  assert_text (root, "comparisons_by", "model");
  g_assert_false (json_node_get_boolean (at (root, "corrected_across_figures")));
  assert_null (root, "rank_test");
  assert_text (root, "finding", "The wick matters.");
  assert_null (root, "refusal");
}

static void
test_ladder (void)
{
  g_autoptr (GPtrArray) steps = g_ptr_array_new (), experiments = g_ptr_array_new (), nearest = g_ptr_array_new ();
  WbCraftNearest near = {
    .experiment = (char *) "E-1", .what = (char *) "Sedge S-2 in 76 mm", .differs = (char *) "one size up", .result = (char *) "full after 3.4 h",
  };
  WbCraftLadderStep step = {
    .series = (char *) "Sedge", .size = (char *) "S-3", .step = 3, .pool_limit_mm = { 80, 70, 90 }, .full_pool_h = { 3, 2, NAN },
    .flame_mm = WB_CRAFT_INTERVAL_NONE, .p_right = 0.6, .p_best = 0.4, .p_cross = NAN, .in_ladder = TRUE,
    .reason = (char *) "next to the best", .tested = TRUE, .in_run = TRUE, .nearest = nearest, .p_near = 0.7,
    .score = WB_CRAFT_INTERVAL_NONE, .burn_h = { 40, 35, 46 }, .outside = (char *) "load",
    .at = {
      { { 80, 70, 90 }, { 3, 2, NAN }, { 24, 20, 28 }, { 51, 47, 56 }, { 5, 4, 6 }, 0.2, { { 30, 28, 33 }, { 50, 48, 53 }, { 61, 57, 66 }, { 69, 63, 75 } } },
      { { NAN, NAN, NAN }, { NAN, NAN, NAN }, { NAN, NAN, NAN }, { NAN, NAN, NAN }, { NAN, NAN, NAN }, NAN,
        { { NAN, NAN, NAN }, { NAN, NAN, NAN }, { NAN, NAN, NAN }, { NAN, NAN, NAN } } },
    },
  };
  WbCraftLadder ladder = {
    .question = { .inner_diameter_mm = 76.2, .vessel = (char *) "Tern", .wax = (char *) "Marsh soy", .load_pct = 8, .sizes = 3,
                  .room_cold_c = 18, .room_warm_c = 27, .wicks = 2 },
    .shares_vessel = TRUE, .p_run_holds_best = 0.5, .p_wider_holds_best = 0.8, .wider = 0, .p_none = 0.05,
    .learnt = (char *) "From E-1.", .rests_on = WB_CRAFT_RESTS_ON_HISTORY, .experiments = experiments, .steps = steps, .p_holds_best = NAN,
    .answer = (char *) "Try S-3.",
  };

  g_ptr_array_add (steps, &step);
  g_ptr_array_add (nearest, &near);
  g_ptr_array_add (experiments, (char *) "E-1");

  g_autofree char *text = wb_exchange_json_ladder (NULL, &ladder);
  g_autoptr (JsonNode) root = parse (text);

  assert_text (root, "vessel", "Tern");
  assert_text (root, "rests_on", "history");
  assert_text (root, "experiments.0", "E-1");
  assert_text (root, "candidates.0.wick_size", "S-3");
  assert_null (root, "candidates.0.flame_mm");
  assert_number (root, "candidates.0.pool_limit_mm.high", 90.0);
  g_assert_true (json_node_get_boolean (at (root, "candidates.0.in_ladder")));
  assert_null (root, "p_holds_best");
  assert_number (root, "candidates.0.at_top.vessel_c.value", 51.0);
  assert_number (root, "candidates.0.at_top.p_never", 0.2);
  assert_number (root, "candidates.0.at_top.pool_after_hours_mm.2.high", 66.0);
  assert_null (root, "candidates.0.at_bottom.pool_after_hours_mm.2");
  assert_number (root, "candidates.0.at_top.consumption_g_per_h.low", 4.0);
  assert_null (root, "candidates.0.at_bottom.pool_limit_mm");
  assert_null (root, "candidates.0.at_bottom.p_never");
  assert_number (root, "candidates.0.p_near", 0.7);
  assert_null (root, "candidates.0.p_cross");
  assert_null (root, "candidates.0.score");
  assert_number (root, "candidates.0.burn_h.high", 46.0);
  assert_text (root, "candidates.0.outside", "load");
  assert_text (root, "candidates.0.nearest.0.differs", "one size up");
  g_assert_true (json_node_get_boolean (at (root, "candidates.0.tested")));
  g_assert_true (json_node_get_boolean (at (root, "candidates.0.in_run")));
  g_assert_true (json_node_get_boolean (at (root, "shares_vessel")));
  assert_number (root, "room_warm_c", 27.0);
  assert_null (root, "fill_g");
  assert_number (root, "p_run_holds_best", 0.5);
  assert_number (root, "p_wider_holds_best", 0.8);
  assert_text (root, "wider.wick_size", "S-3");
  assert_text (root, "learnt", "From E-1.");

  ladder.wider = G_MAXUINT;
  g_autofree char *narrow = wb_exchange_json_ladder (NULL, &ladder);
  g_autoptr (JsonNode) narrow_root = parse (narrow);

  assert_null (narrow_root, "wider");
}

static void
test_list_and_import (void)
{
  static const char *const also[] = { "pool_b_mm", NULL }, *const kept[] = { "ph", NULL };
  WbExchangeListItem item = { "E-1", "Autumn trial", "burning", 4, 12, 40, 160 };
  g_autofree char *list = wb_exchange_json_list (NULL, &item, 1), *none = wb_exchange_json_list (NULL, NULL, 0);
  g_autoptr (JsonNode) list_root = parse (list), none_root = parse (none);
  g_autoptr (GPtrArray) refused = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_log_remark_free);
  WbLogRemark *remark = wb_log_remark_new (28, "pool_a_mm", g_strdup ("“999”: 0 to 71 is accepted"));

  assert_text (list_root, "experiments.0.state", "burning");
  g_assert_cmpint (json_node_get_int (at (list_root, "experiments.0.readings")), ==, 160);
  assert_length (none_root, "experiments", 0);

  remark->also = g_strdupv ((char **) also);
  g_ptr_array_add (refused, remark);

  WbExchangeImportTold told = { .rows = 150, .accepted = 149, .refused_rows = 1, .refused = refused, .kept = kept,
                                .delimiter = '\t', .decimal = ',' };
  g_autofree char *import = wb_exchange_json_import (&told);
  g_autoptr (JsonNode) root = parse (import);

  g_assert_cmpint (json_node_get_int (at (root, "accepted")), ==, 149);
  g_assert_cmpint (json_node_get_int (at (root, "refused.0.line")), ==, 28);
  assert_text (root, "refused.0.also.0", "pool_b_mm");
  assert_text (root, "kept.0", "ph");
  assert_text (root, "delimiter", "\t");
  assert_length (root, "warnings", 0);
}

static void
add_all_records (WbExchangeNotebookWriter *writer)
{
  const WbRecordType *const *types = wb_record_types ();
  g_autoptr (GError) error = NULL;

  for (guint i = 0; types[i] != NULL; i++)
    for (guint n = 1; n <= 2; n++)
      {
        g_autoptr (WbRecord) record = wb_record_new (types[i]);

        record->id = n;
        record->entry = 3;
        if (types[i] == &wb_reading_type)
          {
            ((WbReading *) record)->values[WB_COLUMN_EVENT] = WB_EVENT_RELIT;
            ((WbReading *) record)->values[WB_COLUMN_SOOT] = 2;
            ((WbReading *) record)->values[WB_COLUMN_FLAME_MM] = 17.3;
          }
        if (types[i] == &wb_sample_type)
          {
            ((WbSample *) record)->poured_on = 20498;
            ((WbSample *) record)->uuid = wb_uuid_new ();
          }
        g_assert_true (wb_exchange_notebook_writer_add (writer, record, &error));
      }
}

static void
test_notebook (void)
{
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbExchangeNotebookWriter) writer = wb_exchange_notebook_writer_new (file, NULL, NULL, &error);
  g_autoptr (WbRecord) old = wb_record_new (&wb_wax_type);
  g_autoptr (GBytes) bytes = g_bytes_new_static ("any carnal pleas", 16);
  WbExchangeEntry entry = { .number = 3, .at = { 0, 0, TRUE }, .kind = "import", .hash = "00ff" };
  g_autofree char *text = NULL;

  g_assert_no_error (error);
  add_all_records (writer);
  old->id = 1;
  g_assert_true (wb_exchange_notebook_writer_add_version (writer, old, &error));
  g_assert_true (wb_exchange_notebook_writer_add_entry (writer, &entry, &error));
  g_assert_true (wb_exchange_notebook_writer_add_cell (writer, 9, "ph", "7,1", &error));
  g_assert_true (wb_exchange_notebook_writer_add_attachment (writer, "abcd", bytes, &error));
  g_assert_true (wb_exchange_notebook_writer_close (writer, &error));
  g_assert_true (g_file_load_contents (file, NULL, &text, NULL, NULL, &error));

  g_autoptr (JsonNode) root = parse (text);

  assert_text (root, "format", "wickbench-notebook");
  for (guint i = 0; wb_record_types ()[i] != NULL; i++)
    assert_length (root, wb_record_types ()[i]->name, 2);
  assert_text (root, "reading.1.event", "relit");
  g_assert_cmpint (json_node_get_int (at (root, "reading.0.soot")), ==, 2);
  assert_number (root, "reading.0.flame_mm", 17.3);
  assert_text (root, "sample.0.poured_on", "2026-02-14");
  assert_text (root, "history.0.table", "wax");
  assert_text (root, "entries.0.at", "1970-01-01T00:00:00+00:00");
  assert_text (root, "unknown_cells.0.cell", "7,1");
  /* A known example of base64 (memory of the encyclopaedia's page on it). */
  assert_text (root, "attachments.0.base64", "YW55IGNhcm5hbCBwbGVhcw==");
  test_exchange_drop (file);
}

static void
test_empty_notebook (void)
{
  GFile *file = test_exchange_file ("", -1);
  g_autoptr (GError) error = NULL;
  g_autoptr (WbDataset) data = test_exchange_dataset_new ();
  g_autoptr (WbExchangeNotebookWriter) writer = wb_exchange_notebook_writer_new (file, data->notebook, NULL, &error);
  g_autofree char *text = NULL;

  g_assert_true (wb_exchange_notebook_writer_close (writer, &error));
  g_assert_true (g_file_load_contents (file, NULL, &text, NULL, NULL, &error));

  g_autoptr (JsonNode) root = parse (text);

  g_assert_true (json_node_get_boolean (at (root, "invented_data")));
  test_exchange_drop (file);
}

void
test_exchange_add_json (void)
{
  g_test_add_func ("/exchange/json/numbers-are-short-and-finite", test_numbers);
  g_test_add_func ("/exchange/json/numbers-read-back-the-same", test_numbers_read_back);
  g_test_add_func ("/exchange/json/rank-has-its-keys", test_rank);
  g_test_add_func ("/exchange/json/a-wide-group-says-what-it-has-in-common", test_rank_within_all);
  g_test_add_func ("/exchange/json/fit-has-its-keys", test_fit);
  g_test_add_func ("/exchange/json/a-pool-never-short-of-the-wall-has-a-lower-end", test_fit_at_wall);
  g_test_add_func ("/exchange/json/effects-have-their-keys", test_effects);
  g_test_add_func ("/exchange/json/a-ladder-has-its-keys", test_ladder);
  g_test_add_func ("/exchange/json/list-and-import-have-their-keys", test_list_and_import);
  g_test_add_func ("/exchange/json/a-notebook-comes-record-by-record", test_notebook);
  g_test_add_func ("/exchange/json/an-empty-notebook-is-a-document", test_empty_notebook);
}
