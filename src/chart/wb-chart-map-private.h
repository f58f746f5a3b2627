/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <math.h>

G_BEGIN_DECLS

/* Stored value to points along one axis: at = offset + scale * value (of its logarithm on a log axis). */
typedef struct
{
  double   low, high; /* stored */
  double   offset, scale;
  gboolean logarithmic;
} WbChartMap;

/* Farther out than this, in points, is as good as there; cairo's fixed-point coordinates end near 8 million pixels. */
#define WB_CHART_MAP_FAR 1e5

static inline WbChartMap
wb_chart_map (double   low,
              double   high,
              double   from,
              double   to,
              gboolean logarithmic)
{
  double a = logarithmic ? log10 (low) : low, b = logarithmic ? log10 (high) : high;
  double scale = (to - from) / (b - a);

  return (WbChartMap) { low, high, from - scale * a, scale, logarithmic };
}

/* NaN for a missing value, and for one <= 0 on a log axis. */
static inline double
wb_chart_map_at (const WbChartMap *map,
                 double            value)
{
  if (map->logarithmic)
    value = value > 0.0 ? log10 (value) : NAN;

  double at = map->offset + map->scale * value;

  return at > WB_CHART_MAP_FAR ? WB_CHART_MAP_FAR : at < -WB_CHART_MAP_FAR ? -WB_CHART_MAP_FAR : at;
}

G_END_DECLS
