/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static gboolean
has_several_series (const WbCraftLadder *ladder)
{
  for (guint i = 1; i < ladder->steps->len; i++)
    if (g_strcmp0 (wb_plot_ladder_get_step (ladder, i)->series, wb_plot_ladder_get_step (ladder, 0)->series) != 0)
      return TRUE;
  return FALSE;
}

char *
wb_plot_ladder_dup_name (const WbCraftLadder     *ladder,
                         const WbCraftLadderStep *step)
{
  return has_several_series (ladder) ? g_strdup_printf ("%s %s", step->series, step->size) : g_strdup (step->size);
}

char *
wb_plot_ladder_dup_result (const WbPlotLadder      *self,
                           const WbCraftForetoldAt *at)
{
  g_autofree char *told = NULL;

  if (isnan (at->pool_limit_mm.value))
    return g_strdup (_("not foretold"));
  if (at->pool_limit_mm.value < self->ladder->question.inner_diameter_mm)
    {
      told = wb_plot_dup_interval (&self->context, WB_FIGURE_POOL_LIMIT, at->pool_limit_mm);
      /* Translators: a diameter with its interval */
      return g_strdup_printf (_("no farther than %s"), told);
    }
  if (isnan (at->full_pool_h.value))
    return g_strdup (_("to the wall"));
  told = wb_plot_dup_interval (&self->context, WB_FIGURE_FULL_POOL, at->full_pool_h);
  /* Translators: a time with its interval */
  return g_strdup_printf (_("full after %s"), told);
}

char *
wb_plot_ladder_dup_due (const WbPlotLadder *self)
{
  double           due_h = wb_craft_ladder_due_h (self->ladder);
  g_autofree char *low = wb_plot_dup_hours (self->ladder->question.window_low * due_h);
  g_autofree char *high = wb_plot_dup_hours (self->ladder->question.window_high * due_h);

  /* Translators: two times */
  return g_strdup_printf (_("%s to %s"), low, high);
}

char *
wb_plot_ladder_dup_title (const WbPlotLadder *self)
{
  g_autoptr (GString) names = g_string_new (NULL);
  g_autofree char    *chance = NULL;

  for (guint i = 0; i < self->ladder->steps->len; i++)
    if (wb_plot_ladder_get_step (self->ladder, i)->in_ladder)
      {
        g_autofree char *name = wb_plot_ladder_dup_name (self->ladder, wb_plot_ladder_get_step (self->ladder, i));

        g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
      }
  if (names->len == 0)
    return g_strdup (self->ladder->steps->len == 0 ? _("No basis for a wick ladder") : _("No wick known is foretold to be right"));
  if (isnan (self->ladder->p_holds_best))
    /* Translators: names of wicks */
    return g_strdup_printf (_("%s are the sizes to try"), names->str);
  chance = wb_plot_dup_chance (self->ladder->p_holds_best);
  /* Translators: names of wicks; a chance */
  return g_strdup_printf (wb_plot_ladder_count (self->ladder) == 1 ? _("%s is the best wick with a chance of %s")
                                                                   : _("%s: the best wick is one of them with a chance of %s"), names->str, chance);
}

/* ", 45.0 mm after 1 h, at the wall after 2 h": up to the first hour at which it is full. */
static void
append_hours (const WbPlotLadder      *self,
              GString                 *text,
              const WbCraftForetoldAt *at)
{
  double inner = self->ladder->question.inner_diameter_mm;

  for (guint hour = 0; hour < WB_CRAFT_LADDER_HOURS; hour++)
    if (isfinite (at->pool_mm[hour].value))
      {
        g_autofree char *time = wb_quantity_format (WB_UNIT_HOUR, (hour + 1) * 3600.0, 0);
        g_autofree char *pool = wb_plot_dup_figure (&self->context, WB_FIGURE_POOL_LIMIT, at->pool_mm[hour].value);

        /* Translators: the melt pool's diameter, or "at the wall"; a time after lighting */
        g_string_append_printf (text, _(", %s after %s"), at->pool_mm[hour].value >= inner ? _("at the wall") : pool, time);
        if (at->pool_mm[hour].value >= inner)
          return;
      }
}

static void
append_place (const WbPlotLadder      *self,
              GString                 *text,
              const WbCraftLadderStep *step,
              WbCraftFillPlace         place)
{
  WbCraftForetoldAt at = wb_plot_ladder_get_foretold (step, place);
  g_autofree char  *result = wb_plot_ladder_dup_result (self, &at);

  /* Translators: what the pool does, "full after 3.1 h" */
  g_string_append_printf (text, place == WB_CRAFT_FILL_TOP ? _(" at the top %s") : _(" at the bottom %s"), result);
  if (isfinite (at.pool_limit_mm.value))
    append_hours (self, text, &at);
  g_string_append_c (text, ';');
}

static void
append_step (const WbPlotLadder      *self,
             GString                 *text,
             const WbCraftLadderStep *step)
{
  g_autofree char *name = wb_plot_ladder_dup_name (self->ladder, step);
  g_autofree char *best = wb_plot_dup_chance (step->p_best), *right = wb_plot_dup_chance (step->p_right);

  g_string_append_printf (text, " %s:", name);
  for (WbCraftFillPlace place = 0; place < WB_CRAFT_N_FILLS; place++)
    if (self->places == WB_PLOT_LADDER_BOTH || (guint) self->places == (guint) place)
      append_place (self, text, step, place);
  /* Translators: two chances */
  g_string_append_printf (text, _(" the best of all %s, right %s."), best, right);
}

char *
wb_plot_ladder_dup_description (const WbPlotLadder *self,
                                const char         *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, _("The vessel from above, to scale, with the foretold pool of each wick on the ladder; below, every series with the chance of each size."));
  for (guint i = 0; i < self->ladder->steps->len; i++)
    if (wb_plot_ladder_get_step (self->ladder, i)->in_ladder)
      append_step (self, text, wb_plot_ladder_get_step (self->ladder, i));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Does a ring stand on an hour? */
static gboolean
has_hours (const WbPlotLadder *self)
{
  for (guint i = 0; i < self->ladder->steps->len; i++)
    for (WbCraftFillPlace place = 0; place < WB_CRAFT_N_FILLS; place++)
      if (isfinite (wb_plot_ladder_get_step (self->ladder, i)->at[place].pool_mm[0].value))
        return TRUE;
  return FALSE;
}

static void
append_due (const WbPlotLadder *self,
            GString            *text)
{
  g_autofree char *due = NULL;

  if (!(self->ladder->question.inner_diameter_mm > 0))
    return;
  due = wb_plot_ladder_dup_due (self);
  /* Translators: "2.3 h to 3.8 h" */
  g_string_append_printf (text, _(" The full melt pool is due after %s."), due);
}

char *
wb_plot_ladder_dup_footnote (const WbPlotLadder *self,
                             gboolean            invented)
{
  static const char *const at[] = {
    N_("The pool at the top of the fill: its limit; shaded, nine cases in ten; dashed, at the wall."),
    N_("The pool at the bottom of the fill: its limit; shaded, nine cases in ten; dashed, at the wall."),
    N_("The pool at the top of the fill, and below at its bottom: its limit; shaded, nine cases in ten; dashed, at the wall."),
  };
  g_autoptr (GString) text = g_string_new (_(at[self->places]));

  if (has_hours (self))
    g_string_append_printf (text, " %s", self->ladder->shares_vessel ? _("Rings around one of the wicks: its pool after each hour.") : _("Rings within it: the pool after each hour."));
  append_due (self, text);
  g_string_append_printf (text, " %s", _("★ on the ladder. Foretold, not tested."));
  if (self->ladder->shares_vessel)
    g_string_append_printf (text, " %s", _("Each wick at its place, with its own pool; they are taken to share the vessel evenly (common practice); dashed, its whole share."));
  if (self->left_out > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " %u wick more is not shown.", " %u wicks more are not shown.", self->left_out), self->left_out);
  if (invented)
    g_string_append_printf (text, " %s", _("Invented data."));
  return g_string_free (g_steal_pointer (&text), FALSE);
}
