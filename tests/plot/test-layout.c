/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every kind of chart at the sizes of a window, of a page's column and of a small figure: no two texts overlap. */
#include "config.h"

#include "test-plot.h"

#include <string.h>

#include "plot-bench.h"
#include "wb-chart-output.h"
#include "wb-plot-ladder.h"

static const double sizes[][2] = { { 1024, 700 }, { 768, 525 }, { 480, 300 }, { 480, 640 }, { 300, 200 } };

static gboolean
overlap (const WbChartRect *a,
         const WbChartRect *b)
{
  double slack = 0.01;

  return a->x + slack < b->x + b->width && b->x + slack < a->x + a->width
         && a->y + slack < b->y + b->height && b->y + slack < a->y + a->height;
}

static void
check_pair (const char        *what,
            const WbChartItem *a,
            const WbChartItem *b)
{
  if (a->kind != WB_CHART_ITEM_PLOT && b->kind != WB_CHART_ITEM_PLOT && overlap (&a->rect, &b->rect))
    g_error ("%s: “%.60s” lies on “%.60s”", what, a->text, b->text);
}

static void
check (const char *what,
       WbChart    *chart,
       double      width,
       double      height)
{
  g_autoptr (GError)        error = NULL;
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, width, height, 1.0, &error);

  if (layout == NULL)
    g_error ("%s: %s", what, error->message);
  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    {
      const WbChartItem *a = wb_chart_layout_get_item (layout, i);

      if (a->rect.x < -0.01 || a->rect.y < -0.01 || a->rect.x + a->rect.width > width + 0.01 || a->rect.y + a->rect.height > height + 0.01)
        g_error ("%s: “%.60s” is off the page", what, a->text != NULL ? a->text : "plot");
      for (gsize k = 0; k < i; k++)
        check_pair (what, a, wb_chart_layout_get_item (layout, k));
    }
}

static void
check_all (const char          *name,
           const WbCraftAnswer *answer)
{
  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      g_autoptr (WbChart) chart = test_plot_new (kind, answer);

      for (gsize size = 0; size < G_N_ELEMENTS (sizes); size++)
        {
          g_autofree char *what = g_strdup_printf ("%s of %s at %g x %g", wb_plot_kind_get_key (kind), name, sizes[size][0], sizes[size][1]);

          check (what, chart, sizes[size][0], sizes[size][1]);
        }

      double height = wb_plot_get_height (kind, chart, 480.0);
      g_assert_cmpfloat (height, >=, 160.0);
      g_assert_cmpfloat (height, <=, 2000.0);
      check (wb_plot_kind_get_key (kind), chart, 480.0, height);
    }
}

static void
test_few (void)
{
  static const char *const names[] = { "no cell", "one cell", "two cells" };

  for (guint cells = 0; cells < G_N_ELEMENTS (names); cells++)
    {
      g_autoptr (WbCraftAnswer) answer = plot_bench_small (cells);

      check_all (names[cells], answer);
    }
}

static void
test_workshop (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_workshop ();

  check_all ("a workshop", answer);
}

/* A small window scrolls before two rows of panels are squeezed into one's place. */
static void
test_least_height (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_workshop ();
  g_autoptr (WbChart) growth = test_plot_new (WB_PLOT_GROWTH, answer), life = test_plot_new (WB_PLOT_LIFE, answer);

  g_assert_cmpuint (wb_chart_get_n_rows (growth), ==, 1);
  g_assert_cmpuint (wb_chart_get_n_rows (life), ==, 2);
  g_assert_cmpint (wb_plot_get_least_height (NULL, FALSE), ==, wb_plot_get_least_height (growth, FALSE));
  g_assert_cmpint (wb_plot_get_least_height (life, FALSE), >=, wb_plot_get_least_height (growth, FALSE) + 100);
  check ("life as low as it gets", life, 360.0, wb_plot_get_least_height (life, FALSE));
}

static void
test_many (void)
{
  static const PlotBenchSpec spec = { 3, 12, 2, 1, 1 };
  g_autoptr (WbCraftAnswer)  answer = plot_bench_answer_new (plot_bench_data_new (&spec, 3), WB_CRAFT_WITHIN_ALL);

  check_all ("72 cells", answer);
}

/* Everything that can be asked for at once, in US units. */
static void
test_us_units (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (3);
  WbPlotOptions             options;

  wb_plot_options_init (&options, TRUE);
  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    for (int stage = 0; stage <= WB_STAGE_ALL; stage++)
      {
        options.stage = stage;
        g_autoptr (WbChart) chart = wb_plot_new (kind, answer, &options, NULL);

        check (wb_plot_kind_get_key (kind), chart, 480.0, 300.0);
      }
}

static void
test_ladder (void)
{
  g_autoptr (WbCraftLadder) ladder = plot_bench_ladder_new ();

  for (int places = WB_PLOT_LADDER_TOP; places <= WB_PLOT_LADDER_BOTH; places++)
    {
      g_autoptr (WbChart) chart = wb_plot_ladder_new (ladder, places, places == WB_PLOT_LADDER_BOTTOM, TRUE);

      for (gsize size = 0; size < G_N_ELEMENTS (sizes); size++)
        check ("the ladder", chart, sizes[size][0], sizes[size][1]);
      check ("the ladder on its own height", chart, 480.0, wb_plot_ladder_get_height (chart, 480.0));
    }
}

static void
test_every_theme_draws (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (2);

  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      g_autoptr (WbChart) chart = test_plot_new (kind, answer);
      g_autoptr (GBytes)  first = NULL;
      WbChartOutput       output = WB_CHART_OUTPUT_INIT (WB_CHART_FORMAT_PNG);

      output.scale = 1.0;
      for (int theme = 0; theme < WB_CHART_N_THEMES; theme++)
        {
          output.theme = theme;
          g_autoptr (GBytes) bytes = wb_chart_output_dup_bytes (chart, &output, NULL);

          g_assert_nonnull (bytes);
          if (theme == WB_CHART_THEME_LIGHT)
            first = g_bytes_ref (bytes);
          else
            g_assert_false (g_bytes_equal (first, bytes));
        }
    }
}

void
test_layout_add (void)
{
  g_test_add_func ("/plot/layout/holds-for-no-one-and-two-cells", test_few);
  g_test_add_func ("/plot/layout/holds-for-a-workshop", test_workshop);
  g_test_add_func ("/plot/layout/panels-keep-a-least-height", test_least_height);
  g_test_add_func ("/plot/layout/holds-for-72-cells", test_many);
  g_test_add_func ("/plot/layout/holds-in-us-units-and-by-stage", test_us_units);
  g_test_add_func ("/plot/layout/holds-for-a-ladder", test_ladder);
  g_test_add_func ("/plot/layout/every-theme-draws", test_every_theme_draws);
}
