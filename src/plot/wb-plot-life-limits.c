/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-life-limits-private.h"

#include <glib/gi18n-lib.h>

#include "wb-craft-crossed.h"
#include "wb-plot-figure-private.h"

static GArray *
get_limits (const WbPlotLine *line)
{
  const WbPlotContext *context = line->context;
  const WbCraftLimits *limits = context->answer->limits;
  GArray              *all;

  if (context->options.sample >= 0)
    return wb_craft_limits_of_sample (context->data, context->answer->figures, (guint) context->options.sample);
  all = g_array_new (FALSE, TRUE, sizeof (WbCraftLimit));
  for (guint i = 0; line->cell < limits->n_cells && i < limits->n_limits; i++)
    g_array_append_vals (all, wb_craft_limits_get (limits, line->cell, i), 1);
  return all;
}

/* A crack counts whatever the limits say, and stands in no limit where that one is turned off. */
static char *
dup_crack (const WbPlotLine *line)
{
  g_autoptr (GPtrArray) all = wb_craft_crossed_new (line->context->data, line->cell);
  int                   only = line->context->options.sample;

  for (guint i = 0; i < all->len; i++)
    {
      const WbCraftCrossed *crossed = g_ptr_array_index (all, i);

      if (only < 0 || crossed->sample == (guint) only)
        /* Translators: a name; what crossed a limit, with its sample */
        return g_strdup_printf (_("%s: %s"), line->name, crossed->text);
    }
  return NULL;
}

static char *
dup_aside (const WbPlotLine   *line,
           const WbCraftLimit *limit)
{
  WbCraftLimit     crossing = wb_craft_limit_get_set_aside (limit);
  /* Translators: a wick's name; the code of its sample: "L-1 (L1-2, set aside) crosses the house limit of 50 mm" */
  g_autofree char *name = g_strdup_printf (_("%s (%s, set aside)"), line->name,
                                           wb_dataset_get_sample (line->context->data, crossing.sample)->code);

  return wb_plot_dup_crossing (line->context, &crossing, name);
}

void
wb_plot_life_limits_init (WbPlotLifeLimits *self,
                          const WbPlotLine *line)
{
  const WbCraftLimit *aside = NULL;

  *self = (WbPlotLifeLimits) { get_limits (line), WB_PLOT_CROSSED_NONE, NULL, TRUE };
  for (guint i = 0; i < self->limits->len && self->crossing == NULL; i++)
    {
      const WbCraftLimit *limit = &g_array_index (self->limits, WbCraftLimit, i);

      if (limit->state == WB_CRAFT_LIMIT_CROSSED)
        self->crossing = wb_plot_dup_crossing (line->context, limit, line->name);
      else if (limit->set_aside_only && aside == NULL)
        aside = limit;
      self->passed &= limit->state == WB_CRAFT_LIMIT_PASSED && !limit->set_aside_only;
    }
  self->crossed = self->crossing != NULL ? WB_PLOT_CROSSED : aside != NULL ? WB_PLOT_CROSSED_ASIDE : WB_PLOT_CROSSED_NONE;
  if (self->crossed == WB_PLOT_CROSSED_ASIDE)
    self->crossing = dup_aside (line, aside);
  if (self->crossing == NULL && (self->crossing = dup_crack (line)) != NULL)
    self->crossed = WB_PLOT_CROSSED;
  self->passed &= self->crossing == NULL;
}

void
wb_plot_life_limits_clear (WbPlotLifeLimits *self)
{
  g_clear_pointer (&self->limits, g_array_unref);
  g_clear_pointer (&self->crossing, g_free);
}

static const WbLimit *
get_rule (const WbPlotLine *line,
          guint             limit)
{
  return g_ptr_array_index (line->context->data->limits, limit);
}

/* The thirds in which anything was tested; what cannot happen is no test. */
static void
find_stages (const WbPlotLifeLimits *self,
             const WbPlotLine       *line,
             gboolean                tested[WB_N_STAGES])
{
  for (guint stage = 0; stage < WB_N_STAGES; stage++)
    {
      tested[stage] = FALSE;
      for (guint i = 0; i < self->limits->len; i++)
        {
          WbCraftLimitState state = g_array_index (self->limits, WbCraftLimit, i).by_stage[stage];

          tested[stage] |= (state == WB_CRAFT_LIMIT_PASSED || state == WB_CRAFT_LIMIT_CROSSED)
                           && !wb_craft_limit_cannot_happen (line->context->data, get_rule (line, i), line->cell);
        }
    }
}

/* Whether another limit that is not turned off judges the same: two stand over one flame. */
static gboolean
is_judged_by_another (const WbPlotLifeLimits *self,
                      const WbPlotLine       *line,
                      guint                   limit)
{
  const char *measure = wb_craft_limit_get_measure (get_rule (line, limit)->kind);

  for (guint i = 0; i < self->limits->len; i++)
    if (i != limit && g_array_index (self->limits, WbCraftLimit, i).state != WB_CRAFT_LIMIT_OFF
        && g_str_equal (wb_craft_limit_get_measure (get_rule (line, i)->kind), measure))
      return TRUE;
  return FALSE;
}

static gboolean
is_untested (const WbPlotLifeLimits *self,
             const WbPlotLine       *line,
             guint                   limit,
             gboolean                down,
             const gboolean          tested[WB_N_STAGES])
{
  const WbCraftLimit *item = &g_array_index (self->limits, WbCraftLimit, limit);

  if (item->state == WB_CRAFT_LIMIT_OFF)
    return !is_judged_by_another (self, line, limit);
  if (item->state != WB_CRAFT_LIMIT_NOT_TESTED)
    return FALSE;
  for (guint stage = 0; stage < WB_N_STAGES; stage++)
    if (tested[stage] && item->by_stage[stage] == WB_CRAFT_LIMIT_NOT_TESTED)
      return TRUE;
  return down;
}

void
wb_plot_life_limits_add_untested (const WbPlotLifeLimits *self,
                                  const WbPlotLine       *line,
                                  gboolean                down,
                                  GPtrArray              *names)
{
  gboolean tested[WB_N_STAGES];

  find_stages (self, line, tested);
  for (guint i = 0; i < self->limits->len; i++)
    {
      const char *name = _(wb_craft_limit_get_measure (get_rule (line, i)->kind));

      if (is_untested (self, line, i, down, tested) && !g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
        g_ptr_array_add (names, (gpointer) name);
    }
}

char *
wb_plot_life_limits_dup_names (const GPtrArray *names,
                               guint            most)
{
  g_autoptr (GString) told = g_string_new (NULL);

  for (guint i = 0; i < names->len && i < most; i++)
    g_string_append_printf (told, "%s%s", i > 0 ? ", " : "", (const char *) names->pdata[i]);
  if (names->len <= most)
    return g_string_free (g_steal_pointer (&told), FALSE);
  /* Translators: a list of limits; how many more of them */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s and %u more", "%s and %u more", names->len - most), told->str, names->len - most);
}
