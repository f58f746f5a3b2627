/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"

#include <math.h>

#include "wb-calc-random.h"
#include "wb-calc-summary.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-workers-private.h"

/* What the draws say of each step in figures: medians with the middle 90 %. */

#define TAIL 0.05

/* Sorts the values. An end that is never has none. */
static WbCraftInterval
middle_of (double *values,
           guint   n)
{
  WbCraftInterval interval;

  wb_calc_summary_sort (values, n);
  interval.value = wb_calc_summary_sorted_quantile (values, n, 0.5);
  interval.low = wb_calc_summary_sorted_quantile (values, n, TAIL);
  interval.high = wb_calc_summary_sorted_quantile (values, n, 1 - TAIL);
  interval.value = isfinite (interval.value) ? interval.value : NAN;
  interval.low = isfinite (interval.low) ? interval.low : NAN;
  interval.high = isfinite (interval.high) ? interval.high : NAN;
  return interval;
}

static guint
model_of (WbFigure figure)
{
  for (guint model = 0; model < WB_CRAFT_SCHOOL_N_MODELS; model++)
    if (wb_craft_school_get_belief (model)->figure == figure)
      return model;
  g_assert_not_reached ();
}

/* Stored unit. */
static double
value_of (const WbCraftForetell *foretell,
          WbFigure               figure,
          WbStage                stage,
          guint                  draw,
          guint                  recipe)
{
  double room = foretell->room_c[draw];
  double y = wb_craft_foretell_get (foretell, model_of (figure), stage, WB_LESSON_LOOK_END, draw, recipe, room);

  return wb_craft_scale_to (figure, y, figure == WB_FIGURE_VESSEL ? room : 0);
}

static WbCraftInterval
tell_figure (const WbCraftForetell *foretell,
             WbFigure               figure,
             WbStage                stage,
             guint                  recipe,
             double                *values)
{
  if (!foretell->figures[model_of (figure)].told)
    return WB_CRAFT_INTERVAL_NONE;
  for (guint draw = 0; draw < foretell->n_draws; draw++)
    values[draw] = value_of (foretell, figure, stage, draw, recipe);
  return middle_of (values, foretell->n_draws);
}

static void
tell_growth (const WbCraftForetell *foretell,
             WbStage                stage,
             guint                  recipe,
             double                *values,
             WbCraftForetoldAt     *at)
{
  guint never = 0;

  for (guint draw = 0; draw < foretell->n_draws; draw++)
    values[draw] = exp (wb_craft_foretell_get (foretell, WB_CRAFT_SCHOOL_GROWTH, stage, WB_LESSON_LOOK_END, draw, recipe, foretell->room_c[draw]));
  at->pool_limit_mm = middle_of (values, foretell->n_draws);
  for (guint draw = 0; draw < foretell->n_draws; draw++)
    {
      double level = exp (wb_craft_foretell_get (foretell, WB_CRAFT_SCHOOL_GROWTH, stage, WB_LESSON_LOOK_END, draw, recipe, foretell->room_c[draw]));

      values[draw] = wb_craft_growth_time (level, exp (wb_craft_foretell_get_pace (foretell, stage, draw, recipe)), foretell->exponent,
                                           foretell->question->inner_diameter_mm);
      never += isinf (values[draw]);
    }
  at->full_pool_h = middle_of (values, foretell->n_draws);
  at->p_never = (double) never / foretell->n_draws;
}

/* The pool on the hour. */
static void
tell_hours (const WbCraftForetell *foretell,
            WbStage                stage,
            guint                  recipe,
            double                *values,
            WbCraftForetoldAt     *at)
{
  for (guint hour = 0; hour < WB_CRAFT_LADDER_HOURS; hour++)
    {
      for (guint draw = 0; draw < foretell->n_draws; draw++)
        {
          double limit = wb_craft_foretell_get (foretell, WB_CRAFT_SCHOOL_GROWTH, stage, WB_LESSON_LOOK_END, draw, recipe, foretell->room_c[draw]);

          values[draw] = wb_calc_growth_bent_value (exp (limit), exp (wb_craft_foretell_get_pace (foretell, stage, draw, recipe)), foretell->exponent, hour + 1.0);
        }
      at->pool_mm[hour] = middle_of (values, foretell->n_draws);
    }
}

/* The whole fill, a third at the consumption of each. */
static WbCraftInterval
tell_burn (const WbCraftForetell *foretell,
           guint                  recipe,
           double                *values)
{
  double fill = foretell->question->fill_g;

  if (!(fill > 0) || !foretell->figures[model_of (WB_FIGURE_CONSUMPTION)].told)
    return WB_CRAFT_INTERVAL_NONE;
  for (guint draw = 0; draw < foretell->n_draws; draw++)
    {
      values[draw] = 0;
      for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
        values[draw] += fill / WB_N_STAGES / value_of (foretell, WB_FIGURE_CONSUMPTION, stage, draw, recipe);
    }
  return middle_of (values, foretell->n_draws);
}

/*
 * That the next candle's full melt pool comes within the window and it crosses no limit: counted together in the draws, for a recipe that melts
 * wider than thought is hotter as well. Within a draw what the candle itself is off is taken apart for either. `wrong`: a draw each, what is
 * left for it not to be right.
 */
static double
chance_of_right (const WbCraftLadder   *self,
                 const WbCraftForetell *foretell,
                 const WbCraftScore    *score,
                 guint                  recipe,
                 float                 *wrong)
{
  double sum = 0;

  for (guint draw = 0; draw < foretell->n_draws; draw++)
    {
      guint64 state = foretell->seed + 0x2545f4914f6cdd1du * (guint64) (recipe + 1);
      double room = foretell->room_c[draw], level, hours;
      WbCalcRandom random;

      wb_calc_random_init (&random, wb_calc_random_split (&state), draw);
      level = wb_craft_foretell_get (foretell, WB_CRAFT_SCHOOL_GROWTH, WB_STAGE_UPPER, WB_LESSON_LOOK_END, draw, recipe, room)
              + wb_craft_foretell_candle_sd (foretell, draw) * wb_calc_random_normal (&random);
      hours = wb_craft_growth_time (exp (level), exp (wb_craft_foretell_get_pace (foretell, WB_STAGE_UPPER, draw, recipe)), foretell->exponent,
                                    foretell->question->inner_diameter_mm);
      wrong[draw] = 1;
      if (hours >= self->due_low_h && hours <= self->due_high_h)
        wrong[draw] = (float) score->crossing[(gsize) draw * score->n_cells + recipe];
      sum += 1 - (double) wrong[draw];
    }
  return sum / foretell->n_draws;
}

static void
tell_step (const WbCraftLadder   *self,
           const WbCraftForetell *foretell,
           guint                  index,
           double                *values)
{
  static const WbStage stages[WB_CRAFT_N_FILLS] = { WB_STAGE_UPPER, WB_STAGE_LOWER };
  WbCraftLadderStep *step = wb_craft_ladder_get_step (self, index);

  for (WbCraftFillPlace place = 0; place < WB_CRAFT_N_FILLS; place++)
    {
      WbCraftForetoldAt *at = &step->at[place];

      tell_growth (foretell, stages[place], index, values, at);
      tell_hours (foretell, stages[place], index, values, at);
      at->flame_mm = tell_figure (foretell, WB_FIGURE_FLAME, stages[place], index, values);
      at->vessel_c = tell_figure (foretell, WB_FIGURE_VESSEL, stages[place], index, values);
      at->consumption_g_h = tell_figure (foretell, WB_FIGURE_CONSUMPTION, stages[place], index, values);
    }
  step->pool_limit_mm = step->at[WB_CRAFT_FILL_TOP].pool_limit_mm;
  step->full_pool_h = step->at[WB_CRAFT_FILL_TOP].full_pool_h;
  step->flame_mm = step->at[WB_CRAFT_FILL_TOP].flame_mm;
  step->burn_h = tell_burn (foretell, index, values);
}

typedef struct
{
  const WbCraftLadder   *ladder;
  const WbCraftForetell *foretell;
  const WbCraftScore    *score;
  const gboolean        *barred;
  float                 *wrong; /* recipes × draws */
} Job;

static void
tell_piece (WbCraftWorkers *workers,
            guint           index,
            gpointer        data)
{
  const Job *job = data;
  WbCraftLadderStep *step = wb_craft_ladder_get_step (job->ladder, index);
  g_autofree double *values = g_new (double, MAX (job->foretell->n_draws, 1));

  tell_step (job->ladder, job->foretell, index, values);
  step->tested = wb_craft_foretell_is_tested (job->foretell->school, &g_array_index (job->foretell->seats, WbCraftSeat, index));
  step->p_cross = job->barred[index] ? 1 : job->score->tested[index] ? job->score->p_cross[index] : NAN;
  step->p_right = 0;
  if (!job->barred[index])
    step->p_right = chance_of_right (job->ladder, job->foretell, job->score, index, job->wrong + (gsize) index * job->foretell->n_draws);
}

/*
 * That none of one next candle of each recipe is right. In a draw, which has all that the recipes share, their candles are off each for itself, so
 * that what is left of each is multiplied; over the draws they are not, and none is likelier than the product of the chances.
 */
static double
chance_of_none (const Job *job)
{
  guint n_draws = job->foretell->n_draws, n = job->foretell->n;
  double sum = 0;

  for (guint draw = 0; draw < n_draws; draw++)
    {
      double none = 1;

      for (guint i = 0; i < n; i++)
        if (!job->barred[i])
          none *= (double) job->wrong[(gsize) i * n_draws + draw];
      sum += none;
    }
  return n_draws > 0 ? sum / n_draws : NAN;
}

void
wb_craft_ladder_tell (WbCraftLadder         *self,
                      const WbCraftForetell *foretell,
                      const WbCraftScore    *score,
                      const gboolean        *barred)
{
  g_autofree float *wrong = g_new (float, MAX ((gsize) foretell->n * foretell->n_draws, 1));
  Job job = { self, foretell, score, barred, wrong };

  wb_craft_workers_run (self->steps->len, tell_piece, &job, NULL, NULL);
  self->p_none = chance_of_none (&job);
}
