/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft.h"
#include "wb-house.h"
#include "world-informed.h"

/* The steady maker of the benchmark `ladder`, and the reference that knows how worlds are drawn. */

#define SEED 5

/* Its 90 % of the draws hold what is true in as many worlds, and more experiments bring it nearer to the oracle. */
static void
test_informed (void)
{
  static const guint counts[] = { 1, 5 };
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  double width[G_N_ELEMENTS (counts)] = { 0 };
  guint held = 0, n = 0;

  for (guint i = 0; i < 24; i++)
    {
      g_autoptr (World) world = world_new (i % 2 ? WORLD_PLAIN : WORLD_STEADY, SEED, 40 + i);
      g_autoptr (Lab) lab = world_lab_of_next (world, NULL, NULL);

      for (guint c = 0; c < G_N_ELEMENTS (counts); c++)
        {
          g_autofree WorldInformed *informed = world_informed_new (world, aims, counts[c], i % 4 > 1);

          for (guint w = 0; w < world->n_wicks; w++)
            {
              guint below = 0;

              for (guint draw = 0; draw < WORLD_INFORMED_DRAWS; draw++)
                below += informed[w].log_limit[draw] < lab->cells[w].log_limit;
              held += below >= 0.05 * WORLD_INFORMED_DRAWS && below <= 0.95 * WORLD_INFORMED_DRAWS;
              width[c] += informed[w].width[WORLD_TOP][WORLD_SAID_LIMIT] / exp (lab->cells[w].log_limit);
              n++;
            }
        }
    }
  g_assert_cmpfloat_with_epsilon ((double) held / n, 0.9, 0.06);
  width[0] /= n / 2.0;
  width[1] /= n / 2.0;
  g_assert_cmpfloat (width[0], >, width[1]);
  g_assert_cmpfloat (width[1], >, 2 * 1.645 * WORLD_OFF_SD);
  g_assert_cmpfloat (width[0], <, 2 * 1.645 * 0.12);
}

/* A steady maker asks for the same wicks throughout, and burns a part of both series each time. */
static void
test_steady (void)
{
  guint experiments = 0, others = 0;

  for (guint i = 0; i < 20; i++)
    {
      g_autoptr (World) world = world_new (WORLD_STEADY, SEED, i);

      g_assert_cmpuint (world->n_series, ==, 2);
      for (guint e = 0; e < WORLD_EARLIER; e++)
        {
          const WorldExperiment *of = &world->earlier[e];
          guint tried[2] = { 0 };

          g_assert_cmpuint (of->n_vessels * of->n_loads, ==, 1);
          g_assert_cmpfloat (of->load_pct[0], ==, world->next_load_pct);
          g_assert_cmpuint (of->vessels[0], !=, world->next_vessel);
          others += of->wax != world->next_wax;
          experiments++;
          for (guint w = 0; w < world->n_wicks; w++)
            {
              tried[world->wicks[w].series] += of->tries[w];
              g_assert_true (world_asks_for (world, w, 1));
            }
          for (guint s = 0; s < 2; s++)
            g_assert_true (tried[s] == 3 || tried[s] == 4);
        }
    }
  g_assert_cmpfloat_with_epsilon ((double) others / experiments, 0.1, 4 * sqrt (0.09 / experiments));
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/bench/world-informed/holds-what-it-says", test_informed);
  g_test_add_func ("/bench/world-informed/a-steady-maker-plans", test_steady);
  return g_test_run ();
}
