/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-doubt.h"

#include <math.h>

/* A candle of 220 g of vessel and 180 g of fill, 76 mm wide, in its first hours. All bounds: common practice, no source. */
static void
basis_init (WbCraftDoubtBasis *basis)
{
  wb_craft_doubt_basis_init (basis);
  basis->tare_g = 220;
  basis->fill_g = 180;
  basis->mass_g = 396;
  basis->inner_mm = 76;
  basis->pool_mm = 58;
  basis->before[WB_COLUMN_FLAME_MM] = 21;
  basis->before[WB_COLUMN_VESSEL_C] = 47;
  basis->burnt_min = 120;
  basis->n_wicks = 1;
  basis->level_mm = 42;
  basis->last_min = 120;
  basis->alight = TRUE;
}

typedef struct
{
  const char *name;
  WbColumn    column;  /* WB_N_COLUMNS: the minute */
  double      value;
  int         kind;    /* -1: no doubt */
  double      bound;
} Case;

static const Case cases[] = {
  /* 396 g two hours of flame ago: 5, 12.5 and 1 g/h; asked below 1.5 and above 12 g/h a wick (common practice) */
  { "lighter as a candle is", WB_COLUMN_MASS_G, 386, -1, 0 },
  { "burns too fast", WB_COLUMN_MASS_G, 371, WB_CRAFT_DOUBT_FAST, 12 },
  { "burns too slowly", WB_COLUMN_MASS_G, 394, WB_CRAFT_DOUBT_SLOW, 1.5 },
  { "a deep pool", WB_COLUMN_DEPTH_MM, 18, -1, 0 },
  { "a hair deeper than its wax", WB_COLUMN_DEPTH_MM, 44, -1, 0 },
  { "deeper than its wax", WB_COLUMN_DEPTH_MM, 55, WB_CRAFT_DOUBT_DEEP, 42 },
  { "heavier than before", WB_COLUMN_MASS_G, 399, WB_CRAFT_DOUBT_GAINED, 396 },
  { "lighter than its vessel", WB_COLUMN_MASS_G, 39.2, WB_CRAFT_DOUBT_BELOW_VESSEL, 220 },
  { "a nought too many", WB_COLUMN_MASS_G, 3920, WB_CRAFT_DOUBT_ABOVE_FILL, 400 },
  { "a warm wall", WB_COLUMN_VESSEL_C, 62, -1, 0 },
  { "over the limit, and yet it can be", WB_COLUMN_VESSEL_C, 81, -1, 0 },
  { "the same wall in °F", WB_COLUMN_VESSEL_C, 117, WB_CRAFT_DOUBT_LEAP, 47 },
  { "hotter than any wall", WB_COLUMN_BASE_C, 171, WB_CRAFT_DOUBT_HOT, 120 },
  { "50 °C typed where °F are read", WB_COLUMN_VESSEL_C, 8.3, WB_CRAFT_DOUBT_COLD, 10 },
  { "a room in winter", WB_COLUMN_ROOM_C, 17, -1, 0 },
  { "a high flame", WB_COLUMN_FLAME_MM, 55, -1, 0 },
  { "a nought on the flame", WB_COLUMN_FLAME_MM, 210, WB_CRAFT_DOUBT_LEAP, 21 },
  { "a nought on the highest flame", WB_COLUMN_FLAME_MAX_MM, 240, WB_CRAFT_DOUBT_LEAP, 21 },
  { "a pool that grew", WB_COLUMN_POOL_MM, 64, -1, 0 },
  { "a pool by another hand", WB_COLUMN_POOL_MM, 55, -1, 0 },
  { "a pool that shrank", WB_COLUMN_POOL_MM, 46, WB_CRAFT_DOUBT_SHRUNK, 58 },
  { "before the last reading", WB_N_COLUMNS, 60, WB_CRAFT_DOUBT_EARLIER, 120 },
  { "in the same minute", WB_N_COLUMNS, 119.2, -1, 0 },
  { "set back by some minutes", WB_N_COLUMNS, 111, -1, 0 },
  { "set back by more than that", WB_N_COLUMNS, 109, WB_CRAFT_DOUBT_EARLIER, 120 },
  { "an hour later", WB_N_COLUMNS, 180, -1, 0 },
  { "longer than a day", WB_N_COLUMNS, 1500, WB_CRAFT_DOUBT_LONG, 1440 },
};

static void
test_cases (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double values[WB_N_COLUMNS], minute = 180;
      WbCraftDoubtBasis basis;
      g_autoptr (GArray) doubts = NULL;

      g_test_message ("%s", cases[i].name);
      basis_init (&basis);
      for (guint k = 0; k < WB_N_COLUMNS; k++)
        values[k] = NAN;
      if (cases[i].column == WB_N_COLUMNS)
        minute = cases[i].value;
      else
        values[cases[i].column] = cases[i].value;
      doubts = wb_craft_doubts_find (values, minute, &basis);
      g_assert_cmpuint (doubts->len, ==, cases[i].kind < 0 ? 0 : 1);
      if (doubts->len == 0)
        continue;
      g_assert_cmpint (g_array_index (doubts, WbCraftDoubt, 0).kind, ==, cases[i].kind);
      g_assert_cmpint (g_array_index (doubts, WbCraftDoubt, 0).column, ==, cases[i].column);
      g_assert_cmpfloat (g_array_index (doubts, WbCraftDoubt, 0).bound, ==, cases[i].bound);
    }
}

/* The first reading of a candle of which nothing was weighed. */
static void
test_nothing_known (void)
{
  double values[WB_N_COLUMNS];
  WbCraftDoubtBasis basis;
  g_autoptr (GArray) doubts = NULL;

  wb_craft_doubt_basis_init (&basis);
  for (guint k = 0; k < WB_N_COLUMNS; k++)
    values[k] = NAN;
  values[WB_COLUMN_MASS_G] = 512;
  values[WB_COLUMN_POOL_MM] = 30;
  values[WB_COLUMN_FLAME_MM] = 15;
  values[WB_COLUMN_VESSEL_C] = 30;
  /* Weighed on the next day. */
  doubts = wb_craft_doubts_find (values, 1700, &basis);
  g_assert_cmpuint (doubts->len, ==, 0);
}

/* Where neither vessel nor fill is known, a digit that is missing shows all the same. */
static void
test_halved (void)
{
  double values[WB_N_COLUMNS];
  WbCraftDoubtBasis basis;
  g_autoptr (GArray) doubts = NULL;

  wb_craft_doubt_basis_init (&basis);
  basis.mass_g = 512;
  for (guint k = 0; k < WB_N_COLUMNS; k++)
    values[k] = NAN;
  values[WB_COLUMN_MASS_G] = 51.1;
  doubts = wb_craft_doubts_find (values, 240, &basis);
  g_assert_cmpuint (doubts->len, ==, 1);
  g_assert_cmpint (g_array_index (doubts, WbCraftDoubt, 0).kind, ==, WB_CRAFT_DOUBT_HALVED);
}

static void
test_days (void)
{
  WbCraftDoubt doubt;

  g_assert_true (wb_craft_doubt_pour (101, WB_DAY_NONE, 100, &doubt));
  g_assert_cmpint (doubt.kind, ==, WB_CRAFT_DOUBT_FUTURE);
  g_assert_true (wb_craft_doubt_pour (99, 98, 100, &doubt));
  g_assert_cmpint (doubt.kind, ==, WB_CRAFT_DOUBT_AFTER_BURN);
  g_assert_false (wb_craft_doubt_pour (98, 99, 100, &doubt));
  g_assert_false (wb_craft_doubt_pour (WB_DAY_NONE, 99, 100, &doubt));
  g_assert_true (wb_craft_doubt_day (100, 99));
  g_assert_false (wb_craft_doubt_day (100, 100));
  g_assert_false (wb_craft_doubt_day (WB_DAY_NONE, 99));
  g_assert_false (wb_craft_doubt_day (100, WB_DAY_NONE));
}

/* Common practice, no source: waxes are melted and poured from 45 to 95 °C. */
static void
test_again (void)
{
  WbCraftDoubt doubt;

  g_assert_true (wb_craft_doubt_again (2, 4, 0.4, &doubt));
  g_assert_cmpint (doubt.kind, ==, WB_CRAFT_DOUBT_AGAIN);
  g_assert_cmpint (doubt.column, ==, WB_COLUMN_THROW);
  g_assert_cmpfloat (doubt.value, ==, 2);
  g_assert_cmpfloat (doubt.bound, ==, 4);
  g_assert_true (wb_craft_doubt_again (4, 4, -1, &doubt));
  g_assert_false (wb_craft_doubt_again (2, 4, 1.1, &doubt));
  g_assert_false (wb_craft_doubt_again (NAN, 4, 0, &doubt));
  g_assert_false (wb_craft_doubt_again (2, NAN, 0, &doubt));
}

static void
test_pour (void)
{
  g_assert_false (wb_craft_doubt_melt (82));
  g_assert_false (wb_craft_doubt_melt (45));
  g_assert_true (wb_craft_doubt_melt (180));
  g_assert_true (wb_craft_doubt_melt (29.4));
  g_assert_false (wb_craft_doubt_melt (NAN));
  g_assert_true (wb_craft_doubt_weighed (275.6, 2756));
  g_assert_true (wb_craft_doubt_weighed (27560, 2756));
  g_assert_false (wb_craft_doubt_weighed (2500, 2756));
  g_assert_false (wb_craft_doubt_weighed (NAN, 2756));
  g_assert_false (wb_craft_doubt_weighed (2756, NAN));
}

/* With no flame before it, or a tall one, it is doubted by itself. */
static void
test_tall_flame (void)
{
  static const struct { double before, flame; gboolean doubted; } flames[] = {
    { NAN, 100, FALSE }, { NAN, 101, TRUE }, { 40, 110, TRUE }, { 40, 95, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (flames); i++)
    {
      double values[WB_N_COLUMNS];
      WbCraftDoubtBasis basis;
      g_autoptr (GArray) doubts = NULL;

      for (guint column = 0; column < WB_N_COLUMNS; column++)
        values[column] = NAN;
      values[WB_COLUMN_FLAME_MM] = flames[i].flame;
      wb_craft_doubt_basis_init (&basis);
      basis.before[WB_COLUMN_FLAME_MM] = flames[i].before;
      doubts = wb_craft_doubts_find (values, 60, &basis);
      g_assert_cmpuint (doubts->len, ==, flames[i].doubted ? 1 : 0);
      if (!flames[i].doubted)
        continue;
      g_assert_cmpint (g_array_index (doubts, WbCraftDoubt, 0).kind, ==, WB_CRAFT_DOUBT_TALL);
      g_assert_cmpfloat (g_array_index (doubts, WbCraftDoubt, 0).bound, ==, 100);
    }
}

/* 76.2 mm are full after 3 h as a rule (common practice); a tenth of that is 18 min. */
static void
test_full_too_early (void)
{
  WbCraftDoubtBasis basis;
  double values[WB_N_COLUMNS];
  g_autoptr (GArray) at_two = NULL, at_twenty = NULL;

  wb_craft_doubt_basis_init (&basis);
  basis.inner_mm = 76.2;
  basis.alight = TRUE;
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    values[i] = NAN;
  values[WB_COLUMN_POOL_FULL] = 1;
  at_two = wb_craft_doubts_find (values, 2, &basis);
  g_assert_cmpuint (at_two->len, ==, 1);
  g_assert_cmpint (g_array_index (at_two, WbCraftDoubt, 0).kind, ==, WB_CRAFT_DOUBT_EARLY);
  g_assert_cmpfloat_with_epsilon (g_array_index (at_two, WbCraftDoubt, 0).bound, 18, 1e-9);
  at_twenty = wb_craft_doubts_find (values, 20, &basis);
  g_assert_cmpuint (at_twenty->len, ==, 0);
}

/* Two wicks burn twice as much; less than an hour says nothing. */
static void
test_consumption (void)
{
  WbCraftDoubt doubt;

  g_assert_false (wb_craft_doubt_consumption (360, 396, 120, 2, &doubt));
  g_assert_true (wb_craft_doubt_consumption (360, 396, 120, 1, &doubt));
  g_assert_cmpfloat (doubt.value, ==, 18);
  g_assert_false (wb_craft_doubt_consumption (360, 396, 59, 1, &doubt));
  g_assert_false (wb_craft_doubt_consumption (360, NAN, 120, 1, &doubt));
  g_assert_false (wb_craft_doubt_consumption (360, 396, NAN, 1, &doubt));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/doubt/what-can-hardly-be", test_cases);
  g_test_add_func ("/craft/doubt/nothing-known-nothing-doubted", test_nothing_known);
  g_test_add_func ("/craft/doubt/a-missing-digit-of-a-mass", test_halved);
  g_test_add_func ("/craft/doubt/a-burn-before-the-pour", test_days);
  g_test_add_func ("/craft/doubt/a-pot-in-the-other-scale-and-a-digit-of-the-scales", test_pour);
  g_test_add_func ("/craft/doubt/a-flame-that-is-too-tall", test_tall_flame);
  g_test_add_func ("/craft/doubt/a-full-pool-too-early", test_full_too_early);
  g_test_add_func ("/craft/doubt/a-throw-rated-twice-in-a-minute", test_again);
  g_test_add_func ("/craft/doubt/what-a-mass-tells-of-consumption", test_consumption);
  return g_test_run ();
}
