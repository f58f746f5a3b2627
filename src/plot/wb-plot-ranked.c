/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-ranked-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-words-private.h"

static guint
count_shown (const WbPlotContext *context,
             const WbCraftGroup  *group)
{
  guint n = 0;

  for (guint i = 0; i < group->n_cells; i++)
    n += wb_plot_context_shows (context, group->cells[i].cell);
  return n;
}

GArray *
wb_plot_ranked_rows (const WbPlotContext *context,
                     guint                most,
                     guint               *left_out)
{
  const WbCraftRanking *ranking = context->answer->ranking;
  GArray               *rows = g_array_new (FALSE, FALSE, sizeof (WbPlotRow));
  guint                 n_groups = 0;

  *left_out = 0;
  for (guint i = 0; i < ranking->n_groups; i++)
    n_groups += count_shown (context, &ranking->groups[i]) > 0;

  for (guint i = 0, done = 0; i < ranking->n_groups; i++)
    {
      const WbCraftGroup *group = &ranking->groups[i];
      guint               taken = 0;

      if (count_shown (context, group) == 0)
        continue;

      /* What earlier groups left unused is shared among the rest. */
      guint share = rows->len < most ? MAX ((most - rows->len) / (n_groups - done), 1) : 0;
      for (guint k = 0; k < group->n_cells; k++)
        {
          WbPlotRow row = { group, &group->cells[k] };

          if (!wb_plot_context_shows (context, row.ranked->cell))
            continue;
          if (taken < share)
            {
              g_array_append_val (rows, row);
              taken++;
            }
          else
            (*left_out)++;
        }
      done++;
    }
  return rows;
}

static gboolean
has_several_groups (const GArray *rows)
{
  return rows->len > 0 && g_array_index (rows, WbPlotRow, 0).group != g_array_index (rows, WbPlotRow, rows->len - 1).group;
}

char *
wb_plot_ranked_dup_name (const WbPlotContext *context,
                         const WbPlotRow     *row)
{
  gboolean mixed = FALSE;

  for (guint i = 1; i < row->group->n_cells; i++)
    mixed |= context->family[row->group->cells[i].cell] != context->family[row->group->cells[0].cell];

  return mixed ? wb_plot_dup_cell_name (context, row->ranked->cell) : wb_plot_dup_wick_name (context, row->ranked->cell);
}

char *
wb_plot_ranked_dup_group (const WbPlotContext *context,
                          const GArray        *rows)
{
  if (!has_several_groups (rows))
    return g_strdup ("");

  const WbCraftGroup *group = g_array_index (rows, WbPlotRow, 0).group;
  g_autofree char    *whole = wb_craft_group_dup_title (context->data, group);

  return wb_plot_dup_clipped (whole, 48);
}

void
wb_plot_ranked_set_rows (const WbPlotContext *context,
                         WbChartPanel        *panel,
                         const GArray        *rows,
                         gboolean             verdicts)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  gboolean              several = has_several_groups (rows);

  for (guint i = 0; i < rows->len; i++)
    {
      const WbPlotRow *row = &g_array_index (rows, WbPlotRow, i);
      g_autofree char *name = several ? wb_plot_dup_cell_name (context, row->ranked->cell) : wb_plot_ranked_dup_name (context, row);

      g_ptr_array_add (names, verdicts ? g_strdup_printf ("%s, %s", name, wb_craft_verdict_get_label (row->ranked->verdict)) : g_steal_pointer (&name));
      if (i > 0 && row->group != g_array_index (rows, WbPlotRow, i - 1).group)
        wb_chart_layer_add_rule (panel, NULL, WB_CHART_RULE_REFERENCE, WB_CHART_Y, i - 0.5);
    }
  g_ptr_array_add (names, NULL);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), (const char *const *) names->pdata);
}
