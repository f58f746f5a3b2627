/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-craft-ladder.h"

G_BEGIN_DECLS

/*
 * The wick ladder: for each wick on it the vessel from above, to scale, with the pool that is foretold, and below them every series
 * as a ladder whose rungs are its sizes, the largest on top, with the chance of each. Not of an answer: asked before there is an
 * experiment.
 */

/* At which place of the fill the pools are drawn. */
typedef enum { WB_PLOT_LADDER_TOP, WB_PLOT_LADDER_BOTTOM, WB_PLOT_LADDER_BOTH } WbPlotLadderPlaces;

/* Whether anything is foretold that could be drawn: suppliers' diameters alone foretell neither pools nor chances. */
gboolean wb_plot_ladder_can_draw   (const WbCraftLadder *ladder);
/* What is not foretold at that place of the fill is said in its panel. invented: the notebook says that its data are. Caller unrefs. */
WbChart *wb_plot_ladder_new        (const WbCraftLadder *ladder, WbPlotLadderPlaces places, gboolean us_units, gboolean invented);
/* The same for letters so large that no more than two vessels have room beside each other. */
WbChart *wb_plot_ladder_new_large  (const WbCraftLadder *ladder, WbPlotLadderPlaces places, gboolean us_units, gboolean invented);
/* A height in points at which it reads well when it is `width` points wide. */
double   wb_plot_ladder_get_height (const WbChart *chart, double width);

G_END_DECLS
