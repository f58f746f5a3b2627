/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-ranks.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

#include "wb-craft-told.h"
#include "wb-plot-led-private.h"
#include "wb-plot-ranked-private.h"
#include "wb-plot-words-private.h"

#define MOST_ROWS 16
/* Ranks from here on share one part: shades of one hue can no longer be told apart. */
#define MOST_PARTS 6
/* A best chance below this decides nothing. */
#define OPEN_BELOW 0.6

static guint
count_ranks (const GArray *rows)
{
  guint most = 1;

  for (guint i = 0; i < rows->len; i++)
    most = MAX (most, g_array_index (rows, WbPlotRow, i).group->n_cells);
  return most;
}

static void
add_bars (const WbPlotContext *context,
          WbChartPanel        *panel,
          const GArray        *rows)
{
  guint                 n_ranks = count_ranks (rows), n_parts = MIN (n_ranks, MOST_PARTS);
  g_autofree double    *values = g_new0 (double, rows->len * n_parts);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  WbChartAxis          *x = wb_chart_panel_get_x (panel);

  for (guint i = 0; i < n_parts; i++)
    if (i + 1 == n_parts && n_ranks > n_parts)
      /* Translators: a rank and all after it */
      g_ptr_array_add (names, g_strdup_printf (_("rank %u or later"), i + 1));
    else
      g_ptr_array_add (names, g_strdup_printf (_("rank %u"), i + 1));
  for (guint i = 0; i < rows->len; i++)
    {
      const WbPlotRow *row = &g_array_index (rows, WbPlotRow, i);

      for (guint k = 0; row->ranked->p_rank != NULL && k < row->group->n_cells; k++)
        if (!isnan (row->ranked->p_rank[k]))
          values[i * n_parts + MIN (k, n_parts - 1)] += row->ranked->p_rank[k];
    }

  wb_plot_ranked_set_rows (context, panel, rows);
  wb_chart_axis_set_label (x, _("Chance of each rank"));
  wb_chart_axis_set_chance (x, TRUE);
  wb_chart_axis_set_range (x, 0.0, 1.0);
  wb_plot_ranked_tag (context, wb_chart_layer_add_bars (panel, WB_CHART_PARTS_ORDERED, rows->len, n_parts, (const char *const *) names->pdata, values, NULL),
                      rows, n_parts);
}

static gboolean
is_rejected (const WbPlotRow *row)
{
  return row->ranked->verdict == WB_CRAFT_VERDICT_REJECTED;
}

/* Whether a row comes before another: one that may be chosen before a rejected one, then by the chance of being best. */
static gboolean
comes_before (const WbPlotRow *row,
              const WbPlotRow *other)
{
  if (is_rejected (row) != is_rejected (other))
    return is_rejected (other);
  return row->ranked->p_best > other->ranked->p_best;
}

/* The row of a group that is most likely the best, leaving out `but`; NULL where no other was burnt. */
static const WbPlotRow *
find_best (const GArray       *rows,
           const WbCraftGroup *group,
           const WbPlotRow    *but)
{
  const WbPlotRow *best = NULL;

  for (guint i = 0; i < rows->len; i++)
    {
      const WbPlotRow *row = &g_array_index (rows, WbPlotRow, i);

      if (row != but && row->group == group && !isnan (row->ranked->p_best)
          && (best == NULL || comes_before (row, best)))
        best = row;
    }
  return best;
}

static char *
say_group (const WbPlotContext *context,
           const GArray        *rows,
           guint                first)
{
  const WbCraftGroup *group = g_array_index (rows, WbPlotRow, first).group;
  const WbPlotRow    *best = find_best (rows, group, NULL), *second = find_best (rows, group, best);

  if (best == NULL)
    return g_strdup (_("no burn counts yet, so nothing is ranked"));

  g_autofree char    *name = wb_plot_ranked_dup_name (context, best);
  g_autofree char    *chance = wb_plot_dup_chance (best->ranked->p_best);

  if (is_rejected (best))
    /* Translators: a wick's name; a chance */
    return g_strdup_printf (_("all that was burnt is out, even %s, which has a chance of %s of being the best of them"), name, chance);
  if (second == NULL)
    return g_strdup_printf (_("%s stands alone, with nothing to rank it against"), name);

  if (is_rejected (second))
    /* Translators: a wick's name; a chance */
    return g_strdup_printf (_("%s is best with a chance of %s; the others that were burnt are out"), name, chance);

  g_autofree char *other = wb_plot_ranked_dup_name (context, second);
  g_autofree char *its = wb_plot_dup_chance (second->ranked->p_best);

  if (!(best->ranked->p_best >= OPEN_BELOW))
    /* Translators: wick, chance, wick, chance */
    return g_strdup_printf (_("open between %s (best with a chance of %s) and %s (%s)"), name, chance, other, its);
  if (!(second->ranked->p_best > 0.0))
    /* Translators: wick, chance */
    return g_strdup_printf (_("%s is best with a chance of %s"), name, chance);
  return g_strdup_printf (_("%s is best with a chance of %s, %s with %s"), name, chance, other, its);
}

/* How surely a group's first one is the best, if it may be chosen at all. */
enum { LEAD_OPEN, LEAD_CLEAR, LEAD_OUT /* and on: by what the verdict is told as */ };

static gboolean
lead_group (const WbPlotContext *context,
            const GArray        *rows,
            guint                first,
            guint               *leader,
            int                 *state,
            double              *value)
{
  const WbPlotRow *best = find_best (rows, g_array_index (rows, WbPlotRow, first).group, NULL);

  if (best == NULL)
    return FALSE;
  *leader = (guint) (best - &g_array_index (rows, WbPlotRow, 0));
  *value = best->ranked->p_best;
  *state = is_rejected (best) ? LEAD_OUT + (int) wb_craft_ranked_get_told (best->ranked) : *value >= OPEN_BELOW ? LEAD_CLEAR : LEAD_OPEN;
  return TRUE;
}

static char *
say_lead (int    state,
          double low,
          double high)
{
  g_autofree char *from = wb_plot_dup_chance (low), *to = wb_plot_dup_chance (high);
  g_autofree char *chance = wb_plot_dup_range (from, to);

  if (state >= LEAD_OUT)
    return g_strdup (wb_craft_told_get_label ((WbCraftTold) (state - LEAD_OUT)));
  /* Translators: a chance */
  return state == LEAD_CLEAR ? g_steal_pointer (&chance) : g_strdup_printf (_("open, %s"), chance);
}

static char *
dup_title (const WbPlotContext *context,
           const GArray        *rows)
{
  return wb_plot_ranked_dup_title (context, rows, say_group, _("Most likely the best"), lead_group, say_lead);
}

static char *
dup_description (const WbPlotContext *context,
                 const GArray        *rows,
                 const char          *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, _("For each combination the chance of each rank, stacked from the first; best first."));
  for (guint i = 0; i < rows->len; i++)
    {
      const WbPlotRow *row = &g_array_index (rows, WbPlotRow, i);
      g_autofree char *name = wb_plot_dup_cell_name (context, row->ranked->cell);
      g_autofree char *best = wb_plot_dup_chance (row->ranked->p_best);
      g_autofree char *near = wb_plot_dup_chance (row->ranked->p_near);
      g_autofree char *counts = wb_plot_dup_counts (row->ranked->samples, row->ranked->burns, G_MAXUINT);

      /* Translators: combination; chance of being best; chance of being nearly as good; counts */
      g_string_append_printf (text, _(" %s: best %s, as good as the best %s, %s."), name, best, near, counts);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* The largest chance that no combination of a group would do; a sentence, or "". */
static char *
dup_none (const GArray *rows)
{
  double none = 0.0;

  for (guint i = 0; i < rows->len; i++)
    none = fmax (none, g_array_index (rows, WbPlotRow, i).group->p_none);
  if (none < 0.005)
    return g_strdup ("");

  g_autofree char *chance = wb_plot_dup_chance (none);

  /* Translators: a chance */
  return g_strdup_printf (_("In up to %s of the draws none would do: none is best there, and ties share their ranks."), chance);
}

WbChart *
wb_plot_ranks_new (const WbCraftAnswer *answer,
                   const WbPlotOptions *options,
                   GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };
  guint                  left_out, samples = 0, burns = 0;

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  g_autoptr (GArray) rows = wb_plot_ranked_rows (&context, MOST_ROWS, &left_out);
  g_autofree char   *title = dup_title (&context, rows);
  g_autofree char   *description = dup_description (&context, rows, title);
  WbChart           *chart = wb_chart_new (title, description);
  WbChartPanel      *panel = wb_chart_add_panel (chart, 0, 0, NULL);

  if (rows->len > 0)
    add_bars (&context, panel, rows);
  wb_chart_panel_set_empty_text (panel, _("No combination to rank yet"));

  for (guint i = 0; i < rows->len; i++)
    {
      samples += g_array_index (rows, WbPlotRow, i).ranked->samples;
      burns += g_array_index (rows, WbPlotRow, i).ranked->burns;
    }

  g_autofree char *n = wb_plot_dup_counts (samples, burns, G_MAXUINT);
  g_autofree char *counts = g_strdup_printf ("%s.", n);
  g_autofree char *seed = g_strdup_printf (_("%u draws, seed %" PRIu64 ". Chances compare recipes, not single candles."),
                                           answer->ranking->draws, answer->ranking->seed);
  g_autofree char *some = left_out == 0 ? g_strdup ("") : g_strdup_printf (_("%u more are not shown."), left_out);
  g_autofree char *none = dup_none (rows);
  wb_plot_set_footnote (&context, chart, counts, seed, none, some, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  return chart;
}
