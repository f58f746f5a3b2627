/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"

#include <math.h>

#include "wb-calc-rank.h"
#include "wb-calc-summary.h"
#include "wb-craft-verdict-private.h"

/* Which of the wicks foretold go on the ladder. */

#define LEAST_CHANCE 0.01   /* of being the best, to be poured at all */
#define NEAR 0.05           /* of the best score, as in the ranking */
#define TAIL 0.05

static void
tell_score (WbCraftLadderStep  *step,
            const WbCraftScore *score,
            guint               index,
            double             *column)
{
  double sum = 0;

  for (guint draw = 0; draw < score->n_draws; draw++)
    {
      column[draw] = score->recipe[(gsize) draw * score->n_cells + index];
      sum += column[draw];
    }
  wb_calc_summary_sort (column, score->n_draws);
  step->score.value = sum / score->n_draws;
  /* of scores that are nearly all nothing the mean may lie outside */
  step->score.low = MIN (wb_calc_summary_sorted_quantile (column, score->n_draws, TAIL), step->score.value);
  step->score.high = MAX (wb_calc_summary_sorted_quantile (column, score->n_draws, 1 - TAIL), step->score.value);
}

/* The score of each draw, 0 where a limit is known to be crossed. */
static void
rank (WbCraftLadder      *self,
      const WbCraftScore *score,
      const gboolean     *barred)
{
  const WbCalcRankOptions options = { NEAR, WB_CRAFT_VERDICT_NOTHING };
  gsize n = (gsize) score->n_draws * score->n_cells;
  g_autofree double *draws = g_new (double, n);
  g_autofree double *column = g_new (double, score->n_draws);
  WbCalcRank result = { 0 };

  for (gsize i = 0; i < n; i++)
    draws[i] = barred[i % score->n_cells] ? 0 : score->recipe[i];
  if (wb_calc_rank_acceptability (draws, score->n_draws, score->n_cells, &options, NULL, NULL, &result) != WB_CALC_OK)
    return;
  for (guint i = 0; i < score->n_cells; i++)
    {
      WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);

      step->p_best = result.p_best[i];
      step->p_near = result.p_near[i];
      tell_score (step, score, i, column);
    }
  wb_calc_rank_clear (&result);
}

/* The likeliest best that is not on the ladder yet; the likelier to be near the best among equals. G_MAXUINT: there is none. */
static guint
find_next (const WbCraftLadder *self,
           double               least)
{
  guint next = G_MAXUINT;

  for (guint i = 0; i < self->steps->len; i++)
    {
      const WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i), *best = next != G_MAXUINT ? wb_craft_ladder_get_step (self, next) : NULL;

      if (step->in_ladder || !(step->p_best > least))
        continue;
      if (best == NULL || step->p_best > best->p_best || (step->p_best == best->p_best && step->p_near > best->p_near))
        next = i;
    }
  return next;
}

static void
pick_likeliest (WbCraftLadder *self)
{
  self->p_holds_best = 0;
  for (guint k = 0; k < self->question.sizes; k++)
    {
      guint next = find_next (self, LEAST_CHANCE);

      if (next == G_MAXUINT)
        break;
      wb_craft_ladder_get_step (self, next)->in_ladder = TRUE;
      self->p_holds_best += wb_craft_ladder_get_step (self, next)->p_best;
    }
  self->wider = find_next (self, 0);
  if (self->wider != G_MAXUINT)
    self->p_wider_holds_best = self->p_holds_best + wb_craft_ladder_get_step (self, self->wider)->p_best;
}

/* What a maker would do without this: as many neighbours of one series. */
static void
find_run (WbCraftLadder *self)
{
  guint length = self->question.sizes, first = G_MAXUINT;
  double most = -1;

  for (guint i = 0; i + length <= self->steps->len; i++)
    {
      double sum = 0;
      guint k = 0;

      for (; k < length; k++)
        {
          const WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i + k);

          if (g_strcmp0 (step->series, wb_craft_ladder_get_step (self, i)->series) != 0)
            break;
          sum += step->p_best;
        }
      if (k < length || sum <= most)
        continue;
      most = sum;
      first = i;
    }
  for (guint k = 0; k < length && first != G_MAXUINT; k++)
    wb_craft_ladder_get_step (self, first + k)->in_run = TRUE;
  if (first != G_MAXUINT)
    self->p_run_holds_best = most;
}

void
wb_craft_ladder_pick (WbCraftLadder      *self,
                      const WbCraftScore *score,
                      const gboolean     *barred)
{
  rank (self, score, barred);
  pick_likeliest (self);
  find_run (self);
}
