/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "sample-charts.h"

#include <math.h>

#define FOOTNOTE                                                                                    \
  "Invented data. 3 samples a combination, room 20 to 22 °C; readings at the wall count as “at " \
  "least”."

static void
growth_axes (WbChartPanel *panel)
{
  WbChartAxis *x = wb_chart_panel_get_x (panel), *y = wb_chart_panel_get_y (panel);

  wb_chart_axis_set_scale (x, WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (x, WB_UNIT_HOUR);
  wb_chart_axis_set_label (x, "Time since lighting");
  wb_chart_axis_set_label (y, "Pool diameter");
  wb_chart_axis_set_unit (y, WB_UNIT_MM);
  wb_chart_axis_include (y, 0.0);
}

static void
add_growth (WbChartPanel *panel,
            const char   *name,
            int           series,
            double        limit,
            double        hours)
{
  double  x[41], y[41], low[41], high[41], read_x[5], read_y[5];
  guint8  marks[5];
  gdouble wall = 74.0;

  for (int i = 0; i <= 40; i++)
    {
      x[i] = i * 360.0;
      y[i] = fmin (limit * (1.0 - exp (-x[i] / 3600.0 / hours)), wall);
      low[i] = y[i] * 0.955;
      high[i] = fmin (y[i] * 1.045, wall);
    }
  for (int i = 0; i < 5; i++)
    {
      double wobble = 1.2 * sin (series * 2.3 + i * 1.9);

      read_x[i] = (i + 1) * 3000.0;
      read_y[i] = limit * (1.0 - exp (-read_x[i] / 3600.0 / hours)) + wobble;
      marks[i] = read_y[i] >= wall ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
      read_y[i] = fmin (read_y[i], wall);
    }
  wb_chart_layer_add_band (panel, name, series, 41, x, low, high);
  wb_chart_layer_add_line (panel, name, series, WB_CHART_LINE_JOINED, 41, x, y);
  wb_chart_layer_set_marks (
      wb_chart_layer_add_line (panel, name, series, WB_CHART_LINE_MARKERS, 5, read_x, read_y), 5,
      marks);
}

static WbChart *
create_growth (void)
{
  WbChart *chart = wb_chart_new (
      "N 14 reaches the wall after about 3 h; N 10 and N 12 stay short of it",
      "Pool diameter against time for three combinations, with fitted curves and 90 % intervals.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  growth_axes (panel);
  wb_chart_layer_add_region (panel, "Aim: full in 2.2 to 3.6 h", WB_CHART_RULE_AIM, WB_CHART_X,
                             2.2 * 3600.0, 3.6 * 3600.0);
  add_growth (panel, "N 10", 0, 56.0, 1.3);
  add_growth (panel, "N 12", 1, 66.0, 1.4);
  add_growth (panel, "N 14", 2, 83.0, 1.45);
  wb_chart_layer_add_rule (panel, "Wall, 74 mm", WB_CHART_RULE_WALL, WB_CHART_Y, 74.0);
  wb_chart_set_footnote (chart, FOOTNOTE);

  return chart;
}

static WbChart *
create_crowded (void)
{
  WbChart *chart = wb_chart_new (
      "Fourteen combinations that end close together keep their names apart", "Fourteen curves.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  growth_axes (panel);
  for (int i = 0; i < 14; i++)
    {
      g_autofree char *name = g_strdup_printf ("Series %c, size %d, scent %d %%", 'A' + i / 5,
                                               6 + 2 * (i % 5), 4 + i % 3 * 2);

      double x[9], y[9];
      for (int k = 0; k < 9; k++)
        {
          x[k] = k * 1800.0;
          y[k] = (48.0 + i * 1.4) * (1.0 - exp (-x[k] / 4800.0)) + sin (i + k);
        }
      wb_chart_layer_add_line (panel, name, i, WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, 9, x, y);
    }
  wb_chart_layer_add_rule (panel, "Limit 50 mm: stop the burn", WB_CHART_RULE_LIMIT, WB_CHART_Y, 50.0);
  wb_chart_layer_add_rule (panel, "Ask at 38 mm", WB_CHART_RULE_ASK, WB_CHART_Y, 38.0);

  return chart;
}

static WbChart *
create_grid (void)
{
  static const char *const vessels[] = { "Tumbler 68", "Tumbler 80", "Tin 74" };
  static const char *const scents[] = { "Unscented", "Cedar 6 %" };
  WbChart *chart = wb_chart_new ("The wider tumbler needs two sizes more; scent slows every pool",
                                 "Small multiples over three vessels and two scents.");

  for (guint row = 0; row < 2; row++)
    for (guint column = 0; column < 3; column++)
      {
        g_autofree char *title = g_strdup_printf ("%s, %s", vessels[column], scents[row]);
        WbChartPanel    *panel = wb_chart_add_panel (chart, row, column, title);

        growth_axes (panel);
        if (row == 1 && column == 2)
          {
            wb_chart_panel_set_empty_text (panel, "No readings yet");
            continue;
          }
        add_growth (panel, "N 10", 0, 55.0 + column * 3.0 - row * 4.0, 1.3);
        add_growth (panel, "N 12", 1, 64.0 + column * 3.0 - row * 4.0, 1.4);
        add_growth (panel, "N 14", 2, 78.0 + column * 3.0 - row * 4.0, 1.5);
        wb_chart_layer_add_rule (panel, "Wall", WB_CHART_RULE_WALL, WB_CHART_Y, 74.0);
      }
  wb_chart_set_footnote (chart, FOOTNOTE);

  return chart;
}

static void
add_life (WbChart    *chart,
          guint       row,
          guint       column,
          const char *title,
          WbUnit      unit,
          double      from,
          double      slope,
          double      limit)
{
  WbChartPanel *panel = wb_chart_add_panel (chart, row, column, title);

  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Burn");
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), unit);
  for (int series = 0; series < 3; series++)
    {
      double x[12], y[12];

      for (int i = 0; i < 12; i++)
        {
          x[i] = i + 1;
          y[i] = i == 6 && series == 1 ? NAN
                                       : from + slope * i * (1.0 + series * 0.4)
                                             + 0.6 * slope * sin (i * 1.7 + series);
        }
      static const char *const names[] = { "S-01", "S-02", "S-03" };
      wb_chart_layer_add_line (panel, names[series], series,
                               WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, 12, x, y);
    }
  if (limit > 0.0)
    wb_chart_layer_add_rule (panel, "Limit", WB_CHART_RULE_LIMIT, WB_CHART_Y, limit);
}

static WbChart *
create_life (void)
{
  WbChart *chart = wb_chart_new ("S-03 crosses the temperature limit in the last third",
                                 "Four figures over twelve burns of three samples.");

  wb_chart_set_share (chart, WB_CHART_SHARE_X);
  add_life (chart, 0, 0, "Flame height", WB_UNIT_MM, 18.0, 1.1, 38.0);
  add_life (chart, 0, 1, "Hottest side", WB_UNIT_CELSIUS, 41.0, 1.9, 60.0);
  add_life (chart, 1, 0, "Pool depth", WB_UNIT_MM, 7.0, 0.45, 0.0);
  add_life (chart, 1, 1, "Consumption", WB_UNIT_G_PER_H, 4.2, 0.08, 0.0);

  return chart;
}

static WbChart *
create_score (void)
{
  static const char *const names[] = { "N 14, Cedar 6 %", "N 12, Cedar 6 %", "W 3, Cedar 6 %",
                                       "N 16, Cedar 6 %", "N 10, Cedar 6 %", NULL };
  static const double value[] = { 0.82, 0.74, 0.61, 0.40, 0.18 };
  WbChart *chart = wb_chart_new ("N 14 scores best, and N 12 is not far behind",
                                 "Score with 90 % interval of five combinations.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), names);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Score of the next one made (90 % interval)");
  wb_chart_axis_set_range (wb_chart_panel_get_x (panel), 0.0, 1.0);
  wb_chart_axis_set_grid (wb_chart_panel_get_y (panel), TRUE);
  for (int i = 0; i < 5; i++)
    {
      double y = i, low = value[i] - 0.05 - 0.02 * i, high = fmin (value[i] + 0.04 + 0.03 * i, 1.0);

      wb_chart_layer_add_points (panel, names[i], i, 1, &value[i], &y, WB_CHART_X, &low, &high);
    }
  wb_chart_layer_add_rule (panel, "Good enough", WB_CHART_RULE_REFERENCE, WB_CHART_X, 0.7);

  return chart;
}

static WbChart *
create_ranks (void)
{
  static const char *const names[] = { "N 14", "N 12", "W 3", "N 16", "N 10", NULL };
  static const char *const ranks[] = { "1st", "2nd", "3rd", "4th", "5th" };
  static const double share[]
      = { 0.71, 0.22, 0.05, 0.02, 0.0, 0.24, 0.52, 0.18, 0.05, 0.01, 0.04, 0.2, 0.5,
          0.2,  0.06, 0.01, 0.05, 0.2, 0.5,  0.24, 0.0,  0.01, 0.07, 0.23, 0.69 };
  WbChart *chart = wb_chart_new ("N 14 is best with a chance of 71 %",
                                 "Chance of each rank for five combinations.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), names);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Chance of the rank");
  wb_chart_axis_set_chance (wb_chart_panel_get_x (panel), TRUE);
  wb_chart_axis_set_range (wb_chart_panel_get_x (panel), 0.0, 1.0);
  wb_chart_layer_add_bars (panel, WB_CHART_PARTS_ORDERED, 5, 5, ranks, share, NULL);

  return chart;
}

static WbChart *
create_parts (void)
{
  static const char *const names[] = { "N 14", "N 12", "W 3", NULL };
  static const char *const parts[]
      = { "Full pool", "Flame", "Vessel temperature", "Soot", "Hang-up", "Throw" };
  static const double value[] = { 0.22, 0.15, 0.18, 0.1, 0.09, 0.08, 0.15, 0.16, 0.19,
                                  0.11, 0.05, 0.08, 0.1, 0.1,  0.2,  0.12, NAN,  0.09 };
  WbChart *chart = wb_chart_new ("Full pool and vessel temperature carry the score",
                                 "Parts of the score of three combinations.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), names);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Score");
  wb_chart_layer_add_bars (panel, WB_CHART_PARTS_NAMED, 3, 6, parts, value, NULL);

  return chart;
}

static WbChart *
create_heat (void)
{
  static const char *const rows[]
      = { "Tumbler 68", "Tumbler 80", "Tin 74", "Jar with a rather long name 90", NULL };
  static const char *const columns[] = { "N 8", "N 10", "N 12", "N 14", "N 16", "N 18", NULL };
  double        values[24];
  guint8        flags[24] = { 0 };
  WbChart *chart = wb_chart_new ("Each vessel has its own best size, two steps apart",
                                 "Heat map of the score over vessels and sizes.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  for (int i = 0; i < 24; i++)
    {
      double away = (i % 6) - 1.2 - (i / 6) * 0.9;

      values[i] = i == 9 || i == 17 ? NAN : exp (-away * away / 3.0);
    }
  flags[2] = flags[10] = WB_CHART_CELL_CHOSEN;
  flags[5] = flags[4] = WB_CHART_CELL_CROSSED;
  flags[18] = WB_CHART_CELL_UNSURE;
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), rows);
  wb_chart_axis_set_categories (wb_chart_panel_get_x (panel), columns);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Size");
  wb_chart_layer_add_heat (panel, "Score", WB_CHART_HEAT_LOW_TO_HIGH, 4, 6, values, flags,
                           WB_UNIT_NONE, 2, 0.0);

  return chart;
}

static WbChart *
create_around (void)
{
  double        values[12 * 30];
  WbChart *chart
      = wb_chart_new ("Differences from the mean, too many for numbers", "Heat map around zero.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  for (int i = 0; i < 12 * 30; i++)
    values[i] = i % 37 == 5 ? NAN : 4.0 * sin (i * 0.11) * cos (i / 30 * 0.6);
  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_CATEGORY);
  wb_chart_axis_set_scale (wb_chart_panel_get_y (panel), WB_CHART_SCALE_CATEGORY);
  wb_chart_layer_add_heat (panel, "Difference", WB_CHART_HEAT_AROUND, 12, 30, values, NULL,
                           WB_UNIT_MM, 1, 0.0);

  return chart;
}

static WbChart *
create_rings (void)
{
  static const double diameters[] = { 31.0, 47.0, 59.0, 68.0, 74.0 };
  static const char *const labels[]
      = { "1 h: 31 mm", "2 h: 47 mm", "3 h: 59 mm", "4 h: 68 mm", "5 h: at least 74 mm" };
  static const guint8 marks[] = { 0, 0, 0, 0, WB_CHART_MARK_AT_LEAST };
  WbChart *chart = wb_chart_new ("The pool grows evenly and reaches the wall in the fifth hour",
                                 "Pool rings from above, one an hour.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_unit (wb_chart_panel_get_x (panel), WB_UNIT_MM);
  wb_chart_layer_add_wall (panel, "Wall: 74 mm", 0.0, 0.0, 74.0, 74.0);
  wb_chart_layer_set_marks (
      wb_chart_layer_add_rings (panel, "N 12", 2, 0.0, 0.0, 5, diameters, labels), 5, marks);

  return chart;
}

static WbChart *
create_bench (void)
{
  static const char *const hours[] = { "1 h", "2 h", "3 h", "4 h" };
  WbChart *chart = wb_chart_new ("Twelve on the bench, each to scale", "Pool rings of twelve samples.");

  for (guint i = 0; i < 12; i++)
    {
      g_autofree char *title = g_strdup_printf ("S-%02u", i + 1);
      WbChartPanel    *panel = wb_chart_add_panel (chart, i / 4, i % 4, title);
      double           wall = 68.0 + 6.0 * (i % 3), diameters[4];

      for (int hour = 0; hour < 4; hour++)
        diameters[hour] = (wall + i - 6.0) * (1.0 - exp (-(hour + 1) / 1.4));
      wb_chart_layer_add_wall (panel, NULL, 0.0, 0.0, wall, wall);
      wb_chart_layer_add_rings (panel, NULL, 0, 0.0, 0.0, 4, diameters, hours);
    }

  return chart;
}

static WbChart *
create_events (void)
{
  static const char *const rows[] = { "Flame", "Wick", "Vessel", NULL };
  static const double soot[] = { 1800.0, 5400.0, 9000.0 }, soot_end[] = { 2700.0, 5700.0, 10800.0 };
  static const double trims[] = { 3600.0, 7200.0 }, hot[] = { 8400.0 };
  static const char *const soot_labels[]
      = { "wisps", "smoke", "smoke" },
      *const trim_labels[] = { "trimmed", "trimmed" }, *const hot_labels[] = { "60 °C" };
  WbChart      *chart = wb_chart_new ("Smoke comes back an hour after each trim", "Events of one burn.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_unit (wb_chart_panel_get_x (panel), WB_UNIT_MINUTE);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Time since lighting");
  wb_chart_axis_set_range (wb_chart_panel_get_x (panel), 0.0, 14400.0);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), rows);
  wb_chart_layer_add_events (panel, "Smoke", 3, 0.0, 3, soot, soot_end, soot_labels);
  wb_chart_layer_add_events (panel, "Trim", 0, 1.0, 2, trims, NULL, trim_labels);
  wb_chart_layer_add_events (panel, "Hot", 1, 2.0, 1, hot, NULL, hot_labels);

  return chart;
}

static WbChart *
create_log (void)
{
  double        x[30], y[30], low[30], high[30];
  WbChart *chart
      = wb_chart_new ("Counts fall over four decades", "Counts against size on logarithmic axes.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  for (int i = 0; i < 30; i++)
    {
      x[i] = pow (10.0, -1.0 + i * 0.1);
      y[i] = 3000.0 / (1.0 + x[i] * x[i] * 20.0);
      low[i] = y[i] * 0.6;
      high[i] = y[i] * 1.6;
    }
  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_LOG);
  wb_chart_axis_set_scale (wb_chart_panel_get_y (panel), WB_CHART_SCALE_LOG);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Size, µm");
  wb_chart_axis_set_label (wb_chart_panel_get_y (panel), "Count");
  wb_chart_layer_add_points (panel, "Counted", 5, 30, x, y, WB_CHART_Y, low, high);
  wb_chart_layer_add_text (panel, 1.0, 140.0, "knee");

  return chart;
}

static WbChart *
create_empty (void)
{
  WbChart      *chart = wb_chart_new ("Nothing to compare yet", "No data.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  growth_axes (panel);
  wb_chart_panel_set_empty_text (
      panel, "No burn of this experiment has a reading. Log one on the bench page.");

  return chart;
}

WbChart *
sample_charts_walk (gsize    n,
                    guint32  seed,
                    gboolean markers)
{
  g_autoptr (GRand)  rand = g_rand_new_with_seed (seed);
  g_autofree double *x = g_new (double, n), *y = g_new (double, n);
  WbChart           *chart = wb_chart_new ("A logger's trace", "Temperature over one night.");
  WbChartPanel      *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  double             at = 22.0;

  for (gsize i = 0; i < n; i++)
    {
      at += g_rand_double_range (rand, -0.5, 0.5) + (22.0 - at) * 0.001;
      x[i] = i * 36000.0 / n;
      y[i] = at + (i % 5000 == 777 ? 15.0 : 0.0);
    }
  wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Time");
  wb_chart_axis_set_label (wb_chart_panel_get_y (panel), "Room temperature");
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), WB_UNIT_CELSIUS);
  wb_chart_layer_add_line (panel, "Logger", 0,
                           WB_CHART_LINE_JOINED | (markers ? WB_CHART_LINE_MARKERS : 0), n, x, y);

  return chart;
}

static WbChart *
create_walk (void)
{
  return sample_charts_walk (100000, 1, FALSE);
}

/* Long words of German in every place. */
static WbChart *
create_german (void)
{
  static const char *const names[] = { "Trinkglas 80 · Größe S-3", "Trinkglas 80 · Größe S-4", "Weißblechdose 74 · Größe S-2",
                                       "Weißblechdose 74 · Größe S-3", "Apothekerglas 68 · Größe S-1", NULL };
  static const char *const parts[] = { "Zeit bis zum vollen Schmelzbad", "Flammenhöhe", "Gefäßtemperatur", "Rußablagerung",
                                       "Wachsrückstand am Rand", "Duftverbreitung" };
  static const double value[] = { 0.82, 0.74, 0.61, 0.40, 0.18 };
  static const double lost[30] = { 0.05, 0.02, 0.04, 0.01, 0.03, 0.03, 0.1, 0.02, 0.05, 0.02, 0.03, 0.04, 0.12, 0.06, 0.09, 0.02,
                                   0.05, 0.05, 0.2, 0.1, 0.14, 0.04, 0.06, 0.06, 0.3, 0.12, 0.2, 0.06, 0.08, 0.06 };
  WbChart *chart = wb_chart_new ("Die Größe S-3 führt im Trinkglas mit 0,82; in der Weißblechdose liegt die Größe S-2 um 0,21 vor der nächsten",
                                 "Punktzahl mit 90-%-Intervall und was sie kostet.");
  WbChartPanel *left = wb_chart_add_panel (chart, 0, 0, "Punktzahl, 90-%-Intervall"),
               *right = wb_chart_add_panel (chart, 0, 1, "Was zur vollen Punktzahl fehlt");

  wb_chart_set_share (chart, WB_CHART_SHARE_Y);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (left), names);
  wb_chart_axis_set_label (wb_chart_panel_get_x (left), "Punktzahl der nächsten Kerze");
  wb_chart_axis_set_label (wb_chart_panel_get_x (right), "Verlorene Punktzahl");
  for (int i = 0; i < 5; i++)
    {
      double y = i, low = value[i] - 0.05 - 0.02 * i, high = fmin (value[i] + 0.04 + 0.03 * i, 1.0);

      wb_chart_layer_add_points (left, names[i], i, 1, &value[i], &y, WB_CHART_X, &low, &high);
    }
  wb_chart_axis_set_categories (wb_chart_panel_get_y (right), names);
  wb_chart_layer_add_bars (right, WB_CHART_PARTS_NAMED, 5, 6, parts, lost, NULL);
  wb_chart_set_footnote (chart, "20 Proben, 311 Brennvorgänge, 4000 Ziehungen. Erfundene Daten.");

  return chart;
}

/* From right to left, with a time axis that is not. */
static WbChart *
create_hebrew (void)
{
  WbChart *chart = wb_chart_new ("הבריכה של N 14 מגיעה לדופן אחרי שלוש שעות; N 10 נשארת קצרה ממנה",
                                 "קוטר הבריכה לאורך הזמן בשני כלים.");

  for (guint column = 0; column < 2; column++)
    {
      WbChartPanel *panel = wb_chart_add_panel (chart, 0, column, column == 0 ? "כוס 80" : "פחית 74");

      growth_axes (panel);
      wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "זמן מאז ההדלקה");
      wb_chart_axis_set_label (wb_chart_panel_get_y (panel), "קוטר הבריכה");
      add_growth (panel, "N 10", 0, 55.0 + column * 3.0, 1.3);
      add_growth (panel, "פתילה ارز 14", 2, 78.0 + column * 3.0, 1.5);
      wb_chart_layer_add_rule (panel, "דופן, 74 מ״מ", WB_CHART_RULE_WALL, WB_CHART_Y, 74.0);
    }
  wb_chart_set_footnote (chart, "נתונים מומצאים.");

  return chart;
}

static const struct
{
  const char *name;
  WbChart    *(*create) (void);
} samples[] = {
  { "growth", create_growth }, { "crowded", create_crowded }, { "grid", create_grid },
  { "life", create_life },     { "score", create_score },     { "ranks", create_ranks },
  { "parts", create_parts },   { "heat", create_heat },       { "around", create_around },
  { "rings", create_rings },   { "bench", create_bench },     { "events", create_events },
  { "log", create_log },       { "empty", create_empty },     { "walk", create_walk },
  { "german", create_german }, { "hebrew", create_hebrew },
};

guint
sample_charts_get_n (void)
{
  return G_N_ELEMENTS (samples);
}

const char *
sample_charts_get_name (guint index)
{
  return samples[index].name;
}

WbChart *
sample_charts_create (guint index)
{
  return samples[index].create ();
}
