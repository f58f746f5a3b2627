/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-asking-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-random.h"

/* What a model is asked for the recipes of a question: the rows of its terms, and what no lesson had. */

static guint
ask (WbCraftAsking      *asking,
     const WbCraftTerms *terms)
{
  gsize end;

  g_array_append_vals (asking->columns, terms->columns->data, terms->columns->len);
  g_array_append_vals (asking->values, terms->values->data, terms->values->len);
  end = asking->columns->len;
  g_array_append_val (asking->start, end);
  return asking->n_rows++;
}

static guint
ask_one (WbCraftAsking *asking,
         gsize          column)
{
  WbCraftTerms terms;
  guint row;

  wb_craft_terms_init (&terms);
  wb_craft_terms_add (&terms, column, 1);
  row = ask (asking, &terms);
  wb_craft_terms_clear (&terms);
  return row;
}

static gboolean
is_fresh (const WbCraftAsking *asking,
          WbCraftKin           kin,
          guint                level)
{
  return asking->model->family[kin] != WB_CRAFT_ASKING_NOWHERE && wb_craft_school_model_find (asking->model, kin, level, FALSE) == WB_CRAFT_ASKING_NOWHERE;
}

static void
add_fresh (WbCraftAsking *asking,
           guint          recipe,
           int            stage,
           WbCraftKin     kin,
           guint          deviate,
           double         factor)
{
  WbCraftFresh fresh = { recipe, stage, kin, deviate, factor };

  asking->used[deviate] = TRUE;
  g_array_append_val (asking->fresh, fresh);
}

/*
 * Where deviates stand. Those that are partly common to all figures: step, wax, material, vessel and its two thirds; two a series, for level and slope; two a
 * recipe, for wick and place. Then wax's pace, and three a recipe, for its pace and two thirds.
 */
enum { SHARED_STEP, SHARED_WAX, SHARED_MATERIAL, SHARED_VESSEL, SHARED_BOTTOM, N_SHARED = SHARED_BOTTOM + 2 };

/* A level that is partly common to all figures: asked for where it was tried, else drawn, a recipe's or of all. */
static void
add_level (WbCraftAsking *asking,
           guint          recipe,
           int            stage,
           WbCraftKin     kin,
           guint          level,
           guint          deviate,
           double         factor)
{
  WbCraftItem item = { deviate, kin };

  if (is_fresh (asking, kin, level))
    add_fresh (asking, recipe, stage, kin, deviate, factor);
  else if (asking->model->family[kin] != WB_CRAFT_ASKING_NOWHERE && asking->model->belief->strength > 0 && !asking->used[deviate])
    {
      asking->used[deviate] = TRUE;
      ask_one (asking, wb_craft_school_model_find (asking->model, kin, level, FALSE));
      g_array_append_val (asking->items, item);
    }
}

static void
find_recipe (WbCraftAsking *asking,
             guint          i,
             guint          of_series,
             guint          own)
{
  const WbCraftSeat *seat = &g_array_index (asking->self->seats, WbCraftSeat, i);
  const guint *level = seat->level;
  guint further = asking->n_common + 1 + 3 * i;

  add_level (asking, i, -1, WB_CRAFT_KIN_SERIES, level[WB_CRAFT_LEVEL_SERIES], of_series, 1);
  add_level (asking, i, -1, WB_CRAFT_KIN_SLOPE, level[WB_CRAFT_LEVEL_SERIES], of_series + 1, seat->x[WB_CRAFT_TERM_STEP]);
  add_level (asking, i, -1, WB_CRAFT_KIN_WICK, level[WB_CRAFT_LEVEL_WICK], own, 1);
  add_level (asking, i, -1, WB_CRAFT_KIN_HERE, level[WB_CRAFT_LEVEL_HERE], own + 1, 1);
  if (is_fresh (asking, WB_CRAFT_KIN_PACE_HERE, level[WB_CRAFT_LEVEL_HERE]))
    add_fresh (asking, i, 2, WB_CRAFT_KIN_PACE_HERE, further, 1);
  for (int s = 0; s < 2; s++)
    if (asking->here_row[s][i] == WB_CRAFT_ASKING_NOWHERE && asking->model->family[WB_CRAFT_KIN_HERE_STAGE] != WB_CRAFT_ASKING_NOWHERE)
      add_fresh (asking, i, s, WB_CRAFT_KIN_HERE_STAGE, further + 1 + (guint) s, 1);
}

/* What all recipes have in common. */
static void
find_shared (WbCraftAsking *asking)
{
  const guint *level = g_array_index (asking->self->seats, WbCraftSeat, 0).level;
  guint vessel = level[WB_CRAFT_LEVEL_VESSEL];

  add_level (asking, WB_CRAFT_ASKING_NOWHERE, -1, WB_CRAFT_KIN_WAX, level[WB_CRAFT_LEVEL_WAX], SHARED_WAX, 1);
  add_level (asking, WB_CRAFT_ASKING_NOWHERE, -1, WB_CRAFT_KIN_MATERIAL, level[WB_CRAFT_LEVEL_MATERIAL], SHARED_MATERIAL, 1);
  add_level (asking, WB_CRAFT_ASKING_NOWHERE, -1, WB_CRAFT_KIN_VESSEL, vessel, SHARED_VESSEL, 1);
  for (guint s = 0; s < 2; s++)
    add_level (asking, WB_CRAFT_ASKING_NOWHERE, (int) s, WB_CRAFT_KIN_BOTTOM,
               vessel == WB_CRAFT_ASKING_NOWHERE ? WB_CRAFT_ASKING_NOWHERE : 2 * vessel + s, SHARED_BOTTOM + s, 1);
  if (is_fresh (asking, WB_CRAFT_KIN_PACE_WAX, level[WB_CRAFT_LEVEL_WAX]))
    add_fresh (asking, WB_CRAFT_ASKING_NOWHERE, 2, WB_CRAFT_KIN_PACE_WAX, asking->n_common, 1);
}

/* The first recipe that is of the same wick, for what was tried has one factor. */
static guint
first_of_wick (GArray *seats,
               guint   i)
{
  guint wick = g_array_index (seats, WbCraftSeat, i).level[WB_CRAFT_LEVEL_WICK];

  for (guint k = 0; k < i && wick != WB_CRAFT_ASKING_NOWHERE; k++)
    if (g_array_index (seats, WbCraftSeat, k).level[WB_CRAFT_LEVEL_WICK] == wick)
      return k;
  return i;
}

static void
find_levels (WbCraftAsking *asking,
             const guint   *series_of,
             guint          n_series)
{
  const WbCraftForetell *self = asking->self;
  const WbCraftItem step = { SHARED_STEP, WB_CRAFT_N_KINS };

  asking->n_common = N_SHARED + 2 * n_series + 2 * self->n;
  asking->n_deviates = asking->n_common + 1 + 3 * self->n;
  asking->used = g_new0 (gboolean, asking->n_deviates);
  asking->n_main = asking->n_rows;
  if (self->n == 0)
    return;
  if (asking->model->belief->strength > 0 && asking->model->belief->term[WB_CRAFT_TERM_STEP].sd > 0)
    {
      ask_one (asking, WB_CRAFT_TERM_STEP);
      g_array_append_val (asking->items, step);
    }
  for (guint i = 0; i < self->n; i++)
    find_recipe (asking, i, N_SHARED + 2 * series_of[i], N_SHARED + 2 * n_series + 2 * first_of_wick (self->seats, i));
  find_shared (asking);
}

/* What is asked of every recipe, at the top. */
static void
ask_bases (WbCraftAsking *asking)
{
  for (guint i = 0; i < asking->self->n; i++)
    {
      WbCraftTerms terms;

      wb_craft_terms_init (&terms);
      wb_craft_school_model_put (asking->model, &g_array_index (asking->self->seats, WbCraftSeat, i), WB_STAGE_UPPER, FALSE, 1, &terms);
      ask (asking, &terms);
      wb_craft_terms_clear (&terms);
    }
}

/* Recipes that were not tried in this vessel share one. */
static void
ask_paces (WbCraftAsking *asking)
{
  guint shared = WB_CRAFT_ASKING_NOWHERE;

  for (guint i = 0; i < asking->self->n; i++)
    {
      const WbCraftSeat *seat = &g_array_index (asking->self->seats, WbCraftSeat, i);
      gboolean own = !is_fresh (asking, WB_CRAFT_KIN_PACE_HERE, seat->level[WB_CRAFT_LEVEL_HERE]);

      if (own || shared == WB_CRAFT_ASKING_NOWHERE)
        {
          WbCraftTerms terms;

          wb_craft_terms_init (&terms);
          wb_craft_school_model_put_pace (asking->model, seat, WB_STAGE_UPPER, FALSE, 1, &terms);
          asking->pace_row[i] = ask (asking, &terms);
          wb_craft_terms_clear (&terms);
          if (!own)
            shared = asking->pace_row[i];
        }
      else
        asking->pace_row[i] = shared;
    }
  asking->pace_stage_row[0] = ask_one (asking, WB_CRAFT_TERM_PACE_MIDDLE);
  asking->pace_stage_row[1] = ask_one (asking, WB_CRAFT_TERM_PACE_LOWER);
}

static void
ask_stages (WbCraftAsking *asking)
{
  guint vessel = asking->self->n > 0 ? g_array_index (asking->self->seats, WbCraftSeat, 0).level[WB_CRAFT_LEVEL_VESSEL] : WB_CRAFT_ASKING_NOWHERE;

  for (guint s = 0; s < 2; s++)
    {
      guint bottom = vessel == WB_CRAFT_ASKING_NOWHERE ? WB_CRAFT_ASKING_NOWHERE : wb_craft_school_model_find (asking->model, WB_CRAFT_KIN_BOTTOM, 2 * vessel + s, FALSE);
      WbCraftTerms terms;

      wb_craft_terms_init (&terms);
      wb_craft_terms_add (&terms, s == 0 ? WB_CRAFT_TERM_MIDDLE : WB_CRAFT_TERM_LOWER, 1);
      if (bottom != WB_CRAFT_ASKING_NOWHERE)
        wb_craft_terms_add (&terms, bottom, 1);
      asking->stage_row[s] = ask (asking, &terms);
      wb_craft_terms_clear (&terms);
      for (guint i = 0; i < asking->self->n; i++)
        {
          guint here = g_array_index (asking->self->seats, WbCraftSeat, i).level[WB_CRAFT_LEVEL_HERE];
          guint column = here == WB_CRAFT_ASKING_NOWHERE ? WB_CRAFT_ASKING_NOWHERE : wb_craft_school_model_find (asking->model, WB_CRAFT_KIN_HERE_STAGE, 2 * here + s, FALSE);

          asking->here_row[s][i] = column == WB_CRAFT_ASKING_NOWHERE ? WB_CRAFT_ASKING_NOWHERE : ask_one (asking, column);
        }
    }
}

static void
ask_rest (WbCraftAsking *asking)
{
  gboolean growth = asking->model->belief->figure == WB_FIGURE_POOL_LIMIT;

  if (growth)
    ask_paces (asking);
  ask_stages (asking);
  for (WbStage stage = 0; stage < WB_N_STAGES && asking->model->belief->has_looks; stage++)
    {
      asking->look_row[stage][WB_LESSON_LOOK_WORST] = ask_one (asking, WB_CRAFT_TERM_WORST + stage);
      asking->look_row[stage][WB_LESSON_LOOK_PEAK] = ask_one (asking, WB_CRAFT_TERM_PEAK + stage);
    }
  asking->kelvin_row = ask_one (asking, WB_CRAFT_TERM_ROOM);
  if (asking->model->belief->figure == WB_FIGURE_HANG_UP)
    asking->mm_row = ask_one (asking, WB_CRAFT_TERM_SHORTFALL);
}

void
wb_craft_asking_init (WbCraftAsking         *asking,
                      const WbCraftForetell *self,
                      guint                  model,
                      const guint           *series_of,
                      guint                  n_series)
{
  gsize zero = 0;

  *asking = (WbCraftAsking) { .self = self, .model = (WbCraftSchoolModel *) &self->school->models[model],
                       .into = (WbCraftForetoldFigure *) &self->figures[model] };
  asking->start = g_array_new (FALSE, FALSE, sizeof (gsize));
  asking->columns = g_array_new (FALSE, FALSE, sizeof (gsize));
  asking->values = g_array_new (FALSE, FALSE, sizeof (double));
  asking->fresh = g_array_new (FALSE, FALSE, sizeof (WbCraftFresh));
  asking->items = g_array_new (FALSE, FALSE, sizeof (WbCraftItem));
  asking->pace_row = g_new (guint, MAX (self->n, 1));
  asking->here_row[0] = g_new (guint, MAX (self->n, 1));
  asking->here_row[1] = g_new (guint, MAX (self->n, 1));
  g_array_append_val (asking->start, zero);
  memset (asking->look_row, 0xff, sizeof asking->look_row);
  asking->mm_row = WB_CRAFT_ASKING_NOWHERE;
  ask_bases (asking);
  ask_rest (asking);
  find_levels (asking, series_of, n_series);
}

void
wb_craft_asking_clear (WbCraftAsking *asking)
{
  g_array_unref (asking->start);
  g_array_unref (asking->columns);
  g_array_unref (asking->values);
  g_array_unref (asking->fresh);
  g_array_unref (asking->items);
  g_free (asking->pace_row);
  g_free (asking->here_row[0]);
  g_free (asking->here_row[1]);
  g_free (asking->used);
}

double
wb_craft_asking_get_kin_sd (const WbCraftAsking *asking,
                            guint                point,
                            WbCraftKin           kin)
{
  guint family = asking->model->family[kin];

  return family != WB_CRAFT_ASKING_NOWHERE ? exp (wb_calc_pooled_get_point (asking->model->fit, point)[family]) : 0;
}

void
wb_craft_asking_get_item (const WbCraftAsking *asking,
                          guint                point,
                          guint                item,
                          double              *mean,
                          double              *sd)
{
  WbCraftKin kin = g_array_index (asking->items, WbCraftItem, item).kin;
  gboolean step = kin == WB_CRAFT_N_KINS;

  *mean = step ? asking->model->belief->term[WB_CRAFT_TERM_STEP].mean : 0;
  *sd = step ? asking->model->belief->term[WB_CRAFT_TERM_STEP].sd : wb_craft_asking_get_kin_sd (asking, point, kin);
}

/* ---- which point of the spreads a draw is of ---- */

typedef struct { guint point; double signature; } Place;

static int
compare_places (gconstpointer a,
                gconstpointer b)
{
  const Place *one = a, *other = b;

  return one->signature < other->signature ? -1 : one->signature > other->signature;
}

/*
 * The points after the mode in an order that rests on their spreads alone: an axis of the curvature has no sign of its own, and two fits that agree may
 * call its ends the other way round. Caller frees.
 */
static Place *
order_points (const WbCraftAsking *asking)
{
  const WbCalcPooled *fit = asking->model->fit;
  guint n_points = (guint) wb_calc_pooled_get_n_points (fit), n = (guint) wb_calc_pooled_get_n_families (fit);
  Place *places = g_new0 (Place, n_points);

  for (guint p = 0; p < n_points; p++)
    {
      const double *log_spreads = wb_calc_pooled_get_point (fit, p);

      places[p] = (Place) { p, p == 0 ? -INFINITY : 0 };
      for (guint k = 0; k < n && p > 0; k++)
        places[p].signature += sqrt (k + 2.0) * 2 * log_spreads[k];
    }
  qsort (places, n_points, sizeof *places, compare_places);
  return places;
}

guint *
wb_craft_asking_share_draws (const WbCraftAsking *asking,
                             guint64              seed)
{
  const WbCalcPooled *fit = asking->model->fit;
  guint n_draws = asking->self->n_draws, next = 0;
  gsize n = wb_calc_pooled_get_n_points (fit);
  g_autofree Place *places = order_points (asking);
  g_autofree gsize *order = g_new (gsize, n_draws);
  guint *point = g_new (guint, n_draws);
  double sum = 0;
  WbCalcRandom random;

  for (guint i = 0; i < n_draws; i++)
    order[i] = i;
  wb_calc_random_init (&random, seed, G_MAXUINT32);
  wb_calc_random_shuffle (&random, order, n_draws);
  for (gsize p = 0; p < n; p++)
    {
      guint end;

      sum += wb_calc_pooled_get_weight (fit, places[p].point);
      end = p + 1 == n ? n_draws : MIN (n_draws, (guint) lround (sum * n_draws));
      for (; next < end; next++)
        point[order[next]] = places[p].point;
    }
  return point;
}
