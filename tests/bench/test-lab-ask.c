/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "lab-bound.h"
#include "lab-tally.h"
#include "test-craft.h"

/* What the benchmark `labs` makes of an answer: plainer ways, coverage, tallies. */

/* Of the three wicks one never fills, one fills in the third hour, which is when it is due, and one has too tall a flame. */
static void
test_plain_ways (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftFigures) figures = NULL;
  g_autofree double *plain = NULL, *halfway = NULL, *sheet = NULL;
  guint tall;

  for (guint i = 0; i < 3; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      guint cell = test_craft_add_cell (data, "Tern", 76.2, "Sedge", size, i + 1, 6);

      test_craft_calm_burn (data, test_craft_add_sample (data, cell, size), i == 0 ? 60 : 100, 2, 76.2);
    }
  tall = wb_readings_get_length (data->readings) - 1;
  test_craft_set (data, tall, WB_COLUMN_FLAME_MM, 50.5);
  figures = wb_craft_figures_new (data);
  plain = lab_way_rate (LAB_WAY_PLAIN, data, figures);
  halfway = lab_way_rate (LAB_WAY_HALFWAY, data, figures);
  sheet = lab_way_rate (LAB_WAY_SHEET, data, figures);
  g_assert_cmpfloat_with_epsilon (plain[1], 1, 1e-12);
  g_assert_cmpfloat_with_epsilon (halfway[1], pow (2.0 / 3, 0.3), 1e-12); /* 2.5 h of 3: two thirds of the way from 0.5 to 1 */
  g_assert_cmpfloat (sheet[1], ==, 10);
  g_assert_cmpfloat (plain[0], <, 0.6); /* 0.3 with weight 3, and a ring of more than 8 mm */
  g_assert_cmpfloat (sheet[0], ==, 7);  /* 1 in place of 3, and the ring */
  g_assert_cmpfloat (plain[2], ==, 0);
  g_assert_cmpfloat (halfway[2], ==, 0);
  g_assert_cmpfloat (sheet[2], <, 0);
  wb_dataset_free (data);
}

static void
test_held (void)
{
  static const struct { const char *name; double truth, value, low, high, p_never; gboolean held; } cases[] = {
    { "inside", 2, 2, 1, 3, NAN, TRUE },
    { "below", 0.9, 2, 1, 3, NAN, FALSE },
    { "above", 3.1, 2, 1, 3, NAN, FALSE },
    { "no upper end", 30, 2, 1, NAN, 0.2, TRUE },
    { "below, no upper end", 0.9, 2, 1, NAN, 0.2, FALSE },
    { "never, no upper end", INFINITY, 2, 1, NAN, 0.2, TRUE },
    { "never, and an upper end", INFINITY, 2, 1, 3, 0.01, FALSE },
    { "never, as said", INFINITY, NAN, NAN, NAN, 0.99, TRUE },
    { "said to be never, is not", 3, NAN, NAN, NAN, 0.99, FALSE },
    { "no answer", 3, NAN, NAN, NAN, NAN, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      LabLine line = {
        .what = LAB_SAID_FULL_POOL, .truth = cases[i].truth, .p_never = cases[i].p_never,
        .said = { cases[i].value, cases[i].low, cases[i].high },
      };

      if (lab_line_covered (&line) != cases[i].held)
        g_test_message ("%s", cases[i].name);
      g_assert_cmpint (lab_line_covered (&line), ==, cases[i].held);
    }
}

/* A lab asked twice is tallied alike, and every group has one choice of each way. */
static void
test_tally (void)
{
  LabSpec spec = { 1, 4, 2, 2, 2, LAB_WORLD_MIXED, TRUE, FALSE, 5 };
  g_autoptr (LabTally) tally = lab_tally_new ();
  guint n = 0, poured = 0;

  for (guint number = 0; number < 2; number++)
    {
      LabResult *result = lab_ask (&spec, number, 256);
      LabResult *again = lab_ask (&spec, number, 256);

      g_assert_cmpuint (result->lines->len, ==, again->lines->len);
      for (guint i = 0; i < result->lines->len; i++)
        {
          const LabLine *one = &g_array_index (result->lines, LabLine, i), *other = &g_array_index (again->lines, LabLine, i);

          g_assert_cmpfloat (one->truth, ==, other->truth);
          g_assert_true (one->said.value == other->said.value || (isnan (one->said.value) && isnan (other->said.value)));
        }
      lab_tally_add (tally, result);
      poured += result->lab->n_cells - result->unpoured;
      lab_result_free (again);
      lab_result_free (result);
    }
  g_assert_cmpuint (tally->groups, ==, 4);
  g_assert_cmpuint (tally->unpoured, >, 0);
  for (guint b = 0; b < LAB_N_BANDS; b++)
    n += tally->bands[LAB_SAID_P_BEST - LAB_N_INTERVALS][b].n;
  g_assert_cmpuint (n, ==, poured);
  for (guint w = 0; w < LAB_N_INTERVALS; w++)
    {
      const LabCover *all = &tally->covers[w][LAB_N_THIRDS];
      guint of_thirds = 0;

      for (guint t = 0; t < LAB_N_THIRDS; t++)
        of_thirds += tally->covers[w][t].n + tally->covers[w][t].none;
      g_assert_cmpuint (of_thirds, ==, all->n + all->none);
      g_assert_cmpuint (all->covered + all->under + all->over, ==, all->n);
      if (w != LAB_SAID_SCORE && w != LAB_SAID_SCORE_OVER)
        g_assert_cmpuint (all->n + all->none, ==, poured);
    }
}

/* With ever more samples who knows the law knows the cells; with few he errs, and less where the law holds. */
static void
test_bound (void)
{
  LabSpec spec = { 2, 5, 2, 2, 2, LAB_WORLD_OFF5, FALSE, FALSE, 5 };
  g_autoptr (GPtrArray) aims = wb_aims_new_house ();
  double error[2] = { 0 };

  for (guint number = 0; number < 10; number++)
    for (guint law = 0; law < 2; law++)
      {
        g_autoptr (Lab) lab = NULL;
        g_autofree LabTruth *truth = NULL;
        g_autofree double *few = NULL, *many = NULL;

        spec.world = law ? LAB_WORLD_ADDITIVE : LAB_WORLD_OFF5;
        lab = lab_new (&spec, number);
        truth = lab_truth_new (lab, aims);
        few = lab_bound_rate (lab, aims);
        lab->spec.samples = 100 * 1000 * 1000;
        many = lab_bound_rate (lab, aims);
        for (guint i = 0; i < lab->n_cells; i++)
          {
            g_assert_cmpfloat_with_epsilon (many[i], truth[i].score, 0.002);
            error[law] += fabs (few[i] - truth[i].score);
          }
      }
  g_assert_cmpfloat (error[0], >, 200 * 0.01);
  g_assert_cmpfloat (error[1], <, error[0]);
  g_assert_cmpfloat (error[1], >, 0);
}

int
main (int argc, char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/bench/lab-ask/plainer-ways-by-hand", test_plain_ways);
  g_test_add_func ("/bench/lab-ask/what-an-interval-holds", test_held);
  g_test_add_func ("/bench/lab-ask/a-tally-adds-up", test_tally);
  g_test_add_func ("/bench/lab-ask/who-knows-the-law", test_bound);
  return g_test_run ();
}
