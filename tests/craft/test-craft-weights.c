/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "test-craft-answer.h"
#include "test-craft.h"

#define INNER 76.2
#define BESIDE 1.05    /* so far from a switch the winner is asked again, with all draws */
#define TOLERANCE 0.004 /* of a score, between 256 draws and 4,000 */

/* One is late, one mushrooms, one is in between in both; a weight of one aim of them times `factor`. */
static WbDataset *
data_new (WbFigure figure,
          WbStage  stage,
          double   factor)
{
  static const struct { double limit_mm, tau_h, mushroom; } wicks[] = { { 80, 1.5, 0 }, { 82, 1.2, 2 }, { 81, 1.35, 1 } };
  WbDataset *data = test_craft_data_new ();

  for (guint i = 0; i < G_N_ELEMENTS (wicks); i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      guint cell = test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0);

      for (guint k = 0; k < 3; k++)
        {
          guint sample = test_craft_add_sample (data, cell, size);

          for (guint b = 0; b < 2; b++)
            {
              guint burn = test_craft_calm_burn (data, sample, wicks[i].limit_mm + k, wicks[i].tau_h, INNER);

              test_craft_read (data, burn, 241, WB_COLUMN_MUSHROOM, MAX (wicks[i].mushroom - (k == 0), 0));
            }
        }
    }
  for (guint i = data->aims->len; i-- > 0;)
    {
      WbAim *aim = g_ptr_array_index (data->aims, i);

      if (aim->figure == (int) figure && aim->stage == (int) stage)
        aim->weight *= factor;
    }
  return data;
}

static WbCraftAnswer *
answer_new (const WbCraftWeight *weight,
            double               factor)
{
  return wb_craft_answer_new (data_new (weight->figure, weight->stage, factor), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
}

/* By how much the leader of all draws is ahead of that cell once the weight is changed. */
static double
get_lead (const WbCraftWeight *weight,
          double               factor,
          guint                cell)
{
  g_autoptr (WbCraftAnswer) answer = answer_new (weight, factor);

  return answer->ranking->groups[0].cells[0].score.value - test_craft_find_ranked (answer, cell)->score.value;
}

/* One side of a weight: what is said is what the whole ranking answers when it is asked so. Returns 1 where another takes over. */
static guint
check_side (const WbCraftWeight *weight,
            guint                leader,
            double               at,
            guint                winner,
            double               beyond,
            double               end)
{
  if (isnan (at))
    {
      g_assert_cmpuint (winner, ==, G_MAXUINT);
      g_assert_cmpfloat (get_lead (weight, end, leader), <=, TOLERANCE);
      return 0;
    }
  g_assert_cmpuint (winner, !=, leader);
  if (at > 0)
    {
      g_assert_cmpfloat (get_lead (weight, at / weight->weight / beyond, leader), <=, TOLERANCE);
      g_assert_cmpfloat (get_lead (weight, at / weight->weight * beyond, winner), <=, TOLERANCE);
    }
  return 1;
}

static void
test_a_weight_changes_the_winner_where_it_says (void)
{
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (data_new (0, 0, 1), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  const WbCraftGroup *group = &answer->ranking->groups[0];
  guint counting = 0, switches = 0;

  for (guint i = 0; i < group->cells[0].parts->len; i++)
    counting += !g_array_index (group->cells[0].parts, WbCraftPart, i).dropped;
  g_assert_cmpuint (group->weights->len, ==, counting);
  for (guint i = 0; i < group->weights->len; i++)
    {
      const WbCraftWeight *weight = &g_array_index (group->weights, WbCraftWeight, i);

      g_test_message ("%s %s weighs %g: %g to %g", wb_figure_get_key (weight->figure), wb_stage_get_key (weight->stage), weight->weight,
                      weight->low, weight->high);
      g_assert_true (isnan (weight->low) || (weight->low >= 0 && weight->low <= weight->weight));
      g_assert_true (isnan (weight->high) || (weight->high >= weight->weight && weight->high <= 8 * weight->weight));
      switches += check_side (weight, group->cells[0].cell, weight->low, weight->winner_below, 1 / BESIDE, 1.0 / 8);
      switches += check_side (weight, group->cells[0].cell, weight->high, weight->winner_above, BESIDE, 8);
    }
  g_assert_cmpuint (switches, >, 0);
}

/* A limit that was crossed is not weighed against anything. */
static void
test_a_cell_that_failed_cannot_win (void)
{
  WbDataset *data = data_new (0, 0, 1);
  g_autoptr (WbCraftAnswer) all = wb_craft_answer_new (data_new (0, 0, 1), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_autoptr (WbCraftAnswer) answer = NULL;
  guint first = all->ranking->groups[0].cells[0].cell;

  for (guint row = 0; row < wb_readings_get_length (data->readings); row++)
    {
      guint sample = g_array_index (data->burn_sample, guint, wb_readings_get_burn (data->readings, row));

      if (g_array_index (data->sample_cell, guint, sample) == first)
        {
          wb_readings_set (data->readings, row, WB_COLUMN_VESSEL_C, 78);
          break;
        }
    }
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_assert_cmpuint (answer->ranking->groups[0].weights->len, >, 0);
  for (guint i = 0; i < answer->ranking->groups[0].weights->len; i++)
    {
      const WbCraftWeight *weight = &g_array_index (answer->ranking->groups[0].weights, WbCraftWeight, i);

      g_assert_cmpuint (weight->winner_below, !=, first);
      g_assert_cmpuint (weight->winner_above, !=, first);
    }
}

/* With nobody to take over there is nothing to be said. */
static void
test_one_cell_alone (void)
{
  WbDataset *data = test_craft_data_new ();
  g_autoptr (WbCraftAnswer) answer = NULL;
  const double strength[] = { 4.4 };

  test_craft_add_wicks (data, strength, 1, 2, 2, 0.6);
  answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_assert_cmpuint (answer->ranking->groups[0].weights->len, ==, 0);
}

/* Binomial, and of p_cross no larger than that: a chance of each draw says more than its toss. */
static void
test_errors_of_the_chances (void)
{
  g_autoptr (WbCraftAnswer) answer = wb_craft_answer_new (data_new (0, 0, 1), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  const WbCraftGroup *group = &answer->ranking->groups[0];

  for (guint i = 0; i < group->n_cells; i++)
    {
      const WbCraftRanked *ranked = &group->cells[i];
      double tosses = sqrt (ranked->p_cross * (1 - ranked->p_cross) / (answer->ranking->draws - 1));

      g_assert_cmpfloat_with_epsilon (ranked->p_best_error, sqrt (ranked->p_best * (1 - ranked->p_best) / answer->ranking->draws), 1e-12);
      g_assert_cmpfloat_with_epsilon (ranked->p_near_error, sqrt (ranked->p_near * (1 - ranked->p_near) / answer->ranking->draws), 1e-12);
      g_assert_cmpfloat (ranked->p_cross_error, <=, tosses + 1e-12);
      g_assert_true (ranked->p_cross_error > 0 || ranked->p_cross < 1e-6);
    }
  g_assert_cmpfloat_with_epsilon (group->p_none_error, sqrt (group->p_none * (1 - group->p_none) / answer->ranking->draws), 1e-12);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/weights/the-winner-changes-where-it-says", test_a_weight_changes_the_winner_where_it_says);
  g_test_add_func ("/craft/weights/a-cell-that-failed-cannot-win", test_a_cell_that_failed_cannot_win);
  g_test_add_func ("/craft/weights/one-cell-alone", test_one_cell_alone);
  g_test_add_func ("/craft/weights/each-chance-has-its-error", test_errors_of_the_chances);
  return g_test_run ();
}
