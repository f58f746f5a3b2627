/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-model-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-calc-random.h"
#include "wb-craft-foretell-private.h"
#include "wb-craft-growth-private.h"

/*
 * A recipe that was itself burnt: its own readings outweigh what the others foretell. Of several cells of it, of one
 * experiment or more, the draws take turns; a limit that any of them crossed stands in every draw.
 */

#define SAME_LOAD_PCT 0.05
#define NEXT_TO_NOTHING 0.05  /* a score as near to nothing as others are called near the best */
#define SCORE_DRAWS 2048
#define SCORE_SEED 1

gboolean
wb_craft_foretell_is_of (const WbCraftCase   *item,
                         const WbCraftRecipe *recipe)
{
  const WbCraftRecipe *tried = &item->recipe;

  return g_str_equal (tried->series, recipe->series) && tried->step == recipe->step && tried->wicks == recipe->wicks
         && g_str_equal (tried->wax, recipe->wax) && fabs (tried->inner_mm - recipe->inner_mm) <= WB_CRAFT_FORETELL_SAME_INNER_MM
         && fabs (tried->load_pct - recipe->load_pct) <= SAME_LOAD_PCT;
}

static const WbCraftLimit *
find_crossed (const WbCraftCase *item)
{
  const WbCraftLimits *limits = item->lesson->limits;

  for (guint i = 0; limits != NULL && i < limits->n_limits; i++)
    if (wb_craft_limits_get (limits, item->cell, i)->state == WB_CRAFT_LIMIT_CROSSED)
      return wb_craft_limits_get (limits, item->cell, i);
  return NULL;
}

/* Draws of an earlier experiment, in which its cells borrow from each other as in its own ranking. */
static const WbCraftDraws *
get_draws (const WbCraftForetell *self,
           const WbCraftLesson   *lesson)
{
  WbCraftDraws *draws = g_hash_table_lookup (self->draws, lesson);

  if (draws == NULL)
    {
      g_autoptr (WbCraftFigures) figures = wb_craft_figures_new (lesson->data);

      draws = wb_craft_draws_new (lesson->data, figures, lesson->estimates, SCORE_SEED, SCORE_DRAWS, NULL, NULL);
      g_hash_table_insert (self->draws, (gpointer) lesson, draws);
    }
  return draws;
}

/* The score of a tested cell alone, in the same number of draws as the ladder has. */
static const WbCraftScore *
get_score (const WbCraftForetell *self,
           const WbCraftCase     *item)
{
  WbCraftScore *score = g_hash_table_lookup (self->scores, item);

  if (score == NULL)
    {
      score = wb_craft_score_new (item->lesson->data, get_draws (self, item->lesson), &item->cell, 1, SCORE_SEED,
                                  NULL, NULL);
      g_hash_table_insert (self->scores, (gpointer) item, score);
    }
  return score;
}

static gboolean
fails_in (const WbCraftScore *score,
          guint               draw)
{
  return score->asks && score->recipe[draw % score->n_draws] < NEXT_TO_NOTHING;
}

/* What costs a cell that mostly scores next to nothing most; NULL: it does not. The pool's time is told anyway. */
static const WbCraftAim *
find_fault (const WbCraftScore *score)
{
  const WbCraftAim *fault = NULL;
  double most = 0;
  guint fails = 0;

  for (guint draw = 0; draw < score->n_draws; draw++)
    fails += fails_in (score, draw);
  for (guint a = 0; a < score->aims->len && 2 * fails > score->n_draws; a++)
    {
      const WbCraftAim *aim = &g_array_index (score->aims, WbCraftAim, a);
      double cost = score->dropped[a] ? 0 : -aim->weight * log (score->desirability[a]);

      if (cost > most)
        {
          most = cost;
          fault = aim;
        }
    }
  return fault != NULL && fault->figure != WB_FIGURE_FULL_POOL ? fault : NULL;
}

static void
append_fault (const WbCraftForetell *self,
              const WbCraftCase     *item,
              GString               *text)
{
  const WbCraftAim *fault = find_fault (get_score (self, item));

  if (fault != NULL)
    /* Translators: a figure, "Soot"; a part of the candle's life, "lower third" */
    g_string_append_printf (text, _(" It scored next to nothing there, most for: %s, %s."),
                            g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (fault->figure)),
                            g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (fault->stage)));
}

char *
wb_craft_foretell_dup_tested (const WbCraftForetell *self,
                              const WbCraftRecipe   *recipe)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < self->cases->len; i++)
    {
      const WbCraftCase *item = &g_array_index (self->cases, WbCraftCase, i);
      const WbExperiment *experiment = item->lesson->data->experiment;
      const char *code = experiment != NULL && experiment->code != NULL ? experiment->code : "-";
      g_autofree char *scent = NULL;
      g_autofree char *crossed = NULL;

      if (!wb_craft_foretell_is_of (item, recipe))
        continue;
      scent = wb_dataset_dup_scent_name (item->lesson->data, item->cell);
      if (text->len > 0)
        g_string_append_c (text, ' ');
      if (find_crossed (item) == NULL)
        {
          /* Translators: an experiment's code; a scent, or "no fragrance" */
          g_string_append_printf (text, _("Burnt in %s (%s)."), code, scent);
          append_fault (self, item, text);
          continue;
        }
      crossed = wb_craft_limit_dup_text (item->lesson->data, find_crossed (item));
      g_string_append_printf (text, _("Burnt in %s (%s), where a limit was crossed: %s."), code, scent, crossed);
    }
  return g_string_free (text, text->len == 0);
}

/* Draws of one tested cell, and what they need that does not change from draw to draw. */
typedef struct
{
  const WbCraftForetell *self;
  const WbCraftCase     *item;
  const WbCraftCell     *cell;
  const WbCraftScore    *score;
  WbCalcRidgePrediction  limit;      /* by all cells together */
  double                 below;      /* chance of that under the least limit */
  double                 chi[WB_CRAFT_FORETELL_N_CHI]; /* of the curve's degrees of freedom */
} Tested;

static void
tested_init (Tested                *tested,
             const WbCraftForetell *self,
             const WbCraftCase     *item,
             const double          *row)
{
  double df;

  *tested = (Tested) { .self = self, .item = item, .cell = &item->lesson->estimates->cells[item->cell],
                       .score = get_score (self, item) };
  wb_calc_ridge_predict (&self->fit[WB_CRAFT_ANSWER_LIMIT], row, &tested->limit);
  if (!isnan (item->log_least))
    tested->below = wb_calc_ridge_prediction_below (&tested->limit, item->log_least);
  df = tested->cell->growth.df;
  for (guint i = 0; i < WB_CRAFT_FORETELL_N_CHI; i++)
    tested->chi[i] = df > 0 && isfinite (df) ? sqrt (df / wb_calc_chisq_quantile ((i + 0.5) / WB_CRAFT_FORETELL_N_CHI, df)) : 1;
}

/* The pool: its own curve; at the wall whenever read, what all cells foretell above the least that it can be. */
static void
draw_pool (const Tested    *tested,
           WbCalcRandom    *random,
           WbCraftForetold *item)
{
  double z1 = wb_calc_random_normal (random), z2 = wb_calc_random_normal (random), u = wb_calc_random_uniform (random);
  double chi = tested->chi[wb_calc_random_below (random, WB_CRAFT_FORETELL_N_CHI)];
  const WbCraftGrowth *growth = &tested->cell->growth;
  double level, tau;

  if (!isnan (tested->item->log_least))
    {
      double p = tested->below + u * (1 - tested->below);

      level = tested->item->log_least;
      if (p > 0 && p < 1)
        level = MAX (level, tested->limit.mean + tested->limit.scale_new * wb_calc_student_quantile (p, tested->limit.df));
      tau = exp (tested->self->log_tau + tested->self->tau_sd * z2);
      item->limit_mm = exp (level);
      item->full_pool_h = MIN (wb_craft_growth_time (item->limit_mm, tau, 1, tested->item->recipe.inner_mm), growth->at_wall_h);
    }
  else if (!isnan (tested->item->log_tau) && wb_craft_growth_draw (growth, z1, z2, chi, &level, &tau))
    {
      item->limit_mm = level;
      item->full_pool_h = wb_craft_growth_time (level, tau, growth->exponent > 0 ? growth->exponent : 1, tested->item->recipe.inner_mm);
    }
}

/* One of its own means on its scale, drawn; NAN where it was not read. */
static double
draw_mean (const WbCraftEstimate *estimate,
           WbCalcRandom          *random)
{
  double z = wb_calc_random_normal (random);

  return isnan (estimate->mean) ? NAN : estimate->mean + (isnan (estimate->se) ? 0 : estimate->se) * z;
}

/* Chance that a candle crosses a stop near its end, by its own worst burns; 0 where they were not read. */
static double
chance_over_own (const WbCraftEstimate *estimate,
                 double                 stop,
                 double                 candle_sd,
                 WbCalcRandom          *random)
{
  double level = draw_mean (estimate, random);

  if (isnan (level))
    return 0;
  return candle_sd > 0 ? 1 - wb_calc_normal_below ((log (stop) - level) / candle_sd) : level > log (stop);
}

static void
draw_tested (const Tested    *tested,
             WbCalcRandom    *random,
             WbCraftForetold *item)
{
  const WbCraftForetell *self = tested->self;
  const WbCraftEstimate *worst = tested->cell->stage_worst[WB_STAGE_LOWER];
  double flame = draw_mean (&tested->cell->figure[WB_FIGURE_FLAME], random);
  double over_flame = chance_over_own (&worst[WB_FIGURE_FLAME], self->flame_stop,
                                       self->candle_sd[WB_CRAFT_ANSWER_WORST_FLAME], random);
  double over_rise = chance_over_own (&worst[WB_FIGURE_VESSEL], self->vessel_stop - WB_CRAFT_FORETELL_ROOM_C,
                                      self->candle_sd[WB_CRAFT_ANSWER_WORST_RISE], random);

  draw_pool (tested, random, item);
  if (!isnan (flame))
    item->flame_mm = exp (flame);
  /* what near the end was not read of it is left to what the others foretell */
  if (!isnan (worst[WB_FIGURE_FLAME].mean) && !isnan (worst[WB_FIGURE_VESSEL].mean))
    item->p_cross = 1 - (1 - over_flame) * (1 - over_rise);
  else
    item->p_cross = MAX (item->p_cross, 1 - (1 - over_flame) * (1 - over_rise));
}

void
wb_craft_foretell_put_tested (const WbCraftForetell *self,
                              const WbCraftRecipe   *recipe,
                              const double          *row,
                              guint                  index,
                              guint                  n,
                              guint                  draws,
                              guint64                seed,
                              WbCraftForetold       *foretold)
{
  g_autoptr (GArray) tested = g_array_new (FALSE, FALSE, sizeof (Tested));
  guint64 state = seed + 0x5bd1e995u * (guint64) (index + 1);
  guint64 own = wb_calc_random_split (&state);
  WbCalcRandom random;
  gboolean crossed = FALSE;

  for (guint i = 0; i < self->cases->len; i++)
    {
      const WbCraftCase *item = &g_array_index (self->cases, WbCraftCase, i);
      Tested one;

      if (!wb_craft_foretell_is_of (item, recipe))
        continue;
      crossed |= item->crossed;
      tested_init (&one, self, item, row);
      g_array_append_val (tested, one);
    }
  for (guint draw = 0; draw < draws && tested->len > 0; draw++)
    {
      WbCraftForetold *into;

      if (draw % WB_CALC_RANDOM_BLOCK == 0)
        wb_calc_random_init (&random, own, draw / WB_CALC_RANDOM_BLOCK);
      /* where several experiments burnt it, their draws take turns */
      into = &foretold[(gsize) draw * n + index];
      draw_tested (&g_array_index (tested, Tested, draw % tested->len), &random, into);
      into->fails = fails_in (g_array_index (tested, Tested, draw % tested->len).score, draw);
      /* a limit judges the worst sample: a calm one of another experiment does not average it away */
      if (crossed)
        into->p_cross = 1;
    }
}
