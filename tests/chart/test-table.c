/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-table.h"

#include <math.h>
#include <string.h>

#include "sample-charts.h"
#include "test-chart.h"

static void
test_rows (void)
{
  static const double x[] = { 0, 3600, 7200 }, y[] = { 0, NAN, 71 }, low[] = { 0, NAN, 69 },
                      high[] = { 1, NAN, NAN };
  static const guint8 marks[] = { 0, 0, WB_CHART_MARK_AT_LEAST };
  g_autoptr (WbChart) chart = wb_chart_new ("Table", NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Time");
  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_label (wb_chart_panel_get_y (panel), "Pool");
  wb_chart_layer_set_marks (
      wb_chart_layer_add_points (panel, "tab\there", 0, 3, x, y, WB_CHART_Y, low, high), 3, marks);
  wb_chart_layer_add_rule (panel, "Wall", WB_CHART_RULE_WALL, WB_CHART_Y, 74.0);

  g_autoptr (WbChartTable) table = wb_chart_table_new (chart);
  g_autofree char         *text = wb_chart_table_dup_text (table);
  g_assert_cmpuint (wb_chart_table_get_n_columns (table), ==, 6);
  g_assert_cmpuint (wb_chart_table_get_n_rows (table), ==, 3);
  g_assert_cmpstr (wb_chart_table_get_heading (table, 1), ==, "Time");
  g_assert_cmpstr (wb_chart_table_get_cell (table, 0, 0), ==, "tab\there");
  g_assert_cmpstr (text, ==, "What\tTime\tPool\tLow\tHigh\tNote\n"
                             "tab here\t0\u00a0h\t0\t0\t1\t\n"
                             "tab here\t2\u00a0h\t71\t69\t\tat least\n"
                             "Wall\t\t74\t\t\t\n");
}

/* Every line has as many cells as there are headings; every chart that shows something has a row. */
static void
test_all (void)
{
  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (WbChart)      chart = sample_charts_create (i);
      g_autoptr (WbChartTable) table = wb_chart_table_new (chart);
      g_autofree char         *text = wb_chart_table_dup_text (table);
      gboolean                 empty = g_str_equal (sample_charts_get_name (i), "empty");
      guint                    tabs = 0, lines = 0;

      g_assert_true (g_utf8_validate (text, -1, NULL));
      for (const char *c = text; *c != '\0'; c++)
        {
          tabs += *c == '\t';
          lines += *c == '\n';
        }
      g_assert_cmpuint (lines, ==, wb_chart_table_get_n_rows (table) + 1);
      g_assert_cmpint (wb_chart_table_get_n_rows (table) == 0, ==, empty);
      if (!empty)
        g_assert_cmpuint (tabs, ==, lines * (wb_chart_table_get_n_columns (table) - 1));
    }
}

static void
test_cells (void)
{
  static const char *const rows[] = { "tin", "jar", NULL }, *const columns[] = { "8", "10", NULL };
  static const double values[] = { 0.5, NAN, 1.0, 0.25 };
  static const guint8 flags[] = { WB_CHART_CELL_CROSSED, 0, WB_CHART_CELL_CHOSEN, 0 };
  g_autoptr (WbChart) chart = wb_chart_new ("Heat", NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), rows);
  wb_chart_axis_set_categories (wb_chart_panel_get_x (panel), columns);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Size");
  wb_chart_axis_set_label (wb_chart_panel_get_y (panel), "Vessel");
  wb_chart_layer_add_heat (panel, "Score", WB_CHART_HEAT_LOW_TO_HIGH, 2, 2, values, flags,
                           WB_UNIT_NONE, 2, 0.0);

  g_autoptr (WbChartTable) table = wb_chart_table_new (chart);
  g_autofree char         *text = wb_chart_table_dup_text (table);
  g_autofree char *expected
      = test_localize ("What\tSize\tVessel\tValue\tNote\nScore\t8\ttin\t0.50\tlimit "
                       "crossed\nScore\t10\ttin\tmissing\t\n"
                       "Score\t8\tjar\t1.00\tchosen\nScore\t10\tjar\t0.25\t\n");
  g_assert_cmpstr (text, ==, expected);
}

/* For a spreadsheet: the unit stands in the heading, numbers are numbers in every language. */
static void
test_csv (void)
{
  static const double x[] = { 1800, 3600, 7200 }, y[] = { -1.5, NAN, 71.25 };
  static const guint8 marks[] = { 0, 0, WB_CHART_MARK_AT_LEAST };
  static const char *const notes[] = { "S-1, \"left\"", "", "S-2\nnext" };
  g_autoptr (WbChart) chart = wb_chart_new ("Table", NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  WbChartLayer       *layer;

  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Time");
  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_label (wb_chart_panel_get_y (panel), "Pool");
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), WB_UNIT_MM);
  layer = wb_chart_layer_add_line (panel, "S, both", 0, WB_CHART_LINE_MARKERS, 3, x, y);
  wb_chart_layer_set_marks (layer, 3, marks);
  wb_chart_layer_set_notes (layer, 3, notes);

  g_autoptr (WbChartTable) table = wb_chart_table_new (chart);
  g_autofree char         *csv = wb_chart_table_dup_csv (table);
  g_assert_cmpstr (csv, ==, "What,Time (h),Pool (mm),Note\r\n"
                            "\"S, both\",0.5,-1.5,\"S-1, \"\"left\"\"\"\r\n"
                            "\"S, both\",2,71.3,\"at least, S-2\nnext\"\r\n");
}

void
test_table_add (void)
{
  g_test_add_func ("/chart/table/holds-what-was-drawn", test_rows);
  g_test_add_func ("/chart/table/every-chart-has-one", test_all);
  g_test_add_func ("/chart/table/of-a-heat-map", test_cells);
  g_test_add_func ("/chart/table/as-csv-numbers-are-numbers", test_csv);
}
