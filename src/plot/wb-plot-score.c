/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-score.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

#include "wb-craft-told.h"
#include "wb-plot-figure-private.h"
#include "wb-plot-led-private.h"
#include "wb-plot-ranked-private.h"
#include "wb-plot-words-private.h"

#define MOST_ROWS 16
/* Characters of what is said of how sure it is: more is names. */
#define MOST_SURE 1500
/* A desirability of 0 would cost infinitely much on the scale of the geometric mean: this far down it has cost all that counts. */
#define LEAST 1e-3

/* What each figure costs, in score: rows × n_parts. */
typedef struct
{
  guint      n_parts;
  WbFigure   figures[WB_N_FIGURES];
  double    *costs;
  GPtrArray *names; /* n_parts + 1, the last is what no single figure costs */
} Costs;

static gboolean
is_used (const GArray *rows,
         WbFigure      figure)
{
  for (guint i = 0; i < rows->len; i++)
    {
      const GArray *parts = g_array_index (rows, WbPlotRow, i).ranked->parts;

      for (guint k = 0; parts != NULL && k < parts->len; k++)
        {
          const WbCraftPart *part = &g_array_index (parts, WbCraftPart, k);

          if (part->figure == figure && !part->dropped && part->weight > 0.0 && !isnan (part->desirability))
            return TRUE;
        }
    }
  return FALSE;
}

/*
 * The score is a weighted geometric mean, so a part takes from it in
 * proportion to −w ln d. The expected score of the next candle is below the
 * mean of the expected parts, by the spread between candles and by limits that
 * it may cross: that rest stands by itself.
 */
static void
cost_row (const WbPlotContext *context,
          const WbCraftRanked *ranked,
          const Costs         *costs,
          double              *row)
{
  double taken[WB_N_FIGURES] = { 0 }, weight = 0.0, sum = 0.0, score = wb_plot_context_get_score (context, ranked->cell).value;

  for (guint i = 0; i <= costs->n_parts; i++)
    row[i] = NAN;
  for (guint k = 0; ranked->parts != NULL && k < ranked->parts->len; k++)
    {
      const WbCraftPart *part = &g_array_index (ranked->parts, WbCraftPart, k);

      if (part->dropped || isnan (part->desirability) || !(part->weight > 0.0))
        continue;
      weight += part->weight;
      taken[part->figure] -= part->weight * log (CLAMP (part->desirability, LEAST, 1.0));
    }
  for (guint i = 0; i < WB_N_FIGURES; i++)
    sum += taken[i];
  if (isnan (score) || weight <= 0.0)
    return;

  double by_parts = fmin (1.0 - exp (-sum / weight), 1.0 - score);
  for (guint i = 0; i < costs->n_parts; i++)
    row[i] = sum > 0.0 ? by_parts * taken[costs->figures[i]] / sum : 0.0;
  row[costs->n_parts] = fmax (1.0 - score - by_parts, 0.0);
}

static Costs
costs_new (const WbPlotContext *context,
           const GArray        *rows)
{
  Costs costs = { .names = g_ptr_array_new () };

  for (int figure = 0; figure < WB_N_FIGURES; figure++)
    if (is_used (rows, figure))
      {
        costs.figures[costs.n_parts++] = figure;
        g_ptr_array_add (costs.names, (gpointer) _(wb_figure_get_label (figure)));
      }
  /* Translators: what lowers a score beside its figures */
  g_ptr_array_add (costs.names, (gpointer) _("Spread and limits"));
  costs.costs = g_new (double, rows->len * (costs.n_parts + 1) + 1);
  for (guint i = 0; i < rows->len; i++)
    cost_row (context, g_array_index (rows, WbPlotRow, i).ranked, &costs, costs.costs + i * (costs.n_parts + 1));
  return costs;
}

static void
costs_clear (Costs *costs)
{
  g_free (costs->costs);
  g_ptr_array_unref (costs->names);
}

/* The verdict, what it rests on, and its first reason. */
static char *
dup_note (const WbCraftRanked *ranked)
{
  g_autofree char     *counts = wb_plot_dup_counts (ranked->samples, ranked->burns, G_MAXUINT);
  const WbCraftReason *reason = ranked->reasons != NULL && ranked->reasons->len > 0 ? g_ptr_array_index (ranked->reasons, 0) : NULL;

  if (reason == NULL)
    return g_strdup_printf ("%s, %s.", wb_craft_ranked_get_verdict_label (ranked), counts);

  g_autofree char *why = wb_plot_dup_clipped (reason->text, 160);

  return g_strdup_printf ("%s, %s. %s", wb_craft_ranked_get_verdict_label (ranked), counts, why);
}

/* Where the rows' names are long the verdict stands beside the interval, where there is more room. */
static void
add_verdict (WbChartPanel        *panel,
             const WbCraftRanked *ranked,
             WbCraftInterval      score,
             double               place)
{
  double low = isnan (score.low) ? score.value : score.low;
  double high = isnan (score.high) ? score.value : score.high;

  wb_chart_layer_add_text (panel, 1.0 - high > low ? high : low, place, wb_craft_ranked_get_verdict_label (ranked));
}

/* One group, whose rows are called by their wick alone: there is room for the verdict beside it. */
static gboolean
has_short_names (const GArray *rows)
{
  g_autoptr (GArray) groups = wb_plot_ranked_find_groups (rows);

  return groups->len == 1;
}

static char *
dup_row_name (const WbPlotContext *context,
              const GArray        *rows,
              guint                index)
{
  g_autofree char *name = wb_plot_ranked_dup_label (context, rows, index);

  if (!has_short_names (rows))
    return g_steal_pointer (&name);
  /* Translators: a wick; its verdict */
  return g_strdup_printf (_("%s, %s"), name,
                          wb_craft_ranked_get_verdict_label (g_array_index (rows, WbPlotRow, index).ranked));
}

static void
set_rows (const WbPlotContext *context,
          WbChartPanel        *panel,
          const GArray        *rows)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  wb_plot_ranked_set_rows (context, panel, rows);
  for (guint i = 0; i < rows->len; i++)
    g_ptr_array_add (names, dup_row_name (context, rows, i));
  g_ptr_array_add (names, NULL);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), (const char *const *) names->pdata);
}

static void
add_scores (const WbPlotContext *context,
            WbChartPanel        *panel,
            const GArray        *rows)
{
  WbChartAxis *x = wb_chart_panel_get_x (panel);
  gboolean     named = has_short_names (rows);

  set_rows (context, panel, rows);
  wb_chart_axis_set_label (x, _("Score"));
  wb_chart_axis_set_range (x, 0.0, 1.0);
  for (guint i = 0; i < rows->len; i++)
    {
      const WbCraftRanked *ranked = g_array_index (rows, WbPlotRow, i).ranked;
      g_autofree char     *name = dup_row_name (context, rows, i);
      g_autofree char     *note = dup_note (ranked);
      const char          *notes[] = { note };
      WbCraftInterval      score = wb_plot_context_get_score (context, ranked->cell);
      double               place = i;
      gint64               tag;

      if (isnan (score.value))
        {
          if (!named)
            wb_chart_layer_add_text (panel, 0.0, place, wb_craft_ranked_get_verdict_label (ranked));
          continue;
        }

      WbChartLayer *layer = wb_chart_layer_add_points (panel, name, wb_plot_get_series (context->data, ranked->cell), 1, &score.value,
                                                       &place, WB_CHART_X, &score.low, &score.high);
      wb_chart_layer_set_notes (layer, 1, notes);
      tag = wb_plot_get_cell_tag (context->data, ranked->cell);
      wb_chart_layer_set_tags (layer, 1, &tag);
      if (!named)
        add_verdict (panel, ranked, score, place);
    }
}

static void
add_costs (const WbPlotContext *context,
           WbChartPanel        *panel,
           const GArray        *rows)
{
  Costs        costs = costs_new (context, rows);
  WbChartAxis *x = wb_chart_panel_get_x (panel);

  set_rows (context, panel, rows);
  wb_chart_axis_set_label (x, _("Score lost"));
  wb_chart_axis_set_range (x, 0.0, 1.0);
  wb_plot_ranked_tag (context, wb_chart_layer_add_bars (panel, WB_CHART_PARTS_REST, rows->len, costs.n_parts + 1, (const char *const *) costs.names->pdata,
                                                        costs.costs, NULL),
                      rows, costs.n_parts + 1);
  wb_chart_panel_set_empty_text (panel, _("No parts yet"));
  costs_clear (&costs);
}

static char *
dup_verdict (const WbCraftRanked *ranked,
             const char          *name,
             const char          *score)
{
  switch (ranked->verdict)
    {
    case WB_CRAFT_VERDICT_RECOMMENDED:
      if (wb_craft_ranked_get_told (ranked) == WB_CRAFT_TOLD_BEST_OF_POOR)
        /* Translators: wick; score with interval */
        return g_strdup_printf (_("%s is the best of a poor field with a score of %s"), name, score);
      /* Translators: wick; score with interval */
      return g_strdup_printf (_("%s is recommended with a score of %s"), name, score);
    case WB_CRAFT_VERDICT_REJECTED:
      /* Translators: wick; why it may not be chosen, "crossed a limit"; score with interval */
      return g_strdup_printf (_("even %s, the first in rank, is out (%s) with a score of %s"), name, wb_craft_ranked_get_verdict_label (ranked), score);
    case WB_CRAFT_VERDICT_TOO_LITTLE_DATA:
      return g_strdup_printf (_("%s comes first with %s, on too little data"), name, score);
    case WB_CRAFT_VERDICT_CANDIDATE:
    default:
      return g_strdup_printf (_("%s leads with a score of %s"), name, score);
    }
}

/*
 * What one of the group's further rows adds to the finding: one that crossed a limit (`crosses`), which stands before all else,
 * as the end of a title that is cut goes; else the second in rank; NULL nothing.
 */
static char *
dup_contrast (const WbPlotContext *context,
              const GArray        *rows,
              guint                first,
              gboolean            *crosses)
{
  const WbCraftGroup *group = g_array_index (rows, WbPlotRow, first).group;
  guint               end = first + 1;

  for (; end < rows->len && g_array_index (rows, WbPlotRow, end).group == group; end++)
    {
      const WbCraftLimit *crossed = wb_plot_get_crossed (context, g_array_index (rows, WbPlotRow, end).ranked->cell);

      *crosses = crossed != NULL;
      if (crossed != NULL)
        return wb_plot_dup_crossing (context, crossed, NULL);
    }
  *crosses = FALSE;
  if (end == first + 1 || isnan (wb_plot_context_get_score (context, g_array_index (rows, WbPlotRow, first + 1).ranked->cell).value))
    return NULL;

  const WbPlotRow *row = &g_array_index (rows, WbPlotRow, first + 1);
  g_autofree char *name = wb_plot_ranked_dup_name (context, row);
  g_autofree char *score = wb_plot_dup_figure (context, WB_FIGURE_SCORE, wb_plot_context_get_score (context, row->ranked->cell).value);

  if (row->ranked->verdict == WB_CRAFT_VERDICT_REJECTED)
    /* Translators: wick; score; verdict, as "not the best" */
    return g_strdup_printf (_("%s, the next, has %s: %s"), name, score, wb_craft_told_get_label (wb_craft_ranked_get_told (row->ranked)));
  /* Translators: wick; score */
  return g_strdup_printf (_("%s follows with %s"), name, score);
}

static char *
say_group (const WbPlotContext *context,
           const GArray        *rows,
           guint                first)
{
  const WbPlotRow *leader = &g_array_index (rows, WbPlotRow, first);
  g_autofree char *name = wb_plot_ranked_dup_name (context, leader);
  WbCraftInterval  found = wb_plot_context_get_score (context, leader->ranked->cell);

  if (isnan (found.value))
    return g_strdup (_("too little data for a score"));

  g_autofree char *score = wb_plot_dup_interval (context, WB_FIGURE_SCORE, found);
  g_autofree char *clause = dup_verdict (leader->ranked, name, score);
  gboolean         crosses;
  g_autofree char *contrast = dup_contrast (context, rows, first, &crosses);

  if (contrast == NULL)
    return g_steal_pointer (&clause);
  return g_strdup_printf (_("%s; %s"), crosses ? contrast : clause, crosses ? clause : contrast);
}

static gboolean
lead_group (const WbPlotContext *context,
            const GArray        *rows,
            guint                first,
            guint               *leader,
            int                 *state,
            double              *value)
{
  const WbCraftRanked *ranked = g_array_index (rows, WbPlotRow, first).ranked;

  *leader = first;
  *state = (int) wb_craft_ranked_get_told (ranked);
  *value = wb_plot_context_get_score (context, ranked->cell).value;
  return !isnan (*value);
}

static char *
say_score (double low,
           double high)
{
  g_autofree char *from = wb_number_format (low, 2, NULL), *to = wb_number_format (high, 2, NULL);

  return wb_plot_dup_range (from, to);
}

static char *
say_lead (int    state,
          double low,
          double high)
{
  g_autofree char *score = say_score (low, high);

  /* Translators: a verdict, "recommended"; a score or a range of them */
  return g_strdup_printf (_("%s, %s"), wb_craft_told_get_label ((WbCraftTold) state), score);
}

static char *
say_recommended (int    state,
                 double low,
                 double high)
{
  return say_score (low, high);
}

/* Whether all groups end alike, so that the title says it once. */
static gboolean
all_recommended (const GArray *rows)
{
  g_autoptr (GArray) groups = wb_plot_ranked_find_groups (rows);

  for (guint i = 0; i < groups->len; i++)
    if (wb_craft_ranked_get_told (g_array_index (rows, WbPlotRow, g_array_index (groups, guint, i)).ranked) != WB_CRAFT_TOLD_RECOMMENDED)
      return FALSE;
  return TRUE;
}

static char *
dup_title (const WbPlotContext *context,
           const GArray        *rows)
{
  gboolean all = all_recommended (rows);

  return wb_plot_ranked_dup_title (context, rows, say_group, all ? _("Recommended by score") : _("First by score"), lead_group,
                                   all ? say_recommended : say_lead);
}

static char *
dup_description (const WbPlotContext *context,
                 const GArray        *rows,
                 const char          *title)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const WbCraftGroup *group = NULL;

  g_string_append_printf (text, "%s. %s", title, /* xgettext:no-c-format */ _("Score of each combination with its 90 % interval, best first, and what each figure takes from a full score."));
  for (guint i = 0; i < rows->len; i++)
    {
      const WbPlotRow *row = &g_array_index (rows, WbPlotRow, i);
      g_autofree char *name = wb_plot_dup_cell_name (context, row->ranked->cell);
      g_autofree char *score = wb_plot_dup_interval (context, WB_FIGURE_SCORE, wb_plot_context_get_score (context, row->ranked->cell));
      g_autofree char *note = dup_note (row->ranked);

      if (row->group != group)
        {
          g_autofree char *all = wb_craft_group_dup_sureness (context->data, row->group);
          g_autofree char *sure = wb_plot_dup_clipped (all, MOST_SURE);

          g_string_append_printf (text, " %s", sure);
        }
      group = row->group;
      g_string_append_printf (text, " %u. %s: %s, %s", row->ranked->rank, name, *score != '\0' ? score : _("no score"), note);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

WbChart *
wb_plot_score_new (const WbCraftAnswer *answer,
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

  wb_chart_set_share (chart, WB_CHART_SHARE_Y);
  if (rows->len == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to rank yet"));
  else
    {
      add_scores (&context, wb_chart_add_panel (chart, 0, 0, /* xgettext:no-c-format */ _("Score, 90 % interval")), rows);
      add_costs (&context, wb_chart_add_panel (chart, 0, 1, _("What keeps it from 1")), rows);
    }
  for (guint i = 0; i < rows->len; i++)
    {
      samples += g_array_index (rows, WbPlotRow, i).ranked->samples;
      burns += g_array_index (rows, WbPlotRow, i).ranked->burns;
    }

  g_autofree char *n = wb_plot_dup_counts (samples, burns, G_MAXUINT);
  g_autofree char *counts = g_strdup_printf ("%s.", n);
  g_autofree char *seed = g_strdup_printf (_("%u draws, seed %" PRIu64 "."), answer->ranking->draws, answer->ranking->seed);
  g_autofree char *some = left_out == 0 ? g_strdup ("") : g_strdup_printf (_("%u more are not shown."), left_out);
  wb_plot_set_footnote (&context, chart, counts, seed, some, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  return chart;
}
