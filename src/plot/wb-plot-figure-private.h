/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-plot-context-private.h"

G_BEGIN_DECLS

/* Any figure of a cell at the stage that the options ask for, as craft gives it (times in h); WB_CRAFT_INTERVAL_NONE where there is none. */
WbCraftInterval wb_plot_figure_of       (const WbPlotContext *context, guint cell, WbFigure figure);
/* Why there is no value, in a word or two: "never", "not read". Static, translated. */
const char     *wb_plot_figure_get_lack (const WbPlotContext *context, guint cell, WbFigure figure);
/* Whether it is a widest pool wider than the vessel, of which is told what wb_craft_beside_get_beyond_wall says. */
gboolean        wb_plot_figure_is_beyond_wall (const WbPlotContext *context, guint cell, WbFigure figure);
/* Samples and burns that it rests on. */
void            wb_plot_figure_get_n    (const WbPlotContext *context, guint cell, WbFigure figure, guint *samples, guint *burns);

/* A limit that the cell crossed, and that counts; NULL if none. */
const WbCraftLimit *wb_plot_get_crossed  (const WbPlotContext *context, guint cell);
/* "L-4 crosses the house limit of 77 °C with 20 % of its wax left"; name: NULL, or what to call it by. Caller frees. */
char               *wb_plot_dup_crossing (const WbPlotContext *context, const WbCraftLimit *limit, const char *name);

G_END_DECLS
