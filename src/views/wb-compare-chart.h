/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-target.h"
#include "wb-chart-view.h"
#include "wb-plot-kind.h"

#include "wb-app-job.h"
#include "wb-app-touched.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * One chart of an answer, its kind, third and figure chosen above it; drawn off the main thread.
 *
 * Signals: "job-changed" (it draws, or does not any more), "drawn" (another chart stands, or none), "save" (the chart is to be saved),
 * "opened" (pointer, a WbChartTarget: a value was chosen that stands for it). Errors go to the presenter.
 */
#define WB_TYPE_COMPARE_CHART (wb_compare_chart_get_type ())
G_DECLARE_FINAL_TYPE (WbCompareChart, wb_compare_chart, WB, COMPARE_CHART, GtkWidget)

/* NULL: nothing is drawn. Takes a reference. cells (guint, copied): those of the group that are shown by the kinds that show a few; empty or NULL: the leading ones. */
void         wb_compare_chart_set      (WbCompareChart *self, WbCraftAnswer *answer, guint group, const GArray *cells);
/* By which a chart of decisions tells those that were reopened, also while it stands there. NULL: none. */
void         wb_compare_chart_set_touched (WbCompareChart *self, WbAppTouchedList *touched);
/* By its key; FALSE: there is no such kind. */
gboolean     wb_compare_chart_set_kind (WbCompareChart *self, const char *key);
/* Higher, for large letters, on a page that scrolls. */
void         wb_compare_chart_set_tall (WbCompareChart *self, gboolean tall);
/* Of the chart that stands there. */
WbPlotKind   wb_compare_chart_get_kind (WbCompareChart *self);
/* NULL: nothing is being drawn. Borrowed. */
WbAppJob    *wb_compare_chart_get_job  (WbCompareChart *self);
/* NULL: no chart stands there. Borrowed. */
WbChartView *wb_compare_chart_get_view (WbCompareChart *self);

G_END_DECLS
