/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-beside.h"

#include <glib/gi18n-lib.h>

#include "wb-plot-lines-private.h"

gboolean
wb_plot_kind_takes_picks (WbPlotKind kind)
{
  return kind == WB_PLOT_GROWTH || kind == WB_PLOT_RINGS || kind == WB_PLOT_LIFE || kind == WB_PLOT_MARKS;
}

int
wb_plot_beside_get_series (gsize index)
{
  return (int) index;
}

static WbChart *
nothing_new (void)
{
  WbChart *chart = wb_chart_new (_("Nothing is chosen to be laid side by side"), _("Nothing is chosen to be laid side by side."));

  wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("Choose combinations or samples"));
  return chart;
}

WbChart *
wb_plot_beside_new (WbPlotKind           kind,
                    const WbCraftPick   *picks,
                    gsize                n_picks,
                    const WbPlotOptions *options,
                    GError             **error)
{
  g_auto (WbPlotPicks) all = { 0 };

  g_return_val_if_fail (wb_plot_kind_takes_picks (kind), NULL);
  g_return_val_if_fail (n_picks == 0 || picks != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (n_picks == 0)
    return nothing_new ();
  if (!wb_plot_picks_init (&all, picks, n_picks, options, error))
    return NULL;
  switch (kind)
    {
    case WB_PLOT_GROWTH:
      return wb_plot_growth_new_lines (all.lines);
    case WB_PLOT_RINGS:
      return wb_plot_rings_new_lines (all.lines);
    case WB_PLOT_LIFE:
      return wb_plot_life_new_lines (all.lines, error);
    case WB_PLOT_MARKS:
      return wb_plot_marks_new_lines (all.lines);
    default:
      g_return_val_if_reached (NULL);
    }
}
