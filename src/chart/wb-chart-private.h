/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"

G_BEGIN_DECLS

struct _WbChartAxis
{
  WbChartScale scale;
  WbUnit       unit;
  gboolean     chance;
  gboolean     grid;
  gboolean     grid_set;
  char        *label;
  double       low, high;                   /* fixed ends, NaN: from the data */
  double       include_low, include_high;   /* NaN: none */
  GPtrArray   *categories;                  /* NULL: none */
};

/* One layer of any kind. Arrays are NULL where the kind has none; lengths: n for x to notes, n_rows * n_columns for values and cells. */
struct _WbChartLayer
{
  WbChartLayerKind kind;
  char            *name;
  int              series;
  WbChartLineFlags flags;
  WbChartDirection direction;
  WbChartRule      rule;
  WbChartParts     parts;
  WbChartHeatKind  heat;
  gsize            n;
  double          *x, *y, *low, *high;      /* rings: x diameters; events: low starts, high ends */
  guint8          *marks;
  GPtrArray       *notes;
  gint64          *tags;
  GPtrArray       *labels;                  /* rings, events; of bars: part names */
  gsize            n_rows, n_columns;       /* bars: columns are parts */
  double          *values;
  guint8          *cells;
  int             *row_series;
  int              unit, decimals;
  double           middle;
  double           scale_low, scale_high;   /* heat: the colours reach at least from here to there; NaN: none */
  double           centre_x, centre_y, width, depth;
  double           thickness_mm;            /* wall: to scale; not above 0: as a plan shows one */
  gboolean         ringed;                  /* text: what it names is ringed in a limit's colour */
};

struct _WbChartPanel
{
  guint        row, column;
  char        *title;
  char        *empty_text;
  WbChartAxis *x, *y;
  GPtrArray   *layers;
};

WbChartAxis  *wb_chart_axis_new        (void);
void          wb_chart_axis_free       (WbChartAxis *axis);
gboolean      wb_chart_axis_has_grid   (const WbChartAxis *axis);
/* Unit in which the ticks are written, resolved for chance and duration axes. */
WbUnit        wb_chart_axis_get_shown_unit (const WbChartAxis *axis);
double        wb_chart_axis_to_shown   (const WbChartAxis *axis, double stored);
double        wb_chart_axis_from_shown (const WbChartAxis *axis, double shown);

WbChartPanel *wb_chart_panel_new       (guint row, guint column, const char *title);
void          wb_chart_panel_free      (WbChartPanel *panel);
/* Real scale: a wall or rings are seen from above. */
gboolean      wb_chart_panel_is_plan   (const WbChartPanel *panel);
void          wb_chart_panel_append    (WbChartPanel *panel, WbChartLayer *layer);

void          wb_chart_layer_free      (WbChartLayer *layer);
WbChartMark   wb_chart_layer_get_mark  (const WbChartLayer *layer, gsize index);
/* NULL where there is none. */
const char   *wb_chart_layer_get_note  (const WbChartLayer *layer, gsize index);
const char   *wb_chart_layer_get_label (const WbChartLayer *layer, gsize index);

G_END_DECLS
