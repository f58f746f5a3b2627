/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <stdlib.h>

#include "wb-chart-output.h"

/*
 * A chart of the points in a text file ("x y" a line) to PNG: the whole
 * process that is compared with gnuplot's pngcairo on the same file.
 *
 *   bench-chart POINTS PNG
 *   bench-chart POINTS
 *
 * Without a PNG it tells what the window's thread needs to lay the chart out and to draw it, and what is left for
 * the main thread after that: to paint the picture.
 */

/* A picture is painted this often, for a median. */
#define PAINTS 15

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

static double
get_ms (gint64 since)
{
  return (double) (g_get_monotonic_time () - since) / 1e3;
}

static int
by_value (const void *a,
          const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* 800 x 500 points of 4/3 pixels. */
static void
tell (WbChart *chart,
      gsize    n)
{
  g_autoptr (GError) error = NULL;
  cairo_surface_t *picture = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 1067, 667);
  cairo_surface_t *frame = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 1067, 667);
  cairo_t *cr = cairo_create (picture);
  double paints[PAINTS], laid_out, drawn;
  gint64 start = g_get_monotonic_time ();
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 800, 500, 1.0, &error);

  g_assert_no_error (error);
  laid_out = get_ms (start);
  start = g_get_monotonic_time ();
  cairo_scale (cr, 4.0 / 3.0, 4.0 / 3.0);
  wb_chart_layout_draw (layout, cr, WB_CHART_THEME_LIGHT);
  drawn = get_ms (start);
  cairo_destroy (cr);
  for (guint i = 0; i < PAINTS; i++)
    {
      start = g_get_monotonic_time ();
      cr = cairo_create (frame);
      cairo_set_source_surface (cr, picture, 0, 0);
      cairo_paint (cr);
      cairo_destroy (cr);
      cairo_surface_flush (frame);
      paints[i] = get_ms (start);
    }
  qsort (paints, PAINTS, sizeof *paints, by_value);
  g_print ("%" G_GSIZE_FORMAT " points: laid out in %.1f ms and drawn in %.1f ms, in a thread; painted again in %.2f ms (%.2f at most), of a frame of 16.7 ms\n",
           n, laid_out, drawn, paints[PAINTS / 2], paints[PAINTS - 1]);
  cairo_surface_destroy (picture);
  cairo_surface_destroy (frame);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (WbChart) chart = wb_chart_new ("Pool against time", "Invented readings");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  WbChartOutput output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);
  g_autofree double *x = NULL;
  g_autofree double *y = NULL;
  gsize n;

  g_assert_true (argc == 2 || argc == 3);
  n = read_points (argv[1], &x, &y);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Time");
  wb_chart_axis_set_label (wb_chart_panel_get_y (panel), "Pool");
  wb_chart_layer_add_line (panel, "readings", 0, WB_CHART_LINE_MARKERS, n, x, y);
  if (argc == 2)
    {
      tell (chart, n);
      return 0;
    }
  output.width = 800;
  output.height = 500;
  output.scale = 1;
  if (!wb_chart_output_write (chart, &output, argv[2], &error))
    g_error ("%s", error->message);
  return 0;
}
