/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-effects-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-plot-figure-private.h"
#include "wb-plot-words-private.h"

/* A difference shows where its p is below this; common practice, no source. */
#define SHOWS 0.05
/* Two lines of a title at 720 pt. */
#define MOST_TITLE 200

static guint
get_family (const WbPlotEffects *self,
            guint                index)
{
  return g_array_index (self->families, guint, index);
}

/* A line's value at a column, in the figure's unit; INFINITY for never, NAN where there is none. */
static WbCraftInterval
get_value (const WbPlotEffects *self,
           guint                line,
           guint                column)
{
  guint cell = wb_plot_effects_find_cell (self, get_family (self, line), g_array_index (self->places, guint, column));

  if (cell == G_MAXUINT)
    return WB_CRAFT_INTERVAL_NONE;
  if (wb_plot_effects_is_never (self, cell))
    return (WbCraftInterval) { INFINITY, INFINITY, INFINITY };
  return wb_plot_figure_of (self->context, cell, self->figure);
}

/* Told alike: no step up or down that anybody would read. */
static gboolean
is_told_alike (const WbPlotEffects *self,
               double               a,
               double               b)
{
  if (isinf (a) || isinf (b))
    return isinf (a) && isinf (b);

  g_autofree char *one = wb_plot_dup_figure (self->context, self->figure, a);
  g_autofree char *other = wb_plot_dup_figure (self->context, self->figure, b);

  return g_str_equal (one, other);
}

typedef struct { guint up, down, alike; } Steps;

/* Which way the steps of all lines go, within each series. */
static Steps
count_steps (const WbPlotEffects *self)
{
  Steps steps = { 0, 0, 0 };

  for (guint line = 0; line < self->families->len; line++)
    {
      double before = NAN;

      for (guint column = 0; column < self->places->len; column++)
        {
          double value = get_value (self, line, column).value;

          if (wb_plot_effects_starts_series (self, column))
            before = NAN;
          if (isnan (value))
            continue;
          if (!isnan (before) && is_told_alike (self, before, value))
            steps.alike++;
          else if (!isnan (before))
            {
              steps.up += value > before;
              steps.down += value < before;
            }
          before = value;
        }
    }
  return steps;
}

/* Smallest p of the terms that a factor is in, alone or with others; NAN: none was tested. */
static double
get_p (const WbCraftEffects *found,
       const char           *factor)
{
  double least = NAN;

  for (guint i = 0; found->refusal == NULL && found->terms != NULL && i < found->terms->len; i++)
    {
      const WbCraftTerm *term = g_ptr_array_index (found->terms, i);

      if (strstr (term->term, factor) != NULL)
        least = fmin (least, term->p);
    }
  return least;
}

static gboolean
slope_is_told (const WbCraftEffects *found)
{
  const WbCraftInterval *slope = &found->slope.interval;

  return isfinite (slope->value) && (slope->low > 0.0 || slope->high < 0.0);
}

/* The ends of all lines, where they start and end alike; FALSE where they do not, or where one never gets there. */
static gboolean
find_ends (const WbPlotEffects *self,
           double              *start,
           double              *end)
{
  *start = *end = NAN;
  for (guint line = 0; line < self->families->len; line++)
    {
      double first = NAN, last = NAN;

      for (guint column = 0; column < self->places->len; column++)
        {
          double value = get_value (self, line, column).value;

          first = isnan (first) ? value : first;
          last = isnan (value) ? last : value;
        }
      if (!isfinite (first) || !isfinite (last)
          || (!isnan (*start) && !(is_told_alike (self, *start, first) && is_told_alike (self, *end, last))))
        return FALSE;
      *start = first;
      *end = last;
    }
  return isfinite (*start);
}

/* Some steps do nothing that can be read: from which value to which they go in all. */
static char *
dup_uneven (const WbPlotEffects *self,
            gboolean             up)
{
  const char *label = _(wb_figure_get_label (self->figure));
  double      start, end;

  if (!find_ends (self, &start, &end) || (up ? end <= start : end >= start))
    return g_strdup_printf (up ? _("%s does not rise with every step up, but never falls") : _("%s does not fall with every step up, but never rises"), label);

  g_autofree char *from = wb_plot_dup_figure (self->context, self->figure, start);
  g_autofree char *to = wb_plot_dup_figure (self->context, self->figure, end);

  /* Translators: a figure, "Flame height"; the value where it starts; the value where it ends */
  return g_strdup_printf (up ? _("%s never falls with a step up, and rises from %s to %s") : _("%s never rises with a step up, and falls from %s to %s"),
                          label, from, to);
}

/* "Time to full melt pool falls with every step up, by about 1.1 h a step". */
static char *
dup_steps (const WbPlotEffects  *self,
           const WbCraftEffects *found,
           const Steps          *steps)
{
  const char      *label = _(wb_figure_get_label (self->figure));
  g_autofree char *direction = NULL;

  if (steps->up + steps->down == 0 || !(get_p (found, "wick") < SHOWS || slope_is_told (found)))
    /* Translators: a figure, "Flame height" */
    return g_strdup_printf (_("%s: no clear difference between the wicks"), label);
  if (steps->up > 0 && steps->down > 0)
    return g_strdup_printf (_("%s differs by wick, but does not follow its size"), label);
  if (steps->alike > 0)
    return dup_uneven (self, steps->up > 0);
  direction = g_strdup_printf (steps->up > 0 ? _("%s rises with every step up") : _("%s falls with every step up"), label);
  if (!slope_is_told (found))
    return g_steal_pointer (&direction);

  g_autofree char *step = wb_plot_dup_figure (self->context, self->figure, fabs (found->slope.interval.value));

  /* Translators: "Flame height rises with every step up"; a difference */
  return g_strdup_printf (_("%s, by about %s a step"), direction, step);
}

/* At which column, as a fraction, a line has that value; NAN: nowhere. */
static double
find_column (const WbPlotEffects *self,
             guint                line,
             double               value)
{
  for (guint column = 1; column < self->places->len; column++)
    {
      double a = get_value (self, line, column - 1).value, b = get_value (self, line, column).value;

      if (isfinite (a) && isfinite (b) && a != b && value >= fmin (a, b) && value <= fmax (a, b)
          && !wb_plot_effects_starts_series (self, column))
        return column - 1 + (value - a) / (b - a);
    }
  return NAN;
}

static const WbVessel *
get_vessel (const WbPlotEffects *self,
            guint                line,
            guint               *cell)
{
  for (*cell = 0; *cell < self->context->n_cells; (*cell)++)
    if (self->context->family[*cell] == get_family (self, line))
      return wb_dataset_get_vessel (self->context->data, *cell);
  return NULL;
}

static gboolean
has_same_scent (const WbPlotEffects *self,
                guint                a,
                guint                b)
{
  guint            one, other;
  g_autofree char *first = NULL, *second = NULL;

  get_vessel (self, a, &one);
  get_vessel (self, b, &other);
  first = wb_dataset_dup_scent_name (self->context->data, one);
  second = wb_dataset_dup_scent_name (self->context->data, other);
  return g_str_equal (first, second);
}

/* What the widest vessel takes for the same, against the narrowest. */
static char *
dup_vessels (const WbPlotEffects  *self,
             const WbCraftEffects *found)
{
  const WbVessel *narrow, *wide;
  double          steps = 0.0;
  guint           cell, n = 0;

  narrow = get_vessel (self, 0, &cell);
  wide = get_vessel (self, self->families->len - 1, &cell);
  if (narrow == wide || !(get_p (found, "vessel") < SHOWS))
    return NULL;
  for (guint a = 0; a < self->families->len; a++)
    for (guint b = 0; b < self->families->len; b++)
      for (guint column = 0; column < self->places->len; column++)
        {
          double value = get_value (self, b, column).value, at;

          if (get_vessel (self, a, &cell) != narrow || get_vessel (self, b, &cell) != wide || !has_same_scent (self, a, b) || !isfinite (value)
              || isnan (at = find_column (self, a, value)))
            continue;
          steps += column - at;
          n++;
        }
  if (n == 0)
    return NULL;

  g_autofree char *small = wb_material_dup_title (narrow), *large = wb_material_dup_title (wide);
  guint            whole = (guint) round (fabs (steps / n));

  if (whole == 0)
    /* Translators: two vessels */
    return g_strdup_printf (_("%s and %s take about the same wick"), small, large);
  if (steps < 0.0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s takes about %u step less than %s for the same", "%s takes about %u steps less than %s for the same", whole),
                            large, whole, small);
  /* Translators: a vessel; steps of a wick; another vessel */
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s takes about %u step more than %s for the same", "%s takes about %u steps more than %s for the same", whole),
                          large, whole, small);
}

/* Which of two lines lies clearly above at a column: their intervals do not overlap. 0: neither. */
static int
get_side (const WbPlotEffects *self,
          guint                a,
          guint                b,
          guint                column)
{
  WbCraftInterval one = get_value (self, a, column), other = get_value (self, b, column);

  return one.low > other.high ? 1 : other.low > one.high ? -1 : 0;
}

static gboolean
lines_cross (const WbPlotEffects *self)
{
  for (guint a = 0; a < self->families->len; a++)
    for (guint b = 0; b < a; b++)
      {
        gboolean above = FALSE, below = FALSE;

        for (guint column = 0; column < self->places->len; column++)
          {
            above |= get_side (self, a, b, column) > 0;
            below |= get_side (self, a, b, column) < 0;
          }
        if (above && below)
          return TRUE;
      }
  return FALSE;
}

/* Whether the lines run alike. */
static const char *
get_course (const WbPlotEffects  *self,
            const WbCraftEffects *found)
{
  double p = get_p (found, ":");

  if (self->families->len < 2)
    return NULL;
  if (lines_cross (self))
    return _("the lines cross: which lies higher turns with the wick");
  if (isnan (p))
    return NULL;
  return p < SHOWS ? _("a step does not do as much in each") : _("no clear difference in what a step does");
}

static const char *
get_scents (const WbPlotEffects  *self,
            const WbCraftEffects *found)
{
  double p = get_p (found, "scent");

  return isnan (p) || p < SHOWS ? NULL : _("the scent makes no clear difference");
}

/* Where nothing was tested: from the smallest to the largest wick of the first line that has both. */
static char *
dup_span (const WbPlotEffects *self)
{
  const WbPlotContext *context = self->context;

  for (guint i = 0; i < self->families->len; i++)
    {
      guint first = G_MAXUINT, last = G_MAXUINT;

      for (guint k = 0; k < self->places->len; k++)
        {
          guint cell = wb_plot_effects_find_cell (self, get_family (self, i), g_array_index (self->places, guint, k));

          if (cell == G_MAXUINT || isnan (wb_plot_figure_of (context, cell, self->figure).value))
            continue;
          first = first == G_MAXUINT ? cell : first;
          last = cell;
        }
      if (first == G_MAXUINT || first == last)
        continue;

      g_autofree char *from = wb_plot_dup_wick_name (context, first);
      g_autofree char *to = wb_plot_dup_wick_name (context, last);
      g_autofree char *start = wb_plot_dup_figure (context, self->figure, wb_plot_figure_of (context, first, self->figure).value);
      g_autofree char *end = wb_plot_dup_figure (context, self->figure, wb_plot_figure_of (context, last, self->figure).value);
      g_autofree char *where = wb_plot_dup_family_name (context, get_family (self, i), TRUE);
      /* Translators: figure; value; wick; value; wick */
      g_autofree char *span = g_strdup_printf (_("%s goes from %s with %s to %s with %s"), _(wb_figure_get_label (self->figure)),
                                               start, from, end, to);

      return *where == '\0' || self->families->len < 2 ? g_steal_pointer (&span) : g_strdup_printf (_("%s: %s"), where, span);
    }
  return g_strdup_printf (_("%s is not known for two wicks yet"), _(wb_figure_get_label (self->figure)));
}

static void
append (GString    *title,
        const char *clause)
{
  if (clause != NULL && g_utf8_strlen (title->str, -1) + g_utf8_strlen (clause, -1) + 2 <= MOST_TITLE)
    g_string_append_printf (title, "; %s", clause);
}

char *
wb_plot_effects_dup_title (const WbPlotEffects  *self,
                           const WbCraftEffects *found)
{
  Steps               steps;
  g_autoptr (GString) title = NULL;
  g_autofree char    *first = NULL, *vessels = NULL;

  if (self->families->len == 0)
    return g_strdup (_("No combination to show"));
  if (found->refusal != NULL || found->terms == NULL || found->terms->len == 0)
    return dup_span (self);
  steps = count_steps (self);
  first = dup_steps (self, found, &steps);
  title = g_string_new (first);
  if (steps.up == 0 || steps.down == 0)
    vessels = dup_vessels (self, found);
  append (title, vessels);
  if (steps.up + steps.down > 0 && get_p (found, "wick") < SHOWS)
    append (title, get_course (self, found));
  append (title, get_scents (self, found));
  return g_string_free (g_steal_pointer (&title), FALSE);
}
