/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot.h"

#include <math.h>

#include "wb-plot-effects.h"
#include "wb-plot-grid.h"
#include "wb-plot-growth.h"
#include "wb-plot-heat.h"
#include "wb-plot-life.h"
#include "wb-plot-loss.h"
#include "wb-plot-marks.h"
#include "wb-plot-ranks.h"
#include "wb-plot-rings.h"
#include "wb-plot-score.h"

/* Points: title, key, axis and footnote around the panels. */
#define AROUND 96.0
#define AROUND_ON_PAGE 68.0
#define RING_ON_PAGE 138.0 /* of one vessel: larger tells no more */

/* px on a screen: title, key and footnote; a row of panels with its heads and axis; a small window shows no more of it at once. */
#define LEAST_AROUND 100
#define LEAST_ROW    120
#define LEAST        220
#define LEAST_LARGE  440
#define LEAST_MOST   460

static guint
count_categories (const WbChart *chart)
{
  return wb_chart_get_n_panels (chart) > 0 ? wb_chart_axis_get_n_categories (wb_chart_panel_get_y (wb_chart_get_panel (chart, 0))) : 0;
}

WbChart *
wb_plot_new (WbPlotKind           kind,
             const WbCraftAnswer *answer,
             const WbPlotOptions *options,
             GError             **error)
{
  g_return_val_if_fail (kind < WB_PLOT_N_KINDS, NULL);
  g_return_val_if_fail (answer != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  switch (kind)
    {
    case WB_PLOT_GROWTH:
      return wb_plot_growth_new (answer, options, error);
    case WB_PLOT_RINGS:
      return wb_plot_rings_new (answer, options, error);
    case WB_PLOT_LIFE:
      return wb_plot_life_new (answer, options, error);
    case WB_PLOT_GRID:
      return wb_plot_grid_new (answer, options, error);
    case WB_PLOT_HEAT:
      return wb_plot_heat_new (answer, options, error);
    case WB_PLOT_SCORE:
      return wb_plot_score_new (answer, options, error);
    case WB_PLOT_RANKS:
      return wb_plot_ranks_new (answer, options, error);
    case WB_PLOT_EFFECTS:
      return wb_plot_effects_new (answer, options, error);
    case WB_PLOT_MARKS:
      return wb_plot_marks_new (answer, options, error);
    case WB_PLOT_LOSS:
      return wb_plot_loss_new (answer, options, error);
    case WB_PLOT_N_KINDS:
    default:
      g_return_val_if_reached (NULL);
    }
}

double
wb_plot_get_height (WbPlotKind     kind,
                    const WbChart *chart,
                    double         width)
{
  g_return_val_if_fail (kind < WB_PLOT_N_KINDS && chart != NULL, width * 2.0 / 3.0);

  guint n_rows = MAX (wb_chart_get_n_rows (chart), 1), n_columns = MAX (wb_chart_get_n_columns (chart), 1);
  guint n_categories = count_categories (chart);

  switch (kind)
    {
    case WB_PLOT_RINGS:
      return AROUND + n_rows * (width / n_columns + 24.0);
    case WB_PLOT_SCORE:
    case WB_PLOT_RANKS:
    case WB_PLOT_LOSS:
    case WB_PLOT_HEAT:
      return AROUND + 24.0 + fmax (n_categories, 3.0) * 24.0;
    case WB_PLOT_MARKS:
      return AROUND + n_rows * (48.0 + fmax (n_categories, 1.0) * 20.0);
    case WB_PLOT_GRID:
      return AROUND + n_rows * fmax (width / n_columns * 0.7, 84.0);
    case WB_PLOT_GROWTH:
      return AROUND + n_rows * fmax (width / n_columns * (n_columns > 1 ? 0.72 : 0.55), 150.0);
    case WB_PLOT_LIFE:
    case WB_PLOT_EFFECTS:
    case WB_PLOT_N_KINDS:
    default:
      return AROUND + n_rows * fmax (width / n_columns * 0.52, 120.0);
    }
}

int
wb_plot_get_least_height (const WbChart *chart,
                          gboolean       large)
{
  int rows = chart != NULL ? (int) wb_chart_get_n_rows (chart) : 1;

  return CLAMP (LEAST_AROUND + rows * LEAST_ROW, large ? LEAST_LARGE : LEAST, LEAST_MOST);
}

double
wb_plot_get_page_height (WbPlotKind     kind,
                         const WbChart *chart,
                         double         width)
{
  g_return_val_if_fail (kind < WB_PLOT_N_KINDS && chart != NULL, width / 2.0);

  guint  n_rows = MAX (wb_chart_get_n_rows (chart), 1), n_columns = MAX (wb_chart_get_n_columns (chart), 1);
  double column = width / n_columns, n_categories = count_categories (chart);

  switch (kind)
    {
    case WB_PLOT_RINGS:
      return AROUND_ON_PAGE - 20.0 + n_rows * (fmin (column - 20.0, RING_ON_PAGE) + 22.0);
    case WB_PLOT_SCORE:
    case WB_PLOT_RANKS:
    case WB_PLOT_HEAT:
      return AROUND_ON_PAGE + 44.0 + fmax (n_categories, 2.0) * 20.0;
    case WB_PLOT_LOSS:
      /* a value beside each marker, clear of the rules between groups */
      return AROUND_ON_PAGE + 32.0 + fmax (n_categories, 2.0) * 22.0;
    case WB_PLOT_MARKS:
      return AROUND_ON_PAGE - 14.0 + n_rows * (26.0 + fmax (n_categories, 1.0) * 14.0);
    case WB_PLOT_GROWTH:
    case WB_PLOT_GRID:
      return AROUND_ON_PAGE + n_rows * fmax (column * (n_columns > 1 ? 0.62 : 0.4), 120.0);
    case WB_PLOT_LIFE:
    case WB_PLOT_EFFECTS:
    case WB_PLOT_N_KINDS:
    default:
      return AROUND_ON_PAGE + n_rows * fmax (column * 0.5, 100.0);
    }
}
