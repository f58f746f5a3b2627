/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A layout becomes ink: background, axes, layers from the bottom up, then all texts. */
#include "config.h"

#include <math.h>

#include "wb-chart-draw-private.h"

#include "wb-chart-sample.h"

#define TICK 3.0
#define MINOR_TICK 1.6
/* Minor ticks nearer than this, in points, are left out. */
#define MINOR_LEAST 4.5
#define VECTOR_PIXEL 0.25

static gboolean
is_vector (cairo_surface_t *surface)
{
  return cairo_surface_get_type (surface) != CAIRO_SURFACE_TYPE_IMAGE
         && cairo_surface_get_type (surface) != CAIRO_SURFACE_TYPE_XLIB;
}

static double
find_pixel (cairo_t *cr)
{
  cairo_surface_t *surface = cairo_get_target (cr);
  double           x = 1.0, y = 0.0, device_x, device_y;

  if (is_vector (surface))
    return VECTOR_PIXEL;

  cairo_user_to_device_distance (cr, &x, &y);
  cairo_surface_get_device_scale (surface, &device_x, &device_y);

  return 1.0 / fmax (hypot (x * device_x, y * device_y), 1e-3);
}

static gboolean
has_cells (const WbChartFrame *frame)
{
  for (guint i = 0; i < frame->panel->layers->len; i++)
    {
      const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, i);

      if (layer->kind == WB_CHART_LAYER_HEAT && layer->n_rows * layer->n_columns > 0)
        return TRUE;
    }

  return FALSE;
}

static void
draw_grid (const WbChartPen *pen)
{
  const WbChartFrame *frame = pen->frame;
  const WbChartRect  *plot = &frame->plot;

  cairo_new_path (pen->cr);
  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_GRID);
  cairo_set_line_width (pen->cr, 0.6);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  for (gsize i = 0; wb_chart_axis_has_grid (frame->panel->x) && i < frame->x_ticks->n; i++)
    {
      double at = wb_chart_map_at (&frame->x, frame->x_ticks->ticks[i].value);

      cairo_move_to (pen->cr, at, plot->y);
      cairo_line_to (pen->cr, at, plot->y + plot->height);
    }
  for (gsize i = 0; wb_chart_axis_has_grid (frame->panel->y) && i < frame->y_ticks->n; i++)
    {
      double at = wb_chart_map_at (&frame->y, frame->y_ticks->ticks[i].value);

      cairo_move_to (pen->cr, plot->x, at);
      cairo_line_to (pen->cr, plot->x + plot->width, at);
    }
  cairo_stroke (pen->cr);
}

static void
tick (const WbChartPen *pen,
      WbChartDirection  direction,
      double            at,
      double            length)
{
  const WbChartRect *plot = &pen->frame->plot;
  double             bottom = plot->y + plot->height;

  cairo_move_to (pen->cr, direction == WB_CHART_X ? at : plot->x, direction == WB_CHART_X ? bottom : at);
  cairo_line_to (pen->cr, direction == WB_CHART_X ? at : plot->x - length,
                 direction == WB_CHART_X ? bottom + length : at);
}

static void
draw_ticks (const WbChartPen   *pen,
            const WbChartTicks *ticks,
            const WbChartMap   *map,
            WbChartDirection    direction)
{
  double low = fmin (wb_chart_map_at (map, map->low), wb_chart_map_at (map, map->high)) - 0.01;
  double high = fmax (wb_chart_map_at (map, map->low), wb_chart_map_at (map, map->high)) + 0.01;

  for (gsize i = 0; i < ticks->n; i++)
    tick (pen, direction, wb_chart_map_at (map, ticks->ticks[i].value), TICK);
  if (ticks->n_minor == 0 || (high - low) / ticks->n_minor < MINOR_LEAST)
    return;
  for (gsize i = 0; i < ticks->n_minor; i++)
    {
      double at = wb_chart_map_at (map, ticks->minor[i]);

      if (at >= low && at <= high)
        tick (pen, direction, at, MINOR_TICK);
    }
}

static void
draw_axes (const WbChartPen *pen)
{
  const WbChartFrame *frame = pen->frame;
  const WbChartRect  *plot = &frame->plot;
  gboolean            x_category = frame->panel->x->scale == WB_CHART_SCALE_CATEGORY;
  gboolean            y_category = frame->panel->y->scale == WB_CHART_SCALE_CATEGORY;

  /* Cells have their own edges. */
  if (has_cells (frame))
    return;

  cairo_new_path (pen->cr);
  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_AXIS);
  cairo_set_line_width (pen->cr, 0.8 * wb_chart_paint_get_weight (pen->theme));
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_SQUARE);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  cairo_move_to (pen->cr, plot->x, plot->y);
  cairo_line_to (pen->cr, plot->x, plot->y + plot->height);
  cairo_line_to (pen->cr, plot->x + plot->width, plot->y + plot->height);
  if (frame->show_x && !x_category)
    draw_ticks (pen, frame->x_ticks, &frame->x, WB_CHART_X);
  if (frame->show_y && !y_category)
    draw_ticks (pen, frame->y_ticks, &frame->y, WB_CHART_Y);
  cairo_stroke (pen->cr);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
}

/* Whether the layer's cells carry their numbers. */
static gboolean
is_printed (const WbChartPen *pen,
            guint             panel,
            guint             layer)
{
  for (guint i = 0; i < pen->layout->texts->len; i++)
    {
      const WbChartItem *item = &g_array_index (pen->layout->texts, WbChartText, i).item;

      if (item->kind == WB_CHART_ITEM_VALUE && item->panel == (int) panel && item->layer == (int) layer)
        return TRUE;
    }

  return FALSE;
}

/* Around a reading that is over a limit. */
static void
draw_ring (const WbChartPen   *pen,
           const WbChartLayer *layer)
{
  double x = wb_chart_map_at (&pen->frame->x, layer->centre_x), y = wb_chart_map_at (&pen->frame->y, layer->centre_y);

  if (!layer->ringed || isnan (x) || isnan (y) || !wb_chart_rect_has (&pen->frame->plot, x, y))
    return;
  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_LIMIT);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  cairo_set_line_width (pen->cr, 1.4);
  cairo_new_sub_path (pen->cr);
  cairo_arc (pen->cr, x, y, 4.6 * pen->size, 0.0, 2.0 * G_PI);
  cairo_stroke (pen->cr);
}

static void
draw_layer (const WbChartPen   *pen,
            const WbChartLayer *layer,
            guint               panel,
            guint               index)
{
  switch (layer->kind)
    {
    case WB_CHART_LAYER_LINE:
      wb_chart_draw_line (pen, layer);
      break;
    case WB_CHART_LAYER_BAND:
      wb_chart_draw_band (pen, layer);
      break;
    case WB_CHART_LAYER_POINTS:
      wb_chart_draw_points (pen, layer);
      break;
    case WB_CHART_LAYER_RULE:
      wb_chart_draw_rule (pen, layer);
      break;
    case WB_CHART_LAYER_BARS:
      wb_chart_draw_bars (pen, layer);
      break;
    case WB_CHART_LAYER_HEAT:
      wb_chart_draw_heat (pen, layer, is_printed (pen, panel, index));
      break;
    case WB_CHART_LAYER_WALL:
      wb_chart_draw_wall (pen, layer);
      break;
    case WB_CHART_LAYER_RINGS:
      wb_chart_draw_rings (pen, layer);
      break;
    case WB_CHART_LAYER_EVENTS:
      wb_chart_draw_events (pen, layer);
      break;
    case WB_CHART_LAYER_TEXT:
      draw_ring (pen, layer);
      break;
    case WB_CHART_LAYER_REGION:
    default:
      break;
    }
}

static void
draw_panel (const WbChartPen *pen,
            guint             panel)
{
  const WbChartFrame *frame = pen->frame;
  const WbChartRect  *plot = &frame->plot;

  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_PLOT);
  cairo_rectangle (pen->cr, plot->x, plot->y, plot->width, plot->height);
  cairo_fill (pen->cr);

  /* Regions lie under the grid, so that it can be read through them. */
  for (guint i = 0; i < frame->panel->layers->len; i++)
    {
      const WbChartLayer *layer = g_ptr_array_index (frame->panel->layers, i);

      if (layer->kind == WB_CHART_LAYER_REGION)
        wb_chart_draw_region (pen, layer);
    }
  if (!frame->plan)
    {
      if (!frame->empty)
        draw_grid (pen);
      draw_axes (pen);
    }
  for (guint i = 0; i < frame->panel->layers->len; i++)
    draw_layer (pen, g_ptr_array_index (frame->panel->layers, i), panel, i);
}

static void
draw_leader (const WbChartPen  *pen,
             const WbChartText *text)
{
  WbChartColour colour = text->series < 0 ? wb_chart_theme_get_colour (pen->theme, WB_CHART_COLOUR_AXIS)
                                          : wb_chart_theme_get_series_colour (pen->theme, text->series);

  wb_chart_paint_set_colour (pen->cr, colour, 0.75);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  cairo_set_line_width (pen->cr, 0.6);
  cairo_move_to (pen->cr, text->from_x, text->from_y);
  cairo_line_to (pen->cr, text->to_x, text->to_y);
  cairo_stroke (pen->cr);
}

static void
draw_gradient (const WbChartPen  *pen,
               const WbChartText *text)
{
  const WbChartRect *box = &text->sample_rect;
  cairo_pattern_t   *pattern = cairo_pattern_create_linear (box->x, 0.0, box->x + box->width, 0.0);

  for (int stop = 0; stop <= 8; stop++)
    {
      WbChartColour colour = wb_chart_theme_get_heat_colour (
          pen->theme, text->around ? stop / 4.0 - 1.0 : stop / 8.0, text->around);

      cairo_pattern_add_color_stop_rgb (pattern, stop / 8.0, colour.red, colour.green, colour.blue);
    }
  cairo_set_source (pen->cr, pattern);
  cairo_rectangle (pen->cr, box->x, box->y, box->width, box->height);
  cairo_fill (pen->cr);
  cairo_pattern_destroy (pattern);
}

static void
draw_bar (const WbChartPen  *pen,
          const WbChartText *text)
{
  const WbChartRect *box = &text->sample_rect;
  double             y = box->y + box->height / 2.0;

  wb_chart_paint_set_role (pen->cr, pen->theme, WB_CHART_COLOUR_INK_SOFT);
  cairo_set_dash (pen->cr, NULL, 0, 0.0);
  cairo_set_line_width (pen->cr, 1.0);
  cairo_move_to (pen->cr, box->x, y - 2.5);
  cairo_line_to (pen->cr, box->x, y + 2.5);
  cairo_move_to (pen->cr, box->x, y);
  cairo_line_to (pen->cr, box->x + box->width, y);
  cairo_move_to (pen->cr, box->x + box->width, y - 2.5);
  cairo_line_to (pen->cr, box->x + box->width, y + 2.5);
  cairo_stroke (pen->cr);
}

static void
draw_sample (const WbChartPen  *pen,
             const WbChartText *text)
{
  const WbChartRect *box = &text->sample_rect;

  switch (text->sample)
    {
    case WB_CHART_SAMPLE_LINE:
      cairo_save (pen->cr);
      cairo_translate (pen->cr, box->x, box->y);
      wb_chart_sample_draw (pen->theme, pen->cr, text->series, box->width, box->height);
      cairo_restore (pen->cr);
      break;
    case WB_CHART_SAMPLE_MARKER:
      wb_chart_paint_marker (pen->cr, pen->theme, text->series, box->x + box->width / 2.0,
                             box->y + box->height / 2.0, 5.4 * pen->size, WB_CHART_MARK_PLAIN);
      break;
    case WB_CHART_SAMPLE_BAND:
      wb_chart_paint_set_colour (pen->cr, wb_chart_theme_get_series_colour (pen->theme, text->series), 0.3);
      cairo_rectangle (pen->cr, box->x, box->y, box->width, box->height);
      cairo_fill (pen->cr);
      break;
    case WB_CHART_SAMPLE_PART:
      wb_chart_paint_part (pen->cr, pen->theme, text->parts, text->part, text->n_parts,
                           text->series, box->x, box->y, box->width, box->height);
      break;
    case WB_CHART_SAMPLE_GRADIENT:
      draw_gradient (pen, text);
      break;
    case WB_CHART_SAMPLE_BAR:
      draw_bar (pen, text);
      break;
    case WB_CHART_SAMPLE_NONE:
    default:
      break;
    }
}

static WbChartColour
fill_beneath (const WbChartPen  *pen,
              const WbChartText *text)
{
  if (text->n_parts > 0)
    return wb_chart_paint_part_colour (pen->theme, text->parts, text->part, text->n_parts, text->series);

  return wb_chart_theme_get_heat_colour (pen->theme, text->place, text->around);
}

static void
draw_text (const WbChartPen  *pen,
           const WbChartText *text)
{
  WbChartColour ink = wb_chart_theme_get_colour (pen->theme, text->role),
                rim = wb_chart_theme_get_colour (pen->theme, WB_CHART_COLOUR_PLOT);

  if (text->pango == NULL)
    return;
  if (text->leader)
    draw_leader (pen, text);
  draw_sample (pen, text);
  if (text->on_fill)
    {
      rim = fill_beneath (pen, text);
      ink = wb_chart_paint_ink_on (rim);
    }
  if (text->halo || text->on_fill)
    {
      cairo_move_to (pen->cr, text->x, text->y);
      pango_cairo_layout_path (pen->cr, text->pango);
      wb_chart_paint_set_colour (pen->cr, rim, 0.9);
      cairo_set_dash (pen->cr, NULL, 0, 0.0);
      cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
      cairo_set_line_width (pen->cr, 2.2);
      cairo_stroke (pen->cr);
    }
  wb_chart_paint_set_colour (pen->cr, ink, 1.0);
  cairo_move_to (pen->cr, text->x, text->y);
  pango_cairo_show_layout (pen->cr, text->pango);
  cairo_new_path (pen->cr);
}

void
wb_chart_layout_draw (const WbChartLayout *layout,
                      cairo_t             *cr,
                      WbChartTheme         theme)
{
  g_return_if_fail (layout != NULL && cr != NULL);
  g_return_if_fail (theme < WB_CHART_N_THEMES);

  WbChartPen pen = { .cr = cr, .theme = theme, .layout = layout, .pixel = find_pixel (cr), .vector = is_vector (cairo_get_target (cr)),
                     .size = CLAMP (sqrt (layout->text_scale), 0.85, 1.6) };

  cairo_save (cr);
  cairo_rectangle (cr, 0.0, 0.0, layout->width, layout->height);
  cairo_clip (cr);
  wb_chart_paint_set_role (cr, theme, WB_CHART_COLOUR_BACKGROUND);
  cairo_paint (cr);
  for (guint i = 0; i < layout->frames->len; i++)
    {
      pen.frame = wb_chart_layout_frame (layout, i);
      draw_panel (&pen, i);
    }
  for (guint i = 0; i < layout->texts->len; i++)
    draw_text (&pen, &g_array_index (layout->texts, WbChartText, i));
  cairo_restore (cr);
}
