/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-plot-line-private.h"

G_BEGIN_DECLS

/* The lives of some lines, and one panel of them. */

typedef struct
{
  const GArray *lines;     /* WbPlotLine, at least one, in the order in which they are drawn; borrowed */
  gboolean      by_fill;   /* else by burn number */
  gboolean      of_life;   /* of a sample whose fill is not known the share is that of what it burns in all */
  guint         n_burns;   /* longest life */
  double        burnt;     /* largest share of a fill that is gone, by fill */
} WbPlotLife;

/* One figure over the life. */
typedef struct
{
  WbFigure    figure;
  gboolean    worst;  /* of each burn, and of the samples: what limits judge; else the mean of the samples */
  const char *label;  /* N_()-marked */
} WbPlotTrack;

/* Cells (guint) whose lives a chart of one experiment shows, leading first: those chosen, or the first of the leading family. Caller unrefs. */
GArray  *wb_plot_life_pick_cells (const WbPlotContext *context);
/* Whether that burn is a point of the line's life: a standard burn of it that came to a pool and heat of its own. */
gboolean wb_plot_life_shows     (const WbPlotLine *line, const WbCraftBurn *burn);
/* The `place`-th panel of `n_columns`: stages, limits, the lines, what crossed a limit. */
void     wb_plot_life_add_panel (const WbPlotLife *life, WbChart *chart, const WbPlotTrack *track, guint place, guint n_columns);

G_END_DECLS
