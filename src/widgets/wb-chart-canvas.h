/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-chart-layout.h"

G_BEGIN_DECLS

/*
 * The picture of a chart, laid out and drawn anew in a thread when its size or the
 * text's size changes. Part of WbChartView, which gives it words and keys. Signals:
 * "pointed" (boolean whether a value is marked), "chosen", "laid-out" (the picture
 * that is wished for is there). Property "late" (boolean, notified): it lets people
 * wait; told to assistive technology as busy.
 */
#define WB_TYPE_CHART_CANVAS (wb_chart_canvas_get_type ())
G_DECLARE_FINAL_TYPE (WbChartCanvas, wb_chart_canvas, WB, CHART_CANVAS, GtkWidget)

/* NULL: empty at once; of another one the last picture stands until its own is drawn. */
void             wb_chart_canvas_set_chart   (WbChartCanvas *self, WbChart *chart);
/* The picture of the chart, as large as the widget is, is there: its values can be pointed at. */
gboolean         wb_chart_canvas_get_ready   (WbChartCanvas *self);
gboolean         wb_chart_canvas_get_late    (WbChartCanvas *self);
void             wb_chart_canvas_set_minimum (WbChartCanvas *self, int width, int height);
/* The marked value; FALSE: none is. */
gboolean         wb_chart_canvas_get_hit     (WbChartCanvas *self, WbChartHit *hit);
/* One line that says the marked value; "" for none. Caller frees. */
char            *wb_chart_canvas_dup_words   (WbChartCanvas *self);
/* Marks the next value of its layer (steps 1, -1), or one of the next layer. */
void             wb_chart_canvas_step        (WbChartCanvas *self, int steps);
void             wb_chart_canvas_step_layer  (WbChartCanvas *self, int steps);
/* How large it stands, or stood last, in points; both 0: it never did. */
void             wb_chart_canvas_get_size_pt (WbChartCanvas *self, double *width, double *height);
/* Why it cannot be drawn; NULL while it can. */
const GError    *wb_chart_canvas_get_error   (WbChartCanvas *self);

G_END_DECLS
