/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-bench-plan.h"

#include "wb-calc-random.h"

GArray *
wb_craft_bench_plan_new (guint   places,
                         guint64 seed)
{
  GArray *plan = g_array_sized_new (FALSE, FALSE, sizeof (guint), places);
  WbCalcRandom random;

  wb_calc_random_init (&random, seed, 0);
  for (guint i = 0; i < places; i++)
    g_array_append_val (plan, i);
  for (guint left = places; left > 1; left--)
    {
      guint other = (guint) wb_calc_random_below (&random, left), kept = g_array_index (plan, guint, left - 1);

      g_array_index (plan, guint, left - 1) = g_array_index (plan, guint, other);
      g_array_index (plan, guint, other) = kept;
    }
  return plan;
}

guint
wb_craft_bench_plan_find (const GArray   *plan,
                          guint           nth,
                          const gboolean *taken)
{
  g_return_val_if_fail (plan != NULL, 0);

  for (guint i = 0; i < plan->len; i++)
    {
      guint place = g_array_index (plan, guint, (nth + i) % plan->len);

      if (!taken[place])
        return place;
    }
  return plan->len;
}
