/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-life.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-figure-private.h"
#include "wb-plot-words-private.h"

#define MOST_CELLS 4
#define MOST_CHOSEN_CELLS 8
/* Below this share of burns with a known fill the life is told in burns. */
#define KNOWN_SHARE 0.8
/* A burn that went out sooner, or before a flame was read, never came to a pool and heat of its own: it is no point of a life. */
#define LEAST_MIN 60.0

typedef struct
{
  WbFigure    figure;
  gboolean    worst;  /* of each burn, and of the samples: what limits judge */
  const char *label;
} Track;

static const Track tracks[] = {
  { WB_FIGURE_FLAME, TRUE, N_("Highest flame") },
  { WB_FIGURE_VESSEL, TRUE, N_("Hottest vessel wall") },
  { WB_FIGURE_DEPTH, FALSE, N_("Melt-pool depth at the end") },
  { WB_FIGURE_CONSUMPTION, FALSE, N_("Consumption") },
};

typedef struct
{
  const WbPlotContext *context;
  GArray              *cells;   /* leading first */
  gboolean             by_fill; /* else by burn number */
  guint                n_burns; /* longest life */
  double               burnt;   /* largest share of a fill that is gone, by fill */
} Life;

static gboolean
is_shown (const Life        *life,
          const WbCraftBurn *burn)
{
  if (burn->kind != WB_BURN_STANDARD || !wb_plot_context_sample_counts (life->context, burn->sample)
      || burn->alight_min < LEAST_MIN || burn->flame_max_mm <= 0.0)
    return FALSE;
  for (guint i = 0; i < life->cells->len; i++)
    if (g_array_index (life->cells, guint, i) == burn->cell)
      return TRUE;
  return FALSE;
}

static double
get_x (const Life        *life,
       const WbCraftBurn *burn)
{
  if (!life->by_fill)
    return (double) wb_dataset_get_burn (life->context->data, burn->burn)->number;
  return 1.0 - burn->fill_left;
}

/* The leading cells of a family; among them the first in rank that crossed a limit, as that is what a life tells. */
static GArray *
pick_cells (const WbPlotContext *context,
            guint                family)
{
  g_autoptr (GArray) all = wb_plot_context_pick_cells (context, family, G_MAXUINT);
  GArray            *cells = wb_plot_context_pick_cells (context, family, MOST_CELLS);

  for (guint i = 0; i < cells->len; i++)
    if (wb_plot_get_crossed (context, g_array_index (cells, guint, i)) != NULL)
      return cells;
  for (guint i = cells->len; i < all->len; i++)
    if (wb_plot_get_crossed (context, g_array_index (all, guint, i)) != NULL)
      {
        g_array_index (cells, guint, cells->len - 1) = g_array_index (all, guint, i);
        return cells;
      }
  return cells;
}

static Life
life_new (const WbPlotContext *context)
{
  Life                  life = { context, NULL, FALSE, 1, 0.0 };
  guint                 known = 0, all = 0;
  const WbCraftFigures *figures = context->answer->figures;

  if (context->options.cells != NULL)
    life.cells = wb_plot_context_pick_cells (context, G_MAXUINT, MOST_CHOSEN_CELLS);
  else
    {
      g_autoptr (GArray) families = wb_plot_context_pick_families (context, 1);

      life.cells = families->len == 0 ? g_array_new (FALSE, FALSE, sizeof (guint))
                                      : pick_cells (context, g_array_index (families, guint, 0));
    }
  for (guint i = 0; i < figures->n_burns; i++)
    if (is_shown (&life, &figures->burns[i]))
      {
        all++;
        known += !isnan (figures->burns[i].fill_left);
        life.burnt = fmax (life.burnt, 1.0 - figures->burns[i].fill_left);
        life.n_burns = MAX (life.n_burns, (guint) MIN (wb_dataset_get_burn (context->data, i)->number, 100000));
      }
  life.by_fill = known > 0 && known >= KNOWN_SHARE * all;
  return life;
}

/* One number of a burn's life over the samples of a cell. */
typedef struct
{
  guint  n;
  double x, sum, worst;
  guint  worst_sample;
} Place;

static void
collect (const Life  *life,
         const Track *track,
         guint        cell,
         Place       *places)
{
  const WbCraftFigures *figures = life->context->answer->figures;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      gint64             number = wb_dataset_get_burn (life->context->data, i)->number;
      double             value = wb_craft_burn_get (burn, track->figure, track->worst), x = get_x (life, burn);

      if (burn->cell != cell || !is_shown (life, burn) || isnan (value) || isnan (x) || number < 1 || number > life->n_burns)
        continue;

      Place *place = &places[number - 1];
      if (place->n == 0 || value > place->worst)
        {
          place->worst = value;
          place->worst_sample = burn->sample;
        }
      place->x += x;
      place->sum += value;
      place->n++;
    }
}

/* Returns how many places have a value. */
static guint
add_line (const Life   *life,
          const Track  *track,
          WbChartPanel *panel,
          guint         cell,
          gboolean      named)
{
  g_autofree Place     *places = g_new0 (Place, life->n_burns);
  g_autofree double    *x = g_new (double, life->n_burns), *y = g_new (double, life->n_burns);
  g_autoptr (GPtrArray) notes = g_ptr_array_new_with_free_func (g_free);
  g_autofree char      *name = life->context->options.cells != NULL ? wb_plot_dup_cell_name (life->context, cell)
                                                                    : wb_plot_dup_wick_name (life->context, cell);
  guint                 n = 0;

  collect (life, track, cell, places);
  for (guint i = 0; i < life->n_burns; i++)
    {
      const Place *place = &places[i];

      if (place->n == 0)
        continue;
      x[n] = place->x / place->n;
      y[n++] = track->worst ? place->worst : place->sum / place->n;
      if (track->worst)
        /* Translators: number of the burn; sample code */
        g_ptr_array_add (notes, g_strdup_printf (_("burn %u, %s"), i + 1, wb_dataset_get_sample (life->context->data, place->worst_sample)->code));
      else
        g_ptr_array_add (notes, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "burn %u, %u sample", "burn %u, mean of %u samples", place->n),
                                                 i + 1, place->n));
    }
  if (n == 0)
    return 0;

  WbChartLayer *layer = wb_chart_layer_add_line (panel, named ? name : NULL, wb_plot_get_series (life->context->data, cell),
                                                 WB_CHART_LINE_JOINED | WB_CHART_LINE_MARKERS, n, x, y);
  wb_chart_layer_set_notes (layer, n, (const char *const *) notes->pdata);
  return n;
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
get_highest (const Life  *life,
             const Track *track)
{
  const WbCraftFigures *figures = life->context->answer->figures;
  double                highest = NAN;

  for (guint i = 0; i < figures->n_burns; i++)
    if (is_shown (life, &figures->burns[i]))
      highest = fmax (highest, wb_craft_burn_get (&figures->burns[i], track->figure, track->worst));
  return highest;
}

/* The tightest limit always, a wider one only where the readings come near it: it would press them flat. */
static void
add_limits (const Life   *life,
            const Track  *track,
            WbChartPanel *panel)
{
  const GPtrArray *limits = life->context->data->limits;
  double           highest = get_highest (life, track), tightest = INFINITY;

  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (limits, i);

      if (!limit->off && watches (limit->kind, track->figure) && limit->stop_at > 0.0)
        tightest = fmin (tightest, limit->stop_at);
    }
  for (guint i = 0; i < limits->len; i++)
    {
      const WbLimit *limit = g_ptr_array_index (limits, i);

      if (limit->off || !watches (limit->kind, track->figure) || !(limit->stop_at > 0.0)
          || (limit->stop_at > tightest && !(highest > tightest * 1.05)))
        continue;

      WbUnit           unit = wb_limit_kind_get_unit (limit->kind);
      g_autofree char *stop = wb_plot_dup_set_value (life->context, unit, limit->stop_at);
      g_autofree char *words = g_strdup_printf (limit->house ? _("house limit, %s") : _("limit, %s"), stop);
      wb_chart_layer_add_rule (panel, words, WB_CHART_RULE_LIMIT, WB_CHART_Y, limit->stop_at);
      if (!isnan (limit->ask_at) && limit->ask_at < limit->stop_at)
        {
          g_autofree char *ask = wb_plot_dup_set_value (life->context, unit, limit->ask_at);
          g_autofree char *asking = g_strdup_printf (_("look from %s"), ask);

          wb_chart_layer_add_rule (panel, asking, WB_CHART_RULE_ASK, WB_CHART_Y, limit->ask_at);
        }
    }
}

/* Readings that crossed a limit, of whatever kind of burn: no mean hides them. */
static void
add_crossings (const Life   *life,
               const Track  *track,
               WbChartPanel *panel)
{
  const WbCraftFigures *figures = life->context->answer->figures;
  const WbCraftLimits  *limits = life->context->answer->limits;

  for (guint i = 0; i < life->cells->len; i++)
    for (guint k = 0; k < limits->n_limits && g_array_index (life->cells, guint, i) < limits->n_cells; k++)
      {
        const WbCraftLimit *item = wb_craft_limits_get (limits, g_array_index (life->cells, guint, i), k);
        const WbLimit      *rule = g_ptr_array_index (life->context->data->limits, k);

        if (item->state != WB_CRAFT_LIMIT_CROSSED || !watches (rule->kind, track->figure) || item->burn >= figures->n_burns)
          continue;

        double           x = get_x (life, &figures->burns[item->burn]);
        g_autofree char *value = wb_plot_dup_figure (life->context, track->figure, item->worst);
        g_autofree char *words = g_strdup_printf ("%s: %s", wb_dataset_get_sample (life->context->data, item->sample)->code, value);
        if (!isnan (x))
          wb_chart_layer_add_text (panel, x, item->worst, words);
      }
}

static void
add_stages (const Life   *life,
            WbChartPanel *panel,
            gboolean      labels)
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
  wb_chart_axis_set_label (x, _("Share of the fill burnt"));
  wb_chart_axis_set_range (x, 0.0, reached);
  if (reached > 0.4)
    wb_chart_layer_add_region (panel, labels ? _("middle third") : NULL, WB_CHART_RULE_REFERENCE, WB_CHART_X, 1.0 / 3.0, 2.0 / 3.0);
}

static void
add_panel (const Life   *life,
           WbChart      *chart,
           const Track  *track,
           guint         place,
           guint         n_columns)
{
  WbChartPanel *panel = wb_chart_add_panel (chart, place / n_columns, place % n_columns, NULL);
  WbChartAxis  *y = wb_chart_panel_get_y (panel);
  g_autoptr (GArray) cells = g_array_copy (life->cells);

  add_stages (life, panel, place == 0);
  wb_plot_axis_set_figure (life->context, y, track->figure);
  wb_chart_axis_set_label (y, _(track->label));
  if (track->figure != WB_FIGURE_VESSEL)
    wb_chart_axis_include (y, 0.0);
  add_limits (life, track, panel);
  wb_plot_cells_sort (cells);
  for (guint i = 0; i < cells->len; i++)
    add_line (life, track, panel, g_array_index (cells, guint, i), TRUE);
  add_crossings (life, track, panel);
  wb_chart_panel_set_empty_text (panel, _("Not read yet"));
}

/* How far down the samples of a cell were burnt: least share of the fill left, NaN unknown. */
static double
get_life_left (const WbPlotContext *context,
               guint                cell)
{
  const WbCraftFigures *figures = context->answer->figures;
  double                left = NAN;

  for (guint i = 0; i < figures->n_samples; i++)
    if (g_array_index (context->data->sample_cell, guint, i) == cell && wb_plot_context_sample_counts (context, i))
      left = fmin (left, figures->life_left[i]);
  return left;
}

static double
get_worst (const Life *life,
           guint       cell,
           WbFigure    figure)
{
  const WbCraftFigures *figures = life->context->answer->figures;
  double                worst = NAN;

  for (guint i = 0; i < figures->n_burns; i++)
    if (figures->burns[i].cell == cell && is_shown (life, &figures->burns[i]))
      worst = fmax (worst, wb_craft_burn_get (&figures->burns[i], figure, TRUE));
  return worst;
}

/* "hottest wall 64 °C, highest flame 22 mm"; "" where neither was read. */
static char *
dup_extremes (const Life *life,
              guint       cell)
{
  double           wall = get_worst (life, cell, WB_FIGURE_VESSEL), flame = get_worst (life, cell, WB_FIGURE_FLAME);
  g_autofree char *hottest = isnan (wall) ? NULL : wb_plot_dup_figure (life->context, WB_FIGURE_VESSEL, wall);
  g_autofree char *highest = isnan (flame) ? NULL : wb_plot_dup_figure (life->context, WB_FIGURE_FLAME, flame);

  if (hottest != NULL && highest != NULL)
    return g_strdup_printf (_("hottest wall %s, highest flame %s"), hottest, highest);
  if (hottest != NULL)
    return g_strdup_printf (_("hottest wall %s"), hottest);
  if (highest != NULL)
    return g_strdup_printf (_("highest flame %s"), highest);
  return g_strdup ("");
}

static char *
dup_clause (const Life *life,
            guint       cell)
{
  const WbCraftLimit *crossed = wb_plot_get_crossed (life->context, cell);

  if (crossed != NULL)
    return wb_plot_dup_crossing (life->context, crossed);

  g_autofree char *name = wb_plot_dup_wick_name (life->context, cell);
  g_autofree char *extremes = dup_extremes (life, cell);
  double           left = get_life_left (life->context, cell);

  if (*extremes == '\0')
    return g_strdup_printf (_("%s was not read yet"), name);
  if (isnan (left))
    /* Translators: a wick's name; extremes */
    return g_strdup_printf (_("%s crosses no limit: %s"), name, extremes);

  g_autofree char *share = wb_quantity_format (WB_UNIT_PERCENT, 100.0 * CLAMP (left, 0.0, 1.0), 0);

  if (left > 1.0 / 3.0)
    return g_strdup_printf (_("%s crosses no limit so far, with %s of its wax left: %s"), name, share, extremes);
  /* Translators: a wick's name; per cent of its wax left; extremes */
  return g_strdup_printf (_("%s crosses no limit down to the last %s of its wax: %s"), name, share, extremes);
}

static char *
dup_title (const Life *life)
{
  if (life->cells->len == 0)
    return g_strdup (_("No combination to show"));

  guint            leader = g_array_index (life->cells, guint, 0);
  g_autofree char *clause = dup_clause (life, leader);

  for (guint i = 1; i < life->cells->len; i++)
    {
      const WbCraftLimit *crossed = wb_plot_get_crossed (life->context, g_array_index (life->cells, guint, i));

      if (crossed != NULL && wb_plot_get_crossed (life->context, leader) == NULL)
        {
          g_autofree char *other = wb_plot_dup_crossing (life->context, crossed);

          return g_strdup_printf (_("%s; %s"), clause, other);
        }
    }
  return g_steal_pointer (&clause);
}

static char *
dup_description (const Life *life,
                 const char *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title,
                          _("Highest flame and hottest vessel wall of the worst sample, mean depth and consumption, over the candle's life, with the limits."));
  for (guint i = 0; i < life->cells->len; i++)
    {
      g_autofree char *name = wb_plot_dup_cell_name (life->context, g_array_index (life->cells, guint, i));
      g_autofree char *clause = dup_clause (life, g_array_index (life->cells, guint, i));

      g_string_append_printf (text, " %s: %s.", name, clause);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_counts (const Life *life)
{
  const WbCraftFigures *figures = life->context->answer->figures;
  guint                 burns = 0, samples = 0, last = G_MAXUINT;

  for (guint i = 0; i < figures->n_burns; i++)
    if (is_shown (life, &figures->burns[i]))
      {
        burns++;
        /* Burns stand by sample. */
        samples += figures->burns[i].sample != last;
        last = figures->burns[i].sample;
      }

  g_autofree char *counts = wb_plot_dup_counts (samples, burns, G_MAXUINT);

  return g_strdup_printf (_("%s, standard burns."), counts);
}

static gboolean
has_track (WbFigure figure)
{
  switch (figure)
    {
    case WB_FIGURE_FULL_POOL:
    case WB_FIGURE_POOL_LIMIT:
    case WB_FIGURE_TAU:
    case WB_FIGURE_SCORE:
    case WB_N_FIGURES:
      return FALSE;
    default:
      return TRUE;
    }
}

WbChart *
wb_plot_life_new (const WbCraftAnswer *answer,
                  const WbPlotOptions *options,
                  GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };

  if (!wb_plot_context_init (&context, answer, options, error))
    return NULL;
  if (context.options.figure >= 0 && !has_track (context.options.figure))
    {
      g_set_error (error, WB_PLOT_ERROR, WB_PLOT_ERROR_FIGURE, "%s is not a figure of a single burn", wb_figure_get_key (context.options.figure));
      return NULL;
    }

  Life             life = life_new (&context);
  g_autofree char *title = dup_title (&life);
  g_autofree char *description = dup_description (&life, title);
  WbChart         *chart = wb_chart_new (title, description);

  wb_chart_set_share (chart, WB_CHART_SHARE_X);
  if (life.cells->len == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to show"));
  else if (context.options.figure >= 0)
    {
      gboolean worst = context.options.figure == WB_FIGURE_FLAME || context.options.figure == WB_FIGURE_VESSEL;
      Track    track = { context.options.figure, worst, wb_figure_get_label (context.options.figure) };

      for (guint i = 0; i < G_N_ELEMENTS (tracks); i++)
        if (tracks[i].figure == track.figure)
          track = tracks[i];
      add_panel (&life, chart, &track, 0, 1);
    }
  else
    for (guint i = 0; i < G_N_ELEMENTS (tracks); i++)
      add_panel (&life, chart, &tracks[i], i, 2);

  g_autofree char *counts = dup_counts (&life);
  wb_plot_set_footnote (&context, chart, _("Flame and vessel: worst reading of the worst sample; the others: mean of the samples."), counts, NULL);
  wb_chart_set_font_family (chart, context.options.font_family);
  g_array_unref (life.cells);
  return chart;
}
