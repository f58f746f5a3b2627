/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define MOST_COLUMNS 4

/* Points: title, key and footnote; a vessel's head; a rung. */
#define AROUND 110.0
#define HEAD   40.0
#define RUNG   19.0

const WbCraftLadderStep *
wb_plot_ladder_get_step (const WbCraftLadder *ladder,
                         guint                index)
{
  return g_ptr_array_index (ladder->steps, index);
}

WbCraftForetoldAt
wb_plot_ladder_get_foretold (const WbCraftLadderStep *step,
                             WbCraftFillPlace         place)
{
  WbCraftForetoldAt at = step->at[place];

  if (place == WB_CRAFT_FILL_TOP && isnan (at.pool_limit_mm.value))
    {
      at.pool_limit_mm = step->pool_limit_mm;
      at.full_pool_h = step->full_pool_h;
    }
  return at;
}

guint
wb_plot_ladder_count (const WbCraftLadder *ladder)
{
  guint n = 0;

  for (guint i = 0; i < ladder->steps->len; i++)
    n += wb_plot_ladder_get_step (ladder, i)->in_ladder;
  return n;
}

gboolean
wb_plot_ladder_can_draw (const WbCraftLadder *ladder)
{
  g_return_val_if_fail (ladder != NULL, FALSE);

  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = wb_plot_ladder_get_step (ladder, i);

      if (isfinite (step->p_best) || isfinite (step->p_right) || isfinite (wb_plot_ladder_get_foretold (step, WB_CRAFT_FILL_TOP).pool_limit_mm.value))
        return TRUE;
    }
  return FALSE;
}

/* Four beside each other leave a vessel's hours just readable: five and six take two rows of three. */
static guint
choose_columns (guint n,
                guint most)
{
  return MIN (n > MOST_COLUMNS && n <= 6 ? 3 : CLAMP (n, 1, MOST_COLUMNS), most);
}

static void
add_panels (const WbPlotLadder *self,
            WbChart            *chart)
{
  gboolean known = self->ladder->question.inner_diameter_mm > 0;
  guint    row = 0;

  if (known && self->places != WB_PLOT_LADDER_BOTTOM)
    row = wb_plot_ladder_add_vessels (self, chart, WB_CRAFT_FILL_TOP, row);
  if (known && self->places != WB_PLOT_LADDER_TOP)
    row = wb_plot_ladder_add_vessels (self, chart, WB_CRAFT_FILL_BOTTOM, row);
  wb_plot_ladder_add_rails (self, chart, row);
  if (wb_chart_get_n_panels (chart) == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No wick is known that could be tried"));
}

static WbChart *
chart_new (const WbCraftLadder *ladder,
           WbPlotLadderPlaces   places,
           gboolean             us_units,
           gboolean             invented,
           gboolean             large_letters)
{
  WbPlotLadder     self = { .ladder = ladder, .places = places };
  g_autofree char *title = NULL, *description = NULL, *footnote = NULL;
  WbChart         *chart;

  wb_plot_options_init (&self.context.options, us_units);
  self.rails = g_array_new (FALSE, FALSE, sizeof (WbPlotLadderRail));
  wb_plot_ladder_find_rails (&self);
  self.n_columns = choose_columns (MAX (wb_plot_ladder_count (ladder), self.rails->len), large_letters ? 2 : MOST_COLUMNS);
  title = wb_plot_ladder_dup_title (&self);
  description = wb_plot_ladder_dup_description (&self, title);
  footnote = wb_plot_ladder_dup_footnote (&self, invented);
  chart = wb_chart_new (title, description);
  wb_chart_set_share (chart, WB_CHART_SHARE_NONE);
  add_panels (&self, chart);
  wb_chart_set_footnote (chart, footnote);
  g_array_unref (self.rails);
  return chart;
}

WbChart *
wb_plot_ladder_new (const WbCraftLadder *ladder,
                    WbPlotLadderPlaces   places,
                    gboolean             us_units,
                    gboolean             invented)
{
  g_return_val_if_fail (ladder != NULL, NULL);
  return chart_new (ladder, places, us_units, invented, FALSE);
}

WbChart *
wb_plot_ladder_new_large (const WbCraftLadder *ladder,
                          WbPlotLadderPlaces   places,
                          gboolean             us_units,
                          gboolean             invented)
{
  g_return_val_if_fail (ladder != NULL, NULL);
  return chart_new (ladder, places, us_units, invented, TRUE);
}

double
wb_plot_ladder_get_height (const WbChart *chart,
                           double         width)
{
  guint n_rungs = 3, n_rows, n_columns;

  g_return_val_if_fail (chart != NULL, width);

  n_rows = MAX (wb_chart_get_n_rows (chart), 1);
  n_columns = MAX (wb_chart_get_n_columns (chart), 2);
  for (guint i = 0; i < wb_chart_get_n_panels (chart); i++)
    n_rungs = MAX (n_rungs, wb_chart_axis_get_n_categories (wb_chart_panel_get_y (wb_chart_get_panel (chart, i))));
  /* all rows are as high as the highest */
  return AROUND + n_rows * (HEAD + CLAMP (width / n_columns - 20.0, n_rungs * RUNG, fmax (n_rungs * RUNG, 220.0)));
}
