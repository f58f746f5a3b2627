/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Series beside each other, and rungs of one: more could not be read. */
#define MOST_SERIES 8
#define MOST_RUNGS  12

/* Rows of a stretch that the run takes: its largest size is on top. */
static void
outline_run (const WbPlotLadder     *self,
             const WbPlotLadderRail *rail,
             WbChartPanel           *panel)
{
  int lowest = -1, highest = -1;

  for (guint row = 0; row < rail->n; row++)
    if (wb_plot_ladder_get_step (self->ladder, rail->first + rail->n - 1 - row)->in_run)
      {
        lowest = lowest < 0 ? (int) row : lowest;
        highest = (int) row;
      }
  if (lowest >= 0)
    wb_chart_layer_add_region (panel, _("best neighbours"), WB_CHART_RULE_REFERENCE, WB_CHART_Y, lowest - 0.5, highest + 0.5);
}

static void
label_rungs (const WbPlotLadder     *self,
             const WbPlotLadderRail *rail,
             WbChartPanel           *panel)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  WbChartAxis          *x = wb_chart_panel_get_x (panel);

  for (guint row = 0; row < rail->n; row++)
    {
      const WbCraftLadderStep *step = wb_plot_ladder_get_step (self->ladder, rail->first + rail->n - 1 - row);

      g_ptr_array_add (names, step->in_ladder ? g_strdup_printf ("★ %s", step->size) : g_strdup (step->size));
    }
  g_ptr_array_add (names, NULL);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), (const char *const *) names->pdata);
  wb_chart_axis_set_label (x, _("Chance"));
  wb_chart_axis_set_chance (x, TRUE);
  wb_chart_axis_set_range (x, 0.0, 1.0);
}

static void
add_rail (const WbPlotLadder     *self,
          const WbPlotLadderRail *rail,
          WbChart                *chart,
          guint                   row,
          guint                   column)
{
  WbChartPanel       *panel = wb_chart_add_panel (chart, row, column, wb_plot_ladder_get_step (self->ladder, rail->first)->series);
  g_autofree double  *best = g_new (double, 2 * (gsize) rail->n), *right = g_new (double, rail->n), *at = g_new (double, rail->n);
  /* Translators: the chance that a wick is the best, of those on the wick ladder and of the others */
  const char *const   parts[] = { _("the best, on the ladder"), _("the best, not on it") };

  for (guint i = 0; i < rail->n; i++)
    {
      const WbCraftLadderStep *step = wb_plot_ladder_get_step (self->ladder, rail->first + rail->n - 1 - i);

      best[2 * i] = step->in_ladder ? step->p_best : NAN;
      best[2 * i + 1] = step->in_ladder ? NAN : step->p_best;
      right[i] = step->p_right;
      at[i] = i;
    }
  label_rungs (self, rail, panel);
  outline_run (self, rail, panel);
  wb_chart_layer_add_bars (panel, WB_CHART_PARTS_REST, rail->n, G_N_ELEMENTS (parts), parts, best, NULL);
  wb_chart_layer_add_points (panel, _("right for the vessel"), WB_CHART_SERIES_NONE, rail->n, right, at, WB_CHART_X, NULL, NULL);
  wb_chart_panel_set_empty_text (panel, _("No chances are known"));
}

/* Of a long series the stretch that most likely holds the best, by windows of MOST_RUNGS. */
static void
shorten (WbPlotLadder     *self,
         WbPlotLadderRail *rail)
{
  double most = -1.0;
  guint  first = rail->first, end = rail->first + rail->n;

  if (rail->n <= MOST_RUNGS)
    return;
  for (guint from = rail->first; from + MOST_RUNGS <= end; from++)
    {
      double sum = 0.0;

      for (guint i = from; i < from + MOST_RUNGS; i++)
        {
          const WbCraftLadderStep *step = wb_plot_ladder_get_step (self->ladder, i);

          sum += (isnan (step->p_best) ? 0.0 : step->p_best) + step->in_ladder;
        }
      if (sum > most)
        {
          most = sum;
          first = from;
        }
    }
  self->left_out += rail->n - MOST_RUNGS;
  rail->first = first;
  rail->n = MOST_RUNGS;
}

/* Leaves out the series least likely to hold the best, of those that have no wick on the ladder. */
static void
drop_least (WbPlotLadder *self)
{
  guint least = 0;

  for (guint i = 1; i < self->rails->len; i++)
    if (g_array_index (self->rails, WbPlotLadderRail, i).chance < g_array_index (self->rails, WbPlotLadderRail, least).chance)
      least = i;
  self->left_out += g_array_index (self->rails, WbPlotLadderRail, least).n;
  g_array_remove_index (self->rails, least);
}

void
wb_plot_ladder_find_rails (WbPlotLadder *self)
{
  const WbCraftLadder *ladder = self->ladder;

  for (guint i = 0, end; i < ladder->steps->len; i = end)
    {
      WbPlotLadderRail rail = { .first = i };

      for (end = i; end < ladder->steps->len && g_strcmp0 (wb_plot_ladder_get_step (ladder, end)->series, wb_plot_ladder_get_step (ladder, i)->series) == 0; end++)
        {
          double best = wb_plot_ladder_get_step (ladder, end)->p_best;

          rail.chance += (isnan (best) ? 0.0 : best) + wb_plot_ladder_get_step (ladder, end)->in_ladder;
        }
      rail.n = end - i;
      g_array_append_val (self->rails, rail);
    }
  while (self->rails->len > MOST_SERIES)
    drop_least (self);
  for (guint i = 0; i < self->rails->len; i++)
    shorten (self, &g_array_index (self->rails, WbPlotLadderRail, i));
}

void
wb_plot_ladder_add_rails (const WbPlotLadder *self,
                          WbChart            *chart,
                          guint               first_row)
{
  for (guint i = 0; i < self->rails->len; i++)
    add_rail (self, &g_array_index (self->rails, WbPlotLadderRail, i), chart, first_row + i / self->n_columns, i % self->n_columns);
}
