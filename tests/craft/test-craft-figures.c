/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft.h"
#include "wb-craft-figures.h"

#define INNER 76.2

static guint
one_sample (WbDataset *data)
{
  return test_craft_add_sample (data, test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-3", 3, 0), "S3-1");
}

/* Consumption, recomputed from two common-practice examples: 570 g to 556 g in 4 h is 3.5 g/h, 540 g to 350 g in
 * 40 h is 4.75 g/h; and the rules for snuffing, going out and relighting of the burn-log format. */
static const struct
{
  const char *name;
  double      minute[6];
  double      mass[6];     /* 0: not taken */
  double      flame[6];    /* 0: not taken */
  int         event[6];    /* -1: none */
  guint       rows;
  double      alight_min, g_per_h;
} burns[] = {
  { "snuffed at four hours", { 0, 240 }, { 570, 556 }, { 15, 15 }, { -1, WB_EVENT_SNUFFED }, 2, 240, 3.5 },
  { "forty hours", { 0, 2400 }, { 540, 350 }, { 15, 15 }, { -1, WB_EVENT_SNUFFED }, 2, 2400, 4.75 },
  { "no event: to the last flame", { 0, 240, 600 }, { 570, 0, 556 }, { 15, 15, 0 }, { -1, -1, -1 }, 3, 240, 3.5 },
  { "weighed next morning", { 0, 240, 1200 }, { 570, 0, 556 }, { 15, 0, 0 }, { -1, WB_EVENT_SNUFFED, -1 }, 3, 240, 3.5 },
  { "out for an hour until relit", { 0, 60, 120, 300 }, { 570, 0, 0, 556 }, { 15, 0, 15, 15 },
    { -1, WB_EVENT_SELF_EXTINGUISHED, WB_EVENT_RELIT, WB_EVENT_SNUFFED }, 4, 240, 3.5 },
  { "out, relit, out again", { 0, 60, 90, 150, 240 }, { 570, 0, 0, 0, 563 }, { 15, 0, 15, 0, 0 },
    { -1, WB_EVENT_SNUFFED, WB_EVENT_RELIT, WB_EVENT_SELF_EXTINGUISHED, -1 }, 5, 120, 3.5 },
  { "only weighed", { 0, 240 }, { 570, 556 }, { 0, 0 }, { -1, -1 }, 2, NAN, NAN },
  { "mass that grew is no consumption", { 0, 240 }, { 556, 570 }, { 15, 15 }, { -1, WB_EVENT_SNUFFED }, 2, 240, NAN },
  { "mass of three hours over three hours", { 0, 180, 240 }, { 570, 559.5, 0 }, { 15, 15, 15 },
    { -1, -1, WB_EVENT_SNUFFED }, 3, 240, 3.5 },
};

static void
test_consumption (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (burns); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      g_autoptr (WbCraftFigures) figures = NULL;
      guint burn = test_craft_add_burn (data, one_sample (data));

      for (guint k = 0; k < burns[i].rows; k++)
        {
          guint row = test_craft_add_reading (data, burn, burns[i].minute[k]);

          if (burns[i].mass[k] > 0)
            test_craft_set (data, row, WB_COLUMN_MASS_G, burns[i].mass[k]);
          if (burns[i].flame[k] > 0)
            test_craft_set (data, row, WB_COLUMN_FLAME_MM, burns[i].flame[k]);
          if (burns[i].event[k] >= 0)
            test_craft_set (data, row, WB_COLUMN_EVENT, burns[i].event[k]);
        }
      figures = wb_craft_figures_new (data);
      g_test_message ("%s", burns[i].name);
      if (isnan (burns[i].alight_min))
        g_assert_true (isnan (figures->burns[0].alight_min));
      else
        g_assert_cmpfloat_with_epsilon (figures->burns[0].alight_min, burns[i].alight_min, 1e-9);
      if (isnan (burns[i].g_per_h))
        g_assert_true (isnan (figures->burns[0].consumption_g_per_h));
      else
        g_assert_cmpfloat_with_epsilon (figures->burns[0].consumption_g_per_h, burns[i].g_per_h, 1e-9);
    }
}

/* One of two wicks goes out: the candle burns on by the other, until that is out, too, or the whole is snuffed. */
static void
test_one_of_two_wicks_goes_out (void)
{
  static const struct { int wick[2]; double end; } ends[] = { { { 2, 1 }, 240 }, { { 2, 0 }, 240 }, { { 0, 0 }, 100 }, { { 2, 2 }, 200 } };

  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      g_autoptr (WbDataset) data = test_craft_data_new ();
      g_autoptr (WbCraftFigures) figures = NULL;
      guint burn = test_craft_add_burn (data, one_sample (data)), rows[2];

      ((WbCell *) g_ptr_array_index (data->cells, 0))->wick_count = 2;
      rows[0] = test_craft_read (data, burn, 100, WB_COLUMN_EVENT, WB_EVENT_SELF_EXTINGUISHED);
      test_craft_read (data, burn, 200, WB_COLUMN_FLAME_MM, 15);
      rows[1] = test_craft_read (data, burn, 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
      for (guint k = 0; k < 2; k++)
        if (ends[i].wick[k] > 0)
          test_craft_set (data, rows[k], WB_COLUMN_WICK_NUMBER, ends[i].wick[k]);
      figures = wb_craft_figures_new (data);
      g_assert_cmpfloat (figures->burns[0].last_min, ==, ends[i].end);
      g_assert_cmpfloat (figures->burns[0].alight_min, ==, ends[i].end);
    }
}

static void
test_mass_of_the_next_burn (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data);
  guint burn = test_craft_add_burn (data, sample);
  guint next;

  test_craft_set (data, test_craft_read (data, burn, 0, WB_COLUMN_MASS_G, 570), WB_COLUMN_FLAME_MM, 15);
  test_craft_read (data, burn, 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  next = test_craft_add_burn (data, sample);
  test_craft_read (data, next, 0, WB_COLUMN_MASS_G, 556);
  test_craft_read (data, next, 60, WB_COLUMN_FLAME_MM, 15);
  figures = wb_craft_figures_new (data);
  g_assert_cmpfloat_with_epsilon (figures->burns[0].mass_after_g, 556, 1e-9);
  g_assert_cmpfloat_with_epsilon (figures->burns[0].consumption_g_per_h, 3.5, 1e-9);
  g_assert_true (isnan (figures->burns[1].consumption_g_per_h));
}

/* Not weighed at the first lighting: tare and fill are what it weighed then. 570 g to 556 g in 4 h is 3.5 g/h (common practice, recomputed). */
static void
test_tare_and_fill_are_the_first_mass (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data);
  guint burn = test_craft_add_burn (data, sample);

  ((WbSample *) g_ptr_array_index (data->samples, sample))->tare_g = 420;
  ((WbSample *) g_ptr_array_index (data->samples, sample))->fill_g = 150;
  test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, 15);
  test_craft_set (data, test_craft_read (data, burn, 240, WB_COLUMN_MASS_G, 556), WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  figures = wb_craft_figures_new (data);
  g_assert_cmpfloat_with_epsilon (figures->burns[0].mass_before_g, 570, 1e-9);
  g_assert_cmpfloat_with_epsilon (figures->burns[0].consumption_g_per_h, 3.5, 1e-9);
}

/* Rounds that ask for the highest flame alone tell of the flame by it; where it was read as it stood, that counts. */
static void
test_highest_flame_alone (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data), highest = test_craft_add_burn (data, sample), both = test_craft_add_burn (data, sample);

  for (guint hour = 1; hour <= 4; hour++)
    test_craft_read (data, highest, hour * 60, WB_COLUMN_FLAME_MAX_MM, 20 + hour);
  for (guint hour = 1; hour <= 4; hour++)
    test_craft_set (data, test_craft_read (data, both, hour * 60, WB_COLUMN_FLAME_MM, 18), WB_COLUMN_FLAME_MAX_MM, 20 + hour);
  figures = wb_craft_figures_new (data);
  g_assert_cmpfloat (figures->burns[0].flame_mm, ==, 24);
  g_assert_cmpfloat (figures->burns[0].flame_max_mm, ==, 24);
  g_assert_cmpfloat (figures->burns[1].flame_mm, ==, 18);
  g_assert_cmpfloat (figures->burns[1].flame_max_mm, ==, 24);
}

/* Read an hour after it was lit and still burning: no end yet, nothing cut short, but the highest so far; once it is out it is all told. */
static void
test_alight_has_no_end (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) lit = NULL, logged = NULL, closed = NULL, out = NULL;
  guint burn = test_craft_add_burn (data, one_sample (data)), row = test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, 30);
  WbBurn *record = (WbBurn *) wb_dataset_get_burn (data, burn);

  test_craft_set (data, row, WB_COLUMN_DEPTH_MM, 3.5);
  test_craft_set (data, row, WB_COLUMN_VESSEL_C, 28);
  test_craft_set (data, row, WB_COLUMN_POOL_MM, 30);
  logged = wb_craft_figures_new (data);
  g_assert_false (logged->burns[0].alight);
  g_assert_true (logged->burns[0].cut_short);
  g_assert_cmpfloat (logged->burns[0].depth_mm, ==, 3.5);
  record->session = 1;
  lit = wb_craft_figures_new (data);
  g_assert_true (lit->burns[0].alight);
  g_assert_false (lit->burns[0].cut_short);
  g_assert_true (isnan (lit->burns[0].depth_mm) && isnan (lit->burns[0].flame_mm) && isnan (lit->burns[0].vessel_c)
                 && isnan (lit->burns[0].pool_mm));
  g_assert_cmpfloat (lit->burns[0].flame_max_mm, ==, 30);
  g_assert_cmpfloat (lit->burns[0].vessel_max_c, ==, 28);
  data->experiment->closed = TRUE;
  closed = wb_craft_figures_new (data);
  g_assert_false (closed->burns[0].alight);
  data->experiment->closed = FALSE;
  test_craft_read (data, burn, 61, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  out = wb_craft_figures_new (data);
  g_assert_false (out->burns[0].alight);
  g_assert_true (out->burns[0].cut_short);
  g_assert_cmpfloat (out->burns[0].depth_mm, ==, 3.5);
}

static void
test_end_of_the_burn (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  const WbCraftBurn *burn;
  guint row;

  test_craft_calm_burn (data, one_sample (data), 70, 1.2, INNER);
  row = test_craft_read (data, 0, 245, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  test_craft_set (data, row, WB_COLUMN_FLAME_MAX_MM, 31);
  figures = wb_craft_figures_new (data);
  burn = &figures->burns[0];
  g_assert_cmpfloat (burn->depth_mm, ==, 10);
  g_assert_cmpfloat_with_epsilon (burn->flame_mm, 19.3, 1e-9);
  g_assert_cmpfloat (burn->flame_max_mm, ==, 31);
  g_assert_cmpfloat (wb_craft_burn_get (burn, WB_FIGURE_FLAME, TRUE), ==, 31);
  g_assert_cmpfloat_with_epsilon (wb_craft_burn_get (burn, WB_FIGURE_FLAME, FALSE), 19.3, 1e-9);
  g_assert_true (isnan (wb_craft_burn_get (burn, WB_FIGURE_TAU, FALSE)));
  g_assert_false (burn->cut_short);
  g_assert_false (burn->pool_at_wall);
  g_assert_false (burn->stage_known);
  g_assert_cmpint (burn->stage, ==, WB_STAGE_UPPER);
}

static void
test_early_figures_are_not_the_end (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint burn = test_craft_add_burn (data, one_sample (data));

  test_craft_read (data, burn, 60, WB_COLUMN_DEPTH_MM, 4);
  test_craft_read (data, burn, 240, WB_COLUMN_FLAME_MM, 20);
  figures = wb_craft_figures_new (data);
  g_assert_true (isnan (figures->burns[0].depth_mm));
  g_assert_cmpfloat (figures->burns[0].depth_max_mm, ==, 4);
}

static void
test_full_pool_is_seen_between_readings (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint burn = test_craft_add_burn (data, one_sample (data));

  test_craft_read (data, burn, 60, WB_COLUMN_POOL_MM, 50);
  test_craft_read (data, burn, 120, WB_COLUMN_POOL_MM, 70);
  test_craft_read (data, burn, 180, WB_COLUMN_POOL_FULL, 1);
  test_craft_read (data, burn, 240, WB_COLUMN_POOL_FULL, 1);
  figures = wb_craft_figures_new (data);
  g_assert_cmpfloat (figures->burns[0].not_full_h, ==, 2);
  g_assert_cmpfloat (figures->burns[0].full_seen_h, ==, 3);
  g_assert_true (figures->burns[0].pool_at_wall);
}

static void
test_throw_counts_only_alone (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint burn = test_craft_add_burn (data, one_sample (data));
  const struct { double rating, alone; } ratings[] = { { 4, 1 }, { 1, 0 }, { 5, 1 }, { 1, NAN } };

  for (guint i = 0; i < G_N_ELEMENTS (ratings); i++)
    {
      guint row = test_craft_read (data, burn, 120, WB_COLUMN_THROW, ratings[i].rating);

      if (!isnan (ratings[i].alone))
        test_craft_set (data, row, WB_COLUMN_ALONE, ratings[i].alone);
    }
  figures = wb_craft_figures_new (data);
  g_assert_cmpuint (figures->burns[0].throw_n, ==, 2);
  g_assert_cmpfloat (figures->burns[0].throw_rating, ==, 4.5);
}

static void
test_first_burn_cut_short_holds_the_next (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data);
  const double pools[3][4] = { { 42, NAN, NAN, NAN }, { 40, 42, 42.5, 43 }, { 43, 55, 66, 70 } };

  for (guint i = 0; i < 3; i++)
    {
      guint burn = test_craft_add_burn (data, sample);

      for (guint k = 0; k < 4; k++)
        if (!isnan (pools[i][k]))
          test_craft_read (data, burn, 60 * (k + 1), WB_COLUMN_POOL_MM, pools[i][k]);
    }
  figures = wb_craft_figures_new (data);
  g_assert_true (figures->burns[0].cut_short);
  g_assert_false (figures->burns[0].ring_held);
  g_assert_true (figures->burns[1].ring_held);
  g_assert_false (figures->burns[2].ring_held);
}

/* Short burns of one length, each read once: the pool is as wide every time, and no ring holds it; a longer one is held. */
static void
test_short_burns_alike_are_not_held (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data);
  static const struct { double minute, pool_mm; } reads[] = { { 90, 50 }, { 90, 49 }, { 90, 50.5 }, { 180, 50.5 } };

  for (guint i = 0; i < G_N_ELEMENTS (reads); i++)
    test_craft_read (data, test_craft_add_burn (data, sample), reads[i].minute, WB_COLUMN_POOL_MM, reads[i].pool_mm);
  figures = wb_craft_figures_new (data);
  for (guint i = 0; i < G_N_ELEMENTS (reads); i++)
    {
      g_assert_true (figures->burns[i].cut_short);
      g_assert_cmpint (figures->burns[i].ring_held, ==, reads[i].minute > 90);
    }
}

static void
test_full_burns_alike_are_not_held (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data);

  for (guint i = 0; i < 3; i++)
    test_craft_calm_burn (data, sample, 70, 1.0, INNER);
  figures = wb_craft_figures_new (data);
  for (guint i = 0; i < 3; i++)
    g_assert_false (figures->burns[i].ring_held);
}

static void
test_nothing_read (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) empty = wb_craft_figures_new (data);
  g_autoptr (WbCraftFigures) figures = NULL;

  g_assert_cmpuint (empty->n_burns, ==, 0);
  test_craft_add_burn (data, one_sample (data));
  figures = wb_craft_figures_new (data);
  g_assert_cmpuint (figures->n_burns, ==, 1);
  g_assert_true (isnan (figures->burns[0].alight_min));
  g_assert_true (isnan (figures->life_left[0]));
  g_assert_false (figures->ended[0]);
}

static void
test_states (void)
{
  const struct { gboolean closed; guint poured, burns, waiting; const char *key; } cases[] = {
    { FALSE, 0, 0, 0, "planned" },
    { FALSE, 4, 0, 4, "curing" },
    { FALSE, 4, 3, 1, "burning" },
    { FALSE, 4, 30, 0, "finished" },
    { TRUE, 4, 3, 1, "finished" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpstr (wb_craft_state_get_key (wb_craft_state_of (cases[i].closed, cases[i].poured, cases[i].burns,
                                                                cases[i].waiting)), ==, cases[i].key);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/figures/consumption-is-mass-over-minutes-alight", test_consumption);
  g_test_add_func ("/craft/figures/one-of-two-wicks-goes-out", test_one_of_two_wicks_goes_out);
  g_test_add_func ("/craft/figures/the-next-burn-tells-the-mass-after", test_mass_of_the_next_burn);
  g_test_add_func ("/craft/figures/tare-and-fill-are-the-first-mass", test_tare_and_fill_are_the_first_mass);
  g_test_add_func ("/craft/figures/the-highest-flame-stands-in-for-the-flame", test_highest_flame_alone);
  g_test_add_func ("/craft/figures/the-end-is-the-last-reading", test_end_of_the_burn);
  g_test_add_func ("/craft/figures/early-figures-are-not-the-end", test_early_figures_are_not_the_end);
  g_test_add_func ("/craft/figures/a-full-pool-comes-between-two-readings", test_full_pool_is_seen_between_readings);
  g_test_add_func ("/craft/figures/throw-counts-only-alone", test_throw_counts_only_alone);
  g_test_add_func ("/craft/figures/a-first-burn-cut-short-holds-the-next", test_first_burn_cut_short_holds_the_next);
  g_test_add_func ("/craft/figures/short-burns-alike-are-not-held", test_short_burns_alike_are_not_held);
  g_test_add_func ("/craft/figures/full-burns-alike-are-not-held", test_full_burns_alike_are_not_held);
  g_test_add_func ("/craft/figures/a-burn-that-is-alight-has-no-end", test_alight_has_no_end);
  g_test_add_func ("/craft/figures/nothing-read-gives-nothing", test_nothing_read);
  g_test_add_func ("/craft/figures/an-experiment-has-a-state", test_states);
  return g_test_run ();
}
