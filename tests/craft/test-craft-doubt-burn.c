/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-doubt-burn.h"

#include <math.h>
#include <string.h>

#define INNER_MM 76.0
#define N 5

/* A burn of an invented candle, read at 0, 60, 120, 180 and 240 minutes. All bounds: common practice, no source. */
static void
fill (double values[N][WB_N_COLUMNS])
{
  static const double pool[N] = { 0, 41, 56, 63, 66 }, depth[N] = { 0, 2.4, 4.1, 4.6, 5.2 }, flame[N] = { 12, 21, 19, 22, 20 };
  static const double vessel[N] = { 22, 36, 44, 48, 49 };

  for (guint i = 0; i < N; i++)
    {
      for (guint column = 0; column < WB_N_COLUMNS; column++)
        values[i][column] = NAN;
      values[i][WB_COLUMN_POOL_A_MM] = values[i][WB_COLUMN_POOL_B_MM] = pool[i];
      values[i][WB_COLUMN_DEPTH_MM] = depth[i];
      values[i][WB_COLUMN_FLAME_MM] = flame[i];
      values[i][WB_COLUMN_VESSEL_C] = vessel[i];
    }
  values[0][WB_COLUMN_ROOM_C] = 22;
}

static void
take (WbCraftBurnReading readings[N],
      const double       values[N][WB_N_COLUMNS])
{
  for (guint i = 0; i < N; i++)
    wb_craft_burn_reading_take (&readings[i], 60.0 * i, values[i], INNER_MM);
}

static GArray *
find (const double values[N][WB_N_COLUMNS],
      guint        n)
{
  WbCraftBurnReading readings[N];

  take (readings, values);
  return wb_craft_doubts_find_in_burn (readings, n);
}

typedef struct
{
  const char *name;
  WbColumn    column;
  guint       at;
  double      value;
  int         kind;   /* -1: no doubt */
  double      bound;
} Case;

static const Case cases[] = {
  { "as it is", WB_COLUMN_DEPTH_MM, 1, 2.4, -1, 0 },
  { "a first pool without its nought", WB_COLUMN_POOL_A_MM, 1, 4.1, WB_CRAFT_DOUBT_DECIMAL, 56 },
  { "a pool without its nought", WB_COLUMN_POOL_B_MM, 2, 5.6, WB_CRAFT_DOUBT_DECIMAL, 41 },
  { "a last pool without its nought", WB_COLUMN_POOL_A_MM, 4, 6.6, WB_CRAFT_DOUBT_DECIMAL, 63 },
  { "a small first pool that can be", WB_COLUMN_POOL_A_MM, 1, 14, -1, 0 },
  { "a depth without its point", WB_COLUMN_DEPTH_MM, 2, 41, WB_CRAFT_DOUBT_DECIMAL, 2.4 },
  { "a first depth without its point", WB_COLUMN_DEPTH_MM, 1, 24, WB_CRAFT_DOUBT_DECIMAL, 4.1 },
  { "a last depth without its point", WB_COLUMN_DEPTH_MM, 4, 52, WB_CRAFT_DOUBT_DECIMAL, 4.6 },
  { "a point too far left", WB_COLUMN_DEPTH_MM, 3, 0.46, WB_CRAFT_DOUBT_DECIMAL, 4.1 },
  { "a shallow first pool", WB_COLUMN_DEPTH_MM, 1, 0.5, -1, 0 },
  { "a flame without its nought", WB_COLUMN_FLAME_MM, 2, 1.9, WB_CRAFT_DOUBT_DECIMAL, 21 },
  { "a nought on a last flame", WB_COLUMN_FLAME_MM, 4, 90, WB_CRAFT_DOUBT_DECIMAL, 22 },
  { "what is doubted by itself is not doubted twice", WB_COLUMN_FLAME_MM, 2, 190, -1, 0 },
  { "a flame that drowns", WB_COLUMN_FLAME_MM, 4, 4, -1, 0 },
  { "a flame that flares up when it is lit", WB_COLUMN_FLAME_MM, 0, 95, -1, 0 },
  { "a wall colder than its room", WB_COLUMN_VESSEL_C, 2, 4.4, WB_CRAFT_DOUBT_DECIMAL, 36 },
  { "a wall in °F is doubted by itself", WB_COLUMN_VESSEL_C, 2, 440, -1, 0 },
  { "a draught", WB_COLUMN_VESSEL_C, 2, 33, -1, 0 },
};

static void
test_cases (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Case *c = &cases[i];
      double values[N][WB_N_COLUMNS];
      g_autoptr (GArray) doubts = NULL;
      const WbCraftBurnDoubt *found;

      fill (values);
      values[c->at][c->column] = c->value;
      doubts = find ((const double (*)[WB_N_COLUMNS]) values, N);
      g_test_message ("%s: %u", c->name, doubts->len);
      g_assert_cmpuint (doubts->len, ==, c->kind >= 0 ? 1 : 0);
      if (c->kind < 0)
        continue;
      found = &g_array_index (doubts, WbCraftBurnDoubt, 0);
      g_assert_cmpint (found->doubt.kind, ==, c->kind);
      g_assert_cmpint (found->doubt.column, ==, c->column);
      g_assert_cmpuint (found->reading, ==, c->at);
      g_assert_cmpfloat (found->doubt.value, ==, c->value);
      g_assert_cmpfloat (found->doubt.bound, ==, c->bound);
    }
}

/* A digit wrong, and no factor of ten: narrower than both beside it, wider than both. At an end it says nothing. */
static void
test_pool_shrinks (void)
{
  static const struct { guint at; double mm; int kind; double bound; } pools[] = {
    { 2, 34, WB_CRAFT_DOUBT_SHRUNK, 41 }, { 2, 36, -1, 0 }, { 2, 74, WB_CRAFT_DOUBT_SWOLLEN, 63 }, { 2, 68, -1, 0 }, { 4, 50, -1, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pools); i++)
    {
      double values[N][WB_N_COLUMNS];
      g_autoptr (GArray) doubts = NULL;

      fill (values);
      values[pools[i].at][WB_COLUMN_POOL_A_MM] = values[pools[i].at][WB_COLUMN_POOL_B_MM] = pools[i].mm;
      doubts = find ((const double (*)[WB_N_COLUMNS]) values, N);
      g_assert_cmpuint (doubts->len, ==, pools[i].kind >= 0 ? 1 : 0);
      if (doubts->len == 0)
        continue;
      g_assert_cmpint (g_array_index (doubts, WbCraftBurnDoubt, 0).doubt.kind, ==, pools[i].kind);
      g_assert_cmpfloat (g_array_index (doubts, WbCraftBurnDoubt, 0).doubt.bound, ==, pools[i].bound);
    }
}

/* Lit again, a pool begins anew; nothing is said of the time in which the flame was out. */
static void
test_lit_again (void)
{
  double values[N][WB_N_COLUMNS];
  g_autoptr (GArray) doubts = NULL;

  fill (values);
  values[2][WB_COLUMN_EVENT] = WB_EVENT_SELF_EXTINGUISHED;
  values[3][WB_COLUMN_EVENT] = WB_EVENT_RELIT;
  values[3][WB_COLUMN_POOL_A_MM] = values[3][WB_COLUMN_POOL_B_MM] = 9;
  doubts = find ((const double (*)[WB_N_COLUMNS]) values, N);
  g_assert_cmpuint (doubts->len, ==, 0);
}

static void
test_after_the_end (void)
{
  double values[N][WB_N_COLUMNS];
  g_autoptr (GArray) doubts = NULL, mass = NULL, others = NULL;
  const WbCraftBurnDoubt *found;

  fill (values);
  values[2][WB_COLUMN_EVENT] = WB_EVENT_SNUFFED;
  doubts = find ((const double (*)[WB_N_COLUMNS]) values, N);
  g_assert_cmpuint (doubts->len, ==, 1);
  found = &g_array_index (doubts, WbCraftBurnDoubt, 0);
  g_assert_cmpint (found->doubt.kind, ==, WB_CRAFT_DOUBT_ENDED);
  g_assert_cmpfloat (found->doubt.value, ==, 180);
  g_assert_cmpfloat (found->doubt.bound, ==, 120);
  /* of several wicks the others burn on */
  values[2][WB_COLUMN_WICK_NUMBER] = 2;
  others = find ((const double (*)[WB_N_COLUMNS]) values, N);
  g_assert_cmpuint (others->len, ==, 0);
  values[2][WB_COLUMN_WICK_NUMBER] = NAN;
  /* what is weighed and looked at when it has set belongs there */
  for (guint i = 3; i < N; i++)
    {
      for (guint column = 0; column < WB_N_COLUMNS; column++)
        values[i][column] = NAN;
      values[i][WB_COLUMN_MASS_G] = 380;
      values[i][WB_COLUMN_HANG_UP_MM] = 3;
    }
  mass = find ((const double (*)[WB_N_COLUMNS]) values, N);
  g_assert_cmpuint (mass->len, ==, 0);
}

/* Two readings are no witnesses; and the order in which they are given changes nothing. */
static void
test_few_and_shuffled (void)
{
  double values[N][WB_N_COLUMNS];
  WbCraftBurnReading readings[N], turned[N];
  g_autoptr (GArray) few = NULL, doubts = NULL;

  fill (values);
  values[2][WB_COLUMN_DEPTH_MM] = 41;
  few = find ((const double (*)[WB_N_COLUMNS]) values, 3);
  g_assert_cmpuint (few->len, ==, 0);
  take (readings, (const double (*)[WB_N_COLUMNS]) values);
  for (guint i = 0; i < N; i++)
    turned[(3 * i + 1) % N] = readings[i];
  doubts = wb_craft_doubts_find_in_burn (turned, N);
  g_assert_cmpuint (doubts->len, ==, 1);
  g_assert_cmpuint (g_array_index (doubts, WbCraftBurnDoubt, 0).reading, ==, (3 * 2 + 1) % N);
}

/* minutes as written down; which one stands out, -1: none. */
static void
assert_order (const double     *minutes,
              guint             n,
              int               odd,
              WbCraftLogSteps  *steps)
{
  g_autofree WbCraftBurnReading *readings = g_new0 (WbCraftBurnReading, n);
  WbCraftBurnDoubt doubt;

  for (guint i = 0; i < n; i++)
    readings[i].minute = minutes[i];
  g_assert_cmpint (wb_craft_doubt_order (readings, n, steps, &doubt), ==, odd >= 0);
  if (odd >= 0)
    g_assert_cmpuint (doubt.reading, ==, (guint) odd);
}

static void
test_order (void)
{
  static const double rising[] = { 0, 60, 120, 180, 240 }, short_one[] = { 0, 60, 12, 180, 240 }, long_one[] = { 0, 600, 120, 180, 240 };
  static const double again[] = { 0, 60, 59.5, 120 }, turned[] = { 240, 180, 120, 60, 0 }, two[] = { 60, 0 };
  WbCraftLogSteps steps = { 0 };

  assert_order (rising, 5, -1, &steps);
  assert_order (again, 4, -1, NULL);
  assert_order (two, 2, -1, NULL);
  assert_order (short_one, 5, 2, &steps);
  assert_order (long_one, 5, 1, &steps);
  g_assert_cmpuint (steps.n, ==, 12);
  g_assert_cmpuint (steps.back, ==, 2);
  g_assert_false (wb_craft_log_steps_rise (&steps));
  for (guint i = 0; i < 4; i++)
    assert_order (rising, 5, -1, &steps);
  g_assert_true (wb_craft_log_steps_rise (&steps));
  for (guint i = 0; i < 2; i++)
    assert_order (turned, 5, -1, &steps);
  g_assert_false (wb_craft_log_steps_rise (&steps));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/doubt-burn/a-point-out-of-its-place-is-doubted-and-what-can-be-is-not", test_cases);
  g_test_add_func ("/craft/doubt-burn/a-pool-that-shrinks-and-grows-on-is-doubted", test_pool_shrinks);
  g_test_add_func ("/craft/doubt-burn/a-pool-lit-again-begins-anew", test_lit_again);
  g_test_add_func ("/craft/doubt-burn/a-flame-after-its-end-is-doubted-once", test_after_the_end);
  g_test_add_func ("/craft/doubt-burn/two-readings-are-no-witnesses", test_few_and_shuffled);
  g_test_add_func ("/craft/doubt-burn/one-minute-out-of-its-place-is-told-and-a-shuffled-log-is-not", test_order);
  return g_test_run ();
}
