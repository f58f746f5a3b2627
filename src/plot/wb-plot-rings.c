/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-rings.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-outcome-private.h"
#include "wb-plot-words-private.h"

#define MOST_PANELS 8
#define MOST_HOURS 12
/* A reading counts for the full hour that it lies this near to: a round takes 12 to 15 minutes (common practice, no source). */
#define NEAR_MIN 15.0

typedef struct
{
  guint  n;
  double sum_mm;
  guint  at_wall;
} Hour;

/* One cell's pools, hour by hour. */
typedef struct
{
  guint  n_hours;             /* up to the last one that was read */
  Hour   hours[MOST_HOURS];
  guint  readings;
} Rings;

static void
read_burn (const WbPlotContext *context,
           const WbCraftBurn   *burn,
           Rings               *rings)
{
  const WbDataset *data = context->data;
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
      rings->n_hours = MAX (rings->n_hours, (guint) hour);
      rings->readings++;
    }
}

static Rings
rings_of (const WbPlotContext *context,
          guint                cell)
{
  Rings rings = { 0 };

  for (guint i = 0; i < context->answer->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &context->answer->figures->burns[i];

      if (burn->cell == cell && wb_plot_context_burn_counts (context, burn))
        read_burn (context, burn, &rings);
    }
  return rings;
}

/* Half of the burns or more at the wall: the ring is the wall itself. */
static gboolean
is_full (const Hour *hour)
{
  return hour->n > 0 && 2 * hour->at_wall >= hour->n;
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
get_gap_mm (const WbPlotContext *context,
             guint                cell,
             const Rings         *rings)
{
  const Hour *last = &rings->hours[rings->n_hours - 1];

  return fmax (wb_craft_cell_get_inner_mm (context->data, cell, context->options.stage) - last->sum_mm / last->n, 0.0);
}

static char *
dup_clause (const WbPlotContext *context,
            guint                cell,
            const Rings         *rings)
{
  g_autofree char *name = wb_plot_dup_wick_name (context, cell);

  if (rings->n_hours == 0)
    return g_strdup_printf (_("%s was not read on the hour"), name);

  guint            full = get_full_hour (rings);
  g_autofree char *hours = wb_quantity_format (WB_UNIT_HOUR, (full > 0 ? full : rings->n_hours) * 3600.0, 0);

  if (full > 0)
    /* Translators: a wick's name; a time */
    return g_strdup_printf (all_full (&rings->hours[full - 1]) ? _("%s has melted to the wall after %s")
                                                               : _("%s has melted to the wall after %s in most burns"), name, hours);

  g_autofree char *gap = wb_plot_dup_gap (context, get_gap_mm (context, cell, rings));

  if (get_gap_mm (context, cell, rings) < WB_PLOT_ALL_BUT_MM)
    /* Translators: a wick's name; a time */
    return g_strdup_printf (_("%s is all but at the wall after %s"), name, hours);
  /* Translators: a wick's name; a length; a time */
  return g_strdup_printf (_("%s is still %s narrower than the vessel after %s"), name, gap, hours);
}

/* The result first: a narrow panel keeps it when it cuts the rest. */
static char *
dup_panel_title (const WbPlotContext *context,
                 guint                cell,
                 const Rings         *rings,
                 gboolean             with_family)
{
  g_autofree char *wick = wb_plot_dup_wick_name (context, cell);
  g_autofree char *family = with_family ? wb_plot_dup_family_name (context, context->family[cell], TRUE) : g_strdup ("");
  g_autofree char *result = NULL;

  if (get_full_hour (rings) > 0)
    {
      g_autofree char *hours = wb_quantity_format (WB_UNIT_HOUR, get_full_hour (rings) * 3600.0, 0);

      /* Translators: a wick's name; a time */
      result = g_strdup_printf (_("%s: full at %s"), wick, hours);
    }
  else if (rings->n_hours > 0)
    {
      g_autofree char *gap = wb_plot_dup_gap (context, get_gap_mm (context, cell, rings));

      /* Translators: a wick's name; a length, by which the pool is narrower than the vessel */
      result = g_strdup_printf (_("%s: %s narrower"), wick, gap);
    }
  else
    result = g_steal_pointer (&wick);
  return *family == '\0' || !wb_plot_context_has_several (context) ? g_steal_pointer (&result)
                                                                   : g_strdup_printf ("%s · %s", result, family);
}

static void
add_wall (const WbPlotContext *context,
          WbChartPanel        *panel,
          guint                cell)
{
  const WbVessel  *vessel = wb_dataset_get_vessel (context->data, cell);
  double           inner = wb_craft_cell_get_inner_mm (context->data, cell, context->options.stage);
  gboolean         round_one = isnan (vessel->inner_width_mm) || context->options.stage < WB_N_STAGES;
  double           width = round_one ? inner : vessel->inner_diameter_mm, depth = round_one ? inner : vessel->inner_width_mm;
  g_autofree char *diameter = wb_plot_dup_set_value (context, WB_UNIT_MM, inner);
  g_autofree char *label = g_strdup_printf (_("wall, %s"), diameter);

  wb_chart_axis_set_unit (wb_chart_panel_get_x (panel), context->options.units[WB_QUANTITY_LENGTH]);
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), context->options.units[WB_QUANTITY_LENGTH]);
  wb_chart_layer_add_wall (panel, label, 0.0, 0.0, width, depth);
}

static void
add_rings (const WbPlotContext *context,
           WbChartPanel        *panel,
           guint                cell,
           const Rings         *rings)
{
  double                inner = wb_craft_cell_get_inner_mm (context->data, cell, context->options.stage);
  g_autofree char      *name = wb_plot_dup_wick_name (context, cell);
  g_autoptr (GPtrArray) labels = g_ptr_array_new_with_free_func (g_free);
  double                diameters[MOST_HOURS];
  guint8                marks[MOST_HOURS];

  for (guint i = 0; i < rings->n_hours; i++)
    {
      const Hour *hour = &rings->hours[i];

      diameters[i] = hour->n == 0 ? NAN : is_full (hour) ? inner : hour->sum_mm / hour->n;
      marks[i] = is_full (hour) ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
      g_ptr_array_add (labels, wb_quantity_format (WB_UNIT_HOUR, (i + 1) * 3600.0, 0));
    }
  if (rings->n_hours == 0)
    {
      wb_chart_panel_set_empty_text (panel, _("No melt pool was read on the hour"));
      return;
    }

  WbChartLayer *layer = wb_chart_layer_add_rings (panel, name, wb_plot_get_series (context->data, cell), 0.0, 0.0, rings->n_hours,
                                                  diameters, (const char *const *) labels->pdata);
  wb_chart_layer_set_marks (layer, rings->n_hours, marks);
}

/* Among the leader's family the best in rank whose pool came at another hour, or not; G_MAXUINT: none was read. */
static guint
find_contrast (const WbPlotContext *context,
               const GArray        *cells,
               const Rings         *first)
{
  guint leader = g_array_index (cells, guint, 0), other = G_MAXUINT;

  for (guint i = 1; i < cells->len; i++)
    {
      guint cell = g_array_index (cells, guint, i);
      Rings rings = rings_of (context, cell);

      if (context->family[cell] != context->family[leader] || rings.n_hours == 0)
        continue;
      if (get_full_hour (&rings) != get_full_hour (first))
        return cell;
      if (other == G_MAXUINT)
        other = cell;
    }
  return other;
}

static char *
dup_title (const WbPlotContext *context,
           const GArray        *cells)
{
  if (cells->len == 0)
    return g_strdup (_("No combination to show"));

  guint            leader = g_array_index (cells, guint, 0);
  Rings            first = rings_of (context, leader);
  guint            contrast = find_contrast (context, cells, &first);
  g_autofree char *clause = dup_clause (context, leader, &first);
  g_autofree char *finding = NULL;

  if (contrast != G_MAXUINT)
    {
      Rings            rings = rings_of (context, contrast);
      g_autofree char *other = dup_clause (context, contrast, &rings);

      finding = g_strdup_printf (_("%s; %s"), clause, other);
    }
  else
    finding = g_steal_pointer (&clause);
  if (!wb_plot_context_mixes (context, cells))
    return g_steal_pointer (&finding);

  g_autofree char *family = wb_plot_dup_family_name (context, context->family[leader], TRUE);

  /* Translators: vessel and scent; what was found there */
  return g_strdup_printf (_("%s: %s"), family, finding);
}

static char *
dup_description (const WbPlotContext *context,
                 const GArray        *cells,
                 const char          *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, _("Vessels from above, to scale, with a ring for the melt pool at each full hour, the mean of the burns."));
  for (guint i = 0; i < cells->len; i++)
    {
      guint            cell = g_array_index (cells, guint, i);
      Rings            rings = rings_of (context, cell);
      g_autofree char *name = wb_plot_dup_cell_name (context, cell);

      g_string_append_printf (text, " %s:", name);
      for (guint hour = 0; hour < rings.n_hours; hour++)
        if (rings.hours[hour].n > 0)
          {
            g_autofree char *diameter = wb_plot_dup_figure (context, WB_FIGURE_POOL, rings.hours[hour].sum_mm / rings.hours[hour].n);

            /* Translators: number of the hour; diameter; readings at the wall; readings */
            g_string_append_printf (text, _(" %u\302\240h %s (%u of %u at the wall)%s"), hour + 1, diameter, rings.hours[hour].at_wall,
                                    rings.hours[hour].n, hour + 1 < rings.n_hours ? "," : ".");
          }
      if (rings.n_hours == 0)
        g_string_append_printf (text, " %s.", _("not read on the hour"));
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

WbChart *
wb_plot_rings_new (const WbCraftAnswer *answer,
                   const WbPlotOptions *options,
                   GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };
  guint                  readings = 0;

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  g_autoptr (GArray) cells = wb_plot_context_pick_cells (&context, G_MAXUINT, MOST_PANELS);
  g_autofree char   *title = dup_title (&context, cells);
  g_autofree char   *description = dup_description (&context, cells, title);
  WbChart           *chart = wb_chart_new (title, description);
  gboolean           mixed = wb_plot_context_mixes (&context, cells);
  guint              n_columns = cells->len <= 3 ? MAX (cells->len, 1) : cells->len == 4 ? 4 : (cells->len + 1) / 2;

  wb_plot_cells_sort (cells);
  for (guint i = 0; i < cells->len; i++)
    {
      guint            cell = g_array_index (cells, guint, i);
      Rings            rings = rings_of (&context, cell);
      g_autofree char *name = dup_panel_title (&context, cell, &rings, mixed);
      WbChartPanel    *panel = wb_chart_add_panel (chart, i / n_columns, i % n_columns, name);

      add_wall (&context, panel, cell);
      add_rings (&context, panel, cell, &rings);
      readings += rings.readings;
    }
  if (cells->len == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to show"));

  g_autofree char *n = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Mean of %u reading.", "Mean of %u readings.", readings), readings);
  guint            all = wb_plot_context_count_shown (&context, G_MAXUINT);
  g_autofree char *some = all > cells->len ? g_strdup_printf (_("The %u leading combinations of %u."), cells->len, all) : g_strdup ("");
  g_autofree char *where = wb_plot_dup_common_family (&context, cells);
  wb_plot_set_footnote (&context, chart, where, _("A ring for each hour after lighting, from the inside; dashed: at the wall in most burns."), n, some, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  return chart;
}
