/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-rings.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-lines-private.h"
#include "wb-plot-outcome-private.h"
#include "wb-plot-words-private.h"

#define MOST_PANELS 8
#define MOST_HOURS 12
#define MOST_COLUMNS 6
/* A reading counts for the full hour that it lies this near to: a round takes 12 to 15 minutes (common practice, no source). */
#define NEAR_MIN 15.0

typedef struct
{
  guint  n;
  double sum_mm;
  guint  at_wall;
  guint  burn;     /* the last that was read */
} Hour;

/* One cell's pools, hour by hour. */
typedef struct
{
  guint  n_hours;             /* up to the last one that was read */
  Hour   hours[MOST_HOURS];
  guint  readings;
} Rings;

static void
read_burn (const WbPlotLine  *line,
           const WbCraftBurn *burn,
           Rings             *rings)
{
  const WbDataset *data = line->context->data;
  double           inner = wb_craft_cell_get_inner_mm (data, burn->cell, burn->stage);
  guint            first, n;

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double minutes = wb_readings_get_elapsed_min (data->readings, row);
      double hour = round (minutes / 60.0);
      WbPool pool;

      if (!(hour >= 1.0 && hour <= MOST_HOURS) || fabs (minutes - hour * 60.0) > NEAR_MIN
          || !wb_readings_get_pool (data->readings, row, inner, &pool))
        continue;

      Hour *one = &rings->hours[(guint) hour - 1];
      one->n++;
      one->sum_mm += pool.diameter_mm;
      one->at_wall += pool.both_at_wall;
      one->burn = burn->burn;
      rings->n_hours = MAX (rings->n_hours, (guint) hour);
      rings->readings++;
    }
}

static Rings
rings_of (const WbPlotLine *line)
{
  const WbCraftFigures *figures = line->context->answer->figures;
  Rings                 rings = { 0 };

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];

      if (burn->cell == line->cell && wb_plot_context_burn_counts (line->context, burn))
        read_burn (line, burn, &rings);
    }
  return rings;
}

/* More than half of the burns at the wall: the ring is the wall itself. */
static gboolean
is_full (const Hour *hour)
{
  return hour->n > 0 && 2 * hour->at_wall > hour->n;
}

static gboolean
all_full (const Hour *hour)
{
  return hour->at_wall == hour->n;
}

/* First full hour at which the pool stands at the wall; 0 never. */
static guint
get_full_hour (const Rings *rings)
{
  for (guint i = 0; i < rings->n_hours; i++)
    if (is_full (&rings->hours[i]))
      return i + 1;
  return 0;
}

/* By how much the pool is narrower than the vessel at the last hour read, mm: the measure of the growth's axis, told alike in every chart. */
static double
get_gap_mm (const WbPlotLine *line,
            const Rings      *rings)
{
  const Hour *last = &rings->hours[rings->n_hours - 1];

  return fmax (wb_plot_line_get_inner_mm (line) - last->sum_mm / last->n, 0.0);
}

static char *
dup_clause (const WbPlotLine *line,
            const Rings      *rings)
{
  const char *name = line->name;

  if (rings->n_hours == 0)
    return g_strdup_printf (_("%s was not read on the hour"), name);

  guint            full = get_full_hour (rings);
  g_autofree char *hours = wb_quantity_format (WB_UNIT_HOUR, (full > 0 ? full : rings->n_hours) * 3600.0, 0);

  if (full > 0)
    /* Translators: a wick's name; a time */
    return g_strdup_printf (all_full (&rings->hours[full - 1]) ? _("%s has melted to the wall after %s")
                                                               : _("%s has melted to the wall after %s in most burns"), name, hours);

  g_autofree char *gap = wb_plot_dup_gap (line->context, get_gap_mm (line, rings));

  if (get_gap_mm (line, rings) < WB_PLOT_ALL_BUT_MM)
    /* Translators: a wick's name; a time */
    return g_strdup_printf (_("%s is all but at the wall after %s, as read"), name, hours);
  /* Translators: a wick's name; a length; a time */
  return g_strdup_printf (_("%s is still %s narrower than the vessel after %s, as read"), name, gap, hours);
}

/* The result first: a narrow panel keeps it when it cuts the rest. family: what else tells the panel, or "". */
static char *
dup_panel_title (const WbPlotLine *line,
                 const Rings      *rings,
                 const char       *family)
{
  g_autofree char *result = NULL;

  if (get_full_hour (rings) > 0)
    {
      g_autofree char *hours = wb_quantity_format (WB_UNIT_HOUR, get_full_hour (rings) * 3600.0, 0);

      /* Translators: a wick's name; a time */
      result = g_strdup_printf (_("%s: full at %s"), line->name, hours);
    }
  else if (rings->n_hours > 0 && get_gap_mm (line, rings) < WB_PLOT_ALL_BUT_MM)
    /* Translators: a wick's name */
    result = g_strdup_printf (_("%s: all but full"), line->name);
  else if (rings->n_hours > 0)
    {
      g_autofree char *gap = wb_plot_dup_gap (line->context, get_gap_mm (line, rings));

      /* Translators: a wick's name; a length, by which the pool is narrower than the vessel */
      result = g_strdup_printf (_("%s: %s narrower"), line->name, gap);
    }
  else
    result = g_strdup (line->name);
  return *family == '\0' ? g_steal_pointer (&result) : g_strdup_printf ("%s · %s", result, family);
}

static void
add_wall (const WbPlotLine *line,
          WbChartPanel     *panel)
{
  const WbPlotContext *context = line->context;
  const WbVessel  *vessel = wb_dataset_get_vessel (context->data, line->cell);
  double           inner = wb_plot_line_get_inner_mm (line);
  gboolean         round_one = isnan (vessel->inner_width_mm) || context->options.stage < WB_N_STAGES;
  double           width = round_one ? inner : vessel->inner_diameter_mm, depth = round_one ? inner : vessel->inner_width_mm;
  g_autofree char *diameter = wb_plot_dup_set_value (context, WB_UNIT_MM, inner);
  g_autofree char *label = g_strdup_printf (_("wall, %s"), diameter);

  wb_chart_axis_set_unit (wb_chart_panel_get_x (panel), context->options.units[WB_QUANTITY_LENGTH]);
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), context->options.units[WB_QUANTITY_LENGTH]);
  wb_chart_layer_add_wall (panel, label, 0.0, 0.0, width, depth);
}

static void
add_rings (const WbPlotLine *line,
           WbChartPanel     *panel,
           const Rings      *rings)
{
  double                inner = wb_plot_line_get_inner_mm (line);
  g_autoptr (GPtrArray) labels = g_ptr_array_new_with_free_func (g_free);
  double                diameters[MOST_HOURS];
  guint8                marks[MOST_HOURS];
  gint64                tags[MOST_HOURS];

  for (guint i = 0; i < rings->n_hours; i++)
    {
      const Hour *hour = &rings->hours[i];

      diameters[i] = hour->n == 0 ? NAN : is_full (hour) ? inner : hour->sum_mm / hour->n;
      marks[i] = is_full (hour) ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
      tags[i] = hour->n == 1 ? wb_plot_line_get_burn_tag (line, hour->burn) : wb_plot_line_get_tag (line);
      g_ptr_array_add (labels, wb_quantity_format (WB_UNIT_HOUR, (i + 1) * 3600.0, 0));
    }
  if (rings->n_hours == 0)
    {
      wb_chart_panel_set_empty_text (panel, _("No melt pool was read on the hour"));
      return;
    }

  WbChartLayer *layer = wb_chart_layer_add_rings (panel, line->name, line->series, 0.0, 0.0, rings->n_hours, diameters,
                                                  (const char *const *) labels->pdata);
  wb_chart_layer_set_marks (layer, rings->n_hours, marks);
  wb_chart_layer_set_tags (layer, rings->n_hours, tags);
}

/* Among the lines of the leader's vessel the first whose pool came at another hour, or not; NULL: none was read. */
static const WbPlotLine *
find_contrast (const GArray *lines,
               const Rings  *first)
{
  const WbPlotLine *leader = &g_array_index (lines, WbPlotLine, 0), *other = NULL;

  for (guint i = 1; i < lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (lines, WbPlotLine, i);
      Rings             rings = rings_of (line);

      if ((line->context == leader->context && line->context->family[line->cell] != leader->context->family[leader->cell]) || rings.n_hours == 0)
        continue;
      if (get_full_hour (&rings) != get_full_hour (first))
        return line;
      if (other == NULL)
        other = line;
    }
  return other;
}

/* lines: the leading one first. */
static char *
dup_title (const GArray *lines)
{
  if (lines->len == 0)
    return g_strdup (_("No combination to show"));

  const WbPlotLine *leader = &g_array_index (lines, WbPlotLine, 0);
  Rings             first = rings_of (leader);
  const WbPlotLine *contrast = find_contrast (lines, &first);
  g_autofree char  *clause = dup_clause (leader, &first);

  if (contrast == NULL)
    return g_steal_pointer (&clause);

  Rings            rings = rings_of (contrast);
  g_autofree char *other = dup_clause (contrast, &rings);

  return g_strdup_printf (_("%s; %s"), clause, other);
}

static void
append_line (GString          *text,
             const WbPlotLine *line,
             const char       *name)
{
  Rings rings = rings_of (line);

  g_string_append_printf (text, " %s:", name);
  for (guint hour = 0; hour < rings.n_hours; hour++)
    if (rings.hours[hour].n > 0)
      {
        g_autofree char *diameter = wb_plot_dup_figure (line->context, WB_FIGURE_POOL, rings.hours[hour].sum_mm / rings.hours[hour].n);

        /* Translators: number of the hour; diameter; readings at the wall; readings */
        g_string_append_printf (text, _(" %u\302\240h %s (%u of %u at the wall)%s"), hour + 1, diameter, rings.hours[hour].at_wall,
                                rings.hours[hour].n, hour + 1 < rings.n_hours ? "," : ".");
      }
  if (rings.n_hours == 0)
    g_string_append_printf (text, " %s.", _("not read on the hour"));
}

/* names: of the lines where they are told by more than their own, else NULL. */
static char *
dup_description (const GArray    *lines,
                 const GPtrArray *names,
                 const char      *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, _("Vessels from above, to scale, with a ring for the melt pool at each full hour, the mean of the burns."));
  for (guint i = 0; i < lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (lines, WbPlotLine, i);

      append_line (text, line, names != NULL ? g_ptr_array_index (names, i) : line->name);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Panels in the order of the lines; `families`: what tells each panel beside its line's name, or NULL. Gives the readings shown. */
static guint
add_panels (WbChart         *chart,
            const GArray    *lines,
            const GPtrArray *families)
{
  guint n_columns = lines->len <= 4 ? MAX (lines->len, 1) : (lines->len + 1) / 2, readings = 0;

  if (lines->len > 2 * MOST_COLUMNS)
    n_columns = MOST_COLUMNS;
  for (guint i = 0; i < lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (lines, WbPlotLine, i);
      Rings             rings = rings_of (line);
      g_autofree char  *name = dup_panel_title (line, &rings, families != NULL ? g_ptr_array_index (families, i) : "");
      WbChartPanel     *panel = wb_chart_add_panel (chart, i / n_columns, i % n_columns, name);

      add_wall (line, panel);
      add_rings (line, panel, &rings);
      readings += rings.readings;
    }
  if (lines->len == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to show"));
  return readings;
}

static void
set_note (const WbPlotContext *context,
          WbChart             *chart,
          const char          *where,
          guint                readings,
          const char          *some)
{
  g_autofree char *n = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Mean of %u reading.", "Mean of %u readings.", readings), readings);

  wb_plot_set_footnote (context, chart, where, _("A ring for each hour after lighting, from the inside; dashed: at the wall in most burns."), n, some, NULL);
  wb_chart_set_font_family (chart, context->options.font_family);
}

WbChart *
wb_plot_rings_new_lines (const GArray *lines)
{
  const WbPlotContext *context = g_array_index (lines, WbPlotLine, 0).context;
  g_autofree char     *title = dup_title (lines);
  g_autofree char     *description = dup_description (lines, NULL, title);
  WbChart             *chart = wb_chart_new (title, description);

  set_note (context, chart, "", add_panels (chart, lines, NULL), "");
  return chart;
}

/* Names of the cells, or what tells their panels beside the wick. */
static GPtrArray *
name_cells (const WbPlotContext *context,
            const GArray        *cells,
            gboolean             families)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  gboolean   told = wb_plot_context_mixes (context, cells);

  for (guint i = 0; i < cells->len; i++)
    {
      guint cell = g_array_index (cells, guint, i);

      g_ptr_array_add (names, !families ? wb_plot_dup_cell_name (context, cell)
                              : told ? wb_plot_dup_family_name (context, context->family[cell], TRUE) : g_strdup (""));
    }
  return names;
}

WbChart *
wb_plot_rings_new (const WbCraftAnswer *answer,
                   const WbPlotOptions *options,
                   GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  g_autoptr (GArray)    cells = wb_plot_context_pick_cells (&context, G_MAXUINT, MOST_PANELS);
  g_autoptr (GArray)    told = wb_plot_lines_new_cells (&context, cells, FALSE);
  g_autoptr (GPtrArray) names = name_cells (&context, cells, FALSE);
  g_autofree char      *finding = dup_title (told);
  g_autofree char      *family = cells->len > 0 && wb_plot_context_mixes (&context, cells)
                                   ? wb_plot_dup_family_name (&context, context.family[g_array_index (cells, guint, 0)], TRUE) : NULL;
  /* Translators: vessel and scent; what was found there */
  g_autofree char      *title = family != NULL ? g_strdup_printf (_("%s: %s"), family, finding) : g_strdup (finding);
  g_autofree char      *description = dup_description (told, names, title);
  g_autofree char      *where = wb_plot_dup_common_family (&context, cells);
  WbChart              *chart = wb_chart_new (title, description);

  wb_plot_cells_sort (cells);

  g_autoptr (GArray)    lines = wb_plot_lines_new_cells (&context, cells, FALSE);
  g_autoptr (GPtrArray) families = name_cells (&context, cells, TRUE);
  guint                 readings = add_panels (chart, lines, families), all = wb_plot_context_count_shown (&context, G_MAXUINT);
  g_autofree char      *some = all > cells->len ? g_strdup_printf (_("The %u leading combinations of %u."), cells->len, all) : g_strdup ("");

  set_note (&context, chart, where, readings, some);
  return chart;
}
