/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-chart.h"

G_BEGIN_DECLS

/*
 * A chart on screen: the picture, and its table one key away (T, or the button
 * below). Pointing at a value names it in the line below; the arrow keys walk
 * the values, Enter or a click chooses one. Copy (Ctrl+C) takes the table as text.
 * Accessible: an image named by the chart's title, described by its description.
 *
 * A menu, and the actions chart.copy-picture, chart.copy-text, chart.copy-csv: picture (PNG, light, at twice the pixels) and
 * table are made off the main thread, and the line below says when the clipboard has them. chart.save emits "save".
 *
 * Property: "table-shown" (boolean). Signals: "chosen" (uint panel, uint layer, uint64 index), "save".
 */
#define WB_TYPE_CHART_VIEW (wb_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (WbChartView, wb_chart_view, WB, CHART_VIEW, GtkWidget)

typedef enum { WB_CHART_COPY_PICTURE, WB_CHART_COPY_TEXT, WB_CHART_COPY_CSV } WbChartCopy;

/* What choosing that value does, in words for people ("Enter: the readings of B4-2"); NULL: nothing. Caller frees. */
typedef char *(*WbChartVerbFunc) (guint panel, guint layer, guint64 index, gpointer user);

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
/* Said behind the value's own words. NULL: choosing says nothing beforehand. */
void       wb_chart_view_set_verb        (WbChartView *self, WbChartVerbFunc verb, gpointer user);
/* The menu has Save; who set it follows the signal "save". FALSE until set. */
void       wb_chart_view_set_can_save    (WbChartView *self, gboolean can_save);
/* Puts it on the clipboard as soon as it is made; nothing where there is no chart. */
void       wb_chart_view_copy            (WbChartView *self, WbChartCopy what);

G_END_DECLS
