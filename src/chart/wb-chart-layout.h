/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <pango/pangocairo.h>

#include "wb-chart.h"
#include "wb-chart-theme.h"

G_BEGIN_DECLS

/*
 * A chart at a size. All lengths are points (1/72 in) from the top left
 * corner, on every target: a widget scales its cairo_t so that a point is as
 * large as it wants. Fonts are laid out by Pango at 72 dpi without hinting, so
 * that screen, paper and file break the same lines.
 *
 * No two texts overlap. What does not fit gives way in this order: minor
 * things first (every second tick label, notes, numbers in cells, labels on
 * rings), then labels move with a leader line or into the key, then texts end in an ellipsis;
 * title and plot stay. An ellipsised or dropped text is still in the table.
 *
 * A layout belongs to the thread that made it (Pango's fonts are that thread's), unless it was given fonts of its own; a
 * chart may be shared.
 */

typedef struct _WbChartLayout WbChartLayout;

typedef struct
{
  double x, y, width, height;
} WbChartRect;

typedef enum
{
  WB_CHART_ITEM_TITLE,
  WB_CHART_ITEM_FOOTNOTE,
  WB_CHART_ITEM_KEY,         /* one name of the key with its sample */
  WB_CHART_ITEM_PANEL_TITLE,
  WB_CHART_ITEM_AXIS_LABEL,
  WB_CHART_ITEM_TICK_LABEL,
  WB_CHART_ITEM_LINE_LABEL,  /* at a line's end */
  WB_CHART_ITEM_RULE_LABEL,  /* of a rule or region */
  WB_CHART_ITEM_VALUE,       /* number in a cell or bar, label of a ring or event */
  WB_CHART_ITEM_SCALE_LABEL, /* beside a heat map's colour scale, or the scale bar */
  WB_CHART_ITEM_NOTE,        /* text layer, or the text of an empty panel */
  WB_CHART_ITEM_PLOT,        /* a panel's plot area: the one item that is no text */
  WB_CHART_N_ITEMS
} WbChartItemKind;

/* One placed text, or a plot area. */
typedef struct
{
  WbChartItemKind kind;
  int             panel; /* -1: the chart's own */
  int             layer; /* -1: none */
  WbChartRect     rect;
  const char *text; /* as it is or would be without an ellipsis, its first 600 characters; NULL for
                       a plot; owned by the layout */
} WbChartItem;

/* A value near a place. */
typedef struct
{
  guint  panel;
  guint  layer;
  gsize  index;    /* of the layer's values */
  double x, y;     /* where it is drawn, in points */
  double distance; /* in points; 0 within a cell or bar */
} WbChartHit;

/* Smallest and largest width and height, in points. */
#define WB_CHART_MIN_WIDTH 120.0
#define WB_CHART_MIN_HEIGHT 90.0
#define WB_CHART_MAX_SIZE 20000.0

/* Holds a reference on the chart. `text_scale` 1 is 9 pt text; 0.5 to 4. NULL with WB_CHART_ERROR_SIZE or WB_CHART_ERROR_RANGE. */
WbChartLayout     *wb_chart_layout_new      (WbChart  *chart,
                                             double    width,
                                             double    height,
                                             double    text_scale,
                                             GError  **error);
/* The same on a font map of the caller's: map, layout and all else that stands on it may go from thread to thread together. */
WbChartLayout     *wb_chart_layout_new_with_fonts (WbChart *chart, PangoFontMap *fonts, double width, double height, double text_scale,
                                                   GError **error);
void               wb_chart_layout_free     (WbChartLayout *layout);
WbChart           *wb_chart_layout_get_chart (const WbChartLayout *layout);
double             wb_chart_layout_get_width  (const WbChartLayout *layout);
double             wb_chart_layout_get_height (const WbChartLayout *layout);

gsize              wb_chart_layout_get_n_items (const WbChartLayout *layout);
const WbChartItem *wb_chart_layout_get_item  (const WbChartLayout *layout, gsize index);
/* The plot area of a panel. */
WbChartRect        wb_chart_layout_get_plot  (const WbChartLayout *layout, guint panel);

/* Where a value of the panel's axes is drawn, in points; FALSE outside the plot area or where it is missing. */
gboolean wb_chart_layout_map (
    const WbChartLayout *layout, guint panel, double value_x, double value_y, double *x, double *y);
/* Where value `index` of a layer is drawn; FALSE if missing or out of range. For walking a chart by keyboard. */
gboolean wb_chart_layout_get_value (
    const WbChartLayout *layout, guint panel, guint layer, gsize index, double *x, double *y);
/* The value drawn nearest to (x, y), within `reach` points. */
gboolean wb_chart_layout_find (
    const WbChartLayout *layout, double x, double y, double reach, WbChartHit *hit);
/* One line that says that value: "CD-7: 2 h, at least 71 mm, S12". */
char              *wb_chart_layout_describe  (const WbChartLayout *layout, const WbChartHit *hit);

/* Draws at the current origin, background included; the clip is respected and the context left as it was. */
void               wb_chart_layout_draw      (const WbChartLayout *layout, cairo_t *cr, WbChartTheme theme);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbChartLayout, wb_chart_layout_free)

G_END_DECLS
