/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-loss.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>

#include "wb-craft-told.h"
#include "wb-plot-ranked-private.h"
#include "wb-plot-words-private.h"

/* Share of the axis that a marker takes to its right: a value whose bar ends within it is written behind the marker all the same. */
#define BESIDE 0.02
/* A loss that is told as 0.00. */
#define NOTHING 0.005

/* Where all that was burnt is rejected each scores nothing, and so does none against another. */
static gboolean
all_rejected (const WbCraftGroup *group)
{
  guint burnt = 0;

  for (guint i = 0; i < group->n_cells; i++)
    if (isfinite (group->cells[i].expected_loss))
      {
        if (group->cells[i].verdict != WB_CRAFT_VERDICT_REJECTED)
          return FALSE;
        burnt++;
      }
  return burnt > 0;
}

/* Whether a loss of that row tells anything. */
static gboolean
has_loss (const WbPlotRow *row)
{
  return isfinite (row->ranked->expected_loss) && !all_rejected (row->group);
}

static char *
dup_loss (double loss)
{
  if (isnan (loss))
    return g_strdup ("");
  return loss < NOTHING && loss > 0.0 ? g_strdup (_("under 0.01")) : wb_number_format (loss, 2, NULL);
}

/* "0.02, at worst 0.08": on average, and what is passed in one case of twenty. */
static char *
dup_told (const WbCraftRanked *ranked)
{
  g_autofree char *mean = dup_loss (ranked->expected_loss), *high = dup_loss (ranked->loss_high);

  if (isnan (ranked->loss_high) || ranked->loss_high < NOTHING)
    return g_steal_pointer (&mean);
  /* Translators: score given away on average; what is passed in one case of twenty only */
  return g_strdup_printf (_("%s, in one of 20 over %s"), mean, high);
}

/* "0.02 (0.08)": the same as the panel's title explains it. */
static char *
dup_short (const WbCraftRanked *ranked)
{
  g_autofree char *mean = dup_loss (ranked->expected_loss), *high = dup_loss (ranked->loss_high);

  return isnan (ranked->loss_high) || ranked->loss_high < NOTHING ? g_steal_pointer (&mean) : g_strdup_printf ("%s (%s)", mean, high);
}

static char *
dup_note (const WbCraftRanked *ranked)
{
  g_autofree char *counts = wb_plot_dup_counts (ranked->samples, ranked->burns, G_MAXUINT);
  g_autofree char *told = dup_told (ranked);

  return g_strdup_printf ("%s, %s", told, counts);
}

/* End of the axis: it holds the largest loss, and is never so short that a small one looks large. */
static double
find_reach (const GArray *rows)
{
  double most = 0.1;

  for (guint i = 0; i < rows->len; i++)
    {
      const WbCraftRanked *ranked = g_array_index (rows, WbPlotRow, i).ranked;

      if (has_loss (&g_array_index (rows, WbPlotRow, i)))
        most = fmax (most, fmax (ranked->expected_loss, ranked->loss_high));
    }
  return fmin (most * 1.1, fmax (most, 1.0));
}

static void
add_losses (const WbPlotContext *context,
            WbChartPanel        *panel,
            const GArray        *rows)
{
  WbChartAxis *x = wb_chart_panel_get_x (panel);
  gboolean     burnt = FALSE, any = FALSE;

  wb_plot_ranked_set_rows (context, panel, rows);
  wb_chart_axis_set_label (x, _("Score given away"));
  wb_chart_axis_set_range (x, 0.0, find_reach (rows));
  for (guint i = 0; i < rows->len; i++)
    any |= has_loss (&g_array_index (rows, WbPlotRow, i));
  for (guint i = 0; i < rows->len; i++)
    {
      const WbCraftRanked *ranked = g_array_index (rows, WbPlotRow, i).ranked;
      double               place = i, value = ranked->expected_loss, low = NAN, high = fmax (ranked->loss_high, value);

      burnt |= isfinite (value);
      if (!has_loss (&g_array_index (rows, WbPlotRow, i)))
        {
          /* a panel without any loss says so itself */
          if (any && isfinite (value))
            wb_chart_layer_add_text (panel, 0.0, place, wb_craft_ranked_get_verdict_label (ranked));
          continue;
        }

      g_autofree char *name = wb_plot_ranked_dup_label (context, rows, i);
      g_autofree char *note = dup_note (ranked);
      g_autofree char *told = dup_short (ranked);
      const char      *notes[] = { note };
      WbChartLayer    *layer = wb_chart_layer_add_points (panel, name, wb_plot_get_series (context->data, ranked->cell), 1, &value,
                                                          &place, WB_CHART_X, &low, &high);

      gint64           tag = wb_plot_get_cell_tag (context->data, ranked->cell);

      wb_chart_layer_set_notes (layer, 1, notes);
      wb_chart_layer_set_tags (layer, 1, &tag);
      /* before the marker where there is more room than behind the bar */
      wb_chart_layer_add_text (panel, find_reach (rows) - fmax (high, value) > value ? fmax (high, value + BESIDE * find_reach (rows)) : 0.0, place, told);
    }
  wb_chart_panel_set_empty_text (panel, burnt ? _("No loss: all that was burnt is out") : _("No burn counts yet"));
}

static void
add_chances (const WbPlotContext *context,
             WbChartPanel        *panel,
             const GArray        *rows)
{
  const char *const  names[] = { _("the best"), _("within 0.05 of the best"), _("farther off") };
  g_autofree double *values = g_new (double, rows->len * G_N_ELEMENTS (names) + 1);
  WbChartAxis       *x = wb_chart_panel_get_x (panel);

  for (guint i = 0; i < rows->len; i++)
    {
      const WbCraftRanked *ranked = g_array_index (rows, WbPlotRow, i).ranked;
      gboolean             known = isfinite (ranked->p_best) && isfinite (ranked->p_near);
      double               best = known ? CLAMP (ranked->p_best, 0.0, 1.0) : NAN;
      double               near = known ? CLAMP (ranked->p_near, best, 1.0) : NAN;

      values[i * 3] = best;
      values[i * 3 + 1] = near - best;
      values[i * 3 + 2] = 1.0 - near;
    }
  wb_plot_ranked_set_rows (context, panel, rows);
  wb_chart_axis_set_label (x, _("Chance"));
  wb_chart_axis_set_chance (x, TRUE);
  wb_chart_axis_set_range (x, 0.0, 1.0);
  wb_plot_ranked_tag (context, wb_chart_layer_add_bars (panel, WB_CHART_PARTS_ORDERED, rows->len, G_N_ELEMENTS (names), names, values, NULL), rows,
                      G_N_ELEMENTS (names));
  wb_chart_panel_set_empty_text (panel, _("No burn counts yet"));
}

static gboolean
is_rejected (const WbCraftRanked *ranked)
{
  return ranked->verdict == WB_CRAFT_VERDICT_REJECTED;
}

/* The row of the group that would be chosen next after the leader, if it may be chosen at all; NULL where there is none. */
static const WbPlotRow *
find_next (const GArray *rows,
           guint         first)
{
  const WbPlotRow *leader = &g_array_index (rows, WbPlotRow, first), *next = NULL;

  for (guint i = first + 1; i < rows->len && g_array_index (rows, WbPlotRow, i).group == leader->group; i++)
    {
      const WbPlotRow *row = &g_array_index (rows, WbPlotRow, i);

      if (isfinite (row->ranked->expected_loss) && !is_rejected (row->ranked)
          && (next == NULL || row->ranked->expected_loss < next->ranked->expected_loss))
        next = row;
    }
  return next;
}

/* Against itself nothing is lost: a loss tells something only where another of the group was burnt too, shown or not. */
static gboolean
stands_alone (const WbPlotRow *row)
{
  for (guint i = 0; i < row->group->n_cells; i++)
    if (&row->group->cells[i] != row->ranked && isfinite (row->group->cells[i].expected_loss))
      return FALSE;
  return TRUE;
}

static char *
dup_leader (const char          *name,
            const WbCraftRanked *ranked)
{
  g_autofree char *mean = dup_loss (ranked->expected_loss), *high = dup_loss (ranked->loss_high);

  if (ranked->expected_loss < NOTHING && !(ranked->loss_high >= NOTHING))
    /* Translators: a wick's name */
    return g_strdup_printf (_("choosing %s gives nothing away, even if it is not the best"), name);
  if (isnan (ranked->loss_high))
    return g_strdup_printf (_("choosing %s gives away %s of score on average"), name, mean);
  /* Translators: a wick's name; score given away on average; what is passed in one case of twenty */
  return g_strdup_printf (_("choosing %s gives away %s of score on average, over %s in one case of 20"), name, mean, high);
}

static char *
say_group (const WbPlotContext *context,
           const GArray        *rows,
           guint                first)
{
  const WbPlotRow *leader = &g_array_index (rows, WbPlotRow, first), *next = find_next (rows, first);
  g_autofree char *name = wb_plot_ranked_dup_name (context, leader);
  g_autofree char *clause = NULL;

  if (!isfinite (leader->ranked->expected_loss))
    return g_strdup (_("no burn counts yet, so nothing can be lost by a choice"));
  if (all_rejected (leader->group))
    return g_strdup (_("all that was burnt is out: there is nothing to choose from"));
  if (stands_alone (leader))
    return g_strdup_printf (_("%s stands alone: there is nothing to lose against"), name);
  if (is_rejected (leader->ranked))
    /* Translators: a wick's name; why it may not be chosen, "crossed a limit" */
    return g_strdup_printf (_("%s is out (%s): what it gives away counts for nothing"), name, wb_craft_ranked_get_verdict_label (leader->ranked));
  clause = dup_leader (name, leader->ranked);
  if (next == NULL)
    return g_steal_pointer (&clause);

  g_autofree char *other = wb_plot_ranked_dup_name (context, next);
  g_autofree char *loss = dup_loss (next->ranked->expected_loss);

  /* Translators: what the leader gives away; another wick's name; score it would give away */
  return g_strdup_printf (_("%s; %s would give away %s"), clause, other, loss);
}

/* What becomes of a group's first one: the loss of one that nobody may choose, or that has none beside it, is no finding. */
enum { LEAD_CHOSEN, LEAD_ALONE, LEAD_OUT /* and on: by what the verdict is told as */ };

static gboolean
lead_group (const WbPlotContext *context,
            const GArray        *rows,
            guint                first,
            guint               *leader,
            int                 *state,
            double              *value)
{
  const WbPlotRow *row = &g_array_index (rows, WbPlotRow, first);

  *leader = first;
  *state = is_rejected (row->ranked) ? LEAD_OUT + (int) wb_craft_ranked_get_told (row->ranked) : stands_alone (row) ? LEAD_ALONE : LEAD_CHOSEN;
  *value = *state == LEAD_CHOSEN ? fmax (row->ranked->expected_loss, row->ranked->loss_high) : 0.0;
  return isfinite (row->ranked->expected_loss) && isfinite (*value);
}

static char *
say_lead (int    state,
          double low,
          double high)
{
  g_autofree char *loss = dup_loss (high);

  if (state >= LEAD_OUT)
    return g_strdup (wb_craft_told_get_label ((WbCraftTold) (state - LEAD_OUT)));
  if (state == LEAD_ALONE)
    return g_strdup (_("stands alone"));
  return high < NOTHING ? g_strdup (_("nothing")) : g_steal_pointer (&loss);
}

static char *
dup_title (const WbPlotContext *context,
           const GArray        *rows)
{
  return wb_plot_ranked_dup_title (context, rows, say_group, _("Score given away by the first choice, in 19 cases of 20 at most"), lead_group,
                                   say_lead);
}

static char *
dup_description (const WbPlotContext *context,
                 const GArray        *rows,
                 const char          *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title,
                          _("For each combination the score that choosing it gives away against the best, and its chance of being the best or near it."));
  for (guint i = 0; i < rows->len; i++)
    {
      const WbPlotRow *row = &g_array_index (rows, WbPlotRow, i);
      g_autofree char *name = wb_plot_dup_cell_name (context, row->ranked->cell);

      if (!isfinite (row->ranked->expected_loss))
        {
          g_string_append_printf (text, _(" %s: not known."), name);
          continue;
        }

      if (!has_loss (row))
        {
          g_string_append_printf (text, " %s: %s.", name, wb_craft_ranked_get_verdict_label (row->ranked));
          continue;
        }

      g_autofree char *note = dup_note (row->ranked);
      g_autofree char *best = wb_plot_dup_chance (row->ranked->p_best);
      g_autofree char *near = wb_plot_dup_chance (row->ranked->p_near);

      /* Translators: combination; loss and counts; chance of being best; chance of being near the best */
      g_string_append_printf (text, _(" %s: gives away %s; best %s, as good as the best %s."), name, note, best, near);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

WbChart *
wb_plot_loss_new (const WbCraftAnswer *answer,
                  const WbPlotOptions *options,
                  GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };
  guint                  left_out, samples = 0, burns = 0;

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;

  g_autoptr (GArray) rows = wb_plot_ranked_rows (&context, WB_PLOT_LOSS_MOST_ROWS, &left_out);
  g_autofree char   *title = dup_title (&context, rows);
  g_autofree char   *description = dup_description (&context, rows, title);
  WbChart           *chart = wb_chart_new (title, description);

  wb_chart_set_share (chart, WB_CHART_SHARE_Y);
  if (rows->len == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to rank yet"));
  else
    {
      add_losses (&context, wb_chart_add_panel (chart, 0, 0, _("Given away on average (over, in 1 case of 20)")), rows);
      add_chances (&context, wb_chart_add_panel (chart, 0, 1, _("Chance that it is")), rows);
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
  wb_plot_set_footnote (&context, chart, _("Of a full score of 1. Bar: up to what is passed in one case of 20."), counts, seed, some, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  return chart;
}

char *
wb_plot_loss_dup_figures (const WbCraftGroup  *group,
                          const WbCraftRanked *ranked)
{
  const WbPlotRow row = { group, ranked };

  g_return_val_if_fail (group != NULL && ranked != NULL, NULL);

  return has_loss (&row) ? dup_short (ranked) : NULL;
}
