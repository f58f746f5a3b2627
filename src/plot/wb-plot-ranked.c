/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-ranked-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-led-private.h"
#include "wb-plot-words-private.h"

/* Of several leaders, so many are named in the title; all are in the description. */
#define MOST_TOLD 3

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

GArray *
wb_plot_ranked_find_groups (const GArray *rows)
{
  GArray *groups = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < rows->len; i++)
    if (i == 0 || g_array_index (rows, WbPlotRow, i).group != g_array_index (rows, WbPlotRow, i - 1).group)
      g_array_append_val (groups, i);
  return groups;
}

static gboolean
is_one_family (const WbPlotContext *context,
               const WbCraftGroup  *group)
{
  for (guint i = 1; i < group->n_cells; i++)
    if (context->family[group->cells[i].cell] != context->family[group->cells[0].cell])
      return FALSE;
  return TRUE;
}

void
wb_plot_ranked_tag (const WbPlotContext *context,
                    WbChartLayer        *bars,
                    const GArray        *rows,
                    gsize                n_parts)
{
  gsize              n = rows->len * n_parts;
  g_autofree gint64 *tags = g_new0 (gint64, n + 1);

  for (gsize i = 0; i < n; i++)
    tags[i] = wb_plot_get_cell_tag (context->data, g_array_index (rows, WbPlotRow, i / n_parts).ranked->cell);
  wb_chart_layer_set_tags (bars, n, tags);
}

char *
wb_plot_ranked_dup_name (const WbPlotContext *context,
                         const WbPlotRow     *row)
{
  return is_one_family (context, row->group) ? wb_plot_dup_wick_name (context, row->ranked->cell)
                                             : wb_plot_dup_cell_name (context, row->ranked->cell);
}

char *
wb_plot_ranked_dup_label (const WbPlotContext *context,
                          const GArray        *rows,
                          guint                index)
{
  g_autoptr (GArray) groups = wb_plot_ranked_find_groups (rows);
  const WbPlotRow   *row = &g_array_index (rows, WbPlotRow, index);

  return groups->len > 1 ? wb_plot_dup_cell_name (context, row->ranked->cell) : wb_plot_ranked_dup_name (context, row);
}

/* The groups' leaders, put together where scents of a vessel have the same one: WbPlotLed. */
static GArray *
find_leaders (const WbPlotContext *context,
              const GArray        *rows,
              const GArray        *groups,
              WbPlotLeadGroup      lead)
{
  g_autoptr (GArray) leaders = g_array_new (FALSE, TRUE, sizeof (WbPlotLed));

  for (guint i = 0; i < groups->len; i++)
    {
      guint     leader;
      WbPlotLed one = { 0 };

      if (!lead (context, rows, g_array_index (groups, guint, i), &leader, &one.state, &one.value))
        continue;
      one.cell = g_array_index (rows, WbPlotRow, leader).ranked->cell;
      one.family = context->family[one.cell];
      g_array_append_val (leaders, one);
    }
  return wb_plot_led_merge (context, leaders);
}

static char *
dup_groups_title (const WbPlotContext *context,
                  const GArray        *rows,
                  const GArray        *groups,
                  const char          *first,
                  WbPlotLeadGroup      lead,
                  WbPlotSayLead        say)
{
  g_autoptr (GArray)  leaders = find_leaders (context, rows, groups, lead);
  g_autoptr (GString) title = g_string_new (NULL);

  if (leaders->len == 0)
    return g_strdup (_("No burn counts yet, so nothing is ranked"));
  for (guint i = 0; i < leaders->len && i < MOST_TOLD; i++)
    {
      const WbPlotLed *one = &g_array_index (leaders, WbPlotLed, i);
      g_autofree char *wick = wb_plot_dup_wick_name (context, one->cell);
      g_autofree char *told = say (one->state, one->low, one->high);

      g_string_append (title, i > 0 ? "; " : "");
      /* Translators: a wick; vessel, scent or both; its value */
      g_string_append_printf (title, _("%s for %s (%s)"), wick, one->where, told);
    }
  if (leaders->len > MOST_TOLD)
    {
      g_string_append (title, "; ");
      g_string_append_printf (title, g_dngettext (GETTEXT_PACKAGE, "%u more below", "%u more below", leaders->len - MOST_TOLD),
                              leaders->len - MOST_TOLD);
    }
  /* Translators: "Recommended"; a list of wicks */
  return g_strdup_printf (_("%s: %s"), first, title->str);
}

char *
wb_plot_ranked_dup_title (const WbPlotContext *context,
                          const GArray        *rows,
                          WbPlotSayGroup       say,
                          const char          *first,
                          WbPlotLeadGroup      lead,
                          WbPlotSayLead        say_lead)
{
  g_autoptr (GArray) groups = wb_plot_ranked_find_groups (rows);
  g_autofree char   *title = NULL;

  if (rows->len == 0)
    return g_strdup (_("No combination to rank yet"));
  if (groups->len > 1)
    return dup_groups_title (context, rows, groups, first, lead, say_lead);
  title = say (context, rows, 0);
  return wb_plot_dup_sentence (title);
}

void
wb_plot_ranked_set_rows (const WbPlotContext *context,
                         WbChartPanel        *panel,
                         const GArray        *rows)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray)    groups = wb_plot_ranked_find_groups (rows);

  for (guint i = 0; i < rows->len; i++)
    g_ptr_array_add (names, wb_plot_ranked_dup_label (context, rows, i));
  g_ptr_array_add (names, NULL);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), (const char *const *) names->pdata);
  for (guint i = 1; i < groups->len; i++)
    wb_chart_layer_add_rule (panel, NULL, WB_CHART_RULE_REFERENCE, WB_CHART_Y, g_array_index (groups, guint, i) - 0.5);
}
