/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft.h"
#include "wb-craft-trend.h"

#include <math.h>

/* House limits: vessel asked about from 60 °C and stopped at 77 °C, flame 38 and 50 mm (the maker's own, no published figure). */

#define MOST 8

/* A burn read hourly; of what is near a limit every quarter of an hour. */
static const WbCraftTrendRounds hourly = { 60, 15, 240, NAN };

typedef struct
{
  WbDataset       *data;
  double           values[MOST][WB_N_COLUMNS];
  WbCraftTrendLook looks[MOST];
  guint            n;
} Burn;

static void
burn_init (Burn *burn)
{
  *burn = (Burn) { .data = test_craft_data_new () };
}

static void
look (Burn    *burn,
      double   minute,
      WbColumn column,
      double   value)
{
  g_assert_cmpuint (burn->n, <, MOST);
  for (guint i = 0; i < WB_N_COLUMNS; i++)
    burn->values[burn->n][i] = NAN;
  burn->values[burn->n][column] = value;
  burn->looks[burn->n] = (WbCraftTrendLook) { minute, burn->values[burn->n] };
  burn->n++;
}

static GArray *
find (Burn                     *burn,
      const WbCraftTrendRounds *rounds)
{
  return wb_craft_trends_find (burn->data->limits, burn->looks, burn->n, rounds);
}

static guint
count (Burn *burn)
{
  g_autoptr (GArray) trends = find (burn, &hourly);

  g_clear_pointer (&burn->data, wb_dataset_free);
  return trends->len;
}

/* Each of a vessel's outer wall, °C; 0 ends. */
static guint
count_walls (const double minutes_and_walls[][2])
{
  Burn burn;

  burn_init (&burn);
  for (guint i = 0; minutes_and_walls[i][0] > 0; i++)
    look (&burn, minutes_and_walls[i][0], WB_COLUMN_VESSEL_C, minutes_and_walls[i][1]);
  return count (&burn);
}

/* By the hour, at the burn's end, and a little early; 58 min is the first hour's, 40 min is not. */
static void
test_next (void)
{
  static const struct { double last, interval, length, close_from; gboolean watched; double next; } cases[] = {
    { NAN, 60, 240, NAN, FALSE, 60 }, { 58, 60, 240, NAN, FALSE, 120 }, { 40, 60, 240, NAN, FALSE, 60 }, { 62, 60, 240, NAN, TRUE, 75 },
    { 190, 60, 230, NAN, FALSE, 230 }, { 245, 60, 240, NAN, FALSE, 300 }, { 60, 60, NAN, NAN, FALSE, 120 },
    /* its last inch, from minute 160 on */
    { 60, 60, 240, 160, FALSE, 120 }, { 120, 60, 240, 160, FALSE, 160 }, { 160, 60, 240, 160, FALSE, 165 }, { NAN, 60, 240, 0, FALSE, 15 },
    /* where no rounds are asked */
    { 60, NAN, 240, 160, FALSE, 160 }, { 60, NAN, 240, NAN, TRUE, 75 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const WbCraftTrendRounds rounds = { cases[i].interval, 15, cases[i].length, cases[i].close_from };

      g_assert_cmpfloat (wb_craft_trend_next_min (&rounds, cases[i].last, cases[i].watched), ==, cases[i].next);
    }
  g_assert_true (isnan (wb_craft_trend_next_min (&(WbCraftTrendRounds) { NAN, 15, 240, NAN }, 60, FALSE)));
}

/*
 * 62 °C after 1 h, 71 °C after 2 h. Worked by hand. Straight on 71 + 9 = 80 °C at 3 h; eased,
 * e^-0.5 = 0.60653 of the step before, 71 + 9 * 0.60653 = 76.459 °C; the middle 78.229, half apart 1.771.
 * Error 1 K (0.02 * (71 - 22) = 0.98 is less). Straight: 1/2 + 90^2 / (2 * 30^2) = 5. Eased: u (-60) = -77.846,
 * u (60) = 47.216, mean -38.923, squares 2 * 38.923^2 = 3030.0: 1/2 + 86.139^2 / 3030.0 = 2.949. Variance
 * (5 + 2.949) / 2 + 1.771^2 = 7.110, sd 2.666; P (Z > (77 - 78.229) / 2.666 = -0.461) = 0.678.
 * Straight on it meets 77 °C after 40 min: to be read after half of that, but no later than the 15 min of a watched one.
 */
static void
test_by_hand (void)
{
  Burn burn;
  g_autoptr (GArray) trends = NULL;
  const WbCraftTrend *trend;

  burn_init (&burn);
  look (&burn, 60, WB_COLUMN_VESSEL_C, 62);
  look (&burn, 120, WB_COLUMN_VESSEL_C, 71);
  trends = find (&burn, &hourly);
  g_assert_cmpuint (trends->len, ==, 1);
  trend = &g_array_index (trends, WbCraftTrend, 0);
  g_assert_cmpint (((WbLimit *) g_ptr_array_index (burn.data->limits, trend->limit))->kind, ==, WB_LIMIT_VESSEL);
  g_assert_cmpuint (trend->look, ==, 1);
  g_assert_cmpfloat (trend->rise, ==, 9);
  g_assert_cmpfloat (trend->over_min, ==, 60);
  g_assert_cmpfloat (trend->until_min, ==, 180);
  g_assert_cmpfloat_with_epsilon (trend->foretold, 78.229, 0.001);
  g_assert_cmpfloat_with_epsilon (trend->sd, 2.666, 0.001);
  g_assert_cmpfloat_with_epsilon (trend->chance, 0.678, 0.001);
  g_assert_cmpfloat (trend->again_min, ==, 135);
  wb_dataset_free (burn.data);
}

/* The faster it climbs, the sooner it is read: 55 to 75 °C in an hour meets 77 °C after 6 min; nobody reads more often than in 5. */
static void
test_again_sooner (void)
{
  Burn burn;
  g_autoptr (GArray) trends = NULL;

  burn_init (&burn);
  look (&burn, 60, WB_COLUMN_VESSEL_C, 47);
  look (&burn, 120, WB_COLUMN_VESSEL_C, 67);
  look (&burn, 135, WB_COLUMN_VESSEL_C, 74);
  trends = find (&burn, &hourly);
  g_assert_cmpuint (trends->len, ==, 2);
  g_assert_cmpfloat (g_array_index (trends, WbCraftTrend, 0).again_min, ==, 135);
  /* told already: foretold for the next look of a watched one */
  g_assert_cmpfloat (g_array_index (trends, WbCraftTrend, 1).until_min, ==, 150);
  g_assert_cmpfloat (g_array_index (trends, WbCraftTrend, 1).again_min, ==, 140);
  wb_dataset_free (burn.data);
}

static void
test_no_wolf (void)
{
  /* one look, however hot */
  g_assert_cmpuint (count_walls ((const double[][2]) { { 60, 75 }, { 0, 0 } }), ==, 0);
  /* far below the mark of 60 °C, an ordinary warming up */
  g_assert_cmpuint (count_walls ((const double[][2]) { { 60, 40 }, { 120, 49 }, { 180, 53 }, { 0, 0 } }), ==, 0);
  /* near the limit, but no climb that a reader could tell from an error */
  g_assert_cmpuint (count_walls ((const double[][2]) { { 60, 74 }, { 120, 75 }, { 0, 0 } }), ==, 0);
  /* falling, level */
  g_assert_cmpuint (count_walls ((const double[][2]) { { 60, 76 }, { 120, 72 }, { 0, 0 } }), ==, 0);
  g_assert_cmpuint (count_walls ((const double[][2]) { { 60, 76 }, { 120, 76 }, { 0, 0 } }), ==, 0);
  /* a climb that the newest look has ended */
  g_assert_cmpuint (count_walls ((const double[][2]) { { 60, 60 }, { 90, 74 }, { 120, 73 }, { 0, 0 } }), ==, 1);
  /* the minutes after lighting */
  g_assert_cmpuint (count_walls ((const double[][2]) { { 2, 25 }, { 8, 60 }, { 0, 0 } }), ==, 0);
  /* two looks at once are one */
  g_assert_cmpuint (count_walls ((const double[][2]) { { 60, 70 }, { 62, 75 }, { 0, 0 } }), ==, 0);
  /* over it already: that is told as what it is */
  g_assert_cmpuint (count_walls ((const double[][2]) { { 60, 60 }, { 120, 78 }, { 0, 0 } }), ==, 0);
}

/* A flame, 30 to 44 mm: its house limit of 50 mm, not the published 75 mm. Turned off: nothing. */
static void
test_flame (void)
{
  Burn burn;
  g_autoptr (GArray) trends = NULL;

  burn_init (&burn);
  look (&burn, 60, WB_COLUMN_FLAME_MM, 30);
  look (&burn, 120, WB_COLUMN_FLAME_MAX_MM, 44);
  trends = find (&burn, &hourly);
  g_assert_cmpuint (trends->len, ==, 1);
  g_assert_cmpint (((WbLimit *) g_ptr_array_index (burn.data->limits, g_array_index (trends, WbCraftTrend, 0).limit))->kind, ==,
                   WB_LIMIT_FLAME_HOUSE);
  ((WbLimit *) g_ptr_array_index (burn.data->limits, g_array_index (trends, WbCraftTrend, 0).limit))->off = TRUE;
  g_assert_cmpuint (count (&burn), ==, 0);
}

/* Two wicks, read one after the other: neither climbs. */
static void
test_wicks (void)
{
  Burn burn;

  burn_init (&burn);
  for (guint i = 0; i < 4; i++)
    {
      look (&burn, 60 * (1 + i / 2) + i % 2 * 10, WB_COLUMN_FLAME_MM, i % 2 == 0 ? 20 : 44);
      burn.values[i][WB_COLUMN_WICK_NUMBER] = 1 + i % 2;
    }
  g_assert_cmpuint (count (&burn), ==, 0);
}

/*
 * A flame that was told and has calmed down is read by the hour again, and told by the hour: 37 mm is below the mark of 38 mm,
 * and the bench comes back in an hour. What was told before lapses with the next look at the same.
 */
static void
test_told_again (void)
{
  static const double flames[][2] = { { 60, 30 }, { 120, 44 }, { 132, 36 }, { 180, 20 }, { 240, 37 } };
  Burn burn;
  g_autoptr (GArray) trends = NULL;

  burn_init (&burn);
  for (guint i = 0; i < G_N_ELEMENTS (flames); i++)
    look (&burn, flames[i][0], WB_COLUMN_FLAME_MM, flames[i][1]);
  trends = find (&burn, &hourly);
  g_assert_cmpuint (trends->len, ==, 2);
  g_assert_cmpuint (g_array_index (trends, WbCraftTrend, 0).look, ==, 1);
  g_assert_true (g_array_index (trends, WbCraftTrend, 0).lapsed);
  g_assert_cmpuint (g_array_index (trends, WbCraftTrend, 1).look, ==, 4);
  g_assert_cmpfloat (g_array_index (trends, WbCraftTrend, 1).until_min, ==, 300);
  g_assert_false (g_array_index (trends, WbCraftTrend, 1).lapsed);
  wb_dataset_free (burn.data);
}

/* Told, and climbing on below the mark: nothing but the trend keeps the bench from its hour, so it is told for the hour. */
static void
test_told_below_the_mark (void)
{
  Burn burn;
  g_autoptr (GArray) trends = NULL;

  burn_init (&burn);
  look (&burn, 60, WB_COLUMN_FLAME_MM, 12);
  look (&burn, 120, WB_COLUMN_FLAME_MM, 35);
  look (&burn, 135, WB_COLUMN_FLAME_MM, 37.8);
  trends = find (&burn, &hourly);
  g_assert_cmpuint (trends->len, ==, 2);
  g_assert_cmpfloat (g_array_index (trends, WbCraftTrend, 1).until_min, ==, 180);
  wb_dataset_free (burn.data);
}

/* 22 to 37 mm at the second wick is told whether or not the first one, 30 to 44 mm, is; a look at the first lapses only its own. */
static void
test_each_wick_told (void)
{
  Burn burn;
  g_autoptr (GArray) trends = NULL;

  burn_init (&burn);
  for (guint i = 0; i < 5; i++)
    {
      const double flames[] = { 30, 22, 44, 37, 30 };

      look (&burn, i < 4 ? 60 * (1 + i / 2) : 135, WB_COLUMN_FLAME_MM, flames[i]);
      burn.values[i][WB_COLUMN_WICK_NUMBER] = 1 + i % 2;
    }
  trends = find (&burn, &hourly);
  g_assert_cmpuint (trends->len, ==, 2);
  g_assert_cmpuint (g_array_index (trends, WbCraftTrend, 0).look, ==, 2);
  g_assert_true (g_array_index (trends, WbCraftTrend, 0).lapsed);
  g_assert_cmpuint (g_array_index (trends, WbCraftTrend, 1).look, ==, 3);
  g_assert_cmpfloat (g_array_index (trends, WbCraftTrend, 1).until_min, ==, 180);
  g_assert_false (g_array_index (trends, WbCraftTrend, 1).lapsed);
  wb_dataset_free (burn.data);
}

/* Where no reading is asked there is no next one, and without readings no trend. */
static void
test_edges (void)
{
  const WbCraftTrendRounds never = { NAN, 15, NAN, NAN };
  Burn burn;
  g_autoptr (GArray) none = NULL, empty = NULL;

  burn_init (&burn);
  empty = find (&burn, &hourly);
  g_assert_cmpuint (empty->len, ==, 0);
  look (&burn, 60, WB_COLUMN_VESSEL_C, 62);
  look (&burn, 120, WB_COLUMN_VESSEL_C, 71);
  none = find (&burn, &never);
  g_assert_cmpuint (none->len, ==, 0);
  wb_dataset_free (burn.data);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/trend/the-next-reading", test_next);
  g_test_add_func ("/craft/trend/two-readings-worked-by-hand", test_by_hand);
  g_test_add_func ("/craft/trend/a-faster-one-is-read-sooner", test_again_sooner);
  g_test_add_func ("/craft/trend/no-wolf-is-cried", test_no_wolf);
  g_test_add_func ("/craft/trend/a-flame-by-its-tighter-limit", test_flame);
  g_test_add_func ("/craft/trend/each-wick-for-itself", test_wicks);
  g_test_add_func ("/craft/trend/told-anew-once-it-had-calmed-down", test_told_again);
  g_test_add_func ("/craft/trend/told-for-the-hour-below-the-mark", test_told_below_the_mark);
  g_test_add_func ("/craft/trend/one-wick-silences-no-other", test_each_wick_told);
  g_test_add_func ("/craft/trend/nothing-read-nothing-told", test_edges);
  return g_test_run ();
}
