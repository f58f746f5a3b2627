/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-layout.h"

#include <math.h>
#include <string.h>

#include "sample-charts.h"
#include "test-chart.h"

/* Points: the least, a small figure, a column of a page, a window of 1024 x 700 pixels at 96 and at 72 dpi, a strip, a poster. */
static const double sizes[][2]
    = { { 120, 90 },   { 200, 120 }, { 320, 200 }, { 430, 340 },  { 480, 320 },  { 768, 525 },
        { 1024, 700 }, { 900, 160 }, { 180, 700 }, { 2400, 1600 } };
static const double scales[] = { 1.0, 2.0, 0.75 };

static gboolean
overlap (const WbChartRect *a,
         const WbChartRect *b)
{
  double slack = 0.01;

  return a->x + slack < b->x + b->width && b->x + slack < a->x + a->width
         && a->y + slack < b->y + b->height && b->y + slack < a->y + a->height;
}

static gboolean
is_within_plot (WbChartItemKind kind)
{
  return kind == WB_CHART_ITEM_RULE_LABEL || kind == WB_CHART_ITEM_VALUE
         || kind == WB_CHART_ITEM_NOTE || kind == WB_CHART_ITEM_SCALE_LABEL;
}

static void
complain (const char          *name,
          const char          *what,
          const WbChartLayout *layout,
          double               scale,
          const WbChartItem   *a,
          const WbChartItem   *b)
{
  g_error ("%s at %g x %g, text %g: %s: kind %d “%.40s” (%.1f %.1f %.1f %.1f) and kind %d “%.40s” "
           "(%.1f %.1f %.1f %.1f)",
           name, wb_chart_layout_get_width (layout), wb_chart_layout_get_height (layout), scale,
           what, a->kind, a->text, a->rect.x, a->rect.y, a->rect.width, a->rect.height, b->kind,
           b->text, b->rect.x, b->rect.y, b->rect.width, b->rect.height);
}

static void
check (const char *name,
       WbChart    *chart,
       double      width,
       double      height,
       double      scale)
{
  g_autoptr (GError)        error = NULL;
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, width, height, scale, &error);
  WbChartItem page
      = { .kind = WB_CHART_ITEM_PLOT, .rect = { 0, 0, width, height }, .text = "page" };

  g_assert_no_error (error);
  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    {
      const WbChartItem *a = wb_chart_layout_get_item (layout, i);

      if (a->rect.x < -0.01 || a->rect.y < -0.01 || a->rect.x + a->rect.width > width + 0.01
          || a->rect.y + a->rect.height > height + 0.01)
        complain (name, "off the page", layout, scale, a, &page);
      for (gsize k = 0; k < i; k++)
        {
          const WbChartItem *b = wb_chart_layout_get_item (layout, k);
          gboolean           plots = (a->kind == WB_CHART_ITEM_PLOT) != (b->kind == WB_CHART_ITEM_PLOT);

          if (!overlap (&a->rect, &b->rect))
            continue;
          /* A text within a plot may stand on it, on its own panel's only. */
          if (plots && a->panel == b->panel && (is_within_plot (a->kind) || is_within_plot (b->kind)))
            continue;
          complain (name, "overlap", layout, scale, a, b);
        }
    }
}

static void
test_samples (void)
{
  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (WbChart) chart = sample_charts_create (i);

      for (gsize size = 0; size < G_N_ELEMENTS (sizes); size++)
        for (gsize scale = 0; scale < G_N_ELEMENTS (scales); scale++)
          check (sample_charts_get_name (i), chart, sizes[size][0], sizes[size][1], scales[scale]);
    }
}

static char *
random_words (GRand *rand,
              int    most)
{
  static const char *const words[] = {
    "N 12", "cedar", "tumbler", "8 %", "combination", "of", "a-rather-long-word-without-a-break",
    "مثال", "蜡",    "🕯️", "Σ"
  };
  g_autoptr (GString) text = g_string_new (NULL);
  int                 n = g_rand_int_range (rand, 1, most + 1);

  for (int i = 0; i < n; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "",
                            words[g_rand_int_range (rand, 0, G_N_ELEMENTS (words))]);

  return g_string_free (g_steal_pointer (&text), FALSE);
}

static double
random_value (GRand  *rand,
              double  size)
{
  return g_rand_int_range (rand, 0, 12) == 0 ? NAN : g_rand_double_range (rand, -0.3, 1.0) * size;
}

static void
add_random_layer (WbChartPanel *panel,
                  GRand        *rand,
                  double        size)
{
  int n = g_rand_int_range (rand, 0, 3) == 0 ? g_rand_int_range (rand, 0, 3)
                                             : g_rand_int_range (rand, 3, 60);
  g_autofree double *x = g_new (double, n + 1), *y = g_new (double, n + 1),
                    *low = g_new (double, n + 1), *high = g_new (double, n + 1);
  g_autofree char *name = random_words (rand, 4);
  int              series = g_rand_int_range (rand, -1, 50);

  for (int i = 0; i < n; i++)
    {
      x[i] = i * 700.0;
      y[i] = random_value (rand, size);
      low[i] = y[i] - fabs (size) * 0.1;
      high[i] = y[i] + fabs (size) * 0.1;
    }
  switch (g_rand_int_range (rand, 0, 7))
    {
    case 0:
    case 1:
      wb_chart_layer_add_line (
          panel, name, series,
          WB_CHART_LINE_JOINED | (g_rand_boolean (rand) ? WB_CHART_LINE_MARKERS : 0), n, x, y);
      break;
    case 2:
      wb_chart_layer_add_band (panel, name, series, n, x, low, high);
      break;
    case 3:
      wb_chart_layer_add_points (panel, name, series, n, x, y, WB_CHART_Y, low, high);
      break;
    case 4:
      wb_chart_layer_add_rule (panel, name, g_rand_int_range (rand, 0, 5),
                               g_rand_boolean (rand) ? WB_CHART_X : WB_CHART_Y,
                               random_value (rand, size));
      break;
    case 5:
      wb_chart_layer_add_region (panel, name, g_rand_int_range (rand, 0, 5),
                                 g_rand_boolean (rand) ? WB_CHART_X : WB_CHART_Y,
                                 random_value (rand, size), random_value (rand, size));
      break;
    default:
      wb_chart_layer_add_text (panel, g_rand_int_range (rand, 0, 20) * 700.0,
                               random_value (rand, size), name);
    }
}

static WbChart *
create_random (GRand *rand)
{
  g_autofree char *title = random_words (rand, 25), *footnote = random_words (rand, 20);
  WbChart         *chart = wb_chart_new (title, NULL);
  int              n = g_rand_int_range (rand, 0, 3) == 0 ? g_rand_int_range (rand, 2, 13) : 1;
  double           size = pow (10.0, g_rand_double_range (rand, -9.0, 9.0));

  wb_chart_set_share (chart, g_rand_int_range (rand, 0, 4));
  if (g_rand_boolean (rand))
    wb_chart_set_footnote (chart, footnote);
  for (int i = 0; i < n; i++)
    {
      g_autofree char *label = random_words (rand, 5), *panel_title = random_words (rand, 5);
      WbChartPanel *panel
          = wb_chart_add_panel (chart, i / 4, i % 4, g_rand_boolean (rand) ? panel_title : NULL);

      wb_chart_axis_set_label (wb_chart_panel_get_x (panel), label);
      if (g_rand_boolean (rand))
        wb_chart_axis_set_label (wb_chart_panel_get_y (panel), label);
      if (g_rand_boolean (rand))
        wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
      if (g_rand_int_range (rand, 0, 4) == 0)
        wb_chart_axis_set_scale (wb_chart_panel_get_y (panel), WB_CHART_SCALE_LOG);
      for (int layers = g_rand_int_range (rand, 0, 9); layers > 0; layers--)
        add_random_layer (panel, rand, size);
    }

  return chart;
}

static void
test_random (void)
{
  int trials = g_test_slow () ? 2000 : 150;

  for (int trial = 0; trial < trials; trial++)
    {
      g_autoptr (GRand)   rand = g_rand_new_with_seed (1000 + trial);
      g_autoptr (WbChart) chart = create_random (rand);
      g_autofree char    *name = g_strdup_printf ("random chart %d", trial);

      for (int i = 0; i < 3; i++)
        {
          gsize size = (gsize) g_rand_int_range (rand, 0, G_N_ELEMENTS (sizes));

          check (name, chart, sizes[size][0], sizes[size][1],
                 scales[g_rand_int_range (rand, 0, G_N_ELEMENTS (scales))]);
        }
    }
}

static void
add_many (WbChart    *chart,
          const char *name)
{
  WbChartPanel      *panel = wb_chart_add_panel (chart, 0, 0, name);
  const char        *names[41];
  g_autofree double *values = g_new (double, 40 * 40);

  for (int i = 0; i < 40; i++)
    names[i] = name;
  names[40] = NULL;
  for (int i = 0; i < 1600; i++)
    values[i] = i;
  wb_chart_axis_set_categories (wb_chart_panel_get_x (panel), names);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), names);
  wb_chart_layer_add_heat (panel, name, WB_CHART_HEAT_LOW_TO_HIGH, 40, 40, values, NULL, WB_UNIT_MM, -1, 0.0);
}

/* 10,000 characters in every place that takes a text. */
static void
test_long_names (void)
{
  g_autofree char    *name = g_strnfill (10000, 'x');
  g_autoptr (WbChart) chart = wb_chart_new (name, name);

  add_many (chart, name);
  wb_chart_set_footnote (chart, name);
  for (gsize size = 0; size < G_N_ELEMENTS (sizes); size++)
    check ("long names", chart, sizes[size][0], sizes[size][1], 1.0);
}

static void
test_empty (void)
{
  g_autoptr (WbChart) bare = wb_chart_new (NULL, NULL), titled = wb_chart_new ("Only a title", NULL);

  check ("bare", bare, 320, 200, 1.0);
  check ("titled", titled, 320, 200, 1.0);
  wb_chart_add_panel (bare, 0, 0, NULL);
  check ("an empty panel", bare, 320, 200, 1.0);
  wb_chart_add_panel (titled, 2, 3, NULL);
  check ("a panel far out in its grid", titled, 320, 200, 1.0);
}

static guint
count_kind (const WbChartLayout *layout,
            WbChartItemKind      kind)
{
  guint n = 0;

  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    n += wb_chart_layout_get_item (layout, i)->kind == kind;

  return n;
}

/* At 320 x 200 points and 200 % text the finding, the data and the scales are still there. */
static void
test_small_is_readable (void)
{
  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (WbChart)       chart = sample_charts_create (i);
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 320, 200, 2.0, NULL);

      g_assert_cmpuint (count_kind (layout, WB_CHART_ITEM_TITLE), ==, 1);
      g_assert_cmpuint (count_kind (layout, WB_CHART_ITEM_PLOT), ==, wb_chart_get_n_panels (chart));
      for (guint panel = 0; panel < wb_chart_get_n_panels (chart); panel++)
        {
          WbChartRect plot = wb_chart_layout_get_plot (layout, panel);

          g_assert_cmpfloat (plot.width, >=, 30.0);
          g_assert_cmpfloat (plot.height, >=, wb_chart_get_n_rows (chart) > 1 ? 12.0 : 50.0);
        }
    }
}

/* The same chart at the same size is laid out the same, and the text scale makes texts larger. */
static void
test_text_scale (void)
{
  g_autoptr (WbChart)       chart = sample_charts_create (0);
  g_autoptr (WbChartLayout) one = wb_chart_layout_new (chart, 800, 600, 1.0, NULL),
                            two = wb_chart_layout_new (chart, 800, 600, 2.0, NULL);
  double ratio = wb_chart_layout_get_item (two, 0)->rect.height
                 / wb_chart_layout_get_item (one, 0)->rect.height;

  g_assert_cmpint (wb_chart_layout_get_item (one, 0)->kind, ==, WB_CHART_ITEM_TITLE);
  g_assert_cmpfloat_with_epsilon (ratio, 2.0, 0.05);
}

/* Readings along the plot's upper edge, with arrows into it: the words of a strip go where nothing is drawn. */
static void
test_words_keep_off_arrows (void)
{
  g_autoptr (WbChart) chart = wb_chart_new ("Full", "Readings at the wall.");
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  double              x[40], y[40];
  guint8              marks[40];
  guint               found = 0;

  for (int i = 0; i < 40; i++)
    {
      x[i] = i;
      y[i] = 92.0;
      marks[i] = WB_CHART_MARK_AT_LEAST;
    }
  wb_chart_axis_set_range (wb_chart_panel_get_y (panel), 0.0, 100.0);
  wb_chart_layer_add_region (panel, "due", WB_CHART_RULE_AIM, WB_CHART_X, 20.0, 39.0);
  wb_chart_layer_set_marks (wb_chart_layer_add_points (panel, NULL, 0, 40, x, y, WB_CHART_Y, NULL, NULL), 40, marks);

  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 400, 300, 1.0, NULL);
  WbChartRect               plot = wb_chart_layout_get_plot (layout, 0);

  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    {
      const WbChartItem *item = wb_chart_layout_get_item (layout, i);

      if (item->kind != WB_CHART_ITEM_RULE_LABEL)
        continue;
      found++;
      g_assert_cmpfloat (item->rect.y, >, plot.y + plot.height / 2.0);
    }
  g_assert_cmpuint (found, ==, 1);
}

static const WbChartItem *
find_kind (const WbChartLayout *layout,
           WbChartItemKind      kind)
{
  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    if (wb_chart_layout_get_item (layout, i)->kind == kind)
      return wb_chart_layout_get_item (layout, i);

  return NULL;
}

/*
 * What a window of 1024 x 700 leaves a chart, with text of 200 %: the data keep 45 % of the
 * height in one row of panels, 29 % in more, whose titles take the rest, and so much under a German title of 110 letters with six
 * names in the key, of which none is cut.
 */
static void
test_plots_keep_their_share (void)
{
  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      g_autoptr (WbChart) chart = sample_charts_create (i);
      guint               n_rows = wb_chart_get_n_rows (chart);
      gboolean            is_german = g_str_equal (sample_charts_get_name (i), "german");

      for (double scale = 1.0; scale <= 2.0; scale += 1.0)
        {
          g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 430, 340, scale, NULL);
          double                    plots = wb_chart_layout_get_plot (layout, 0).height * n_rows;

          g_test_message ("%s, text %g: %.0f %%", sample_charts_get_name (i), scale, plots / 3.4);
          g_assert_cmpfloat (plots, >=, 340 * (n_rows > 1 || (is_german && scale > 1.0) ? 0.29 : 0.45));
          g_assert_nonnull (find_kind (layout, WB_CHART_ITEM_TITLE));
          /* each of several panels still says what it is */
          if (wb_chart_get_n_panels (chart) > 1)
            g_assert_cmpuint (count_kind (layout, WB_CHART_ITEM_PANEL_TITLE) + count_kind (layout, WB_CHART_ITEM_AXIS_LABEL), >=,
                              wb_chart_get_n_panels (chart));
        }
    }
}

static WbChart *
create_long_rows (int         n,
                  const char *title)
{
  static const char *const names[] = {
    "Trinkglas 80, S-1", "Trinkglas 80, S-2", "Trinkglas 80, S-3", "Trinkglas 80, S-4", "Trinkglas 80, S-5",
    "Weißblechdose 74, S-1", "Weißblechdose 74, S-2", "Weißblechdose 74, S-3", "Weißblechdose 74, S-4", "Weißblechdose 74, S-5", NULL
  };
  WbChart      *chart = wb_chart_new (title, "Ten rows.");
  WbChartPanel *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  const char   *some[G_N_ELEMENTS (names)] = { NULL };

  for (int i = 0; i < n; i++)
    some[i] = names[i];
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), some);
  wb_chart_axis_set_label (wb_chart_panel_get_x (panel), "Punktzahl der nächsten gegossenen Kerze (90-%-Intervall)");
  for (int i = 0; i < n; i++)
    {
      double x = 0.1 * i, y = i, low = x - 0.05, high = x + 0.05;

      wb_chart_layer_add_points (panel, NULL, i, 1, &x, &y, WB_CHART_X, &low, &high);
    }

  return chart;
}

/* Names of rows and columns become smaller before one is left out; a long label of an axis takes a second line. */
static void
test_names_are_kept (void)
{
  g_autoptr (WbChart) chart = create_long_rows (10, "Die Größe S-3 führt im Trinkglas und in der Weißblechdose");
  static const char *const columns[] = { "N 8", "N 10", "N 12", "N 14", "N 16", "N 18" };
  guint named = 0;

  for (double scale = 1.0; scale <= 2.0; scale += 1.0)
    {
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 430, 340, scale, NULL);
      guint                     rows = 0;

      for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
        {
          const WbChartItem *item = wb_chart_layout_get_item (layout, i);

          rows += item->kind == WB_CHART_ITEM_TICK_LABEL && g_utf8_strchr (item->text, -1, ',') != NULL;
        }
      g_assert_cmpuint (rows, ==, 10);
      check ("long rows", chart, 430, 340, scale);
      const WbChartItem *label = find_kind (layout, WB_CHART_ITEM_AXIS_LABEL);
      /* 57 letters of 9 pt, of 18 pt: one line of it, and two */
      g_assert_cmpfloat (label->rect.height, >, scale == 1.0 ? 8.0 : 34.0);
    }

  for (guint i = 0; i < sample_charts_get_n (); i++)
    {
      if (g_strcmp0 (sample_charts_get_name (i), "heat") != 0)
        continue;

      g_autoptr (WbChart)       heat = sample_charts_create (i);
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (heat, 430, 340, 2.0, NULL);

      for (gsize k = 0; k < wb_chart_layout_get_n_items (layout); k++)
        for (guint column = 0; column < G_N_ELEMENTS (columns); column++)
          named += g_strcmp0 (wb_chart_layout_get_item (layout, k)->text, columns[column]) == 0;
    }
  g_assert_cmpuint (named, ==, G_N_ELEMENTS (columns));
}

/* Where letters of full size find no place between the data, the name of a limit is written smaller. */
static void
test_limits_keep_their_names (void)
{
  g_autoptr (WbChart) chart = wb_chart_new (NULL, NULL);
  WbChartPanel       *panel = wb_chart_add_panel (chart, 0, 0, NULL);
  double              x[120], y[120];

  for (int i = 0; i < 120; i++)
    {
      x[i] = i;
      y[i] = i % 2 == 0 ? 2.0 : 42.0;
    }
  wb_chart_axis_set_range (wb_chart_panel_get_y (panel), 0.0, 56.0);
  wb_chart_layer_add_line (panel, NULL, 0, WB_CHART_LINE_JOINED, 120, x, y);
  wb_chart_layer_add_rule (panel, "House limit", WB_CHART_RULE_LIMIT, WB_CHART_Y, 46.0);

  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 400, 110, 2.0, NULL);
  const WbChartItem        *label = find_kind (layout, WB_CHART_ITEM_RULE_LABEL);

  g_assert_nonnull (label);
  g_assert_cmpfloat (label->rect.height, <, 16.0);
  check ("a limit", chart, 400, 110, 2.0);
}

static double
get_right (const WbChartItem *item)
{
  return item->rect.x + item->rect.width;
}

/* Hebrew and Arabic titles begin at the right edge; a time axis still runs from left to right. */
static void
test_right_to_left (void)
{
  static const char *const titles[] = { "הבריכה מגיעה לדופן אחרי שלוש שעות", "يصل الشمع المذاب إلى الجدار بعد ثلاث ساعات" };
  static const double x[] = { 0.0, 3600.0, 7200.0, 10800.0 }, y[] = { 0.0, 20.0, 30.0, 35.0 };

  for (gsize i = 0; i < G_N_ELEMENTS (titles); i++)
    {
      g_autoptr (WbChart) chart = wb_chart_new (titles[i], titles[i]);
      double              early_x, early_y, late_x, late_y;
      double              rights[2] = { 0.0, 0.0 };

      for (guint column = 0; column < 2; column++)
        {
          WbChartPanel *panel = wb_chart_add_panel (chart, 0, column, titles[i]);

          wb_chart_axis_set_scale (wb_chart_panel_get_x (panel), WB_CHART_SCALE_DURATION);
          wb_chart_axis_set_label (wb_chart_panel_get_y (panel), titles[1 - i]);
          wb_chart_layer_add_line (panel, column == 0 ? titles[1 - i] : titles[i], (int) column, WB_CHART_LINE_JOINED, 4, x, y);
          wb_chart_layer_add_line (panel, "N 12", 2, WB_CHART_LINE_JOINED, 4, x, y);
          wb_chart_layer_add_line (panel, "N 14", 3, WB_CHART_LINE_JOINED, 4, x, y);
        }
      wb_chart_set_footnote (chart, titles[i]);
      check (titles[i], chart, 640, 400, 1.0);

      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 640, 400, 1.0, NULL);

      g_assert_cmpfloat (get_right (find_kind (layout, WB_CHART_ITEM_TITLE)), >, 632.0);
      g_assert_cmpfloat (get_right (find_kind (layout, WB_CHART_ITEM_FOOTNOTE)), >, 632.0);
      for (gsize k = 0; k < wb_chart_layout_get_n_items (layout); k++)
        {
          const WbChartItem *item = wb_chart_layout_get_item (layout, k);

          if (item->kind == WB_CHART_ITEM_PANEL_TITLE)
            rights[item->panel] = get_right (item);
        }
      g_assert_cmpfloat (rights[1], >, 632.0);
      g_assert_cmpfloat (rights[0], <, wb_chart_layout_get_plot (layout, 1).x);
      g_assert_true (wb_chart_layout_get_value (layout, 0, 0, 0, &early_x, &early_y));
      g_assert_true (wb_chart_layout_get_value (layout, 0, 0, 3, &late_x, &late_y));
      g_assert_cmpfloat (early_x, <, late_x);
      /* the first name of the key stands right of the second, within the page */
      if (count_kind (layout, WB_CHART_ITEM_KEY) > 1)
        g_assert_cmpfloat (get_right (find_kind (layout, WB_CHART_ITEM_KEY)), >, 400.0);
    }
}

void
test_layout_add (void)
{
  g_test_add_func ("/chart/layout/plots-keep-their-share-of-the-height", test_plots_keep_their_share);
  g_test_add_func ("/chart/layout/names-are-kept-smaller-before-one-is-left-out", test_names_are_kept);
  g_test_add_func ("/chart/layout/limits-keep-their-names", test_limits_keep_their_names);
  g_test_add_func ("/chart/layout/right-to-left-titles-begin-at-the-right", test_right_to_left);
  g_test_add_func ("/chart/layout/a-strips-words-keep-off-arrows", test_words_keep_off_arrows);
  g_test_add_func ("/chart/layout/no-two-texts-overlap", test_samples);
  g_test_add_func ("/chart/layout/nor-in-random-charts", test_random);
  g_test_add_func ("/chart/layout/nor-with-names-of-10000-characters", test_long_names);
  g_test_add_func ("/chart/layout/takes-a-chart-of-nothing", test_empty);
  g_test_add_func ("/chart/layout/stays-readable-when-small", test_small_is_readable);
  g_test_add_func ("/chart/layout/text-scale-is-that-of-texts", test_text_scale);
}
