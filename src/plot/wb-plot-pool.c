/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-pool-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-outcome-private.h"
#include "wb-plot-words-private.h"

#define N_CURVE 81
/* Readings of cells that stand side by side are set apart by this share of an hour. */
#define APART_S 180.0

typedef struct
{
  GArray    *x, *y;   /* double: s, mm */
  GArray    *marks;   /* guint8 */
  GPtrArray *notes;   /* sample code and burn */
} Readings;

static Readings
readings_new (void)
{
  return (Readings) { g_array_new (FALSE, FALSE, sizeof (double)), g_array_new (FALSE, FALSE, sizeof (double)),
                      g_array_new (FALSE, FALSE, sizeof (guint8)), g_ptr_array_new_with_free_func (g_free) };
}

static void
readings_clear (Readings *self)
{
  g_array_unref (self->x);
  g_array_unref (self->y);
  g_array_unref (self->marks);
  g_ptr_array_unref (self->notes);
}

static void
read_burn (const WbPlotContext *context,
           const WbCraftBurn   *burn,
           double               shift,
           Readings            *readings,
           WbPlotPoolCounts    *counts)
{
  const WbDataset *data = context->data;
  double           inner = wb_craft_cell_get_inner_mm (data, burn->cell, burn->stage);
  gboolean         counted = wb_plot_context_burn_counts (context, burn) && !burn->ring_held;
  guint            first, n;

  wb_readings_get_burn_rows (data->readings, burn->burn, &first, &n);
  for (guint row = first; row < first + n; row++)
    {
      double minutes = wb_readings_get_elapsed_min (data->readings, row);
      WbPool pool;

      if (!(minutes > 0.0) || !wb_readings_get_pool (data->readings, row, inner, &pool))
        continue;
      if (!counted)
        {
          counts->left_out++;
          continue;
        }

      double x = minutes * 60.0 + shift;
      guint8 mark = pool.both_at_wall ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
      g_array_append_val (readings->x, x);
      g_array_append_val (readings->y, pool.diameter_mm);
      g_array_append_val (readings->marks, mark);
      g_ptr_array_add (readings->notes,
                       /* Translators: sample code; number of the burn */
                       g_strdup_printf (_("%s, burn %" G_GINT64_FORMAT), wb_dataset_get_sample (data, burn->sample)->code,
                                        wb_dataset_get_burn (data, burn->burn)->number));
      counts->readings++;
      counts->at_wall += pool.both_at_wall;
    }
}

static gboolean
is_of_other_stage (const WbPlotContext *context,
                   const WbCraftBurn   *burn)
{
  return context->options.stage < WB_N_STAGES && burn->stage != context->options.stage;
}

/* Markers of a line, not joined: named ones get their name at the end, as a curve would. */
static void
add_readings (const WbPlotContext *context,
              WbChartPanel        *panel,
              guint                cell,
              double               shift,
              const char          *name,
              gboolean             thin,
              WbPlotPoolCounts    *counts)
{
  Readings readings = readings_new ();

  for (guint i = 0; i < context->answer->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &context->answer->figures->burns[i];

      if (burn->cell == cell && !is_of_other_stage (context, burn)
          && (context->options.sample < 0 || burn->sample == (guint) context->options.sample))
        read_burn (context, burn, shift, &readings, counts);
    }
  if (readings.x->len > 0)
    {
      WbChartLayer *layer = wb_chart_layer_add_line (panel, name, wb_plot_get_series (context->data, cell),
                                                     WB_CHART_LINE_MARKERS | (thin ? WB_CHART_LINE_THIN : 0), readings.x->len,
                                                     (const double *) readings.x->data, (const double *) readings.y->data);

      wb_chart_layer_set_marks (layer, readings.marks->len, (const guint8 *) readings.marks->data);
      wb_chart_layer_set_notes (layer, readings.notes->len, (const char *const *) readings.notes->pdata);
    }
  readings_clear (&readings);
}

static gboolean
has_curve (const WbCraftGrowth *growth)
{
  return growth != NULL && !isnan (wb_craft_growth_at (growth, 1.0));
}

/* A pool stops at the wall: curve and band end there. */
static void
add_curve (const WbPlotContext *context,
           WbChartPanel        *panel,
           guint                cell,
           const char          *name,
           double               hours)
{
  const WbCraftGrowth *growth = wb_plot_context_get_growth (context, cell);
  double               inner = wb_craft_cell_get_inner_mm (context->data, cell, context->options.stage);
  int                  series = wb_plot_get_series (context->data, cell);
  double               x[N_CURVE], y[N_CURVE], low[N_CURVE], high[N_CURVE];

  for (guint i = 0; i < N_CURVE; i++)
    {
      double          t = hours * i / (N_CURVE - 1);
      WbCraftInterval band = wb_craft_growth_band (growth, t);

      x[i] = t * 3600.0;
      y[i] = fmin (wb_craft_growth_at (growth, t), inner);
      low[i] = isnan (band.low) ? NAN : CLAMP (band.low, 0.0, inner);
      high[i] = isnan (band.high) ? NAN : CLAMP (band.high, 0.0, inner);
    }
  wb_chart_layer_add_band (panel, name, series, N_CURVE, x, low, high);
  wb_chart_layer_add_line (panel, name, series, WB_CHART_LINE_JOINED, N_CURVE, x, y);
}

void
wb_plot_pool_add_cell (const WbPlotContext *context,
                       WbChartPanel        *panel,
                       guint                cell,
                       guint                place,
                       guint                n,
                       gboolean             named,
                       WbPlotPoolCounts    *counts)
{
  g_autofree char *name = wb_plot_dup_wick_name (context, cell);
  gboolean         curve = has_curve (wb_plot_context_get_growth (context, cell));
  double           shift = (place - (n - 1) / 2.0) * APART_S;

  if (curve)
    add_curve (context, panel, cell, named ? name : NULL, counts->hours);
  add_readings (context, panel, cell, shift, name, curve || !named, counts);
}

void
wb_plot_pool_add_frame (const WbPlotContext *context,
                        WbChartPanel        *panel,
                        guint                cell,
                        double               hours,
                        gboolean             labels)
{
  double           inner = wb_craft_cell_get_inner_mm (context->data, cell, context->options.stage);
  WbChartAxis     *x = wb_chart_panel_get_x (panel), *y = wb_chart_panel_get_y (panel);
  g_autofree char *diameter = wb_plot_dup_quantity (context, WB_UNIT_MM, inner, -1);
  g_autofree char *wall = g_strdup_printf (_("wall, %s"), diameter);
  double           low, high;

  wb_chart_axis_set_scale (x, WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (x, WB_UNIT_HOUR);
  wb_chart_axis_set_label (x, _("Time after lighting"));
  wb_chart_axis_set_range (x, 0.0, hours * 3600.0);
  wb_chart_axis_set_grid (x, FALSE);
  wb_plot_axis_set_figure (context, y, WB_FIGURE_POOL);
  wb_chart_axis_set_range (y, 0.0, NAN);
  wb_chart_axis_include (y, inner * 1.08);
  if (wb_plot_outcome_get_window (context, cell, &low, &high))
    wb_chart_layer_add_region (panel, labels ? _("full melt pool due") : NULL, WB_CHART_RULE_AIM, WB_CHART_X, low * 3600.0, high * 3600.0);
  wb_chart_layer_add_rule (panel, labels ? wall : NULL, WB_CHART_RULE_WALL, WB_CHART_Y, inner);
}

double
wb_plot_pool_get_hours (const WbPlotContext *context,
                        const GArray        *cells)
{
  double hours = wb_plot_outcome_get_burn_h (context);

  for (guint i = 0; i < context->answer->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &context->answer->figures->burns[i];
      gboolean           shown = FALSE;

      if (!wb_plot_context_burn_counts (context, burn) || isnan (burn->pool_mm))
        continue;
      for (guint k = 0; k < cells->len && !shown; k++)
        shown = g_array_index (cells, guint, k) == burn->cell;
      if (shown && !isnan (burn->last_min))
        hours = fmax (hours, burn->last_min / 60.0);
    }
  /* Air for the markers of the last reading, and a bound for a log with an absurd minute in it. */
  return fmin (hours, 48.0) * 1.04;
}

char *
wb_plot_pool_dup_note (const WbPlotPoolCounts *counts)
{
  g_autoptr (GString) note = g_string_new (NULL);

  g_string_append_printf (note, g_dngettext (GETTEXT_PACKAGE, "%u reading", "%u readings", counts->readings), counts->readings);
  if (counts->at_wall > 0)
    g_string_append_printf (note, g_dngettext (GETTEXT_PACKAGE, ", %u of them at the wall (open: at least)",
                                               ", %u of them at the wall (open: at least)", counts->at_wall), counts->at_wall);
  if (counts->left_out > 0)
    g_string_append_printf (note, g_dngettext (GETTEXT_PACKAGE, "; %u not counted, not drawn", "; %u not counted, not drawn",
                                               counts->left_out), counts->left_out);
  g_string_append (note, ".");
  return g_string_free (g_steal_pointer (&note), FALSE);
}
