/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What fills rectangles: stacked bars, heat maps, events. */
#include "config.h"

#include <math.h>

#include "wb-chart-draw-private.h"

/* Room between cells; none where they are smaller than a few times that. */
#define CELL_GAP 1.0

void
wb_chart_draw_bars (const WbChartPen   *pen,
                    const WbChartLayer *layer)
{
  cairo_save (pen->cr);
  wb_chart_draw_clip (pen, 0.5);
  for (gsize i = 0; i < layer->n_rows * layer->n_columns; i++)
    {
      WbChartRect rect;
      int series = layer->row_series != NULL ? layer->row_series[i / layer->n_columns]
                                             : WB_CHART_SERIES_NONE;

      if (wb_chart_value_get_rect (pen->frame, layer, i, &rect))
        wb_chart_paint_part (pen->cr, pen->theme, layer->parts, (guint) (i % layer->n_columns),
                             (guint) layer->n_columns, series, rect.x, rect.y, rect.width,
                             rect.height);
    }
  cairo_restore (pen->cr);
}

static void
frame_cell (const WbChartPen  *pen,
            WbChartRect        cell,
            double             width,
            WbChartColourRole  role)
{
  wb_chart_paint_set_role (pen->cr, pen->theme, role);
  cairo_set_line_width (pen->cr, width);
  cairo_rectangle (pen->cr, cell.x + width / 2.0, cell.y + width / 2.0, cell.width - width,
                   cell.height - width);
  cairo_stroke (pen->cr);
}

/* Where numbers do not fit, the size of a dot says the value a second time. */
static void
draw_size (const WbChartPen *pen,
           WbChartRect       cell,
           double            place,
           WbChartColour     fill,
           gboolean          around)
{
  double most = fmin (cell.width, cell.height) * 0.36;
  double radius = most * sqrt (CLAMP (around ? fabs (place) : place, 0.0, 1.0));

  if (most < 1.5 || radius < 0.3)
    return;
  wb_chart_paint_set_colour (pen->cr, wb_chart_paint_ink_on (fill), 0.75);
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, cell.x + cell.width / 2.0, cell.y + cell.height / 2.0, radius, 0.0, 2.0 * G_PI);
  cairo_fill (pen->cr);
}

static void
draw_missing (const WbChartPen *pen,
              WbChartRect       cell)
{
  wb_chart_paint_set_colour (pen->cr, wb_chart_theme_get_colour (pen->theme, WB_CHART_COLOUR_AXIS), 0.4);
  wb_chart_paint_hatch (pen->cr, 3, cell.x, cell.y, cell.width, cell.height);
  frame_cell (pen, cell, 0.6, WB_CHART_COLOUR_GRID);
}

static void
draw_flags (const WbChartPen *pen,
            WbChartRect       cell,
            guint             flags)
{
  static const double dotted[] = { 1.2, 1.8 };

  if (flags & WB_CHART_CELL_CROSSED)
    {
      wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_LIMIT);
      wb_chart_paint_hatch (pen->cr, 1, cell.x, cell.y, cell.width, cell.height);
      frame_cell (pen, cell, 1.6, WB_CHART_COLOUR_LIMIT);
    }
  if (flags & WB_CHART_CELL_UNSURE)
    {
      cairo_set_dash (pen->cr, dotted, G_N_ELEMENTS (dotted), 0.0);
      frame_cell (pen, cell, 1.0, WB_CHART_COLOUR_INK);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
    }
  if (flags & WB_CHART_CELL_CHOSEN)
    frame_cell (pen, cell, 2.2, WB_CHART_COLOUR_INK);
}

void
wb_chart_draw_heat (const WbChartPen   *pen,
                    const WbChartLayer *layer,
                    gboolean            printed)
{
  gboolean around = layer->heat == WB_CHART_HEAT_AROUND;

  cairo_save (pen->cr);
  wb_chart_draw_clip (pen, 0.0);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  for (gsize i = 0; i < layer->n_rows * layer->n_columns; i++)
    {
      WbChartRect cell;

      if (!wb_chart_value_get_rect (pen->frame, layer, i, &cell))
        continue;
      if (fmin (cell.width, cell.height) > 4.0 * CELL_GAP)
        cell = (WbChartRect) { cell.x + CELL_GAP / 2.0, cell.y + CELL_GAP / 2.0,
                              cell.width - CELL_GAP, cell.height - CELL_GAP };
      if (isnan (layer->values[i]))
        {
          draw_missing (pen, cell);
          continue;
        }

      double        place = wb_chart_value_get_place (layer, layer->values[i]);
      WbChartColour fill = wb_chart_theme_get_heat_colour (pen->theme, place, around);
      wb_chart_paint_set_colour (pen->cr, fill, 1.0);
      cairo_rectangle (pen->cr, cell.x, cell.y, cell.width, cell.height);
      cairo_fill (pen->cr);
      if (!printed)
        draw_size (pen, cell, place, fill, around);
      if (layer->cells != NULL)
        draw_flags (pen, cell, layer->cells[i]);
    }
  cairo_restore (pen->cr);
}

void
wb_chart_draw_events (const WbChartPen   *pen,
                      const WbChartLayer *layer)
{
  WbChartColour colour = wb_chart_theme_get_series_colour (pen->theme, layer->series);

  cairo_save (pen->cr);
  wb_chart_draw_clip (pen, 3.0);
  for (gsize i = 0; i < layer->n; i++)
    {
      WbChartRect rect;

      if (!wb_chart_value_get_rect (pen->frame, layer, i, &rect))
        continue;
      if (rect.x + rect.width < pen->frame->plot.x || rect.x > pen->frame->plot.x + pen->frame->plot.width)
        continue;
      if (rect.width < 2.0)
        {
          wb_chart_paint_set_colour (pen->cr, colour, 1.0);
          cairo_rectangle (pen->cr, rect.x - 0.6, rect.y, 1.2, rect.height);
          cairo_fill (pen->cr);
          wb_chart_paint_marker (pen->cr, pen->theme, layer->series, rect.x, rect.y, 4.6,
                                 wb_chart_layer_get_mark (layer, i));
        }
      else
        {
          wb_chart_paint_set_colour (pen->cr, colour, 0.9);
          cairo_rectangle (pen->cr, rect.x, rect.y, rect.width, rect.height);
          cairo_fill (pen->cr);
          wb_chart_paint_set_colour (pen->cr, wb_chart_paint_ink_on (colour), 0.35);
          wb_chart_paint_hatch (pen->cr, layer->series < 0 ? 0 : (guint) layer->series % 6, rect.x,
                                rect.y, rect.width, rect.height);
        }
    }
  cairo_restore (pen->cr);
}
