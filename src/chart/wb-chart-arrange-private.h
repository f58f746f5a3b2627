/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-layout-private.h"
#include "wb-chart-range-private.h"

G_BEGIN_DECLS

/*
 * What is given up, one after the other, when a chart is small for its text. The first steps are taken
 * until the plots have their fair share of the height, as they cost little more than size; those from NO_AXIS_LABELS on only
 * where data could not be read at all.
 */
typedef enum
{
  WB_CHART_KEEP_ALL,
  WB_CHART_SMALL_TITLE, /* no larger than the labels */
  WB_CHART_SMALL_KEY,
  WB_CHART_TINY_TITLE,  /* as small as a tick label, and so are those of panels and axes */
  WB_CHART_SHORT_KEY,   /* of more names than a person keeps apart, two lines */
  WB_CHART_NO_FOOTNOTE,
  WB_CHART_NO_AXIS_LABELS,
  WB_CHART_SHORT_TITLES, /* of one line */
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
  gboolean            small_titles;       /* of the panels: one of them would be cut */
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
/* Height of an axis' label of at most two lines of that width, air included; 0 where it has none or none is drawn. */
double   wb_chart_heads_measure_heading (const WbChartArrangement *a, const WbChartAxis *axis, double width);
/* Places it from `x` within `width`, no higher than `most`; `centre` is what its middle is to stand on, NAN: it stands at the start. */
void     wb_chart_heads_place_heading (WbChartArrangement *a, const WbChartAxis *axis, int panel, double x, double y, double width,
                                       double most, double centre);
/* A panel named after its vertical axis carries that axis' unit: one line less. */
gboolean wb_chart_heads_title_axis    (const WbChartArrangement *a, const WbChartPanel *panel);
char    *wb_chart_heads_dup_title     (const WbChartArrangement *a, const WbChartPanel *panel);

G_END_DECLS
