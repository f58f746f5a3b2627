/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-beside.h"
#include "wb-plot-context-private.h"

G_BEGIN_DECLS

/*
 * What a chart shows as one line, one panel or one row: a cell, or one sample of it (its context's options.sample), under a
 * name and with a look. Lines of one chart may have contexts of several experiments.
 */
typedef struct
{
  const WbPlotContext *context;
  guint                cell;
  int                  series;
  char                *name;
} WbPlotLine;

/* WbPlotLine of cells (guint) of one context, in their order, under their wicks' names, or where `whole` under the cells'. Caller unrefs. */
GArray *wb_plot_lines_new_cells (const WbPlotContext *context, const GArray *cells, gboolean whole);

/* Each of several picks with a context of its own. */
typedef struct
{
  WbPlotContext *contexts;
  guint         *cells;
  gsize          n;
  GArray        *lines;    /* WbPlotLine, one a pick */
} WbPlotPicks;

/* FALSE with a WB_PLOT_ERROR; `self` then holds nothing. At least one pick. */
gboolean wb_plot_picks_init     (WbPlotPicks *self, const WbCraftPick *picks, gsize n_picks, const WbPlotOptions *options, GError **error);
void     wb_plot_picks_clear    (WbPlotPicks *self);

/* What stands behind a burn's value (tag of wb-plot-beside.h). */
gint64   wb_plot_line_get_burn_tag (const WbPlotLine *line, guint burn);
/* Of a value of the whole line. */
gint64   wb_plot_line_get_tag   (const WbPlotLine *line);
/* Inner diameter of its vessel at the stage asked for, mm. */
double   wb_plot_line_get_inner_mm (const WbPlotLine *line);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (WbPlotPicks, wb_plot_picks_clear)

G_END_DECLS
