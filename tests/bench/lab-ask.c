/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "lab-ask.h"

#include <math.h>

#include "lab-bound.h"
#include "wb-craft-answer.h"

/* What goes along while an answer is read. */
typedef struct
{
  const Lab            *lab;
  const LabTruth       *truth;
  const double         *bound;
  const WbCraftAnswer  *answer;
  const WbCraftRanking *ranking;
  LabResult            *result;
} Ask;

const char *
lab_said_get_label (LabSaid said)
{
  static const char *labels[LAB_N_SAID] = {
    "pool limit", "tau", "full pool", "consumption", "flame", "vessel", "depth", "soot", "mushroom", "score", "score if over",
    "next candle", "p_best", "p_near", "p_cross", "p_in_window", "p_never",
    "expected_loss",
  };

  return labels[said];
}

static const WbCraftGrowth *
growth_of (const Ask *ask,
           guint      cell,
           WbStage    stage)
{
  const WbCraftCell *of = &ask->answer->estimates->cells[cell];

  return ask->lab->spec.stages ? &of->stage_growth[stage] : &of->growth;
}

static void
add_line (const Ask      *ask,
          guint           cell,
          WbStage         stage,
          LabSaid         what,
          double          truth,
          WbCraftInterval said)
{
  const WbCraftGrowth *growth = growth_of (ask, cell, stage);
  LabLine line = { cell, stage, what, growth->status, truth, what == LAB_SAID_FULL_POOL ? growth->p_never : NAN, said };

  g_array_append_val (ask->result->lines, line);
}

static WbCraftInterval
chance (double p)
{
  return (WbCraftInterval) { p, NAN, NAN };
}

static void
add_estimates (const Ask *ask,
               guint      cell,
               WbStage    stage)
{
  static const struct { LabSaid what; WbFigure figure; LabMeasure measure; } measures[] = {
    { LAB_SAID_CONSUMPTION, WB_FIGURE_CONSUMPTION, LAB_CONSUMPTION }, { LAB_SAID_FLAME, WB_FIGURE_FLAME, LAB_FLAME },
    { LAB_SAID_VESSEL, WB_FIGURE_VESSEL, LAB_RISE }, { LAB_SAID_DEPTH, WB_FIGURE_DEPTH, LAB_DEPTH },
  };
  const WbCraftCell *of = &ask->answer->estimates->cells[cell];
  const WbCraftEstimate *told = ask->lab->spec.stages ? of->stage_figure[stage] : of->figure;
  const WbCraftGrowth *growth = growth_of (ask, cell, stage);
  const LabStageTruth *truth = &ask->truth[cell].stage[stage];

  add_line (ask, cell, stage, LAB_SAID_LIMIT, truth->limit_mm, growth->pool_limit_mm);
  add_line (ask, cell, stage, LAB_SAID_TAU, truth->tau_h, growth->tau_h);
  add_line (ask, cell, stage, LAB_SAID_FULL_POOL, truth->full_pool_h, growth->full_pool_h);
  add_line (ask, cell, stage, LAB_SAID_P_IN_WINDOW, truth->p_in_window, chance (growth->p_in_window));
  add_line (ask, cell, stage, LAB_SAID_P_NEVER, isinf (truth->full_pool_h) != 0, chance (growth->p_never));
  for (guint i = 0; i < G_N_ELEMENTS (measures); i++)
    add_line (ask, cell, stage, measures[i].what, truth->measure[measures[i].measure], told[measures[i].figure].told);
  add_line (ask, cell, stage, LAB_SAID_SOOT, truth->rating[LAB_SOOT], told[WB_FIGURE_SOOT].told);
  add_line (ask, cell, stage, LAB_SAID_MUSHROOM, truth->rating[LAB_MUSHROOM], told[WB_FIGURE_MUSHROOM].told);
}

static gboolean
is_over (const Ask *ask,
         guint      cell)
{
  for (guint i = 0; i < ask->answer->limits->n_limits; i++)
    if (wb_craft_limits_get (ask->answer->limits, cell, i)->state == WB_CRAFT_LIMIT_CROSSED)
      return TRUE;
  return FALSE;
}

static void
add_ranked (const Ask           *ask,
            const WbCraftRanked *ranked,
            double               best)
{
  guint cell = ranked->cell;
  const LabTruth *truth = &ask->truth[cell];
  double loss = best - truth->score;

  add_line (ask, cell, WB_STAGE_UPPER, is_over (ask, cell) ? LAB_SAID_SCORE_OVER : LAB_SAID_SCORE, truth->score, ranked->score);
  add_line (ask, cell, WB_STAGE_UPPER, LAB_SAID_CANDLE, truth->candle, ranked->next_candle);
  add_line (ask, cell, WB_STAGE_UPPER, LAB_SAID_P_BEST, loss == 0, chance (ranked->p_best));
  add_line (ask, cell, WB_STAGE_UPPER, LAB_SAID_P_NEAR, loss <= LAB_NEAR, chance (ranked->p_near));
  add_line (ask, cell, WB_STAGE_UPPER, LAB_SAID_P_CROSS, truth->p_cross, chance (ranked->p_cross));
  add_line (ask, cell, WB_STAGE_UPPER, LAB_SAID_LOSS, loss, chance (ranked->expected_loss));
}

static void
add_pick (const Ask *ask,
          LabWay     way,
          guint      cell,
          double     best)
{
  double loss = best - ask->truth[cell].score;
  LabPick pick = { cell, way, loss == 0, loss <= LAB_NEAR, loss };

  g_array_append_val (ask->result->picks, pick);
}

/* The mean of all choices. */
static void
add_any (const Ask          *ask,
         const WbCraftGroup *group,
         double              best)
{
  LabPick pick = { G_MAXUINT, LAB_WAY_ANY, 0, 0, 0 };
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    {
      double loss = best - ask->truth[group->cells[i].cell].score;

      if (!ask->lab->cells[group->cells[i].cell].poured)
        continue;
      pick.right += loss == 0;
      pick.near += loss <= LAB_NEAR;
      pick.loss += loss;
      n++;
    }
  pick.right /= n;
  pick.near /= n;
  pick.loss /= n;
  g_array_append_val (ask->result->picks, pick);
}

/* The best of a group by a rating of the cells; the first of equals, which is the smallest wick. */
static guint
best_of (const Ask          *ask,
         const WbCraftGroup *group,
         const double       *rated)
{
  guint best = G_MAXUINT;

  for (guint cell = 0; cell < ask->lab->n_cells; cell++)
    for (guint i = 0; i < group->n_cells; i++)
      if (group->cells[i].cell == cell && !isnan (rated[cell]) && (best == G_MAXUINT || rated[cell] > rated[best]))
        best = cell;
  return best;
}

static void
add_group (const Ask          *ask,
           const WbCraftGroup *group)
{
  double best = -1;

  for (guint i = 0; i < group->n_cells; i++)
    if (ask->lab->cells[group->cells[i].cell].poured)
      best = MAX (best, ask->truth[group->cells[i].cell].score);
  if (best < 0)
    return;
  for (guint i = 0; i < group->n_cells; i++)
    if (ask->lab->cells[group->cells[i].cell].poured)
      add_ranked (ask, &group->cells[i], best);
  add_pick (ask, LAB_WAY_PROGRAM, group->cells[0].cell, best);
  for (LabWay way = LAB_WAY_PLAIN; way < LAB_WAY_ANY; way++)
    {
      g_autofree double *rated = lab_way_rate (way, ask->answer->data, ask->answer->figures);

      add_pick (ask, way, best_of (ask, group, rated), best);
    }
  add_any (ask, group, best);
  add_pick (ask, LAB_WAY_BOUND, best_of (ask, group, ask->bound), best);
}

LabResult *
lab_ask (const LabSpec *spec,
         guint          number,
         guint          draws)
{
  LabResult *self = g_new0 (LabResult, 1);
  g_autofree LabTruth *truth = NULL;
  g_autofree double *bound = NULL;
  g_autoptr (WbCraftAnswer) answer = NULL;
  g_autoptr (WbCraftRanking) ranking = NULL;
  gint64 start;

  self->lab = lab_new (spec, number);
  self->lines = g_array_new (FALSE, FALSE, sizeof (LabLine));
  self->picks = g_array_new (FALSE, FALSE, sizeof (LabPick));
  start = g_get_monotonic_time ();
  answer = wb_craft_answer_new (lab_burn (self->lab), NULL, WB_CRAFT_WITHIN_SCENT, 0, NULL, NULL);
  if (draws > 0)
    ranking = wb_craft_ranking_new (answer->data, answer->figures, answer->limits, answer->estimates, WB_CRAFT_WITHIN_SCENT,
                                    answer->ranking->seed, draws, NULL, NULL);
  self->answer_s = (g_get_monotonic_time () - start) / 1e6;
  start = g_get_monotonic_time ();
  truth = lab_truth_new (self->lab, answer->data->aims);
  self->truth_s = (g_get_monotonic_time () - start) / 1e6;

  bound = lab_bound_rate (self->lab, answer->data->aims);

  Ask ask = { self->lab, truth, bound, answer, ranking != NULL ? ranking : answer->ranking, self };

  for (guint i = 0; i < self->lab->n_cells; i++)
    {
      self->unpoured += !self->lab->cells[i].poured;
      for (WbStage stage = 0; stage < lab_n_stages (self->lab) && self->lab->cells[i].poured; stage++)
        add_estimates (&ask, i, stage);
    }
  for (guint g = 0; g < ask.ranking->n_groups; g++)
    add_group (&ask, &ask.ranking->groups[g]);
  return self;
}

void
lab_result_free (LabResult *self)
{
  if (self == NULL)
    return;
  lab_free (self->lab);
  g_array_unref (self->lines);
  g_array_unref (self->picks);
  g_free (self);
}
