/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-chart-table.h"

G_BEGIN_DECLS

/*
 * A chart's table in columns, for who would rather read than look. Rows are
 * made for what is in view only, whatever the table's length.
 */
#define WB_TYPE_CHART_TABLE_VIEW (wb_chart_table_view_get_type ())
G_DECLARE_FINAL_TYPE (WbChartTableView, wb_chart_table_view, WB, CHART_TABLE_VIEW, GtkWidget)

GtkWidget *wb_chart_table_view_new       (void);
/* NULL: empty. The table is read at once: a later change of the chart does not show. */
void       wb_chart_table_view_set_chart (WbChartTableView *self, WbChart *chart, const char *label);

G_END_DECLS
