/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-effects.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "wb-plot-figure-private.h"
#include "wb-plot-outcome-private.h"
#include "wb-plot-words-private.h"

#define MOST_LINES 8
#define MOST_WICKS 40
#define MOST_SENTENCES 2
#define MOST_TITLE 200
/* Neighbours stand this far apart along the category of their wick, so that intervals do not lie on each other. */
#define APART 0.09

typedef struct
{
  const WbPlotContext *context;
  WbFigure             figure;
  GArray              *families; /* guint: a line each */
  GArray              *places;   /* guint: a wick each, across */
  double               never;    /* where combinations that never get there stand, on the axis; NaN: there is none */
} Effects;

static gboolean
is_never (const WbPlotContext *context,
          guint                cell)
{
  return wb_plot_outcome_of (context, cell).state == WB_PLOT_POOL_SHORT;
}

/* Above everything that is known, and not before the burn's end. */
static double
find_never (const Effects *effects)
{
  const WbPlotContext *context = effects->context;
  double               highest = wb_plot_outcome_get_burn_h (context);
  gboolean             any = FALSE;

  for (guint cell = 0; effects->figure == WB_FIGURE_FULL_POOL && cell < context->n_cells; cell++)
    if (wb_plot_context_shows (context, cell))
      {
        WbCraftInterval value = wb_plot_figure_of (context, cell, WB_FIGURE_FULL_POOL);

        any |= is_never (context, cell);
        highest = fmax (highest, fmax (value.value, isnan (value.value) ? NAN : value.high));
      }
  return any ? wb_plot_to_axis (WB_FIGURE_FULL_POOL, highest * 1.06) : NAN;
}

static Effects
effects_new (const WbPlotContext *context,
             WbFigure             figure)
{
  Effects effects = { context, figure, wb_plot_context_pick_families (context, MOST_LINES), g_array_new (FALSE, FALSE, sizeof (guint)), NAN };

  wb_plot_cells_sort (effects.families);
  for (guint cell = 0; cell < context->n_cells; cell++)
    {
      guint place = wb_plot_get_wick_place (context->data, cell, NULL), at = 0;

      if (!wb_plot_context_shows (context, cell))
        continue;
      while (at < effects.places->len && g_array_index (effects.places, guint, at) < place)
        at++;
      if (at == effects.places->len || g_array_index (effects.places, guint, at) != place)
        g_array_insert_val (effects.places, at, place);
    }
  if (effects.places->len > MOST_WICKS)
    g_array_set_size (effects.places, MOST_WICKS);
  effects.never = find_never (&effects);
  return effects;
}

static void
effects_clear (Effects *effects)
{
  g_array_unref (effects->families);
  g_array_unref (effects->places);
}

static guint
find_cell (const Effects *effects,
           guint          family,
           guint          place)
{
  const WbPlotContext *context = effects->context;

  for (guint cell = 0; cell < context->n_cells; cell++)
    if (context->family[cell] == family && wb_plot_context_shows (context, cell)
        && wb_plot_get_wick_place (context->data, cell, NULL) == place)
      return cell;
  return G_MAXUINT;
}

static gboolean
starts_series (const Effects *effects,
               guint          at)
{
  const WbDataset *data = effects->context->data;
  guint            cells[2] = { 0, 0 };

  if (at == 0)
    return FALSE;
  for (guint i = 0; i < 2; i++)
    while (wb_plot_get_wick_place (data, cells[i], NULL) != g_array_index (effects->places, guint, at - i))
      cells[i]++;
  return g_strcmp0 (wb_dataset_get_wick (data, cells[0])->series, wb_dataset_get_wick (data, cells[1])->series) != 0;
}

/* A line breaks where another series of wicks begins: their steps are no scale. */
static void
add_line (const Effects *effects,
          WbChartPanel  *panel,
          guint          index)
{
  const WbPlotContext  *context = effects->context;
  guint                 family = g_array_index (effects->families, guint, index), n_places = effects->places->len;
  g_autofree char      *brief = wb_plot_dup_family_name (context, family, TRUE);
  g_autofree char      *name = *brief != '\0' ? g_strdup (brief) : wb_plot_dup_family_name (context, family, FALSE);
  g_autoptr (GArray)    line_x = g_array_new (FALSE, FALSE, sizeof (double)), line_y = g_array_new (FALSE, FALSE, sizeof (double));
  g_autofree double    *x = g_new (double, n_places), *y = g_new (double, n_places);
  g_autofree double    *low = g_new (double, n_places), *high = g_new (double, n_places);
  g_autofree guint8    *marks = g_new (guint8, n_places);
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);
  double                shift = (index - (effects->families->len - 1) / 2.0) * fmin (APART, 0.6 / effects->families->len);
  double                gap = NAN;

  for (guint i = 0; i < n_places; i++)
    {
      guint           cell = find_cell (effects, family, g_array_index (effects->places, guint, i));
      WbCraftInterval value = cell == G_MAXUINT ? WB_CRAFT_INTERVAL_NONE : wb_plot_figure_of (context, cell, effects->figure);
      guint           samples = 0, burns = 0;

      x[i] = i + shift;
      gboolean never = effects->figure == WB_FIGURE_FULL_POOL && cell != G_MAXUINT && is_never (context, cell);
      marks[i] = never ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
      y[i] = wb_plot_to_axis (effects->figure, value.value);
      if (never)
        y[i] = effects->never;
      low[i] = isnan (value.value) ? NAN : wb_plot_to_axis (effects->figure, value.low);
      high[i] = isnan (value.value) ? NAN : wb_plot_to_axis (effects->figure, value.high);
      if (starts_series (effects, i))
        {
          g_array_append_val (line_x, gap);
          g_array_append_val (line_y, gap);
        }
      g_array_append_val (line_x, x[i]);
      g_array_append_val (line_y, *(isnan (value.value) ? &gap : &y[i]));
      if (cell != G_MAXUINT)
        wb_plot_figure_get_n (context, cell, effects->figure, &samples, &burns);
      g_ptr_array_add (notes, cell == G_MAXUINT ? g_strdup ("") : wb_plot_dup_counts (samples, burns, G_MAXUINT));
    }
  wb_chart_layer_add_line (panel, name, (int) index, WB_CHART_LINE_JOINED, line_x->len, (const double *) line_x->data, (const double *) line_y->data);

  WbChartLayer *layer = wb_chart_layer_add_points (panel, name, (int) index, n_places, x, y, WB_CHART_Y, low, high);
  wb_chart_layer_set_marks (layer, n_places, marks);
  wb_chart_layer_set_notes (layer, n_places, (const char *const *) notes->pdata);
}

static void
set_axes (const Effects *effects,
          WbChartPanel  *panel)
{
  const WbDataset      *data = effects->context->data;
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < effects->places->len; i++)
    {
      guint cell = 0;

      while (wb_plot_get_wick_place (data, cell, NULL) != g_array_index (effects->places, guint, i))
        cell++;
      g_ptr_array_add (names, wb_plot_dup_wick_name (effects->context, cell));
    }
  g_ptr_array_add (names, NULL);
  wb_chart_axis_set_categories (wb_chart_panel_get_x (panel), (const char *const *) names->pdata);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), _("Wick, smallest first"));
  wb_plot_axis_set_figure (effects->context, wb_chart_panel_get_y (panel), effects->figure);
  if (effects->figure == WB_FIGURE_SCORE)
    wb_chart_axis_set_range (wb_chart_panel_get_y (panel), 0.0, 1.0);
}

/* Where there are no terms: from the smallest to the largest wick of the first line that has both. */
static char *
dup_span (const Effects *effects)
{
  const WbPlotContext *context = effects->context;

  for (guint i = 0; i < effects->families->len; i++)
    {
      guint first = G_MAXUINT, last = G_MAXUINT;

      for (guint k = 0; k < effects->places->len; k++)
        {
          guint cell = find_cell (effects, g_array_index (effects->families, guint, i), g_array_index (effects->places, guint, k));

          if (cell == G_MAXUINT || isnan (wb_plot_figure_of (context, cell, effects->figure).value))
            continue;
          first = first == G_MAXUINT ? cell : first;
          last = cell;
        }
      if (first == G_MAXUINT || first == last)
        continue;

      g_autofree char *from = wb_plot_dup_wick_name (context, first);
      g_autofree char *to = wb_plot_dup_wick_name (context, last);
      g_autofree char *start = wb_plot_dup_figure (context, effects->figure, wb_plot_figure_of (context, first, effects->figure).value);
      g_autofree char *end = wb_plot_dup_figure (context, effects->figure, wb_plot_figure_of (context, last, effects->figure).value);

      g_autofree char *where = wb_plot_dup_family_name (context, g_array_index (effects->families, guint, i), TRUE);
      /* Translators: figure; value; wick; value; wick */
      g_autofree char *span = g_strdup_printf (_("%s goes from %s with %s to %s with %s"), _(wb_figure_get_label (effects->figure)),
                                               start, from, end, to);

      return *where == '\0' || effects->families->len < 2 ? g_steal_pointer (&span) : g_strdup_printf (_("%s: %s"), where, span);
    }
  return NULL;
}

/* The finding's first sentences, as many as a title can hold; the description has them all. */
static char *
dup_first_sentences (const char *finding)
{
  g_auto (GStrv)      sentences = g_strsplit (finding, ". ", -1);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; sentences[i] != NULL && i < MOST_SENTENCES; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ". " : "", sentences[i]);

  g_autofree char *clipped = wb_plot_dup_clipped (text->str, MOST_TITLE);

  /* A title has no full stop. */
  if (g_str_has_suffix (clipped, "."))
    clipped[strlen (clipped) - 1] = '\0';
  return g_steal_pointer (&clipped);
}

static char *
dup_title (const Effects        *effects,
           const WbCraftEffects *found)
{
  if (effects->families->len == 0)
    return g_strdup (_("No combination to show"));

  g_autofree char *span = dup_span (effects);

  if (found->refusal == NULL && found->finding != NULL && *found->finding != '\0')
    {
      g_autofree char *finding = dup_first_sentences (found->finding);

      /* Translators: a figure; what its comparison found */
      return g_strdup_printf (_("%s: %s"), _(wb_figure_get_label (effects->figure)), finding);
    }
  if (span != NULL)
    return g_steal_pointer (&span);
  return g_strdup_printf (_("%s is not known for two wicks yet"), _(wb_figure_get_label (effects->figure)));
}

static char *
dup_description (const Effects        *effects,
                 const WbCraftEffects *found,
                 const char           *title)
{
  const WbPlotContext *context = effects->context;
  g_autoptr (GString)  text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, /* xgettext:no-c-format */ _("Estimates by wick, smallest first, with 90 % intervals; a line for each vessel and scent."));
  if (found->refusal != NULL)
    g_string_append_printf (text, " %s", found->refusal);
  else if (found->finding != NULL)
    g_string_append_printf (text, " %s", found->finding);
  if (found->needed.text != NULL)
    g_string_append_printf (text, " %s", found->needed.text);
  for (guint cell = 0; cell < context->n_cells; cell++)
    {
      WbCraftInterval value = wb_plot_figure_of (context, cell, effects->figure);

      if (!wb_plot_context_shows (context, cell))
        continue;

      g_autofree char *name = wb_plot_dup_cell_name (context, cell);
      g_autofree char *told = wb_plot_dup_interval (context, effects->figure, value);

      g_string_append_printf (text, " %s: %s.", name, *told != '\0' ? told : wb_plot_figure_get_lack (context, cell, effects->figure));
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_terms (const WbCraftEffects *found)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; found->refusal == NULL && found->terms != NULL && i < found->terms->len; i++)
    {
      const WbCraftTerm *term = g_ptr_array_index (found->terms, i);

      if (isnan (term->p))
        continue;

      g_autofree char *p = term->p < 0.001 ? g_strdup ("< 0.001") : NULL;
      g_autofree char *number = wb_number_format (term->p, 3, NULL);

      g_string_append_printf (text, "%s%s: p\302\240%s%s", text->len > 0 ? "; " : "", term->term, p != NULL ? p : "=\302\240", p != NULL ? "" : number);
    }
  if (text->len > 0)
    g_string_append_printf (text, "; n\302\240=\302\240%u.", found->n);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

WbChart *
wb_plot_effects_new (const WbCraftAnswer *answer,
                     const WbPlotOptions *options,
                     GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  WbFigure                   figure = context.options.figure >= 0 ? (WbFigure) context.options.figure : WB_FIGURE_FULL_POOL;
  Effects                    effects = effects_new (&context, figure);
  const WbCraftEffects      *found = wb_craft_answer_get_effects (answer, figure);
  g_autofree char           *title = dup_title (&effects, found);
  g_autofree char           *description = dup_description (&effects, found, title);
  WbChart                   *chart = wb_chart_new (title, description);
  WbChartPanel              *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  if (effects.families->len > 0)
    {
      set_axes (&effects, panel);
      for (guint i = 0; i < effects.families->len; i++)
        add_line (&effects, panel, i);
      if (!isnan (effects.never))
        wb_chart_layer_add_rule (panel, _("never"), WB_CHART_RULE_REFERENCE, WB_CHART_Y, effects.never);
    }
  wb_chart_panel_set_empty_text (panel, _("Not known yet"));

  g_autofree char *terms = dup_terms (found);
  wb_plot_set_footnote (&context, chart, /* xgettext:no-c-format */ _("Bars: 90 % intervals."), terms, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  effects_clear (&effects);
  return chart;
}
