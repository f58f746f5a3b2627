/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-advice-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "wb-calc-inverse.h"
#include "wb-calc-quantile.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-vessel-private.h"
#include "wb-craft-words-private.h"

/*
 * Which size of a series would be right by its melt pools: where the straight line of ln D (due) over the step reaches ln inner, D
 * being the mean curve of each size and due the time at which its pool should be full (an inch of diameter an hour; common practice,
 * no source). The curve at that time is told of weak sizes too, whose pool never gets to the wall.
 */
#define COVERAGE 0.9
#define LEAST_STEPS 3
#define WICK_SD 0.04   /* of a size off the line of its series, in ln D; no source */
#define HALF_WAY 0.3   /* from a size on the way to the next; no source */
#define OUTSIDE 1      /* steps beyond those burnt for which the line is believed; no source */

/* A series in a vessel and scent, and what its line says. */
typedef struct
{
  const WbCraftAdvising    *advising;
  const WbCraftGroup       *of;
  guint                     first;    /* a cell of it */
  guint                     smallest; /* cells whose pools tell */
  guint                     largest;
  double                    step;     /* where the pool is full when due */
  double                    low, high;
} Series;

static const WbWick *
wick_of (const Series *self,
         guint         cell)
{
  return wb_dataset_get_wick (self->advising->data, cell);
}

static gboolean
is_of_series (const Series *self,
              guint         cell)
{
  return wick_of (self, cell)->step != WB_INTEGER_NONE && wb_craft_advice_is_of_line (self->advising->data, self->first, cell);
}

/* ln D when due less ln inner, and its variance; FALSE: no curve tells it. */
static gboolean
find_pool (const Series *self,
           guint         cell,
           double       *beyond,
           double       *variance)
{
  const WbCraftGrowth *growth = &self->advising->estimates->cells[cell].growth;
  const WbVessel *vessel = wb_dataset_get_vessel (self->advising->data, cell);
  WbCraftInterval band;
  double reach;

  if (!wb_craft_fit_status_is_fitted (growth->status) || !(growth->df > 0))
    return FALSE;
  band = wb_craft_growth_band (growth, wb_craft_vessel_due_h (vessel, WB_STAGE_UPPER));
  *beyond = log (band.value / wb_craft_vessel_inner_mm (vessel, WB_STAGE_UPPER));
  /* the band is symmetric in ln D, by Student's t */
  reach = log (band.high / band.value) / wb_calc_student_quantile (1 - (1 - COVERAGE) / 2, growth->df);
  *variance = reach * reach + WICK_SD * WICK_SD;
  return isfinite (*beyond) && isfinite (*variance);
}

/* A pool that was at the wall at its first reading has no curve; full before it is due, its size is not too small. */
static void
heed_wall (Series *self)
{
  for (guint i = 0; i < self->of->n_cells; i++)
    {
      guint cell = self->of->cells[i].cell;
      const WbCraftGrowth *growth = &self->advising->estimates->cells[cell].growth;

      if (is_of_series (self, cell) && growth->status == WB_CRAFT_FIT_ALL_AT_WALL
          && growth->at_wall_h <= wb_craft_vessel_due_h (wb_dataset_get_vessel (self->advising->data, cell), WB_STAGE_UPPER))
        self->high = MIN (self->high, wick_of (self, cell)->step);
    }
}

/* FALSE: fewer than three sizes tell it, or the line does not. */
static gboolean
find_step (Series *self)
{
  guint n_cells = self->of->n_cells, n = 0, n_steps = 0;
  g_autofree double *step = g_new (double, n_cells), *beyond = g_new (double, n_cells), *variance = g_new (double, n_cells);
  WbCalcInverseLine line;
  WbCalcInverse inverse;
  double df = INFINITY;

  for (guint i = 0; i < n_cells; i++)
    {
      guint cell = self->of->cells[i].cell;
      gboolean known = FALSE;

      if (!is_of_series (self, cell) || !find_pool (self, cell, &beyond[n], &variance[n]))
        continue;
      step[n] = (double) wick_of (self, cell)->step;
      for (guint k = 0; k < n; k++)
        known = known || step[k] == step[n];
      n_steps += !known;
      self->smallest = n == 0 || step[n] < wick_of (self, self->smallest)->step ? cell : self->smallest;
      self->largest = n == 0 || step[n] > wick_of (self, self->largest)->step ? cell : self->largest;
      df = MIN (df, self->advising->estimates->cells[cell].growth.df);
      n++;
    }
  if (n_steps < LEAST_STEPS || wb_calc_inverse_fit_known (step, beyond, variance, n, &line) != WB_CALC_OK)
    return FALSE;
  /* farther off the line than the curves and a wick's own deviation allow: it is known less well by as much */
  line.variance = MAX (1, line.residual / (n - 2));
  line.df = df;
  if (wb_calc_inverse_at (&line, 0, 0, COVERAGE, &inverse) != WB_CALC_OK
      || inverse.shape != WB_CALC_INVERSE_BETWEEN || !(line.slope > 0))
    return FALSE;
  self->step = inverse.value;
  self->low = inverse.low;
  self->high = inverse.high;
  heed_wall (self);
  return self->step <= self->high;
}

/* The size of the series nearest to a step, of all wicks known; NULL: it lies beyond them. */
static const WbWick *
find_size (const Series *self,
           double        step)
{
  const GPtrArray *wicks = self->advising->wicks != NULL ? self->advising->wicks : self->advising->data->wicks;
  const WbWick *like = wick_of (self, self->first), *nearest = NULL;
  double least = INFINITY, most = -INFINITY;

  for (guint i = 0; i < wicks->len; i++)
    {
      const WbWick *wick = g_ptr_array_index (wicks, i);

      if (g_strcmp0 (wick->series, like->series) != 0 || wick->kind != like->kind || wick->step == WB_INTEGER_NONE)
        continue;
      least = MIN (least, wick->step);
      most = MAX (most, wick->step);
      if (nearest == NULL || fabs (wick->step - step) < fabs (nearest->step - step))
        nearest = wick;
    }
  return step >= least - 0.5 && step <= most + 0.5 ? nearest : NULL;
}

/* The known sizes on either side of the step; FALSE: it is nearer to one of them than to be called between them. */
static gboolean
is_half_way (const Series  *self,
             const WbWick **below,
             const WbWick **above)
{
  double share;

  *below = find_size (self, floor (self->step));
  *above = find_size (self, ceil (self->step));
  if (*below == NULL || *above == NULL || (*below)->step >= (*above)->step)
    return FALSE;
  share = (self->step - (*below)->step) / ((*above)->step - (*below)->step);
  return share > HALF_WAY && share < 1 - HALF_WAY;
}

/* Half way between two sizes, or near one; the ends that lie beyond the known sizes are left open. */
static char *
dup_near (const Series  *self,
          const WbWick **largest)
{
  const WbWick *near = find_size (self, self->step), *low = find_size (self, self->low), *high = find_size (self, self->high), *below, *above;
  gboolean half_way = is_half_way (self, &below, &above);
  const char *series = near->series;
  g_autofree char *where = NULL;

  *largest = half_way ? above : near;
  if (low == NULL && high == NULL)
    return NULL;
  if (!half_way && low == NULL && high == near)
    /* Translators: a series; a size of it. */
    return g_strdup_printf (_("By its own melt pools alone the right size of %s is %s or a smaller one."), series, near->size);
  if (!half_way && high == NULL && low == near)
    /* Translators: a series; a size of it. */
    return g_strdup_printf (_("By its own melt pools alone the right size of %s is %s or a larger one."), series, near->size);
  if (!half_way && low == high)
    /* Translators: a series; a size of it. */
    return g_strdup_printf (_("By its own melt pools alone the right size of %s is %s."), series, near->size);
  /* Translators: two sizes of a series; a size: "lies near S-3". */
  where = half_way ? g_strdup_printf (_("half way from %s to %s"), below->size, above->size) : g_strdup_printf (_("near %s"), near->size);
  if (low == NULL)
    /* Translators: a series; "near S-3"; a larger size or the same. */
    return g_strdup_printf (_("By its own melt pools alone the right size of %s lies %s (%s at most)."), series, where, high->size);
  if (high == NULL)
    /* Translators: a series; "near S-3"; a smaller size or the same. */
    return g_strdup_printf (_("By its own melt pools alone the right size of %s lies %s (%s at least)."), series, where, low->size);
  if (half_way && low->step >= below->step && high->step <= above->step)
    /* Translators: a series; "half way from S-3 to S-4". */
    return g_strdup_printf (_("By its own melt pools alone the right size of %s lies %s."), series, where);
  /* Translators: a series; "near S-3"; a smaller and a larger size. */
  return g_strdup_printf (_("By its own melt pools alone the right size of %s lies %s (between %s and %s)."), series, where, low->size, high->size);
}

/* Too far outside to name a size: only what the burnt ones leave out. */
static char *
dup_outside (const Series *self)
{
  const WbWick *smallest = wick_of (self, self->smallest), *largest = wick_of (self, self->largest);

  if (self->low > largest->step)
    /* Translators: a series; a size of it. */
    return g_strdup_printf (_("By its own melt pools alone the right size of %s is larger than %s."), largest->series, largest->size);
  if (self->high < smallest->step)
    /* Translators: a series; a size of it. */
    return g_strdup_printf (_("By its own melt pools alone the right size of %s is smaller than %s."), smallest->series, smallest->size);
  return NULL;
}

/* The cell of the smallest size that crossed a limit of heat; G_MAXUINT: none did. */
static guint
find_too_hot (const Series *self)
{
  guint least = G_MAXUINT;

  for (guint i = 0; i < self->of->n_cells; i++)
    {
      guint cell = self->of->cells[i].cell;

      if (is_of_series (self, cell) && wb_craft_advice_crossed_heat (self->advising, cell)
          && (least == G_MAXUINT || wick_of (self, cell)->step < wick_of (self, least)->step))
        least = cell;
    }
  return least;
}

/* The largest size up to a step that was burnt, by its place; NULL: none was. */
static const WbCraftRanked *
find_burnt (const Series *self,
            double        step)
{
  const WbCraftRanked *nearest = NULL;

  for (guint i = 0; i < self->of->n_cells; i++)
    {
      const WbCraftRanked *ranked = &self->of->cells[i];
      const WbWick *wick = wick_of (self, ranked->cell);

      if (is_of_series (self, ranked->cell) && ranked->burns > 0 && wick->step <= step
          && (nearest == NULL || wick->step > wick_of (self, nearest->cell)->step))
        nearest = ranked;
    }
  return nearest;
}

/*
 * What heat says of the size at `step` (INFINITY: of one beyond all that were burnt): its own burns where it was burnt, else what is
 * foretold of the next size up from the nearest below, than which it is no cooler. NULL: nothing against it.
 */
static char *
dup_heat (const Series *self,
          double        step)
{
  const WbWick *wick;
  const WbCraftRanked *burnt = find_burnt (self, step);
  g_autofree char *chance = NULL, *reading = NULL;
  guint hot = find_too_hot (self);
  gboolean itself;
  double p;

  if (hot != G_MAXUINT && wick_of (self, hot)->step <= step)
    {
      reading = wb_craft_advice_dup_crossing_of_heat (self->advising, hot);
      /* Translators: a size; "flame 52 mm at 240 min of burn 9 of sample T5-1: over the house limit of 50 mm". */
      return g_strdup_printf (_("But %s was too hot and crossed a limit (%s): not that large, rather another series."), wick_of (self, hot)->size, reading);
    }
  if (burnt == NULL)
    return NULL; /* smaller than all of them: that is no way up */
  wick = wick_of (self, burnt->cell);
  itself = wick->step == step;
  p = itself ? burnt->p_cross : wb_craft_advice_foretell_hot (self->advising, self->of, burnt->cell);
  /* what its own burns leave open is told where its limits are */
  if (isnan (p))
    return itself ? NULL : g_strdup (_("How hot that gets is not known: no flame and no vessel were read."));
  if (p <= WB_CRAFT_CROSS_AT_MOST)
    return NULL;
  chance = wb_craft_dup_chance (MAX (p, WB_CRAFT_CROSS_AT_MOST + 0.01));
  reading = wb_craft_advice_dup_hottest (self->advising, burnt->cell);
  if (itself)
    /* Translators: "12 in 100"; a size; "flame of 42 mm (burn 9 of S2-1)". */
    return g_strdup_printf (_("But about %s candles of %s would cross a limit (the hottest so far: %s): not that large, rather another series."), chance, wick->size, reading);
  /* Translators: "12 in 100"; a size; "flame of 42 mm (burn 9 of S2-1)". */
  return g_strdup_printf (_("But about %s candles of the next size up from %s would cross a limit (the hottest of it so far: %s): not that large, rather another series."),
                          chance, wick->size, reading);
}

/* NULL: its pools do not tell. */
static char *
dup_series (Series *self)
{
  g_autofree char *pool = NULL, *heat = NULL;
  const WbWick *largest = NULL;
  double heat_at = NAN;

  if (!find_step (self))
    return NULL;
  if (self->step >= wick_of (self, self->smallest)->step - OUTSIDE && self->step <= wick_of (self, self->largest)->step + OUTSIDE
      && find_size (self, self->step) != NULL)
    {
      pool = dup_near (self, &largest);
      heat_at = (double) largest->step;
    }
  else
    {
      pool = dup_outside (self);
      if (self->low > wick_of (self, self->largest)->step)
        heat_at = INFINITY;
    }
  if (pool == NULL)
    return NULL;
  heat = isnan (heat_at) ? NULL : dup_heat (self, heat_at);
  return heat == NULL ? g_steal_pointer (&pool) : g_strdup_printf ("%s %s", pool, heat);
}

/* Of a series that tells it the widest pool of its smallest and of its largest size: a line rests on all, and its ends are looked up soonest. */
static char *
dup_basis (Series *self)
{
  g_autofree char *least = NULL, *most = NULL;

  if (!find_step (self))
    return NULL;
  least = wb_craft_advice_dup_widest_pool (self->advising, self->smallest);
  most = wb_craft_advice_dup_widest_pool (self->advising, self->largest);
  if (least == NULL || most == NULL)
    return NULL;
  /* Translators: a series; a size; its widest pool, "melt pool of 62 mm (burn 6 of S2-1)"; the same of a larger size. */
  return g_strdup_printf (_("The melt pools of %s, at their widest: %s %s; %s %s."), wick_of (self, self->smallest)->series,
                          wick_of (self, self->smallest)->size, least, wick_of (self, self->largest)->size, most);
}

/* What is told of each series that has three sizes in the group, one after the other; NULL: nothing. */
static char *
dup_each (const WbCraftAdvising    *self,
          const WbCraftAdviceGroup *group,
          char                   *(*tell) (Series *))
{
  const WbCraftGroup *of = wb_craft_advising_get_group (self, group);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; of->by_vessel && of->by_scent && i < of->n_cells; i++)
    {
      Series series = { .advising = self, .of = of, .first = of->cells[i].cell };
      g_autofree char *sentence = NULL;
      gboolean told = FALSE;

      for (guint k = 0; k < i; k++)
        told = told || wb_craft_advice_is_of_line (self->data, series.first, of->cells[k].cell);
      sentence = told ? NULL : tell (&series);
      if (sentence != NULL)
        g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", sentence);
    }
  return text->len > 0 ? g_strdup (text->str) : NULL;
}

char *
wb_craft_advice_dup_steps (const WbCraftAdvising    *self,
                           const WbCraftAdviceGroup *group)
{
  return dup_each (self, group, dup_series);
}

char *
wb_craft_advice_dup_steps_basis (const WbCraftAdvising    *self,
                                 const WbCraftAdviceGroup *group)
{
  return dup_each (self, group, dup_basis);
}
