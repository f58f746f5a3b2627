/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-chart.h"
#include "wb-chart-layout.h"

typedef struct
{
  const char  *name;
  WbChartScale scale;
  double       fixed_low, fixed_high;
  double       values[3];
  gboolean     refused;
} Case;

static const Case cases[] = {
  { "plain", WB_CHART_SCALE_LINEAR, NAN, NAN, { 1, 2, 3 }, FALSE },
  { "all equal", WB_CHART_SCALE_LINEAR, NAN, NAN, { 5, 5, 5 }, FALSE },
  { "all zero", WB_CHART_SCALE_LINEAR, NAN, NAN, { 0, 0, 0 }, FALSE },
  { "all equal and huge", WB_CHART_SCALE_LINEAR, NAN, NAN, { 1e200, 1e200, 1e200 }, FALSE },
  { "all missing", WB_CHART_SCALE_LINEAR, NAN, NAN, { NAN, NAN, NAN }, FALSE },
  { "nearly equal", WB_CHART_SCALE_LINEAR, NAN, NAN, { 1.0, 1.0 + 1e-15, 1.0 }, FALSE },
  { "infinite", WB_CHART_SCALE_LINEAR, NAN, NAN, { 1, INFINITY, 3 }, TRUE },
  { "minus infinite", WB_CHART_SCALE_LINEAR, NAN, NAN, { 1, -INFINITY, 3 }, TRUE },
  { "as wide as doubles are", WB_CHART_SCALE_LINEAR, NAN, NAN, { -1.7e308, 0, 1.7e308 }, TRUE },
  { "fixed ends", WB_CHART_SCALE_LINEAR, 0, 1, { 1, 2, 3 }, FALSE },
  { "a fixed end above the data", WB_CHART_SCALE_LINEAR, 10, NAN, { 1, 2, 3 }, FALSE },
  { "a fixed end below the data", WB_CHART_SCALE_LINEAR, NAN, -10, { 1, 2, 3 }, FALSE },
  { "fixed ends the wrong way round", WB_CHART_SCALE_LINEAR, 1, 0, { 1, 2, 3 }, TRUE },
  { "an empty range", WB_CHART_SCALE_LINEAR, 1, 1, { 1, 2, 3 }, TRUE },
  { "an infinite end", WB_CHART_SCALE_LINEAR, 0, INFINITY, { 1, 2, 3 }, TRUE },
  { "log", WB_CHART_SCALE_LOG, NAN, NAN, { 1, 20, 300 }, FALSE },
  { "log with zero left out", WB_CHART_SCALE_LOG, NAN, NAN, { 0, 20, 300 }, FALSE },
  { "log with nothing above zero", WB_CHART_SCALE_LOG, NAN, NAN, { 0, -20, -300 }, FALSE },
  { "log, all equal", WB_CHART_SCALE_LOG, NAN, NAN, { 7, 7, 7 }, FALSE },
  { "log from zero", WB_CHART_SCALE_LOG, 0, 10, { 1, 2, 3 }, TRUE },
  { "duration", WB_CHART_SCALE_DURATION, NAN, NAN, { 0, 3600, 7200 }, FALSE },
  { "categories", WB_CHART_SCALE_CATEGORY, NAN, NAN, { 0, 1, 2 }, FALSE },
  { "too many categories", WB_CHART_SCALE_CATEGORY, NAN, NAN, { 0, 1, 1e12 }, TRUE },
};

static WbChart *
create (const Case *one)
{
  static const double x[] = { 0, 1, 2 };
  WbChart      *chart = wb_chart_new ("Ranges", NULL);
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, "Panel");
  WbChartAxis  *axis = wb_chart_panel_get_y (panel);

  wb_chart_axis_set_scale (axis, one->scale);
  wb_chart_axis_set_range (axis, one->fixed_low, one->fixed_high);
  wb_chart_axis_set_label (axis, "Height");
  wb_chart_layer_add_line (panel, "line", 0, WB_CHART_LINE_MARKERS | WB_CHART_LINE_JOINED, 3, x, one->values);

  return chart;
}

static void
test_cases (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (WbChart)       chart = create (&cases[i]);
      g_autoptr (GError)        error = NULL;
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 400, 300, 1.0, &error);

      if ((layout == NULL) != cases[i].refused)
        g_error ("%s: %s", cases[i].name, error != NULL ? error->message : "was accepted");
      if (cases[i].refused)
        {
          g_assert_error (error, WB_CHART_ERROR, WB_CHART_ERROR_RANGE);
          /* The place is named: the panel and its axis. */
          g_assert_nonnull (strstr (error->message, "Panel"));
          g_assert_nonnull (strstr (error->message, "Height"));
        }
      else
        g_assert_no_error (error);
    }
}

/* An automatic range holds every value; a fixed one is kept to the bit. */
static void
test_holds (void)
{
  static const double x[] = { 0, 1, 2 }, y[] = { 17.3, 40.1, 55.9 };
  g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  double              at_x, at_y;

  wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_JOINED, 3, x, y);
  wb_chart_layer_add_rule (panel, "rule", WB_CHART_RULE_LIMIT, WB_CHART_Y, 77.0);
  wb_chart_axis_include (wb_chart_panel_get_y (panel), -3.0);
  wb_chart_axis_set_range (wb_chart_panel_get_x (panel), 0.0, 2.0);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 400, 300, 1.0, NULL);

  for (int i = 0; i < 3; i++)
    g_assert_true (wb_chart_layout_get_value (layout, 0, 0, i, &at_x, &at_y));
  g_assert_true (wb_chart_layout_map (layout, 0, 1.0, 77.0, &at_x, &at_y));
  g_assert_true (wb_chart_layout_map (layout, 0, 1.0, -3.0, &at_x, &at_y));

  WbChartRect plot = wb_chart_layout_get_plot (layout, 0);
  g_assert_true (wb_chart_layout_get_value (layout, 0, 0, 2, &at_x, &at_y));
  g_assert_cmpfloat_with_epsilon (at_x, plot.x + plot.width, 1e-6);
}

/* Panels with shared axes show the same value at the same height, whatever each holds. */
static void
test_shared (void)
{
  static const double x[] = { 0, 1 }, small[] = { 1, 2 }, large[] = { 50, 100 };
  g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
  WbChartPanel *left = wb_chart_add_panel (chart, 0, 0, "left"),
               *right = wb_chart_add_panel (chart, 0, 1, "right");
  double              left_x, left_y, right_x, right_y;

  wb_chart_layer_add_line (left, NULL, 0, WB_CHART_LINE_JOINED, 2, x, small);
  wb_chart_layer_add_line (right, NULL, 0, WB_CHART_LINE_JOINED, 2, x, large);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 400, 300, 1.0, NULL);
  g_assert_true (wb_chart_layout_map (layout, 0, 0.5, 60.0, &left_x, &left_y));
  g_assert_true (wb_chart_layout_map (layout, 1, 0.5, 60.0, &right_x, &right_y));
  g_assert_cmpfloat (left_y, ==, right_y);

  wb_chart_set_share (chart, WB_CHART_SHARE_X);
  g_autoptr (WbChartLayout) own = wb_chart_layout_new (chart, 400, 300, 1.0, NULL);
  g_assert_false (wb_chart_layout_map (own, 0, 0.5, 60.0, &left_x, &left_y));
}

/* From above, a millimetre is as long across as down. */
static void
test_plan (void)
{
  static const double diameters[] = { 30, 60 };
  g_autoptr (WbChart) chart = wb_chart_new ("Plan", NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_layer_add_wall (panel, "Wall", 0, 0, 90, 70);
  wb_chart_layer_add_rings (panel, NULL, 0, 0, 0, 2, diameters, NULL);
  for (int i = 0; i < 3; i++)
    {
      static const double sizes[][2] = { { 500, 200 }, { 200, 500 }, { 320, 320 } };
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, sizes[i][0], sizes[i][1], 1.0, NULL);
      double x[3], y[3];

      g_assert_true (wb_chart_layout_map (layout, 0, 0, 0, &x[0], &y[0]));
      g_assert_true (wb_chart_layout_map (layout, 0, 10, 0, &x[1], &y[1]));
      g_assert_true (wb_chart_layout_map (layout, 0, 0, 10, &x[2], &y[2]));
      g_assert_cmpfloat_with_epsilon (x[1] - x[0], y[0] - y[2], 1e-9);
      g_assert_true (wb_chart_layout_map (layout, 0, 45, 35, &x[0], &y[0]));
      g_assert_true (wb_chart_layout_map (layout, 0, -45, -35, &x[0], &y[0]));
    }
}

static void
test_sizes (void)
{
  static const double sizes[][3]
      = { { 119, 200, 1 }, { 200, 89, 1 },  { 30000, 200, 1 }, { NAN, 200, 1 },
          { 200, 200, 0 }, { 200, 200, 9 }, { 200, 200, NAN } };
  g_autoptr (WbChart) chart = wb_chart_new ("Sizes", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (wb_chart_layout_new (chart, sizes[i][0], sizes[i][1], sizes[i][2], &error));
      g_assert_error (error, WB_CHART_ERROR, WB_CHART_ERROR_SIZE);
    }
}

void
test_range_add (void)
{
  g_test_add_func ("/chart/range/what-no-axis-can-show-is-refused", test_cases);
  g_test_add_func ("/chart/range/holds-every-value-and-keeps-fixed-ends", test_holds);
  g_test_add_func ("/chart/range/shared-axes-are-the-same-in-every-panel", test_shared);
  g_test_add_func ("/chart/range/a-plan-is-in-real-scale", test_plan);
  g_test_add_func ("/chart/layout/a-size-out-of-bounds-is-refused", test_sizes);
}
