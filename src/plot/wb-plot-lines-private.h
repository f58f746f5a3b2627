/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"
#include "wb-plot-line-private.h"

G_BEGIN_DECLS

/* The kinds that lay picks side by side: lines are WbPlotLine, at least one. */
WbChart *wb_plot_growth_new_lines (const GArray *lines);
WbChart *wb_plot_rings_new_lines  (const GArray *lines);
/* WB_PLOT_ERROR for a figure that has no life. */
WbChart *wb_plot_life_new_lines   (const GArray *lines, GError **error);
WbChart *wb_plot_marks_new_lines  (const GArray *lines);

G_END_DECLS
