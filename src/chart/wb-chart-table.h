/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart.h"

G_BEGIN_DECLS

/*
 * The chart's data as text, for who reads it without seeing it, and for the
 * clipboard: one row a value, in the order in which they are drawn, numbers in
 * the shown units. Columns that stay empty are left out.
 */

typedef struct _WbChartTable WbChartTable;

WbChartTable      *wb_chart_table_new           (WbChart *chart);
void               wb_chart_table_free          (WbChartTable *table);
guint              wb_chart_table_get_n_columns (const WbChartTable *table);
guint              wb_chart_table_get_n_rows    (const WbChartTable *table);
const char        *wb_chart_table_get_heading   (const WbChartTable *table, guint column);
const char        *wb_chart_table_get_cell      (const WbChartTable *table, guint row, guint column);
/* Headings and rows, tab-separated, each line ended by "\n"; tabs and line breaks within a text become spaces. */
char              *wb_chart_table_dup_text      (const WbChartTable *table);
/*
 * The same as CSV (RFC 4180: commas, lines ended by CR LF, quotes where they are needed). A column all of whose cells are numbers
 * of one unit has the unit in its heading, "Time (h)", and bare numbers with a decimal point below it, whatever the language.
 */
char              *wb_chart_table_dup_csv       (const WbChartTable *table);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbChartTable, wb_chart_table_free)

G_END_DECLS
