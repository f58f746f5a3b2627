/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-ticks.h"

#include <math.h>
#include <string.h>

#include "test-chart.h"

typedef struct
{
  const char  *name;
  WbChartScale scale;
  WbUnit       unit;
  double       low, high; /* stored */
  guint        max;
  gboolean     round;
  const char  *texts;
} Case;

/*
 * Expected by hand from the rule in wb-chart-ticks.h; conversions: 1 in = 25.4 mm and F = 9/5 C + 32 exactly
 * (NIST SP 811, appendix B).
 */
static const Case cases[] = {
  { "whole numbers", WB_CHART_SCALE_LINEAR, WB_UNIT_MM, 0.0, 80.0, 9, TRUE,
    "0 10 20 30 40 50 60 70 80" },
  { "fewer", WB_CHART_SCALE_LINEAR, WB_UNIT_MM, 0.0, 80.0, 6, TRUE, "0 20 40 60 80" },
  { "a low panel that 0 to 100 would press flat", WB_CHART_SCALE_LINEAR, WB_UNIT_MM, 0.0, 56.0, 3, TRUE, "0 30 60" },
  { "both signs", WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, -1.0, 1.0, 5, TRUE, "-1.0 -0.5 0 0.5 1.0" },
  { "a tenth", WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, 0.0, 1.0, 11, FALSE,
    "0 0.1 0.2 0.3 0.4 0.5 0.6 0.7 0.8 0.9 1.0" },
  { "small", WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, 0.0, 0.004, 5, FALSE,
    "0 0.001 0.002 0.003 0.004" },
  { "very small", WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, 0.0, 4e-8, 5, FALSE,
    "0 1×10⁻⁸ 2×10⁻⁸ 3×10⁻⁸ 4×10⁻⁸" },
  { "very large", WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, 0.0, 3e7, 4, FALSE, "0 1×10⁷ 2×10⁷ 3×10⁷" },
  { "an end beyond the last tick", WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, 0.0, 7.1, 8, FALSE,
    "0 1 2 3 4 5 6 7" },
  { "inches of stored millimetres", WB_CHART_SCALE_LINEAR, WB_UNIT_INCH, 0.0, 76.2, 7, TRUE,
    "0 0.5 1.0 1.5 2.0 2.5 3.0" },
  { "Fahrenheit of stored Celsius", WB_CHART_SCALE_LINEAR, WB_UNIT_FAHRENHEIT, 20.0, 80.0, 8, FALSE,
    "80 100 120 140 160" },
  { "four hours", WB_CHART_SCALE_DURATION, WB_UNIT_HOUR, 0.0, 14400.0, 6, FALSE, "0 1 2 3 4" },
  { "half hours", WB_CHART_SCALE_DURATION, WB_UNIT_HOUR, 0.0, 7200.0, 6, FALSE,
    "0 0.5 1.0 1.5 2.0" },
  { "two days in hours", WB_CHART_SCALE_DURATION, WB_UNIT_HOUR, 0.0, 172800.0, 6, FALSE,
    "0 12 24 36 48" },
  { "a month in hours", WB_CHART_SCALE_DURATION, WB_UNIT_HOUR, 0.0, 2592000.0, 4, FALSE,
    "0 240 480 720" },
  { "minutes by quarters", WB_CHART_SCALE_DURATION, WB_UNIT_MINUTE, 0.0, 5400.0, 7, FALSE,
    "0 15 30 45 60 75 90" },
  { "minutes by hours", WB_CHART_SCALE_DURATION, WB_UNIT_MINUTE, 0.0, 14400.0, 5, FALSE,
    "0 60 120 180 240" },
  { "decades", WB_CHART_SCALE_LOG, WB_UNIT_NONE, 0.1, 1000.0, 5, FALSE, "0.1 1 10 100 1000" },
  { "a decade by 1-2-5", WB_CHART_SCALE_LOG, WB_UNIT_NONE, 1.0, 10.0, 5, FALSE, "1 2 5 10" },
  { "decades rounded out", WB_CHART_SCALE_LOG, WB_UNIT_NONE, 0.3, 60.0, 9, TRUE,
    "0.2 0.5 1 2 5 10 20 50 100" },
  { "many decades", WB_CHART_SCALE_LOG, WB_UNIT_NONE, 1e-6, 1e6, 5, FALSE,
    "1×10⁻⁶ 0.001 1 1000 1×10⁶" },
  { "less than a decade", WB_CHART_SCALE_LOG, WB_UNIT_NONE, 20.0, 50.0, 5, FALSE, "20 30 40 50" },
};

static WbChart *
create (const Case   *one,
        WbChartAxis **axis)
{
  WbChart *chart = wb_chart_new (NULL, NULL);

  *axis = wb_chart_panel_get_x (wb_chart_add_panel (chart, 0, 0, NULL));
  wb_chart_axis_set_scale (*axis, one->scale);
  wb_chart_axis_set_unit (*axis, one->unit);

  return chart;
}

static void
test_table (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      WbChartAxis            *axis;
      g_autoptr (WbChart)     chart = create (&cases[i], &axis);
      g_autoptr (WbChartTicks) ticks = wb_chart_ticks_new (
          axis, cases[i].low, cases[i].high, cases[i].round, cases[i].round, cases[i].max);
      g_autoptr (GString)     line = g_string_new (cases[i].name);
      g_autofree char        *texts = test_localize (cases[i].texts);
      g_autofree char        *expected = g_strconcat (cases[i].name, ": ", texts, NULL);

      g_string_append_c (line, ':');
      for (gsize k = 0; k < ticks->n; k++)
        g_string_append_printf (line, " %s", ticks->ticks[k].text);
      g_assert_cmpstr (line->str, ==, expected);
    }
}

/*
 * Steps are 1, 2 or 5 times a power of ten, or one between where three ticks or more fit the range so; values lie within the range, texts
 * say the value, whatever the range.
 */
static void
test_random (void)
{
  g_autoptr (GRand)   rand = g_rand_new_with_seed (20260302);
  g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
  WbChartAxis        *axis = wb_chart_panel_get_x (wb_chart_add_panel (chart, 0, 0, NULL));

  for (int trial = 0; trial < 4000; trial++)
    {
      double   size = pow (10.0, g_rand_double_range (rand, -4.0, 5.0));
      double low = g_rand_double_range (rand, -size, size),
             high = low + g_rand_double_range (rand, 0.01, 2.0) * size;
      guint    max = (guint) g_rand_int_range (rand, 3, 12);
      gboolean round = g_rand_boolean (rand);
      g_autoptr (WbChartTicks) ticks = wb_chart_ticks_new (axis, low, high, round, round, max);

      g_assert_cmpuint (ticks->n, <=, max);
      g_assert_cmpuint (ticks->n, >=, round ? 2 : 1);
      g_assert_cmpfloat (ticks->low, <=, low);
      g_assert_cmpfloat (ticks->high, >=, high);
      if (!round)
        {
          g_assert_cmpfloat (ticks->low, ==, low);
          g_assert_cmpfloat (ticks->high, ==, high);
        }
      for (gsize k = 0; k < ticks->n; k++)
        {
          double slack = (high - low) * 1e-5;

          g_assert_cmpfloat (ticks->ticks[k].value, >=, ticks->low - slack);
          g_assert_cmpfloat (ticks->ticks[k].value, <=, ticks->high + slack);
          if (strstr (ticks->ticks[k].text, "×") == NULL)
            {
              double read;

              g_assert_true (wb_number_parse (ticks->ticks[k].text, &read, NULL));
              g_assert_cmpfloat (fabs (read - ticks->ticks[k].value), <=, slack);
            }
          if (k == 0)
            continue;

          double step = ticks->ticks[k].value - ticks->ticks[k - 1].value;
          double lead = step / pow (10.0, floor (log10 (step) + 1e-6));
          gboolean between = round && ticks->n >= 3
                             && (fabs (lead - 1.5) < 1e-4 || fabs (lead - 3.0) < 1e-4 || fabs (lead - 4.0) < 1e-4
                                 || fabs (lead - 6.0) < 1e-4 || fabs (lead - 8.0) < 1e-4);
          g_assert_true (fabs (lead - 1.0) < 1e-4 || fabs (lead - 2.0) < 1e-4 || fabs (lead - 5.0) < 1e-4 || between);
        }
    }
}

static void
test_scaled (void)
{
  g_autoptr (WbChart)      chart = wb_chart_new (NULL, NULL);
  WbChartAxis             *axis = wb_chart_panel_get_x (wb_chart_add_panel (chart, 0, 0, NULL));
  g_autoptr (WbChartTicks) small = wb_chart_ticks_new (axis, 0.31, 4.7, TRUE, TRUE, 7);
  g_autoptr (WbChartTicks) large = wb_chart_ticks_new (axis, 310.0, 4700.0, TRUE, TRUE, 7);

  g_assert_cmpuint (small->n, ==, large->n);
  for (gsize i = 0; i < small->n; i++)
    g_assert_cmpfloat_with_epsilon (small->ticks[i].value * 1000.0, large->ticks[i].value, 1e-9);
}

static void
test_formats (void)
{
  static const struct
  {
    WbChartScale scale;
    WbUnit       unit;
    gboolean     chance;
    double       value;
    const char  *text;
  } values[] = {
    { WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, FALSE, 0.8349, "0.835" },
    { WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, FALSE, 1234.0, "1234" },
    { WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, FALSE, 0.0, "0" },
    { WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, FALSE, NAN, "" },
    { WB_CHART_SCALE_LINEAR, WB_UNIT_NONE, TRUE, 0.715, "71.5\u00a0%" },
    { WB_CHART_SCALE_DURATION, WB_UNIT_HOUR, FALSE, 9000.0, "2.5\u00a0h" },
    { WB_CHART_SCALE_DURATION, WB_UNIT_NONE, FALSE, 3600.0, "1\u00a0h" },
    { WB_CHART_SCALE_DURATION, WB_UNIT_MINUTE, FALSE, 5400.0, "90\u00a0min" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (values); i++)
    {
      g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
      WbChartAxis        *axis = wb_chart_panel_get_x (wb_chart_add_panel (chart, 0, 0, NULL));

      wb_chart_axis_set_scale (axis, values[i].scale);
      wb_chart_axis_set_unit (axis, values[i].unit);
      wb_chart_axis_set_chance (axis, values[i].chance);

      g_autofree char *text = wb_chart_axis_format_value (axis, values[i].value),
                      *expected = test_localize (values[i].text);
      g_assert_cmpstr (text, ==, expected);
    }
}

static void
test_categories (void)
{
  static const char *const names[] = { "first", "second", "third", NULL };
  g_autoptr (WbChart)      chart = wb_chart_new (NULL, NULL);
  WbChartAxis             *axis = wb_chart_panel_get_x (wb_chart_add_panel (chart, 0, 0, NULL));

  wb_chart_axis_set_categories (axis, names);
  g_autoptr (WbChartTicks) ticks = wb_chart_ticks_new (axis, -0.5, 2.5, FALSE, FALSE, 3);
  g_assert_cmpuint (ticks->n, ==, 3);
  g_assert_cmpstr (ticks->ticks[2].text, ==, "third");

  g_autofree char *name = wb_chart_axis_format_value (axis, 1.2);
  g_assert_cmpstr (name, ==, "second");
}

void
test_ticks_add (void)
{
  g_test_add_func ("/chart/ticks/are-round-in-the-shown-unit", test_table);
  g_test_add_func ("/chart/ticks/are-1-2-5-and-within-any-range", test_random);
  g_test_add_func ("/chart/ticks/do-not-depend-on-the-scale", test_scaled);
  g_test_add_func ("/chart/ticks/of-categories-are-their-names", test_categories);
  g_test_add_func ("/chart/ticks/and-values-are-said-in-the-same-way", test_formats);
}
