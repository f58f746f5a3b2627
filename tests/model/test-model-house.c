/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-model.h"

#include "wb-dataset.h"

#include <math.h>
#include <string.h>

/*
 * The house profile as it was set down: desirability 0 up to the first
 * figure, 1 from the second to the third, 0 from the fourth. Common practice,
 * no source. "Hot" figures count at their worst and double in the lower third.
 */
static const struct
{
  WbFigure figure;
  double   zero_below, one_from, one_to, zero_above, weight;
  gboolean hot;
} profile_table[] = {
  { WB_FIGURE_FULL_POOL, 0.5, 1, 1, 1.5, 3, FALSE },
  { WB_FIGURE_HANG_UP, NAN, NAN, 3, 8, 1, FALSE },
  { WB_FIGURE_DEPTH, 2, 6, 13, 18, 1, TRUE },
  { WB_FIGURE_FLAME, 5, 13, 25, 45, 1, TRUE },
  { WB_FIGURE_VESSEL, NAN, NAN, 60, 77, 1, TRUE },
  { WB_FIGURE_SOOT, NAN, NAN, 0, 3, 2, TRUE },
  { WB_FIGURE_MUSHROOM, NAN, NAN, 0, 2.5, 1, FALSE },
  { WB_FIGURE_THROW, 1, 4, NAN, NAN, 0.5, FALSE },
};

static const WbAim *
find_aim (GPtrArray *aims, WbStage stage, WbFigure figure)
{
  for (guint i = 0; i < aims->len; i++)
    {
      const WbAim *aim = g_ptr_array_index (aims, i);

      if (aim->stage == (int) stage && aim->figure == (int) figure)
        return aim;
    }
  return NULL;
}

static void
assert_same (double a, double b)
{
  if (isnan (a) || isnan (b))
    g_assert_true (isnan (a) && isnan (b));
  else
    g_assert_cmpfloat (a, ==, b);
}

static void
test_aims (void)
{
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();

  for (int stage = 0; stage < WB_N_STAGES; stage++)
    for (guint i = 0; i < G_N_ELEMENTS (profile_table); i++)
      {
        const WbAim *aim = find_aim (aims, stage, profile_table[i].figure);
        gboolean hot = stage == WB_STAGE_LOWER && profile_table[i].hot;

        g_test_message ("%s, %s", wb_stage_get_key (stage), wb_figure_get_key (profile_table[i].figure));
        if (stage == WB_STAGE_LOWER && profile_table[i].figure == WB_FIGURE_FULL_POOL)
          {
            g_assert_null (aim);
            continue;
          }
        assert_same (aim->zero_below, profile_table[i].zero_below);
        assert_same (aim->one_from, profile_table[i].one_from);
        assert_same (aim->one_to, profile_table[i].one_to);
        assert_same (aim->zero_above, profile_table[i].zero_above);
        assert_same (aim->weight, profile_table[i].weight * (hot ? 2 : 1));
        assert_same (aim->late_floor,
                     stage == WB_STAGE_UPPER && profile_table[i].figure == WB_FIGURE_FULL_POOL ? 0.3 : 0);
        g_assert_cmpint (aim->worst, ==, hot);
      }
  g_assert_cmpuint (aims->len, ==, 3 * G_N_ELEMENTS (profile_table) - 1);
}

/* Figures and where they are from: as test laboratories tell EN 15493 and ASTM F2417; house limits say so. */
static const struct { WbLimitKind kind; double ask_at, stop_at; const char *source; } limit_table[] = {
  { WB_LIMIT_FLAME, NAN, 75, "EN 15493" },
  { WB_LIMIT_FLAME_HOUSE, 38, 50, "House limit" },
  { WB_LIMIT_VESSEL, 60, 77, "House limit" },
  { WB_LIMIT_SECONDARY_IGNITION, NAN, 0, "ASTM F2417" },
  { WB_LIMIT_FLAME_ON_WALL, NAN, 5, "ASTM F2417-23" },
  { WB_LIMIT_FLAMES_MERGED, NAN, 5, "ASTM F2417-23" },
  { WB_LIMIT_AFTERGLOW, NAN, 30, "EN 15493:2019" },
  { WB_LIMIT_VESSEL_CRACK, NAN, 0, "ASTM F2417" },
};

static void
test_limits (void)
{
  g_autoptr (GPtrArray) limits = wb_limits_new_house ();

  for (guint i = 0; i < G_N_ELEMENTS (limit_table); i++)
    {
      const WbLimit *found = NULL;

      for (guint j = 0; j < limits->len; j++)
        if (((const WbLimit *) g_ptr_array_index (limits, j))->kind == (int) limit_table[i].kind)
          found = g_ptr_array_index (limits, j);
      g_assert_nonnull (found);
      assert_same (found->ask_at, limit_table[i].ask_at);
      assert_same (found->stop_at, limit_table[i].stop_at);
      g_assert_true (strstr (found->source, limit_table[i].source) == found->source);
    }
  for (guint j = 0; j < limits->len; j++)
    {
      const WbLimit *limit = g_ptr_array_index (limits, j);

      /* A limit is either published or says that it is the house's. */
      g_assert_cmpint (limit->house, ==, g_str_has_prefix (limit->source, "House limit"));
      g_assert_false (limit->off);
    }
}

static void
test_protocol (void)
{
  WbProtocol *protocol = wb_protocol_new_house ();
  const char *asked[] = {
    protocol->ask_lighting, protocol->ask_round, protocol->ask_before_snuffing, protocol->ask_after_snuffing,
    protocol->ask_next_day,
  };
  g_autoptr (GError) error = NULL;

  wb_record_validate (protocol, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat (protocol->burn_s, ==, 14400);
  g_assert_cmpfloat (protocol->interval_upper_s, ==, 3600);
  g_assert_cmpfloat (protocol->last_inch_interval_s, ==, 900);
  g_assert_cmpfloat (protocol->stagger_s, ==, 120);
  g_assert_cmpfloat (protocol->trim_mm, ==, 6);
  g_assert_cmpfloat (protocol->window_low, ==, 0.75);
  g_assert_cmpfloat (protocol->window_high, ==, 1.25);
  /* a search ends where a recommendation may begin */
  g_assert_cmpfloat (protocol->stop_sure_pct, ==, 90);
  /* A round is read at every candle, so it is short; what disturbs the pool is done once. */
  g_assert_cmpstr (protocol->ask_round, ==, "pool_mm,flame_max_mm,flame_state,smoke,mushroom,vessel_c");
  g_assert_nonnull (strstr (protocol->ask_before_snuffing, "depth_mm"));
  for (guint i = 0; i < G_N_ELEMENTS (asked); i++)
    {
      g_auto (GStrv) names = g_strsplit (asked[i], ",", -1);

      for (guint j = 0; names[j] != NULL; j++)
        g_assert_cmpint (wb_column_find (names[j]), >=, 0);
    }
  wb_record_free (protocol);
}

static void
test_figures (void)
{
  static const char *const keys[] = {
    "full_pool_h", "hang_up_mm", "depth_mm", "flame_mm", "vessel_c", "soot", "mushroom", "throw", "pool_limit_mm", "tau_h",
    "consumption_g_per_h", "pool_mm", "smoke", "score",
  };

  for (int i = 0; i < WB_N_FIGURES; i++)
    {
      g_assert_cmpstr (wb_figure_get_key (i), ==, keys[i]);
      g_assert_cmpint (wb_figure_from_key (keys[i]), ==, i);
      g_assert_nonnull (wb_figure_get_label (i));
    }
  g_assert_cmpint (wb_figure_from_key ("beauty"), ==, -1);
  g_assert_cmpint (wb_figure_get_unit (WB_FIGURE_CONSUMPTION), ==, WB_UNIT_G_PER_H);
  for (int i = 0; i < WB_N_LIMITS; i++)
    g_assert_nonnull (wb_limit_kind_get_label (i));
  g_assert_cmpstr (wb_stage_get_key (WB_STAGE_ALL), ==, "all");
}

static void
add_cell (WbDataset *data, WbVessel *vessel, WbWick *wick, WbFragrance *fragrance, gint64 count, double load)
{
  WbCell *cell = wb_record_new (&wb_cell_type);

  cell->wick_count = count;
  cell->fragrance = fragrance != NULL ? 1 : 0;
  cell->load_pct = load;
  cell->load_basis = WB_BASIS_WAX;
  g_ptr_array_add (data->cells, cell);
  g_ptr_array_add (data->cell_vessels, vessel);
  g_ptr_array_add (data->cell_wicks, wick);
  g_ptr_array_add (data->cell_fragrances, fragrance);
}

static void
test_names (void)
{
  g_autoptr (WbDataset) data = wb_dataset_new ();
  WbVessel *vessel = wb_record_new (&wb_vessel_type);
  WbWick *wick = wb_record_new (&wb_wick_type);
  WbFragrance *fragrance = wb_record_new (&wb_fragrance_type);

  vessel->name = g_strdup ("Tern");
  vessel->inner_diameter_mm = 76.2;
  wick->series = g_strdup ("Sedge");
  wick->size = g_strdup ("S-3");
  fragrance->name = g_strdup ("Harbour mist");
  g_ptr_array_add (data->vessels, vessel);
  g_ptr_array_add (data->wicks, wick);
  g_ptr_array_add (data->fragrances, fragrance);
  add_cell (data, vessel, wick, fragrance, 1, 8);
  add_cell (data, vessel, wick, NULL, 2, 0);

  g_autofree char *title = wb_material_dup_title (vessel), *wick_title = wb_material_dup_title (wick);
  g_autofree char *one = wb_dataset_dup_wick_name (data, 0), *two = wb_dataset_dup_wick_name (data, 1);
  g_autofree char *one_title = wb_dataset_dup_wick_title (data, 0), *two_title = wb_dataset_dup_wick_title (data, 1);
  g_autofree char *scent = wb_dataset_dup_scent_name (data, 0), *control = wb_dataset_dup_scent_name (data, 1);
  g_autofree char *cell = wb_dataset_dup_cell_name (data, 0);

  g_assert_cmpstr (title, ==, "Tern, 76.2\302\240mm");
  g_assert_cmpstr (wick_title, ==, "Sedge S-3");
  g_assert_cmpstr (one, ==, "S-3");
  g_assert_cmpstr (two, ==, "2\302\240\303\227\302\240S-3");
  g_assert_cmpstr (one_title, ==, "Sedge S-3");
  g_assert_cmpstr (two_title, ==, "2\302\240\303\227\302\240Sedge S-3");
  g_assert_cmpstr (scent, ==, "Harbour mist 8\302\240%");
  g_assert_cmpstr (control, ==, "no fragrance");
  /* The vessel is the same in all cells: left out. */
  g_assert_cmpstr (cell, ==, "S-3 · Harbour mist 8\302\240%");
}

void
test_model_add_house (void)
{
  g_test_add_func ("/model/house/the-profile-is-the-table", test_aims);
  g_test_add_func ("/model/house/limits-name-their-sources", test_limits);
  g_test_add_func ("/model/house/the-protocol-asks-for-known-fields", test_protocol);
  g_test_add_func ("/model/figures/keys-are-those-of-the-json", test_figures);
  g_test_add_func ("/model/dataset/a-cell-is-named-by-what-varies", test_names);
}
