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

static void
test_stage_and_end_by_mass (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", "S-3", 3, 0);
  guint seen = 0;

  test_craft_burn_physics (data, cell, &spec, 2, 0, 1);
  figures = wb_craft_figures_new (data);
  for (guint i = 0; i < figures->n_burns; i++)
    {
      g_assert_true (figures->burns[i].stage_known);
      seen |= 1u << figures->burns[i].stage;
      if (i > 0 && figures->burns[i].sample == figures->burns[i - 1].sample)
        g_assert_cmpint (figures->burns[i].stage, >=, figures->burns[i - 1].stage);
    }
  g_assert_cmpuint (seen, ==, 7);
  g_assert_true (figures->ended[0]);
  g_assert_true (figures->ended[1]);
  g_assert_cmpfloat (figures->life_left[0], <, 0.1);
}

static void
test_stage_without_masses_of_every_burn (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data);

  ((WbSample *) g_ptr_array_index (data->samples, 0))->fill_g = 100;
  for (guint i = 0; i < 6; i++)
    {
      guint burn = test_craft_add_burn (data, sample);

      if (i == 0)
        test_craft_read (data, burn, 0, WB_COLUMN_MASS_G, 400);
      test_craft_set (data, test_craft_add_reading (data, burn, 240), WB_COLUMN_FLAME_MM, 15);
      if (i < 2)
        test_craft_set (data, wb_readings_get_length (data->readings) - 1, WB_COLUMN_MASS_G, 400 - 16 * (i + 1));
    }
  figures = wb_craft_figures_new (data);
  /* 4 g/h: 16 g a burn of a fill of 100 g; the burns not weighed go on at that rate */
  g_assert_cmpfloat_with_epsilon (figures->burns[5].fill_left, 0.04, 1e-9);
  g_assert_cmpint (figures->burns[1].stage, ==, WB_STAGE_UPPER);
  g_assert_cmpint (figures->burns[2].stage, ==, WB_STAGE_MIDDLE);
  g_assert_cmpint (figures->burns[5].stage, ==, WB_STAGE_LOWER);
}

/* 76.2 mm at 0.90 g/cm3 hold 4.10 g a millimetre (arithmetic): 80 mm are 328 g, and 300 g burnt leave 6.8 mm. */
static void
test_the_height_tells_the_stage_too (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data);
  double mass = 700;

  ((WbSample *) g_ptr_array_index (data->samples, 0))->wax_height_mm = 80;
  for (guint i = 0; i < 3; i++, mass -= 100)
    {
      guint burn = test_craft_add_burn (data, sample);

      test_craft_set (data, test_craft_read (data, burn, 0, WB_COLUMN_MASS_G, mass), WB_COLUMN_FLAME_MM, 15);
      test_craft_set (data, test_craft_read (data, burn, 240, WB_COLUMN_MASS_G, mass - 100), WB_COLUMN_FLAME_MM, 15);
    }
  figures = wb_craft_figures_new (data);
  g_assert_cmpint (figures->burns[0].stage, ==, WB_STAGE_UPPER);
  g_assert_cmpint (figures->burns[1].stage, ==, WB_STAGE_MIDDLE);
  g_assert_cmpint (figures->burns[2].stage, ==, WB_STAGE_LOWER);
  g_assert_true (figures->burns[0].stage_known);
  g_assert_cmpfloat_with_epsilon (figures->life_left[0] * 80, 6.8, 0.2);
  g_assert_true (figures->ended[0]); /* the house ends at 10 mm */
}

/* The last reading of a sample's last burn. */
static guint
last_row_of (WbDataset *data,
             guint      sample)
{
  guint first, n, found = G_MAXUINT;

  for (guint burn = 0; burn < data->burns->len; burn++)
    if (g_array_index (data->burn_sample, guint, burn) == sample)
      {
        wb_readings_get_burn_rows (data->readings, burn, &first, &n);
        found = first + n - 1;
      }
  return found;
}

/* Nine burns of 20 g each, 180 g in all: 120 g left is the end of the upper third, 60 g that of the middle. */
static WbDataset *
nine_burns (double first_mass)
{
  WbDataset *data = test_craft_data_new ();
  guint sample = one_sample (data);

  for (guint i = 0; i < 9; i++)
    {
      guint burn = test_craft_add_burn (data, sample);
      guint row = test_craft_add_reading (data, burn, 0);

      test_craft_set (data, row, WB_COLUMN_FLAME_MM, 15);
      test_craft_set (data, row, WB_COLUMN_MASS_G, i == 0 ? first_mass : 600 - 20.0 * i);
      row = test_craft_add_reading (data, burn, 240);
      test_craft_set (data, row, WB_COLUMN_FLAME_MM, 15);
      test_craft_set (data, row, WB_COLUMN_MASS_G, 580 - 20.0 * i);
    }
  return data;
}

static void
test_what_was_lost_tells_the_thirds (void)
{
  static const struct
  {
    const char   *name;
    double        first_mass, last_mass; /* NAN: not weighed */
    int           event;                 /* in the last row */
    WbCraftThirds thirds;
  } cases[] = {
    { "burnt out", 600, 420, WB_EVENT_END_OF_LIFE, WB_CRAFT_THIRDS_OF_LIFE },
    { "first mass not taken", NAN, 420, WB_EVENT_END_OF_LIFE, WB_CRAFT_THIRDS_OF_LIFE },
    { "last mass not taken", 600, NAN, WB_EVENT_END_OF_LIFE, WB_CRAFT_THIRDS_OF_LIFE },
    { "snuffed: how much is left nobody knows", 600, 420, WB_EVENT_SNUFFED, WB_CRAFT_THIRDS_NO_FILL },
    { "out by itself: it may have drowned", 600, 420, WB_EVENT_SELF_EXTINGUISHED, WB_CRAFT_THIRDS_NO_FILL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbDataset) data = nine_burns (cases[i].first_mass);
      g_autoptr (WbCraftFigures) figures = NULL;
      gboolean known = cases[i].thirds == WB_CRAFT_THIRDS_OF_LIFE;

      g_test_message ("%s", cases[i].name);
      test_craft_set (data, last_row_of (data, 0), WB_COLUMN_EVENT, cases[i].event);
      test_craft_set (data, last_row_of (data, 0), WB_COLUMN_MASS_G, cases[i].last_mass);
      figures = wb_craft_figures_new (data);
      g_assert_cmpint (figures->thirds[0], ==, cases[i].thirds);
      for (guint burn = 0; burn < 9; burn++)
        {
          g_assert_cmpint (figures->burns[burn].stage_known, ==, known);
          g_assert_cmpint (figures->burns[burn].stage, ==, known ? burn / 3 : WB_STAGE_UPPER);
        }
      g_assert_cmpint (figures->ended[0], ==, known);
      if (known)
        g_assert_cmpfloat_with_epsilon (figures->life_left[0], 0, 1e-9);
    }
}

/* A stated fill rules: what stays in the vessel is wax too. */
static void
test_a_stated_fill_rules (void)
{
  g_autoptr (WbDataset) data = nine_burns (600);
  g_autoptr (WbCraftFigures) figures = NULL;

  ((WbSample *) g_ptr_array_index (data->samples, 0))->fill_g = 400;
  test_craft_set (data, last_row_of (data, 0), WB_COLUMN_EVENT, WB_EVENT_END_OF_LIFE);
  figures = wb_craft_figures_new (data);
  g_assert_cmpint (figures->thirds[0], ==, WB_CRAFT_THIRDS_OF_FILL);
  g_assert_cmpint (figures->burns[8].stage, ==, WB_STAGE_MIDDLE);
  g_assert_cmpfloat_with_epsilon (figures->life_left[0], 220.0 / 400.0, 1e-9);
}

static void
test_never_weighed_tells_no_third (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint sample = one_sample (data);

  one_sample (data);
  ((WbSample *) g_ptr_array_index (data->samples, 0))->fill_g = 180;
  test_craft_read (data, test_craft_add_burn (data, sample), 240, WB_COLUMN_FLAME_MM, 15);
  figures = wb_craft_figures_new (data);
  g_assert_cmpint (figures->thirds[0], ==, WB_CRAFT_THIRDS_NO_MASS);
  g_assert_cmpint (figures->thirds[1], ==, WB_CRAFT_THIRDS_NOT_BURNT);
}

static void
test_end_of_life_high_up_is_drowning (void)
{
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  guint burn = test_craft_add_burn (data, one_sample (data));

  test_craft_read (data, burn, 60, WB_COLUMN_FLAME_MM, 5);
  test_craft_read (data, burn, 100, WB_COLUMN_EVENT, WB_EVENT_SELF_EXTINGUISHED);
  figures = wb_craft_figures_new (data);
  g_assert_false (figures->ended[0]);
  g_assert_true (figures->burns[0].cut_short);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/life/mass-tells-stage-and-end", test_stage_and_end_by_mass);
  g_test_add_func ("/craft/life/burns-not-weighed-go-on-at-the-same-rate", test_stage_without_masses_of_every_burn);
  g_test_add_func ("/craft/life/the-height-tells-stage-and-end-too", test_the_height_tells_the_stage_too);
  g_test_add_func ("/craft/life/what-was-lost-in-life-tells-the-thirds", test_what_was_lost_tells_the_thirds);
  g_test_add_func ("/craft/life/a-stated-fill-rules-the-thirds", test_a_stated_fill_rules);
  g_test_add_func ("/craft/life/never-weighed-tells-no-third", test_never_weighed_tells_no_third);
  g_test_add_func ("/craft/life/going-out-high-up-is-not-the-end", test_end_of_life_high_up_is_drowning);
  return g_test_run ();
}
