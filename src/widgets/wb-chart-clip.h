/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-view.h"

G_BEGIN_DECLS

/* What of a chart goes to the clipboard. The size, in points, is that of a picture; a small one is made larger. */
typedef struct
{
  WbChartCopy what;
  double      width, height;
} WbChartClip;

/* Made in a thread: a long table and a picture take their time. `view` is the callback's source, and held until then. Part of WbChartView. */
void                wb_chart_clip_make_async  (WbChartView *view, WbChart *chart, const WbChartClip *clip, GAsyncReadyCallback callback, gpointer user);
/* PNG, or text. Caller owns it. WB_CHART_ERROR where the chart cannot be drawn. */
GdkContentProvider *wb_chart_clip_make_finish (GAsyncResult *result, GError **error);

G_END_DECLS
