/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-paint-private.h"

#include <math.h>

#define LINE_WIDTH 1.4
#define THIN_WIDTH 0.6
#define HATCH_ALPHA 0.42 /* of a part: seen in a grey print, and values written on it are read */
#define HATCH_STEP 3.6
#define EDGE_PT 0.8
#define LEAST_CONTRAST 3.0

double
wb_chart_paint_get_weight (WbChartTheme theme)
{
  return theme == WB_CHART_THEME_HIGH_CONTRAST || theme == WB_CHART_THEME_HIGH_CONTRAST_DARK ? 1.5 : 1.0;
}

void
wb_chart_paint_set_colour (cairo_t       *cr,
                           WbChartColour  colour,
                           double         alpha)
{
  cairo_set_source_rgba (cr, colour.red, colour.green, colour.blue, alpha);
}

void
wb_chart_paint_set_role (cairo_t           *cr,
                         WbChartTheme       theme,
                         WbChartColourRole  role)
{
  wb_chart_paint_set_colour (cr, wb_chart_theme_get_colour (theme, role), 1.0);
}

void
wb_chart_paint_set_line (cairo_t      *cr,
                         WbChartTheme  theme,
                         int           series,
                         gboolean      thin)
{
  static const double dashed[] = { 5.0, 2.2 }, dotted[] = { 1.6, 1.8 }, dash_dot[] = { 7.0, 2.0, 1.6, 2.0 };

  wb_chart_paint_set_colour (cr, wb_chart_theme_get_series_colour (theme, series), thin ? 0.55 : 1.0);
  cairo_set_line_width (cr, (thin ? THIN_WIDTH : LINE_WIDTH) * wb_chart_paint_get_weight (theme));
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  switch (thin ? 0 : wb_chart_theme_get_series_dash (series))
    {
    case 1:
      cairo_set_dash (cr, dashed, G_N_ELEMENTS (dashed), 0.0);
      break;
    case 2:
      cairo_set_dash (cr, dotted, G_N_ELEMENTS (dotted), 0.0);
      break;
    case 3:
      cairo_set_dash (cr, dash_dot, G_N_ELEMENTS (dash_dot), 0.0);
      break;
    default:
      cairo_set_dash (cr, NULL, 0, 0.0);
    }
}

static void
polygon (cairo_t      *cr,
         double        x,
         double        y,
         double        half,
         const double *corners,
         gsize         n)
{
  for (gsize i = 0; i < n; i++)
    cairo_line_to (cr, x + corners[2 * i] * half, y + corners[2 * i + 1] * half);
  cairo_close_path (cr);
}

/* Shapes of about the same area. */
static void
marker_path (cairo_t *cr,
             guint    marker,
             double   x,
             double   y,
             double   half)
{
  static const double square[] = { -0.88, -0.88, 0.88, -0.88, 0.88, 0.88, -0.88, 0.88 };
  static const double triangle[] = { 0.0, -1.2, 1.15, 0.85, -1.15, 0.85 };
  static const double diamond[] = { 0.0, -1.3, 1.1, 0.0, 0.0, 1.3, -1.1, 0.0 };
  static const double inverted[] = { 0.0, 1.2, -1.15, -0.85, 1.15, -0.85 };
  static const double plus[] = { -0.42, -1.2, 0.42, -1.2, 0.42, -0.42, 1.2, -0.42, 1.2, 0.42, 0.42, 0.42,
                                 0.42, 1.2, -0.42, 1.2, -0.42, 0.42, -1.2, 0.42, -1.2, -0.42, -0.42, -0.42 };

  cairo_new_path (cr);
  switch (marker)
    {
    case 1:
      polygon (cr, x, y, half, square, 4);
      break;
    case 2:
      polygon (cr, x, y, half, triangle, 3);
      break;
    case 3:
      polygon (cr, x, y, half, diamond, 4);
      break;
    case 4:
      polygon (cr, x, y, half, inverted, 3);
      break;
    case 5:
      polygon (cr, x, y, half, plus, 12);
      break;
    default:
      cairo_arc (cr, x, y, half, 0.0, 2.0 * G_PI);
      cairo_close_path (cr);
    }
}

void
wb_chart_paint_marker (cairo_t      *cr,
                       WbChartTheme  theme,
                       int           series,
                       double        x,
                       double        y,
                       double        size,
                       WbChartMark   mark)
{
  WbChartColour colour = mark == WB_CHART_MARK_ASIDE
                             ? wb_chart_theme_get_colour (theme, WB_CHART_COLOUR_INK_SOFT)
                             : wb_chart_theme_get_series_colour (theme, series);

  cairo_set_dash (cr, NULL, 0, 0.0);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  marker_path (cr, wb_chart_theme_get_series_marker (series), x, y, size / 2.0);
  if (mark == WB_CHART_MARK_PLAIN)
    {
      /* A hair of background parts markers that touch. */
      wb_chart_paint_set_role (cr, theme, WB_CHART_COLOUR_PLOT);
      cairo_set_line_width (cr, 0.9);
      cairo_stroke_preserve (cr);
      wb_chart_paint_set_colour (cr, colour, 1.0);
      cairo_fill (cr);
      return;
    }

  wb_chart_paint_set_role (cr, theme, WB_CHART_COLOUR_PLOT);
  cairo_fill_preserve (cr);
  wb_chart_paint_set_colour (cr, colour, 1.0);
  cairo_set_line_width (cr, 1.1);
  cairo_stroke (cr);
}

static void
slanted (cairo_t  *cr,
         double    x,
         double    y,
         double    width,
         double    height,
         gboolean  rising)
{
  /* From a lattice of the page, so that neighbouring parts do not draw the eye to their edges. */
  double from = floor ((rising ? x + y : x - y - height) / HATCH_STEP) * HATCH_STEP;
  double to = rising ? x + width + y + height : x + width - y;

  for (double c = from; c <= to; c += HATCH_STEP)
    {
      cairo_move_to (cr, rising ? c - y : c + y, y);
      cairo_line_to (cr, rising ? c - y - height : c + y + height, y + height);
    }
}

void
wb_chart_paint_hatch (cairo_t *cr,
                      guint    style,
                      double   x,
                      double   y,
                      double   width,
                      double   height)
{
  if (style == 0 || width <= 0.0 || height <= 0.0)
    return;

  cairo_save (cr);
  cairo_rectangle (cr, x, y, width, height);
  cairo_clip (cr);
  cairo_set_dash (cr, NULL, 0, 0.0);
  cairo_set_line_width (cr, 0.6);
  if (style == 1 || style == 3)
    slanted (cr, x, y, width, height, TRUE);
  if (style == 2 || style == 3)
    slanted (cr, x, y, width, height, FALSE);
  if (style == 4)
    for (double v = ceil (y / HATCH_STEP) * HATCH_STEP; v < y + height; v += HATCH_STEP)
      {
        cairo_move_to (cr, x, v);
        cairo_line_to (cr, x + width, v);
      }
  if (style == 5)
    for (double v = ceil (x / HATCH_STEP) * HATCH_STEP; v < x + width; v += HATCH_STEP)
      {
        cairo_move_to (cr, v, y);
        cairo_line_to (cr, v, y + height);
      }
  cairo_stroke (cr);
  cairo_restore (cr);
}

WbChartColour
wb_chart_paint_part_colour (WbChartTheme theme,
                            WbChartParts parts,
                            guint        part,
                            guint        n_parts,
                            int          series)
{
  switch (parts)
    {
    case WB_CHART_PARTS_ORDERED:
      /* The first part is the darkest; the last stays apart from the background. */
      return wb_chart_theme_get_heat_colour (
          theme, n_parts < 2 ? 1.0 : 1.0 - 0.88 * part / (n_parts - 1), FALSE);
    case WB_CHART_PARTS_SCALE:
      return wb_chart_theme_get_series_colour (theme, MAX (series, 0));
    case WB_CHART_PARTS_REST:
      /* pale, with the edge that wb_chart_paint_part gives to what is pale: a dark grey is the grey print of a dark colour */
      if (part + 1 == n_parts)
        return wb_chart_theme_get_colour (theme, WB_CHART_COLOUR_GRID);
      return wb_chart_theme_get_series_colour (theme, (int) part);
    case WB_CHART_PARTS_NAMED:
    default:
      return wb_chart_theme_get_series_colour (theme, (int) part);
    }
}

static double
linear (double channel)
{
  return channel <= 0.04045 ? channel / 12.92 : pow ((channel + 0.055) / 1.055, 2.4);
}

double
wb_chart_paint_luminance (WbChartColour colour)
{
  return 0.2126 * linear (colour.red) + 0.7152 * linear (colour.green) + 0.0722 * linear (colour.blue);
}

/* 1 to 21, of WCAG 2.1. */
static double
contrast (WbChartColour a,
          WbChartColour b)
{
  double one = wb_chart_paint_luminance (a) + 0.05, other = wb_chart_paint_luminance (b) + 0.05;

  return MAX (one, other) / MIN (one, other);
}

void
wb_chart_paint_part (cairo_t      *cr,
                     WbChartTheme  theme,
                     WbChartParts  parts,
                     guint         part,
                     guint         n_parts,
                     int           series,
                     double        x,
                     double        y,
                     double        width,
                     double        height)
{
  WbChartColour fill = wb_chart_paint_part_colour (theme, parts, part, n_parts, series);

  if (width <= 0.0)
    return;

  wb_chart_paint_set_colour (cr, fill, 1.0);
  cairo_rectangle (cr, x, y, width, height);
  cairo_fill (cr);
  if (parts == WB_CHART_PARTS_NAMED || (parts == WB_CHART_PARTS_REST && part + 1 < n_parts))
    {
      wb_chart_paint_set_colour (cr, wb_chart_paint_ink_on (fill), HATCH_ALPHA);
      wb_chart_paint_hatch (cr, part % 6, x, y, width, height);
    }
  wb_chart_paint_set_role (cr, theme, WB_CHART_COLOUR_PLOT);
  cairo_set_dash (cr, NULL, 0, 0.0);
  cairo_set_line_width (cr, 0.7);
  cairo_rectangle (cr, x, y, width, height);
  cairo_stroke (cr);
  /* WCAG 2.1, 1.4.11: what is too near to the background is told from it by its edge */
  if (contrast (fill, wb_chart_theme_get_colour (theme, WB_CHART_COLOUR_PLOT)) < LEAST_CONTRAST && width > EDGE_PT && height > EDGE_PT)
    {
      wb_chart_paint_set_role (cr, theme, WB_CHART_COLOUR_AXIS);
      cairo_set_line_width (cr, EDGE_PT);
      cairo_rectangle (cr, x + EDGE_PT, y + EDGE_PT / 2.0, MAX (width - 2.0 * EDGE_PT, 0.0), height - EDGE_PT);
      cairo_stroke (cr);
    }
}

WbChartColour
wb_chart_paint_ink_on (WbChartColour fill)
{
  /* Where contrast with white and with black is equal: sqrt (1.05 * 0.05) - 0.05. */
  double ink = wb_chart_paint_luminance (fill) > 0.179 ? 0.06 : 1.0;

  return (WbChartColour) { ink, ink, ink };
}
