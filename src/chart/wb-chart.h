/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "wb-chart-axis.h"
#include "wb-chart-error.h"
#include "wb-chart-layer.h"

G_BEGIN_DECLS

/*
 * A chart, before it is laid out: what it says and what it shows. It knows
 * neither size nor colours nor where it is drawn.
 *
 * Vocabulary
 *
 *   chart     one finding: a title that says it in words, a description for who
 *             cannot see it, and panels
 *   panel     one pair of axes with its layers, at a row and a column of the
 *             chart's grid. Several panels with shared axes are small multiples
 *   axis      how data become a place between 0 and 1: scale, range, shown unit,
 *             label. Data are always in stored units (mm, g, degC, s ...); ticks
 *             are round in the shown unit
 *   layer     one thing drawn on a panel's axes: a line, a band, points with
 *             intervals, a rule, a region, stacked bars, a heat map, rings, events, a note
 *   series    the number of whatever is compared (the same cell has the same
 *             number in every chart). It picks colour, marker and dash together,
 *             so that colour never speaks alone. WB_CHART_SERIES_NONE is plain ink
 *   key       the list of names with their samples, between title and panels. Only for what
 *             could not be labelled where it is drawn
 *   layout    a chart at a width and height in points: every text and mark has
 *             its rectangle (wb-chart-layout.h)
 *   theme     colours of one medium (wb-chart-theme.h)
 *   output    a layout drawn into PNG, SVG or PDF bytes (wb-chart-output.h)
 *   table     the chart's data as headings and rows of text (wb-chart-table.h)
 *
 * A chart is built by one thread. Once built it is only read, and may be laid
 * out and drawn by any thread that holds a reference. Long axes are never mirrored in right-to-left
 * languages. Every text that a caller hands in is UTF-8, already translated,
 * and copied; so are all arrays. NULL text means none.
 *
 * A value that is NaN is missing: a gap in a line, no point, a marked cell. An
 * infinite value, or an axis range that cannot be shown, is refused by
 * wb_chart_layout_new with WB_CHART_ERROR_RANGE, naming the panel and the axis.
 */

typedef struct _WbChart WbChart;

typedef enum
{
  WB_CHART_SHARE_NONE = 0,
  WB_CHART_SHARE_X
  = 1 << 0, /* one horizontal range for all panels, tick labels under the lowest of a column */
  WB_CHART_SHARE_Y = 1 << 1, /* one vertical range, tick labels left of the first of a row */
  WB_CHART_SHARE_BOTH = WB_CHART_SHARE_X | WB_CHART_SHARE_Y
} WbChartShare;

/* A chart without panels, one reference. `title` is the finding in words; `description` is what assistive
 * technology reads: the finding, how sure, and the figures it rests on. */
WbChart       *wb_chart_new             (const char *title,
                                         const char *description);
WbChart       *wb_chart_ref             (WbChart *chart);
void           wb_chart_unref           (WbChart *chart);

const char    *wb_chart_get_title       (const WbChart *chart);
const char    *wb_chart_get_description (const WbChart *chart);
/* One small line under the panels: source, conditions, "invented data". */
void           wb_chart_set_footnote    (WbChart *chart, const char *text);
const char    *wb_chart_get_footnote    (const WbChart *chart);
/* Which axes the panels share; WB_CHART_SHARE_BOTH until set. The scale kind, unit and label of a shared axis are the first panel's. */
void           wb_chart_set_share       (WbChart *chart, WbChartShare share);
WbChartShare   wb_chart_get_share       (const WbChart *chart);
/* Font family list as Pango reads it; NULL is the room's own choice. */
void           wb_chart_set_font_family (WbChart *chart, const char *family);
const char    *wb_chart_get_font_family (const WbChart *chart);

/* An empty panel at that place of the grid, counted from 0; two panels at one place are a programmer's error.
 * Owned by the chart. `title` may be NULL. */
WbChartPanel  *wb_chart_add_panel       (WbChart *chart, guint row, guint column, const char *title);
guint          wb_chart_get_n_panels    (const WbChart *chart);
/* In the order in which they were added. */
WbChartPanel  *wb_chart_get_panel       (const WbChart *chart, guint index);
guint          wb_chart_get_n_rows      (const WbChart *chart);
guint          wb_chart_get_n_columns   (const WbChart *chart);

const char    *wb_chart_panel_get_title (const WbChartPanel *panel);
guint          wb_chart_panel_get_row   (const WbChartPanel *panel);
guint          wb_chart_panel_get_column (const WbChartPanel *panel);
/* Horizontal and vertical axis; owned by the panel. */
WbChartAxis   *wb_chart_panel_get_x     (const WbChartPanel *panel);
WbChartAxis   *wb_chart_panel_get_y     (const WbChartPanel *panel);
/* What a panel with no value to show says in its middle; "No data" until set. */
void           wb_chart_panel_set_empty_text (WbChartPanel *panel, const char *text);
/* TRUE where no layer holds a value that can be drawn. Rules and regions alone are no data. */
gboolean       wb_chart_panel_is_empty  (const WbChartPanel *panel);
guint          wb_chart_panel_get_n_layers (const WbChartPanel *panel);
/* In the order in which they are drawn: the first lies at the bottom. */
WbChartLayer  *wb_chart_panel_get_layer (const WbChartPanel *panel, guint index);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbChart, wb_chart_unref)

G_END_DECLS
