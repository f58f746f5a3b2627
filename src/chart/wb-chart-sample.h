/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-theme.h"

#include <cairo.h>

G_BEGIN_DECLS

/* Line and marker of a series in a box `width` x `height` points from the current origin: for a row of a list beside a chart. */
void wb_chart_sample_draw (WbChartTheme theme, cairo_t *cr, int series, double width, double height);

G_END_DECLS
