/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft.h"
#include "world-rounds.h"

/* The tests in rounds of the benchmark `advice`. */

#define SEED 5

/* So many candles of each cell are what those candles were in the whole, and the same however many others are taken. */
static void
test_samples (void)
{
  static const guint counts[] = { 2, 0, 3 };
  g_autoptr (World) world = world_new (WORLD_PLAIN, SEED, 6);
  gboolean tries[WORLD_MOST_WICKS] = { TRUE, TRUE, TRUE };
  g_autoptr (WbDataset) all = world_burn_next (world, tries, 4, 0);
  g_autoptr (WbDataset) some = world_take_samples (all, counts);

  g_assert_cmpuint (all->samples->len, ==, 12);
  g_assert_cmpuint (some->samples->len, ==, 5);
  g_assert_cmpuint (some->burns->len, ==, 30);
  g_assert_cmpuint (some->cells->len, ==, 3);
  for (guint s = 0; s < some->samples->len; s++)
    {
      guint in_all = s < 2 ? s : s + 6;
      guint cell = g_array_index (some->sample_cell, guint, s);
      const WbSample *sample = g_ptr_array_index (some->samples, s);
      guint first, n, first_all, n_all;

      g_assert_cmpuint (cell, ==, s < 2 ? 0 : 2);
      g_assert_cmpint (sample->record.id, ==, ((const WbSample *) g_ptr_array_index (all->samples, in_all))->record.id);
      g_assert_cmpint (sample->cell, ==, ((const WbCell *) g_ptr_array_index (some->cells, cell))->record.id);
      wb_readings_get_burn_rows (some->readings, 6 * s, &first, &n);
      wb_readings_get_burn_rows (all->readings, 6 * in_all, &first_all, &n_all);
      g_assert_cmpuint (n, ==, n_all);
      for (guint row = 0; row < n; row++)
        for (WbColumn column = 0; column < WB_N_COLUMNS; column++)
          {
            double one = wb_readings_get (some->readings, first + row, column);
            double other = wb_readings_get (all->readings, first_all + row, column);

            g_assert_true (one == other || (isnan (one) && isnan (other)));
          }
    }
}

/* A strategy that wants no candles ends the test after the first look; more of them are shared out alike. */
static void
share_nothing (const WbCraftAnswer *answer,
               double              *shares)
{
  g_assert_cmpuint (answer->data->samples->len, ==, answer->data->cells->len);
}

static void
test_rounds (void)
{
  g_autoptr (World) world = world_new (WORLD_PLAIN, SEED, 7);
  WorldRounds rounds = world_rounds_run (world, share_nothing, NULL);

  g_assert_cmpuint (rounds.rounds, ==, 1);
  g_assert_cmpuint (rounds.samples, ==, rounds.cells);
  g_assert_cmpuint (rounds.samples_until_both, ==, rounds.cells);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/bench/world-rounds/a-part-of-the-candles-are-the-same-candles", test_samples);
  g_test_add_func ("/bench/world-rounds/a-test-ends-where-nothing-is-wanted", test_rounds);
  return g_test_run ();
}
