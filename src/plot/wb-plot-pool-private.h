/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-plot-line-private.h"

G_BEGIN_DECLS

/* A panel of melt pool against time: what growth and grid have in common. */

typedef struct
{
  double hours;      /* end of the time axis */
  guint  readings;   /* drawn, over all cells */
  guint  at_wall;    /* of them */
  guint  left_out;   /* pool readings of shown cells that are not counted: set aside, held by a ring, another kind of burn */
} WbPlotPoolCounts;

/* Axes, window, curves with bands, wall and readings of lines of one vessel, at least one; with names where `labels`. */
void wb_plot_pool_add_lines (WbChartPanel *panel, const WbPlotLine *lines, guint n_lines, gboolean labels, WbPlotPoolCounts *counts);
/* Hours that hold the protocol's burn and every reading of the lines (WbPlotLine). */
double wb_plot_pool_get_hours (const GArray *lines);
/* Footnote of charts with such panels. Caller frees. */
char *wb_plot_pool_dup_note (const WbPlotPoolCounts *counts);

G_END_DECLS
