/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "sample-charts.h"
#include "test-chart.h"
#include "wb-chart-layout.h"

static const WbChartItem *
find (const WbChartLayout *layout,
      WbChartItemKind      kind,
      const char          *text)
{
  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    {
      const WbChartItem *item = wb_chart_layout_get_item (layout, i);

      if (item->kind == kind && (text == NULL || g_strcmp0 (item->text, text) == 0))
        return item;
    }

  return NULL;
}

static WbChart *
create_lines (int n)
{
  static const double x[] = { 0, 1 };
  WbChart            *chart = wb_chart_new ("Lines", NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  for (int i = 0; i < n; i++)
    {
      g_autofree char *name = g_strdup_printf ("Line %d", i);
      double           y[] = { 0.0, 10.0 + i * 0.01 };

      wb_chart_layer_add_line (panel, name, i, WB_CHART_LINE_JOINED, 2, x, y);
    }

  return chart;
}

/* Five lines that end at the same place: five names right of the plot, in the order of the ends. */
static void
test_ends (void)
{
  g_autoptr (WbChart)       chart = create_lines (5);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 480, 320, 1.0, NULL);
  WbChartRect               plot = wb_chart_layout_get_plot (layout, 0);
  double                    last = INFINITY;

  for (int i = 0; i < 5; i++)
    {
      g_autofree char   *name = g_strdup_printf ("Line %d", i);
      const WbChartItem *item = find (layout, WB_CHART_ITEM_LINE_LABEL, name);

      g_assert_nonnull (item);
      g_assert_cmpint (item->layer, ==, i);
      g_assert_cmpfloat (item->rect.x, >, plot.x + plot.width);
      g_assert_cmpfloat (item->rect.y, <, last);
      last = item->rect.y;
    }
  g_assert_null (find (layout, WB_CHART_ITEM_KEY, NULL));
}

/* A flame of 51 over 50 in a low panel: both limits keep their names, that of the reading stands too, and the axis fits them. */
static void
test_limits (void)
{
  static const double x[] = { 0.0, 0.2, 0.4, 0.6, 0.8, 1.0 }, y[] = { 30, 35, 38, 44, 49, 51 };
  static const double sizes[][2] = { { 430, 230 }, { 380, 200 }, { 640, 300 } };

  for (guint k = 0; k < G_N_ELEMENTS (sizes); k++)
    {
      g_autoptr (WbChart) chart = wb_chart_new ("B6 crosses the house limit of 50 mm (flame height) with 8 % of its wax left; B4 is calm", NULL);

      for (guint i = 0; i < 4; i++)
        {
          WbChartPanel *panel = wb_chart_add_panel (chart, i / 2, i % 2, NULL);
          WbChartAxis  *axis = wb_chart_panel_get_y (panel);

          wb_chart_axis_set_label (axis, "Highest flame");
          wb_chart_axis_include (axis, 0.0);
          wb_chart_axis_include (axis, 56.0);
          wb_chart_layer_add_rule (panel, "look from 38 mm", WB_CHART_RULE_ASK, WB_CHART_Y, 38.0);
          wb_chart_layer_add_rule (panel, "house limit, 50 mm", WB_CHART_RULE_LIMIT, WB_CHART_Y, 50.0);
          wb_chart_layer_add_line (panel, "B6", 0, WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, G_N_ELEMENTS (x), x, y);
          wb_chart_layer_add_crossing (panel, 1.0, 51.0, "B6-2: 51 mm");
        }
      wb_chart_set_share (chart, WB_CHART_SHARE_X);

      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, sizes[k][0], sizes[k][1], 1.0, NULL);
      guint                     limits = 0, asks = 0, notes = 0;

      for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
        {
          const WbChartItem *item = wb_chart_layout_get_item (layout, i);

          limits += g_strcmp0 (item->text, "house limit, 50 mm") == 0;
          asks += g_strcmp0 (item->text, "look from 38 mm") == 0;
          notes += item->kind == WB_CHART_ITEM_NOTE && g_strcmp0 (item->text, "B6-2: 51 mm") == 0;
          if (item->kind == WB_CHART_ITEM_TICK_LABEL)
            g_assert_cmpstr (item->text, !=, "100");
        }
      g_test_message ("%g x %g: %u limits, %u to look from, %u crossings", sizes[k][0], sizes[k][1], limits, asks, notes);
      g_assert_cmpuint (limits, ==, 4);
      g_assert_cmpuint (notes, ==, 4);
      g_assert_cmpuint (asks, ==, 4);
    }
}

static int
grey_at (cairo_surface_t *surface,
         int              x,
         int              y)
{
  return cairo_image_surface_get_data (surface)[y * cairo_image_surface_get_stride (surface) + 4 * x + 1];
}

/* Pixels in which what is drawn in one place differs from what is drawn in the other, at the shift at which the fewest do. */
static guint
count_differences (cairo_surface_t   *surface,
                   const WbChartRect *one,
                   const WbChartRect *other)
{
  guint least = G_MAXUINT;

  for (int shift = -1; shift <= 1; shift++)
    {
      guint n = 0;

      for (int y = 2; y < (int) one->height - 2; y++)
        for (int x = 0; x < (int) fmax (one->width, other->width); x++)
          n += ABS (grey_at (surface, (int) one->x + x, (int) one->y + y)
                    - grey_at (surface, (int) other->x + x, (int) other->y + y + shift)) > 96;
      least = MIN (least, n);
    }
  return least;
}

/* Names that begin alike and are too long for their margin are cut where they can still be told apart. */
static void
test_cut_ends (void)
{
  static const char *const names[][2] = {
    { "The winter test · Arrel in the Hob, 2", "The winter test · Arrel in the Hob, 8" },
    { "B-1 of the winter test · Arrel in the Hob", "K-8 of the winter test · Arrel in the Hob" },
  };
  static const double x[] = { 0, 1 };

  for (guint k = 0; k < G_N_ELEMENTS (names); k++)
    {
      g_autoptr (WbChart) chart = wb_chart_new ("Lines", NULL);
      WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 480, 320);
      cairo_t *cr = cairo_create (surface);

      for (int i = 0; i < 2; i++)
        {
          double y[] = { 0.0, 4.0 + 6.0 * i };

          wb_chart_layer_add_line (panel, names[k][i], 0, WB_CHART_LINE_JOINED, 2, x, y);
        }

      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 480, 320, 1.0, NULL);
      const WbChartItem *first = find (layout, WB_CHART_ITEM_LINE_LABEL, names[k][0]),
                        *second = find (layout, WB_CHART_ITEM_LINE_LABEL, names[k][1]);

      g_assert_nonnull (first);
      g_assert_nonnull (second);
      wb_chart_layout_draw (layout, cr, WB_CHART_THEME_LIGHT);
      cairo_surface_flush (surface);
      g_assert_cmpfloat (first->rect.x + first->rect.width, <=, 480.0);
      g_assert_cmpuint (count_differences (surface, &first->rect, &second->rect), >, 8);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
}

/* More names than the plot is high go into the key, none is at a line's end. */
static void
test_key (void)
{
  g_autoptr (WbChart)       chart = create_lines (40);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 480, 320, 1.0, NULL);

  g_assert_null (find (layout, WB_CHART_ITEM_LINE_LABEL, NULL));
  g_assert_nonnull (find (layout, WB_CHART_ITEM_KEY, "Line 0"));
}

/* What the key leaves out, it counts. */
static void
test_key_rest (void)
{
  g_autoptr (WbChart)       chart = create_lines (40);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 320, 200, 1.0, NULL);
  guint                     named = 0;
  const WbChartItem        *rest = NULL;

  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    {
      const WbChartItem *item = wb_chart_layout_get_item (layout, i);

      if (item->kind == WB_CHART_ITEM_KEY && g_str_has_prefix (item->text, "Line"))
        named++;
      else if (item->kind == WB_CHART_ITEM_KEY)
        rest = item;
    }
  g_assert_nonnull (rest);

  g_autofree char *expected = g_strdup_printf ("and %u more", 40 - named);
  g_assert_cmpstr (rest->text, ==, expected);
}

static void
test_wall (void)
{
  g_autoptr (WbChart)       chart = sample_charts_create (0);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 480, 320, 1.0, NULL);
  const WbChartItem        *label = find (layout, WB_CHART_ITEM_RULE_LABEL, "Wall, 74 mm");
  double                    x, y;

  g_assert_nonnull (label);
  g_assert_true (wb_chart_layout_map (layout, 0, 0.0, 74.0, &x, &y));
  g_assert_true (fabs (label->rect.y - y) < 6.0 || fabs (label->rect.y + label->rect.height - y) < 6.0);
}

static void
test_cells (void)
{
  guint index;

  for (index = 0; g_strcmp0 (sample_charts_get_name (index), "heat") != 0; index++)
    ;
  g_autoptr (WbChart)       chart = sample_charts_create (index);
  g_autoptr (WbChartLayout) large = wb_chart_layout_new (chart, 480, 320, 1.0, NULL),
                            small = wb_chart_layout_new (chart, 150, 120, 1.0, NULL);
  guint                     n = 0;

  for (gsize i = 0; i < wb_chart_layout_get_n_items (large); i++)
    n += wb_chart_layout_get_item (large, i)->kind == WB_CHART_ITEM_VALUE;
  /* 24 cells, two of them without a value. */
  g_assert_cmpuint (n, ==, 22);

  /* All numbers or none. */
  g_assert_null (find (small, WB_CHART_ITEM_VALUE, NULL));
}

static void
test_missing_cell (void)
{
  const double        values[] = { 0.60, NAN, 0.64, NAN };
  static const char *const notes[] = { "2 samples", "never", "3 samples", NULL };
  static const char *const names[] = { "A", "B", NULL };
  g_autoptr (WbChart) chart = wb_chart_new ("Cells", NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  WbChartLayer       *layer = wb_chart_layer_add_heat (panel, "Score", WB_CHART_HEAT_LOW_TO_HIGH, 2, 2, values, NULL, WB_UNIT_NONE, 2, 0.0);

  wb_chart_axis_set_categories (wb_chart_panel_get_x (panel), names);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), names);
  wb_chart_layer_set_notes (layer, 4, notes);
  wb_chart_layer_set_scale (layer, 0.0, 1.0);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 320, 200, 1.0, NULL);

  /* Why there is no number; the notes of the others are for the table. */
  g_assert_nonnull (find (layout, WB_CHART_ITEM_VALUE, "never"));
  g_assert_null (find (layout, WB_CHART_ITEM_VALUE, "2 samples"));
  g_assert_nonnull (find (layout, WB_CHART_ITEM_KEY, "Score: 0.00 to 1.00"));
}

static void
test_no_data (void)
{
  g_autoptr (WbChart) chart = wb_chart_new ("Empty", NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  g_assert_true (wb_chart_panel_is_empty (panel));
  wb_chart_layer_add_rule (panel, "Limit", WB_CHART_RULE_LIMIT, WB_CHART_Y, 50.0);
  g_assert_true (wb_chart_panel_is_empty (panel));
  wb_chart_panel_set_empty_text (panel, "Nothing read yet");
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 320, 200, 1.0, NULL);
  g_assert_nonnull (find (layout, WB_CHART_ITEM_NOTE, "Nothing read yet"));
  /* A scale without data would be made up. */
  g_assert_null (find (layout, WB_CHART_ITEM_TICK_LABEL, NULL));

  static const double x[] = { 1.0 }, y[] = { 2.0 };
  wb_chart_layer_add_line (panel, "one", 0, WB_CHART_LINE_MARKERS, 1, x, y);
  g_assert_false (wb_chart_panel_is_empty (panel));
  g_autoptr (WbChartLayout) filled = wb_chart_layout_new (chart, 320, 200, 1.0, NULL);
  g_assert_null (find (filled, WB_CHART_ITEM_NOTE, NULL));
  g_assert_nonnull (find (filled, WB_CHART_ITEM_TICK_LABEL, NULL));
}

/* Small multiples say the label of a shared axis once. */
static void
test_shared_heading (void)
{
  guint index, n = 0;

  for (index = 0; g_strcmp0 (sample_charts_get_name (index), "grid") != 0; index++)
    ;
  g_autoptr (WbChart)       chart = sample_charts_create (index);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 600, 400, 1.0, NULL);
  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    n += wb_chart_layout_get_item (layout, i)->kind == WB_CHART_ITEM_AXIS_LABEL;
  g_assert_cmpuint (n, ==, 2);
  g_assert_nonnull (find (layout, WB_CHART_ITEM_AXIS_LABEL, "Pool diameter, mm"));
  g_assert_nonnull (find (layout, WB_CHART_ITEM_AXIS_LABEL, "Time since lighting, h"));
}

void
test_label_add (void)
{
  g_test_add_func ("/chart/label/a-missing-cell-says-why", test_missing_cell);
  g_test_add_func ("/chart/label/names-at-line-ends-are-moved-apart", test_ends);
  g_test_add_func ("/chart/label/names-cut-at-line-ends-can-be-told-apart", test_cut_ends);
  g_test_add_func ("/chart/label/names-that-do-not-fit-go-into-the-key", test_key);
  g_test_add_func ("/chart/label/the-key-counts-what-it-leaves-out", test_key_rest);
  g_test_add_func ("/chart/label/limits-and-what-crosses-them-keep-their-names", test_limits);
  g_test_add_func ("/chart/label/a-wall-is-named-beside-its-line", test_wall);
  g_test_add_func ("/chart/label/cells-carry-all-numbers-or-none", test_cells);
  g_test_add_func ("/chart/label/an-empty-panel-says-so", test_no_data);
  g_test_add_func ("/chart/label/shared-axes-are-named-once", test_shared_heading);
}
