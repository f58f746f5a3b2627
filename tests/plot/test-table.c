/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-chart-table.h"

#include <string.h>

#include "plot-bench.h"
#include "test-plot.h"

#define NBSP "\302\240"

/* How many rows have `text` in one of their cells. */
static guint
count_rows (const WbChartTable *table,
            const char         *text)
{
  guint n = 0;

  for (guint row = 0; row < wb_chart_table_get_n_rows (table); row++)
    {
      gboolean found = FALSE;

      for (guint column = 0; column < wb_chart_table_get_n_columns (table); column++)
        found |= strstr (wb_chart_table_get_cell (table, row, column), text) != NULL;
      n += found;
    }
  return n;
}

static WbChartTable *
make_table (WbPlotKind           kind,
            const WbCraftAnswer *answer)
{
  g_autoptr (WbChart) chart = test_plot_new (kind, answer);

  return wb_chart_table_new (chart);
}

/* Each hourly reading of two burns of two samples is there, with its sample. */
static void
test_growth (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (1);
  g_autoptr (WbChartTable)  table = make_table (WB_PLOT_GROWTH, answer);

  for (guint burn = 1; burn <= 2; burn++)
    for (guint sample = 1; sample <= 2; sample++)
      {
        g_autofree char *note = g_strdup_printf ("T%u, burn %u", sample, burn);

        g_assert_cmpuint (count_rows (table, note), ==, 4);
      }
  g_assert_cmpuint (count_rows (table, "wall, 76.2" NBSP "mm"), ==, 1);
  g_assert_cmpuint (count_rows (table, "full melt pool due"), ==, 1);
}

static void
test_at_the_wall (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (6);
  g_autoptr (WbChartTable)  table = make_table (WB_PLOT_GRID, answer);

  g_assert_cmpuint (count_rows (table, "at least"), >, 0);
}

static void
test_rings (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (1);
  g_autoptr (WbChartTable)  table = make_table (WB_PLOT_RINGS, answer);

  for (guint hour = 1; hour <= 4; hour++)
    {
      g_autofree char *name = g_strdup_printf ("L-1, %u" NBSP "h", hour);

      g_assert_cmpuint (count_rows (table, name), ==, 1);
    }
}

static void
test_ranked (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (3);
  g_autoptr (WbChartTable)  score = make_table (WB_PLOT_SCORE, answer);
  g_autoptr (WbChartTable)  ranks = make_table (WB_PLOT_RANKS, answer);
  g_autoptr (WbChartTable)  heat = make_table (WB_PLOT_HEAT, answer);

  for (guint cell = 0; cell < 3; cell++)
    {
      const WbCraftRanked *ranked = NULL;

      for (guint i = 0; i < 3; i++)
        if (answer->ranking->groups[0].cells[i].cell == cell)
          ranked = &answer->ranking->groups[0].cells[i];
      g_assert_nonnull (ranked);
      g_autofree char *name = g_strdup_printf ("L-%u", cell + 1);
      g_autofree char *value = wb_number_format (ranked->score.value, 2, NULL);

      g_assert_cmpuint (count_rows (score, name), >, 1);
      g_assert_cmpuint (count_rows (ranks, name), ==, 3);
      g_assert_cmpuint (count_rows (heat, name), ==, 1);
      g_assert_cmpuint (count_rows (heat, value), >=, 1);
    }
}

static void
test_life (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (1);
  g_autoptr (WbChartTable)  table = make_table (WB_PLOT_LIFE, answer);

  /* Flame, vessel and depth of two burns; nothing was weighed. */
  g_assert_cmpuint (count_rows (table, "burn 1"), ==, 3);
  g_assert_cmpuint (count_rows (table, "burn 2"), ==, 3);
  g_assert_cmpuint (count_rows (table, "house limit, 77" NBSP "°C"), ==, 1);
}

static void
test_effects (void)
{
  g_autoptr (WbCraftAnswer) answer = plot_bench_small (4);
  g_autoptr (WbChartTable)  table = make_table (WB_PLOT_EFFECTS, answer);

  for (guint cell = 0; cell < 4; cell++)
    {
      g_autofree char *name = g_strdup_printf ("L-%u", cell + 1);

      g_assert_cmpuint (count_rows (table, name), >=, 1);
    }
}

void
test_table_add (void)
{
  g_test_add_func ("/plot/table/of-growth-has-every-reading", test_growth);
  g_test_add_func ("/plot/table/tells-at-least", test_at_the_wall);
  g_test_add_func ("/plot/table/of-rings-has-every-hour", test_rings);
  g_test_add_func ("/plot/table/of-ranked-kinds-has-every-cell", test_ranked);
  g_test_add_func ("/plot/table/of-a-life-has-burns-and-limits", test_life);
  g_test_add_func ("/plot/table/of-effects-has-every-wick", test_effects);
}
