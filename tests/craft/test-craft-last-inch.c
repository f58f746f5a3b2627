/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-last-inch.h"

#include <math.h>

#define INNER 76.2
/* 76.2 mm straight at 0.90 g/cm3: pi / 4 * 7.62^2 cm2 * 0.90 g/cm3 / 10, g a mm. At 5 g/h it sinks 1.22 mm/h (arithmetic). */
#define G_A_MM 4.1043

/* A candle of 80 mm of wax in a vessel of 300 g. */
static guint
add_candle (WbDataset  *data,
            const char *code)
{
  guint cell = data->cells->len > 0 ? 0 : test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-3", 3, 0);
  guint index = test_craft_add_sample (data, cell, code);
  WbSample *sample = (WbSample *) wb_dataset_get_sample (data, index);

  sample->tare_g = 300;
  sample->fill_g = 80 * G_A_MM;
  sample->wax_height_mm = 80;
  return index;
}

/* Four hours, from so many mm of wax on, weighed before and after. */
static guint
burn_four_hours (WbDataset *data,
                 guint      sample,
                 double     level_mm,
                 double     g_per_h)
{
  guint burn = test_craft_add_burn (data, sample);

  test_craft_read (data, burn, 0, WB_COLUMN_MASS_G, 300 + level_mm * G_A_MM);
  test_craft_read (data, burn, 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  test_craft_read (data, burn, 300, WB_COLUMN_MASS_G, 300 + level_mm * G_A_MM - 4 * g_per_h);
  return burn;
}

static WbCraftLastInch
foretell (WbDataset *data,
          guint      sample)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  WbCraftLastInch inch;

  wb_craft_last_inch_foretell (data, figures, sample, &inch);
  return inch;
}

/* 32 mm less 4 h of 1.2182 mm/h are 27.127 mm: 1.727 mm above the last inch, which is 85.1 min; 17.127 mm above 10 mm, 843.5 min. */
static void
test_own_pace (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint sample = add_candle (data, "S3-1");
  WbCraftLastInch inch;

  burn_four_hours (data, sample, 32, 5);
  inch = foretell (data, sample);
  g_assert_cmpint (inch.pace, ==, WB_CRAFT_PACE_SAMPLE);
  g_assert_cmpfloat_with_epsilon (inch.g_per_h, 5, 1e-9);
  g_assert_cmpfloat_with_epsilon (inch.level_mm, 27.127, 0.001);
  g_assert_cmpfloat_with_epsilon (inch.last_inch_min, 85.1, 0.1);
  g_assert_cmpfloat_with_epsilon (inch.end_min, 843.5, 0.5);
}

/* Below it, it is in it from the first minute. */
static void
test_in_it (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint sample = add_candle (data, "S3-1");

  burn_four_hours (data, sample, 26, 5);
  g_assert_cmpfloat (foretell (data, sample).last_inch_min, ==, 0);
}

/* Not weighed yet: by its neighbour of the combination, 6 g/h; where none was, by 7 g/h, the upper end of what is usual. */
static void
test_others_pace (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint fresh = add_candle (data, "S3-1"), burnt;
  WbCraftLastInch inch = foretell (data, fresh);
  const double to_burn = (80 - 25.4) * G_A_MM;

  g_assert_cmpint (inch.pace, ==, WB_CRAFT_PACE_USUAL);
  g_assert_cmpfloat_with_epsilon (inch.level_mm, 80, 1e-9);
  g_assert_cmpfloat_with_epsilon (inch.last_inch_min, to_burn / 7 * 60, 0.1);
  burnt = add_candle (data, "S3-2");
  burn_four_hours (data, burnt, 80, 6);
  inch = foretell (data, fresh);
  g_assert_cmpint (inch.pace, ==, WB_CRAFT_PACE_CELL);
  g_assert_cmpfloat_with_epsilon (inch.last_inch_min, to_burn / 6 * 60, 0.1);
}

/*
 * A vessel that narrows from 80 mm at the top to 50 mm at the base, 76.2 mm high. Below h of its height lie
 * ((50 + 30 h)^3 - 50^3) / (80^3 - 50^3) of the wax: a third of the height (25.4 mm) 23.514 %. Burnt down to 25 %, which
 * stands at h = 0.35092, 26.740 mm, it has 1.486 % of 300 g left above: 53.5 min at 5 g/h.
 */
static void
test_taper (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Funnel", 80, "Sedge", "S-3", 3, 0), index = test_craft_add_sample (data, cell, "S3-1"), burn;
  WbVessel *vessel = (WbVessel *) wb_dataset_get_vessel (data, cell);
  WbSample *sample = (WbSample *) wb_dataset_get_sample (data, index);
  WbCraftLastInch inch;

  vessel->base_diameter_mm = 50;
  sample->tare_g = 200;
  sample->fill_g = 300;
  sample->wax_height_mm = 76.2;
  burn = test_craft_add_burn (data, index);
  test_craft_read (data, burn, 0, WB_COLUMN_MASS_G, 200 + 95);
  test_craft_read (data, burn, 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  test_craft_read (data, burn, 300, WB_COLUMN_MASS_G, 200 + 75);
  inch = foretell (data, index);
  g_assert_cmpfloat_with_epsilon (inch.level_mm, 26.740, 0.001);
  g_assert_cmpfloat_with_epsilon (inch.last_inch_min, 53.5, 0.1);
}

/* The burn that is alight: lit at 30 mm, 5 g/h known from before; (30 - 25.4) / 1.2182 h is minute 226.6 of it, whenever it is asked. */
static void
test_alight (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint sample = add_candle (data, "S3-1"), burn;

  burn_four_hours (data, sample, 30 + 20 / G_A_MM, 5);
  burn = test_craft_add_burn (data, sample);
  ((WbBurn *) wb_dataset_get_burn (data, burn))->session = 1;
  test_craft_read (data, burn, 0, WB_COLUMN_MASS_G, 300 + 30 * G_A_MM);
  g_assert_cmpfloat_with_epsilon (foretell (data, sample).last_inch_min, 226.6, 0.2);
  test_craft_read (data, burn, 120, WB_COLUMN_FLAME_MM, 20);
  g_assert_cmpfloat_with_epsilon (foretell (data, sample).last_inch_min, 226.6, 0.2);
  g_assert_cmpfloat_with_epsilon (foretell (data, sample).level_mm, 30, 0.01);
}

static void
test_unknown (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-3", 3, 0), sample = test_craft_add_sample (data, cell, "S3-1");
  WbCraftLastInch inch;

  ((WbVessel *) wb_dataset_get_vessel (data, cell))->wax_height_mm = NAN;
  inch = foretell (data, sample);
  g_assert_cmpint (inch.pace, ==, WB_CRAFT_PACE_NONE);
  g_assert_true (isnan (inch.last_inch_min) && isnan (inch.end_min) && isnan (inch.level_mm));
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/last-inch/by-what-it-lost", test_own_pace);
  g_test_add_func ("/craft/last-inch/in-it-from-the-first-minute", test_in_it);
  g_test_add_func ("/craft/last-inch/not-weighed-yet", test_others_pace);
  g_test_add_func ("/craft/last-inch/a-vessel-that-narrows", test_taper);
  g_test_add_func ("/craft/last-inch/of-the-burn-that-is-alight", test_alight);
  g_test_add_func ("/craft/last-inch/not-known", test_unknown);
  return g_test_run ();
}
