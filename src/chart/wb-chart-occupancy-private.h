/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-layout-private.h"

G_BEGIN_DECLS

/* Where the data of a plot leave ink, on a coarse lattice: labels look for the emptiest place. */
typedef struct _WbChartOccupancy WbChartOccupancy;

WbChartOccupancy *wb_chart_occupancy_new     (const WbChartFrame *frame);
void              wb_chart_occupancy_free    (WbChartOccupancy *occupancy);
/* Lattice cells with ink under the rectangle. */
guint             wb_chart_occupancy_count   (const WbChartOccupancy *occupancy, const WbChartRect *rect);
/* Lattice cells that a rectangle of that size covers. */
double            wb_chart_occupancy_measure (const WbChartRect *rect);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbChartOccupancy, wb_chart_occupancy_free)

G_END_DECLS
