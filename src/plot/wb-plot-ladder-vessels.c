/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/*
 * A vessel from above, to scale: the limit of the pool with its interval, and within it the pool on each hour. It ends at the wall,
 * wherever the law of its growth goes beyond.
 */

/* The circles of one wick. */
typedef struct
{
  double x, y;    /* mm, its place */
  double share;   /* of the foretold pool of the whole vessel, as a diameter */
  double most_mm; /* what it has to fill */
} Place;

/* Of several wicks each one's circle is 1 ÷ √n as wide as the whole pool: they share the vessel's section evenly (common practice). They
 * stand evenly on a ring, such that the circles that each has to fill reach the wall; one stands in the middle. */
static Place
get_place (const WbPlotLadder *self,
           guint               wick)
{
  double inner = self->ladder->question.inner_diameter_mm;
  guint  n = MAX (self->ladder->question.wicks, 1);
  double share = 1.0 / sqrt (n), angle = G_PI / 2.0 + 2.0 * G_PI * wick / n;
  double radius = n > 1 ? wb_craft_ladder_spacing_mm (inner, n) / 2.0 / sin (G_PI / n) : 0.0;

  return (Place) { radius * cos (angle), radius * sin (angle), share, inner * share };
}

static gboolean
reaches_wall (const WbPlotLadder *self,
              double              pool_mm)
{
  return pool_mm >= self->ladder->question.inner_diameter_mm;
}

static char *
dup_limit_note (const WbPlotLadder      *self,
                const WbCraftForetoldAt *at)
{
  g_autofree char *limit = wb_plot_dup_interval (&self->context, WB_FIGURE_POOL_LIMIT, at->pool_limit_mm);
  g_autofree char *full = wb_plot_dup_interval (&self->context, WB_FIGURE_FULL_POOL, at->full_pool_h);

  /* Translators: a diameter and a time, each with its interval */
  return *full != '\0' ? g_strdup_printf (_("limit of the pool %s, full melt pool %s"), limit, full)
                       : g_strdup_printf (_("limit of the pool %s"), limit);
}

/* named: with its words; of several wicks one is, for they are alike. */
static void
add_limit (const WbPlotLadder      *self,
           WbChartPanel            *panel,
           const char              *name,
           const WbCraftForetoldAt *at,
           const Place             *place,
           gboolean                 named)
{
  double           diameter = fmin (at->pool_limit_mm.value * place->share, place->most_mm);
  double           low = fmin (at->pool_limit_mm.low * place->share, place->most_mm);
  double           high = isnan (at->pool_limit_mm.high) ? place->most_mm : fmin (at->pool_limit_mm.high * place->share, place->most_mm);
  gboolean         wall = reaches_wall (self, at->pool_limit_mm.value);
  guint8           mark = wall ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
  g_autofree char *told = wb_plot_dup_figure (&self->context, WB_FIGURE_POOL_LIMIT, at->pool_limit_mm.value);
  /* Translators: a diameter, at most a dozen letters with it: where the melt pool stops growing */
  g_autofree char *label = named && !wall ? g_strdup_printf (_("limit %s"), told) : g_strdup ("");
  g_autofree char *note = named ? dup_limit_note (self, at) : NULL;
  const char      *labels[] = { label }, *notes[] = { note };
  WbChartLayer    *layer = wb_chart_layer_add_rings (panel, name, 0, place->x, place->y, 1, &diameter, labels);

  wb_chart_layer_set_marks (layer, 1, &mark);
  wb_chart_layer_set_notes (layer, 1, notes);
  if (isfinite (at->pool_limit_mm.low))
    wb_chart_layer_set_ring_band (layer, 1, &low, &high);
}

/* Up to the first hour at which it is full: what comes later lies on the wall, too. */
static guint
count_hours (const WbPlotLadder      *self,
             const WbCraftForetoldAt *at)
{
  guint n = 0;

  while (n < WB_CRAFT_LADDER_HOURS && isfinite (at->pool_mm[n].value))
    if (reaches_wall (self, at->pool_mm[n++].value))
      break;
  return n;
}

/* "3 h, due" where the full melt pool is due then. */
static char *
dup_hour (const WbPlotLadder *self,
          double              hour)
{
  const WbCraftLadderQuestion *question = &self->ladder->question;
  double                       due_h = wb_craft_ladder_due_h (self->ladder);
  g_autofree char             *time = wb_quantity_format (WB_UNIT_HOUR, hour * 3600.0, 0);

  if (hour < question->window_low * due_h || hour > question->window_high * due_h)
    return g_steal_pointer (&time);
  /* Translators: a time after lighting at which the full melt pool is due; as short as can be */
  return g_strdup_printf (_("%s, due"), time);
}

/* Of several wicks around one: they are alike, and where their circles lie on each other no hour could be told. */
static void
add_hours (const WbPlotLadder      *self,
           WbChartPanel            *panel,
           const char              *name,
           const WbCraftForetoldAt *at,
           const Place             *place)
{
  guint                 n = count_hours (self, at);
  g_autoptr (GPtrArray) labels = g_ptr_array_new_with_free_func (g_free), notes = g_ptr_array_new_with_free_func (g_free);
  double                diameters[WB_CRAFT_LADDER_HOURS];
  guint8                marks[WB_CRAFT_LADDER_HOURS];
  WbChartLayer         *layer;

  if (n == 0)
    return;
  for (guint hour = 0; hour < n; hour++)
    {
      gboolean wall = reaches_wall (self, at->pool_mm[hour].value);

      diameters[hour] = fmin (at->pool_mm[hour].value * place->share, place->most_mm);
      marks[hour] = wall ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
      g_ptr_array_add (labels, dup_hour (self, hour + 1.0));
      g_ptr_array_add (notes, wb_plot_dup_interval (&self->context, WB_FIGURE_POOL_LIMIT, at->pool_mm[hour]));
    }
  layer = wb_chart_layer_add_rings (panel, name, 0, place->x, place->y, n, diameters, (const char *const *) labels->pdata);
  wb_chart_layer_set_marks (layer, n, marks);
  wb_chart_layer_set_notes (layer, n, (const char *const *) notes->pdata);
}

static void
add_wall (const WbPlotLadder *self,
          WbChartPanel       *panel)
{
  double           inner = self->ladder->question.inner_diameter_mm, thickness = self->ladder->question.wall_mm;
  g_autofree char *diameter = wb_plot_dup_set_value (&self->context, WB_UNIT_MM, inner);
  g_autofree char *label = g_strdup_printf (_("wall, %s"), diameter);
  WbChartLayer    *wall = wb_chart_layer_add_wall (panel, label, 0.0, 0.0, inner, inner);

  if (thickness > 0.0)
    wb_chart_layer_set_wall_thickness (wall, thickness);
}

static char *
dup_panel_title (const WbPlotLadder      *self,
                 const char              *name,
                 const WbCraftForetoldAt *at,
                 WbCraftFillPlace         place)
{
  g_autofree char *result = wb_plot_ladder_dup_result (self, at);

  if (self->places != WB_PLOT_LADDER_BOTH)
    return g_strdup_printf ("%s: %s", name, result);
  /* Translators: where in the fill; a wick; what its pool does */
  return place == WB_CRAFT_FILL_TOP ? g_strdup_printf (_("Top, %s: %s"), name, result) : g_strdup_printf (_("Bottom, %s: %s"), name, result);
}

static void
add_vessel (const WbPlotLadder      *self,
            WbChart                 *chart,
            const WbCraftLadderStep *step,
            WbCraftFillPlace         where,
            guint                    row,
            guint                    column)
{
  WbCraftForetoldAt at = wb_plot_ladder_get_foretold (step, where);
  g_autofree char  *name = wb_plot_ladder_dup_name (self->ladder, step);
  g_autofree char  *title = dup_panel_title (self, name, &at, where);
  WbChartPanel     *panel = wb_chart_add_panel (chart, row, column, title);

  wb_chart_axis_set_unit (wb_chart_panel_get_x (panel), self->context.options.units[WB_QUANTITY_LENGTH]);
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), self->context.options.units[WB_QUANTITY_LENGTH]);
  add_wall (self, panel);
  /* the title says it: in a small panel the words would lie on the scale */
  wb_chart_panel_set_empty_text (panel, "");
  for (guint wick = 0; wick < MAX (self->ladder->question.wicks, 1) && !isnan (at.pool_limit_mm.value); wick++)
    {
      Place place = get_place (self, wick);

      add_limit (self, panel, name, &at, &place, wick == 0);
      if (wick == 0)
        add_hours (self, panel, name, &at, &place);
    }
}

guint
wb_plot_ladder_add_vessels (const WbPlotLadder *self,
                            WbChart            *chart,
                            WbCraftFillPlace    place,
                            guint               first_row)
{
  guint n = 0;

  for (guint i = 0; i < self->ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = wb_plot_ladder_get_step (self->ladder, i);

      if (!step->in_ladder)
        continue;
      add_vessel (self, chart, step, place, first_row + n / self->n_columns, n % self->n_columns);
      n++;
    }
  return first_row + (n + self->n_columns - 1) / self->n_columns;
}
