/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-plot-ladder.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-plot-words-private.h"

#define MOST_COLUMNS 4
/* Series beside each other, and rungs of one: more could not be read. */
#define MOST_SERIES  8
#define MOST_RUNGS   12

/* Points: title, key and footnote; a vessel's head; a rung. */
#define AROUND 110.0
#define HEAD   40.0
#define RUNG   19.0

/* One series: a stretch of the ladder's steps. */
typedef struct
{
  guint  first, n;
  double chance;   /* that the best is on it */
} Rail;

typedef struct
{
  const WbCraftLadder *ladder;
  WbPlotContext        context;  /* its units alone */
  guint                n_columns;
  GArray              *rails;    /* Rail, in the ladder's order */
  guint                left_out; /* wicks that no rung shows */
  gboolean             both;     /* places of the fill, a row each, named in its titles */
} Drawing;

static const WbCraftLadderStep *
get_step (const WbCraftLadder *ladder,
          guint                index)
{
  return g_ptr_array_index (ladder->steps, index);
}

/* What is foretold of the wick there: the whole fill's where the top was not told apart. */
static WbCraftForetoldAt
get_foretold (const WbCraftLadderStep *step,
              WbCraftFillPlace         place)
{
  WbCraftForetoldAt at = step->at[place];

  if (place == WB_CRAFT_FILL_TOP && isnan (at.pool_limit_mm.value))
    {
      at.pool_limit_mm = step->pool_limit_mm;
      at.full_pool_h = step->full_pool_h;
    }
  return at;
}

static gboolean
is_known (const Drawing *self)
{
  return self->ladder->question.inner_diameter_mm > 0;
}

static gboolean
has_several_series (const WbCraftLadder *ladder)
{
  for (guint i = 1; i < ladder->steps->len; i++)
    if (g_strcmp0 (get_step (ladder, i)->series, get_step (ladder, 0)->series) != 0)
      return TRUE;
  return FALSE;
}

static char *
dup_name (const WbCraftLadder     *ladder,
          const WbCraftLadderStep *step)
{
  return has_several_series (ladder) ? g_strdup_printf ("%s %s", step->series, step->size) : g_strdup (step->size);
}

/* ---- Vessels ---- */

static gboolean
reaches_wall (const Drawing           *self,
              const WbCraftForetoldAt *at)
{
  return at->pool_limit_mm.value >= self->ladder->question.inner_diameter_mm;
}

/* What the pool does, without the wick's name. */
static char *
dup_result (const Drawing           *self,
            const WbCraftForetoldAt *at)
{
  g_autofree char *told = NULL;

  if (isnan (at->pool_limit_mm.value))
    return g_strdup (_("not foretold"));
  if (!reaches_wall (self, at))
    {
      told = wb_plot_dup_interval (&self->context, WB_FIGURE_POOL_LIMIT, at->pool_limit_mm);
      /* Translators: a diameter with its interval */
      return g_strdup_printf (_("no farther than %s"), told);
    }
  if (isnan (at->full_pool_h.value))
    return g_strdup (_("to the wall"));
  told = wb_plot_dup_interval (&self->context, WB_FIGURE_FULL_POOL, at->full_pool_h);
  /* Translators: a time with its interval */
  return g_strdup_printf (_("full after %s"), told);
}

/* The share of the foretold pool that each of several wicks makes: they share the vessel's section evenly (common practice), so that
 * each one's circle is 1 ÷ √n as wide. */
static double
get_share (const Drawing *self)
{
  return 1.0 / sqrt (MAX (self->ladder->question.wicks, 1));
}

/* Several wicks stand evenly on a ring; its radius, mm, is such that the circles that each has to fill reach the wall. One stands in
 * the middle: 0. */
static double
get_ring_radius (const Drawing *self)
{
  return self->ladder->question.wicks > 1 ? self->ladder->question.inner_diameter_mm / 2.0 * (1.0 - get_share (self)) : 0.0;
}

/* The pool that one of several wicks makes, around its place. What the limit is of the whole vessel the first one's note says. */
static void
add_shared_pools (const Drawing           *self,
                  WbChartPanel            *panel,
                  const char              *name,
                  const WbCraftForetoldAt *at,
                  const char              *note)
{
  guint  n = self->ladder->question.wicks;
  double radius = get_ring_radius (self), share = get_share (self), most = self->ladder->question.inner_diameter_mm * share;
  double diameter = fmin (at->pool_limit_mm.value * share, most);
  double low = fmin (at->pool_limit_mm.low * share, most);
  double high = isnan (at->pool_limit_mm.high) ? most : fmin (at->pool_limit_mm.high * share, most);
  guint8 mark = reaches_wall (self, at) ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;

  for (guint i = 0; i < n; i++)
    {
      double        angle = G_PI / 2.0 + 2.0 * G_PI * i / n;
      /* named once: they are alike */
      const char   *notes[] = { i == 0 ? note : NULL };
      WbChartLayer *layer = wb_chart_layer_add_rings (panel, name, 0, radius * cos (angle), radius * sin (angle), 1, &diameter, NULL);

      wb_chart_layer_set_marks (layer, 1, &mark);
      if (i == 0)
        wb_chart_layer_set_notes (layer, 1, notes);
      if (isfinite (at->pool_limit_mm.low))
        wb_chart_layer_set_ring_band (layer, 1, &low, &high);
    }
}

/* The pool ends at the wall, wherever its limit lies beyond. */
static void
add_pool (const Drawing           *self,
          WbChartPanel            *panel,
          const char              *name,
          const WbCraftForetoldAt *at)
{
  double           inner = self->ladder->question.inner_diameter_mm;
  double           diameter = fmin (at->pool_limit_mm.value, inner);
  double           low = fmin (at->pool_limit_mm.low, inner), high = isnan (at->pool_limit_mm.high) ? inner : fmin (at->pool_limit_mm.high, inner);
  guint8           mark = reaches_wall (self, at) ? WB_CHART_MARK_AT_LEAST : WB_CHART_MARK_PLAIN;
  g_autofree char *limit = wb_plot_dup_interval (&self->context, WB_FIGURE_POOL_LIMIT, at->pool_limit_mm);
  g_autofree char *full = wb_plot_dup_interval (&self->context, WB_FIGURE_FULL_POOL, at->full_pool_h);
  /* Translators: a diameter and a time, each with its interval */
  g_autofree char *note = *full != '\0' ? g_strdup_printf (_("limit of the pool %s, full melt pool %s"), limit, full)
                                        : g_strdup_printf (_("limit of the pool %s"), limit);
  g_autofree char *label = reaches_wall (self, at) ? g_strdup ("") : wb_plot_dup_figure (&self->context, WB_FIGURE_POOL_LIMIT, diameter);
  const char      *labels[] = { label }, *notes[] = { note };
  WbChartLayer    *layer;

  if (self->ladder->question.wicks > 1)
    {
      add_shared_pools (self, panel, name, at, note);
      return;
    }
  layer = wb_chart_layer_add_rings (panel, name, 0, 0.0, 0.0, 1, &diameter, labels);
  wb_chart_layer_set_marks (layer, 1, &mark);
  wb_chart_layer_set_notes (layer, 1, notes);
  if (isfinite (at->pool_limit_mm.low))
    wb_chart_layer_set_ring_band (layer, 1, &low, &high);
}

static void
add_vessel (const Drawing           *self,
            WbChart                 *chart,
            const WbCraftLadderStep *step,
            WbCraftFillPlace         place,
            guint                    index,
            guint                    first_row)
{
  WbCraftForetoldAt at = get_foretold (step, place);
  g_autofree char  *name = dup_name (self->ladder, step);
  g_autofree char  *result = dup_result (self, &at);
  /* Translators: where in the fill; a wick; what its pool does */
  g_autofree char  *title = !self->both ? g_strdup_printf ("%s: %s", name, result)
                            : place == WB_CRAFT_FILL_TOP ? g_strdup_printf (_("Top, %s: %s"), name, result) : g_strdup_printf (_("Bottom, %s: %s"), name, result);
  WbChartPanel     *panel = wb_chart_add_panel (chart, first_row + index / self->n_columns, index % self->n_columns, title);
  double            inner = self->ladder->question.inner_diameter_mm;
  g_autofree char  *diameter = wb_plot_dup_set_value (&self->context, WB_UNIT_MM, inner);
  g_autofree char  *label = g_strdup_printf (_("wall, %s"), diameter);

  wb_chart_axis_set_unit (wb_chart_panel_get_x (panel), self->context.options.units[WB_QUANTITY_LENGTH]);
  wb_chart_axis_set_unit (wb_chart_panel_get_y (panel), self->context.options.units[WB_QUANTITY_LENGTH]);
  wb_chart_layer_add_wall (panel, label, 0.0, 0.0, inner, inner);
  /* the title says it: in a small panel the words would lie on the scale */
  wb_chart_panel_set_empty_text (panel, "");
  if (!isnan (at.pool_limit_mm.value))
    add_pool (self, panel, name, &at);
}

/* Returns the row below. */
static guint
add_vessels (const Drawing   *self,
             WbChart         *chart,
             WbCraftFillPlace place,
             guint            first_row)
{
  guint n = 0;

  for (guint i = 0; i < self->ladder->steps->len; i++)
    if (get_step (self->ladder, i)->in_ladder)
      add_vessel (self, chart, get_step (self->ladder, i), place, n++, first_row);
  return first_row + (n + self->n_columns - 1) / self->n_columns;
}

/* ---- Rungs ---- */

/* Rows of a stretch that the run takes: its largest size is on top. */
static void
outline_run (const Drawing *self,
             const Rail    *rail,
             WbChartPanel  *panel)
{
  int lowest = -1, highest = -1;

  for (guint row = 0; row < rail->n; row++)
    if (get_step (self->ladder, rail->first + rail->n - 1 - row)->in_run)
      {
        lowest = lowest < 0 ? (int) row : lowest;
        highest = (int) row;
      }
  if (lowest >= 0)
    wb_chart_layer_add_region (panel, _("best neighbours"), WB_CHART_RULE_REFERENCE, WB_CHART_Y, lowest - 0.5, highest + 0.5);
}

static void
label_rungs (const Drawing *self,
             const Rail    *rail,
             WbChartPanel  *panel)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  WbChartAxis          *x = wb_chart_panel_get_x (panel);

  for (guint row = 0; row < rail->n; row++)
    {
      const WbCraftLadderStep *step = get_step (self->ladder, rail->first + rail->n - 1 - row);

      g_ptr_array_add (names, step->in_ladder ? g_strdup_printf ("★ %s", step->size) : g_strdup (step->size));
    }
  g_ptr_array_add (names, NULL);
  wb_chart_axis_set_categories (wb_chart_panel_get_y (panel), (const char *const *) names->pdata);
  wb_chart_axis_set_label (x, _("Chance"));
  wb_chart_axis_set_chance (x, TRUE);
  wb_chart_axis_set_range (x, 0.0, 1.0);
}

static void
add_rail (const Drawing *self,
          const Rail    *rail,
          WbChart       *chart,
          guint          row,
          guint          column)
{
  WbChartPanel       *panel = wb_chart_add_panel (chart, row, column, get_step (self->ladder, rail->first)->series);
  g_autofree double  *best = g_new (double, 2 * (gsize) rail->n), *right = g_new (double, rail->n), *at = g_new (double, rail->n);
  /* Translators: the chance that a wick is the best, of those on the wick ladder and of the others */
  const char *const   parts[] = { _("the best, on the ladder"), _("the best, not on it") };

  for (guint i = 0; i < rail->n; i++)
    {
      const WbCraftLadderStep *step = get_step (self->ladder, rail->first + rail->n - 1 - i);

      best[2 * i] = step->in_ladder ? step->p_best : NAN;
      best[2 * i + 1] = step->in_ladder ? NAN : step->p_best;
      right[i] = step->p_right;
      at[i] = i;
    }
  label_rungs (self, rail, panel);
  outline_run (self, rail, panel);
  wb_chart_layer_add_bars (panel, WB_CHART_PARTS_REST, rail->n, G_N_ELEMENTS (parts), parts, best, NULL);
  wb_chart_layer_add_points (panel, _("right for the vessel"), WB_CHART_SERIES_NONE, rail->n, right, at, WB_CHART_X, NULL, NULL);
  wb_chart_panel_set_empty_text (panel, _("No chances are known"));
}

/* Of a long series the stretch that most likely holds the best, by windows of MOST_RUNGS. */
static void
shorten (Drawing *self,
         Rail    *rail)
{
  double most = -1.0;
  guint  first = rail->first, end = rail->first + rail->n;

  if (rail->n <= MOST_RUNGS)
    return;
  for (guint from = rail->first; from + MOST_RUNGS <= end; from++)
    {
      double sum = 0.0;

      for (guint i = from; i < from + MOST_RUNGS; i++)
        sum += (isnan (get_step (self->ladder, i)->p_best) ? 0.0 : get_step (self->ladder, i)->p_best) + get_step (self->ladder, i)->in_ladder;
      if (sum > most)
        {
          most = sum;
          first = from;
        }
    }
  self->left_out += rail->n - MOST_RUNGS;
  rail->first = first;
  rail->n = MOST_RUNGS;
}

/* Leaves out the series least likely to hold the best, of those that have no wick on the ladder. */
static void
drop_least (Drawing *self)
{
  guint least = 0;

  for (guint i = 1; i < self->rails->len; i++)
    if (g_array_index (self->rails, Rail, i).chance < g_array_index (self->rails, Rail, least).chance)
      least = i;
  self->left_out += g_array_index (self->rails, Rail, least).n;
  g_array_remove_index (self->rails, least);
}

static void
find_rails (Drawing *self)
{
  const WbCraftLadder *ladder = self->ladder;

  for (guint i = 0, end; i < ladder->steps->len; i = end)
    {
      Rail rail = { .first = i };

      for (end = i; end < ladder->steps->len && g_strcmp0 (get_step (ladder, end)->series, get_step (ladder, i)->series) == 0; end++)
        {
          double best = get_step (ladder, end)->p_best;

          rail.chance += (isnan (best) ? 0.0 : best) + get_step (ladder, end)->in_ladder;
        }
      rail.n = end - i;
      g_array_append_val (self->rails, rail);
    }
  while (self->rails->len > MOST_SERIES)
    drop_least (self);
  for (guint i = 0; i < self->rails->len; i++)
    shorten (self, &g_array_index (self->rails, Rail, i));
}

/* ---- Words ---- */

static guint
count_ladder (const WbCraftLadder *ladder)
{
  guint n = 0;

  for (guint i = 0; i < ladder->steps->len; i++)
    n += get_step (ladder, i)->in_ladder;
  return n;
}

static char *
dup_title (const Drawing *self)
{
  g_autoptr (GString) names = g_string_new (NULL);
  g_autofree char    *chance = NULL;

  for (guint i = 0; i < self->ladder->steps->len; i++)
    if (get_step (self->ladder, i)->in_ladder)
      {
        g_autofree char *name = dup_name (self->ladder, get_step (self->ladder, i));

        g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", name);
      }
  if (names->len == 0)
    return g_strdup (self->ladder->steps->len == 0 ? _("No basis for a wick ladder") : _("No wick known is foretold to be right"));
  if (isnan (self->ladder->p_holds_best))
    /* Translators: names of wicks */
    return g_strdup_printf (_("%s are the sizes to try"), names->str);
  chance = wb_plot_dup_chance (self->ladder->p_holds_best);
  /* Translators: names of wicks; a chance */
  return g_strdup_printf (count_ladder (self->ladder) == 1 ? _("%s is the best wick with a chance of %s")
                                                           : _("%s: the best wick is one of them with a chance of %s"), names->str, chance);
}

static void
append_step (const Drawing           *self,
             GString                 *text,
             const WbCraftLadderStep *step,
             WbPlotLadderPlaces       places)
{
  g_autofree char *name = dup_name (self->ladder, step), *best = wb_plot_dup_chance (step->p_best), *right = wb_plot_dup_chance (step->p_right);

  g_string_append_printf (text, " %s:", name);
  for (guint place = 0; place < WB_CRAFT_N_FILLS; place++)
    {
      WbCraftForetoldAt at = get_foretold (step, place);
      g_autofree char  *result = dup_result (self, &at);

      if (places == WB_PLOT_LADDER_BOTH || (guint) places == place)
        /* Translators: what the pool does, "full after 3.1 h" */
        g_string_append_printf (text, place == WB_CRAFT_FILL_TOP ? _(" at the top %s;") : _(" at the bottom %s;"), result);
    }
  /* Translators: two chances */
  g_string_append_printf (text, _(" the best of all %s, right %s."), best, right);
}

static char *
dup_description (const Drawing     *self,
                 const char        *title,
                 WbPlotLadderPlaces places)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s. %s", title, _("The vessel from above, to scale, with the foretold pool of each wick on the ladder; below, every series with the chance of each size."));
  for (guint i = 0; i < self->ladder->steps->len; i++)
    if (get_step (self->ladder, i)->in_ladder)
      append_step (self, text, get_step (self->ladder, i), places);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_footnote (const Drawing     *self,
              WbPlotLadderPlaces places,
              gboolean           invented)
{
  static const char *const at[] = {
    N_("The pool at the top of the fill: its limit; shaded, nine cases in ten; dashed, at the wall."),
    N_("The pool at the bottom of the fill: its limit; shaded, nine cases in ten; dashed, at the wall."),
    N_("The pool at the top of the fill, and below at its bottom: its limit; shaded, nine cases in ten; dashed, at the wall."),
  };
  g_autoptr (GString) text = g_string_new (_(at[places]));

  g_string_append_printf (text, " %s", _("★ on the ladder. Foretold, not tested."));
  if (self->ladder->shares_vessel)
    g_string_append_printf (text, " %s", _("Each wick at its place, with its own pool; they are taken to share the vessel evenly (common practice); dashed, its whole share."));
  if (self->left_out > 0)
    g_string_append_printf (text, g_dngettext (GETTEXT_PACKAGE, " %u wick more is not shown.", " %u wicks more are not shown.", self->left_out), self->left_out);
  if (invented)
    g_string_append_printf (text, " %s", _("Invented data."));
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* ---- The chart ---- */

gboolean
wb_plot_ladder_can_draw (const WbCraftLadder *ladder)
{
  g_return_val_if_fail (ladder != NULL, FALSE);

  for (guint i = 0; i < ladder->steps->len; i++)
    {
      const WbCraftLadderStep *step = get_step (ladder, i);

      if (isfinite (step->p_best) || isfinite (step->p_right) || isfinite (get_foretold (step, WB_CRAFT_FILL_TOP).pool_limit_mm.value))
        return TRUE;
    }
  return FALSE;
}

static void
add_panels (const Drawing     *self,
            WbChart           *chart,
            WbPlotLadderPlaces places)
{
  guint row = 0;

  if (is_known (self) && places != WB_PLOT_LADDER_BOTTOM)
    row = add_vessels (self, chart, WB_CRAFT_FILL_TOP, row);
  if (is_known (self) && places != WB_PLOT_LADDER_TOP)
    row = add_vessels (self, chart, WB_CRAFT_FILL_BOTTOM, row);
  for (guint i = 0; i < self->rails->len; i++)
    add_rail (self, &g_array_index (self->rails, Rail, i), chart, row + i / self->n_columns, i % self->n_columns);
  if (wb_chart_get_n_panels (chart) == 0)
    wb_chart_panel_set_empty_text (wb_chart_add_panel (chart, 0, 0, NULL), _("No wick is known that could be tried"));
}

WbChart *
wb_plot_ladder_new (const WbCraftLadder *ladder,
                    WbPlotLadderPlaces   places,
                    gboolean             us_units,
                    gboolean             invented)
{
  Drawing          self = { .ladder = ladder };
  g_autofree char *title = NULL, *description = NULL, *footnote = NULL;
  WbChart         *chart;

  g_return_val_if_fail (ladder != NULL, NULL);

  wb_plot_options_init (&self.context.options, us_units);
  self.both = places == WB_PLOT_LADDER_BOTH;
  self.rails = g_array_new (FALSE, FALSE, sizeof (Rail));
  find_rails (&self);
  self.n_columns = CLAMP (MAX (count_ladder (ladder), self.rails->len), 1, MOST_COLUMNS);
  title = dup_title (&self);
  description = dup_description (&self, title, places);
  footnote = dup_footnote (&self, places, invented);
  chart = wb_chart_new (title, description);
  wb_chart_set_share (chart, WB_CHART_SHARE_NONE);
  add_panels (&self, chart, places);
  wb_chart_set_footnote (chart, footnote);
  g_array_unref (self.rails);
  return chart;
}

double
wb_plot_ladder_get_height (const WbChart *chart,
                           double         width)
{
  guint n_rungs = 3, n_rows, n_columns;

  g_return_val_if_fail (chart != NULL, width);

  n_rows = MAX (wb_chart_get_n_rows (chart), 1);
  n_columns = MAX (wb_chart_get_n_columns (chart), 2);
  for (guint i = 0; i < wb_chart_get_n_panels (chart); i++)
    n_rungs = MAX (n_rungs, wb_chart_axis_get_n_categories (wb_chart_panel_get_y (wb_chart_get_panel (chart, i))));
  /* all rows are as high as the highest */
  return AROUND + n_rows * (HEAD + CLAMP (width / n_columns - 20.0, n_rungs * RUNG, fmax (n_rungs * RUNG, 220.0)));
}
