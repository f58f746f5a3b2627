/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-layout-private.h"
#include "wb-chart-range-private.h"

G_BEGIN_DECLS

/* Ticks of an axis that is `length` points long, owned by the layout. */
const WbChartTicks *wb_chart_axes_find_ticks (WbChartLayout *layout,
                                              const WbChartAxis *axis,
                                              const WbChartRange *range,
                                              WbChartDirection direction,
                                              double length);
/* Room for the tick labels beside an axis `length` points long: width left of a y axis (at most `most`), height below an x axis. */
double wb_chart_axes_get_width (WbChartLayout *layout,
                                const WbChartAxis *axis,
                                const WbChartTicks *ticks,
                                double length,
                                double most);
double wb_chart_axes_get_height (WbChartLayout *layout,
                                 const WbChartAxis *axis,
                                 const WbChartTicks *ticks,
                                 double length);
/* Half of the widest label of an x axis: how far one may reach past the plot. */
double wb_chart_axes_get_overhang (WbChartLayout *layout,
                                   const WbChartAxis *axis,
                                   const WbChartTicks *ticks);
/* Places the labels of a panel's axes: `left` to `right` is what belongs to the panel. */
void                wb_chart_axes_place_x     (WbChartLayout *layout, guint panel, double left, double right);
void                wb_chart_axes_place_y     (WbChartLayout *layout, guint panel, double left);
/* From the plot's lower edge to the labels, and from its left edge. */
double              wb_chart_axes_get_drop    (WbChartLayout *layout);
#define WB_CHART_AXES_GAP 5.0

/* How large the names of a panel's rows are, of a tick's label: what is written into a row is no larger. 1 where it has no rows. */
double wb_chart_axes_get_row_size (WbChartLayout *layout, const WbChartFrame *frame);

G_END_DECLS
