/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Markers of lines and points, and the bars of intervals. Many markers become dots, one a pixel. */
#include "config.h"

#include "wb-chart-markers-private.h"

#include <math.h>

#define SIZE 5.4
#define SMALL_SIZE 3.4
#define DOT_SIZE 1.6
/* More values than this are dots. */
#define MANY 1500
/* Rectangles filled at a time. */
#define DOTS_A_FILL 2000
#define CAP 2.4
#define ARROW 6.0

static gboolean
place (const WbChartPen   *pen,
       const WbChartLayer *layer,
       gsize               index,
       double             *x,
       double             *y)
{
  return wb_chart_value_get_point (pen->frame, layer, index, x, y);
}

static void
draw_dots (const WbChartPen   *pen,
           const WbChartLayer *layer)
{
  const WbChartRect *plot = &pen->frame->plot;
  double             step = fmax (pen->pixel, 0.25);
  gsize              n_columns = (gsize) (plot->width / step) + 3, n_rows = (gsize) (plot->height / step) + 3;
  g_autofree guint8 *seen = g_new0 (guint8, n_columns * n_rows);
  guint              held = 0;

  cairo_new_path (pen->cr);
  wb_chart_paint_set_colour (pen->cr, wb_chart_theme_get_series_colour (pen->theme, layer->series), 1.0);
  for (gsize i = 0; i < layer->n; i++)
    {
      double x, y;

      if (!place (pen, layer, i, &x, &y))
        continue;

      gsize cell = (gsize) ((y - plot->y + 1.0) / step) * n_columns + (gsize) ((x - plot->x + 1.0) / step);
      if (cell >= n_columns * n_rows || seen[cell])
        continue;
      seen[cell] = 1;
      cairo_rectangle (pen->cr, x - DOT_SIZE / 2.0, y - DOT_SIZE / 2.0, DOT_SIZE, DOT_SIZE);
      if (++held == DOTS_A_FILL)
        {
          cairo_fill (pen->cr);
          held = 0;
        }
    }
  cairo_fill (pen->cr);
}

static void
draw_arrow (const WbChartPen *pen,
            double            x,
            double            y,
            double            size,
            WbChartDirection  direction)
{
  double away = size / 2.0 + 0.8, tip = size / 2.0 + ARROW, head = 2.2;

  cairo_set_line_width (pen->cr, 1.1);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  if (direction == WB_CHART_X)
    {
      cairo_move_to (pen->cr, x + away, y);
      cairo_line_to (pen->cr, x + tip, y);
      cairo_move_to (pen->cr, x + tip - head, y - head);
      cairo_line_to (pen->cr, x + tip, y);
      cairo_line_to (pen->cr, x + tip - head, y + head);
    }
  else
    {
      cairo_move_to (pen->cr, x, y - away);
      cairo_line_to (pen->cr, x, y - tip);
      cairo_move_to (pen->cr, x - head, y - tip + head);
      cairo_line_to (pen->cr, x, y - tip);
      cairo_line_to (pen->cr, x + head, y - tip + head);
    }
  cairo_stroke (pen->cr);
}

void
wb_chart_markers_draw (const WbChartPen   *pen,
                       const WbChartLayer *layer,
                       WbChartDirection    arrow,
                       gboolean            small)
{
  double size = (small || layer->n > 200 ? SMALL_SIZE : SIZE) * pen->size;

  cairo_save (pen->cr);
  /* A marker on the edge is drawn whole, with its arrow. */
  wb_chart_draw_clip (pen, SIZE / 2.0 + ARROW);
  if (layer->n > MANY && layer->marks == NULL)
    draw_dots (pen, layer);
  else
    for (gsize i = 0; i < layer->n; i++)
      {
        WbChartMark mark = wb_chart_layer_get_mark (layer, i);
        double      x, y;

        if (!place (pen, layer, i, &x, &y))
          continue;
        wb_chart_paint_marker (pen->cr, pen->theme, layer->series, x, y, size, mark);
        if (mark == WB_CHART_MARK_AT_LEAST)
          draw_arrow (pen, x, y, size, arrow);
      }
  cairo_restore (pen->cr);
}

static void
draw_interval (const WbChartPen   *pen,
               const WbChartLayer *layer,
               gsize               index)
{
  gboolean          across = layer->direction == WB_CHART_X;
  const WbChartMap *along = across ? &pen->frame->x : &pen->frame->y;
  double x = wb_chart_map_at (&pen->frame->x, layer->x[index]),
         y = wb_chart_map_at (&pen->frame->y, layer->y[index]);
  double ends[]
      = { wb_chart_map_at (along, layer->low[index]), wb_chart_map_at (along, layer->high[index]) };
  double            cap = CAP * pen->size;

  if (isnan (x) || isnan (y))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      if (isnan (ends[i]))
        continue;

      if (across)
        {
          cairo_move_to (pen->cr, x, y);
          cairo_line_to (pen->cr, ends[i], y);
          cairo_move_to (pen->cr, ends[i], y - cap);
          cairo_line_to (pen->cr, ends[i], y + cap);
        }
      else
        {
          cairo_move_to (pen->cr, x, y);
          cairo_line_to (pen->cr, x, ends[i]);
          cairo_move_to (pen->cr, x - cap, ends[i]);
          cairo_line_to (pen->cr, x + cap, ends[i]);
        }
    }
  cairo_stroke (pen->cr);
}

void
wb_chart_draw_points (const WbChartPen   *pen,
                      const WbChartLayer *layer)
{
  if (layer->low != NULL)
    {
      cairo_save (pen->cr);
      wb_chart_draw_clip (pen, 1.0);
      cairo_new_path (pen->cr);
      wb_chart_paint_set_colour (pen->cr, wb_chart_theme_get_series_colour (pen->theme, layer->series), 1.0);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
      cairo_set_line_width (pen->cr, 1.2 * pen->size * wb_chart_paint_get_weight (pen->theme));
      for (gsize i = 0; i < layer->n; i++)
        draw_interval (pen, layer, i);
      cairo_restore (pen->cr);
    }
  wb_chart_markers_draw (pen, layer, layer->low == NULL ? WB_CHART_Y : layer->direction, FALSE);
}
