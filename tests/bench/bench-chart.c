/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <stdlib.h>

#include "wb-chart-output.h"

/*
 * A chart of the points in a text file ("x y" a line) to PNG: the whole
 * process that is compared with gnuplot's pngcairo on the same file.
 *
 *   bench-chart POINTS PNG
 */

static gsize
read_points (const char *path,
             double    **x,
             double    **y)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  gsize n = 0;
  char *at;

  if (!g_file_get_contents (path, &text, NULL, &error))
    g_error ("%s", error->message);
  for (at = text; *at != '\0'; at++)
    n += *at == '\n';
  *x = g_new (double, n);
  *y = g_new (double, n);
  at = text;
  for (gsize i = 0; i < n; i++)
    {
      (*x)[i] = strtod (at, &at);
      (*y)[i] = strtod (at, &at);
    }
  return n;
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChart) chart = wb_chart_new ("Pool against time", "A hundred thousand invented readings");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  WbChartOutput output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);
  g_autofree double *x = NULL;
  g_autofree double *y = NULL;
  gsize n;

  g_assert_cmpint (argc, ==, 3);
  n = read_points (argv[1], &x, &y);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Time");
  wb_chart_axis_set_label (wb_chart_panel_get_y (panel), "Pool");
  wb_chart_layer_add_line (panel, "readings", 0, WB_CHART_LINE_MARKERS, n, x, y);
  output.width = 800;
  output.height = 500;
  output.scale = 1;
  if (!wb_chart_output_write (chart, &output, argv[2], &error))
    g_error ("%s", error->message);
  return 0;
}
