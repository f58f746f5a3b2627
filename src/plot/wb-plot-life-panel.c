/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-life-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-life-limits-private.h"
#include "wb-plot-words-private.h"

static double
get_x (const WbPlotLife  *life,
       const WbPlotLine  *line,
       const WbCraftBurn *burn)
{
  if (!life->by_fill)
    return (double) wb_dataset_get_burn (line->context->data, burn->burn)->number;
  return 1.0 - burn->fill_left;
}

/* One number of a burn's life over the samples of a cell. */
typedef struct
{
  guint  n;
  double x, sum, worst, least;
  guint  worst_sample, worst_burn;
} Place;

static void
collect (const WbPlotLife  *life,
         const WbPlotTrack *track,
         const WbPlotLine  *line,
         Place             *places)
{
  const WbCraftFigures *figures = line->context->answer->figures;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      gint64             number = wb_dataset_get_burn (line->context->data, i)->number;
      double             value = wb_craft_burn_get (burn, track->figure, track->worst), x = get_x (life, line, burn);

      if (!wb_plot_life_shows (line, burn) || isnan (value) || isnan (x) || number < 1 || number > life->n_burns)
        continue;

      Place *place = &places[number - 1];
      if (place->n == 0 || value > place->worst)
        {
          place->worst = value;
          place->worst_sample = burn->sample;
          place->worst_burn = i;
        }
      place->least = place->n == 0 ? value : fmin (place->least, value);
      place->x += x;
      place->sum += value;
      place->n++;
    }
}

static char *
dup_note (const WbPlotTrack *track,
          const WbPlotLine  *line,
          const Place       *place,
          guint              number)
{
  if (track->worst)
    /* Translators: number of the burn; sample code */
    return g_strdup_printf (_("burn %u, %s"), number, wb_dataset_get_sample (line->context->data, place->worst_sample)->code);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "burn %u, %u sample", "burn %u, mean of %u samples", place->n), number, place->n);
}

/* From the lowest to the highest sample of each burn. `x` is what the line stands on: of samples burnt at different paces it may turn back. */
static void
add_spread (WbChartPanel     *panel,
            const WbPlotLine *line,
            const Place      *places,
            guint             n_burns,
            const double     *x,
            guint             n)
{
  g_autofree double *low = g_new (double, n), *high = g_new (double, n);
  gboolean           several = FALSE;

  for (guint i = 0, k = 0; i < n_burns; i++)
    if (places[i].n > 0)
      {
        low[k] = places[i].least;
        high[k] = places[i].worst;
        several |= places[i].n > 1;
        if (k > 0 && x[k] <= x[k - 1])
          return;
        k++;
      }
  if (several && n > 1)
    wb_chart_layer_add_band (panel, line->name, line->series, n, x, low, high);
}

static void
add_line (const WbPlotLife  *life,
          const WbPlotTrack *track,
          WbChartPanel      *panel,
          const WbPlotLine  *line)
{
  g_autofree Place     *places = g_new0 (Place, life->n_burns);
  g_autofree double    *x = g_new (double, life->n_burns), *y = g_new (double, life->n_burns);
  g_autofree gint64    *tags = g_new (gint64, life->n_burns);
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);
  guint                 n = 0;

  collect (life, track, line, places);
  for (guint i = 0; i < life->n_burns; i++)
    {
      const Place *place = &places[i];

      if (place->n == 0)
        continue;
      x[n] = place->x / place->n;
      y[n] = track->worst ? place->worst : place->sum / place->n;
      /* the mean of several samples is nobody's burn */
      tags[n++] = track->worst || place->n == 1 ? wb_plot_line_get_burn_tag (line, place->worst_burn) : wb_plot_line_get_tag (line);
      g_ptr_array_add (notes, dup_note (track, line, place, i + 1));
    }
  if (n == 0)
    return;

  add_spread (panel, line, places, life->n_burns, x, n);

  WbChartLayer *layer = wb_chart_layer_add_line (panel, line->name, line->series, WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, n, x, y);
  wb_chart_layer_set_notes (layer, n, (const char *const *) notes->pdata);
  wb_chart_layer_set_tags (layer, n, tags);
}

static gboolean
watches (int      kind,
         WbFigure figure)
{
  switch (figure)
    {
    case WB_FIGURE_FLAME:
      return kind == WB_LIMIT_FLAME || kind == WB_LIMIT_FLAME_HOUSE;
    case WB_FIGURE_VESSEL:
      return kind == WB_LIMIT_VESSEL;
    default:
      return FALSE;
    }
}

/* The highest value that a panel shows; NaN if none. */
static double
get_highest (const WbPlotLife  *life,
             const WbPlotTrack *track)
{
  double highest = NAN;

  for (guint k = 0; k < life->lines->len; k++)
    {
      const WbPlotLine     *line = &g_array_index (life->lines, WbPlotLine, k);
      const WbCraftFigures *figures = line->context->answer->figures;

      for (guint i = 0; i < figures->n_burns; i++)
        if (wb_plot_life_shows (line, &figures->burns[i]))
          highest = fmax (highest, wb_craft_burn_get (&figures->burns[i], track->figure, track->worst));
    }
  return highest;
}

/* The limits that watch a figure, of all experiments whose lines are shown, each once: const WbLimit. */
static GPtrArray *
find_limits (const WbPlotLife  *life,
             const WbPlotTrack *track)
{
  GPtrArray *found = g_ptr_array_new ();

  for (guint k = 0; k < life->lines->len; k++)
    {
      const GPtrArray *limits = g_array_index (life->lines, WbPlotLine, k).context->data->limits;

      for (guint i = 0; i < limits->len; i++)
        {
          const WbLimit *limit = g_ptr_array_index (limits, i);
          gboolean       known = FALSE;

          for (guint n = 0; n < found->len && !known; n++)
            {
              const WbLimit *other = g_ptr_array_index (found, n);

              known = other->kind == limit->kind && other->stop_at == limit->stop_at;
            }
          if (!known && !limit->off && watches (limit->kind, track->figure) && limit->stop_at > 0.0)
            g_ptr_array_add (found, (gpointer) limit);
        }
    }
  return found;
}

/* The tightest limit always, a wider one only where the readings come near it: it would press them flat. */
static void
add_limits (const WbPlotLife  *life,
            const WbPlotTrack *track,
            WbChartPanel      *panel)
{
  const WbPlotContext  *context = g_array_index (life->lines, WbPlotLine, 0).context;
  g_autoptr (GPtrArray) limits = find_limits (life, track);
  double                highest = get_highest (life, track), tightest = INFINITY;

  for (guint i = 0; i < limits->len; i++)
    tightest = fmin (tightest, ((const WbLimit *) g_ptr_array_index (limits, i))->stop_at);
  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (limits, i);

      if (limit->stop_at > tightest && !(highest > tightest * 1.05))
        continue;

      WbUnit           unit = wb_limit_kind_get_unit (limit->kind);
      g_autofree char *stop = wb_plot_dup_set_value (context, unit, limit->stop_at);
      g_autofree char *words = g_strdup_printf (limit->house ? _("house limit, %s") : _("limit, %s"), stop);
      wb_chart_layer_add_rule (panel, words, WB_CHART_RULE_LIMIT, WB_CHART_Y, limit->stop_at);
      if (!isnan (limit->ask_at) && limit->ask_at < limit->stop_at)
        {
          g_autofree char *ask = wb_plot_dup_set_value (context, unit, limit->ask_at);
          g_autofree char *asking = g_strdup_printf (_("look from %s"), ask);

          wb_chart_layer_add_rule (panel, asking, WB_CHART_RULE_ASK, WB_CHART_Y, limit->ask_at);
        }
    }
}

/* Readings of a line that crossed a limit, of whatever kind of burn: no mean hides them. */
static void
add_crossings (const WbPlotLife  *life,
               const WbPlotTrack *track,
               WbChartPanel      *panel,
               const WbPlotLine  *line)
{
  const WbCraftFigures     *figures = line->context->answer->figures;
  g_auto (WbPlotLifeLimits) limits = { 0 };

  wb_plot_life_limits_init (&limits, line);
  for (guint k = 0; k < limits.limits->len; k++)
    {
      const WbCraftLimit *item = &g_array_index (limits.limits, WbCraftLimit, k);
      const WbLimit      *rule = g_ptr_array_index (line->context->data->limits, k);

      if (item->state != WB_CRAFT_LIMIT_CROSSED || !watches (rule->kind, track->figure) || item->burn >= figures->n_burns)
        continue;

      double           x = get_x (life, line, &figures->burns[item->burn]);
      g_autofree char *value = wb_plot_dup_figure (line->context, track->figure, item->worst);
      /* Translators: a sample's code; what was read: "B6-2: 51 mm, over the limit" */
      g_autofree char *words = g_strdup_printf (_("%s: %s, over the limit"), wb_dataset_get_sample (line->context->data, item->sample)->code, value);
      if (isnan (x))
        continue;
      wb_chart_layer_add_crossing (panel, x, item->worst, words);
      /* room for the words above the reading */
      wb_chart_axis_include (wb_chart_panel_get_y (panel), item->worst * 1.1);
    }
}

static void
add_stages (const WbPlotLife *life,
            WbChartPanel     *panel,
            gboolean          labels)
{
  WbChartAxis *x = wb_chart_panel_get_x (panel);

  wb_chart_axis_set_grid (x, FALSE);
  if (!life->by_fill)
    {
      wb_chart_axis_set_label (x, _("Burn"));
      wb_chart_axis_set_range (x, 0.0, life->n_burns + 0.5);
      return;
    }
  /* A young experiment is not pressed into a corner: as many thirds as were reached. */
  double reached = life->burnt <= 1.0 / 3.0 ? 1.0 / 3.0 : life->burnt <= 2.0 / 3.0 ? 2.0 / 3.0 : 1.0;

  wb_chart_axis_set_chance (x, TRUE);
  wb_chart_axis_set_label (x, life->of_life ? _("Share burnt of what burns in its life") : _("Share of the fill burnt"));
  wb_chart_axis_set_range (x, 0.0, reached);
  if (reached > 0.4)
    wb_chart_layer_add_region (panel, labels ? _("middle third") : NULL, WB_CHART_RULE_REFERENCE, WB_CHART_X, 1.0 / 3.0, 2.0 / 3.0);
}

void
wb_plot_life_add_panel (const WbPlotLife  *life,
                        WbChart           *chart,
                        const WbPlotTrack *track,
                        guint              place,
                        guint              n_columns)
{
  WbChartPanel *panel = wb_chart_add_panel (chart, place / n_columns, place % n_columns, NULL);
  WbChartAxis  *y = wb_chart_panel_get_y (panel);

  add_stages (life, panel, place == 0);
  wb_plot_axis_set_figure (g_array_index (life->lines, WbPlotLine, 0).context, y, track->figure);
  wb_chart_axis_set_label (y, _(track->label));
  if (track->figure != WB_FIGURE_VESSEL)
    wb_chart_axis_include (y, 0.0);
  add_limits (life, track, panel);
  for (guint i = 0; i < life->lines->len; i++)
    add_line (life, track, panel, &g_array_index (life->lines, WbPlotLine, i));
  for (guint i = 0; i < life->lines->len; i++)
    add_crossings (life, track, panel, &g_array_index (life->lines, WbPlotLine, i));
  wb_chart_panel_set_empty_text (panel, _("Not read yet"));
}

