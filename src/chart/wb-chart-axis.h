/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "wb-quantity.h"

G_BEGIN_DECLS

/*
 * An axis: scale, range, shown unit and label. One of a panel's two; owned by it.
 */

typedef struct _WbChartAxis WbChartAxis;

typedef enum
{
  WB_CHART_SCALE_LINEAR,
  WB_CHART_SCALE_LOG,      /* values <= 0 are left out like missing ones */
  WB_CHART_SCALE_DURATION, /* stored seconds, ticks round in minutes, hours or days; linear */
  WB_CHART_SCALE_CATEGORY  /* value i is the i-th category, counted from 0; vertically the first is on top */
} WbChartScale;

/* LINEAR until set. */
void         wb_chart_axis_set_scale      (WbChartAxis *axis, WbChartScale scale);
WbChartScale wb_chart_axis_get_scale      (const WbChartAxis *axis);

/* Without the unit: "Melt pool diameter". The axis writes "Melt pool diameter, mm". */
void         wb_chart_axis_set_label      (WbChartAxis *axis, const char *label);
const char  *wb_chart_axis_get_label      (const WbChartAxis *axis);

/* The unit of the tick labels; WB_UNIT_NONE until set. Data stay in the stored unit of its quantity. */
void         wb_chart_axis_set_unit       (WbChartAxis *axis, WbUnit unit);
WbUnit       wb_chart_axis_get_unit       (const WbChartAxis *axis);

/* Data are chances 0..1 shown as per cent: ticks read "0", "20" ... "100" and the unit "%". */
void         wb_chart_axis_set_chance     (WbChartAxis *axis, gboolean chance);
gboolean     wb_chart_axis_get_chance     (const WbChartAxis *axis);

/* Stored units; NaN leaves that end to the data. An automatic end moves outwards to a tick that is near or by a
 * little air; a fixed one stays. */
void         wb_chart_axis_set_range      (WbChartAxis *axis, double low, double high);
/* An automatic range reaches at least to this value (0 for a bar, the wall of a vessel). May be called often. */
void         wb_chart_axis_include        (WbChartAxis *axis, double value);

/* Makes the scale a category one; `names` is NULL-terminated. */
void         wb_chart_axis_set_categories (WbChartAxis *axis, const char *const *names);
guint        wb_chart_axis_get_n_categories (const WbChartAxis *axis);
const char  *wb_chart_axis_get_category   (const WbChartAxis *axis, guint index);

/* Light lines across the plot at the ticks; on for linear, log and duration axes until set. */
void         wb_chart_axis_set_grid       (WbChartAxis *axis, gboolean grid);

/* A stored value as the axis says it to a person, with unit or the category's name: "54.2 mm", "2 h 30 min", "CD-7".
 * "" for NaN. For tables and hover texts. */
char        *wb_chart_axis_format_value   (const WbChartAxis *axis, double value);
/* The label with its unit; "" if it has neither. */
char        *wb_chart_axis_dup_heading    (const WbChartAxis *axis);

G_END_DECLS
