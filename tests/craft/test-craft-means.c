/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib.h>
#include <math.h>

#include "wb-craft-means-private.h"
#include "wb-craft-scale-private.h"

#define N_CELLS 2
#define DRAWS 2000

/* Two samples a cell, two burns each, of a hang-up: what each cell reads. */
static GArray *
make_values (const double reads[N_CELLS])
{
  GArray *values = g_array_new (FALSE, FALSE, sizeof (WbCraftMeanValue));

  for (guint cell = 0; cell < N_CELLS; cell++)
    for (guint sample = 0; sample < 2; sample++)
      for (guint burn = 0; burn < 2; burn++)
        {
          WbCraftMeanValue value = { reads[cell], cell, 2 * cell + sample, burn + 1, 21 };

          g_array_append_val (values, value);
        }
  return values;
}

/* What a cell that never left wax on the wall has is near nothing, and surely no more than a reader sees. */
static void
assert_nothing (const WbCraftMeans *means,
                guint               cell)
{
  g_autofree double *levels = g_new (double, DRAWS * N_CELLS);
  g_autofree double *sample_sd = g_new (double, DRAWS), *burn_sd = g_new (double, DRAWS);
  guint above = 0;

  g_assert_true (wb_craft_means_draw (means, 1, DRAWS, NULL, levels, sample_sd, burn_sd));
  for (guint i = 0; i < DRAWS; i++)
    above += levels[i * N_CELLS + cell] > 1.5;
  g_assert_cmpuint (above, <, DRAWS / 20);
}

static void
test_all_at_floor (void)
{
  static const double reads[][N_CELLS] = { { 0, 0 }, { 6, 0 } };

  for (guint i = 0; i < G_N_ELEMENTS (reads); i++)
    {
      g_autoptr (GArray) values = make_values (reads[i]);
      WbCraftMeanPrior prior = wb_craft_scale_get_prior (WB_FIGURE_HANG_UP);
      g_autoptr (WbCraftMeans) means = wb_craft_means_new (values, N_CELLS, NULL, &prior);
      static const double difference[N_CELLS] = { 1, -1 };
      WbCalcMixedContrast contrast;

      g_assert_nonnull (means);
      assert_nothing (means, 1);
      /* and it is told from one that did */
      g_assert_true (wb_craft_means_contrast (means, difference, &contrast));
      g_assert_cmpfloat (contrast.sd, <, 4);
      if (reads[i][0] > 0)
        g_assert_cmpfloat (contrast.value, >, reads[i][0]);
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/means/a-cell-that-never-hung-up-is-near-nothing", test_all_at_floor);
  return g_test_run ();
}
