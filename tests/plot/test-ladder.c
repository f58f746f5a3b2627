/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-table.h"
#include "wb-plot-ladder.h"

#include <string.h>

#include "plot-bench.h"
#include "test-plot.h"

#define NBSP "\302\240"

static WbCraftLadderStep *
get_step (WbCraftLadder *ladder,
          guint          index)
{
  return g_ptr_array_index (ladder->steps, index);
}

static void
assert_in (const char *text,
           const char *part)
{
  if (strstr (text, part) == NULL)
    g_error ("“%s” is not in:\n%s", part, text);
}

static void
test_words (void)
{
  g_autoptr (WbCraftLadder) ladder = plot_bench_ladder_new ();
  g_autoptr (WbChart)       chart = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_TOP, FALSE, TRUE);
  g_autoptr (WbChartTable)  table = wb_chart_table_new (chart);
  g_autofree char          *text = wb_chart_table_dup_text (table);

  g_assert_true (wb_plot_ladder_can_draw (ladder));
  g_assert_cmpstr (wb_chart_get_title (chart), ==, "Larch L-3, Larch L-4, Rowan R-2: the best wick is one of them with a chance of 76" NBSP "%");
  assert_in (wb_chart_get_description (chart), "Larch L-3: at the top no farther than 73.0" NBSP "mm (69.4" NBSP "mm to 76.7" NBSP "mm), 29.9" NBSP "mm after 1" NBSP "h, 47.5" NBSP "mm after 2" NBSP "h, 57.9" NBSP "mm after 3" NBSP "h, 64.1" NBSP "mm after 4" NBSP "h; the best of all 35" NBSP "%, right 70" NBSP "%.");
  assert_in (wb_chart_get_description (chart), "Larch L-4: at the top full after 5.8" NBSP "h (4.6" NBSP "h or more), 32.7" NBSP "mm after 1" NBSP "h,");
  /* an hour an inch, three quarters of it to five: 2.25 to 3.75 h */
  assert_in (wb_chart_get_footnote (chart), "due after 2.3" NBSP "h to 3.8" NBSP "h.");
  assert_in (wb_chart_get_footnote (chart), "Foretold, not tested.");
  assert_in (wb_chart_get_footnote (chart), "Invented data.");
  /* three vessels, two series; a value of each rung */
  g_assert_cmpuint (wb_chart_get_n_panels (chart), ==, 5);
  g_assert_cmpstr (wb_chart_panel_get_title (wb_chart_get_panel (chart, 3)), ==, "Larch");
  g_assert_cmpstr (wb_chart_axis_get_category (wb_chart_panel_get_y (wb_chart_get_panel (chart, 3)), 0), ==, "L-5");
  g_assert_cmpstr (wb_chart_axis_get_category (wb_chart_panel_get_y (wb_chart_get_panel (chart, 3)), 2), ==, "★ L-3");
  assert_in (text, "best neighbours");
  assert_in (text, "35" NBSP "%");
}

/* A pool whose limit lies beyond the wall ends at the wall, and its limit is told; one short of it keeps its own circle. */
static void
test_wall (void)
{
  g_autoptr (WbCraftLadder) ladder = plot_bench_ladder_new ();
  g_autoptr (WbChart)       chart = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_TOP, FALSE, FALSE);
  g_autoptr (WbChartTable)  table = wb_chart_table_new (chart);
  g_autofree char          *text = wb_chart_table_dup_text (table);

  g_assert_null (strstr (wb_chart_get_footnote (chart), "Invented"));
  assert_in (text, "Larch L-3, limit 73.0" NBSP "mm\t");
  assert_in (text, "73.0" NBSP "mm\t69.4" NBSP "mm\t76.2" NBSP "mm");
  assert_in (text, "limit of the pool 80.0" NBSP "mm (76.0" NBSP "mm to 84.0" NBSP "mm)");
  g_assert_null (strstr (text, "\t84.0"));
}

/* A ring on each hour, the due one named so; the first that is full lies on the wall, and none after it is drawn. */
static void
test_hours (void)
{
  g_autoptr (WbCraftLadder) ladder = plot_bench_ladder_new ();
  g_autoptr (WbChart)       chart = NULL;
  g_autoptr (WbChartTable)  table = NULL;
  g_autofree char          *text = NULL;

  get_step (ladder, 3)->at[WB_CRAFT_FILL_TOP].pool_mm[2] = (WbCraftInterval) { 90, 80, 100 };
  chart = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_TOP, FALSE, FALSE);
  table = wb_chart_table_new (chart);
  text = wb_chart_table_dup_text (table);
  assert_in (text, "Larch L-3, 1" NBSP "h\t");
  assert_in (text, "Larch L-3, 3" NBSP "h, due\t");
  assert_in (text, "Larch L-3, 4" NBSP "h\t");
  assert_in (text, "47.5" NBSP "mm (45.1" NBSP "mm to 49.9" NBSP "mm)");
  assert_in (text, "Larch L-4, 3" NBSP "h, due\t");
  g_assert_null (strstr (text, "Larch L-4, 4" NBSP "h"));
  g_assert_null (strstr (text, "90.0" NBSP "mm\t"));
  assert_in (wb_chart_get_description (chart), "mm after 2" NBSP "h, at the wall after 3" NBSP "h;");
}

/* At the bottom each has its own pool; what is not foretold there is said in its place, never drawn as at the top. */
static void
test_places (void)
{
  g_autoptr (WbCraftLadder) ladder = plot_bench_ladder_new ();
  g_autoptr (WbChart)       bottom = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_BOTTOM, TRUE, FALSE);
  g_autoptr (WbChart)       both = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_BOTH, FALSE, FALSE);
  g_autoptr (WbChart)       large = NULL;

  g_assert_cmpstr (wb_chart_panel_get_title (wb_chart_get_panel (bottom, 0)), ==, "Larch L-3: not foretold");
  g_assert_true (wb_chart_panel_is_empty (wb_chart_get_panel (bottom, 0)));
  g_assert_false (wb_chart_panel_is_empty (wb_chart_get_panel (bottom, 1)));
  assert_in (wb_chart_get_description (bottom), "Larch L-3: at the bottom not foretold;");
  g_assert_null (strstr (wb_chart_get_description (bottom), "at the top"));
  large = wb_plot_ladder_new_large (ladder, WB_PLOT_LADDER_TOP, FALSE, FALSE);
  g_assert_cmpuint (wb_chart_get_n_columns (large), ==, 2);
  g_assert_cmpuint (wb_chart_get_n_panels (large), ==, 5);
  g_assert_cmpuint (wb_chart_get_n_panels (both), ==, 8);
  g_assert_cmpuint (wb_chart_get_n_rows (both), ==, 3);
}

static guint
count_in (const char *text,
          const char *part)
{
  guint n = 0;

  for (const char *at = text; (at = strstr (at, part)) != NULL; at++)
    n++;
  return n;
}

/* Three wicks share the vessel: three circles of 73.0 mm ÷ √3 = 42.1 mm, and the whole vessel's limit is still told. Of both places of the
 * fill each panel says which it is. */
static void
test_several (void)
{
  g_autoptr (WbCraftLadder) ladder = plot_bench_ladder_new ();
  g_autoptr (WbChart)       chart = NULL, both = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_BOTH, FALSE, FALSE);
  g_autoptr (WbChartTable)  table = NULL;
  g_autofree char          *text = NULL;

  ladder->question.wicks = 3;
  ladder->shares_vessel = TRUE;
  chart = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_TOP, FALSE, FALSE);
  table = wb_chart_table_new (chart);
  text = wb_chart_table_dup_text (table);
  /* one's hours: where circles lie on each other they could not be told */
  g_assert_cmpuint (count_in (text, "Larch L-3, 2" NBSP "h"), ==, 1);
  g_assert_cmpuint (count_in (text, "\t42.1" NBSP "mm\t40.0" NBSP "mm\t44.0" NBSP "mm"), ==, 3);
  g_assert_cmpuint (count_in (text, "limit of the pool 73.0" NBSP "mm"), ==, 1);
  g_assert_cmpstr (wb_chart_panel_get_title (wb_chart_get_panel (both, 0)), ==,
                   "Top, Larch L-3: no farther than 73.0" NBSP "mm (69.4" NBSP "mm to 76.7" NBSP "mm)");
  g_assert_cmpstr (wb_chart_panel_get_title (wb_chart_get_panel (both, 3)), ==, "Bottom, Larch L-3: not foretold");
}

/* Suppliers' diameters foretell neither pool nor chance; a ladder that nothing stands on still is a chart. */
static void
test_nothing (void)
{
  g_autoptr (WbCraftLadder) ladder = plot_bench_ladder_new ();
  g_autoptr (WbChart)       chart = NULL, none = NULL;

  for (guint i = 0; i < ladder->steps->len; i++)
    {
      WbCraftLadderStep *step = get_step (ladder, i);

      step->p_best = step->p_right = NAN;
      step->pool_limit_mm = step->full_pool_h = WB_CRAFT_INTERVAL_NONE;
      for (guint place = 0; place < WB_CRAFT_N_FILLS; place++)
        step->at[place].pool_limit_mm = step->at[place].full_pool_h = WB_CRAFT_INTERVAL_NONE;
    }
  ladder->p_holds_best = NAN;
  g_assert_false (wb_plot_ladder_can_draw (ladder));
  chart = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_BOTH, FALSE, FALSE);
  g_assert_cmpstr (wb_chart_get_title (chart), ==, "Larch L-3, Larch L-4, Rowan R-2 are the sizes to try");
  for (guint i = 0; i < wb_chart_get_n_panels (chart); i++)
    g_assert_true (wb_chart_panel_is_empty (wb_chart_get_panel (chart, i)));
  g_ptr_array_set_size (ladder->steps, 0);
  none = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_TOP, FALSE, FALSE);
  g_assert_cmpstr (wb_chart_get_title (none), ==, "No basis for a wick ladder");
  g_assert_cmpuint (wb_chart_get_n_panels (none), ==, 1);
}

/* A shelf of many: the wicks on the ladder keep their rungs, and how many have none is told. */
static void
test_many (void)
{
  g_autoptr (WbCraftLadder) ladder = plot_bench_ladder_new ();
  g_autoptr (WbChart)       chart = NULL;
  g_autoptr (WbChartTable)  table = NULL;
  g_autofree char          *text = NULL;

  for (guint series = 0; series < 10; series++)
    for (guint i = 0; i < 20; i++)
      {
        WbCraftLadderStep *step = g_memdup2 (get_step (ladder, 0), sizeof (WbCraftLadderStep));

        step->series = g_strdup_printf ("Series %u", series);
        step->size = g_strdup_printf ("%u", i);
        step->reason = NULL;
        step->nearest = g_ptr_array_new ();
        step->in_ladder = series == 9 && i == 19;
        g_ptr_array_add (ladder->steps, step);
      }
  chart = wb_plot_ladder_new (ladder, WB_PLOT_LADDER_TOP, FALSE, FALSE);
  table = wb_chart_table_new (chart);
  text = wb_chart_table_dup_text (table);
  assert_in (text, "★ 19");
  assert_in (text, "★ L-3");
  /* 6 series of 20 and 8 rungs of each of the other 4, of 210; two of Larch and Rowan stand whole */
  assert_in (wb_chart_get_footnote (chart), "128 wicks more are not shown.");
}

void
test_ladder_add (void)
{
  g_test_add_func ("/plot/ladder/the-finding-is-the-title", test_words);
  g_test_add_func ("/plot/ladder/a-pool-ends-at-the-wall", test_wall);
  g_test_add_func ("/plot/ladder/a-ring-stands-on-each-hour", test_hours);
  g_test_add_func ("/plot/ladder/each-place-of-the-fill-has-its-own-pool", test_places);
  g_test_add_func ("/plot/ladder/several-wicks-stand-at-their-places", test_several);
  g_test_add_func ("/plot/ladder/nothing-foretold-is-said", test_nothing);
  g_test_add_func ("/plot/ladder/of-many-the-likeliest-are-shown", test_many);
}
