/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "test-plot.h"

#include <string.h>

#include "plot-bench.h"
#include "wb-chart-layout.h"
#include "wb-chart-theme.h"

static void
test_keys (void)
{
  const char *const *keys = wb_plot_kind_get_keys ();

  g_assert_cmpuint (g_strv_length ((char **) keys), ==, WB_PLOT_N_KINDS);
  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      g_assert_cmpint (wb_plot_kind_from_key (keys[kind]), ==, kind);
      g_assert_cmpstr (wb_plot_kind_get_key (kind), ==, keys[kind]);
      g_assert_cmpuint (strlen (wb_plot_kind_get_label (kind)), >, 0);
    }
  g_assert_cmpint (wb_plot_kind_from_key ("pie"), ==, -1);
  g_assert_cmpint (wb_plot_kind_from_key (""), ==, -1);
}

static void
test_units (void)
{
  WbPlotOptions options;

  for (int us = 0; us < 2; us++)
    {
      wb_plot_options_init (&options, us);
      for (int i = 0; i < WB_N_QUANTITIES; i++)
        g_assert_cmpint (wb_unit_get_quantity (options.units[i]), ==, i);
    }
  g_assert_cmpint (options.units[WB_QUANTITY_LENGTH], ==, WB_UNIT_INCH);
}

static void
assert_refused (const WbCraftAnswer *answer,
                WbPlotKind           kind,
                const WbPlotOptions *options,
                int                  code)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (wb_plot_new (kind, answer, options, &error));
  g_assert_error (error, WB_PLOT_ERROR, code);
}

static void
test_refusals (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (2);
  const guint               cells[] = { 0, 2 };
  WbPlotOptions             options;

  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      wb_plot_options_init (&options, FALSE);
      options.cells = cells;
      options.n_cells = 2;
      assert_refused (answer, kind, &options, WB_PLOT_ERROR_CELL);
      wb_plot_options_init (&options, FALSE);
      options.group = 1;
      assert_refused (answer, kind, &options, WB_PLOT_ERROR_GROUP);
      wb_plot_options_init (&options, FALSE);
      options.sample = 4;
      assert_refused (answer, kind, &options, WB_PLOT_ERROR_SAMPLE);
    }
  wb_plot_options_init (&options, FALSE);
  options.figure = WB_FIGURE_TAU;
  assert_refused (answer, WB_PLOT_LIFE, &options, WB_PLOT_ERROR_FIGURE);
}

static void
test_figures (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (3);
  WbPlotOptions             options;

  wb_plot_options_init (&options, FALSE);
  for (options.figure = 0; options.figure < WB_N_FIGURES; options.figure++)
    {
      g_autoptr (WbChart) heat = wb_plot_new (WB_PLOT_HEAT, answer, &options, NULL);
      g_autoptr (WbChart) effects = wb_plot_new (WB_PLOT_EFFECTS, answer, &options, NULL);

      g_assert_nonnull (strstr (wb_chart_get_title (heat), wb_figure_get_label (options.figure)));
      g_assert_nonnull (strstr (wb_chart_get_title (effects), wb_figure_get_label (options.figure)));
    }
}

static void
test_chosen_cells (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (3);
  const guint               cells[] = { 2 };
  WbPlotOptions             options;

  wb_plot_options_init (&options, FALSE);
  options.cells = cells;
  options.n_cells = 1;
  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      g_autoptr (WbChart) chart = wb_plot_new (kind, answer, &options, NULL);
      const char         *description = wb_chart_get_description (chart);

      g_assert_nonnull (strstr (description, "L-3"));
      if (kind != WB_PLOT_EFFECTS)
        g_assert_null (strstr (description, "L-2"));
    }
}

static guint
count_line_names (const WbPlotOptions *options,
                  WbCraftAnswer       *answer)
{
  g_autoptr (WbChart) chart = wb_plot_new (WB_PLOT_EFFECTS, answer, options, NULL);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 720.0, 480.0, 1.0, NULL);
  guint n = 0;

  for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
    n += wb_chart_layout_get_item (layout, i)->kind == WB_CHART_ITEM_LINE_LABEL;
  return n;
}

/* The footnote says whose line it is; at its end the name would be cut for want of room. */
static void
test_line_alone (void)
{
  static const PlotBenchSpec spec = { 2, 3, 1, 2, 2 };
  g_autoptr (WbCraftAnswer) answer = plot_bench_answer_new (plot_bench_data_new (&spec, 1), WB_CRAFT_WITHIN_SCENT);
  WbPlotOptions options;

  wb_plot_options_init (&options, FALSE);
  g_assert_cmpuint (count_line_names (&options, answer), ==, 2);
  options.group = 0;
  g_assert_cmpuint (count_line_names (&options, answer), ==, 0);
}

/* One colour a wick whatever the vessel, and no two cells alike. */
static void
test_series (void)
{
  static const PlotBenchSpec spec = { 2, 4, 1, 1, 1 };
  g_autoptr (WbDataset)      data = plot_bench_data_new (&spec, 1);

  for (guint a = 0; a < data->cells->len; a++)
    for (guint b = 0; b < a; b++)
      {
        int      one = wb_plot_get_series (data, a), other = wb_plot_get_series (data, b);
        gboolean same_wick = wb_dataset_get_wick (data, a) == wb_dataset_get_wick (data, b);

        g_assert_cmpint (one, !=, other);
        g_assert_cmpint (one % WB_CHART_N_SERIES_COLOURS == other % WB_CHART_N_SERIES_COLOURS, ==, same_wick);
        if (same_wick)
          g_assert_cmpuint (wb_chart_theme_get_series_marker (one), !=, wb_chart_theme_get_series_marker (other));
      }
}

/* Layers of a cell carry its series number in every kind that compares cells. */
static void
test_series_in_charts (void)
{
  static const WbPlotKind   kinds[] = { WB_PLOT_GROWTH, WB_PLOT_RINGS, WB_PLOT_LIFE, WB_PLOT_GRID, WB_PLOT_SCORE };
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (3);

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr (WbChart) chart = test_plot_new (kinds[i], answer);
      guint               named = 0;

      for (guint k = 0; k < wb_chart_get_n_panels (chart); k++)
        for (guint m = 0; m < wb_chart_panel_get_n_layers (wb_chart_get_panel (chart, k)); m++)
          {
            WbChartLayer *layer = wb_chart_panel_get_layer (wb_chart_get_panel (chart, k), m);

            for (guint cell = 0; cell < answer->data->cells->len; cell++)
              {
                g_autofree char *name = wb_dataset_dup_wick_name (answer->data, cell);

                const char      *drawn = wb_chart_layer_get_name (layer);

                /* in the score chart the verdict follows */
                if (drawn == NULL || !g_str_has_prefix (drawn, name) || (drawn[strlen (name)] != '\0' && drawn[strlen (name)] != ','))
                  continue;
                g_assert_cmpint (wb_chart_layer_get_series (layer), ==, wb_plot_get_series (answer->data, cell));
                named++;
              }
          }
      g_assert_cmpuint (named, >=, 3);
    }
}

void
test_options_add (void)
{
  g_test_add_func ("/plot/options/kinds-go-by-their-keys", test_keys);
  g_test_add_func ("/plot/options/each-quantity-has-a-unit-of-its-own", test_units);
  g_test_add_func ("/plot/options/what-is-not-there-is-refused", test_refusals);
  g_test_add_func ("/plot/options/any-figure-makes-a-heat-map", test_figures);
  g_test_add_func ("/plot/options/chosen-cells-are-the-only-ones", test_chosen_cells);
  g_test_add_func ("/plot/options/one-line-alone-needs-no-name", test_line_alone);
  g_test_add_func ("/plot/options/a-wick-keeps-its-colour", test_series);
  g_test_add_func ("/plot/options/a-cell-keeps-its-series-in-every-chart", test_series_in_charts);
}
