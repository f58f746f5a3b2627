/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sample-charts.h"
#include "test-chart.h"
#include "wb-chart-layout.h"

#define WIDTH 400
#define HEIGHT 300

static cairo_surface_t *
render (WbChart      *chart,
        WbChartTheme  theme,
        double        pixels)
{
  g_autoptr (GError)        error = NULL;
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, WIDTH, HEIGHT, 1.0, &error);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) (WIDTH * pixels),
                                                         (int) (HEIGHT * pixels));
  cairo_t                  *cr = cairo_create (surface);

  g_assert_no_error (error);
  cairo_scale (cr, pixels, pixels);
  wb_chart_layout_draw (layout, cr, theme);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);

  return surface;
}

static guint32
pixel_at (cairo_surface_t *surface,
          int              x,
          int              y)
{
  const unsigned char *row
      = cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface);
  guint32              pixel;

  memcpy (&pixel, row + 4 * x, 4);

  return pixel & 0xffffff;
}

static guint
count_differences (cairo_surface_t *a,
                   cairo_surface_t *b)
{
  guint n = 0;

  for (int y = 0; y < cairo_image_surface_get_height (a); y++)
    for (int x = 0; x < cairo_image_surface_get_width (a); x++)
      n += pixel_at (a, x, y) != pixel_at (b, x, y);

  return n;
}

/* Axes that no layer moves, and one point so that the panel is not an empty one. */
static WbChart *
create_base (WbChartLayerKind   kind,
             WbChartPanel     **panel)
{
  static const char *const names[] = { "a", "b", "c", "d", "e", "f", "g", "h", "i", "j", NULL };
  static const double zero[] = { 0.0 };
  WbChart *chart = wb_chart_new (NULL, NULL);

  *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  if (kind == WB_CHART_LAYER_WALL || kind == WB_CHART_LAYER_RINGS)
    {
      wb_chart_layer_add_wall (*panel, NULL, 0, 0, 100, 100);
      return chart;
    }
  wb_chart_axis_set_range (wb_chart_panel_get_x (*panel), -0.5, 9.5);
  wb_chart_axis_set_range (wb_chart_panel_get_y (*panel), -0.5, 9.5);
  if (kind == WB_CHART_LAYER_BARS || kind == WB_CHART_LAYER_HEAT || kind == WB_CHART_LAYER_EVENTS)
    wb_chart_axis_set_categories (wb_chart_panel_get_y (*panel), names);
  if (kind == WB_CHART_LAYER_HEAT)
    wb_chart_axis_set_categories (wb_chart_panel_get_x (*panel), names);
  wb_chart_layer_add_points (*panel, NULL, 0, 1, zero, zero, WB_CHART_Y, NULL, NULL);

  return chart;
}

static void
add_layer (WbChartPanel     *panel,
           WbChartLayerKind  kind,
           int               n,
           gboolean          missing)
{
  double x[200], y[200], low[200], high[200];

  for (int i = 0; i < n; i++)
    {
      x[i] = 1.0 + 7.0 * i / MAX (n - 1, 1);
      y[i] = missing ? NAN : 4.0 + sin (i);
      low[i] = y[i] - 1.0;
      high[i] = y[i] + 1.0;
    }
  switch (kind)
    {
    case WB_CHART_LAYER_LINE:
      wb_chart_layer_add_line (panel, NULL, 1, WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, n, x, y);
      break;
    case WB_CHART_LAYER_BAND:
      wb_chart_layer_add_band (panel, NULL, 1, n, x, low, high);
      break;
    case WB_CHART_LAYER_POINTS:
      wb_chart_layer_add_points (panel, NULL, 1, n, x, y, WB_CHART_Y, low, high);
      break;
    case WB_CHART_LAYER_BARS:
      wb_chart_layer_add_bars (panel, WB_CHART_PARTS_NAMED, MIN (n, 10), 1, NULL, y, NULL);
      break;
    case WB_CHART_LAYER_HEAT:
      wb_chart_layer_add_heat (panel, NULL, WB_CHART_HEAT_LOW_TO_HIGH, MIN (n, 10), 1, y, NULL,
                               WB_UNIT_NONE, 1, 0.0);
      break;
    case WB_CHART_LAYER_RINGS:
      wb_chart_layer_add_rings (panel, NULL, 1, 0.0, 0.0, n, missing ? y : x, NULL);
      break;
    case WB_CHART_LAYER_EVENTS:
      wb_chart_layer_add_events (panel, NULL, 1, 4.0, n, missing ? y : x, NULL, NULL);
      break;
    case WB_CHART_LAYER_RULE:
    case WB_CHART_LAYER_REGION:
    case WB_CHART_LAYER_WALL:
    case WB_CHART_LAYER_TEXT:
    default:
      g_assert_not_reached ();
    }
}

static guint
ink_of (WbChartLayerKind kind,
        int              n,
        gboolean         missing)
{
  WbChartPanel       *panel;
  g_autoptr (WbChart) base = create_base (kind, &panel);
  cairo_surface_t    *before = render (base, WB_CHART_THEME_LIGHT, 1.0);

  add_layer (panel, kind, n, missing);
  cairo_surface_t *after = render (base, WB_CHART_THEME_LIGHT, 1.0);
  guint            ink = count_differences (before, after);
  cairo_surface_destroy (before);
  cairo_surface_destroy (after);

  return ink;
}

static void
test_ink (void)
{
  static const WbChartLayerKind kinds[]
      = { WB_CHART_LAYER_LINE, WB_CHART_LAYER_BAND,  WB_CHART_LAYER_POINTS, WB_CHART_LAYER_BARS,
          WB_CHART_LAYER_HEAT, WB_CHART_LAYER_RINGS, WB_CHART_LAYER_EVENTS };

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_test_message ("layer kind %d", kinds[i]);
      if (kinds[i] != WB_CHART_LAYER_RINGS)
        g_assert_cmpuint (ink_of (kinds[i], 0, FALSE), ==, 0);
      g_assert_cmpuint (ink_of (kinds[i], 1, FALSE), >, 5);
      g_assert_cmpuint (ink_of (kinds[i], 2, FALSE), >, ink_of (kinds[i], 1, FALSE));
      /* Rings lie within the largest. */
      g_assert_cmpuint (ink_of (kinds[i], 200, FALSE) + (kinds[i] == WB_CHART_LAYER_RINGS), >,
                        ink_of (kinds[i], 2, FALSE));
      /* A missing cell is marked; anything else that is missing is not there. */
      if (kinds[i] == WB_CHART_LAYER_HEAT)
        g_assert_cmpuint (ink_of (kinds[i], 5, TRUE), >, 5);
      else if (kinds[i] != WB_CHART_LAYER_RINGS)
        g_assert_cmpuint (ink_of (kinds[i], 5, TRUE), ==, 0);
    }
}

/* A value that is infinite is refused, whatever the layer; one that stands at the same place as all others is drawn. */
static void
test_equal_and_infinite (void)
{
  static const WbChartLayerKind kinds[]
      = { WB_CHART_LAYER_LINE, WB_CHART_LAYER_BAND,  WB_CHART_LAYER_POINTS, WB_CHART_LAYER_BARS,
          WB_CHART_LAYER_HEAT, WB_CHART_LAYER_RINGS, WB_CHART_LAYER_EVENTS };

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      for (int infinite = 0; infinite < 2; infinite++)
        {
          double              v[4] = { 4.0, 4.0, 4.0, 4.0 };
          const double        below[4] = { 3.0, 3.0, 3.0, 3.0 };
          g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
          WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
          g_autoptr (GError)  error = NULL;

          g_test_message ("layer kind %d, %s", kinds[i], infinite ? "one infinite" : "all equal");
          if (infinite)
            v[2] = INFINITY;
          switch (kinds[i])
            {
            case WB_CHART_LAYER_LINE:
              wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, 4, v, v);
              break;
            case WB_CHART_LAYER_BAND:
              wb_chart_layer_add_band (panel, NULL, 0, 4, v, below, v);
              break;
            case WB_CHART_LAYER_POINTS:
              wb_chart_layer_add_points (panel, NULL, 0, 4, v, v, WB_CHART_Y, v, v);
              break;
            case WB_CHART_LAYER_BARS:
              wb_chart_axis_set_scale (wb_chart_panel_get_y (panel), WB_CHART_SCALE_CATEGORY);
              wb_chart_layer_add_bars (panel, WB_CHART_PARTS_NAMED, 2, 2, NULL, v, NULL);
              break;
            case WB_CHART_LAYER_HEAT:
              wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_CATEGORY);
              wb_chart_axis_set_scale (wb_chart_panel_get_y (panel), WB_CHART_SCALE_CATEGORY);
              wb_chart_layer_add_heat (panel, NULL, WB_CHART_HEAT_LOW_TO_HIGH, 2, 2, v, NULL, WB_UNIT_NONE, 1, 0.0);
              break;
            case WB_CHART_LAYER_RINGS:
              wb_chart_layer_add_rings (panel, NULL, 0, 0.0, 0.0, 4, v, NULL);
              break;
            case WB_CHART_LAYER_EVENTS:
              wb_chart_axis_set_scale (wb_chart_panel_get_y (panel), WB_CHART_SCALE_CATEGORY);
              wb_chart_layer_add_events (panel, NULL, 0, 0.0, 4, v, NULL, NULL);
              break;
            case WB_CHART_LAYER_RULE:
            case WB_CHART_LAYER_REGION:
            case WB_CHART_LAYER_WALL:
            case WB_CHART_LAYER_TEXT:
            default:
              g_assert_not_reached ();
            }
          g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, WIDTH, HEIGHT, 1.0, &error);

          if (infinite)
            {
              g_assert_null (layout);
              g_assert_error (error, WB_CHART_ERROR, WB_CHART_ERROR_RANGE);
              continue;
            }
          g_assert_no_error (error);

          cairo_surface_t *surface = render (chart, WB_CHART_THEME_LIGHT, 1.0);
          WbChartRect      plot = wb_chart_layout_get_plot (layout, 0);
          guint            ink = 0;

          for (int y = (int) plot.y + 4; y < (int) (plot.y + plot.height) - 4; y++)
            for (int x = (int) plot.x + 4; x < (int) (plot.x + plot.width) - 4; x++)
              {
                guint32 pixel = pixel_at (surface, x, y);

                /* the grid is grey */
                ink += kinds[i] == WB_CHART_LAYER_BAND ? pixel != 0xffffff && pixel != 0xe4e5e8 : ABS ((int) (pixel >> 16 & 0xff) - (int) (pixel & 0xff)) > 24;
              }
          g_assert_cmpuint (ink, >, 3);
          cairo_surface_destroy (surface);
        }
    }
}

static guint
strip_ink (gboolean    region,
           WbChartRule rule,
           double      low,
           double      high)
{
  WbChartPanel       *panel;
  g_autoptr (WbChart) chart = create_base (WB_CHART_LAYER_RULE, &panel);
  cairo_surface_t    *before = render (chart, WB_CHART_THEME_LIGHT, 1.0);

  if (region)
    wb_chart_layer_add_region (panel, NULL, rule, WB_CHART_Y, low, high);
  else
    wb_chart_layer_add_rule (panel, NULL, rule, WB_CHART_X, low);
  cairo_surface_t *after = render (chart, WB_CHART_THEME_LIGHT, 1.0);
  guint            ink = count_differences (before, after);
  cairo_surface_destroy (before);
  cairo_surface_destroy (after);

  return ink;
}

static void
test_strips (void)
{
  for (int rule = WB_CHART_RULE_REFERENCE; rule <= WB_CHART_RULE_AIM; rule++)
    {
      g_assert_cmpuint (strip_ink (FALSE, rule, 5.0, NAN), >, 50);
      g_assert_cmpuint (strip_ink (FALSE, rule, NAN, NAN), ==, 0);
      g_assert_cmpuint (strip_ink (FALSE, rule, 50.0, NAN), ==, 0);
      g_assert_cmpuint (strip_ink (TRUE, rule, 2.0, 5.0), >, 5000);
      g_assert_cmpuint (strip_ink (TRUE, rule, NAN, 5.0), >, strip_ink (TRUE, rule, 2.0, 5.0));
      g_assert_cmpuint (strip_ink (TRUE, rule, 2.0, NAN), >, strip_ink (TRUE, rule, 2.0, 5.0));
    }
}

/* A missing value parts a line: the middle of the gap is blank, the middle of its neighbours is not. */
static void
test_gap (void)
{
  static const double x[] = { 1, 2, 3, 4, 5, 6 }, y[] = { 4, 4, NAN, 4, 4, 4 };
  WbChartPanel       *panel;
  g_autoptr (WbChart) chart = create_base (WB_CHART_LAYER_LINE, &panel);

  wb_chart_axis_set_grid (wb_chart_panel_get_x (panel), FALSE);
  wb_chart_axis_set_grid (wb_chart_panel_get_y (panel), FALSE);
  wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_JOINED, 6, x, y);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, WIDTH, HEIGHT, 1.0, NULL);
  cairo_surface_t          *surface = render (chart, WB_CHART_THEME_LIGHT, 1.0);
  double                    at_x, at_y;

  g_assert_true (wb_chart_layout_map (layout, 0, 1.5, 4.0, &at_x, &at_y));
  g_assert_cmphex (pixel_at (surface, (int) at_x, (int) at_y), !=, 0xffffff);
  g_assert_true (wb_chart_layout_map (layout, 0, 3.0, 4.0, &at_x, &at_y));
  g_assert_cmphex (pixel_at (surface, (int) at_x, (int) at_y), ==, 0xffffff);
  g_assert_true (wb_chart_layout_map (layout, 0, 4.5, 4.0, &at_x, &at_y));
  g_assert_cmphex (pixel_at (surface, (int) at_x, (int) at_y), !=, 0xffffff);
  cairo_surface_destroy (surface);
}

/* "At least" is told by another shape, not by colour alone. */
static void
test_at_least (void)
{
  static const double x[] = { 4 }, y[] = { 4 };
  static const guint8 marks[] = { WB_CHART_MARK_AT_LEAST };
  WbChartPanel       *panel;
  g_autoptr (WbChart) chart = create_base (WB_CHART_LAYER_LINE, &panel);
  WbChartLayer       *layer = wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_MARKERS, 1, x, y);
  cairo_surface_t    *plain = render (chart, WB_CHART_THEME_LIGHT, 2.0);

  wb_chart_layer_set_marks (layer, 1, marks);
  cairo_surface_t *open = render (chart, WB_CHART_THEME_LIGHT, 2.0);
  g_assert_cmpuint (count_differences (plain, open), >, 40);
  cairo_surface_destroy (plain);
  cairo_surface_destroy (open);
}

/* One value in 100,000 stands out, and is seen. */
static void
test_extremes (void)
{
  gsize               n = 100000;
  g_autofree double  *x = g_new (double, n), *y = g_new0 (double, n);
  g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  for (gsize i = 0; i < n; i++)
    x[i] = (double) i;
  y[43210] = 10.0;
  y[65432] = -10.0;
  wb_chart_axis_set_range (wb_chart_panel_get_y (panel), -11.0, 11.0);
  wb_chart_axis_set_grid (wb_chart_panel_get_x (panel), FALSE);
  wb_chart_axis_set_grid (wb_chart_panel_get_y (panel), FALSE);
  wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_JOINED, n, x, y);

  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, WIDTH, HEIGHT, 1.0, NULL);
  cairo_surface_t          *surface = render (chart, WB_CHART_THEME_LIGHT, 1.0);
  for (int side = 0; side < 2; side++)
    {
      double at_x, at_y;

      g_assert_true (wb_chart_layout_map (layout, 0, side == 0 ? 43210 : 65432,
                                          side == 0 ? 9.0 : -9.0, &at_x, &at_y));
      g_assert_true (pixel_at (surface, (int) at_x, (int) at_y) != 0xffffff
                     || pixel_at (surface, (int) at_x + 1, (int) at_y) != 0xffffff
                     || pixel_at (surface, (int) at_x - 1, (int) at_y) != 0xffffff);
    }
  cairo_surface_destroy (surface);
}

/* Values far outside a fixed range leave no ink outside the plot. */
static void
test_clip (void)
{
  static const double x[] = { -1e12, 2, 3, 4, 1e12 }, y[] = { 1e15, -1e15, 4, 1e300, -1e12 };
  WbChartPanel       *panel;
  g_autoptr (WbChart) chart = create_base (WB_CHART_LAYER_LINE, &panel);
  cairo_surface_t    *before = render (chart, WB_CHART_THEME_LIGHT, 1.0);

  wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_JOINED, 5, x, y);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, WIDTH, HEIGHT, 1.0, NULL);
  cairo_surface_t          *after = render (chart, WB_CHART_THEME_LIGHT, 1.0);
  WbChartRect               plot = wb_chart_layout_get_plot (layout, 0);
  guint                     inside = 0;

  for (int row = 0; row < HEIGHT; row++)
    for (int column = 0; column < WIDTH; column++)
      {
        gboolean out = column < plot.x - 2 || column > plot.x + plot.width + 2 || row < plot.y - 2
                       || row > plot.y + plot.height + 2;
        gboolean differs = pixel_at (before, column, row) != pixel_at (after, column, row);

        g_assert_false (out && differs);
        inside += differs;
      }
  g_assert_cmpuint (inside, >, 100);
  cairo_surface_destroy (before);
  cairo_surface_destroy (after);
}

static void
test_themes (void)
{
  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (WbChart) chart = sample_charts_create (i);

      for (int theme = 0; theme < WB_CHART_N_THEMES; theme++)
        {
          WbChartColour    background = wb_chart_theme_get_colour (theme, WB_CHART_COLOUR_BACKGROUND);
          cairo_surface_t *surface = render (chart, theme, 1.0);
          guint32          corner = pixel_at (surface, 0, 0);
          guint            ink = 0;

          g_assert_cmpint (abs ((int) (corner >> 16) - (int) lround (background.red * 255.0)), <=, 1);
          for (int y = 0; y < HEIGHT; y++)
            for (int x = 0; x < WIDTH; x++)
              ink += pixel_at (surface, x, y) != corner;
          g_assert_cmpuint (ink, >, 500);
          cairo_surface_destroy (surface);
        }
    }
}

/* What the caller set in its context is there again afterwards. */
static void
test_context_is_kept (void)
{
  g_autoptr (WbChart)       chart = sample_charts_create (0);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, WIDTH, HEIGHT, 1.0, NULL);
  cairo_surface_t          *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  cairo_t                  *cr = cairo_create (surface);
  cairo_matrix_t            before, after;

  cairo_translate (cr, 3.0, 4.0);
  cairo_set_line_width (cr, 7.0);
  cairo_get_matrix (cr, &before);
  wb_chart_layout_draw (layout, cr, WB_CHART_THEME_LIGHT);
  cairo_get_matrix (cr, &after);
  g_assert_cmpmem (&before, sizeof before, &after, sizeof after);
  g_assert_cmpfloat (cairo_get_line_width (cr), ==, 7.0);
  g_assert_false (cairo_has_current_point (cr));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

void
test_draw_add (void)
{
  g_test_add_func ("/chart/draw/each-layer-leaves-ink-for-what-it-holds", test_ink);
  g_test_add_func ("/chart/draw/equal-values-are-drawn-infinite-ones-refused", test_equal_and_infinite);
  g_test_add_func ("/chart/draw/rules-and-regions-leave-ink-where-they-are", test_strips);
  g_test_add_func ("/chart/draw/a-missing-value-is-a-gap", test_gap);
  g_test_add_func ("/chart/draw/at-least-is-another-shape", test_at_least);
  g_test_add_func ("/chart/draw/one-extreme-in-100000-is-seen", test_extremes);
  g_test_add_func ("/chart/draw/nothing-leaves-the-plot", test_clip);
  g_test_add_func ("/chart/draw/every-theme-draws-every-chart", test_themes);
  g_test_add_func ("/chart/draw/the-context-is-left-as-it-was", test_context_is_kept);
}
