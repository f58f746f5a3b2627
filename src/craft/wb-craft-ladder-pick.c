/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"

/* Which of the sizes foretold go on the ladder. */

#define LEAST_CHANCE 0.02   /* of being right, to be tried at all */

static WbCraftLadderStep *
get_step (const WbCraftLadder *self,
          guint                index)
{
  return g_ptr_array_index (self->steps, index);
}

/* The house's aim for the full melt pool at the top of the vessel, as a multiple of one hour per inch; common practice, no source. */
static double
pool_desirability (double multiple)
{
  if (multiple <= 0.5)
    return 0;
  if (multiple <= 1)
    return (multiple - 0.5) / 0.5;
  return multiple >= 1.5 ? 0.3 : 1 - 0.7 * (multiple - 1) / 0.5;
}

/*
 * How far a recipe is right in each draw, draws × n: the chance that its candle
 * crosses no limit where its full melt pool comes within the window, 0 elsewhere
 * and where its own burns score next to nothing.
 */
static double *
judge_draws (const WbCraftLadder   *self,
             const WbCraftForetold *foretold,
             guint                  n,
             guint                  draws)
{
  double *right = g_new0 (double, (gsize) draws * MAX (n, 1));

  for (gsize i = 0; i < (gsize) draws * n; i++)
    {
      double multiple = foretold[i].full_pool_h / wb_craft_ladder_due_h (self);

      if (!foretold[i].fails && multiple >= self->question.window_low && multiple <= self->question.window_high)
        right[i] = 1 - foretold[i].p_cross;
    }
  return right;
}

/* Chance of being right, and of being the best of those that are right. */
static void
count_chances (WbCraftLadder         *self,
               const WbCraftForetold *foretold,
               const double          *right,
               guint                  n,
               guint                  draws)
{
  for (guint i = 0; i < n; i++)
    get_step (self, i)->p_right = get_step (self, i)->p_best = 0;
  for (guint draw = 0; draw < draws; draw++)
    {
      double highest = 0;
      guint leader = G_MAXUINT;

      for (guint i = 0; i < n; i++)
        {
          gsize at = (gsize) draw * n + i;
          double score = right[at] * pool_desirability (foretold[at].full_pool_h / wb_craft_ladder_due_h (self));

          get_step (self, i)->p_right += right[at] / draws;
          if (score > highest)
            {
              highest = score;
              leader = i;
            }
        }
      if (leader != G_MAXUINT)
        get_step (self, leader)->p_best += right[(gsize) draw * n + leader] / draws;
    }
}

/* What the ladder's chance of holding a right size would be with one more step: the mean over the draws of the best there. */
static double
chance_with (const double *right,
             guint         n,
             guint         draws,
             const double *best_so_far,
             guint         step)
{
  double sum = 0;

  for (guint draw = 0; draw < draws; draw++)
    sum += MAX (best_so_far[draw], right[(gsize) draw * n + step]);
  return sum / draws;
}

/* The step that adds most; one that is likelier to be right among those that add alike. G_MAXUINT: none may be right. */
static guint
find_pick (const WbCraftLadder *self,
           const double        *right,
           guint                n,
           guint                draws,
           const double        *best_so_far)
{
  guint pick = G_MAXUINT;
  double most = 0;

  for (guint i = 0; i < n; i++)
    {
      const WbCraftLadderStep *step = get_step (self, i);
      double chance;

      if (step->in_ladder || step->p_right < LEAST_CHANCE)
        continue;
      chance = chance_with (right, n, draws, best_so_far, i);
      if (pick == G_MAXUINT || chance > most + 1e-12
          || (chance > most - 1e-12 && step->p_right > get_step (self, pick)->p_right))
        {
          pick = i;
          most = chance;
        }
    }
  return pick;
}

/* Step by step, each the one that makes it likeliest that the ladder holds a right size. */
static void
pick_ladder (WbCraftLadder *self,
             const double  *right,
             guint          n,
             guint          draws)
{
  g_autofree double *best_so_far = g_new0 (double, draws);

  self->p_holds_best = 0;
  for (guint k = 0; k < self->question.sizes; k++)
    {
      guint pick = find_pick (self, right, n, draws, best_so_far);

      if (pick == G_MAXUINT)
        return;
      get_step (self, pick)->in_ladder = TRUE;
      self->p_holds_best = chance_with (right, n, draws, best_so_far, pick);
      for (guint draw = 0; draw < draws; draw++)
        best_so_far[draw] = MAX (best_so_far[draw], right[(gsize) draw * n + pick]);
    }
}

void
wb_craft_ladder_pick (WbCraftLadder         *self,
                      const WbCraftForetold *foretold,
                      guint                  n,
                      guint                  draws)
{
  g_autofree double *right = judge_draws (self, foretold, n, draws);

  count_chances (self, foretold, right, n, draws);
  pick_ladder (self, right, n, draws);
}
