/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-craft-answer.h"
#include "test-craft.h"
#include "test-craft-school.h"

#define INNER 62.0

/* The ladder for the vessel, wax and load of an experiment that is all of the history. */
static WbCraftLadder *
ask_again (const WbCraftAnswer *answer,
           double               inner_mm)
{
  g_autoptr (GPtrArray) lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);
  g_autoptr (GPtrArray) guides = g_ptr_array_new (), waxes = g_ptr_array_new ();
  g_autoptr (WbCraftSchool) school = NULL;
  WbCraftLadderQuestion question = {
    .inner_diameter_mm = inner_mm, .wax = answer->data->wax->name, .load_pct = wb_dataset_get_cell (answer->data, 0)->load_pct
  };

  g_ptr_array_add (lessons, test_school_lesson (answer->data));
  g_ptr_array_add (waxes, answer->data->wax);
  school = wb_craft_school_new (lessons, guides, answer->data->wicks, waxes, NULL, NULL, NULL);
  return wb_craft_ladder_new (&question, school, answer->data->wicks, guides, waxes, 1);
}

static const WbCraftLadderStep *
find_step (const WbCraftLadder *ladder,
           const char          *size)
{
  for (guint i = 0; i < ladder->steps->len; i++)
    if (g_str_equal (((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->size, size))
      return g_ptr_array_index (ladder->steps, i);
  g_assert_not_reached ();
}

/* limits of the pool, mm; 0: at the wall whenever it is read, hour by hour. Two samples of four burns each. */
static WbCraftAnswer *
burn_sizes (const double *limits,
            guint         n)
{
  WbDataset *data = test_craft_data_new ();

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      guint cell = test_craft_add_cell (data, "Nook", INNER, "Sedge", size, i + 1, 6);

      for (guint s = 0; s < 2; s++)
        {
          g_autofree char *code = g_strdup_printf ("%u-%u", i + 1, s + 1);
          guint sample = test_craft_add_sample (data, cell, code);

          for (guint b = 0; b < 4; b++)
            test_craft_calm_burn (data, sample, limits[i] > 0 ? limits[i] : 1000, 1.15, INNER);
        }
    }
  return wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
}

/* Sizes that filled the vessel by the first reading were tried, and are far too large: no reading of them is a point. */
static void
test_at_the_wall_is_at_least (void)
{
  static const double limits[] = { 58, 66, 72, 0, 0, 0 };
  g_autoptr (WbCraftAnswer) answer = burn_sizes (limits, 6);
  g_autoptr (WbCraftLadder) ladder = ask_again (answer, INNER), wider = ask_again (answer, 90);

  for (guint i = 4; i <= 6; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i);
      const WbCraftLadderStep *step = find_step (ladder, size);

      g_test_message ("%s: right %.2f, pool %.0f to %.0f mm: %s", size, step->p_right, step->pool_limit_mm.low, step->pool_limit_mm.high, step->reason);
      g_assert_cmpint (answer->estimates->cells[i - 1].growth.status, ==, WB_CRAFT_FIT_ALL_AT_WALL);
      g_assert_cmpfloat (step->p_right, <, 0.01);
      g_assert_false (step->in_ladder);
      g_assert_false (step->extrapolated);
      /*
       * at the wall after an hour: at least 62 mm over 1 - exp (-1 / 1.15), about 107 mm, in that pour; another may be 5 % off with its place, and all
       * other figures of these sizes are alike, which speaks against so much
       */
      g_assert_cmpfloat (step->pool_limit_mm.low, >, 90);
      /* and what was learnt of it goes to a vessel never tried */
      g_assert_cmpfloat (find_step (wider, size)->pool_limit_mm.value, >, 95);
    }
  g_assert_cmpfloat (find_step (ladder, "S-3")->p_right, >, 0.7);
  g_assert_nonnull (strstr (find_step (ladder, "S-3")->reason, "Burnt in T1"));
  g_assert_null (strstr (find_step (wider, "S-3")->reason, "Burnt in"));
}

/* Only sizes that fill the vessel at once: they are known to be too large, which is a basis. */
static void
test_all_at_the_wall_is_a_basis (void)
{
  static const double limits[] = { 0, 0, 0 };
  g_autoptr (WbCraftAnswer) answer = burn_sizes (limits, 3);
  g_autoptr (WbCraftLadder) ladder = ask_again (answer, INNER);

  g_assert_cmpint (ladder->rests_on, ==, WB_CRAFT_RESTS_ON_HISTORY);
  g_assert_cmpuint (ladder->experiments->len, ==, 1);
  for (guint i = 0; i < 3; i++)
    g_assert_cmpfloat (((WbCraftLadderStep *) g_ptr_array_index (ladder->steps, i))->p_right, <, 0.05);
}

/* The size whose pool comes in time crossed a limit there: it is not likely right, whatever its neighbours foretell. */
static void
test_what_crossed_is_not_right (void)
{
  static const double limits[] = { 58, 66, 72, 90 };
  g_autoptr (WbCraftAnswer) calm = burn_sizes (limits, 4), crossed = NULL;
  g_autoptr (WbCraftLadder) before = ask_again (calm, INNER), after = NULL;
  WbDataset *data;
  guint first, n;

  g_assert_cmpfloat (find_step (before, "S-3")->p_right, >, 0.7);
  {
    g_autoptr (WbCraftAnswer) again = burn_sizes (limits, 4);

    data = again->data;
    wb_readings_get_burn_rows (data->readings, 2 * 8 + 3, &first, &n);
    test_craft_set (data, first + n - 1, WB_COLUMN_VESSEL_C, 81);
    again->data = wb_dataset_new ();
  }
  crossed = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  after = ask_again (crossed, INNER);
  g_test_message ("%s", find_step (after, "S-3")->reason);
  g_assert_cmpint (test_craft_find_ranked (crossed, 2)->verdict, ==, WB_CRAFT_VERDICT_REJECTED);
  g_assert_cmpfloat (find_step (after, "S-3")->p_right, ==, 0);
  g_assert_false (find_step (after, "S-3")->in_ladder);
  g_assert_nonnull (strstr (find_step (after, "S-3")->reason, "where a limit was crossed: outside wall of the vessel 81.0"));
}

/* Above a size that burnt too hot nothing is recommended, however little was burnt of what is above it. */
static void
test_never_up_from_too_hot (void)
{
  static const double limits[] = { 58, 66, 72, 90 };
  g_autoptr (WbCraftAnswer) again = burn_sizes (limits, 4), crossed = NULL;
  g_autoptr (WbCraftLadder) ladder = NULL, narrower = NULL, elsewhere = NULL;
  WbDataset *data = again->data;
  WbWick *wick = wb_record_new (&wb_wick_type);
  guint first, n;

  wb_readings_get_burn_rows (data->readings, 3 * 8 + 3, &first, &n);
  test_craft_set (data, first + n - 1, WB_COLUMN_VESSEL_C, 81);
  again->data = wb_dataset_new ();
  /* S-5 was never burnt */
  wick->series = g_strdup ("Sedge");
  wick->size = g_strdup ("S-5");
  wick->step = 5;
  g_ptr_array_add (data->wicks, wick);
  crossed = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  ladder = ask_again (crossed, INNER);
  g_test_message ("%s", find_step (ladder, "S-5")->reason);
  g_assert_cmpfloat (find_step (ladder, "S-5")->p_right, ==, 0);
  g_assert_false (find_step (ladder, "S-5")->in_ladder);
  g_assert_nonnull (strstr (find_step (ladder, "S-5")->reason, "burnt too hot in a vessel no narrower: outside wall of the vessel 81.0"));
  /* nor is it, or any above it, right in a narrower one */
  narrower = ask_again (crossed, INNER - 4);
  g_assert_cmpfloat (find_step (narrower, "S-4")->p_right, ==, 0);
  g_assert_cmpfloat (find_step (narrower, "S-5")->p_right, ==, 0);
  /* in a wider vessel it says nothing */
  elsewhere = ask_again (crossed, INNER + 20);
  g_assert_null (strstr (find_step (elsewhere, "S-5")->reason, "too hot"));
}

/* One of two experiments with the size crossed a limit: the calm one beside it does not make it half right. */
static void
test_one_crossing_is_enough (void)
{
  static const double limits[] = { 58, 66, 72, 90 };
  g_autoptr (WbCraftAnswer) calm = burn_sizes (limits, 4), crossed = NULL;
  g_autoptr (GPtrArray) guides = g_ptr_array_new (), waxes = g_ptr_array_new ();
  WbCraftLadderQuestion question = {
    .inner_diameter_mm = INNER, .wax = calm->data->wax->name, .load_pct = wb_dataset_get_cell (calm->data, 0)->load_pct
  };
  WbDataset *data;
  guint first, n;

  {
    g_autoptr (WbCraftAnswer) again = burn_sizes (limits, 4);

    data = again->data;
    wb_readings_get_burn_rows (data->readings, 2 * 8 + 3, &first, &n);
    test_craft_set (data, first + n - 1, WB_COLUMN_EVENT, WB_EVENT_VESSEL_CRACK);
    again->data = wb_dataset_new ();
  }
  crossed = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  g_ptr_array_add (waxes, calm->data->wax);
  for (guint order = 0; order < 2; order++)
    {
      const WbCraftAnswer *all[] = { calm, crossed };
      g_autoptr (GPtrArray) lessons = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_lesson_free);
      g_autoptr (WbCraftSchool) school = NULL;
      g_autoptr (WbCraftLadder) ladder = NULL;

      g_ptr_array_add (lessons, test_school_lesson (all[order]->data));
      g_ptr_array_add (lessons, test_school_lesson (all[1 - order]->data));
      ((WbLesson *) g_ptr_array_index (lessons, 1))->experiment++;
      school = wb_craft_school_new (lessons, guides, calm->data->wicks, waxes, NULL, NULL, NULL);
      ladder = wb_craft_ladder_new (&question, school, calm->data->wicks, guides, waxes, 1);
      g_assert_cmpfloat (find_step (ladder, "S-3")->p_right, ==, 0);
      g_assert_false (find_step (ladder, "S-3")->in_ladder);
      g_assert_nonnull (strstr (find_step (ladder, "S-3")->reason, "where a limit was crossed"));
    }
}

/* In a vessel that was itself tested a size that ranks surely behind another is not likelier right, by hot and by calm vessels, wide and narrow. */
static void
test_orders_as_the_ranking_does (void)
{
  static const double strength[] = { 3.2, 3.9, 4.8, 5.8, 7.0, 8.4 };
  static const struct { double inner_mm, bottom_heat; guint burns; } cases[] = {
    { 76.2, 0.6, 0 }, { 76.2, 1.4, 0 }, { 76.2, 2.2, 0 }, { 60, 0.6, 0 }, { 88, 0.6, 0 }, { 76.2, 0.6, 3 },
  };
  guint parted = 0;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbDataset *data = test_craft_data_new ();
      WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();
      g_autoptr (WbCraftAnswer) answer = NULL;
      g_autoptr (WbCraftLadder) ladder = NULL;
      const WbCraftGroup *group;

      spec.inner_mm = cases[i].inner_mm;
      spec.bottom_heat = cases[i].bottom_heat;
      for (guint k = 0; k < G_N_ELEMENTS (strength); k++)
        {
          g_autofree char *size = g_strdup_printf ("S-%u", k + 1);

          spec.strength_g_per_h = strength[k];
          test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", spec.inner_mm, "Sedge", size, k + 1, 0), &spec, 2,
                                   cases[i].burns, 5);
        }
      answer = wb_craft_answer_new (data, NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
      ladder = ask_again (answer, spec.inner_mm);
      group = &answer->ranking->groups[0];
      for (guint a = 0; a < group->n_cells; a++)
        for (guint b = a + 1; b < group->n_cells; b++)
          {
            const WbCraftRanked *above = &group->cells[a], *under = &group->cells[b];
            const char *size_above = wb_dataset_get_wick (data, above->cell)->size, *size_under = wb_dataset_get_wick (data, under->cell)->size;

            if (!(above->score.low > under->score.high))
              continue;
            parted++;
            g_test_message ("case %u: %s %.2f over %s %.2f: right %.2f, %.2f", i, size_above, above->score.value, size_under, under->score.value,
                            find_step (ladder, size_above)->p_right, find_step (ladder, size_under)->p_right);
            g_assert_cmpfloat (find_step (ladder, size_above)->p_right, >=, find_step (ladder, size_under)->p_right - 0.05);
          }
    }
  g_assert_cmpuint (parted, >, 10);
}

int
main (int   argc,
      char *argv[])
{
  test_craft_init (&argc, &argv);
  g_test_add_func ("/craft/foretell-tested/at-the-wall-is-at-least", test_at_the_wall_is_at_least);
  g_test_add_func ("/craft/foretell-tested/all-at-the-wall-is-a-basis", test_all_at_the_wall_is_a_basis);
  g_test_add_func ("/craft/foretell-tested/what-crossed-is-not-right", test_what_crossed_is_not_right);
  g_test_add_func ("/craft/foretell-tested/never-up-from-too-hot", test_never_up_from_too_hot);
  g_test_add_func ("/craft/foretell-tested/one-crossing-is-enough", test_one_crossing_is_enough);
  g_test_add_func ("/craft/foretell-tested/orders-as-the-ranking-does", test_orders_as_the_ranking_does);
  return g_test_run ();
}
