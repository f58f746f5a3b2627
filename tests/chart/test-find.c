/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "sample-charts.h"
#include "test-chart.h"
#include "wb-chart-layout.h"

/* Pointing at any value of any chart finds a value that lies there. */
static void
test_every_value (void)
{
  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (WbChart)       chart = sample_charts_create (i);
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 600, 400, 1.0, NULL);

      for (guint p = 0; p < wb_chart_get_n_panels (chart); p++)
        for (guint l = 0; l < wb_chart_panel_get_n_layers (wb_chart_get_panel (chart, p)); l++)
          {
            gsize n = wb_chart_layer_get_n (wb_chart_panel_get_layer (wb_chart_get_panel (chart, p), l));

            for (gsize v = 0; v < n; v += MAX (n / 20, 1))
              {
                double     x, y;
                WbChartHit hit;

                if (!wb_chart_layout_get_value (layout, p, l, v, &x, &y))
                  continue;
                g_assert_true (wb_chart_layout_find (layout, x, y, 5.0, &hit));
                g_assert_cmpfloat (hit.distance, <, 1e-6);
                g_assert_cmpuint (hit.panel, ==, p);

                g_autofree char *words = wb_chart_layout_describe (layout, &hit);
                g_assert_cmpstr (words, !=, "");
              }
          }
    }
}

static void
test_nearest (void)
{
  static const double x[] = { 0, 1, 2, 3 }, y[] = { 0, 10, NAN, 30 };
  g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  double              at_x, at_y;
  WbChartHit          hit;

  wb_chart_layer_add_line (panel, "a", 0, WB_CHART_LINE_MARKERS, 4, x, y);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 400, 300, 1.0, NULL);
  g_assert_true (wb_chart_layout_map (layout, 0, 1.0, 10.0, &at_x, &at_y));
  g_assert_true (wb_chart_layout_find (layout, at_x + 3.0, at_y + 4.0, 8.0, &hit));
  g_assert_cmpuint (hit.index, ==, 1);
  g_assert_cmpfloat_with_epsilon (hit.distance, 5.0, 1e-9);
  g_assert_false (wb_chart_layout_find (layout, at_x + 3.0, at_y + 4.0, 4.0, &hit));
  g_assert_false (wb_chart_layout_find (layout, -500.0, -500.0, 8.0, &hit));
  g_assert_false (wb_chart_layout_get_value (layout, 0, 0, 2, &at_x, &at_y));
  g_assert_false (wb_chart_layout_get_value (layout, 0, 0, 4, &at_x, &at_y));
  g_assert_false (wb_chart_layout_get_value (layout, 0, 9, 0, &at_x, &at_y));
}

static void
test_words (void)
{
  static const double x[] = { 7200.0 }, y[] = { 71.0 };
  static const guint8 marks[] = { WB_CHART_MARK_AT_LEAST };
  static const char *const notes[] = { "S-12" };
  g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  WbChartLayer       *layer = wb_chart_layer_add_line (panel, "N 14", 0, WB_CHART_LINE_MARKERS, 1, x, y);
  WbChartHit          hit = { 0, 0, 0, 0, 0, 0 };

  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), WB_UNIT_MM);
  wb_chart_layer_set_marks (layer, 1, marks);
  wb_chart_layer_set_notes (layer, 1, notes);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 400, 300, 1.0, NULL);
  g_autofree char *words = wb_chart_layout_describe (layout, &hit),
                  *value = wb_quantity_format (WB_UNIT_MM, 71.0, -1);
  g_autofree char *expected = g_strconcat ("N 14: 2\u00a0h, ", value, ", at least, S-12", NULL);
  g_assert_cmpstr (words, ==, expected);
}

/* A bar is hit anywhere on it, a ring anywhere along it. */
static void
test_shapes (void)
{
  static const char *const rows[] = { "a", "b", NULL };
  static const double values[] = { 3.0, 4.0 }, diameters[] = { 40.0 };
  g_autoptr (WbChart) bars = wb_chart_new (NULL, NULL), plan = wb_chart_new (NULL, NULL);
  WbChartPanel       *panel = wb_chart_add_panel (bars, 0, 0, NULL);
  double              x, y;
  WbChartHit          hit;

  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), rows);
  wb_chart_layer_add_bars (panel, WB_CHART_PARTS_NAMED, 2, 1, NULL, values, NULL);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (bars, 400, 300, 1.0, NULL);
  g_assert_true (wb_chart_layout_map (layout, 0, 3.9, 1.0, &x, &y));
  g_assert_true (wb_chart_layout_find (layout, x, y, 1.0, &hit));
  g_assert_cmpuint (hit.index, ==, 1);
  g_assert_true (wb_chart_layout_map (layout, 0, 3.9, 0.0, &x, &y));
  g_assert_false (wb_chart_layout_find (layout, x, y, 1.0, &hit));

  panel = wb_chart_add_panel (plan, 0, 0, NULL);
  wb_chart_layer_add_wall (panel, "Wall", 0, 0, 60, 60);
  wb_chart_layer_add_rings (panel, "rings", 0, 0, 0, 1, diameters, NULL);
  g_autoptr (WbChartLayout) rings = wb_chart_layout_new (plan, 400, 300, 1.0, NULL);
  g_assert_true (wb_chart_layout_map (rings, 0, 20.0 * cos (2.0), 20.0 * sin (2.0), &x, &y));
  g_assert_true (wb_chart_layout_find (rings, x, y, 1.0, &hit));
  g_assert_cmpuint (hit.layer, ==, 1);
  g_assert_true (wb_chart_layout_map (rings, 0, 5.0, 5.0, &x, &y));
  g_assert_false (wb_chart_layout_find (rings, x, y, 1.0, &hit));
}

void
test_find_add (void)
{
  g_test_add_func ("/chart/find/every-value-is-found-where-it-is-drawn", test_every_value);
  g_test_add_func ("/chart/find/the-nearest-within-reach", test_nearest);
  g_test_add_func ("/chart/find/says-what-it-found", test_words);
  g_test_add_func ("/chart/find/bars-and-rings-by-their-shape", test_shapes);
}
