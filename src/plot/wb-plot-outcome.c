/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-outcome-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-craft-beside.h"
#include "wb-plot-figure-private.h"
#include "wb-plot-led-private.h"
#include "wb-plot-words-private.h"

#define HOUSE_BURN_H 4.0
#define SURELY    0.9  /* a chance from which a finding is told flatly, as the chance that a recommendation asks for */
#define NO_GAP_MM 0.05 /* a gap that would be told as 0.0 is none */

double
wb_plot_outcome_get_burn_h (const WbPlotContext *context)
{
  const WbProtocol *protocol = context->data->protocol;

  return protocol != NULL && protocol->burn_s > 0.0 ? protocol->burn_s / 3600.0 : HOUSE_BURN_H;
}

gboolean
wb_plot_outcome_get_window (const WbPlotContext *context,
                            guint                cell,
                            double              *low,
                            double              *high)
{
  const WbProtocol *protocol = context->data->protocol;
  double            due = wb_craft_cell_get_due_h (context->data, cell, context->options.stage);

  if (protocol == NULL || !(protocol->window_low > 0.0 && protocol->window_high > protocol->window_low) || !(due > 0.0))
    return FALSE;
  *low = due * protocol->window_low;
  *high = due * protocol->window_high;
  return TRUE;
}

static gboolean
has_curve (const WbCraftGrowth *growth)
{
  return wb_craft_fit_status_is_fitted (growth->status)
         && wb_plot_interval_clean (growth->pool_limit_mm).value > 0.0;
}

static WbPlotDue
get_due (const WbPlotContext *context,
         guint                cell,
         double               hours)
{
  double low, high;

  if (!wb_plot_outcome_get_window (context, cell, &low, &high))
    return WB_PLOT_DUE_UNKNOWN;
  return hours < low ? WB_PLOT_DUE_EARLY : hours > high ? WB_PLOT_DUE_LATE : WB_PLOT_DUE_IN_TIME;
}

WbPlotOutcome
wb_plot_outcome_of (const WbPlotContext *context,
                    guint                cell)
{
  const WbCraftGrowth *growth = wb_plot_context_get_growth (context, cell);
  double               inner = wb_craft_cell_get_inner_mm (context->data, cell, context->options.stage);
  WbPlotOutcome        outcome = { WB_PLOT_POOL_UNKNOWN, WB_PLOT_DUE_UNKNOWN, WB_CRAFT_INTERVAL_NONE, NAN,
                                   wb_plot_outcome_get_burn_h (context), NAN };

  if (growth == NULL)
    return outcome;
  outcome.full_h = wb_plot_interval_clean (growth->full_pool_h);
  if (growth->status == WB_CRAFT_FIT_ALL_AT_WALL)
    {
      outcome.state = WB_PLOT_POOL_ALWAYS;
      return outcome;
    }
  if (!has_curve (growth))
    return outcome;

  if (growth->pool_limit_mm.value <= inner)
    {
      outcome.state = WB_PLOT_POOL_SHORT;
      outcome.gap_mm = inner - growth->pool_limit_mm.value;
    }
  else if (outcome.full_h.value <= outcome.burn_h
           || inner - wb_craft_growth_at (growth, outcome.burn_h) < NO_GAP_MM)
    {
      outcome.state = WB_PLOT_POOL_REACHES;
      outcome.due = get_due (context, cell, outcome.full_h.value);
      if (outcome.due == WB_PLOT_DUE_IN_TIME && growth->p_in_window < SURELY)
        outcome.in_time = growth->p_in_window;
    }
  else
    {
      outcome.state = WB_PLOT_POOL_LATE;
      outcome.due = WB_PLOT_DUE_LATE;
      outcome.gap_mm = CLAMP (inner - wb_craft_growth_at (growth, outcome.burn_h), 0.0, inner);
    }
  return outcome;
}

static char *
dup_reaching (const char          *name,
              const WbPlotOutcome *outcome,
              const char          *hours)
{
  g_autofree char *chance = NULL;

  switch (outcome->due)
    {
    case WB_PLOT_DUE_EARLY:
      /* Translators: a wick's name; a time */
      return g_strdup_printf (_("%s reaches the wall in %s, too soon"), name, hours);
    case WB_PLOT_DUE_IN_TIME:
      chance = isnan (outcome->in_time) ? NULL : wb_plot_dup_chance (outcome->in_time);
      return chance == NULL ? g_strdup_printf (_("%s reaches the wall in %s, in time"), name, hours)
                            /* Translators: a wick's name; a time; the chance that the next candle does so in time */
                            : g_strdup_printf (_("%s reaches the wall in %s, in time with a chance of %s"), name, hours, chance);
    case WB_PLOT_DUE_LATE:
      return g_strdup_printf (_("%s reaches the wall in %s, late"), name, hours);
    case WB_PLOT_DUE_UNKNOWN:
    default:
      return g_strdup_printf (_("%s reaches the wall in %s"), name, hours);
    }
}

/* told: the time to the wall, or what lacks of it. */
static char *
dup_clause (const char          *name,
            const WbPlotOutcome *outcome,
            const char          *told)
{
  g_autofree char *hours = wb_plot_dup_hours (outcome->burn_h);

  switch (outcome->state)
    {
    case WB_PLOT_POOL_REACHES:
      return dup_reaching (name, outcome, told);
    case WB_PLOT_POOL_SHORT:
      if (outcome->gap_mm < WB_PLOT_ALL_BUT_MM)
        /* Translators: a wick's name */
        return g_strdup_printf (_("%s gets all but to the wall"), name);
      /* Translators: a wick's name; a length */
      return g_strdup_printf (_("%s stops %s narrower than the vessel"), name, told);
    case WB_PLOT_POOL_LATE:
      if (outcome->gap_mm < WB_PLOT_ALL_BUT_MM)
        /* Translators: a wick's name; a time */
        return g_strdup_printf (_("%s is all but at the wall after %s"), name, hours);
      /* Translators: a wick's name; a length; a time */
      return g_strdup_printf (_("%s is still %s narrower than the vessel after %s"), name, told, hours);
    case WB_PLOT_POOL_ALWAYS:
      return g_strdup_printf (_("%s stands at the wall at every reading"), name);
    case WB_PLOT_POOL_UNKNOWN:
    default:
      return g_strdup_printf (_("%s has too few readings for a curve"), name);
    }
}

/* A time to the wall, or what lacks of it; "" where neither is known. */
static char *
dup_told (const WbPlotContext *context,
          gboolean             gap,
          double               value)
{
  if (isnan (value))
    return g_strdup ("");
  return gap ? wb_plot_dup_gap (context, value) : wb_plot_dup_hours (value);
}

/* Whether pools were read that an earlier ring holds: they tell nothing of the way to the wall. */
static gboolean
is_held (const WbPlotLine *line)
{
  const WbCraftFigures *figures = line->context->answer->figures;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];

      if (burn->cell == line->cell && wb_plot_context_burn_counts (line->context, burn) && burn->ring_held && !isnan (burn->pool_mm))
        return TRUE;
    }
  return FALSE;
}

/* One sample has no curve of its own: when it was seen at the wall. */
static char *
dup_sample_clause (const WbPlotLine *line)
{
  const WbPlotContext *context = line->context;
  WbCraftPick          pick = { context->answer, line->cell, context->options.sample };
  WbCraftBesideFigure  full = wb_craft_pick_read (&pick, WB_FIGURE_FULL_POOL, context->options.stage, FALSE);
  g_autofree char     *hours = NULL;

  if (full.burns == 0 && full.lack != NULL && full.samples == 0)
    return is_held (line) ? g_strdup_printf (_("%s: every pool is held by an earlier ring"), line->name)
                          : g_strdup_printf (_("%s has no pool reading"), line->name);
  if (full.burns == 0)
    return g_strdup_printf (_("%s never came to the wall"), line->name);
  if (isnan (full.interval.value))
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s came to the wall in %u burn, not in all", "%s came to the wall in %u burns, not in all", full.burns),
                            line->name, full.burns);
  hours = wb_plot_dup_hours (full.interval.value);
  /* Translators: a sample's name; a time */
  return g_strdup_printf (_("%s is at the wall after %s"), line->name, hours);
}

char *
wb_plot_outcome_dup_clause (const WbPlotLine *line)
{
  WbPlotOutcome    outcome = wb_plot_outcome_of (line->context, line->cell);
  gboolean         gap = !isnan (outcome.gap_mm);
  g_autofree char *told = dup_told (line->context, gap, gap ? outcome.gap_mm : outcome.full_h.value);

  return line->context->options.sample >= 0 ? dup_sample_clause (line) : dup_clause (line->name, &outcome, told);
}

char *
wb_plot_outcome_dup_range (const WbPlotContext *context,
                           guint                cell,
                           double               low,
                           double               high)
{
  WbPlotOutcome    outcome = wb_plot_outcome_of (context, cell);
  gboolean         gap = !isnan (outcome.gap_mm);
  g_autofree char *name = wb_plot_dup_wick_name (context, cell);
  g_autofree char *from = dup_told (context, gap, low), *to = dup_told (context, gap, high);
  g_autofree char *told = wb_plot_dup_range (from, to);

  /* all but at the wall only where all of them are */
  if (gap)
    outcome.gap_mm = high;
  return dup_clause (name, &outcome, told);
}

/* How much a line tells beside the first: another end more than another time, and one of those more than nothing new; below 0: nothing. */
static int
get_contrast (const WbPlotLine    *line,
              const WbPlotOutcome *first)
{
  WbPlotOutcome outcome = wb_plot_outcome_of (line->context, line->cell);

  if (outcome.state == WB_PLOT_POOL_UNKNOWN)
    return -1;
  return outcome.state != first->state ? 2 : outcome.due != first->due ? 1 : 0;
}

/* The line that differs most tellingly from the first, the foremost of several; NULL where there is none. */
static const WbPlotLine *
find_contrast (const GArray        *lines,
               const WbPlotOutcome *first)
{
  const WbPlotLine *best = lines->len > 1 ? &g_array_index (lines, WbPlotLine, 1) : NULL;
  int               most = 0;

  for (guint i = 1; i < lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (lines, WbPlotLine, i);

      if (get_contrast (line, first) > most)
        {
          most = get_contrast (line, first);
          best = line;
        }
    }
  return best;
}

static gboolean
is_known (const WbPlotLine *line)
{
  return line->context->options.sample >= 0 || wb_plot_outcome_of (line->context, line->cell).state != WB_PLOT_POOL_UNKNOWN;
}

char *
wb_plot_outcome_dup_title (const GArray *lines)
{
  if (lines->len == 0)
    return g_strdup (_("No combination to show"));

  const WbPlotLine *leader = &g_array_index (lines, WbPlotLine, 0);
  WbPlotOutcome     first = wb_plot_outcome_of (leader->context, leader->cell);
  const WbPlotLine *contrast = find_contrast (lines, &first);
  g_autofree char  *clause = wb_plot_outcome_dup_clause (leader);

  if (contrast == NULL)
    return g_steal_pointer (&clause);
  if (!is_known (leader) && !is_known (contrast))
    return g_strdup (_("Too few readings for a curve of any combination"));

  g_autofree char *other = wb_plot_outcome_dup_clause (contrast);

  /* Translators: two findings side by side */
  return g_strdup_printf (_("%s; %s"), clause, other);
}

char *
wb_plot_outcome_dup_detail (const WbPlotContext *context,
                            guint                cell,
                            const char          *name)
{
  const WbCraftGrowth *growth = wb_plot_context_get_growth (context, cell);
  WbPlotOutcome        outcome = wb_plot_outcome_of (context, cell);

  if (growth == NULL)
    return g_strdup_printf (_("%s: no estimate."), name);

  g_autofree char *counts = wb_plot_dup_counts (growth->samples, growth->burns, growth->readings);
  g_autofree char *limit = wb_plot_dup_interval (context, WB_FIGURE_POOL_LIMIT, wb_plot_interval_clean (growth->pool_limit_mm));

  if (outcome.state == WB_PLOT_POOL_UNKNOWN || outcome.state == WB_PLOT_POOL_ALWAYS)
    return g_strdup_printf ("%s: %s (%s).", name, wb_craft_fit_status_get_label (growth->status), counts);
  if (isnan (outcome.full_h.value))
    /* Translators: combination; widest pool with interval; counts */
    return g_strdup_printf (_("%s: never a full melt pool; widest pool %s; %s."), name, limit, counts);

  g_autofree char *full = wb_plot_dup_interval (context, WB_FIGURE_FULL_POOL, outcome.full_h);

  if (wb_plot_figure_is_beyond_wall (context, cell, WB_FIGURE_POOL_LIMIT))
    /* Translators: combination; time; widest pool with interval; that it lies beyond the wall; counts */
    return g_strdup_printf (_("%s: full melt pool in %s; widest pool %s (%s); %s."), name, full, limit, wb_craft_beside_get_beyond_wall (), counts);
  return g_strdup_printf (_("%s: full melt pool in %s; widest pool %s; %s."), name, full, limit, counts);
}
