/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-bench-plan.h"

/* Every place once, the same for the same session, another order for the next. */
static void
test_every_place_once (void)
{
  g_autoptr (GArray) first = wb_craft_bench_plan_new (12, 1), again = wb_craft_bench_plan_new (12, 1), next = wb_craft_bench_plan_new (12, 2);
  guint seen = 0, same = 0;

  g_assert_cmpuint (first->len, ==, 12);
  for (guint i = 0; i < 12; i++)
    {
      g_assert_cmpuint (g_array_index (first, guint, i), ==, g_array_index (again, guint, i));
      seen |= 1u << g_array_index (first, guint, i);
      same += g_array_index (first, guint, i) == g_array_index (next, guint, i);
    }
  g_assert_cmphex (seen, ==, 0xfff);
  g_assert_cmpuint (same, <, 12);
}

/* Over 6,000 sessions each sample stands at each of six places 1,000 times, give or take five standard deviations of 28.9. */
static void
test_no_place_is_preferred (void)
{
  guint counts[6][6] = { { 0 } };

  for (guint seed = 1; seed <= 6000; seed++)
    {
      g_autoptr (GArray) plan = wb_craft_bench_plan_new (6, seed);

      for (guint i = 0; i < 6; i++)
        counts[i][g_array_index (plan, guint, i)]++;
    }
  for (guint i = 0; i < 6; i++)
    for (guint k = 0; k < 6; k++)
      g_assert_cmpint (ABS ((int) counts[i][k] - 1000), <, 145);
}

static void
test_next_free (void)
{
  g_autoptr (GArray) plan = wb_craft_bench_plan_new (4, 7), none = wb_craft_bench_plan_new (0, 7);
  gboolean taken[4] = { FALSE };

  g_assert_cmpuint (wb_craft_bench_plan_find (plan, 1, taken), ==, g_array_index (plan, guint, 1));
  g_assert_cmpuint (wb_craft_bench_plan_find (plan, 5, taken), ==, g_array_index (plan, guint, 1));
  taken[g_array_index (plan, guint, 3)] = TRUE;
  g_assert_cmpuint (wb_craft_bench_plan_find (plan, 3, taken), ==, g_array_index (plan, guint, 0));
  for (guint i = 0; i < 4; i++)
    taken[i] = TRUE;
  g_assert_cmpuint (wb_craft_bench_plan_find (plan, 0, taken), ==, 4);
  g_assert_cmpuint (wb_craft_bench_plan_find (none, 0, taken), ==, 0);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/craft/bench-plan/every-place-once", test_every_place_once);
  g_test_add_func ("/craft/bench-plan/no-place-is-preferred", test_no_place_is_preferred);
  g_test_add_func ("/craft/bench-plan/a-taken-place-gives-the-next", test_next_free);
  return g_test_run ();
}
