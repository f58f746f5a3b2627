/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-lifetime.h"

#include <math.h>
#include <string.h>

/* How long a candle lives: arithmetic that a pocket calculator follows. */

typedef struct
{
  const char *name;
  double      fill_g, height_mm, g_per_h, burn_h;
  int         rule;
  double      residue_mm;
  gint64      end_burns;
  double      burns, grams, hours;
} Case;

static const Case cases[] = {
  /* 70 of 80 mm: 175 g, 35 h, 8.75 burns */
  { "to a residue", 200, 80, 5, 4, WB_END_RESIDUE, 10, 0, 9, 175, 35 },
  /* 160 g over 5 g/h: 32 h, 8 burns and not a ninth by rounding */
  { "an even number", 200, 50, 5, 4, WB_END_RESIDUE, 10, 0, 8, 160, 32 },
  { "until it goes out", 200, 80, 5, 4, WB_END_SELF, NAN, 0, 10, 200, 40 },
  /* 3 × 4 h × 5 g/h */
  { "a number of burns", 200, 80, 5, 4, WB_END_BURNS, NAN, 3, 3, 60, 12 },
  { "more burns than wax", 50, 80, 5, 4, WB_END_BURNS, NAN, 9, 3, 50, 10 },
  { "less wax than the residue", 20, 8, 5, 4, WB_END_RESIDUE, 10, 0, 0, 0, 0 },
};

static void
test_arithmetic (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Case *item = &cases[i];
      g_autoptr (WbRecord) vessel = wb_record_new (&wb_vessel_type);
      g_autoptr (WbRecord) protocol = (WbRecord *) wb_protocol_new_house ();
      WbProtocol *rule = (WbProtocol *) protocol;
      WbCraftLifetimeBasis basis = { (WbVessel *) vessel, NULL, rule, item->fill_g, item->height_mm, 1, item->g_per_h };
      WbCraftLifetime life;

      ((WbVessel *) vessel)->inner_diameter_mm = 70;
      rule->burn_s = item->burn_h * 3600;
      rule->end_rule = item->rule;
      rule->end_residue_mm = item->residue_mm;
      rule->end_burns = item->end_burns;
      wb_craft_lifetime_foretell (&basis, &life);
      g_test_message ("%s", item->name);
      g_assert_cmpint (life.pace, ==, WB_CRAFT_PACE_GIVEN);
      g_assert_cmpfloat (life.burns, ==, item->burns);
      g_assert_cmpfloat (life.burns_left, ==, item->burns);
      g_assert_cmpfloat_with_epsilon (life.grams, item->grams, 1e-9);
      g_assert_cmpfloat_with_epsilon (life.hours, item->hours, 1e-9);
    }
}

/* 200 g of water at 0.9 g/cm3 are 180 g; 70 of 80 mm of them 157.5 g: at 5 g/h 31.5 h, 8 burns; at 7 g/h 22.5 h, 6; at 3 g/h 52.5 h, 14. */
static void
test_usual_pace (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Tern", 70, "Sedge", "S-3", 3, 0);
  WbVessel *vessel = (WbVessel *) wb_dataset_get_vessel (data, cell);
  WbCraftLifetimeBasis basis = { vessel, data->wax, data->protocol, NAN, NAN, 1, NAN };
  g_autofree char *words = NULL, *us = NULL;
  WbCraftLifetime life, two;

  vessel->water_g = 200;
  vessel->wax_height_mm = 80;
  wb_craft_lifetime_foretell (&basis, &life);
  g_assert_cmpint (life.pace, ==, WB_CRAFT_PACE_USUAL);
  g_assert_cmpfloat_with_epsilon (life.fill_g, 180, 1e-9);
  g_assert_cmpfloat (life.burns, ==, 8);
  g_assert_cmpfloat (life.burns_left_low, ==, 6);
  g_assert_cmpfloat (life.burns_left_high, ==, 14);
  words = wb_craft_lifetime_dup_words (&life, FALSE);
  g_assert_cmpstr (words, ==, "About 8 burns of 4\u00a0h until 10\u00a0mm of wax are left (6 to 14): 158\u00a0g at 5.0\u00a0g/h, the middle of the"
                              " usual 3 to 7 g/h a wick, by common practice: nothing was weighed yet.");
  us = wb_craft_lifetime_dup_words (&life, TRUE);
  g_assert_nonnull (strstr (us, "0.39\u00a0in"));
  /* two wicks take twice as much: 15.75 h */
  basis.wicks = 2;
  wb_craft_lifetime_foretell (&basis, &two);
  g_assert_cmpfloat (two.burns, ==, 4);
  g_assert_cmpfloat_with_epsilon (two.g_per_h, 10, 1e-9);
}

/* Without water: by section and height. A square one of 60 mm, 50 mm of wax at 0.9: 60 * 60 * 50 / 1000 * 0.9 = 162 g. */
static void
test_fill_by_section (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Plinth", 60, "Sedge", "S-3", 3, 0);
  WbVessel *vessel = (WbVessel *) wb_dataset_get_vessel (data, cell);
  WbCraftLifetimeBasis basis = { vessel, data->wax, data->protocol, NAN, NAN, 1, 6 };
  WbCraftLifetime life;

  vessel->shape = WB_SHAPE_SQUARE;
  vessel->inner_width_mm = 60;
  vessel->wax_height_mm = 50;
  wb_craft_lifetime_foretell (&basis, &life);
  g_assert_cmpfloat_with_epsilon (life.fill_g, 162, 1e-9);
  g_assert_cmpfloat_with_epsilon (life.grams, 162 * 0.8, 1e-9);
  /* the fill is known and its height is not: from the section it is the same */
  vessel->wax_height_mm = NAN;
  basis.fill_g = 162;
  wb_craft_lifetime_foretell (&basis, &life);
  g_assert_cmpfloat_with_epsilon (life.grams, 162 * 0.8, 1e-9);
}

static void
test_unknown (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Tern", 70, "Sedge", "S-3", 3, 0);
  WbCraftLifetimeBasis basis = { wb_dataset_get_vessel (data, cell), NULL, NULL, 200, 80, 1, 5 };
  g_autofree char *words = NULL;
  WbCraftLifetime life;

  wb_craft_lifetime_foretell (&basis, &life);
  g_assert_true (isnan (life.burns) && isnan (life.grams));
  basis.protocol = data->protocol;
  basis.fill_g = NAN;
  basis.height_mm = NAN;
  wb_craft_lifetime_foretell (&basis, &life);
  g_assert_cmpint (life.pace, ==, WB_CRAFT_PACE_NONE);
  g_assert_true (isnan (life.burns) && isnan (life.grams) && isnan (life.burns_left));
  words = wb_craft_lifetime_dup_words (&life, FALSE);
  g_assert_nonnull (strstr (words, "not known"));
  /* so many burns need no wax to be counted */
  data->protocol->end_rule = WB_END_BURNS;
  data->protocol->end_burns = 4;
  wb_craft_lifetime_foretell (&basis, &life);
  g_assert_cmpfloat (life.burns, ==, 4);
}

static guint
add_candle (WbDataset  *data,
            guint       cell,
            const char *code)
{
  guint index = test_craft_add_sample (data, cell, code);
  WbSample *sample = (WbSample *) wb_dataset_get_sample (data, index);

  sample->tare_g = 300;
  sample->fill_g = 200;
  sample->wax_height_mm = 80;
  return index;
}

static guint
burn_from (WbDataset *data,
           guint      sample,
           double     fill_g,
           double     g_per_h)
{
  guint burn = test_craft_add_burn (data, sample);

  test_craft_read (data, burn, 0, WB_COLUMN_MASS_G, 300 + fill_g);
  test_craft_read (data, burn, 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  test_craft_read (data, burn, 300, WB_COLUMN_MASS_G, 300 + fill_g - 4 * g_per_h);
  return burn;
}

static WbCraftLifetime
life_of (const WbDataset *data,
         guint            sample)
{
  g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (data);
  WbCraftLifetime life;

  wb_craft_lifetime_of_sample (data, figures, sample, &life);
  return life;
}

/* Of 200 g two burns took 24 g each: 152 g, less the 25 g that stay, at 6 g/h: 127 g, 21.2 h, 6 burns. */
static void
test_left (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Tern", 70, "Sedge", "S-3", 3, 0), sample = add_candle (data, cell, "S3-1"), other;
  g_autofree char *words = NULL;
  WbCraftLifetime life;

  burn_from (data, sample, 200, 6);
  burn_from (data, sample, 176, 6);
  other = add_candle (data, cell, "S3-2");
  life = life_of (data, sample);
  g_assert_cmpint (life.pace, ==, WB_CRAFT_PACE_SAMPLE);
  g_assert_cmpuint (life.burns_done, ==, 2);
  g_assert_cmpfloat_with_epsilon (life.grams_left, 127, 1e-9);
  g_assert_cmpfloat (life.burns_left, ==, 6);
  g_assert_cmpfloat (life.burns_left_low, ==, 6);
  g_assert_cmpfloat (life.burns, ==, 8);
  g_assert_cmpfloat_with_epsilon (life.grams, 175, 1e-9);
  words = wb_craft_lifetime_dup_words (&life, FALSE);
  g_assert_cmpstr (words, ==, "2 of about 8 burns of 4\u00a0h done until 10\u00a0mm of wax are left: 175\u00a0g at 6.0\u00a0g/h, what it lost so far.");
  /* its neighbour, not lit yet, by the same pace: 175 g over 24 g a burn */
  life = life_of (data, other);
  g_assert_cmpint (life.pace, ==, WB_CRAFT_PACE_CELL);
  g_assert_cmpuint (life.burns_done, ==, 0);
  g_assert_cmpfloat (life.burns_left, ==, 8);
}

/* Three burns that nobody weighed: 12 h at the usual 5 g/h are 60 g; 115 g are left above the residue, 5.75 burns. */
static void
test_not_weighed (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Tern", 70, "Sedge", "S-3", 3, 0), sample = add_candle (data, cell, "S3-1");
  WbCraftLifetime life;

  for (guint i = 0; i < 3; i++)
    test_craft_read (data, test_craft_add_burn (data, sample), 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  life = life_of (data, sample);
  g_assert_cmpint (life.pace, ==, WB_CRAFT_PACE_USUAL);
  g_assert_cmpfloat_with_epsilon (life.grams_left, 115, 1e-9);
  g_assert_cmpfloat (life.burns_left, ==, 6);
  g_assert_cmpfloat (life.burns, ==, 9);
}

/* Alight since an hour, of 200 g: when its four hours are over 180 g are left, 155 g above the residue: 8 more burns after tonight. */
static void
test_alight (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Tern", 70, "Sedge", "S-3", 3, 0), sample = add_candle (data, cell, "S3-1"), burn;
  g_autofree char *words = NULL;
  WbCraftLifetime life;

  burn = test_craft_add_burn (data, sample);
  ((WbBurn *) wb_dataset_get_burn (data, burn))->session = 1;
  test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, 20);
  life = life_of (data, sample);
  g_assert_cmpuint (life.burns_done, ==, 1);
  g_assert_cmpfloat_with_epsilon (life.grams_left, 155, 1e-9);
  g_assert_cmpfloat (life.burns_left, ==, 8);
  g_assert_false (life.ended);
  words = wb_craft_lifetime_dup_words (&life, FALSE);
  g_assert_true (g_str_has_prefix (words, "About 9 burns of 4\u00a0h until"));
  g_assert_true (g_str_has_suffix (words, ". One of them is alight now."));
}

/* At its end, set aside or kept: none is left. One that is not, and seems to be used up by its clock alone, is lit once more. */
static void
test_ended (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  guint cell = test_craft_add_cell (data, "Tern", 70, "Sedge", "S-3", 3, 0);
  guint burnt = add_candle (data, cell, "S3-1"), kept, slow;
  g_autofree char *words = NULL;
  WbCraftLifetime life;

  burn_from (data, burnt, 45, 6);
  kept = add_candle (data, cell, "S3-2");
  ((WbSample *) wb_dataset_get_sample (data, kept))->retained = TRUE;
  life = life_of (data, burnt);
  g_assert_true (life.ended);
  g_assert_cmpfloat (life.burns_left, ==, 0);
  words = wb_craft_lifetime_dup_words (&life, FALSE);
  g_assert_cmpstr (words, ==, "1 burn done, none left.");
  life = life_of (data, kept);
  g_assert_true (life.ended);
  g_assert_cmpfloat (life.burns_left, ==, 0);
  slow = add_candle (data, test_craft_add_cell (data, "Tern", 70, "Sedge", "S-1", 1, 0), "S1-1");
  for (guint i = 0; i < 10; i++)
    test_craft_read (data, test_craft_add_burn (data, slow), 240, WB_COLUMN_EVENT, WB_EVENT_SNUFFED);
  life = life_of (data, slow);
  g_assert_false (life.ended);
  g_assert_cmpfloat (life.burns_left, ==, 1);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/lifetime/arithmetic", test_arithmetic);
  g_test_add_func ("/craft/lifetime/by-what-is-usual", test_usual_pace);
  g_test_add_func ("/craft/lifetime/fill-by-section", test_fill_by_section);
  g_test_add_func ("/craft/lifetime/not-known", test_unknown);
  g_test_add_func ("/craft/lifetime/what-is-left-of-a-sample", test_left);
  g_test_add_func ("/craft/lifetime/not-weighed", test_not_weighed);
  g_test_add_func ("/craft/lifetime/one-that-is-alight", test_alight);
  g_test_add_func ("/craft/lifetime/at-its-end", test_ended);
  return g_test_run ();
}
