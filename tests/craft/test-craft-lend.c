/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft.h"
#include "wb-craft-lend-private.h"

#define DRAWS 4096

static WbCraftDraw *
add_draw (WbCraftDraws *draws,
          WbStage       stage,
          double        first,
          double        second,
          gboolean      second_read)
{
  WbCraftDraw *draw = g_new0 (WbCraftDraw, 1);

  draw->figure = WB_FIGURE_FLAME;
  draw->stage = stage;
  draw->log_scale = TRUE;
  draw->level = g_new (double, 2 * DRAWS);
  draw->read = g_new (gboolean, 2);
  draw->read[0] = TRUE;
  draw->read[1] = second_read;
  for (guint i = 0; i < DRAWS; i++)
    {
      draw->level[2 * i] = log (first);
      draw->level[2 * i + 1] = log (second);
    }
  g_ptr_array_add (draws->all, draw);
  return draw;
}

static void
free_draw (gpointer data)
{
  WbCraftDraw *draw = data;

  g_free (draw->level);
  g_free (draw->read);
  g_free (draw);
}

static WbCraftDraws *
make_draws (void)
{
  WbCraftDraws *draws = g_new0 (WbCraftDraws, 1);

  draws->n_draws = DRAWS;
  draws->n_cells = 2;
  draws->all = g_ptr_array_new_with_free_func (free_draw);
  return draws;
}

static void
summarise (const WbCraftDraw *draw,
           guint              cell,
           double            *mean,
           double            *sd)
{
  double sum = 0, squares = 0;

  for (guint i = 0; i < DRAWS; i++)
    {
      sum += draw->level[2 * i + cell] / DRAWS;
      squares += draw->level[2 * i + cell] * draw->level[2 * i + cell] / DRAWS;
    }
  *mean = sum;
  *sd = sqrt (MAX (squares - sum * sum, 0));
}

/* The other cell's flame grew by a fifth from the upper to the middle third: this one's is foretold to grow by most of that. */
static void
test_a_third_is_lent (void)
{
  g_autoptr (WbCraftDraws) draws = make_draws ();
  double mean, sd;
  WbCraftDraw *middle;

  add_draw (draws, WB_STAGE_UPPER, 20, 30, TRUE);
  middle = add_draw (draws, WB_STAGE_MIDDLE, 24, 90, FALSE);
  wb_craft_lend_stages (draws, 1);
  summarise (middle, 1, &mean, &sd);
  g_assert_cmpfloat (mean, >, log (30) + 0.6 * log (1.2));
  g_assert_cmpfloat (mean, <, log (30) + 1.0 * log (1.2));
  g_assert_cmpfloat (sd, >, 0.04);
  g_assert_cmpfloat (sd, <, 0.08);
  /* who was read there stays */
  summarise (middle, 0, &mean, &sd);
  g_assert_cmpfloat_with_epsilon (mean, log (24), 1e-9);
  g_assert_cmpfloat (sd, <, 1e-6);
}

/* Where no cell has both thirds, it may shift either way. */
static void
test_nothing_to_shift_by (void)
{
  g_autoptr (WbCraftDraws) draws = make_draws ();
  double mean, sd;
  WbCraftDraw *upper, *middle;

  upper = add_draw (draws, WB_STAGE_UPPER, 20, 30, TRUE);
  upper->read[0] = FALSE;
  middle = add_draw (draws, WB_STAGE_MIDDLE, 24, 90, FALSE);
  wb_craft_lend_stages (draws, 1);
  summarise (middle, 1, &mean, &sd);
  g_assert_cmpfloat_with_epsilon (mean, log (30), 0.01);
  g_assert_cmpfloat (sd, >, 0.08);
  g_assert_cmpfloat (sd, <, 0.1);
}

/*
 * One wick was burnt to its end, its neighbours only through two thirds: how they burn at the bottom is foretold from
 * their own other thirds, also what counts there at its worst and what is rated. Every aim of the lower third is
 * about as sure as that of the middle one.
 */
static void
test_the_bottom_is_lent_whatever_is_read_there (void)
{
  static const double strength[] = { 4.4, 4.8, 5.2 };
  g_autoptr (WbDataset) data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autoptr (WbCraftEstimates) estimates = NULL;
  g_autoptr (WbCraftDraws) draws = NULL;
  g_autoptr (GArray) aims = NULL;
  WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
  guint lent = 0;

  spec.strength_g_per_h = 4.0;
  test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", 76.2, "Sedge", "S-0", 1, 0), &spec, 2, 0, 3);
  for (guint i = 0; i < G_N_ELEMENTS (strength); i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);

      spec.strength_g_per_h = strength[i];
      test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", 76.2, "Sedge", size, i + 2, 0), &spec, 2, 5, 3);
    }
  figures = wb_craft_figures_new (data);
  estimates = wb_craft_estimates_new (data, figures, WB_STAGE_ALL, NULL, NULL, NULL);
  draws = wb_craft_draws_new (data, figures, estimates, 1, 1024, NULL, NULL);
  aims = wb_craft_aims_new (data);
  for (guint a = 0; a < aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, a);
      const WbCraftDraw *draw = wb_craft_draws_find (draws, aim->figure, aim->stage, wb_craft_look_of (aim));
      double sum = 0, squares = 0;

      if (draw == NULL || aim->stage != WB_STAGE_LOWER || !draw->log_scale || draw->read[1])
        continue;
      lent++;
      for (guint i = 0; i < 1024; i++)
        {
          double level = draw->level[(gsize) i * draws->n_cells + 1];

          sum += level / 1024;
          squares += level * level / 1024;
        }
      g_assert_cmpfloat (sqrt (squares - sum * sum), <, 0.2);
    }
  g_assert_cmpuint (lent, >=, 3); /* depth, flame, vessel */
  for (guint a = 0; a < aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, a);
      const WbCraftDraw *draw = wb_craft_draws_find (draws, aim->figure, aim->stage, wb_craft_look_of (aim));

      if (draw != NULL && aim->stage == WB_STAGE_LOWER && draw->ratings != NULL)
        g_assert_true (draw->lent != NULL && draw->lent[1] != NULL);
    }
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/lend/a-third-not-read-is-lent-by-its-own-next", test_a_third_is_lent);
  g_test_add_func ("/craft/lend/without-a-shift-seen-it-may-go-either-way", test_nothing_to_shift_by);
  g_test_add_func ("/craft/lend/the-bottom-is-lent-whatever-is-read-there", test_the_bottom_is_lent_whatever_is_read_there);
  return g_test_run ();
}
