/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Picks of several experiments in one chart: order, scale, names, and what is pointed at. */
#include "config.h"

#include "test-plot.h"

#include <math.h>
#include <string.h>

#include "plot-bench.h"
#include "wb-chart-layout.h"
#include "wb-plot-beside.h"
#include "wb-plot-series.h"

static const WbPlotKind kinds[] = { WB_PLOT_GROWTH, WB_PLOT_RINGS, WB_PLOT_LIFE, WB_PLOT_MARKS };

static WbChart *
beside_new (WbPlotKind         kind,
            const WbCraftPick *picks,
            gsize              n)
{
  g_autoptr (GError) error = NULL;
  WbChart           *chart = wb_plot_beside_new (kind, picks, n, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (chart);
  return chart;
}

static WbCraftAnswer *
answer_new (const char *code,
            guint       cells)
{
  WbCraftAnswer *answer = plot_bench_small (cells);

  g_free (answer->data->experiment->code);
  answer->data->experiment->code = g_strdup (code);
  return answer;
}

/* Another vessel: the same candles in one of 88 mm. */
static WbCraftAnswer *
wide_answer_new (const char *code)
{
  static const PlotBenchSpec spec = { 3, 1, 1, 1, 2 };
  WbDataset                 *data = plot_bench_data_new (&spec, 3);

  g_free (data->experiment->code);
  data->experiment->code = g_strdup (code);
  return plot_bench_answer_new (data, WB_CRAFT_WITHIN_SCENT);
}

static void
test_kinds (void)
{
  for (int kind = 0; kind < WB_PLOT_N_KINDS; kind++)
    {
      gboolean listed = FALSE;

      for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
        listed |= kinds[i] == (WbPlotKind) kind;
      g_assert_cmpint (wb_plot_kind_takes_picks (kind), ==, listed);
    }
}

static void
test_numbers (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 4), other = wide_answer_new ("TH-1");
  const WbCraftPick         picks[] = {
    { one, 3, -1 }, { other, 2, -1 }, { one, 0, -1 }, { one, 0, 0 }, { one, 0, 1 }, { other, 0, 0 }, { one, 1, -1 }, { other, 1, -1 },
  };

  for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
    for (gsize n = 0; n <= G_N_ELEMENTS (picks); n++)
      {
        g_autoptr (WbChart)       chart = beside_new (kinds[k], picks, n);
        g_autoptr (GError)        error = NULL;
        g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 720.0, 480.0, 1.0, &error);

        g_assert_no_error (error);
        g_assert_cmpuint (wb_chart_get_n_panels (chart), >, 0);
        g_assert_cmpuint (strlen (wb_chart_get_title (chart)), >, 0);
        /* of marks the calm candles were not looked at for smoke, which is the first panel */
        g_assert_cmpint (wb_chart_panel_is_empty (wb_chart_get_panel (chart, kinds[k] == WB_PLOT_MARKS && n > 0 ? 1 : 0)), ==, n == 0);
      }
}

/* The first layer of a panel with that kind. */
static WbChartLayer *
find_layer (const WbChart    *chart,
            guint             panel,
            WbChartLayerKind  kind,
            int               series)
{
  const WbChartPanel *place = wb_chart_get_panel (chart, panel);

  for (guint i = 0; i < wb_chart_panel_get_n_layers (place); i++)
    {
      WbChartLayer *layer = wb_chart_panel_get_layer (place, i);

      if (wb_chart_layer_get_kind (layer) == kind && wb_chart_layer_get_series (layer) == series)
        return layer;
    }
  return NULL;
}

static void
test_order (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 3), other = wide_answer_new ("TH-1");
  const WbCraftPick         picks[] = { { one, 2, -1 }, { other, 2, -1 }, { one, 0, -1 } };
  const char *const         names[] = { "HF-1 · L-3:", "TH-1 · L-1:", "HF-1 · L-1:" };
  g_autoptr (WbChart)       rings = beside_new (WB_PLOT_RINGS, picks, 3), growth = beside_new (WB_PLOT_GROWTH, picks, 3);

  g_assert_cmpuint (wb_chart_get_n_panels (rings), ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      const WbChartPanel *panel = wb_chart_get_panel (rings, i);

      g_assert_true (g_str_has_prefix (wb_chart_panel_get_title (panel), names[i]));
      g_assert_nonnull (find_layer (rings, i, WB_CHART_LAYER_RINGS, wb_plot_beside_get_series (picks, 3, i)));
    }
  /* two vessels of 76.2 mm share a panel, that of 88 mm has its own, and both one scale */
  g_assert_cmpuint (wb_chart_get_n_panels (growth), ==, 2);
  g_assert_cmpint (wb_chart_get_share (growth), ==, WB_CHART_SHARE_BOTH);
  g_assert_nonnull (find_layer (growth, 0, WB_CHART_LAYER_LINE, wb_plot_beside_get_series (picks, 3, 0)));
  g_assert_nonnull (find_layer (growth, 0, WB_CHART_LAYER_LINE, wb_plot_beside_get_series (picks, 3, 2)));
  g_assert_null (find_layer (growth, 0, WB_CHART_LAYER_LINE, wb_plot_beside_get_series (picks, 3, 1)));
  g_assert_nonnull (find_layer (growth, 1, WB_CHART_LAYER_LINE, wb_plot_beside_get_series (picks, 3, 1)));
}

/* What is chosen of one experiment looks as in its own charts, as long as no two would look alike. */
static void
test_looks (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 4), other = wide_answer_new ("TH-1");
  const WbCraftPick         own[] = { { one, 3, -1 }, { one, 1, 0 }, { one, 0, -1 } }, twice[] = { { one, 3, -1 }, { one, 1, 0 }, { one, 1, 1 } },
                            mixed[] = { { one, 3, -1 }, { other, 1, -1 } };

  for (gsize i = 0; i < 3; i++)
    {
      g_assert_cmpint (wb_plot_beside_get_series (own, 3, i), ==, wb_plot_get_series (one->data, own[i].cell));
      g_assert_cmpint (wb_plot_beside_get_series (twice, 3, i), ==, (int) i);
    }
  for (gsize i = 0; i < 2; i++)
    g_assert_cmpint (wb_plot_beside_get_series (mixed, 2, i), ==, (int) i);
  g_assert_cmpint (wb_plot_beside_get_series (own, 3, 0), !=, 0);
}

/* One mm is as long in every panel: the wider vessel is drawn wider, by the ratio of their diameters. */
static void
test_scale (void)
{
  g_autoptr (WbCraftAnswer) other = wide_answer_new ("TH-1");
  const WbCraftPick         picks[] = { { other, 0, -1 }, { other, 2, -1 } };
  g_autoptr (WbChart)       chart = beside_new (WB_PLOT_RINGS, picks, 2);
  g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 720.0, 420.0, 1.0, NULL);
  double                    x[2][2], y;

  for (guint panel = 0; panel < 2; panel++)
    for (guint side = 0; side < 2; side++)
      g_assert_true (wb_chart_layout_map (layout, panel, side == 0 ? -20.0 : 20.0, 0.0, &x[panel][side], &y));
  g_assert_cmpfloat_with_epsilon (x[0][1] - x[0][0], x[1][1] - x[1][0], 0.01);
}

static void
test_tags (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 2);
  const WbCraftPick         picks[] = { { one, 0, -1 }, { one, 1, 2 } };
  gint64                    first = ((const WbBurn *) g_ptr_array_index (one->data->burns, 0))->record.id;
  gint64                    fifth = ((const WbBurn *) g_ptr_array_index (one->data->burns, 4))->record.id;
  gint64                    sample = wb_dataset_get_sample (one->data, 2)->record.id;
  g_autoptr (WbChart)       growth = beside_new (WB_PLOT_GROWTH, picks, 2), rings = beside_new (WB_PLOT_RINGS, picks, 2);
  g_autoptr (WbChart)       life = beside_new (WB_PLOT_LIFE, picks, 2), marks = beside_new (WB_PLOT_MARKS, picks, 2);
  gsize                     found = 0;

  for (guint i = 0; i < wb_chart_panel_get_n_layers (wb_chart_get_panel (growth, 0)); i++)
    {
      const WbChartLayer *layer = wb_chart_panel_get_layer (wb_chart_get_panel (growth, 0), i);

      for (gsize k = 0; k < wb_chart_layer_get_n (layer); k++)
        {
          found += wb_chart_layer_get_tag (layer, k) == first;
          /* the other sample of that cell was not picked */
          g_assert_cmpint (wb_chart_layer_get_tag (layer, k), !=, ((const WbBurn *) g_ptr_array_index (one->data->burns, 6))->record.id);
        }
    }
  g_assert_cmpuint (found, >, 1);

  /* a ring is the mean of burns: of a cell nobody's, of a sample that sample's */
  g_assert_cmpint (wb_chart_layer_get_tag (find_layer (rings, 0, WB_CHART_LAYER_RINGS, 0), 0), ==, 0);
  g_assert_cmpint (wb_chart_layer_get_tag (find_layer (rings, 1, WB_CHART_LAYER_RINGS, 1), 0), ==, -sample);
  /* the highest flame is one burn's, the mean depth of two samples nobody's */
  g_assert_cmpint (wb_chart_layer_get_tag (find_layer (life, 0, WB_CHART_LAYER_LINE, 1), 0), ==, fifth);
  g_assert_cmpint (wb_chart_layer_get_tag (find_layer (life, 2, WB_CHART_LAYER_LINE, 0), 0), ==, 0);
  g_assert_cmpint (wb_chart_layer_get_tag (find_layer (marks, 1, WB_CHART_LAYER_HEAT, WB_CHART_SERIES_NONE), 2), ==, fifth);
  /* past the end */
  g_assert_cmpint (wb_chart_layer_get_tag (find_layer (rings, 0, WB_CHART_LAYER_RINGS, 0), 1000), ==, 0);
}

static void
test_refusals (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 2);
  const struct
  {
    WbCraftPick pick;
    int         code;
  } cases[] = {
    { { one, 2, -1 }, WB_PLOT_ERROR_CELL },
    { { one, 0, 4 }, WB_PLOT_ERROR_SAMPLE },
    { { one, 0, 2 }, WB_PLOT_ERROR_SAMPLE }, /* of the other cell */
  };
  WbPlotOptions options;

  for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
    for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        g_autoptr (GError) error = NULL;

        g_assert_null (wb_plot_beside_new (kinds[k], &cases[i].pick, 1, NULL, &error));
        g_assert_error (error, WB_PLOT_ERROR, cases[i].code);
      }

  const WbCraftPick  pick = { one, 0, -1 };
  g_autoptr (GError) error = NULL;
  wb_plot_options_init (&options, FALSE);
  options.figure = WB_FIGURE_TAU;
  g_assert_null (wb_plot_beside_new (WB_PLOT_LIFE, &pick, 1, &options, &error));
  g_assert_error (error, WB_PLOT_ERROR, WB_PLOT_ERROR_FIGURE);
}

/* A value that no axis can hold is refused by the layout, which names the place, and never drawn. */
static void
test_infinite (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 1);
  const WbCraftPick         pick = { one, 0, -1 };
  g_autoptr (GError)        error = NULL;

  one->figures->burns[0].depth_mm = INFINITY;

  g_autoptr (WbChart)       chart = beside_new (WB_PLOT_LIFE, &pick, 1);

  g_assert_null (wb_chart_layout_new (chart, 480.0, 300.0, 1.0, &error));
  g_assert_error (error, WB_CHART_ERROR, WB_CHART_ERROR_RANGE);
}

/* Nothing was read: the panels say so, and so does the title. */
static void
test_unread (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 2);
  const WbCraftPick         picks[] = { { one, 0, -1 }, { one, 1, -1 } };

  for (guint i = 0; i < one->figures->n_burns; i++)
    one->figures->burns[i].smoke = one->figures->burns[i].soot = one->figures->burns[i].mushroom = NAN;
  g_autoptr (WbChart) none = beside_new (WB_PLOT_MARKS, picks, 2);
  g_assert_cmpstr (wb_chart_get_title (none), ==, "Smoke, soot and mushroom were not read yet");
  g_assert_true (wb_chart_panel_is_empty (wb_chart_get_panel (none, 0)));

  for (guint i = 0; i < one->figures->n_burns; i++)
    one->figures->burns[i].smoke = one->figures->burns[i].soot = one->figures->burns[i].mushroom = 0.0;
  g_autoptr (WbChart) clean = beside_new (WB_PLOT_MARKS, picks, 2);
  g_assert_cmpstr (wb_chart_get_title (clean), ==, "No burn shows smoke, soot or a mushroom");

  /* what nobody looked for was not seen to be none */
  for (guint i = 0; i < one->figures->n_burns; i++)
    one->figures->burns[i].smoke = one->figures->burns[i].mushroom = NAN;
  g_autoptr (WbChart) some = beside_new (WB_PLOT_MARKS, picks, 2);
  g_assert_cmpstr (wb_chart_get_title (some), ==, "None was seen of: Soot on the vessel; not read, or not of all: Smoke, Mushroom on the wick");

  one->figures->burns[5].soot = 3.0;
  g_autoptr (WbChart) sooty = beside_new (WB_PLOT_MARKS, picks, 2);
  g_assert_cmpstr (wb_chart_get_title (sooty), ==, "L-2 leaves soot in 1 of 4 burns, at worst moderate; L-1 leaves no soot in 4 burns");
}

/* Who crosses a limit is told before who gets hottest. */
static void
test_life (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 2), other = answer_new ("TH-1", 1);
  const WbCraftPick         picks[] = { { one, 0, -1 }, { other, 0, -1 } };
  guint                     vessel = 0;

  for (guint i = 0; i < other->figures->n_burns; i++)
    other->figures->burns[i].vessel_max_c = 70.0;
  g_autoptr (WbChart) calm = beside_new (WB_PLOT_LIFE, picks, 2);
  g_assert_true (g_str_has_prefix (wb_chart_get_title (calm), "TH-1 · L-1 gets hottest at the wall so far, 70\302\240°C, HF-1 · L-1 stays at 4"));

  /* one burnt down, the other not: the hottest burns of that are still to come, so nothing says that it stays cooler */
  for (guint i = 0; i < other->figures->n_samples; i++)
    {
      other->figures->thirds[i] = WB_CRAFT_THIRDS_OF_FILL;
      other->figures->life_left[i] = 0.1;
    }
  for (guint i = 0; i < one->figures->n_samples; i++)
    {
      one->figures->thirds[i] = WB_CRAFT_THIRDS_OF_FILL;
      one->figures->life_left[i] = 0.8;
    }
  g_autoptr (WbChart) uneven = beside_new (WB_PLOT_LIFE, picks, 2);
  g_assert_null (strstr (wb_chart_get_title (uneven), "stays"));
  g_assert_nonnull (strstr (wb_chart_get_title (uneven), "HF-1 · L-1: no limit crossed so far in what was read, with 80\302\240% of its wax left"));
  for (guint i = 0; i < one->figures->n_samples; i++)
    one->figures->life_left[i] = 0.2;
  g_autoptr (WbChart) even = beside_new (WB_PLOT_LIFE, picks, 2);
  g_assert_true (g_str_has_prefix (wb_chart_get_title (even), "TH-1 · L-1 gets hottest at the wall, 70"));

  while (((const WbLimit *) g_ptr_array_index (other->data->limits, vessel))->kind != WB_LIMIT_VESSEL)
    vessel++;
  WbCraftLimit *crossed = (WbCraftLimit *) wb_craft_limits_get (other->limits, 0, vessel);
  crossed->state = WB_CRAFT_LIMIT_CROSSED;
  crossed->worst = 79.0;
  crossed->burn = crossed->sample = 0;
  g_autoptr (WbChart) hot = beside_new (WB_PLOT_LIFE, picks, 2);
  g_assert_true (g_str_has_prefix (wb_chart_get_title (hot), "TH-1 · L-1 crosses the house limit of 77\302\240°C"));
}

/* What is copied or printed warns of unlike candles, and of unlike wicks alone does not. */
static void
test_unlike (void)
{
  g_autoptr (WbCraftAnswer) one = answer_new ("HF-1", 4), other = wide_answer_new ("TH-1");
  const WbCraftPick         fair[] = { { one, 0, -1 }, { one, 1, -1 } }, unfair[] = { { one, 0, -1 }, { other, 0, -1 } };

  for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
    {
      g_autoptr (WbChart) quiet = beside_new (kinds[k], fair, 2), told = beside_new (kinds[k], unfair, 2);

      g_assert_null (strstr (wb_chart_get_footnote (quiet), "more than the wick"));
      g_assert_true (g_str_has_prefix (wb_chart_get_footnote (told), "The candles differ in more than the wick: vessel"));
    }
}

/* Charts of many combinations say of each value whose it is. */
static void
test_cell_tags (void)
{
  static const WbPlotKind   of_cells[] = { WB_PLOT_HEAT, WB_PLOT_RANKS, WB_PLOT_SCORE, WB_PLOT_LOSS };
  g_autoptr (WbCraftAnswer) answer = answer_new ("HF-1", 4);

  for (guint i = 0; i < answer->data->cells->len; i++)
    ((WbCell *) g_ptr_array_index (answer->data->cells, i))->record.id = 100 + i;
  for (gsize k = 0; k < G_N_ELEMENTS (of_cells); k++)
    {
      g_autoptr (WbChart) chart = test_plot_new (of_cells[k], answer);
      guint               seen = 0;

      for (guint panel = 0; panel < wb_chart_get_n_panels (chart); panel++)
        for (guint layer = 0; layer < wb_chart_panel_get_n_layers (wb_chart_get_panel (chart, panel)); layer++)
          {
            const WbChartLayer *what = wb_chart_panel_get_layer (wb_chart_get_panel (chart, panel), layer);

            for (gsize i = 0; i < wb_chart_layer_get_n (what); i++)
              {
                gint64 tag = wb_chart_layer_get_tag (what, i);

                g_assert_cmpint (tag, <=, -100);
                g_assert_cmpint (tag, >, -104);
                seen |= 1u << (-100 - tag);
              }
          }
      g_assert_cmpuint (seen, ==, 0xf);
    }
}

/* A fit may aim beyond the wall, and where its width is told it is told that the wall stops it. */
static void
test_beyond (void)
{
  g_autoptr (WbCraftAnswer) answer = answer_new ("HF-1", 4);
  WbPlotOptions             options;
  double                    inner = wb_craft_cell_get_inner_mm (answer->data, 0, WB_STAGE_ALL);

  answer->estimates->cells[0].growth.pool_limit_mm = (WbCraftInterval) { inner + 9.0, inner + 2.0, inner + 16.0 };
  answer->estimates->cells[1].growth.pool_limit_mm = (WbCraftInterval) { inner - 9.0, inner - 12.0, inner - 6.0 };
  wb_plot_options_init (&options, FALSE);
  options.figure = WB_FIGURE_POOL_LIMIT;
  for (guint cell = 0; cell < 2; cell++)
    {
      g_autoptr (WbChart) chart = NULL;
      gboolean            told;

      options.cells = &cell;
      options.n_cells = 1;
      chart = wb_plot_new (WB_PLOT_HEAT, answer, &options, NULL);
      told = strstr (wb_chart_get_description (chart), "would reach beyond the wall: the wall stops it") != NULL;
      g_assert_cmpint (told, ==, cell == 0);
    }
}

/* A title is two lines at most where a chart is as wide as a window's or a page's. */
static void
test_titles (void)
{
  static const PlotBenchSpec spec = { 3, 4, 2, 2, 3 };
  g_autoptr (WbCraftAnswer)  answer = plot_bench_answer_new (plot_bench_data_new (&spec, 5), WB_CRAFT_WITHIN_SCENT);
  g_autoptr (WbChart)        brief = wb_chart_new ("One line", "One line.");
  double                     one = 0.0;

  wb_chart_add_panel (brief, 0, 0, NULL);
  for (int kind = -1; kind < WB_PLOT_N_KINDS; kind++)
    {
      g_autoptr (WbChart)       chart = kind < 0 ? wb_chart_ref (brief) : test_plot_new (kind, answer);
      g_autoptr (WbChartLayout) layout = wb_chart_layout_new (chart, 720.0, 600.0, 1.0, NULL);

      for (gsize i = 0; i < wb_chart_layout_get_n_items (layout); i++)
        {
          const WbChartItem *item = wb_chart_layout_get_item (layout, i);

          if (item->kind != WB_CHART_ITEM_TITLE)
            continue;
          if (kind < 0)
            one = item->rect.height;
          else if (item->rect.height > 2.3 * one)
            g_error ("%s: “%s” is longer than two lines", wb_plot_kind_get_key (kind), item->text);
        }
    }
  g_assert_cmpfloat (one, >, 0.0);
}

void
test_beside_add (void)
{
  g_test_add_func ("/plot/beside/kinds-that-take-picks", test_kinds);
  g_test_add_func ("/plot/beside/none-one-and-many-are-laid-out", test_numbers);
  g_test_add_func ("/plot/beside/picks-keep-their-order-and-look", test_order);
  g_test_add_func ("/plot/beside/what-is-of-one-experiment-keeps-its-looks", test_looks);
  g_test_add_func ("/plot/beside/one-scale-for-all", test_scale);
  g_test_add_func ("/plot/beside/values-say-what-they-stand-for", test_tags);
  g_test_add_func ("/plot/beside/what-is-not-there-is-refused", test_refusals);
  g_test_add_func ("/plot/beside/an-infinite-value-is-refused", test_infinite);
  g_test_add_func ("/plot/beside/marks-tell-the-worst-or-that-there-is-none", test_unread);
  g_test_add_func ("/plot/beside/life-tells-who-crosses-or-gets-hottest", test_life);
  g_test_add_func ("/plot/beside/unlike-candles-are-told-below", test_unlike);
  g_test_add_func ("/plot/beside/values-of-many-combinations-say-whose-they-are", test_cell_tags);
  g_test_add_func ("/plot/beside/a-pool-beyond-the-wall-is-explained", test_beyond);
  g_test_add_func ("/plot/beside/a-title-is-two-lines-at-most", test_titles);
}
