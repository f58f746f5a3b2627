/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-draw-private.h"

G_BEGIN_DECLS

/* A marker for each value of the layer within the plot; `arrow` is where "at least" points to. */
void wb_chart_markers_draw (const WbChartPen *pen,
                            const WbChartLayer *layer,
                            WbChartDirection arrow,
                            gboolean small);

G_END_DECLS
