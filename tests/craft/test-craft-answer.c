/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-craft-answer.h"

#include <math.h>

#include "test-craft.h"

#define INNER 76.2

const WbCraftGroup *
test_craft_find_group (const WbCraftAnswer *answer,
                       guint                cell)
{
  for (guint g = 0; g < answer->ranking->n_groups; g++)
    for (guint i = 0; i < answer->ranking->groups[g].n_cells; i++)
      if (answer->ranking->groups[g].cells[i].cell == cell)
        return &answer->ranking->groups[g];
  g_assert_not_reached ();
}

const WbCraftRanked *
test_craft_find_ranked (const WbCraftAnswer *answer,
                        guint                cell)
{
  const WbCraftGroup *group = test_craft_find_group (answer, cell);

  for (guint i = 0; i < group->n_cells; i++)
    if (group->cells[i].cell == cell)
      return &group->cells[i];
  g_assert_not_reached ();
}

gboolean
test_craft_has_reason (const WbCraftRanked *ranked,
                       const char          *code)
{
  for (guint i = 0; i < ranked->reasons->len; i++)
    if (g_str_equal (((WbCraftReason *) g_ptr_array_index (ranked->reasons, i))->code, code))
      return TRUE;
  return FALSE;
}

/* Chances are chances: they add up, and every rank is taken by somebody. */
void
test_craft_check_chances (const WbCraftRanking *ranking)
{
  for (guint g = 0; g < ranking->n_groups; g++)
    {
      const WbCraftGroup *group = &ranking->groups[g];
      double best = group->p_none;

      for (guint i = 0; i < group->n_cells; i++)
        {
          const WbCraftRanked *ranked = &group->cells[i];
          double ranks = 0;

          g_assert_cmpuint (ranked->rank, ==, i + 1);
          if (isnan (ranked->score.value))
            {
              g_assert_true (isnan (ranked->p_best) && isnan (ranked->p_near) && isnan (ranked->p_cross));
              continue;
            }
          best += ranked->p_best;
          for (guint r = 0; r < group->n_cells; r++)
            ranks += ranked->p_rank[r];
          g_assert_cmpfloat_with_epsilon (ranks, 1, 1e-9);
          g_assert_cmpfloat (ranked->p_near, >=, ranked->p_best - 1e-12);
          g_assert_cmpfloat (ranked->score.low, <=, ranked->score.value);
          g_assert_cmpfloat (ranked->score.high, >=, ranked->score.value);
          g_assert_cmpfloat (ranked->next_candle.low, <=, ranked->next_candle.value);
          g_assert_cmpfloat (ranked->next_candle.high, >=, ranked->next_candle.value);
        }
      if (!isnan (group->p_none)) /* nobody of the group was burnt */
        g_assert_cmpfloat_with_epsilon (best, 1, 1e-9);
    }
}

/* How many of the sentences of a cell's reasons begin so. */
guint
test_craft_count_sentences (const WbCraftRanked *ranked,
                            const char          *start)
{
  g_autoptr (GPtrArray) sentences = wb_craft_ranked_dup_sentences (ranked);
  guint n = 0;

  for (guint i = 0; i < sentences->len; i++)
    n += g_str_has_prefix (g_ptr_array_index (sentences, i), start);
  return n;
}

void
test_craft_add_wicks (WbDataset    *data,
                      const double *strength,
                      guint         n,
                      guint         samples,
                      guint         burns,
                      double        bottom_heat)
{
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *size = g_strdup_printf ("S-%u", i + 1);
      WbCraftPhysicsSpec spec = wb_craft_physics_spec_usual ();

      spec.strength_g_per_h = strength[i];
      spec.bottom_heat = bottom_heat;
      test_craft_burn_physics (data, test_craft_add_cell (data, "Tern", INNER, "Sedge", size, i + 1, 0), &spec, samples, burns, 3);
    }
}
