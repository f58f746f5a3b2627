/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-target.h"
#include "wb-chart-view.h"
#include "wb-picks.h"
#include "wb-plot-kind.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * Compare, side by side: what was picked at the left, in the order that the person gives it; at the right one chart of all of it, its
 * figures in a table, or its photos at the same hour. Works answers out only while it is told to (wb_compare_beside_set_shown).
 *
 * Signals: "job-changed" (it works on something else, or on nothing any more), "drawn" (another chart stands, or none), "save" (the
 * chart is to be saved). Errors go to the presenter.
 */
#define WB_TYPE_COMPARE_BESIDE (wb_compare_beside_get_type ())
G_DECLARE_FINAL_TYPE (WbCompareBeside, wb_compare_beside, WB, COMPARE_BESIDE, GtkWidget)

/* NULL: no notebook is open; the picks are forgotten. */
void         wb_compare_beside_set_desk       (WbCompareBeside *self, WbDesk *desk);
/* The open experiment, where the chooser begins. */
void         wb_compare_beside_set_experiment (WbCompareBeside *self, gint64 experiment);
void         wb_compare_beside_set_shown      (WbCompareBeside *self, gboolean shown);
/* The list above what it shows, for large letters; else beside it. */
void         wb_compare_beside_set_tall       (WbCompareBeside *self, gboolean tall);
/* Where nothing was picked so far, these combinations are; indices in the answer's data. */
void         wb_compare_beside_propose        (WbCompareBeside *self, const WbCraftAnswer *answer, const GArray *cells);
/* The samples of a combination in the place of what is there, which can be had back. */
void         wb_compare_beside_show_samples   (WbCompareBeside *self, const WbCraftAnswer *answer, guint cell);
/* What a value of a chart, here or elsewhere on the page, stands for: its readings in a window, or its samples here. */
void         wb_compare_beside_open           (WbCompareBeside *self, const WbChartTarget *target);
/* Opens the chooser, and gives it back; NULL: no notebook is open. */
GtkWidget   *wb_compare_beside_choose         (WbCompareBeside *self);
/* "growth", "rings" ..., "table", "photos"; FALSE: it shows no such thing. */
gboolean     wb_compare_beside_set_what       (WbCompareBeside *self, const char *key);
const char  *wb_compare_beside_get_what       (WbCompareBeside *self);
/* What it works on, and in which words; NULL: nothing. Borrowed. */
WbAppJob    *wb_compare_beside_get_job        (WbCompareBeside *self, const char **text);
/* NULL: no chart is in front. Borrowed. */
WbChartView *wb_compare_beside_get_chart_view (WbCompareBeside *self);
/* The picks; NULL: no notebook is open. Borrowed. */
WbPicks     *wb_compare_beside_get_picks      (WbCompareBeside *self);
/* The line of conditions above what is shown; "" while it is worked out. */
const char  *wb_compare_beside_get_conditions (WbCompareBeside *self);
/* The kind of the chart that stands there. */
WbPlotKind   wb_compare_beside_get_kind       (WbCompareBeside *self);

G_END_DECLS
