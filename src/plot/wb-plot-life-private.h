/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-context-private.h"

G_BEGIN_DECLS

/* The lives of some cells, and one panel of them. */

typedef struct
{
  const WbPlotContext *context;
  GArray              *cells;   /* guint, leading first; owned */
  gboolean             by_fill; /* else by burn number */
  gboolean             of_life; /* of a sample whose fill is not known the share is that of what it burns in all */
  guint                n_burns; /* longest life */
  double               burnt;   /* largest share of a fill that is gone, by fill */
} WbPlotLife;

/* One figure over the life. */
typedef struct
{
  WbFigure    figure;
  gboolean    worst;  /* of each burn, and of the samples: what limits judge; else the mean of the samples */
  const char *label;  /* N_()-marked */
} WbPlotTrack;

/* Whether that burn is a point of a life: a standard burn of a shown cell that came to a pool and heat of its own. */
gboolean wb_plot_life_shows     (const WbPlotLife *life, const WbCraftBurn *burn);
/* The `place`-th panel of `n_columns`: stages, limits, a line a cell, what crossed a limit. */
void     wb_plot_life_add_panel (const WbPlotLife *life, WbChart *chart, const WbPlotTrack *track, guint place, guint n_columns);

G_END_DECLS
