/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-life.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-figure-private.h"
#include "wb-plot-life-limits-private.h"
#include "wb-plot-life-private.h"
#include "wb-plot-lines-private.h"
#include "wb-plot-words-private.h"

#define MOST_CELLS 4
#define MOST_CHOSEN_CELLS 8
/* Below this share of burns with a known fill the life is told in burns. */
#define KNOWN_SHARE 0.8
/* A burn that went out sooner, or before a flame was read, never came to a pool and heat of its own. */
#define LEAST_MIN 60.0
/* Limits that were not tested, named before the rest is counted. */
#define MOST_UNTESTED 2
/* A title of two lines at 720 pt. */
#define MOST_TITLE 190

static const WbPlotTrack tracks[] = {
  { WB_FIGURE_FLAME, TRUE, N_("Highest flame") },
  { WB_FIGURE_VESSEL, TRUE, N_("Hottest vessel wall") },
  { WB_FIGURE_DEPTH, FALSE, N_("Melt-pool depth at the end") },
  { WB_FIGURE_CONSUMPTION, FALSE, N_("Consumption") },
};

gboolean
wb_plot_life_shows (const WbPlotLine  *line,
                    const WbCraftBurn *burn)
{
  /* one that is alight has neither an end nor its hottest moment yet; what it crossed is marked by the limits */
  return burn->cell == line->cell && burn->kind == WB_BURN_STANDARD && !burn->alight && wb_plot_context_sample_counts (line->context, burn->sample)
         && burn->alight_min >= LEAST_MIN && burn->flame_max_mm > 0.0;
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

GArray *
wb_plot_life_pick_cells (const WbPlotContext *context)
{
  if (context->options.cells != NULL)
    return wb_plot_context_pick_cells (context, G_MAXUINT, MOST_CHOSEN_CELLS);

  g_autoptr (GArray) families = wb_plot_context_pick_families (context, 1);

  return families->len == 0 ? g_array_new (FALSE, FALSE, sizeof (guint)) : pick_cells (context, g_array_index (families, guint, 0));
}

static WbPlotLife
life_of (const GArray *lines)
{
  WbPlotLife life = { lines, FALSE, FALSE, 1, 0.0 };
  guint      known = 0, all = 0;

  for (guint k = 0; k < lines->len; k++)
    {
      const WbPlotLine     *line = &g_array_index (lines, WbPlotLine, k);
      const WbCraftFigures *figures = line->context->answer->figures;

      for (guint i = 0; i < figures->n_burns; i++)
        if (wb_plot_life_shows (line, &figures->burns[i]))
          {
            all++;
            known += !isnan (figures->burns[i].fill_left);
            life.of_life |= figures->thirds[figures->burns[i].sample] == WB_CRAFT_THIRDS_OF_LIFE;
            life.burnt = fmax (life.burnt, 1.0 - figures->burns[i].fill_left);
            life.n_burns = MAX (life.n_burns, (guint) MIN (wb_dataset_get_burn (line->context->data, i)->number, 100000));
          }
    }
  life.by_fill = known > 0 && known >= KNOWN_SHARE * all;
  return life;
}

/*
 * How far down the samples of a cell were burnt: least share of the fill left, NaN unknown. `of_life`: of every burnt one it
 * is known as a share of its own life alone, which each of them ended; of some only, these tell nothing of the wax.
 */
static double
get_life_left (const WbPlotContext *context,
               guint                cell,
               gboolean            *of_life)
{
  const WbCraftFigures *figures = context->answer->figures;
  double                left = NAN;
  guint                 burnt = 0, ended = 0;

  for (guint i = 0; i < figures->n_samples; i++)
    {
      if (g_array_index (context->data->sample_cell, guint, i) != cell || !wb_plot_context_sample_counts (context, i)
          || figures->thirds[i] == WB_CRAFT_THIRDS_NOT_BURNT)
        continue;
      burnt++;
      if (figures->thirds[i] == WB_CRAFT_THIRDS_OF_LIFE)
        ended++;
      else
        left = fmin (left, figures->life_left[i]);
    }
  *of_life = burnt > 0 && ended == burnt;
  return left;
}

static double
get_worst (const WbPlotLine *line,
           WbFigure          figure)
{
  const WbCraftFigures *figures = line->context->answer->figures;
  double                worst = NAN;

  for (guint i = 0; i < figures->n_burns; i++)
    if (wb_plot_life_shows (line, &figures->burns[i]))
      worst = fmax (worst, wb_craft_burn_get (&figures->burns[i], figure, TRUE));
  return worst;
}

/* "hottest wall 64 °C, highest flame 22 mm"; "" where neither was read. */
static char *
dup_extremes (const WbPlotLine *line)
{
  double           wall = get_worst (line, WB_FIGURE_VESSEL), flame = get_worst (line, WB_FIGURE_FLAME);
  g_autofree char *hottest = isnan (wall) ? NULL : wb_plot_dup_figure (line->context, WB_FIGURE_VESSEL, wall);
  g_autofree char *highest = isnan (flame) ? NULL : wb_plot_dup_figure (line->context, WB_FIGURE_FLAME, flame);

  if (hottest != NULL && highest != NULL)
    return g_strdup_printf (_("hottest wall %s, highest flame %s"), hottest, highest);
  if (hottest != NULL)
    return g_strdup_printf (_("hottest wall %s"), hottest);
  if (highest != NULL)
    return g_strdup_printf (_("highest flame %s"), highest);
  return g_strdup ("");
}

static char *
dup_with_untested (const char *clause,
                   const char *untested)
{
  /* Translators: what was found; limits, "outside base of the vessel, black smoke and 2 more" */
  return *untested == '\0' ? g_strdup (clause) : g_strdup_printf (_("%s; not tested: %s"), clause, untested);
}

/* Whether a life was seen down to its lower third, where a candle is hottest. */
static gboolean
is_burnt_down (const WbPlotLine *line)
{
  gboolean of_life;
  double   left = get_life_left (line->context, line->cell, &of_life);

  return of_life || left <= 1.0 / 3.0;
}

/* "L-1 crosses no limit over its whole life: hottest wall 64 °C": only where each limit was tested over that life, and none crossed. */
static char *
dup_passed (const WbPlotLine *line,
            const char       *extremes)
{
  const char      *name = line->name;
  gboolean         of_life;
  double           left = get_life_left (line->context, line->cell, &of_life);
  g_autofree char *share = isnan (left) ? NULL : wb_quantity_format (WB_UNIT_PERCENT, 100.0 * CLAMP (left, 0.0, 1.0), 0);

  if (of_life)
    return g_strdup_printf (_("%s crosses no limit over its whole life: %s"), name, extremes);
  if (share == NULL)
    /* Translators: a wick's name; extremes */
    return g_strdup_printf (_("%s crosses no limit: %s"), name, extremes);
  if (left > 1.0 / 3.0)
    return g_strdup_printf (_("%s crosses no limit so far, with %s of its wax left: %s"), name, share, extremes);
  /* Translators: a wick's name; per cent of its wax left; extremes */
  return g_strdup_printf (_("%s crosses no limit down to the last %s of its wax: %s"), name, share, extremes);
}

/* Some limits were not tested, or not over the whole life: nothing is said of more than what was read. */
static char *
dup_as_read (const WbPlotLine *line)
{
  const char      *name = line->name;
  gboolean         of_life;
  double           left = get_life_left (line->context, line->cell, &of_life);
  g_autofree char *share = of_life || isnan (left) ? NULL : wb_quantity_format (WB_UNIT_PERCENT, 100.0 * CLAMP (left, 0.0, 1.0), 0);

  if (share == NULL)
    /* Translators: a wick's name */
    return g_strdup_printf (_("%s: no limit crossed in what was read"), name);
  if (left > 1.0 / 3.0)
    /* Translators: a wick's name; per cent of its wax left */
    return g_strdup_printf (_("%s: no limit crossed so far in what was read, with %s of its wax left"), name, share);
  /* Translators: a wick's name; per cent of its wax left */
  return g_strdup_printf (_("%s: no limit crossed in what was read down to the last %s of its wax"), name, share);
}

/* brief: of what was not tested one is named, and no extremes are told. */
static char *
dup_calm (const WbPlotLine       *line,
          const WbPlotLifeLimits *limits,
          gboolean                brief)
{
  g_autofree char      *extremes = dup_extremes (line), *found = NULL, *clause = NULL, *untested = NULL;
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  if (*extremes == '\0')
    return g_strdup_printf (_("%s was not read yet"), line->name);
  if (limits->passed)
    return dup_passed (line, extremes);
  found = dup_as_read (line);
  clause = brief ? g_steal_pointer (&found) : g_strdup_printf (_("%s; %s"), found, extremes);
  wb_plot_life_limits_add_untested (limits, line, is_burnt_down (line), names);
  untested = wb_plot_life_limits_dup_names (names, brief ? 1 : MOST_UNTESTED);
  return dup_with_untested (clause, untested);
}

static char *
dup_clause (const WbPlotLine *line,
            gboolean          brief)
{
  g_auto (WbPlotLifeLimits) limits = { 0 };

  wb_plot_life_limits_init (&limits, line);
  return limits.crossing != NULL ? g_steal_pointer (&limits.crossing) : dup_calm (line, &limits, brief);
}

static WbPlotCrossed
get_crossed (const WbPlotLine *line)
{
  g_auto (WbPlotLifeLimits) limits = { 0 };

  wb_plot_life_limits_init (&limits, line);
  return limits.crossed;
}

/* The first of the lines that crossed most gravely; NULL where none crossed. */
static const WbPlotLine *
find_crossed (const GArray *lines)
{
  const WbPlotLine *found = NULL;
  WbPlotCrossed     most = WB_PLOT_CROSSED_NONE;

  for (guint i = 0; i < lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (lines, WbPlotLine, i);
      WbPlotCrossed     crossed = get_crossed (line);

      if (crossed > most)
        {
          most = crossed;
          found = line;
        }
    }
  return found;
}

/* Two clauses as a title: what was not tested at length only where there is room. */
static char *
dup_pair (const WbPlotLine *first,
          const WbPlotLine *second)
{
  g_autofree char *title = NULL;

  for (int brief = 0; brief < 2; brief++)
    {
      g_autofree char *clause = dup_clause (first, brief), *other = second != NULL ? dup_clause (second, brief) : NULL;

      g_free (title);
      title = other != NULL ? g_strdup_printf (_("%s; %s"), clause, other) : g_steal_pointer (&clause);
      if (g_utf8_strlen (title, -1) <= MOST_TITLE)
        break;
    }
  return g_steal_pointer (&title);
}

/* The line that crossed, and of the others the first that did not. */
static char *
dup_crossed_title (const GArray     *lines,
                   const WbPlotLine *crossed)
{
  const WbPlotLine *calm = NULL;

  for (guint i = 0; i < lines->len && calm == NULL; i++)
    if (get_crossed (&g_array_index (lines, WbPlotLine, i)) == WB_PLOT_CROSSED_NONE)
      calm = &g_array_index (lines, WbPlotLine, i);
  return dup_pair (crossed, calm);
}

/* lines: the leading one first. What crossed a limit is told before it: of a title that is cut, its end goes. */
static char *
dup_title (const GArray *lines)
{
  if (lines->len == 0)
    return g_strdup (_("No combination to show"));

  const WbPlotLine *leader = &g_array_index (lines, WbPlotLine, 0), *crossed = find_crossed (lines);

  return crossed != NULL && get_crossed (crossed) > get_crossed (leader) ? dup_pair (crossed, leader) : dup_pair (leader, NULL);
}

/* The line with the hottest wall, or the coolest, of those burnt down or of those that are not; NULL where none was read. */
static const WbPlotLine *
find_wall (const GArray *lines,
           gboolean      hottest,
           gboolean      down)
{
  const WbPlotLine *found = NULL;
  double            best = NAN;

  for (guint i = 0; i < lines->len; i++)
    {
      const WbPlotLine *line = &g_array_index (lines, WbPlotLine, i);
      double            wall = get_worst (line, WB_FIGURE_VESSEL);

      if (isnan (wall) || is_burnt_down (line) != down || (found != NULL && (hottest ? wall <= best : wall >= best)))
        continue;
      best = wall;
      found = line;
    }
  return found;
}

/* What was not tested of any of the lines; "" where nothing is to be named. */
static char *
dup_untested (const GArray *lines)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < lines->len; i++)
    {
      const WbPlotLine         *line = &g_array_index (lines, WbPlotLine, i);
      g_auto (WbPlotLifeLimits) limits = { 0 };

      wb_plot_life_limits_init (&limits, line);
      wb_plot_life_limits_add_untested (&limits, line, is_burnt_down (line), names);
    }
  return wb_plot_life_limits_dup_names (names, 1);
}

static char *
dup_walls (const GArray     *lines,
           const WbPlotLine *hot,
           const WbPlotLine *cool,
           gboolean          down)
{
  g_autofree char *hottest = wb_plot_dup_figure (hot->context, WB_FIGURE_VESSEL, get_worst (hot, WB_FIGURE_VESSEL));
  g_autofree char *coolest = wb_plot_dup_figure (cool->context, WB_FIGURE_VESSEL, get_worst (cool, WB_FIGURE_VESSEL));
  g_autofree char *untested = dup_untested (lines);
  /* Translators: a name; the highest temperature of its vessel; another name; the same of that */
  g_autofree char *walls = g_strdup_printf (down ? _("%s gets hottest at the wall, %s, %s stays at %s; no limit is crossed in what was read")
                                                 : _("%s gets hottest at the wall so far, %s, %s stays at %s; no limit is crossed in what was read"),
                                            hot->name, hottest, cool->name, coolest);

  return dup_with_untested (walls, untested);
}

/* Side by side: who crosses a limit, else who gets hottest and who stays coolest. */
static char *
dup_beside_title (const GArray *lines)
{
  const WbPlotLine *hot = find_wall (lines, TRUE, TRUE), *young = find_wall (lines, TRUE, FALSE), *crossed = find_crossed (lines);

  if (crossed != NULL)
    return dup_crossed_title (lines, crossed);
  /* A candle that is not burnt down is no match for one that is: it has its hottest burns before it. */
  if (hot != NULL && young != NULL)
    return dup_pair (hot, young);
  if (hot == NULL && young == NULL)
    return dup_title (lines);

  const WbPlotLine *cool = find_wall (lines, FALSE, hot != NULL);
  const WbPlotLine *hottest = hot != NULL ? hot : young;

  return hottest == cool ? dup_title (lines) : dup_walls (lines, hottest, cool, hot != NULL);
}

static char *
dup_description (const GArray *lines,
                 const char   *title)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title,
                          _("Highest flame and hottest vessel wall of the worst sample, mean depth and consumption, over the candle's life, with the limits. "
                            "“Look from” is where the maker looks closer, before a limit is crossed."));
  for (guint i = 0; i < lines->len; i++)
    {
      g_autofree char *clause = dup_clause (&g_array_index (lines, WbPlotLine, i), FALSE);

      g_string_append_printf (text, " %s.", clause);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_counts (const GArray *lines)
{
  guint burns = 0, samples = 0;

  for (guint k = 0; k < lines->len; k++)
    {
      const WbPlotLine     *line = &g_array_index (lines, WbPlotLine, k);
      const WbCraftFigures *figures = line->context->answer->figures;
      guint                 last = G_MAXUINT;

      for (guint i = 0; i < figures->n_burns; i++)
        if (wb_plot_life_shows (line, &figures->burns[i]))
          {
            burns++;
            /* Burns stand by sample. */
            samples += figures->burns[i].sample != last;
            last = figures->burns[i].sample;
          }
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

static gboolean
check_figure (int      figure,
              GError **error)
{
  if (figure < 0 || has_track (figure))
    return TRUE;
  g_set_error (error, WB_PLOT_ERROR, WB_PLOT_ERROR_FIGURE, "%s is not a figure of a single burn", wb_figure_get_key (figure));
  return FALSE;
}

static void
add_panels (const WbPlotLife *life,
            WbChart          *chart,
            int               figure)
{
  WbPlotTrack track = { figure, figure == WB_FIGURE_FLAME || figure == WB_FIGURE_VESSEL, NULL };

  if (figure < 0)
    {
      for (guint i = 0; i < G_N_ELEMENTS (tracks); i++)
        wb_plot_life_add_panel (life, chart, &tracks[i], i, 2);
      return;
    }
  track.label = wb_figure_get_label (figure);
  for (guint i = 0; i < G_N_ELEMENTS (tracks); i++)
    if (tracks[i].figure == track.figure)
      track = tracks[i];
  wb_plot_life_add_panel (life, chart, &track, 0, 1);
}

/* told: the lines with the leading one first; lines: in the order of the chart; where: what all have in common, or "". */
static WbChart *
life_new (const WbPlotContext *context,
          const char          *title,
          const GArray        *told,
          const GArray        *lines,
          const char          *where)
{
  WbPlotLife       life = life_of (lines);
  g_autofree char *description = dup_description (told, title);
  g_autofree char *counts = dup_counts (lines);
  WbChart         *chart = wb_chart_new (title, description);

  wb_chart_set_share (chart, WB_CHART_SHARE_X);
  if (lines->len == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No combination to show"));
  else
    add_panels (&life, chart, context->options.figure);
  wb_plot_set_footnote (context, chart, where, _("Flame and vessel: worst reading of the worst sample; the others: mean of the samples. Band: from the lowest sample to the highest."), counts, NULL);
  wb_chart_set_font_family (chart, context->options.font_family);
  return chart;
}

WbChart *
wb_plot_life_new_lines (const GArray *lines,
                        GError      **error)
{
  const WbPlotContext *context = g_array_index (lines, WbPlotLine, 0).context;

  g_autofree char     *title = dup_beside_title (lines);

  return check_figure (context->options.figure, error) ? life_new (context, title, lines, lines, "") : NULL;
}

WbChart *
wb_plot_life_new (const WbCraftAnswer *answer,
                  const WbPlotOptions *options,
                  GError             **error)
{
  g_auto (WbPlotContext) context = { 0 };

  if (!wb_plot_context_init (&context, answer, options, error) || !check_figure (context.options.figure, error))
    return NULL;

  g_autoptr (GArray) cells = wb_plot_life_pick_cells (&context);
  gboolean           whole = wb_plot_context_mixes (&context, cells);
  g_autoptr (GArray) told = wb_plot_lines_new_cells (&context, cells, whole);
  g_autofree char   *title = dup_title (told);
  g_autofree char   *where = wb_plot_dup_common_family (&context, cells);

  wb_plot_cells_sort (cells);

  g_autoptr (GArray) lines = wb_plot_lines_new_cells (&context, cells, whole);

  return life_new (&context, title, told, lines, where);
}
