/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-verdict-private.h"
#include "wb-craft-words-private.h"

#define RISKY 0.05         /* chance of crossing a limit that is told */
#define UNLIKELY 0.2       /* chance of being right below which a wick on the ladder is told as a poor one; no source */
#define COSTLY 0.9         /* an expected desirability below which an aim is said to cost */
#define MOST_NAMED 4       /* experiments in a sentence */
#define MOST_TAUGHT 3      /* series in a sentence */

/* ---- each step ---- */

/* What costs its score most; NULL: nothing much, or the pool's time, which is told anyway. */
static const WbCraftAim *
find_fault (const WbCraftScore *score,
            guint               index)
{
  const WbCraftAim *fault = NULL;
  double most = 0;

  for (guint a = 0; a < score->aims->len; a++)
    {
      const WbCraftAim *aim = &g_array_index (score->aims, WbCraftAim, a);
      double worth = score->dropped[a] ? 1 : score->desirability[(gsize) a * score->n_cells + index];
      double cost = worth < COSTLY ? -aim->weight * log (MAX (worth, 1e-6)) : 0;

      if (cost > most)
        {
          most = cost;
          fault = aim;
        }
    }
  return fault != NULL && fault->figure != WB_FIGURE_FULL_POOL ? fault : NULL;
}

/* When it is due, and whether it comes then: in time, early or late; by the typical candle. */
static void
append_due (const WbCraftLadder *self,
            double               hours,
            GString             *text)
{
  g_autofree char *low = wb_number_format (self->due_low_h, 1, NULL), *high = wb_number_format (self->due_high_h, 1, NULL);
  const char *form = hours < self->due_low_h ? _("too early: due between %s and %s\302\240h.")
                     : hours > self->due_high_h ? _("too late: due between %s and %s\302\240h.")
                                                : _("in time: due between %s and %s\302\240h.");

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_string_append_printf (text, form, low, high);
#pragma GCC diagnostic pop
}

/* Where it does not get to the wall at the top of the fill: whether it does at the bottom. */
static void
append_never (const WbCraftLadderStep *step,
              GString                 *text)
{
  double bottom = step->at[WB_CRAFT_FILL_BOTTOM].full_pool_h.value;
  g_autofree char *hours = isfinite (bottom) ? wb_number_format (bottom, 1, NULL) : NULL;

  if (hours == NULL)
    g_string_append (text, step->tested ? _("By its own burns and its neighbours' the pool gets to the wall neither at the top of the fill nor at its bottom.")
                                        : _("The pool is foretold to get to the wall neither at the top of the fill nor at its bottom."));
  else
    /* Translators: hours */
    g_string_append_printf (text, step->tested ? _("By its own burns and its neighbours' the pool does not get to the wall at the top of the fill, but does at its bottom, after %s\302\240h.")
                                               : _("The pool is not foretold to get to the wall at the top of the fill, but is at its bottom, after %s\302\240h."), hours);
}

static void
append_pool (const WbCraftLadder     *self,
             const WbCraftLadderStep *step,
             GString                 *text)
{
  g_autofree char *hours = NULL;

  if (isnan (step->full_pool_h.value))
    {
      append_never (step, text);
      return;
    }
  hours = wb_number_format (step->full_pool_h.value, 1, NULL);
  /* Translators: hours; whether that is in time follows */
  g_string_append_printf (text, step->tested ? _("Full melt pool by its own burns and its neighbours' after %s\302\240h at the top of the fill, ")
                                             : _("Full melt pool foretold after %s\302\240h at the top of the fill, "), hours);
  append_due (self, step->full_pool_h.value, text);
}

/* What speaks against a step, whether it stands on the ladder or not. */
static void
append_against (const WbCraftLadderStep *step,
                const WbCraftAim        *fault,
                GString                 *text)
{
  g_autoptr (GPtrArray) against = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *joined = NULL;

  if (step->p_cross > RISKY && step->p_cross < 1)
    {
      g_autofree char *chance = wb_craft_dup_chance (step->p_cross);

      /* Translators: a chance, "46 in 100"; follows "Against it: " */
      g_ptr_array_add (against, g_strdup_printf (_("it may cross a limit of heat (%s)"), chance));
    }
  if (fault != NULL)
    /* Translators: a figure, "Soot"; a part of the candle's life, "lower third"; follows "Against it: " */
    g_ptr_array_add (against, g_strdup_printf (_("most of what its score lacks is %s, %s"), g_dgettext (GETTEXT_PACKAGE, wb_figure_get_label (fault->figure)),
                                               g_dgettext (GETTEXT_PACKAGE, wb_stage_get_label (fault->stage))));
  if (against->len > 0)
    {
      g_ptr_array_add (against, NULL);
      joined = g_strjoinv ("; ", (char **) against->pdata);
      g_string_append_printf (text, _(" Against it: %s."), joined);
    }
  if (step->outside != NULL)
    g_string_append_printf (text, _(" Beyond what was tried: %s."), step->outside);
}

/* What speaks for and against a step, in a maker's words. One that is on the ladder though it is hardly ever right is told as what it is. */
static char *
dup_reason (const WbCraftLadder     *self,
            const WbCraftLadderStep *step,
            const WbCraftForetell   *foretell,
            const WbCraftScore      *score,
            guint                    index)
{
  const WbCraftSeat *seat = &g_array_index (foretell->seats, WbCraftSeat, index);
  GString *text = g_string_new (NULL);
  g_autofree char *tested = wb_craft_foretell_dup_tested (foretell->school, seat);
  g_autofree char *above = wb_craft_foretell_dup_above (foretell->school, seat);
  const WbCraftAim *fault = find_fault (score, index);

  if (step->in_ladder && step->p_right < UNLIKELY)
    g_string_append (text, _("Likelier to be the best than what is left out, yet unlikely to be right. "));
  append_pool (self, step, text);
  if (tested != NULL)
    g_string_append_printf (text, " %s", tested);
  if (above != NULL)
    g_string_append_printf (text, " %s", above);
  append_against (step, fault, text);
  return g_string_free (text, FALSE);
}

/* ---- all of it ---- */

static gboolean
knows_the_end (const WbCraftSchool *school)
{
  guint known = 0;

  for (guint model = 0; model < WB_CRAFT_SCHOOL_N_MODELS; model++)
    {
      const WbCraftSchoolModel *of = &school->models[model];
      gboolean read = FALSE;

      for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
        read = read || of->read[WB_STAGE_LOWER][look];
      known += read && (of->belief->figure == WB_FIGURE_FLAME || of->belief->figure == WB_FIGURE_VESSEL);
    }
  return known == 2;
}

static char *
dup_answer (const WbCraftLadder *self)
{
  g_autofree char *names = wb_craft_ladder_dup_names (self);
  g_autofree char *chance = wb_craft_dup_chance (self->p_holds_best);
  g_autofree char *inner = wb_craft_ladder_dup_place (self);
  g_autofree char *answer = NULL;

  if (*names != '\0')
    /* Translators: vessel's diameter, with several wicks their number, names of wicks, chance. */
    answer = g_strdup_printf (_("For %s try %s: the chance that the best of all wicks known is among them is %s."), inner, names, chance);
  else if (self->question.wicks == 1 && self->question.inner_diameter_mm > WB_CRAFT_ONE_WICK_MM)
    answer = g_strdup_printf (_("For %s none of the wicks known is foretold to be right alone; a vessel so wide usually takes more than one wick (common practice)."), inner);
  else
    answer = g_strdup_printf (_("For %s none of the wicks known is foretold to be right."), inner);
  if (self->knows_the_end)
    return g_steal_pointer (&answer);
  return g_strdup_printf (_("%s No earlier candle was read near its end, so what heat there is foretold is a wide guess."), answer);
}

/* "OT-1, OT-2 and 3 more" */
static char *
dup_experiments (const WbCraftLadder *self)
{
  g_autoptr (GPtrArray) named = g_ptr_array_new ();
  g_autofree char *more = NULL;

  for (guint i = 0; i < self->experiments->len && i < MOST_NAMED; i++)
    g_ptr_array_add (named, g_ptr_array_index (self->experiments, i));
  if (self->experiments->len > MOST_NAMED)
    {
      guint rest = self->experiments->len - MOST_NAMED;

      /* Translators: how many further experiments, at the end of a list: "OT-1, OT-2 and 3 more" */
      more = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u more", "%u more", rest), rest);
      g_ptr_array_add (named, more);
    }
  return wb_craft_words_join (named);
}

/* "6 %", of a difference of logarithms: no more places than are known. */
static char *
dup_per_cent (double log_ratio)
{
  double per_cent = 100 * fabs (expm1 (log_ratio));
  g_autofree char *number = wb_number_format (per_cent, 0, NULL);

  if (per_cent < 0.5)
    return g_strdup ("< 1\302\240%");
  return g_strdup_printf ("%s\302\240%%", number);
}

/* Of a series that was tried in two sizes at least: one step's effect on the pool; NAN. */
static double
find_step_effect (const WbCraftSchool *school,
                  guint                series)
{
  WbCraftSchoolModel *growth = (WbCraftSchoolModel *) &school->models[WB_CRAFT_SCHOOL_GROWTH];
  const double *mean = wb_calc_pooled_get_mean (growth->fit);
  guint column = wb_craft_school_model_find (growth, WB_CRAFT_KIN_SLOPE, series, FALSE);
  gint64 lowest = G_MAXINT64, highest = G_MININT64;

  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      if (seat->level[WB_CRAFT_LEVEL_SERIES] != series || seat->cell->burns == 0)
        continue;
      lowest = MIN (lowest, seat->step);
      highest = MAX (highest, seat->step);
    }
  return lowest < highest && column != G_MAXUINT ? mean[WB_CRAFT_TERM_STEP] + mean[column] : NAN;
}

/* One step of each series that is on the ladder and was tried. */
static GPtrArray *
list_step_effects (const WbCraftLadder   *self,
                   const WbCraftForetell *foretell)
{
  GPtrArray *effects = g_ptr_array_new_with_free_func (g_free);
  const char *last = NULL;

  for (guint i = 0; i < self->steps->len && effects->len < MOST_TAUGHT; i++)
    {
      const WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);
      guint series = g_array_index (foretell->seats, WbCraftSeat, i).level[WB_CRAFT_LEVEL_SERIES];
      double effect = series != G_MAXUINT && step->in_ladder && g_strcmp0 (last, step->series) != 0
                        ? find_step_effect (foretell->school, series) : NAN;
      g_autofree char *per_cent = NULL;

      if (isnan (effect))
        continue;
      last = step->series;
      per_cent = dup_per_cent (effect);
      /* Translators: a series of wicks; "6 %" */
      g_ptr_array_add (effects, effect >= 0 ? g_strdup_printf (_("one step of %s adds %s to the pool"), step->series, per_cent)
                                            : g_strdup_printf (_("one step of %s takes %s from the pool"), step->series, per_cent));
    }
  return effects;
}

/* How much hotter the wall gets in the lower third, where that was read: of no wick and no wax alone. Caller frees; NULL: never read. */
static char *
dup_bottom (const WbCraftSchool *school)
{
  for (guint model = 0; model < WB_CRAFT_SCHOOL_N_MODELS; model++)
    {
      const WbCraftSchoolModel *of = &school->models[model];
      g_autofree char *per_cent = NULL;
      double effect;

      if (of->belief->figure != WB_FIGURE_VESSEL || !of->read[WB_STAGE_LOWER][WB_LESSON_LOOK_END] || of->fit == NULL)
        continue;
      effect = wb_calc_pooled_get_mean (of->fit)[WB_CRAFT_TERM_LOWER];
      per_cent = dup_per_cent (effect);
      /* Translators: "31 %" */
      return effect >= 0 ? g_strdup_printf (_("Over all wicks, waxes and vessels, the wall gets %s further above the room in the lower third than in the upper."), per_cent)
                         : g_strdup_printf (_("Over all wicks, waxes and vessels, the wall gets %s less far above the room in the lower third than in the upper."), per_cent);
    }
  return NULL;
}

static char *
dup_learnt (const WbCraftLadder   *self,
            const WbCraftForetell *foretell)
{
  g_autoptr (GPtrArray) taught = list_step_effects (self, foretell);
  g_autofree char *experiments = dup_experiments (self);
  g_autofree char *joined = NULL, *bottom = dup_bottom (foretell->school), *learnt = NULL;

  if (self->experiments->len == 0)
    return NULL;
  joined = taught->len > 0 ? wb_craft_words_join (taught) : NULL;
  /* Translators: codes of experiments; what they taught, joined with commas and "and". */
  learnt = joined != NULL ? g_strdup_printf (_("From %s: %s."), experiments, joined) : g_strdup_printf (_("This rests on %s."), experiments);
  return bottom != NULL ? g_strdup_printf ("%s %s", learnt, bottom) : g_steal_pointer (&learnt);
}

/* Those that had a burn of a wick whose place is known. */
static void
name_experiments (WbCraftLadder       *self,
                  const WbCraftSchool *school)
{
  const WbLesson *last = NULL;

  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);

      if (seat->lesson == last || seat->cell->burns == 0)
        continue;
      last = seat->lesson;
      if (last->code != NULL)
        g_ptr_array_add (self->experiments, g_strdup (last->code));
    }
}

void
wb_craft_ladder_put_words (WbCraftLadder         *self,
                           const WbCraftForetell *foretell,
                           const WbCraftScore    *score)
{
  name_experiments (self, foretell->school);
  self->knows_the_end = knows_the_end (foretell->school);
  for (guint i = 0; i < self->steps->len; i++)
    {
      WbCraftLadderStep *step = wb_craft_ladder_get_step (self, i);

      step->outside = wb_craft_foretell_dup_outside (foretell->school, &g_array_index (foretell->seats, WbCraftSeat, i));
      step->extrapolated = step->outside != NULL;
      step->reason = dup_reason (self, step, foretell, score, i);
    }
  self->answer = dup_answer (self);
  self->learnt = dup_learnt (self, foretell);
}
