/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Shapes without text against pictures that were looked at when they were made. After a change that is meant:
 *
 *   WICKBENCH_GOLDEN=tests/chart/data build/tests/chart/test-chart -p /chart/golden
 *
 * and look at them. They are of cairo 1.16 (Debian 12); a newer one may place its grey of an edge otherwise, which the
 * tolerance allows, as long as it moves no shape.
 */
#include "config.h"

#include <cairo.h>
#include <math.h>
#include <string.h>

#include "test-chart.h"
#include "wb-chart-layout.h"

#define WIDTH 220
#define HEIGHT 150
/* Of 255: an edge's grey may differ by this much; and so many pixels in 1000 by more. */
#define EDGE 48
#define MOST_PERMILLE 4

static const double x[] = { 0, 1, 2, 3, 4, 5 };

/* Categories without names have no labels, so that no font has a say in what is drawn. */
static WbChartPanel *
add_panel (WbChart *chart,
           guint    n_rows)
{
  static const char *const nameless[] = { "", "", "", "", "", "", NULL };
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_categories (wb_chart_panel_get_x (panel), nameless);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), nameless + 6 - n_rows);

  return panel;
}

static void
add_lines (WbChart *chart)
{
  WbChartPanel *panel = add_panel (chart, 6);

  for (int series = 0; series < 6; series++)
    {
      double y[6];

      for (int i = 0; i < 6; i++)
        y[i] = series == 2 && i == 3 ? NAN : 5.0 - series * 0.9 + 0.4 * sin (i + series);
      wb_chart_layer_add_line (panel, NULL, series, WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, 6, x, y);
    }
}

static void
add_steps_and_band (WbChart *chart)
{
  static const double low[] = { 0, 0.5, 0.2, NAN, 1, 1.5 }, high[] = { 1, 2, 2.5, 3, 3, 4 }, y[] = { 3, 4, 3.5, 4.5, 5, 4 };
  WbChartPanel *panel = add_panel (chart, 6);

  wb_chart_layer_add_band (panel, NULL, 2, 6, x, low, high);
  wb_chart_layer_add_line (panel, NULL, 1, WB_CHART_LINE_STEPS, 6, x, y);
}

static void
add_points (WbChart *chart)
{
  static const double y[] = { 1, 2, 3, 2, 4, 3 }, low[] = { 0.5, 1.5, NAN, 1, 3, 2 }, high[] = { 1.5, 3, 4, NAN, 4.5, 3.2 };
  static const guint8 marks[] = { WB_CHART_MARK_PLAIN, WB_CHART_MARK_AT_LEAST, WB_CHART_MARK_ASIDE, 0, WB_CHART_MARK_AT_LEAST, 0 };

  wb_chart_layer_set_marks (wb_chart_layer_add_points (add_panel (chart, 6), NULL, 3, 6, x, y, WB_CHART_Y, low, high), 6, marks);
}

static void
add_strips (WbChart *chart)
{
  WbChartPanel *panel = add_panel (chart, 6);

  wb_chart_layer_add_region (panel, NULL, WB_CHART_RULE_AIM, WB_CHART_X, 1.0, 2.0);
  wb_chart_layer_add_region (panel, NULL, WB_CHART_RULE_LIMIT, WB_CHART_X, 4.0, NAN);
  for (int rule = WB_CHART_RULE_REFERENCE; rule <= WB_CHART_RULE_AIM; rule++)
    wb_chart_layer_add_rule (panel, NULL, rule, WB_CHART_Y, 0.5 + rule);
  wb_chart_layer_add_points (panel, NULL, 0, 1, x, x, WB_CHART_Y, NULL, NULL);
}

static void
add_bars (WbChart *chart)
{
  static const double named[] = { 1.0, 0.8, 0.6, 0.4, 0.3, 0.2, 0.5, NAN, 0.5, 1.0, 0.2, 0.1, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3,
                                  0, 0, 2, 0, 1, 0, 0.2, 0.2, 0.2, 0.2, 0.2, 2, 1, 0, 0, 0, 0, 1 };

  wb_chart_layer_add_bars (add_panel (chart, 6), WB_CHART_PARTS_NAMED, 6, 6, NULL, named, NULL);
}

static void
add_heat (WbChart *chart)
{
  double values[36];
  guint8 flags[36] = { 0 };

  for (int i = 0; i < 36; i++)
    values[i] = i == 8 || i == 20 ? NAN : i / 35.0;
  flags[3] = WB_CHART_CELL_CHOSEN;
  flags[10] = WB_CHART_CELL_CROSSED;
  flags[25] = WB_CHART_CELL_UNSURE;
  wb_chart_layer_add_heat (add_panel (chart, 6), NULL, WB_CHART_HEAT_LOW_TO_HIGH, 6, 6, values, flags, WB_UNIT_NONE, 2, 0.0);
}

static void
add_plan (WbChart *chart)
{
  static const double diameters[] = { 31.0, 47.0, 59.0, 68.0 };
  static const guint8 marks[] = { 0, 0, 0, WB_CHART_MARK_AT_LEAST };
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_layer_add_wall (panel, NULL, 0.0, 0.0, 74.0, 74.0);
  wb_chart_layer_set_marks (wb_chart_layer_add_rings (panel, NULL, 2, 0.0, 0.0, 4, diameters, NULL), 4, marks);
}

static void
add_ring_band (WbChart *chart)
{
  static const double diameters[] = { 30.0, 60.0 }, low[] = { 24.0, 54.0 }, high[] = { 37.0, 74.0 };
  static const guint8 marks[] = { 0, WB_CHART_MARK_AT_LEAST };
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  WbChartLayer       *layer;

  wb_chart_layer_add_wall (panel, NULL, 0.0, 0.0, 74.0, 74.0);
  layer = wb_chart_layer_add_rings (panel, NULL, 0, 0.0, 0.0, 2, diameters, NULL);
  wb_chart_layer_set_marks (layer, 2, marks);
  wb_chart_layer_set_ring_band (layer, 2, low, high);
}

static void
add_events (WbChart *chart)
{
  static const double starts[] = { 0.2, 2.0, 4.0 }, ends[] = { 1.0, NAN, 4.4 };
  WbChartPanel       *panel = add_panel (chart, 3);

  for (int row = 0; row < 3; row++)
    wb_chart_layer_add_events (panel, NULL, row, row, 3, starts, ends, NULL);
}

static void
add_million (WbChart *chart)
{
  g_autoptr (GRand)  rand = g_rand_new_with_seed (5);
  gsize              n = 20000;
  g_autofree double *at = g_new (double, n), *y = g_new (double, n);

  for (gsize i = 0; i < n; i++)
    {
      at[i] = 5.0 * i / n;
      y[i] = 2.5 + 2.0 * sin (at[i]) + g_rand_double_range (rand, -0.3, 0.3) + (i % 4999 == 99 ? -2.0 : 0.0);
    }
  wb_chart_layer_add_line (add_panel (chart, 6), NULL, 0, WB_CHART_LINE_MARKERS, n, at, y);
}

static const struct
{
  const char  *name;
  void         (*add) (WbChart *chart);
  WbChartTheme theme;
} pictures[] = {
  { "lines", add_lines, WB_CHART_THEME_LIGHT },
  { "lines-dark", add_lines, WB_CHART_THEME_DARK },
  { "steps-and-band", add_steps_and_band, WB_CHART_THEME_LIGHT },
  { "points", add_points, WB_CHART_THEME_LIGHT },
  { "strips", add_strips, WB_CHART_THEME_LIGHT },
  { "bars", add_bars, WB_CHART_THEME_LIGHT },
  { "heat", add_heat, WB_CHART_THEME_LIGHT },
  { "heat-high-contrast", add_heat, WB_CHART_THEME_HIGH_CONTRAST_DARK },
  { "plan", add_plan, WB_CHART_THEME_LIGHT },
  { "ring-band", add_ring_band, WB_CHART_THEME_LIGHT },
  { "events", add_events, WB_CHART_THEME_LIGHT },
  { "many", add_million, WB_CHART_THEME_LIGHT },
};

/* Letters of that size find no room in bars and cells. */
#define TEXT_SCALE 4.0

/* The plot alone, made as large as the picture: margins are a matter of the fonts. The scale bar of a plan is painted over. */
static cairo_surface_t *
render (guint picture)
{
  g_autoptr (WbChart)       chart = wb_chart_new (NULL, NULL);
  g_autoptr (GError)        error = NULL;
  cairo_surface_t          *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  cairo_t                  *cr = cairo_create (surface);

  pictures[picture].add (chart);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 1.5 * WIDTH, 1.6 * HEIGHT, TEXT_SCALE, &error);
  g_assert_no_error (error);
  WbChartRect plot = wb_chart_layout_get_plot (layout, 0);
  cairo_scale (cr, WIDTH / (plot.width + 4.0), HEIGHT / (plot.height + 4.0));
  cairo_translate (cr, 2.0 - plot.x, 2.0 - plot.y);
  wb_chart_layout_draw (layout, cr, pictures[picture].theme);
  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    {
      const WbChartItem *item = wb_chart_layout_get_item (layout, i);

      if (item->kind == WB_CHART_ITEM_SCALE_LABEL)
        {
          cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
          cairo_rectangle (cr, 0.0, item->rect.y, 10.0 * WIDTH, 10.0 * HEIGHT);
          cairo_fill (cr);
        }
      else
        g_assert_true (item->kind == WB_CHART_ITEM_PLOT || *item->text == '\0');
    }
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);

  return surface;
}

static int
get_difference (cairo_surface_t *a,
                cairo_surface_t *b,
                int              column,
                int              row)
{
  const guint8 *first = cairo_image_surface_get_data (a) + row * cairo_image_surface_get_stride (a) + 4 * column;
  const guint8 *second = cairo_image_surface_get_data (b) + row * cairo_image_surface_get_stride (b) + 4 * column;
  int           most = 0;

  /* the fourth byte of RGB24 is nothing */
  for (int channel = 0; channel < 3; channel++)
    most = MAX (most, ABS (first[channel] - second[channel]));

  return most;
}

static guint
count_differences (cairo_surface_t *a,
                   cairo_surface_t *b)
{
  guint n = 0;

  for (int row = 0; row < HEIGHT; row++)
    for (int column = 0; column < WIDTH; column++)
      n += get_difference (a, b, column, row) > EDGE;

  return n;
}

static void
test_golden (gconstpointer data)
{
  guint            picture = GPOINTER_TO_UINT (data);
  const char      *folder = g_getenv ("WICKBENCH_GOLDEN");
  g_autofree char *file = g_strdup_printf ("golden-%s.png", pictures[picture].name);
  g_autofree char *path = folder != NULL ? g_build_filename (folder, file, NULL)
                                         : g_test_build_filename (G_TEST_DIST, "chart", "data", file, NULL);
  cairo_surface_t *ours = render (picture), *golden;

  if (folder != NULL)
    g_assert_cmpint (cairo_surface_write_to_png (ours, path), ==, CAIRO_STATUS_SUCCESS);
  golden = cairo_image_surface_create_from_png (path);
  g_assert_cmpint (cairo_surface_status (golden), ==, CAIRO_STATUS_SUCCESS);
  g_assert_cmpint (cairo_image_surface_get_width (golden), ==, WIDTH);
  g_assert_cmpint (cairo_image_surface_get_height (golden), ==, HEIGHT);
  guint differing = count_differences (ours, golden);
  if (1000 * differing > MOST_PERMILLE * WIDTH * HEIGHT)
    g_error ("%s: %u pixels differ (cairo %s); see the head of test-golden.c", file, differing, cairo_version_string ());
  cairo_surface_destroy (ours);
  cairo_surface_destroy (golden);
}

/* The tolerance lets no shape through: each picture differs from every other one. */
static void
test_tell_apart (void)
{
  cairo_surface_t *all[G_N_ELEMENTS (pictures)];

  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    {
      all[i] = render (i);
      for (guint k = 0; k < i; k++)
        g_assert_cmpuint (1000 * count_differences (all[i], all[k]), >, MOST_PERMILLE * WIDTH * HEIGHT);
    }
  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    cairo_surface_destroy (all[i]);
}

void
test_golden_add (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (pictures); i++)
    {
      g_autofree char *path = g_strconcat ("/chart/golden/", pictures[i].name, NULL);

      g_test_add_data_func (path, GUINT_TO_POINTER (i), test_golden);
    }
  g_test_add_func ("/chart/golden/the-tolerance-tells-them-apart", test_tell_apart);
}
