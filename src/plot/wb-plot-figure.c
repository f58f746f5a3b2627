/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-figure-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-words-private.h"

static const WbCraftEstimate *
get_estimate (const WbPlotContext *context,
              guint                cell,
              WbFigure             figure)
{
  const WbCraftCell *estimates = wb_plot_context_get_cell (context, cell);
  WbStage            stage = context->options.stage;

  if (estimates == NULL)
    return NULL;
  return stage < WB_N_STAGES ? &estimates->stage_figure[stage][figure] : &estimates->figure[figure];
}

WbCraftInterval
wb_plot_figure_of (const WbPlotContext *context,
                   guint                cell,
                   WbFigure             figure)
{
  const WbCraftGrowth   *growth = wb_plot_context_get_growth (context, cell);
  const WbCraftEstimate *estimate = get_estimate (context, cell, figure);

  switch (figure)
    {
    case WB_FIGURE_SCORE:
      return wb_plot_context_get_score (context, cell);
    case WB_FIGURE_FULL_POOL:
      return growth != NULL ? wb_plot_interval_clean (growth->full_pool_h) : WB_CRAFT_INTERVAL_NONE;
    case WB_FIGURE_POOL_LIMIT:
      return growth != NULL ? wb_plot_interval_clean (growth->pool_limit_mm) : WB_CRAFT_INTERVAL_NONE;
    case WB_FIGURE_TAU:
      return growth != NULL ? wb_plot_interval_clean (growth->tau_h) : WB_CRAFT_INTERVAL_NONE;
    default:
      return estimate != NULL && estimate->samples > 0 ? wb_plot_interval_clean (estimate->told) : WB_CRAFT_INTERVAL_NONE;
    }
}

const char *
wb_plot_figure_get_lack (const WbPlotContext *context,
                         guint                cell,
                         WbFigure             figure)
{
  const WbCraftGrowth *growth = wb_plot_context_get_growth (context, cell);

  if (figure == WB_FIGURE_FULL_POOL && growth != NULL && !isnan (growth->pool_limit_mm.value))
    return _("never");
  if ((figure == WB_FIGURE_FULL_POOL || figure == WB_FIGURE_POOL_LIMIT || figure == WB_FIGURE_TAU) && growth != NULL && growth->readings > 0)
    return _("no curve");
  return _("not read");
}

gboolean
wb_plot_figure_is_beyond_wall (const WbPlotContext *context,
                               guint                cell,
                               WbFigure             figure)
{
  return figure == WB_FIGURE_POOL_LIMIT
         && wb_plot_figure_of (context, cell, figure).value > wb_craft_cell_get_inner_mm (context->data, cell, context->options.stage);
}

void
wb_plot_figure_get_n (const WbPlotContext *context,
                      guint                cell,
                      WbFigure             figure,
                      guint               *samples,
                      guint               *burns)
{
  const WbCraftGrowth   *growth = wb_plot_context_get_growth (context, cell);
  const WbCraftRanked   *ranked = wb_plot_context_get_ranked (context, cell, NULL);
  const WbCraftEstimate *estimate = get_estimate (context, cell, figure);

  *samples = *burns = 0;
  if (figure == WB_FIGURE_SCORE && ranked != NULL)
    {
      *samples = ranked->samples;
      *burns = ranked->burns;
    }
  else if ((figure == WB_FIGURE_FULL_POOL || figure == WB_FIGURE_POOL_LIMIT || figure == WB_FIGURE_TAU) && growth != NULL)
    {
      *samples = growth->samples;
      *burns = growth->burns;
    }
  else if (estimate != NULL)
    {
      *samples = estimate->samples;
      *burns = estimate->burns;
    }
}

const WbCraftLimit *
wb_plot_get_crossed (const WbPlotContext *context,
                     guint                cell)
{
  const WbCraftLimits *limits = context->answer->limits;

  for (guint i = 0; cell < limits->n_cells && i < limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (limits, cell, i);

      if (limit != NULL && limit->state == WB_CRAFT_LIMIT_CROSSED && !limit->set_aside_only)
        return limit;
    }
  return NULL;
}

/* How much wax was left when it happened; NULL where that is not known. */
static char *
dup_left (const WbPlotContext *context,
          const WbCraftLimit  *limit)
{
  const WbCraftFigures *figures = context->answer->figures;

  if (limit->burn >= figures->n_burns || isnan (figures->burns[limit->burn].fill_left)
      || figures->thirds[figures->burns[limit->burn].sample] == WB_CRAFT_THIRDS_OF_LIFE)
    return NULL;
  return wb_quantity_format (WB_UNIT_PERCENT, 100.0 * CLAMP (figures->burns[limit->burn].fill_left, 0.0, 1.0), 0);
}

char *
wb_plot_dup_crossing (const WbPlotContext *context,
                      const WbCraftLimit  *limit,
                      const char          *called)
{
  const WbLimit   *rule = g_ptr_array_index (context->data->limits, limit->limit);
  g_autofree char *name = called != NULL ? g_strdup (called) : wb_plot_dup_wick_name (context, limit->cell);
  g_autofree char *left = dup_left (context, limit);
  const char      *what = _(wb_craft_limit_get_measure (rule->kind));
  g_autofree char *crossed = NULL;

  if (rule->stop_at > 0.0)
    {
      g_autofree char *stop = wb_plot_dup_set_value (context, wb_limit_kind_get_unit (rule->kind), rule->stop_at);

      /* Translators: a wick's name; the limit's value; what it watches */
      crossed = rule->house ? g_strdup_printf (_("%s crosses the house limit of %s (%s)"), name, stop, what)
                            : g_strdup_printf (_("%s crosses the limit of %s (%s)"), name, stop, what);
    }
  else
    /* Translators: a wick's name; an event that must not happen */
    crossed = g_strdup_printf (_("%s fails: %s"), name, what);
  if (left == NULL)
    return g_steal_pointer (&crossed);
  /* Translators: a crossed limit; per cent */
  return g_strdup_printf (_("%s with %s of its wax left"), crossed, left);
}
