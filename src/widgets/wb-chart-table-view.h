/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-chart-table.h"

G_BEGIN_DECLS

/*
 * A chart's table in columns, for who would rather read than look. It is written
 * in a thread; rows are made for what is in view only, whatever the table's length.
 * Property "ready" (boolean, notified): what was set last is there.
 */
#define WB_TYPE_CHART_TABLE_VIEW (wb_chart_table_view_get_type ())
G_DECLARE_FINAL_TYPE (WbChartTableView, wb_chart_table_view, WB, CHART_TABLE_VIEW, GtkWidget)

GtkWidget *wb_chart_table_view_new       (void);
/* NULL: empty. Empty, too, until the table is written. */
void       wb_chart_table_view_set_chart (WbChartTableView *self, WbChart *chart, const char *label);
gboolean   wb_chart_table_view_get_ready (WbChartTableView *self);

G_END_DECLS
