/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-layer.h"
#include "wb-chart-theme.h"

G_BEGIN_DECLS

/* Pens, markers and hatches: how a look becomes ink. All lengths in points. */

/* A series' look from this on; NONE is ink. */
void          wb_chart_paint_set_colour  (cairo_t *cr, WbChartColour colour, double alpha);
void          wb_chart_paint_set_role    (cairo_t *cr, WbChartTheme theme, WbChartColourRole role);
/* Width and dash of a series' line; a heavier one in the high contrast themes. */
void          wb_chart_paint_set_line    (cairo_t *cr, WbChartTheme theme, int series, gboolean thin);
/* A marker of `size` across, centred; an open one is filled with the background. Leaves dash and width changed. */
void wb_chart_paint_marker (
    cairo_t *cr, WbChartTheme theme, int series, double x, double y, double size, WbChartMark mark);
/* Lines of style 0 (none) to 5 within the rectangle, in the current colour. */
void
wb_chart_paint_hatch (cairo_t *cr, guint style, double x, double y, double width, double height);
/* The rectangle of one part of a stacked bar, filled and hatched. Returns its fill, for choosing an ink on it. */
WbChartColour wb_chart_paint_part_colour (
    WbChartTheme theme, WbChartParts parts, guint part, guint n_parts, int series);
void wb_chart_paint_part (cairo_t *cr,
                          WbChartTheme theme,
                          WbChartParts parts,
                          guint part,
                          guint n_parts,
                          int series,
                          double x,
                          double y,
                          double width,
                          double height);
/* Black or white, whichever is farther from the fill. */
WbChartColour wb_chart_paint_ink_on      (WbChartColour fill);
/* Relative luminance, 0 to 1, by WCAG 2.1. */
double        wb_chart_paint_luminance   (WbChartColour colour);
double        wb_chart_paint_get_weight  (WbChartTheme theme);

G_END_DECLS
