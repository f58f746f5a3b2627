/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-beside.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-aims-private.h"
#include "wb-craft-beside-conditions.h"
#include "wb-craft-beside-private.h"
#include "wb-craft-burn-private.h"
#include "wb-craft-verdict-private.h"

/* An interval of 90 % leaves so much above its upper end. */
#define UPPER 0.95

static const char *const mark_labels[] = {
  N_("not read"), "", N_("not told apart"), N_("better"), N_("worse"), N_("in between"),
  /* Translators: of a figure that is nearer to the aim, of a candle that is out all the same; ": nearer to the aim than B3" follows. */
  N_("not better, it crossed a limit"),
};

const char *
wb_craft_beside_mark_get_label (WbCraftBesideMark mark)
{
  g_return_val_if_fail ((guint) mark < G_N_ELEMENTS (mark_labels), "");

  return *mark_labels[mark] == '\0' ? "" : _(mark_labels[mark]);
}

const char *
wb_craft_beside_get_beyond_wall (void)
{
  return _("would reach beyond the wall: the wall stops it");
}

/* Names */

typedef enum { NAME_EXPERIMENT, NAME_VESSEL, NAME_WICK, NAME_SCENT, NAME_SAMPLE, N_NAME_PARTS } NamePart;

static gboolean
of_one_series (const WbCraftPick *picks,
               gsize              n_picks)
{
  for (gsize i = 1; i < n_picks; i++)
    if (g_strcmp0 (wb_dataset_get_wick (picks[i].answer->data, picks[i].cell)->series,
                   wb_dataset_get_wick (picks[0].answer->data, picks[0].cell)->series) != 0)
      return FALSE;
  return TRUE;
}

static char *
dup_part (const WbCraftPick *picks,
          gsize              n_picks,
          gsize              index,
          NamePart           part)
{
  const WbCraftPick *pick = &picks[index];
  const WbDataset   *data = pick->answer->data;

  switch (part)
    {
    case NAME_EXPERIMENT:
      if (data->experiment == NULL)
        return g_strdup ("");
      return g_strdup (data->experiment->code != NULL ? data->experiment->code : data->experiment->title);
    case NAME_VESSEL:
      return wb_material_dup_title (wb_dataset_get_vessel (data, pick->cell));
    case NAME_WICK:
      return of_one_series (picks, n_picks) ? wb_dataset_dup_wick_name (data, pick->cell) : wb_dataset_dup_wick_title (data, pick->cell);
    case NAME_SCENT:
      return wb_dataset_dup_scent_name (data, pick->cell);
    case NAME_SAMPLE:
      return pick->sample < 0 ? g_strdup ("") : g_strdup (wb_dataset_get_sample (data, pick->sample)->code);
    case N_NAME_PARTS:
    default:
      g_return_val_if_reached (NULL);
    }
}

/* Whether the picks differ in a part; of one experiment's picks alone where `within` is its answer. */
static gboolean
part_varies (const WbCraftPick   *picks,
             gsize                n_picks,
             NamePart             part,
             const WbCraftAnswer *within)
{
  g_autofree char *first = NULL;

  for (gsize i = 0; i < n_picks; i++)
    {
      g_autofree char *other = NULL;

      if (within != NULL && picks[i].answer != within)
        continue;
      other = dup_part (picks, n_picks, i, part);
      if (first != NULL && g_strcmp0 (first, other) != 0)
        return TRUE;
      if (first == NULL)
        first = g_steal_pointer (&other);
    }
  return FALSE;
}

/* Where the experiment is told, it tells the vessel and scent that all its picks have: these are left out. */
static gboolean
is_told (const WbCraftPick *picks,
         gsize              n_picks,
         gsize              index,
         NamePart           part)
{
  const WbCraftPick *pick = &picks[index];

  switch (part)
    {
    case NAME_EXPERIMENT:
      return part_varies (picks, n_picks, part, NULL);
    case NAME_VESSEL:
    case NAME_SCENT:
      return part_varies (picks, n_picks, part, part_varies (picks, n_picks, NAME_EXPERIMENT, NULL) ? pick->answer : NULL);
    case NAME_WICK:
      {
        g_autofree char *wick = dup_part (picks, n_picks, index, part);

        /* a sample's code mostly begins with its wick */
        return pick->sample < 0 || !g_str_has_prefix (wb_dataset_get_sample (pick->answer->data, pick->sample)->code, wick);
      }
    case NAME_SAMPLE:
      return TRUE;
    case N_NAME_PARTS:
    default:
      g_return_val_if_reached (FALSE);
    }
}

char *
wb_craft_pick_dup_name (const WbCraftPick *picks,
                        gsize              n_picks,
                        gsize              index)
{
  g_autoptr (GString) name = g_string_new (NULL);

  g_return_val_if_fail (picks != NULL && index < n_picks, NULL);

  for (NamePart part = 0; part < N_NAME_PARTS; part++)
    {
      g_autofree char *text = dup_part (picks, n_picks, index, part);

      if (text != NULL && *text != '\0' && is_told (picks, n_picks, index, part))
        g_string_append_printf (name, "%s%s", name->len > 0 ? " · " : "", text);
    }
  return g_string_free (g_steal_pointer (&name), FALSE);
}

/* Figures */

static const WbCraftCell *
find_cell (const WbCraftPick *pick)
{
  const WbCraftEstimates *estimates = pick->answer->estimates;

  for (guint i = 0; i < estimates->n_cells; i++)
    if (estimates->cells[i].cell == pick->cell)
      return &estimates->cells[i];
  return NULL;
}

static const WbCraftRanked *
find_ranked (const WbCraftPick *pick)
{
  const WbCraftRanking *ranking = pick->answer->ranking;

  for (guint i = 0; i < ranking->n_groups; i++)
    for (guint k = 0; k < ranking->groups[i].n_cells; k++)
      if (ranking->groups[i].cells[k].cell == pick->cell)
        return &ranking->groups[i].cells[k];
  return NULL;
}

/* A combination is out whichever of its samples crossed the limit. */
static gboolean
has_crossed (const WbCraftPick *pick)
{
  return wb_craft_verdict_has_crossed (pick->answer->limits, pick->cell);
}

static void
read_score (const WbCraftPick   *pick,
            WbCraftBesideFigure *figure)
{
  const WbCraftRanked *ranked = find_ranked (pick);

  if (ranked == NULL)
    return;
  figure->interval = ranked->score;
  figure->samples = ranked->samples;
  figure->burns = ranked->burns;
}

static void
read_growth (const WbCraftGrowth *growth,
             WbFigure             which,
             WbCraftBesideFigure *figure)
{
  figure->interval = which == WB_FIGURE_POOL_LIMIT ? growth->pool_limit_mm : growth->full_pool_h;
  figure->samples = growth->samples;
  figure->burns = growth->burns;
  if (!isnan (figure->interval.value) || growth->readings == 0)
    return;
  figure->never = which == WB_FIGURE_FULL_POOL && !isnan (growth->pool_limit_mm.value);
  figure->lack = figure->never ? _("never") : _("no curve");
}

static void
read_cell (const WbCraftPick      *pick,
           const WbCraftBesideRow *row,
           WbCraftBesideFigure    *figure)
{
  const WbCraftCell *cell = find_cell (pick);
  gboolean           of_stage = row->stage < WB_N_STAGES;

  if (cell == NULL)
    return;
  if (row->figure == WB_FIGURE_FULL_POOL || row->figure == WB_FIGURE_POOL_LIMIT)
    {
      read_growth (of_stage ? &cell->stage_growth[row->stage] : &cell->growth, row->figure, figure);
      figure->beyond = row->figure == WB_FIGURE_POOL_LIMIT
                       && figure->interval.value > wb_craft_cell_get_inner_mm (pick->answer->data, pick->cell, row->stage);
      return;
    }

  const WbCraftEstimate *estimate = !of_stage ? &cell->figure[row->figure]
                                    : row->worst ? &cell->stage_worst[row->stage][row->figure]
                                                 : &cell->stage_figure[row->stage][row->figure];
  if (estimate->samples == 0)
    return;
  figure->interval = estimate->told;
  figure->samples = estimate->samples;
  figure->burns = estimate->burns;
}

static gboolean
burn_tells (const WbCraftPick      *pick,
            const WbCraftBurn      *burn,
            const WbCraftBesideRow *row)
{
  return burn->sample == (guint) pick->sample && wb_craft_burn_speaks (pick->answer->data, burn, row->figure)
         && (row->stage >= WB_N_STAGES || burn->stage == row->stage);
}

/* Between the last look before the wall and the first at it: half way, as nothing else is known. */
static double
get_full_h (const WbCraftBurn *burn)
{
  return isnan (burn->not_full_h) ? burn->full_seen_h : (burn->not_full_h + burn->full_seen_h) / 2.0;
}

/* One candle: the mean of its burns. A figure that every burn would have, but one lacks, has no mean. */
static void
read_sample (const WbCraftPick      *pick,
             const WbCraftBesideRow *row,
             WbCraftBesideFigure    *figure)
{
  const WbCraftFigures *figures = pick->answer->figures;
  double                sum = 0.0, squares = 0.0;
  guint                 n = 0, lacking = 0;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      gboolean           full = row->figure == WB_FIGURE_FULL_POOL;

      if (!burn_tells (pick, burn, row) || (full && (isnan (burn->pool_mm) || burn->ring_held)))
        continue;

      double value = full ? get_full_h (burn) : wb_craft_burn_get (burn, row->figure, row->worst);
      if (isnan (value))
        {
          lacking++;
          continue;
        }
      sum += value;
      squares += value * value;
      n++;
    }
  figure->samples = n > 0;
  figure->burns = n;
  if (row->figure == WB_FIGURE_FULL_POOL && lacking > 0)
    {
      figure->lack = n > 0 ? _("not in every burn") : _("in no burn");
      figure->samples = 1;
      return;
    }
  if (n == 0)
    return;

  double mean = sum / n;
  figure->interval = (WbCraftInterval) { mean, NAN, NAN };
  if (n < 2)
    return;

  double half = wb_calc_student_quantile (UPPER, n - 1) * sqrt (fmax (squares - n * mean * mean, 0.0) / (n - 1) / n);
  figure->interval.low = mean - half;
  figure->interval.high = mean + half;
}

static void
read_figure (const WbCraftPick      *pick,
             const WbCraftBesideRow *row,
             WbCraftBesideFigure    *figure)
{
  *figure = (WbCraftBesideFigure) { WB_CRAFT_INTERVAL_NONE, 0, 0, WB_CRAFT_BESIDE_NOT_READ, FALSE, FALSE, NULL, NULL };
  if (pick->sample >= 0)
    {
      if (row->figure != WB_FIGURE_SCORE && row->figure != WB_FIGURE_POOL_LIMIT)
        read_sample (pick, row, figure);
      else
        figure->lack = _("of all samples only");
    }
  else if (row->figure == WB_FIGURE_SCORE)
    read_score (pick, figure);
  else
    read_cell (pick, row, figure);
  /* What no sentence could carry is none. */
  if (!isfinite (figure->interval.value))
    figure->interval = WB_CRAFT_INTERVAL_NONE;
  if (isnan (figure->interval.value) && figure->lack == NULL)
    figure->lack = _("not read");
}

WbCraftBesideFigure
wb_craft_pick_read (const WbCraftPick *pick,
                    WbFigure           figure,
                    WbStage            stage,
                    gboolean           worst)
{
  WbCraftBesideRow    row = { figure, stage, worst, NULL, NULL };
  WbCraftBesideFigure told;

  read_figure (pick, &row, &told);
  return told;
}

/* Marks */

static gboolean
is_alike_shape (const WbCalcDesirability *a,
                const WbCalcDesirability *b)
{
  return a->zero_below == b->zero_below && a->one_from == b->one_from && a->one_to == b->one_to && a->zero_above == b->zero_above;
}

/* The aim of a figure at a stage; for a whole life the one that its thirds share. FALSE where there is none. */
static gboolean
find_aim (const WbDataset *data,
          WbFigure         figure,
          WbStage          stage,
          WbCraftAim      *found)
{
  g_autoptr (GArray) aims = wb_craft_aims_new (data);
  gboolean           any = FALSE;

  for (guint i = 0; i < aims->len; i++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, i);

      if (aim->figure != figure || (stage < WB_N_STAGES && aim->stage != stage))
        continue;
      if (any && !is_alike_shape (&aim->shape, &found->shape))
        return FALSE;
      if (!any)
        *found = *aim;
      any = TRUE;
    }
  if (any && stage >= WB_N_STAGES)
    {
      found->worst = FALSE;
      found->shape.floor_high = 0.0;
    }
  return any;
}

/* More is better in a score, whatever the profile. */
static const WbCalcDesirability of_score = { 0.0, 1.0, INFINITY, INFINITY, 1.0, 1.0, 0.0, 0.0 };

/* The aim that all picks have in common. */
static gboolean
find_common_aim (const WbCraftPick *picks,
                 gsize              n_picks,
                 WbFigure           figure,
                 WbStage            stage,
                 WbCraftAim        *aim)
{
  if (figure == WB_FIGURE_SCORE)
    {
      *aim = (WbCraftAim) { figure, stage, FALSE, of_score, 1.0 };
      return TRUE;
    }
  for (gsize i = 0; i < n_picks; i++)
    {
      WbCraftAim its;

      if (!find_aim (picks[i].answer->data, figure, stage, &its)
          || (i > 0 && (!is_alike_shape (&its.shape, &aim->shape) || its.worst != aim->worst)))
        return FALSE;
      if (i == 0)
        *aim = its;
    }
  return n_picks > 0;
}

static WbCraftBesideWorth
worth_of (const WbCraftPick         *pick,
          const WbCraftAim          *aim,
          WbStage                    stage,
          const WbCraftBesideFigure *figure)
{
  const WbCraftInterval *interval = &figure->interval;
  double                 value = figure->never ? INFINITY : interval->value;
  double                 low = !isnan (interval->low) ? interval->low : figure->never ? INFINITY : -INFINITY;
  double                 high = isnan (interval->high) ? INFINITY : interval->high;
  /* An aim for the pool is a multiple of when it is due in that vessel. */
  double                 unit = aim->figure == WB_FIGURE_FULL_POOL ? wb_craft_cell_get_due_h (pick->answer->data, pick->cell, stage) : 1.0;

  if (isnan (value) || !(unit > 0.0))
    return (WbCraftBesideWorth) { FALSE, NAN, NAN, NAN, { NAN, NAN } };

  WbCraftBesideWorth worth = { TRUE, wb_calc_desirability_at (&aim->shape, value / unit), NAN, NAN, { low / unit, high / unit } };
  double at_low = wb_calc_desirability_at (&aim->shape, worth.ends[0]), at_high = wb_calc_desirability_at (&aim->shape, worth.ends[1]);
  worth.low = fmin (fmin (at_low, at_high), worth.value);
  worth.high = fmax (fmax (at_low, at_high), worth.value);
  if (worth.ends[0] <= aim->shape.one_to && worth.ends[1] >= aim->shape.one_from)
    worth.high = 1.0;
  return worth;
}

static void
mark_one (WbCraftBesideRow   *row,
          const WbCraftBesideWorth        *worths,
          const WbCraftBeside *self,
          gsize               index,
          gboolean            crossed)
{
  WbCraftBesideFigure *figure = &row->figures[index];
  g_autoptr (GString)  nearer = g_string_new (NULL), farther = g_string_new (NULL);
  guint                others = 0;

  for (gsize i = 0; i < self->n_picks; i++)
    {
      if (i == index || !worths[i].read)
        continue;
      others++;
      if (worths[index].low > worths[i].high)
        wb_craft_beside_append_name (nearer, self->names[i]);
      else if (worths[index].high < worths[i].low)
        wb_craft_beside_append_name (farther, self->names[i]);
    }
  if (others == 0)
    figure->mark = WB_CRAFT_BESIDE_ALONE;
  else if (nearer->len > 0)
    figure->mark = farther->len > 0 ? WB_CRAFT_BESIDE_BETWEEN : crossed ? WB_CRAFT_BESIDE_CROSSED : WB_CRAFT_BESIDE_BETTER;
  else
    figure->mark = farther->len > 0 ? WB_CRAFT_BESIDE_WORSE : WB_CRAFT_BESIDE_ALIKE;
  if (others > 0)
    {
      g_free (figure->why);
      figure->why = wb_craft_beside_dup_why (nearer->str, farther->str, row->figures, worths, self, index);
    }
}

static void
mark_row (WbCraftBesideRow    *row,
          const WbCraftBeside *self,
          const WbCraftPick   *picks,
          const WbCraftAim    *aim)
{
  g_autofree WbCraftBesideWorth *worths = g_new0 (WbCraftBesideWorth, self->n_picks);

  for (gsize i = 0; i < self->n_picks; i++)
    {
      row->figures[i].why = g_strdup ("");
      if (aim != NULL)
        worths[i] = worth_of (&picks[i], aim, row->stage, &row->figures[i]);
      else
        row->figures[i].mark = isnan (row->figures[i].interval.value) && row->figures[i].samples == 0 ? WB_CRAFT_BESIDE_NOT_READ
                                                                                                       : WB_CRAFT_BESIDE_ALONE;
    }
  for (gsize i = 0; aim != NULL && i < self->n_picks; i++)
    if (worths[i].read)
      mark_one (row, worths, self, i, has_crossed (&picks[i]));
    else if (row->figures[i].samples > 0)
      row->figures[i].mark = WB_CRAFT_BESIDE_ALONE;
}

/* Verdicts */

static void
append_line (GString *text,
             char    *line /* taken */)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", line);
  g_free (line);
}

static void
append_crossings (GString           *text,
                  const WbCraftPick *pick)
{
  const WbCraftLimits *limits = pick->answer->limits;

  for (guint i = 0; i < limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (limits, pick->cell, i);
      WbCraftLimit        aside;
      g_autofree char    *seen = NULL;

      if (limit->state == WB_CRAFT_LIMIT_CROSSED)
        {
          seen = wb_craft_limit_dup_text (pick->answer->data, limit);
          /* Translators: what was read, where and over which limit */
          append_line (text, g_strdup_printf (_("limit crossed: %s"), seen));
        }
      else if (limit->set_aside_only)
        {
          aside = wb_craft_limit_get_set_aside (limit);
          seen = wb_craft_limit_dup_text (pick->answer->data, &aside);
          /* Translators: what was read, where and over which limit */
          append_line (text, g_strdup_printf (_("limit crossed by a sample that was set aside: %s"), seen));
        }
    }
}

static void
append_untested (GString           *text,
                 const WbCraftPick *pick)
{
  const WbCraftLimits *limits = pick->answer->limits;
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autofree char     *list = NULL;

  for (guint i = 0; i < limits->n_limits; i++)
    {
      const WbLimit *limit = g_ptr_array_index (pick->answer->data->limits, i);
      const char    *name = g_dgettext (GETTEXT_PACKAGE, wb_craft_limit_get_measure ((WbLimitKind) limit->kind));

      if (wb_craft_limits_get (limits, pick->cell, i)->state == WB_CRAFT_LIMIT_NOT_TESTED
          && !wb_craft_limit_cannot_happen (pick->answer->data, limit, pick->cell)
          && !g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
        g_ptr_array_add (names, (gpointer) name);
    }
  if (names->len == 0)
    return;
  g_ptr_array_add (names, NULL);
  list = g_strjoinv (", ", (char **) names->pdata);
  /* Translators: what limits measure, "flame height, soot" */
  append_line (text, g_strdup_printf (_("limits not tested: %s"), list));
}

/* What stands before every figure: no figure makes up for a limit that was crossed. */
static char *
dup_verdict (const WbCraftPick *pick)
{
  g_autoptr (GString)  text = g_string_new (NULL);
  const WbCraftRanked *ranked = find_ranked (pick);

  if (ranked != NULL)
    {
      const char *label = wb_craft_ranked_get_verdict_label (ranked);

      /* Translators: of a sample: the verdict on the combination that it is of, "not the best" */
      append_line (text, pick->sample < 0 ? g_strdup (label) : g_strdup_printf (_("its combination: %s"), label));
    }
  append_crossings (text, pick);
  append_untested (text, pick);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* Rows */

static char *
dup_label (WbFigure figure,
           WbStage  stage,
           gboolean worst)
{
  const char *label = _(wb_figure_get_label (figure));

  if (figure == WB_FIGURE_SCORE)
    return g_strdup (label);
  if (stage >= WB_N_STAGES)
    /* Translators: a figure of a candle, "Flame" */
    return g_strdup_printf (_("%s, whole life"), label);
  if (worst)
    /* Translators: a figure of a candle, "Flame"; "lower third" */
    return g_strdup_printf (_("%s, %s, at its worst"), label, _(wb_stage_get_label (stage)));
  /* Translators: a figure of a candle, "Flame"; "lower third" */
  return g_strdup_printf (_("%s, %s"), label, _(wb_stage_get_label (stage)));
}

static void
row_clear (gpointer data)
{
  WbCraftBesideRow *row = data;

  g_free (row->label);
  g_free (row->figures);
}

static gboolean
is_read (const WbCraftBesideRow *row,
         gsize                   n_picks)
{
  for (gsize i = 0; i < n_picks; i++)
    if (row->figures[i].samples > 0)
      return TRUE;
  return FALSE;
}

static void
add_row (WbCraftBeside     *self,
         GArray            *rows,
         const WbCraftPick *picks,
         WbFigure           figure,
         WbStage            stage)
{
  WbCraftAim       aim;
  gboolean         aimed = find_common_aim (picks, self->n_picks, figure, stage, &aim);
  WbCraftBesideRow row = { figure, stage, aimed && aim.worst, NULL, g_new (WbCraftBesideFigure, self->n_picks) };

  for (gsize i = 0; i < self->n_picks; i++)
    read_figure (&picks[i], &row, &row.figures[i]);
  if (!is_read (&row, self->n_picks))
    {
      row_clear (&row);
      return;
    }
  row.label = dup_label (figure, stage, row.worst);
  mark_row (&row, self, picks, aimed ? &aim : NULL);
  g_array_append_val (rows, row);
}

/* What decides first; then the pool, heat, marks, and what is no aim of its own. */
static const WbFigure order[] = {
  WB_FIGURE_SCORE, WB_FIGURE_FULL_POOL, WB_FIGURE_POOL_LIMIT, WB_FIGURE_POOL, WB_FIGURE_HANG_UP, WB_FIGURE_DEPTH, WB_FIGURE_FLAME,
  WB_FIGURE_VESSEL, WB_FIGURE_SOOT, WB_FIGURE_SMOKE, WB_FIGURE_MUSHROOM, WB_FIGURE_THROW, WB_FIGURE_CONSUMPTION,
};

WbCraftBeside *
wb_craft_beside_new (const WbCraftPick *picks,
                     gsize              n_picks)
{
  WbCraftBeside *self = g_new0 (WbCraftBeside, 1);
  GArray        *rows = g_array_new (FALSE, FALSE, sizeof (WbCraftBesideRow));

  g_return_val_if_fail (n_picks == 0 || picks != NULL, NULL);

  self->n_picks = n_picks;
  self->names = g_new0 (char *, n_picks + 1);
  self->verdicts = g_new0 (char *, n_picks + 1);
  for (gsize i = 0; i < n_picks; i++)
    {
      self->names[i] = wb_craft_pick_dup_name (picks, n_picks, i);
      self->verdicts[i] = dup_verdict (&picks[i]);
    }
  for (guint i = 0; i < G_N_ELEMENTS (order); i++)
    {
      add_row (self, rows, picks, order[i], WB_STAGE_ALL);
      for (WbStage stage = WB_STAGE_UPPER; stage < WB_N_STAGES && order[i] != WB_FIGURE_SCORE; stage++)
        add_row (self, rows, picks, order[i], stage);
    }
  self->conditions = wb_craft_beside_list_conditions (picks, n_picks);
  self->n_rows = rows->len;
  self->rows = (WbCraftBesideRow *) g_array_free (rows, FALSE);
  return self;
}

void
wb_craft_beside_free (WbCraftBeside *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < self->n_rows; i++)
    {
      for (gsize k = 0; k < self->n_picks; k++)
        g_free (self->rows[i].figures[k].why);
      row_clear (&self->rows[i]);
    }
  g_free (self->rows);
  g_ptr_array_unref (self->conditions);
  g_strfreev (self->names);
  g_strfreev (self->verdicts);
  g_free (self);
}
