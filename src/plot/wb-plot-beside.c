/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-beside.h"

#include <glib/gi18n-lib.h>

#include "wb-craft-beside-conditions.h"
#include "wb-plot-lines-private.h"
#include "wb-plot-series.h"

gboolean
wb_plot_kind_takes_picks (WbPlotKind kind)
{
  return kind == WB_PLOT_GROWTH || kind == WB_PLOT_RINGS || kind == WB_PLOT_LIFE || kind == WB_PLOT_MARKS;
}

/* FALSE: two of them would look alike, or are of different experiments, whose looks have nothing to do with each other. */
static gboolean
keep_their_looks (const WbCraftPick *picks,
                  gsize              n_picks)
{
  for (gsize i = 1; i < n_picks; i++)
    {
      if (picks[i].answer != picks[0].answer)
        return FALSE;
      for (gsize k = 0; k < i; k++)
        if (picks[i].cell == picks[k].cell)
          return FALSE;
    }
  return TRUE;
}

int
wb_plot_beside_get_series (const WbCraftPick *picks,
                           gsize              n_picks,
                           gsize              index)
{
  g_return_val_if_fail (picks != NULL && index < n_picks, 0);

  return keep_their_looks (picks, n_picks) ? wb_plot_get_series (picks[index].answer->data, picks[index].cell) : (int) index;
}

static WbChart *
nothing_new (void)
{
  WbChart *chart = wb_chart_new (_("Nothing is chosen to be laid side by side"), _("Nothing is chosen to be laid side by side."));

  wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("Choose combinations or samples"));
  return chart;
}

static WbChart *
draw_lines (WbPlotKind    kind,
            const GArray *lines,
            GError      **error)
{
  switch (kind)
    {
    case WB_PLOT_GROWTH:
      return wb_plot_growth_new_lines (lines);
    case WB_PLOT_RINGS:
      return wb_plot_rings_new_lines (lines);
    case WB_PLOT_LIFE:
      return wb_plot_life_new_lines (lines, error);
    case WB_PLOT_MARKS:
      return wb_plot_marks_new_lines (lines);
    default:
      g_return_val_if_reached (NULL);
    }
}

/* A picture goes where the page's own line does not: that unlike candles are compared stands first of what is below it. */
static void
warn (WbChart           *chart,
      const WbCraftPick *picks,
      gsize              n_picks)
{
  g_autoptr (GPtrArray) conditions = wb_craft_beside_list_conditions (picks, n_picks);
  g_autofree char      *warning = wb_craft_beside_dup_warning (conditions, n_picks), *all = NULL;
  const char           *note = wb_chart_get_footnote (chart);

  if (*warning == '\0')
    return;
  all = g_strdup_printf ("%s%s%s", warning, note != NULL && *note != '\0' ? " " : "", note != NULL ? note : "");
  wb_chart_set_footnote (chart, all);
}

WbChart *
wb_plot_beside_new (WbPlotKind           kind,
                    const WbCraftPick   *picks,
                    gsize                n_picks,
                    const WbPlotOptions *options,
                    GError             **error)
{
  g_auto (WbPlotPicks) all = { 0 };
  WbChart             *chart;

  g_return_val_if_fail (wb_plot_kind_takes_picks (kind), NULL);
  g_return_val_if_fail (n_picks == 0 || picks != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  if (n_picks == 0)
    return nothing_new ();
  if (!wb_plot_picks_init (&all, picks, n_picks, options, error))
    return NULL;
  chart = draw_lines (kind, all.lines, error);
  if (chart != NULL)
    warn (chart, picks, n_picks);
  return chart;
}
