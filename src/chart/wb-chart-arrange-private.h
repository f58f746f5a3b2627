/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-layout-private.h"
#include "wb-chart-range-private.h"

G_BEGIN_DECLS

/* What is given up, one after the other, when a chart is small. */
typedef enum
{
  WB_CHART_KEEP_ALL,
  WB_CHART_NO_FOOTNOTE,
  WB_CHART_SHORT_TITLE,
  WB_CHART_NO_AXIS_LABELS,
  WB_CHART_NO_KEY,
  WB_CHART_NO_PANEL_TITLES,
  WB_CHART_NO_TICK_LABELS,
  WB_CHART_N_LEVELS
} WbChartLevel;

typedef struct
{
  WbChartLayout      *layout;
  const WbChart      *chart;
  WbChartLevel        level;
  gboolean            ends;
  gboolean            common_x, common_y; /* one label for all panels */
  gboolean            common_plan;        /* one scale bar for all panels */
  guint               n_panels, n_rows, n_columns;
  double              line, tick;         /* heights of a line of label and tick text */
  WbChartRect         area;               /* what is left for the panels */
  double             *left, *right;       /* margins, one a column */
  double             *above, *below;      /* one a row */
  double              plot_width, plot_height;
  WbChartRange       *x_ranges, *y_ranges; /* one a panel */
} WbChartArrangement;

static inline const WbChartPanel *
wb_chart_arrangement_panel (const WbChartArrangement *a, guint index)
{
  return wb_chart_get_panel (a->chart, index);
}

/* wb-chart-heads.c */
/* Title, footnote and key: takes their room from the area. */
void     wb_chart_heads_place         (WbChartArrangement *a);
/* Labels that hold for all panels: the vertical axis' above them, the horizontal one's below. */
void     wb_chart_heads_place_common  (WbChartArrangement *a);
gboolean wb_chart_heads_has_heading   (const WbChartArrangement *a, const WbChartAxis *axis);
/* Places an axis' label; returns the height that it took. */
double   wb_chart_heads_place_heading (WbChartArrangement *a, const WbChartAxis *axis, int panel, double x, double y, double width,
                                       gboolean centred);
/* A panel named after its vertical axis carries that axis' unit: one line less. */
gboolean wb_chart_heads_title_axis    (const WbChartArrangement *a, const WbChartPanel *panel);
char    *wb_chart_heads_dup_title     (const WbChartArrangement *a, const WbChartPanel *panel);

G_END_DECLS
