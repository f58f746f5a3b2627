/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-chart.h"

G_BEGIN_DECLS

/*
 * A chart on screen: the picture, and its table one key away (T, or the button
 * below). Pointing at a value names it in the line below; the arrow keys walk
 * the values, Enter chooses one. Copy (Ctrl+C) takes the table as text.
 * Accessible: an image named by the chart's title, described by its description.
 *
 * Property: "table-shown" (boolean). Signal: "chosen" (uint panel, uint layer, uint64 index).
 */
#define WB_TYPE_CHART_VIEW (wb_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (WbChartView, wb_chart_view, WB, CHART_VIEW, GtkWidget)

GtkWidget *wb_chart_view_new             (void);
/* NULL: empty. Takes a reference. */
void       wb_chart_view_set_chart       (WbChartView *self, WbChart *chart);
WbChart   *wb_chart_view_get_chart       (WbChartView *self);
/* Smallest size of the picture in pixels; 320 x 220 until set. */
void       wb_chart_view_set_minimum     (WbChartView *self, int width, int height);
void       wb_chart_view_set_table_shown (WbChartView *self, gboolean shown);
gboolean   wb_chart_view_get_table_shown (WbChartView *self);
/* What the line below says of the value pointed at; "" for none. */
const char *wb_chart_view_get_words      (WbChartView *self);

G_END_DECLS
