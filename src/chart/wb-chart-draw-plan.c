/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A vessel from above, and the strips across a plot: rules and regions. */
#include "config.h"

#include <math.h>

#include "wb-chart-draw-private.h"

static void
ellipse (cairo_t *cr,
         double   x,
         double   y,
         double   radius_x,
         double   radius_y)
{
  cairo_new_path (cr);
  if (radius_x <= 0.0 || radius_y <= 0.0)
    return;
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, radius_x, radius_y);
  cairo_arc (cr, 0.0, 0.0, 1.0, 0.0, 2.0 * G_PI);
  cairo_close_path (cr);
  cairo_restore (cr);
}

void
wb_chart_draw_wall (const WbChartPen   *pen,
                    const WbChartLayer *layer)
{
  double scale = fabs (pen->frame->x.scale);
  double x = wb_chart_map_at (&pen->frame->x, layer->centre_x),
         y = wb_chart_map_at (&pen->frame->y, layer->centre_y);
  double radius_x = layer->width / 2.0 * scale, radius_y = layer->depth / 2.0 * scale;

  if (isnan (x) || isnan (y) || isnan (radius_x) || isnan (radius_y))
    return;

  /* The inner edge is the measured one; the glass stands outside it. */
  double glass = layer->thickness_mm > 0.0 ? layer->thickness_mm * scale : CLAMP (radius_x * 0.04, 0.8, 3.0);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_GRID);
  cairo_set_line_width (pen->cr, glass);
  ellipse (pen->cr, x, y, radius_x + glass / 2.0, radius_y + glass / 2.0);
  cairo_stroke (pen->cr);
  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_INK);
  cairo_set_line_width (pen->cr, CLAMP (radius_x * 0.02, 0.7, 1.2) * wb_chart_paint_get_weight (pen->theme));
  ellipse (pen->cr, x, y, radius_x, radius_y);
  cairo_stroke (pen->cr);
  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_AXIS);
  cairo_set_line_width (pen->cr, 0.6);
  ellipse (pen->cr, x, y, radius_x + glass, radius_y + glass);
  cairo_stroke (pen->cr);
}

static void
set_ring (cairo_t      *cr,
          WbChartTheme  theme,
          int           series,
          guint         index,
          guint         n,
          WbChartMark   mark)
{
  static const double dashed[] = { 4.0, 2.5 };
  double              late = n < 2 ? 1.0 : (double) index / (n - 1);

  wb_chart_paint_set_colour (cr, wb_chart_theme_get_series_colour (theme, series), 0.55 + 0.45 * late);
  cairo_set_line_width (cr, (0.7 + 1.0 * late) * wb_chart_paint_get_weight (theme));
  cairo_set_dash (cr, mark == WB_CHART_MARK_PLAIN ? NULL : dashed, mark == WB_CHART_MARK_PLAIN ? 0 : 2, 0.0);
}

/* How sure a circle is: what lies between the ends of its interval, which may lie on each other. */
static void
draw_ring_band (const WbChartPen   *pen,
                const WbChartLayer *layer,
                gsize               index,
                double              x,
                double              y)
{
  double        scale = fabs (pen->frame->x.scale);
  double        inner = layer->low[index] / 2.0 * scale, outer = layer->high[index] / 2.0 * scale;
  WbChartColour colour = wb_chart_theme_get_series_colour (pen->theme, layer->series);

  if (!(inner >= 0.0 && outer > inner))
    return;
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, x, y, outer, 0.0, 2.0 * G_PI);
  cairo_new_sub_path (pen->cr);
  cairo_arc_negative (pen->cr, x, y, inner, 2.0 * G_PI, 0.0);
  wb_chart_paint_set_colour (pen->cr, colour, 0.28);
  cairo_fill (pen->cr);
  wb_chart_paint_set_colour (pen->cr, colour, 0.75);
  cairo_set_line_width (pen->cr, 0.6 * wb_chart_paint_get_weight (pen->theme));
  ellipse (pen->cr, x, y, inner, inner);
  cairo_stroke (pen->cr);
  ellipse (pen->cr, x, y, outer, outer);
  cairo_stroke (pen->cr);
}

void
wb_chart_draw_rings (const WbChartPen   *pen,
                     const WbChartLayer *layer)
{
  double        scale = fabs (pen->frame->x.scale);
  double x = wb_chart_map_at (&pen->frame->x, layer->centre_x),
         y = wb_chart_map_at (&pen->frame->y, layer->centre_y);
  WbChartColour colour = wb_chart_theme_get_series_colour (pen->theme, layer->series);

  if (isnan (x) || isnan (y))
    return;

  double largest = 0.0;
  for (gsize i = 0; i < layer->n; i++)
    largest = fmax (largest, layer->x[i] / 2.0 * scale);

  /* Each pool is laid over the earlier ones: what melted first is deepest in colour. */
  for (gsize i = 0; i < layer->n; i++)
    if (layer->x[i] > 0.0)
      {
        wb_chart_paint_set_colour (pen->cr, colour, 0.5 / (layer->n + 3));
        ellipse (pen->cr, x, y, layer->x[i] / 2.0 * scale, layer->x[i] / 2.0 * scale);
        cairo_fill (pen->cr);
      }
  for (gsize i = 0; i < layer->n && layer->low != NULL; i++)
    draw_ring_band (pen, layer, i, x, y);
  for (gsize i = 0; i < layer->n; i++)
    if (layer->x[i] > 0.0)
      {
        set_ring (pen->cr, pen->theme, layer->series, (guint) i, (guint) layer->n, wb_chart_layer_get_mark (layer, i));
        cairo_set_line_width (pen->cr, cairo_get_line_width (pen->cr) * CLAMP (largest / 60.0, 0.45, 1.0));
        ellipse (pen->cr, x, y, layer->x[i] / 2.0 * scale, layer->x[i] / 2.0 * scale);
        cairo_stroke (pen->cr);
      }
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_INK);
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, x, y, fmin (largest * 0.05, 1.5), 0.0, 2.0 * G_PI);
  cairo_fill (pen->cr);
}

static WbChartColourRole
role_of (WbChartRule rule)
{
  switch (rule)
    {
    case WB_CHART_RULE_ASK:
      return WB_CHART_COLOUR_ASK;
    case WB_CHART_RULE_LIMIT:
      return WB_CHART_COLOUR_LIMIT;
    case WB_CHART_RULE_AIM:
      return WB_CHART_COLOUR_AIM;
    case WB_CHART_RULE_WALL:
      return WB_CHART_COLOUR_INK;
    case WB_CHART_RULE_REFERENCE:
    default:
      return WB_CHART_COLOUR_AXIS;
    }
}

void
wb_chart_draw_region (const WbChartPen   *pen,
                      const WbChartLayer *layer)
{
  const WbChartRect *plot = &pen->frame->plot;
  gboolean           across = layer->direction == WB_CHART_X;
  const WbChartMap  *map = across ? &pen->frame->x : &pen->frame->y;
  double             low = wb_chart_map_at (map, isnan (layer->low[0]) ? map->low : layer->low[0]);
  double             high = wb_chart_map_at (map, isnan (layer->high[0]) ? map->high : layer->high[0]);
  WbChartRect strip
      = across ? (WbChartRect) { fmin (low, high), plot->y, fabs (high - low), plot->height }
               : (WbChartRect) { plot->x, fmin (low, high), plot->width, fabs (high - low) };
  WbChartColour      colour = wb_chart_theme_get_colour (pen->theme, role_of (layer->rule));

  if (isnan (low) || isnan (high))
    return;

  cairo_save (pen->cr);
  wb_chart_draw_clip (pen, 0.0);
  wb_chart_paint_set_colour (pen->cr, colour, layer->rule == WB_CHART_RULE_WALL ? 0.04 : 0.11);
  cairo_rectangle (pen->cr, strip.x, strip.y, strip.width, strip.height);
  cairo_fill (pen->cr);
  if (layer->rule == WB_CHART_RULE_WALL || layer->rule == WB_CHART_RULE_LIMIT)
    {
      wb_chart_paint_set_colour (pen->cr, colour, 0.22);
      wb_chart_paint_hatch (pen->cr, 1, strip.x, strip.y, strip.width, strip.height);
    }
  wb_chart_paint_set_colour (pen->cr, colour, 0.45);
  cairo_set_line_width (pen->cr, 0.6);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  for (int edge = 0; edge < 2; edge++)
    {
      double at = edge == 0 ? low : high;

      if (isnan (edge == 0 ? layer->low[0] : layer->high[0]))
        continue;
      cairo_move_to (pen->cr, across ? at : plot->x, across ? plot->y : at);
      cairo_line_to (pen->cr, across ? at : plot->x + plot->width, across ? plot->y + plot->height : at);
    }
  cairo_stroke (pen->cr);
  cairo_restore (pen->cr);
}

static void
set_rule (const WbChartPen *pen,
          WbChartRule       rule)
{
  static const double dashed[] = { 5.0, 3.0 }, dotted[] = { 1.4, 2.2 };
  double              weight = wb_chart_paint_get_weight (pen->theme);

  wb_chart_paint_set_role (pen->cr, pen->theme, role_of (rule));
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  switch (rule)
    {
    case WB_CHART_RULE_ASK:
      cairo_set_line_width (pen->cr, 1.0 * weight);
      cairo_set_dash (pen->cr, dashed, G_N_ELEMENTS (dashed), 0.0);
      break;
    case WB_CHART_RULE_AIM:
      cairo_set_line_width (pen->cr, 1.0 * weight);
      cairo_set_dash (pen->cr, dotted, G_N_ELEMENTS (dotted), 0.0);
      break;
    case WB_CHART_RULE_LIMIT:
    case WB_CHART_RULE_WALL:
      cairo_set_line_width (pen->cr, 1.5 * weight);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
      break;
    case WB_CHART_RULE_REFERENCE:
    default:
      cairo_set_line_width (pen->cr, 0.8 * weight);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
    }
}

void
wb_chart_draw_rule (const WbChartPen   *pen,
                    const WbChartLayer *layer)
{
  const WbChartRect *plot = &pen->frame->plot;
  gboolean           across = layer->direction == WB_CHART_X;
  double             at = wb_chart_map_at (across ? &pen->frame->x : &pen->frame->y, layer->low[0]);

  if (isnan (at))
    return;

  cairo_save (pen->cr);
  wb_chart_draw_clip (pen, layer->rule == WB_CHART_RULE_WALL ? WB_CHART_WALL_HATCH : 0.8);
  if (layer->rule == WB_CHART_RULE_WALL && at > (across ? plot->x : plot->y) - 0.5
      && at < (across ? plot->x + plot->width : plot->y + plot->height) + 0.5)
    {
      wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_AXIS);
      wb_chart_paint_hatch (
          pen->cr, 1, across ? at : plot->x, across ? plot->y : at - WB_CHART_WALL_HATCH,
          across ? WB_CHART_WALL_HATCH : plot->width, across ? plot->height : WB_CHART_WALL_HATCH);
    }
  set_rule (pen, layer->rule);
  cairo_move_to (pen->cr, across ? at : plot->x, across ? plot->y : at);
  cairo_line_to (pen->cr, across ? at : plot->x + plot->width, across ? plot->y + plot->height : at);
  cairo_stroke (pen->cr);
  cairo_restore (pen->cr);
}
