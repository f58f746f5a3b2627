/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-effects.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-effects-private.h"
#include "wb-plot-figure-private.h"
#include "wb-plot-outcome-private.h"
#include "wb-plot-words-private.h"

#define MOST_LINES 8
#define MOST_WICKS 40
/* Neighbours stand this far apart along the category of their wick, so that intervals do not lie on each other. */
#define APART 0.09

gboolean
wb_plot_effects_is_never (const WbPlotEffects *self,
                          guint                cell)
{
  return self->figure == WB_FIGURE_FULL_POOL && wb_plot_outcome_of (self->context, cell).state == WB_PLOT_POOL_SHORT;
}

/* Above everything that is known, and not before the burn's end. */
static double
find_never (const WbPlotEffects *effects)
{
  const WbPlotContext *context = effects->context;
  double               highest = wb_plot_outcome_get_burn_h (context);
  gboolean             any = FALSE;

  for (guint cell = 0; effects->figure == WB_FIGURE_FULL_POOL && cell < context->n_cells; cell++)
    if (wb_plot_context_shows (context, cell))
      {
        WbCraftInterval value = wb_plot_figure_of (context, cell, WB_FIGURE_FULL_POOL);

        any |= wb_plot_effects_is_never (effects, cell);
        highest = fmax (highest, fmax (value.value, isnan (value.value) ? NAN : value.high));
      }
  return any ? wb_plot_to_axis (WB_FIGURE_FULL_POOL, highest * 1.06) : NAN;
}

static WbPlotEffects
effects_new (const WbPlotContext *context,
             WbFigure             figure)
{
  WbPlotEffects effects = { context, figure, wb_plot_context_pick_families (context, MOST_LINES), g_array_new (FALSE, FALSE, sizeof (guint)), NAN };

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
effects_clear (WbPlotEffects *effects)
{
  g_array_unref (effects->families);
  g_array_unref (effects->places);
}

guint
wb_plot_effects_find_cell (const WbPlotEffects *self,
                           guint                family,
                           guint                place)
{
  const WbPlotContext *context = self->context;

  for (guint cell = 0; cell < context->n_cells; cell++)
    if (context->family[cell] == family && wb_plot_context_shows (context, cell)
        && wb_plot_get_wick_place (context->data, cell, NULL) == place)
      return cell;
  return G_MAXUINT;
}

gboolean
wb_plot_effects_starts_series (const WbPlotEffects *self,
                               guint                at)
{
  const WbDataset *data = self->context->data;
  guint            cells[2] = { 0, 0 };

  if (at == 0)
    return FALSE;
  for (guint i = 0; i < 2; i++)
    while (wb_plot_get_wick_place (data, cells[i], NULL) != g_array_index (self->places, guint, at - i))
      cells[i]++;
  return g_strcmp0 (wb_dataset_get_wick (data, cells[0])->series, wb_dataset_get_wick (data, cells[1])->series) != 0;
}

/* A line breaks where another series of wicks begins: their steps are no scale. */
static void
add_line (const WbPlotEffects *effects,
          WbChartPanel  *panel,
          guint          index)
{
  const WbPlotContext  *context = effects->context;
  guint                 family = g_array_index (effects->families, guint, index), n_places = effects->places->len;
  g_autofree char      *brief = wb_plot_dup_family_name (context, family, TRUE);
  /* a line alone needs no name: the footnote has it */
  const char           *name = effects->families->len > 1 && *brief != '\0' ? brief : NULL;
  g_autoptr (GArray)    line_x = g_array_new (FALSE, FALSE, sizeof (double)), line_y = g_array_new (FALSE, FALSE, sizeof (double));
  g_autofree double    *x = g_new (double, n_places), *y = g_new (double, n_places);
  g_autofree double    *low = g_new (double, n_places), *high = g_new (double, n_places);
  g_autofree guint8    *marks = g_new (guint8, n_places);
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);
  double                shift = (index - (effects->families->len - 1) / 2.0) * fmin (APART, 0.6 / effects->families->len);
  double                gap = NAN;

  for (guint i = 0; i < n_places; i++)
    {
      guint           cell = wb_plot_effects_find_cell (effects, family, g_array_index (effects->places, guint, i));
      WbCraftInterval value = cell == G_MAXUINT ? WB_CRAFT_INTERVAL_NONE : wb_plot_figure_of (context, cell, effects->figure);
      guint           samples = 0, burns = 0;

      x[i] = i + shift;
      gboolean never = cell != G_MAXUINT && wb_plot_effects_is_never (effects, cell);
      marks[i] = never ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
      y[i] = wb_plot_to_axis (effects->figure, value.value);
      if (never)
        y[i] = effects->never;
      low[i] = isnan (value.value) ? NAN : wb_plot_to_axis (effects->figure, value.low);
      high[i] = isnan (value.value) ? NAN : wb_plot_to_axis (effects->figure, value.high);
      if (wb_plot_effects_starts_series (effects, i))
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
set_axes (const WbPlotEffects *effects,
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

static char *
dup_description (const WbPlotEffects  *effects,
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
  guint               n = 0;

  if (found->refusal == NULL && found->terms != NULL && found->terms->len > 1)
    g_string_append (text, _("Analysis of variance: "));
  for (guint i = 0; found->refusal == NULL && found->terms != NULL && i < found->terms->len; i++)
    {
      const WbCraftTerm *term = g_ptr_array_index (found->terms, i);

      if (isnan (term->p))
        continue;

      g_autofree char *label = wb_craft_term_dup_label (term->term);
      g_autofree char *number = wb_number_format (fmax (term->p, 0.001), 3, NULL);

      g_string_append_printf (text, "%s%s: p\302\240%s\302\240%s", n++ > 0 ? "; " : "", label, term->p < 0.001 ? "<" : "=", number);
    }
  if (n > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, "; %u sample.", "; %u samples.", found->n), found->n);
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
  WbPlotEffects              effects = effects_new (&context, figure);
  const WbCraftEffects      *found = wb_craft_answer_get_effects (answer, figure);
  g_autofree char           *title = wb_plot_effects_dup_title (&effects, found);
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
  g_autofree char *where = effects.families->len == 1
                             ? wb_plot_dup_family_name (&context, g_array_index (effects.families, guint, 0), FALSE) : g_strdup ("");
  g_autofree char *place = *where != '\0' ? g_strconcat (where, ".", NULL) : g_strdup ("");
  wb_plot_set_footnote (&context, chart, place, /* xgettext:no-c-format */ _("Bars: 90 % intervals."), terms, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  effects_clear (&effects);
  return chart;
}
