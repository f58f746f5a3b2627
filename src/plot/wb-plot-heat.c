/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-heat.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-beside.h"
#include "wb-craft-told.h"
#include "wb-plot-figure-private.h"
#include "wb-plot-words-private.h"

#define MOST_ROWS 24
#define MOST_COLUMNS 24

/* The grid as rows (families) and columns (places of wicks), with the cell of each; G_MAXUINT: not in the experiment. */
typedef struct
{
  GArray   *families; /* guint */
  GArray   *places;   /* guint */
  GArray   *cells;    /* guint, row by row */
  guint     left_out;
  WbFigure  figure;
} Map;

static void
map_clear (Map *map)
{
  g_array_unref (map->families);
  g_array_unref (map->places);
  g_array_unref (map->cells);
}

static void
insert_sorted (GArray *values,
               guint   value)
{
  guint at = 0;

  while (at < values->len && g_array_index (values, guint, at) < value)
    at++;
  if (at == values->len || g_array_index (values, guint, at) != value)
    g_array_insert_val (values, at, value);
}

static guint
find_value (const GArray *values,
            guint         value)
{
  for (guint i = 0; i < values->len; i++)
    if (g_array_index (values, guint, i) == value)
      return i;
  return G_MAXUINT;
}

static Map
map_new (const WbPlotContext *context,
         WbFigure             figure)
{
  Map map = { wb_plot_context_pick_families (context, MOST_ROWS), g_array_new (FALSE, FALSE, sizeof (guint)),
              g_array_new (FALSE, FALSE, sizeof (guint)), 0, figure };

  wb_plot_cells_sort (map.families);
  for (guint cell = 0; cell < context->n_cells; cell++)
    if (wb_plot_context_shows (context, cell) && find_value (map.families, context->family[cell]) != G_MAXUINT)
      insert_sorted (map.places, wb_plot_get_wick_place (context->data, cell, NULL));
  if (map.places->len > MOST_COLUMNS)
    g_array_set_size (map.places, MOST_COLUMNS);
  for (guint i = 0; i < map.families->len * map.places->len; i++)
    {
      guint none = G_MAXUINT;

      g_array_append_val (map.cells, none);
    }
  for (guint cell = 0; cell < context->n_cells; cell++)
    if (wb_plot_context_shows (context, cell))
      {
        guint row = find_value (map.families, context->family[cell]);
        guint column = find_value (map.places, wb_plot_get_wick_place (context->data, cell, NULL));

        if (row == G_MAXUINT || column == G_MAXUINT)
          map.left_out++;
        else
          g_array_index (map.cells, guint, row * map.places->len + column) = cell;
      }
  return map;
}

static gboolean
is_reopened (const WbPlotContext *context,
             guint                cell)
{
  gint64 id = wb_dataset_get_cell (context->data, cell)->record.id;

  for (guint i = 0; i < context->data->decisions->len; i++)
    {
      const WbDecision *decision = g_ptr_array_index (context->data->decisions, i);

      for (gsize k = 0; k < context->options.n_reopened; k++)
        if (decision->cell == id && decision->record.id == context->options.reopened[k])
          return TRUE;
    }
  return FALSE;
}

static gboolean
is_chosen (const WbPlotContext *context,
           guint                cell)
{
  const WbCraftRanked *ranked = wb_plot_context_get_ranked (context, cell, NULL);
  gint64               id = wb_dataset_get_cell (context->data, cell)->record.id;

  for (guint i = 0; i < context->data->decisions->len; i++)
    if (((const WbDecision *) g_ptr_array_index (context->data->decisions, i))->cell == id && id != 0)
      return TRUE;
  return context->data->decisions->len == 0 && ranked != NULL && ranked->rank == 1
         && (ranked->verdict == WB_CRAFT_VERDICT_RECOMMENDED || ranked->verdict == WB_CRAFT_VERDICT_CANDIDATE);
}

static guint8
get_flags (const WbPlotContext *context,
           guint                cell,
           WbFigure             figure)
{
  const WbCraftRanked *ranked = wb_plot_context_get_ranked (context, cell, NULL);
  guint                samples, burns;
  guint8               flags = 0;

  wb_plot_figure_get_n (context, cell, figure, &samples, &burns);
  if (wb_plot_get_crossed (context, cell) != NULL)
    flags |= WB_CHART_CELL_CROSSED;
  if (is_chosen (context, cell))
    flags |= WB_CHART_CELL_CHOSEN;
  if (samples < 2 || (ranked != NULL && ranked->verdict == WB_CRAFT_VERDICT_TOO_LITTLE_DATA))
    flags |= WB_CHART_CELL_UNSURE;
  return flags;
}

static char *
dup_note (const WbPlotContext *context,
          guint                cell,
          WbFigure             figure)
{
  WbCraftInterval interval = wb_plot_figure_of (context, cell, figure);
  guint           samples, burns;

  if (isnan (interval.value))
    return g_strdup (wb_plot_figure_get_lack (context, cell, figure));
  wb_plot_figure_get_n (context, cell, figure, &samples, &burns);

  g_autofree char *told = wb_plot_dup_interval (context, figure, interval);
  g_autofree char *counts = wb_plot_dup_counts (samples, burns, G_MAXUINT);

  if (wb_plot_figure_is_beyond_wall (context, cell, figure))
    return g_strdup_printf ("%s (%s), %s", told, wb_craft_beside_get_beyond_wall (), counts);
  return g_strdup_printf ("%s, %s", told, counts);
}

static void
set_names (const WbPlotContext *context,
           const Map           *map,
           WbChartPanel        *panel)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) columns = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < map->families->len; i++)
    {
      guint            family = g_array_index (map->families, guint, i);
      g_autofree char *brief = wb_plot_dup_family_name (context, family, TRUE);

      g_ptr_array_add (rows, *brief != '\0' ? g_steal_pointer (&brief) : wb_plot_dup_family_name (context, family, FALSE));
    }
  for (guint i = 0; i < map->places->len; i++)
    {
      guint at = 0;

      while (wb_plot_get_wick_place (context->data, at, NULL) != g_array_index (map->places, guint, i))
        at++;
      g_ptr_array_add (columns, wb_plot_dup_wick_name (context, at));
    }
  g_ptr_array_add (rows, NULL);
  g_ptr_array_add (columns, NULL);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), (const char *const *) rows->pdata);
  wb_chart_axis_set_categories (wb_chart_panel_get_x (panel), (const char *const *) columns->pdata);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), _("Wick"));
}

static void
add_map (const WbPlotContext *context,
         const Map           *map,
         WbChartPanel        *panel)
{
  gsize                 n = map->cells->len;
  g_autofree double    *values = g_new (double, n);
  g_autofree guint8    *flags = g_new0 (guint8, n);
  g_autofree gint64    *tags = g_new0 (gint64, n);
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);

  set_names (context, map, panel);
  for (gsize i = 0; i < n; i++)
    {
      guint cell = g_array_index (map->cells, guint, i);

      values[i] = cell == G_MAXUINT ? NAN : wb_plot_to_axis (map->figure, wb_plot_figure_of (context, cell, map->figure).value);
      tags[i] = cell == G_MAXUINT ? 0 : wb_plot_get_cell_tag (context->data, cell);
      flags[i] = cell == G_MAXUINT ? 0 : get_flags (context, cell, map->figure);
      g_ptr_array_add (notes, cell == G_MAXUINT ? g_strdup (_("not in the grid")) : dup_note (context, cell, map->figure));
    }

  WbChartLayer *layer = wb_chart_layer_add_heat (panel, _(wb_figure_get_label (map->figure)), WB_CHART_HEAT_LOW_TO_HIGH,
                                                 map->families->len, map->places->len, values, flags,
                                                 wb_plot_figure_get_shown_unit (context, map->figure),
                                                 wb_plot_figure_get_decimals (context, map->figure), 0.0);
  wb_chart_layer_set_notes (layer, n, (const char *const *) notes->pdata);
  wb_chart_layer_set_tags (layer, n, tags);
  if (map->figure == WB_FIGURE_SCORE)
    wb_chart_layer_set_scale (layer, 0.0, 1.0);
}

/* Whether more of it is better, is worse, or neither. */
static int
get_better (WbFigure figure)
{
  switch (figure)
    {
    case WB_FIGURE_SCORE:
    case WB_FIGURE_THROW:
      return 1;
    case WB_FIGURE_HANG_UP:
    case WB_FIGURE_SOOT:
    case WB_FIGURE_SMOKE:
    case WB_FIGURE_MUSHROOM:
      return -1;
    default:
      return 0;
    }
}

/* Rejected, or over a limit: such a combination is the best of nothing. */
static gboolean
is_out (const WbPlotContext *context,
        guint                cell)
{
  const WbCraftRanked *ranked = wb_plot_context_get_ranked (context, cell, NULL);

  return (ranked != NULL && ranked->verdict == WB_CRAFT_VERDICT_REJECTED) || wb_plot_get_crossed (context, cell) != NULL;
}

typedef struct
{
  guint  low, high; /* cells with the ends of the range; G_MAXUINT: none has a value */
  guint  n;         /* with a value */
  guint  lacking;
  guint  a_lack;    /* one of those without */
} Range;

static Range
find_range (const WbPlotContext *context,
            const Map           *map)
{
  Range  range = { G_MAXUINT, G_MAXUINT, 0, 0, G_MAXUINT };
  double low = INFINITY, high = -INFINITY;

  for (guint i = 0; i < map->cells->len; i++)
    {
      guint cell = g_array_index (map->cells, guint, i);

      if (cell == G_MAXUINT)
        continue;

      double value = wb_plot_figure_of (context, cell, map->figure).value;
      if (isnan (value))
        {
          range.lacking++;
          range.a_lack = cell;
          continue;
        }
      range.n++;
      if (value < low)
        {
          low = value;
          range.low = cell;
        }
      if (value > high)
        {
          high = value;
          range.high = cell;
        }
    }
  return range;
}

/* The cell with the best value that is not out; G_MAXUINT: all with a value are. */
static guint
find_best_in (const WbPlotContext *context,
              const Map           *map)
{
  double most = -INFINITY;
  guint  best = G_MAXUINT;

  for (guint i = 0; i < map->cells->len; i++)
    {
      guint  cell = g_array_index (map->cells, guint, i);
      double value = cell == G_MAXUINT || is_out (context, cell) ? NAN : wb_plot_figure_of (context, cell, map->figure).value;

      if (get_better (map->figure) * value > most)
        {
          most = get_better (map->figure) * value;
          best = cell;
        }
    }
  return best;
}

/* Why a cell is out, as its verdict is told: one over a limit of which nothing is ranked crossed it. */
static const char *
get_why_out (const WbPlotContext *context,
             guint                cell)
{
  const WbCraftRanked *ranked = wb_plot_context_get_ranked (context, cell, NULL);

  return ranked != NULL && ranked->verdict == WB_CRAFT_VERDICT_REJECTED ? wb_craft_ranked_get_verdict_label (ranked)
                                                                        : wb_craft_told_get_label (WB_CRAFT_TOLD_CROSSED);
}

/* out, first, start: the combination with the best value, which is out, its name and value. */
static char *
dup_out_title (const WbPlotContext *context,
               const Map           *map,
               guint                out,
               const char          *first,
               const char          *start)
{
  const char      *label = _(wb_figure_get_label (map->figure));
  guint            best = find_best_in (context, map);
  g_autofree char *name = best != G_MAXUINT ? wb_plot_dup_cell_name (context, best) : NULL;
  g_autofree char *value = NULL;

  if (best == G_MAXUINT)
    /* Translators: figure; combination; value */
    return g_strdup_printf (_("%s: all that have a value are out, even %s (%s)"), label, first, start);
  value = wb_plot_dup_figure (context, map->figure, wb_plot_figure_of (context, best, map->figure).value);
  /* Translators: figure; combination; value; combination; value; why that one may not be chosen, "crossed a limit" */
  return g_strdup_printf (_("%s is best in %s (%s); %s (%s) is out: %s"), label, name, value, first, start, get_why_out (context, out));
}

static char *
dup_range_title (const WbPlotContext *context,
                 const Map           *map,
                 const Range         *range)
{
  const char      *label = _(wb_figure_get_label (map->figure));
  int              better = get_better (map->figure);
  guint            from = better > 0 ? range->high : range->low, to = better > 0 ? range->low : range->high;
  g_autofree char *first = wb_plot_dup_cell_name (context, from);
  g_autofree char *last = wb_plot_dup_cell_name (context, to);
  g_autofree char *start = wb_plot_dup_figure (context, map->figure, wb_plot_figure_of (context, from, map->figure).value);
  g_autofree char *end = wb_plot_dup_figure (context, map->figure, wb_plot_figure_of (context, to, map->figure).value);

  if (range->n == 1)
    return g_strdup_printf ("%s: %s %s", first, label, start);
  if (better != 0 && is_out (context, from))
    return dup_out_title (context, map, from, first, start);
  if (better != 0)
    /* Translators: figure; combination; value; combination; value */
    return g_strdup_printf (_("%s is best in %s (%s) and worst in %s (%s)"), label, first, start, last, end);
  /* Translators: figure; value; combination; value; combination */
  return g_strdup_printf (_("%s runs from %s (%s) to %s (%s)"), label, start, first, end, last);
}

static char *
dup_title (const WbPlotContext *context,
           const Map           *map)
{
  Range range = find_range (context, map);

  if (map->cells->len == 0)
    return g_strdup (_("No combination to show"));
  if (range.n == 0)
    /* Translators: a figure */
    return g_strdup_printf (_("%s is not known yet for any combination"), _(wb_figure_get_label (map->figure)));

  g_autofree char *finding = dup_range_title (context, map, &range);

  if (range.lacking == 0)
    return g_steal_pointer (&finding);
  if (map->figure == WB_FIGURE_FULL_POOL)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s; %u combination has none", "%s; %u combinations have none", range.lacking),
                            finding, range.lacking);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s; %u not known", "%s; %u not known", range.lacking), finding, range.lacking);
}

static char *
dup_description (const WbPlotContext *context,
                 const Map           *map,
                 const char          *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, /* xgettext:no-c-format */ _("The grid as a heat map: wicks across, vessels and scents down; estimates with their 90 % intervals."));
  for (guint i = 0; i < map->cells->len; i++)
    {
      guint cell = g_array_index (map->cells, guint, i);

      if (cell == G_MAXUINT)
        continue;

      g_autofree char *name = wb_plot_dup_cell_name (context, cell);
      g_autofree char *note = dup_note (context, cell, map->figure);

      g_string_append_printf (text, " %s: %s%s%s.", name, note, wb_plot_get_crossed (context, cell) != NULL ? _(", a limit crossed") : "",
                              is_reopened (context, cell) ? _(", signed and reopened since") : "");
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* "Framed: signed; reopened since: B4." */
static void
append_signed (GString             *key,
               const WbPlotContext *context,
               const Map           *map)
{
  g_autoptr (GPtrArray) reopened = g_ptr_array_new_with_free_func (g_free);
  g_autofree char      *names = NULL;
  guint                 n_signed = 0;

  for (guint i = 0; i < map->cells->len; i++)
    {
      guint cell = g_array_index (map->cells, guint, i);

      if (cell == G_MAXUINT || !is_chosen (context, cell))
        continue;
      n_signed++;
      if (is_reopened (context, cell))
        g_ptr_array_add (reopened, wb_plot_dup_cell_name (context, cell));
    }
  if (reopened->len == 0)
    {
      g_string_append (key, _("Framed: signed."));
      return;
    }
  if (reopened->len == n_signed)
    {
      g_string_append (key, _("Framed: signed, and reopened since: it does not stand."));
      return;
    }
  g_ptr_array_add (reopened, NULL);
  names = g_strjoinv (", ", (char **) reopened->pdata);
  /* Translators: combinations of which the decision does not stand any more. */
  g_string_append_printf (key, _("Framed: signed; reopened since: %s."), names);
}

static char *
dup_key (const WbPlotContext *context,
         const Map           *map)
{
  g_autoptr (GString) key = g_string_new (NULL);
  guint8              flags = 0;

  for (guint i = 0; i < map->cells->len; i++)
    if (g_array_index (map->cells, guint, i) != G_MAXUINT)
      flags |= get_flags (context, g_array_index (map->cells, guint, i), map->figure);
  if (flags & WB_CHART_CELL_CHOSEN)
    {
      if (context->data->decisions->len > 0)
        append_signed (key, context, map);
      else
        g_string_append (key, _("Framed: leads its group."));
    }
  if (flags & WB_CHART_CELL_CROSSED)
    g_string_append_printf (key, "%s%s", key->len > 0 ? " " : "", _("Hatched red: a limit was crossed."));
  if (flags & WB_CHART_CELL_UNSURE)
    g_string_append_printf (key, "%s%s", key->len > 0 ? " " : "", _("Dotted: rests on fewer than two samples or too little data."));
  return g_string_free (g_steal_pointer (&key), FALSE);
}

/* The score where there is one, else what was read most. */
static WbFigure
choose_figure (const WbPlotContext *context)
{
  if (context->options.figure >= 0)
    return context->options.figure;
  for (guint cell = 0; cell < context->n_cells; cell++)
    if (!isnan (wb_plot_figure_of (context, cell, WB_FIGURE_SCORE).value))
      return WB_FIGURE_SCORE;
  return WB_FIGURE_FULL_POOL;
}

WbChart *
wb_plot_heat_new (const WbCraftAnswer *answer,
                  const WbPlotOptions *options,
                  GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  Map              map = map_new (&context, choose_figure (&context));
  g_autofree char *title = dup_title (&context, &map);
  g_autofree char *description = dup_description (&context, &map, title);
  WbChart         *chart = wb_chart_new (title, description);
  WbChartPanel    *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  if (map.cells->len > 0)
    add_map (&context, &map, panel);
  else
    wb_chart_panel_set_empty_text (panel, _("No combination to show"));

  g_autofree char *key = dup_key (&context, &map);
  g_autofree char *left_out = map.left_out == 0 ? g_strdup ("") : g_strdup_printf (_("%u combinations more than fit."), map.left_out);
  g_autofree char *n = wb_plot_dup_counts (context.data->samples->len, context.data->burns->len, G_MAXUINT);
  g_autofree char *counts = g_strdup_printf ("%s.", n);
  wb_plot_set_footnote (&context, chart, key, left_out, counts, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  map_clear (&map);
  return chart;
}
