/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A million readings: what is drawn is bounded by pixels, and shows what each column of them holds. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "test-chart.h"
#include "wb-chart-layout.h"
#include "wb-chart-output.h"

#define N 1000000
#define WIDTH 480
#define HEIGHT 320
/* Where there are no pixels: a line's columns and the raster of dots, points. */
#define COLUMN_PT 0.25
#define RASTER_PT 0.5

typedef enum { JOINED, MARKERS, MARKS, INTERVALS, BAND, N_WAYS } Way;

typedef struct
{
  double *x, *y, *low, *high;
  guint8 *marks;
} Million;

/* Noise around a slow curve, and a few values far off. */
static void
million_init (Million *self,
              gsize    n)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  *self = (Million) { g_new (double, n), g_new (double, n), g_new (double, n), g_new (double, n), g_new0 (guint8, n) };
  for (gsize i = 0; i < n; i++)
    {
      self->x[i] = (double) i / (double) n;
      self->y[i] = 40.0 * sin (3.0 * self->x[i]) + g_rand_double_range (rand, -5.0, 5.0) + (i % 99991 == 777 ? 25.0 : 0.0);
      self->low[i] = self->y[i] - 2.0;
      self->high[i] = self->y[i] + 2.0;
      self->marks[i] = (guint8) (i % 7 == 0 ? WB_CHART_MARK_AT_LEAST : i % 7 == 1 ? WB_CHART_MARK_ASIDE : WB_CHART_MARK_PLAIN);
    }
}

static void
million_clear (Million *self)
{
  g_free (self->x);
  g_free (self->y);
  g_free (self->low);
  g_free (self->high);
  g_free (self->marks);
}

static WbChart *
create_chart (const Million *million,
              gsize          n,
              Way            way)
{
  WbChart      *chart = wb_chart_new (NULL, NULL);
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  wb_chart_axis_set_range (wb_chart_panel_get_x (panel), 0.0, 1.0);
  wb_chart_axis_set_range (wb_chart_panel_get_y (panel), -20.0, 80.0);
  wb_chart_axis_set_grid (wb_chart_panel_get_x (panel), FALSE);
  wb_chart_axis_set_grid (wb_chart_panel_get_y (panel), FALSE);
  switch (way)
    {
    case JOINED:
      wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_JOINED, n, million->x, million->y);
      break;
    case MARKERS:
    case MARKS:
      {
        WbChartLayer *layer = wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_MARKERS, n, million->x, million->y);

        if (way == MARKS)
          wb_chart_layer_set_marks (layer, n, million->marks);
        break;
      }
    case INTERVALS:
      wb_chart_layer_add_points (panel, NULL, 0, n, million->x, million->y, WB_CHART_Y, million->low, million->high);
      break;
    case BAND:
      wb_chart_layer_add_band (panel, NULL, 0, n, million->x, million->low, million->high);
      break;
    case N_WAYS:
    default:
      g_assert_not_reached ();
    }

  return chart;
}

/* Corners of all paths of an SVG picture: its letters M, L and C. */
static guint
count_corners (WbChart *chart)
{
  WbChartOutput      output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_SVG);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = wb_chart_output_dup_bytes (chart, &output, &error);
  gsize              length;
  const char        *text;
  guint              n = 0;

  g_assert_no_error (error);
  text = g_bytes_get_data (bytes, &length);
  for (gsize i = 0; i + 1 < length; i++)
    n += (text[i] == 'M' || text[i] == 'L' || text[i] == 'C') && text[i + 1] == ' ';

  return n;
}

static void
test_operations (void)
{
  /* four corners of a line in a column, an arrow's six in its cell; of dots, four for every other cell of the raster */
  static const double columns = WIDTH / COLUMN_PT, dots = WIDTH / RASTER_PT * HEIGHT / RASTER_PT / 2.0 * 4.0;
  static const double arrows = (WIDTH / 6.0 + 2.0) * (HEIGHT / 6.0 + 2.0) * 6.0;
  static const double most[] = { 4.0 * columns, dots, 3.0 * dots + arrows, dots + 2.0 * columns, 2.0 * columns };
  Million million;

  million_init (&million, N);
  for (int way = 0; way < N_WAYS; way++)
    {
      g_autoptr (WbChart) chart = create_chart (&million, N, way);
      guint               corners = count_corners (chart);

      g_test_message ("way %d: %u corners", way, corners);
      g_assert_cmpuint (corners, <, most[way] + 2000.0);
      g_assert_cmpuint (corners, <, N / 2);
      g_assert_cmpuint (corners, >, 200);
    }
  million_clear (&million);
}

static guint32
pixel_at (cairo_surface_t *surface,
          int              x,
          int              y)
{
  guint32 pixel;

  memcpy (&pixel, cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface) + 4 * x, sizeof pixel);

  return pixel & 0xffffff;
}

/* TRUE where there is ink at the place or beside it. */
static gboolean
is_inked (cairo_surface_t *surface,
          double           x,
          double           y)
{
  for (int row = -1; row <= 1; row++)
    for (int column = -1; column <= 1; column++)
      if (pixel_at (surface, (int) x + column, (int) y + row) != 0xffffff)
        return TRUE;

  return FALSE;
}

/* The lowest and the highest value of each column of pixels is there. */
static void
test_each_column (void)
{
  static const Way ways[] = { JOINED, MARKERS, MARKS, INTERVALS };
  Million million;

  million_init (&million, N);
  for (gsize w = 0; w < G_N_ELEMENTS (ways); w++)
    {
      g_autoptr (WbChart)       chart = create_chart (&million, N, ways[w]);
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, WIDTH, HEIGHT, 1.0, NULL);
      cairo_surface_t          *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
      cairo_t                  *cr = cairo_create (surface);
      double                    lowest[WIDTH], highest[WIDTH];
      guint                     columns = 0;

      wb_chart_layout_draw (layout, cr, WB_CHART_THEME_LIGHT);
      cairo_destroy (cr);
      cairo_surface_flush (surface);
      for (int i = 0; i < WIDTH; i++)
        lowest[i] = highest[i] = NAN;
      for (gsize i = 0; i < N; i++)
        {
          double x, y;

          if (!wb_chart_layout_map (layout, 0, million.x[i], million.y[i], &x, &y))
            continue;
          lowest[(int) x] = fmax (lowest[(int) x], y);
          highest[(int) x] = fmin (highest[(int) x], y);
        }
      for (int i = 0; i < WIDTH; i++)
        {
          if (isnan (lowest[i]))
            continue;
          columns++;
          g_assert_true (is_inked (surface, i, lowest[i]));
          g_assert_true (is_inked (surface, i, highest[i]));
        }
      g_assert_cmpuint (columns, >, WIDTH / 2);
      cairo_surface_destroy (surface);
    }
  million_clear (&million);
}

/* No ink of a million readings lies beside the plot: told by a recording surface, which has no edge of its own. */
static void
test_recorded_ink (void)
{
  Million million;

  million_init (&million, N / 10);
  for (int way = 0; way < N_WAYS; way++)
    {
      g_autoptr (WbChart)       chart = create_chart (&million, N / 10, way);
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, WIDTH, HEIGHT, 1.0, NULL);
      cairo_surface_t          *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
      cairo_t                  *cr = cairo_create (surface);
      double                    x, y, width, height;

      wb_chart_layout_draw (layout, cr, WB_CHART_THEME_LIGHT);
      cairo_destroy (cr);
      cairo_recording_surface_ink_extents (surface, &x, &y, &width, &height);
      g_assert_cmpfloat (x, >=, -0.01);
      g_assert_cmpfloat (y, >=, -0.01);
      g_assert_cmpfloat (x + width, <=, WIDTH + 0.01);
      g_assert_cmpfloat (y + height, <=, HEIGHT + 0.01);
      cairo_surface_destroy (surface);
    }
  million_clear (&million);
}

void
test_many_add (void)
{
  g_test_add_func ("/chart/many/paths-are-bounded-by-pixels", test_operations);
  g_test_add_func ("/chart/many/each-column-shows-its-lowest-and-highest", test_each_column);
  g_test_add_func ("/chart/many/no-ink-beside-the-page", test_recorded_ink);
}
