/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-context-private.h"

G_BEGIN_DECLS

/* A panel of melt pool against time: what growth and grid have in common. */

typedef struct
{
  double hours;      /* end of the time axis */
  guint  readings;   /* drawn, over all cells */
  guint  at_wall;    /* of them */
  guint  left_out;   /* pool readings of shown cells that are not counted: set aside, held by a ring, another kind of burn */
} WbPlotPoolCounts;

/* Axes, window and wall of the family that `cell` belongs to. */
void wb_plot_pool_add_frame (const WbPlotContext *context, WbChartPanel *panel, guint cell, double hours, gboolean labels);
/* Band, curve and readings of one cell, `place` of `n` side by side; its name at the line's end where `named`. */
void wb_plot_pool_add_cell  (const WbPlotContext *context, WbChartPanel *panel, guint cell, guint place, guint n,
                             gboolean named, WbPlotPoolCounts *counts);
/* Hours that hold the protocol's burn and every reading of the cells. */
double wb_plot_pool_get_hours (const WbPlotContext *context, const GArray *cells);
/* Footnote of charts with such panels. Caller frees. */
char *wb_plot_pool_dup_note (const WbPlotPoolCounts *counts);

G_END_DECLS
