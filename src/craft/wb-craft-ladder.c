/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>

#include "wb-calc-summary.h"
#include "wb-craft-batch.h"
#include "wb-craft-foretell-private.h"
#include "wb-craft-ladder-private.h"
#include "wb-craft-vessel-private.h"
#include "wb-craft-verdict-private.h"

#define LADDER_DRAWS 2048
#define USUAL_SIZES 3
#define WINDOW_LOW 0.75
#define WINDOW_HIGH 1.25
#define TAIL 0.05

static const WbCraftInterval nothing = { NAN, NAN, NAN };

static void
free_nearest (gpointer data)
{
  WbCraftNearest *nearest = data;

  g_free (nearest->experiment);
  g_free (nearest->what);
  g_free (nearest->differs);
  g_free (nearest->result);
  g_free (nearest);
}

static void
free_step (gpointer data)
{
  WbCraftLadderStep *step = data;

  g_free (step->series);
  g_free (step->size);
  g_free (step->reason);
  g_free (step->outside);
  g_ptr_array_unref (step->nearest);
  g_free (step);
}

WbCraftLadderStep *
wb_craft_ladder_add_step (WbCraftLadder *self,
                          const WbWick  *wick)
{
  WbCraftLadderStep *step = g_new0 (WbCraftLadderStep, 1);

  step->series = g_strdup (wick->series);
  step->size = g_strdup (wick->size);
  step->step = wick->step;
  step->wick = wick->record.id;
  step->pool_limit_mm = step->full_pool_h = step->flame_mm = step->score = step->burn_h = nothing;
  for (guint place = 0; place < WB_CRAFT_N_FILLS; place++)
    step->at[place] = (WbCraftForetoldAt) { nothing, nothing, nothing, nothing, nothing, NAN };
  step->p_right = step->p_best = step->p_near = step->p_cross = NAN;
  step->nearest = g_ptr_array_new_with_free_func (free_nearest);
  g_ptr_array_add (self->steps, step);
  return step;
}

guint
wb_craft_ladder_usual_wicks (double inner_diameter_mm)
{
  double share = inner_diameter_mm / WB_CRAFT_ONE_WICK_MM;

  return share > 1 ? (guint) ceil (share * share) : 1;
}

double
wb_craft_ladder_due_h (const WbCraftLadder *self)
{
  return self->question.inner_diameter_mm / WB_CRAFT_MM_PER_INCH;
}

char *
wb_craft_ladder_dup_names (const WbCraftLadder *self)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < self->steps->len; i++)
    {
      const WbCraftLadderStep *step = g_ptr_array_index (self->steps, i);

      if (step->in_ladder)
        g_string_append_printf (names, "%s%s %s", names->len > 0 ? ", " : "", step->series, step->size);
    }
  return g_string_free (names, FALSE);
}

static int
compare_wicks (gconstpointer a,
               gconstpointer b)
{
  const WbWick *one = *(const WbWick *const *) a, *other = *(const WbWick *const *) b;
  int by_series = g_strcmp0 (one->series, other->series);

  if (by_series != 0)
    return by_series;
  if (one->step != other->step)
    return one->step < other->step ? -1 : 1;
  return g_strcmp0 (one->size, other->size);
}

static double
load_of_wax (const WbCraftLadderQuestion *question)
{
  return question->load_basis == WB_BASIS_TOTAL ? wb_craft_load_to_wax_pct (question->load_pct) : question->load_pct;
}

/* Median and middle 90 % of a column; an end that is never has none. */
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

static double
column (const WbCraftForetold *item,
        guint                  which)
{
  return which == 0 ? item->limit_mm : which == 1 ? item->full_pool_h : item->flame_mm;
}

static void
tell_step (WbCraftLadderStep     *step,
           const WbCraftForetold *foretold,
           guint                  n,
           guint                  index)
{
  g_autofree double *values = g_new (double, LADDER_DRAWS);
  WbCraftInterval *intervals[] = { &step->pool_limit_mm, &step->full_pool_h, &step->flame_mm };

  for (guint which = 0; which < G_N_ELEMENTS (intervals); which++)
    {
      for (guint draw = 0; draw < LADDER_DRAWS; draw++)
        values[draw] = column (&foretold[(gsize) draw * n + index], which);
      *intervals[which] = middle_of (values, LADDER_DRAWS);
    }
  if (!(step->flame_mm.value > 0))
    step->flame_mm = nothing;
}

/* Why a step stands on the ladder, or not, in a maker's words. */
static char *
dup_reason (const WbCraftLadder     *self,
            const WbCraftLadderStep *step,
            double                   p_cross,
            const char              *tested,
            const char              *above,
            const char              *outside)
{
  GString *text = g_string_new (NULL);
  g_autofree char *due = wb_number_format (wb_craft_ladder_due_h (self), 1, NULL);

  if (isnan (step->full_pool_h.value))
    g_string_append (text, tested != NULL ? _("By its own burns the pool does not get to the wall.")
                                          : _("The pool is not foretold to get to the wall."));
  else
    {
      g_autofree char *hours = wb_number_format (step->full_pool_h.value, 1, NULL);

      g_string_append_printf (text, tested != NULL ? _("Full melt pool by its own burns after %s\302\240h; due after %s\302\240h.")
                                                   : _("Full melt pool foretold after %s\302\240h; due after %s\302\240h."), hours, due);
    }
  if (tested != NULL)
    g_string_append_printf (text, " %s", tested);
  if (above != NULL)
    g_string_append_printf (text, " %s", above);
  if (p_cross > 0.05 && p_cross < 1)
    {
      g_autofree char *chance = wb_craft_dup_chance (p_cross);

      g_string_append_printf (text, _(" It may cross a limit near its end: %s."), chance);
    }
  if (outside != NULL)
    g_string_append_printf (text, _(" Beyond what was tried: %s."), outside);
  return g_string_free (text, FALSE);
}

static double
mean_crossing (const WbCraftForetold *foretold,
               guint                  n,
               guint                  index)
{
  double sum = 0;

  for (guint draw = 0; draw < LADDER_DRAWS; draw++)
    sum += foretold[(gsize) draw * n + index].p_cross;
  return sum / LADDER_DRAWS;
}

static void
tell_history (WbCraftLadder         *self,
              const WbCraftForetell *foretell)
{
  g_autofree char *names = wb_craft_ladder_dup_names (self);
  g_autofree char *chance = wb_craft_dup_chance (self->p_holds_best);
  g_autofree char *inner = wb_quantity_format (WB_UNIT_MM, self->question.inner_diameter_mm, 1);
  g_autofree char *answer = NULL;

  if (*names != '\0')
    /* Translators: vessel's diameter, names of wicks, chance. */
    answer = g_strdup_printf (_("For %s try %s: the chance that one of them is right is %s."), inner, names, chance);
  else if (self->question.wicks == 1 && self->question.inner_diameter_mm > WB_CRAFT_ONE_WICK_MM)
    answer = g_strdup_printf (_("For %s none of the wicks known is foretold to be right alone; a vessel so wide usually takes more than one wick (common practice)."), inner);
  else
    answer = g_strdup_printf (_("For %s none of the wicks known is foretold to be right."), inner);
  self->knows_the_end = wb_craft_foretell_knows_the_end (foretell);
  if (self->knows_the_end)
    self->answer = g_steal_pointer (&answer);
  else
    self->answer = g_strdup_printf (_("%s No earlier candle was read near its end, so heat there is not foretold."), answer);
}

static void
name_experiments (WbCraftLadder *self,
                  const GArray  *lessons)
{
  for (guint i = 0; i < lessons->len; i++)
    {
      const WbCraftLesson *lesson = &g_array_index (lessons, WbCraftLesson, i);
      gboolean fitted = FALSE;

      for (guint c = 0; c < lesson->estimates->n_cells; c++)
        fitted = fitted || !isnan (lesson->estimates->cells[c].growth.log_limit)
                 || lesson->estimates->cells[c].growth.status == WB_CRAFT_FIT_ALL_AT_WALL;
      if (fitted && lesson->data->experiment != NULL && lesson->data->experiment->code != NULL)
        g_ptr_array_add (self->experiments, g_strdup (lesson->data->experiment->code));
    }
}

static gboolean
by_history (WbCraftLadder   *self,
            const GArray    *lessons,
            const GPtrArray *wicks,
            guint64          seed)
{
  g_autoptr (WbCraftForetell) foretell = wb_craft_foretell_new (lessons);
  g_autoptr (GArray) recipes = g_array_new (FALSE, FALSE, sizeof (WbCraftRecipe));
  g_autofree WbCraftForetold *foretold = NULL;
  gboolean any_known = FALSE;
  guint index = 0;

  if (foretell == NULL)
    return FALSE;
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);
      WbCraftRecipe recipe = {
        wick->series, wick->step, self->question.wax != NULL ? self->question.wax : "", self->question.inner_diameter_mm,
        load_of_wax (&self->question), self->question.wicks
      };

      if (wick->step == WB_INTEGER_NONE || wick->series == NULL)
        continue;
      any_known = any_known || wb_craft_foretell_knows_series (foretell, wick->series);
      g_array_append_val (recipes, recipe);
    }
  if (!any_known)
    return FALSE;
  foretold = wb_craft_foretell_draw (foretell, (const WbCraftRecipe *) recipes->data, recipes->len, LADDER_DRAWS, seed);
  self->rests_on = WB_CRAFT_RESTS_ON_HISTORY;
  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);

      if (wick->step == WB_INTEGER_NONE || wick->series == NULL)
        continue;
      tell_step (wb_craft_ladder_add_step (self, wick), foretold, recipes->len, index++);
    }
  wb_craft_ladder_pick (self, foretold, recipes->len, LADDER_DRAWS);
  for (guint i = 0; i < recipes->len; i++)
    {
      WbCraftLadderStep *step = g_ptr_array_index (self->steps, i);
      g_autofree char *outside = wb_craft_foretell_dup_outside (foretell, &g_array_index (recipes, WbCraftRecipe, i));
      g_autofree char *above = wb_craft_foretell_dup_above (foretell, &g_array_index (recipes, WbCraftRecipe, i));
      g_autofree char *tested = wb_craft_foretell_dup_tested (foretell, &g_array_index (recipes, WbCraftRecipe, i));

      step->extrapolated = outside != NULL;
      step->p_cross = mean_crossing (foretold, recipes->len, i);
      step->reason = dup_reason (self, step, step->p_cross, tested, above, outside);
    }
  name_experiments (self, lessons);
  tell_history (self, foretell);
  return TRUE;
}

static WbCraftLadder *
ladder_alloc (const WbCraftLadderQuestion *question)
{
  WbCraftLadder *self = g_new0 (WbCraftLadder, 1);

  self->question = *question;
  self->question.vessel = g_strdup (question->vessel);
  self->question.wax = g_strdup (question->wax);
  self->question.wicks = MAX (question->wicks, 1);
  self->question.sizes = question->sizes > 0 ? question->sizes : USUAL_SIZES;
  if (!(question->window_low > 0))
    self->question.window_low = WINDOW_LOW;
  if (!(question->window_high > 0))
    self->question.window_high = WINDOW_HIGH;
  self->experiments = g_ptr_array_new_with_free_func (g_free);
  self->steps = g_ptr_array_new_with_free_func (free_step);
  self->p_holds_best = self->p_run_holds_best = self->p_wider_holds_best = self->p_none = NAN;
  self->wider = G_MAXUINT;
  self->shares_vessel = self->question.wicks > 1;
  return self;
}

WbCraftLadder *
wb_craft_ladder_new (const WbCraftLadderQuestion *question,
                     const GArray                *lessons,
                     const GPtrArray             *wicks,
                     const GPtrArray             *guides,
                     const GPtrArray             *waxes,
                     guint64                      seed)
{
  WbCraftLadder *self;
  g_autoptr (GPtrArray) sorted = g_ptr_array_new ();

  g_return_val_if_fail (question != NULL && lessons != NULL && wicks != NULL && guides != NULL && waxes != NULL, NULL);

  self = ladder_alloc (question);
  for (guint i = 0; i < wicks->len; i++)
    g_ptr_array_add (sorted, g_ptr_array_index (wicks, i));
  g_ptr_array_sort (sorted, compare_wicks);
  if (!(question->inner_diameter_mm > 0))
    self->answer = g_strdup (_("No basis: the vessel's inner diameter is not known."));
  else if (!by_history (self, lessons, sorted, seed) && !wb_craft_ladder_by_supplier (self, sorted, guides, waxes))
    self->answer = g_strdup (_("No basis: no earlier experiment holds these wicks, and no supplier's recommendation was typed in."));
  return self;
}

void
wb_craft_ladder_free (WbCraftLadder *self)
{
  if (self == NULL)
    return;
  g_free (self->question.vessel);
  g_free (self->question.wax);
  g_ptr_array_unref (self->experiments);
  g_ptr_array_unref (self->steps);
  g_free (self->answer);
  g_free (self->learnt);
  g_free (self);
}
