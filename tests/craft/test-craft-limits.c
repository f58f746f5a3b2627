/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft.h"
#include "wb-craft-limits.h"

#define INNER 76.2

static guint
find_limit (const WbDataset *data,
            WbLimitKind      kind)
{
  for (guint i = 0; i < data->limits->len; i++)
    if (((WbLimit *) g_ptr_array_index (data->limits, i))->kind == (int) kind)
      return i;
  g_assert_not_reached ();
}

static guint
one_cell (WbDataset *data)
{
  return test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-3", 3, 0);
}

static WbCraftLimit
judge (WbDataset  *data,
       WbLimitKind kind)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  g_autoptr (WbCraftLimits) limits = wb_craft_limits_new (data, figures);

  return *wb_craft_limits_get (limits, 0, find_limit (data, kind));
}

static void
test_one_bad_reading_crosses (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  WbCraftLimit limit;
  g_autofree char *text = NULL;
  guint cell = one_cell (data);

  for (guint i = 0; i < 3; i++)
    {
      guint sample = test_craft_add_sample (data, cell, i == 0 ? "S3-1" : i == 1 ? "S3-2" : "S3-3");

      for (guint k = 0; k < 2; k++)
        test_craft_calm_burn (data, sample, 80, 1.2, INNER);
      if (i == 1)
        test_craft_read (data, data->burns->len - 1, 250, WB_COLUMN_FLAME_MAX_MM, 52);
    }
  limit = judge (data, WB_LIMIT_FLAME_HOUSE);
  g_assert_cmpint (limit.state, ==, WB_CRAFT_LIMIT_CROSSED);
  g_assert_cmpint (limit.by_stage[WB_STAGE_UPPER], ==, WB_CRAFT_LIMIT_CROSSED);
  g_assert_cmpint (limit.by_stage[WB_STAGE_LOWER], ==, WB_CRAFT_LIMIT_NOT_TESTED);
  g_assert_cmpfloat (limit.worst, ==, 52);
  g_assert_cmpuint (limit.sample, ==, 1);
  g_assert_cmpfloat (limit.elapsed_min, ==, 250);
  g_assert_cmpint (limit.reading, >, 0);
  text = wb_craft_limit_dup_text (data, &limit);
  g_assert_nonnull (strstr (text, "S3-2"));
  g_assert_nonnull (strstr (text, "house limit"));
  g_assert_cmpint (judge (data, WB_LIMIT_FLAME).state, ==, WB_CRAFT_LIMIT_NOT_TESTED);
}

/* Published: flame 75 mm (EN 15493, as told by test laboratories). At the limit is not over it. */
static void
test_at_the_limit_is_not_over (void)
{
  const struct { double flame; WbCraftLimitState state; } cases[] = {
    { 74.9, WB_CRAFT_LIMIT_PASSED }, { 75, WB_CRAFT_LIMIT_PASSED }, { 75.1, WB_CRAFT_LIMIT_CROSSED },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      guint burn = test_craft_add_burn (data, test_craft_add_sample (data, one_cell (data), "S3-1"));

      test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, cases[i].flame);
      g_assert_cmpint (judge (data, WB_LIMIT_FLAME).by_stage[WB_STAGE_UPPER], ==, cases[i].state);
    }
}

static void
test_passed_needs_every_stage (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  WbCraftLimit limit;

  test_craft_burn_physics (data, one_cell (data), &spec, 2, 0, 1);
  limit = judge (data, WB_LIMIT_FLAME);
  g_assert_cmpint (limit.state, ==, WB_CRAFT_LIMIT_PASSED);
  g_assert_cmpuint (limit.samples_read, ==, 2);
  g_assert_cmpint (judge (data, WB_LIMIT_VESSEL_CRACK).state, ==, WB_CRAFT_LIMIT_PASSED);
  g_assert_cmpint (judge (data, WB_LIMIT_FLAMES_MERGED).state, ==, WB_CRAFT_LIMIT_PASSED);
  /* nobody timed a glow after snuffing */
  g_assert_cmpint (judge (data, WB_LIMIT_AFTERGLOW).state, ==, WB_CRAFT_LIMIT_NOT_TESTED);
}

static void
test_events (void)
{
  const struct { WbLimitKind kind; WbEvent event; double seconds; gboolean crossed; } cases[] = {
    { WB_LIMIT_FLAME_ON_WALL, WB_EVENT_FLAME_ON_WALL, 4, FALSE },
    { WB_LIMIT_FLAME_ON_WALL, WB_EVENT_FLAME_ON_WALL, 6, TRUE },
    { WB_LIMIT_FLAME_ON_WALL, WB_EVENT_FLAME_ON_WALL, NAN, TRUE },
    { WB_LIMIT_VESSEL_CRACK, WB_EVENT_VESSEL_CRACK, NAN, TRUE },
    { WB_LIMIT_AFTERGLOW, WB_EVENT_AFTERGLOW, 12, FALSE },
    { WB_LIMIT_AFTERGLOW, WB_EVENT_AFTERGLOW, 31, TRUE },
    { WB_LIMIT_SECONDARY_IGNITION, WB_EVENT_SECONDARY_IGNITION, 1, TRUE },
    { WB_LIMIT_TIPPED, WB_EVENT_VESSEL_CRACK, NAN, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      guint burn = test_craft_add_burn (data, test_craft_add_sample (data, one_cell (data), "S3-1"));
      guint row = test_craft_read (data, burn, 60, WB_COLUMN_EVENT, cases[i].event);
      WbCraftLimit limit;
      g_autofree char *text = NULL;

      if (!isnan (cases[i].seconds))
        test_craft_set (data, row, WB_COLUMN_EVENT_S, cases[i].seconds);
      limit = judge (data, cases[i].kind);
      text = wb_craft_limit_dup_text (data, &limit);
      g_test_message ("%s", text);
      g_assert_cmpint (limit.state == WB_CRAFT_LIMIT_CROSSED, ==, cases[i].crossed);
    }
}

/* EN 15493:2019: 30 s on average (as told by a test laboratory). */
static void
test_afterglow_is_an_average (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint sample = test_craft_add_sample (data, one_cell (data), "S3-1");
  const double seconds[] = { 40, 15, 10, 80 };

  for (guint i = 0; i < 4; i++)
    {
      guint row = test_craft_read (data, test_craft_add_burn (data, sample), 240, WB_COLUMN_EVENT, WB_EVENT_AFTERGLOW);

      test_craft_set (data, row, WB_COLUMN_EVENT_S, seconds[i]);
      if (i == 2)
        g_assert_cmpint (judge (data, WB_LIMIT_AFTERGLOW).by_stage[WB_STAGE_UPPER], ==, WB_CRAFT_LIMIT_PASSED);
    }
  g_assert_cmpint (judge (data, WB_LIMIT_AFTERGLOW).state, ==, WB_CRAFT_LIMIT_CROSSED);
}

static void
test_set_aside_is_told_not_counted (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = one_cell (data);
  guint sample = test_craft_add_sample (data, cell, "S3-1");
  WbCraftLimit limit;

  test_craft_read (data, test_craft_add_burn (data, sample), 60, WB_COLUMN_FLAME_MM, 80);
  sample = test_craft_add_sample (data, cell, "S3-2");
  test_craft_read (data, test_craft_add_burn (data, sample), 60, WB_COLUMN_FLAME_MM, 20);
  ((WbSample *) g_ptr_array_index (data->samples, 0))->set_aside = g_strdup ("wick off centre");
  limit = judge (data, WB_LIMIT_FLAME);
  g_assert_true (limit.set_aside_only);
  g_assert_cmpint (limit.by_stage[WB_STAGE_UPPER], ==, WB_CRAFT_LIMIT_PASSED);
  g_assert_cmpfloat (limit.worst, ==, 20);
}

/* What crossed is told of the sample that crossed, whatever the others read and in whichever order. */
static void
test_set_aside_names_its_own_crossing (void)
{
  for (guint aside = 0; aside < 2; aside++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      guint cell = one_cell (data);
      WbCraftLimit limit, crossing;
      g_autofree char *text = NULL;

      for (guint i = 0; i < 2; i++)
        {
          guint burn = test_craft_add_burn (data, test_craft_add_sample (data, cell, i == 0 ? "S3-1" : "S3-2"));

          test_craft_read (data, burn, 60, WB_COLUMN_VESSEL_C, i == aside ? 50 : 60);
          test_craft_read (data, burn, 120, WB_COLUMN_VESSEL_C, i == aside ? 84 : 64);
          test_craft_read (data, burn, 180, WB_COLUMN_VESSEL_C, i == aside ? 80 : 64);
        }
      ((WbSample *) g_ptr_array_index (data->samples, aside))->set_aside_cause = WB_CAUSE_OTHER;
      limit = judge (data, WB_LIMIT_VESSEL);
      g_assert_true (limit.set_aside_only);
      g_assert_cmpfloat (limit.worst, ==, 64);
      g_assert_cmpuint (limit.sample, ==, 1 - aside);
      crossing = wb_craft_limit_get_set_aside (&limit);
      g_assert_cmpfloat (crossing.worst, ==, 84);
      g_assert_cmpfloat (crossing.elapsed_min, ==, 120);
      g_assert_cmpuint (crossing.sample, ==, aside);
      g_assert_cmpuint (crossing.burn, ==, aside);
      g_assert_cmpint (crossing.reading, >, 0);
      g_assert_cmpint (crossing.reading, !=, limit.reading);
      text = wb_craft_limit_dup_text (data, &crossing);
      g_assert_nonnull (strstr (text, aside == 0 ? "of sample S3-1: over the " : "of sample S3-2: over the "));
    }
}

/* Each sample for itself: what it crossed, another may have crossed worse, or be set aside. */
static void
test_each_sample_for_itself (void)
{
  static const struct { double flame, wall, logged; WbCraftLimitState states[2]; } cases[] = {
    { 55, 60, NAN, { WB_CRAFT_LIMIT_CROSSED, WB_CRAFT_LIMIT_NOT_TESTED } },
    { 52, 84, NAN, { WB_CRAFT_LIMIT_CROSSED, WB_CRAFT_LIMIT_CROSSED } },
    { 30, 60, 90, { WB_CRAFT_LIMIT_NOT_TESTED, WB_CRAFT_LIMIT_CROSSED } },
    { 30, 60, NAN, { WB_CRAFT_LIMIT_NOT_TESTED, WB_CRAFT_LIMIT_NOT_TESTED } },
  };
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint cell = one_cell (data);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *code = g_strdup_printf ("S3-%u", i + 1);
      guint burn = test_craft_add_burn (data, test_craft_add_sample (data, cell, code));

      test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, cases[i].flame);
      test_craft_read (data, burn, 120, WB_COLUMN_VESSEL_C, cases[i].wall);
      if (!isnan (cases[i].logged))
        test_craft_log (data, burn, cases[i].logged, 100, NAN, NAN);
    }
  ((WbSample *) g_ptr_array_index (data->samples, 1))->set_aside_cause = WB_CAUSE_OTHER;
  figures = wb_craft_figures_new (data);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) limits = wb_craft_limits_of_sample (data, figures, i);
      const WbCraftLimit *flame = &g_array_index (limits, WbCraftLimit, find_limit (data, WB_LIMIT_FLAME_HOUSE));
      const WbCraftLimit *wall = &g_array_index (limits, WbCraftLimit, find_limit (data, WB_LIMIT_VESSEL));

      g_assert_cmpuint (limits->len, ==, data->limits->len);
      g_assert_cmpint (flame->state, ==, cases[i].states[0]);
      g_assert_cmpint (wall->state, ==, cases[i].states[1]);
      g_assert_false (flame->set_aside_only || wall->set_aside_only);
      g_assert_cmpuint (flame->sample, ==, i);
      g_assert_cmpfloat (flame->worst, ==, cases[i].flame);
      g_assert_cmpint (wall->logged, ==, !isnan (cases[i].logged));
    }
}

/* A limit that is off is over nothing, whoever would have crossed it. */
static void
test_off_is_not_crossed_by_a_sample_set_aside (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();

  test_craft_read (data, test_craft_add_burn (data, test_craft_add_sample (data, one_cell (data), "S3-1")), 60, WB_COLUMN_VESSEL_C, 84);
  ((WbSample *) g_ptr_array_index (data->samples, 0))->set_aside_cause = WB_CAUSE_OTHER;
  g_assert_true (judge (data, WB_LIMIT_VESSEL).set_aside_only);
  ((WbLimit *) g_ptr_array_index (data->limits, find_limit (data, WB_LIMIT_VESSEL)))->off = TRUE;
  g_assert_false (judge (data, WB_LIMIT_VESSEL).set_aside_only);
}

static void
test_metal_needs_a_patch (void)
{
  const struct { const char *place; WbCraftLimitState state; } cases[] = {
    { NULL, WB_CRAFT_LIMIT_NOT_TESTED }, { "side", WB_CRAFT_LIMIT_NOT_TESTED },
    { "side, matt patch", WB_CRAFT_LIMIT_PASSED }, { "Contact probe", WB_CRAFT_LIMIT_PASSED },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      guint burn = test_craft_add_burn (data, test_craft_add_sample (data, one_cell (data), "S3-1"));
      guint row = test_craft_read (data, burn, 60, WB_COLUMN_VESSEL_C, 50);

      ((WbVessel *) g_ptr_array_index (data->vessels, 0))->wall = WB_WALL_METAL;
      if (cases[i].place != NULL)
        wb_readings_set_text (data->readings, row, WB_READING_TEXT_INSTRUMENT_PLACE, cases[i].place);
      g_assert_cmpint (judge (data, WB_LIMIT_VESSEL).by_stage[WB_STAGE_UPPER], ==, cases[i].state);
      /* it reads low on metal: what is too hot even so has crossed */
      test_craft_read (data, burn, 120, WB_COLUMN_VESSEL_C, 78);
      g_assert_cmpint (judge (data, WB_LIMIT_VESSEL).state, ==, WB_CRAFT_LIMIT_CROSSED);
    }
}

static void
test_off_is_told (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint burn = test_craft_add_burn (data, test_craft_add_sample (data, one_cell (data), "S3-1"));

  test_craft_read (data, burn, 60, WB_COLUMN_VESSEL_C, 90);
  ((WbLimit *) g_ptr_array_index (data->limits, find_limit (data, WB_LIMIT_VESSEL)))->off = TRUE;
  g_assert_cmpint (judge (data, WB_LIMIT_VESSEL).state, ==, WB_CRAFT_LIMIT_OFF);
  g_assert_cmpstr (wb_craft_limit_state_get_key (WB_CRAFT_LIMIT_OFF), ==, "off");
}

static void
test_at_the_bench (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  const struct { WbColumn column; double value; WbLimitKind kind; int level; } cases[] = {
    { WB_COLUMN_FLAME_MM, 30, WB_LIMIT_FLAME_HOUSE, -1 },
    { WB_COLUMN_FLAME_MM, 38, WB_LIMIT_FLAME_HOUSE, WB_CRAFT_NEAR },
    { WB_COLUMN_FLAME_MM, 51, WB_LIMIT_FLAME_HOUSE, WB_CRAFT_OVER },
    { WB_COLUMN_VESSEL_C, 61, WB_LIMIT_VESSEL, WB_CRAFT_NEAR },
    { WB_COLUMN_VESSEL_C, 77.5, WB_LIMIT_VESSEL, WB_CRAFT_OVER },
    { WB_COLUMN_EVENT, WB_EVENT_TIPPED, WB_LIMIT_TIPPED, WB_CRAFT_OVER },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) hits = NULL;
      double values[WB_N_COLUMNS];
      int level = -1;

      for (guint k = 0; k < WB_N_COLUMNS; k++)
        values[k] = NAN;
      values[cases[i].column] = cases[i].value;
      hits = wb_craft_limits_check_reading (data->limits, values);
      for (guint k = 0; k < hits->len; k++)
        if (g_array_index (hits, WbCraftLimitHit, k).limit == find_limit (data, cases[i].kind))
          level = g_array_index (hits, WbCraftLimitHit, k).level;
      g_assert_cmpint (level, ==, cases[i].level);
    }
}

/* The house's limit of the wall: 77 °C, of the maker's own; of the base one of the test's own. Within it a logger's file tests nothing, over it it crosses, and says that it was a logger. */
static void
test_a_loggers_file_crosses (void)
{
  const struct { double wall_c, base_c; WbLimitKind kind; WbCraftLimitState state; } cases[] = {
    { 77, NAN, WB_LIMIT_VESSEL, WB_CRAFT_LIMIT_NOT_TESTED }, { 77.1, NAN, WB_LIMIT_VESSEL, WB_CRAFT_LIMIT_CROSSED },
    { 85, NAN, WB_LIMIT_BASE, WB_CRAFT_LIMIT_NOT_TESTED }, { NAN, 200, WB_LIMIT_BASE, WB_CRAFT_LIMIT_CROSSED },
    { NAN, 200, WB_LIMIT_VESSEL, WB_CRAFT_LIMIT_NOT_TESTED },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      guint burn = test_craft_add_burn (data, test_craft_add_sample (data, one_cell (data), "S3-1"));
      WbLimit *base = wb_record_new (&wb_limit_type);
      WbCraftLimit limit;
      g_autofree char *text = NULL;

      test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, 30);
      base->kind = WB_LIMIT_BASE;
      base->stop_at = 150;
      g_ptr_array_add (data->limits, base);
      test_craft_log (data, burn, cases[i].wall_c, 142, cases[i].base_c, 31);
      limit = judge (data, cases[i].kind);
      g_assert_cmpint (limit.by_stage[WB_STAGE_UPPER], ==, cases[i].state);
      g_assert_cmpint (limit.samples_read, ==, 0);
      if (cases[i].state != WB_CRAFT_LIMIT_CROSSED)
        {
          g_assert_true (isnan (limit.worst));
          continue;
        }
      text = wb_craft_limit_dup_text (data, &limit);
      g_assert_true (limit.logged);
      g_assert_cmpfloat (limit.worst, ==, cases[i].kind == WB_LIMIT_BASE ? 200 : 77.1);
      g_assert_nonnull (strstr (text, cases[i].kind == WB_LIMIT_BASE ? "at 31 min of burn 1 of sample S3-1, in its logger's file: over"
                                                                     : "at 142 min of burn 1 of sample S3-1, in its logger's file: over"));
      /* of a sample set aside it is told beside the cause */
      ((WbSample *) g_ptr_array_index (data->samples, 0))->set_aside_cause = WB_CAUSE_CAVITY;
      limit = judge (data, cases[i].kind);
      g_assert_true (limit.set_aside_only && limit.aside.logged);
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/limits/one-bad-reading-crosses", test_one_bad_reading_crosses);
  g_test_add_func ("/craft/limits/at-the-limit-is-not-over-it", test_at_the_limit_is_not_over);
  g_test_add_func ("/craft/limits/passed-needs-every-stage", test_passed_needs_every_stage);
  g_test_add_func ("/craft/limits/events-count-by-duration-or-at-all", test_events);
  g_test_add_func ("/craft/limits/glow-after-snuffing-is-an-average", test_afterglow_is_an_average);
  g_test_add_func ("/craft/limits/a-sample-set-aside-is-told-not-counted", test_set_aside_is_told_not_counted);
  g_test_add_func ("/craft/limits/a-sample-set-aside-names-its-own-crossing", test_set_aside_names_its_own_crossing);
  g_test_add_func ("/craft/limits/each-sample-for-itself", test_each_sample_for_itself);
  g_test_add_func ("/craft/limits/a-limit-that-is-off-is-not-crossed-by-a-sample-set-aside", test_off_is_not_crossed_by_a_sample_set_aside);
  g_test_add_func ("/craft/limits/a-metal-vessel-needs-a-patch-or-probe", test_metal_needs_a_patch);
  g_test_add_func ("/craft/limits/a-limit-turned-off-says-so", test_off_is_told);
  g_test_add_func ("/craft/limits/the-bench-asks-before-it-stops", test_at_the_bench);
  g_test_add_func ("/craft/limits/a-loggers-file-crosses-and-tests-nothing", test_a_loggers_file_crosses);
  return g_test_run ();
}
