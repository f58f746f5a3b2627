/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-private.h"

G_BEGIN_DECLS

/* What an axis has to show, before ticks: stored units. */
typedef struct
{
  double   low, high;             /* finite, low < high */
  gboolean round_low, round_high; /* that end may move out to a tick */
} WbChartRange;

/*
 * The range of one axis over one panel, or over all panels of the chart where
 * `panel` is NULL (a shared axis; its settings are the first panel's). FALSE
 * with WB_CHART_ERROR_RANGE for an infinite value or a range that cannot be shown.
 */
gboolean wb_chart_range_find  (const WbChart      *chart,
                               const WbChartPanel *panel,
                               WbChartDirection    direction,
                               WbChartRange       *range,
                               GError            **error);

static inline const WbChartAxis *
wb_chart_panel_axis (const WbChartPanel *panel,
                     WbChartDirection    direction)
{
  return direction == WB_CHART_X ? panel->x : panel->y;
}

G_END_DECLS
