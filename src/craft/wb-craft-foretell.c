/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "wb-calc-random.h"
#include "wb-craft-workers-private.h"

#define SINGULAR 1e-10   /* of a variance, below which nothing is left of it once the others are known */
#define NOWHERE G_MAXUINT

/* Something never tried: a standard deviate of its own in every draw, by its family's spread. */
typedef struct
{
  guint      recipe;   /* NOWHERE: all */
  int        stage;    /* -1: base; 0, 1: middle, lower; 2: ln tau */
  WbCraftKin kin;
  guint      deviate;  /* recipes with the same one share it */
  double     factor;
} Fresh;

/* A model's question: which combinations of its terms are asked, and where each answer goes. */
typedef struct
{
  const WbCraftForetell *self;
  WbCraftSchoolModel    *model;
  WbCraftForetoldFigure *into;
  GArray                *start, *columns, *values;
  guint                  n_rows;
  guint                 *pace_row;     /* a recipe */
  guint                  stage_row[2], pace_stage_row[2], look_row[WB_N_STAGES][WB_LESSON_N_LOOKS], kelvin_row, mm_row;
  guint                 *here_row[2];  /* a recipe: NOWHERE none */
  guint                  n_main;       /* rows before those of the spreads */
  guint                  kin_row[WB_CRAFT_N_KINS];
  GArray                *fresh;
  guint                  n_deviates;
  gboolean              *used;         /* a deviate */
  const float           *common;       /* draws × n_common: what all figures share of the recipes' rows, then of the first deviates */
  guint                  n_common;
} Asking;

/* ---- the rows ---- */

static guint
ask (Asking             *asking,
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
ask_one (Asking *asking,
         gsize   column)
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
is_fresh (const Asking *asking,
          WbCraftKin    kin,
          guint         level)
{
  return asking->model->family[kin] != NOWHERE && wb_craft_school_model_find (asking->model, kin, level, FALSE) == NOWHERE;
}

static void
add_fresh (Asking     *asking,
           guint       recipe,
           int         stage,
           WbCraftKin  kin,
           guint       deviate,
           double      factor)
{
  Fresh fresh = { recipe, stage, kin, deviate, factor };

  asking->used[deviate] = TRUE;
  g_array_append_val (asking->fresh, fresh);
}

/*
 * Where deviates of what was never tried stand: wax, wax's pace, vessel and its two thirds; two a series; two a recipe, for wick and place; those are
 * partly common to all figures. Then three a recipe, for its pace and two thirds.
 */
#define N_SHARED 5u

static guint
count_common (guint n,
              guint n_series)
{
  return N_SHARED + 2 * n_series + 2 * n;
}

static void
find_fresh (Asking      *asking,
            const guint *series_of,
            guint        n_series)
{
  const WbCraftForetell *self = asking->self;
  guint common = count_common (self->n, n_series);

  asking->n_deviates = common + 3 * self->n;
  asking->used = g_new0 (gboolean, asking->n_deviates);
  for (guint i = 0; i < self->n; i++)
    {
      const WbCraftSeat *seat = &g_array_index (self->seats, WbCraftSeat, i);
      const guint *level = seat->level;
      guint own = N_SHARED + 2 * n_series + 2 * i, further = common + 3 * i;

      if (is_fresh (asking, WB_CRAFT_KIN_SERIES, level[WB_CRAFT_LEVEL_SERIES]))
        add_fresh (asking, i, -1, WB_CRAFT_KIN_SERIES, N_SHARED + 2 * series_of[i], 1);
      if (is_fresh (asking, WB_CRAFT_KIN_SLOPE, level[WB_CRAFT_LEVEL_SERIES]))
        add_fresh (asking, i, -1, WB_CRAFT_KIN_SLOPE, N_SHARED + 1 + 2 * series_of[i], seat->x[WB_CRAFT_TERM_STEP]);
      if (is_fresh (asking, WB_CRAFT_KIN_WICK, level[WB_CRAFT_LEVEL_WICK]))
        add_fresh (asking, i, -1, WB_CRAFT_KIN_WICK, own, 1);
      if (is_fresh (asking, WB_CRAFT_KIN_HERE, level[WB_CRAFT_LEVEL_HERE]))
        add_fresh (asking, i, -1, WB_CRAFT_KIN_HERE, own + 1, 1);
      if (is_fresh (asking, WB_CRAFT_KIN_PACE_HERE, level[WB_CRAFT_LEVEL_HERE]))
        add_fresh (asking, i, 2, WB_CRAFT_KIN_PACE_HERE, further, 1);
      for (int s = 0; s < 2; s++)
        if (asking->here_row[s][i] == NOWHERE && asking->model->family[WB_CRAFT_KIN_HERE_STAGE] != NOWHERE)
          add_fresh (asking, i, s, WB_CRAFT_KIN_HERE_STAGE, further + 1 + (guint) s, 1);
    }
  if (self->n > 0)
    {
      const guint *level = g_array_index (self->seats, WbCraftSeat, 0).level;

      if (is_fresh (asking, WB_CRAFT_KIN_WAX, level[WB_CRAFT_LEVEL_WAX]))
        add_fresh (asking, NOWHERE, -1, WB_CRAFT_KIN_WAX, 0, 1);
      if (is_fresh (asking, WB_CRAFT_KIN_PACE_WAX, level[WB_CRAFT_LEVEL_WAX]))
        add_fresh (asking, NOWHERE, 2, WB_CRAFT_KIN_PACE_WAX, 1, 1);
      if (is_fresh (asking, WB_CRAFT_KIN_VESSEL, level[WB_CRAFT_LEVEL_VESSEL]))
        add_fresh (asking, NOWHERE, -1, WB_CRAFT_KIN_VESSEL, 2, 1);
      for (guint s = 0; s < 2; s++)
        if (is_fresh (asking, WB_CRAFT_KIN_BOTTOM, level[WB_CRAFT_LEVEL_VESSEL] == NOWHERE ? NOWHERE : 2 * level[WB_CRAFT_LEVEL_VESSEL] + s))
          add_fresh (asking, NOWHERE, (int) s, WB_CRAFT_KIN_BOTTOM, 3 + s, 1);
    }
}

/* What is asked of every recipe, at the top; the order is that of the recipes, so that figures can go together. */
static void
ask_bases (Asking *asking)
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
ask_paces (Asking *asking)
{
  guint shared = NOWHERE;

  for (guint i = 0; i < asking->self->n; i++)
    {
      const WbCraftSeat *seat = &g_array_index (asking->self->seats, WbCraftSeat, i);
      gboolean own = !is_fresh (asking, WB_CRAFT_KIN_PACE_HERE, seat->level[WB_CRAFT_LEVEL_HERE]);

      if (own || shared == NOWHERE)
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
ask_stages (Asking *asking)
{
  guint vessel = asking->self->n > 0 ? g_array_index (asking->self->seats, WbCraftSeat, 0).level[WB_CRAFT_LEVEL_VESSEL] : NOWHERE;

  for (guint s = 0; s < 2; s++)
    {
      guint bottom = vessel == NOWHERE ? NOWHERE : wb_craft_school_model_find (asking->model, WB_CRAFT_KIN_BOTTOM, 2 * vessel + s, FALSE);
      WbCraftTerms terms;

      wb_craft_terms_init (&terms);
      wb_craft_terms_add (&terms, s == 0 ? WB_CRAFT_TERM_MIDDLE : WB_CRAFT_TERM_LOWER, 1);
      if (bottom != NOWHERE)
        wb_craft_terms_add (&terms, bottom, 1);
      asking->stage_row[s] = ask (asking, &terms);
      wb_craft_terms_clear (&terms);
      for (guint i = 0; i < asking->self->n; i++)
        {
          guint here = g_array_index (asking->self->seats, WbCraftSeat, i).level[WB_CRAFT_LEVEL_HERE];
          guint column = here == NOWHERE ? NOWHERE : wb_craft_school_model_find (asking->model, WB_CRAFT_KIN_HERE_STAGE, 2 * here + s, FALSE);

          asking->here_row[s][i] = column == NOWHERE ? NOWHERE : ask_one (asking, column);
        }
    }
}

static void
ask_rest (Asking *asking)
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
  asking->n_main = asking->n_rows;
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    if (asking->model->family[kin] != NOWHERE)
      asking->kin_row[kin] = ask_one (asking, asking->model->spare[kin]);
}

static void
asking_init (Asking                *asking,
             const WbCraftForetell *self,
             guint                  model,
             const guint           *series_of,
             guint                  n_series)
{
  gsize zero = 0;

  *asking = (Asking) { .self = self, .model = (WbCraftSchoolModel *) &self->school->models[model],
                       .into = (WbCraftForetoldFigure *) &self->figures[model] };
  asking->start = g_array_new (FALSE, FALSE, sizeof (gsize));
  asking->columns = g_array_new (FALSE, FALSE, sizeof (gsize));
  asking->values = g_array_new (FALSE, FALSE, sizeof (double));
  asking->fresh = g_array_new (FALSE, FALSE, sizeof (Fresh));
  asking->pace_row = g_new (guint, MAX (self->n, 1));
  asking->here_row[0] = g_new (guint, MAX (self->n, 1));
  asking->here_row[1] = g_new (guint, MAX (self->n, 1));
  g_array_append_val (asking->start, zero);
  memset (asking->look_row, 0xff, sizeof asking->look_row);
  asking->mm_row = NOWHERE;
  ask_bases (asking);
  ask_rest (asking);
  find_fresh (asking, series_of, n_series);
}

static void
asking_clear (Asking *asking)
{
  g_array_unref (asking->start);
  g_array_unref (asking->columns);
  g_array_unref (asking->values);
  g_array_unref (asking->fresh);
  g_free (asking->pace_row);
  g_free (asking->here_row[0]);
  g_free (asking->here_row[1]);
  g_free (asking->used);
}

/* ---- the draws ---- */

/* Lower factor of a covariance that may be singular: what the rows before it tell is left out of a row. In place. */
static void
take_root (double *a,
           guint   n,
           gsize   stride)
{
  for (guint j = 0; j < n; j++)
    {
      double was = a[j * stride + j], pivot = was;

      for (guint k = 0; k < j; k++)
        pivot -= a[j * stride + k] * a[j * stride + k];
      pivot = pivot > SINGULAR * was ? sqrt (pivot) : 0;
      a[j * stride + j] = pivot;
      for (guint i = j + 1; i < n; i++)
        {
          double sum = a[i * stride + j];

          for (guint k = 0; k < j; k++)
            sum -= a[i * stride + k] * a[j * stride + k];
          a[i * stride + j] = pivot > 0 ? sum / pivot : 0;
        }
    }
}

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
order_points (const Asking *asking)
{
  const WbCalcPooled *fit = asking->model->fit;
  guint n_points = (guint) wb_calc_pooled_get_n_points (fit), n = asking->n_rows - asking->n_main;
  g_autofree gsize *start = g_new (gsize, n + 1);
  g_autofree double *mean = g_new (double, MAX (n, 1)), *covariance = g_new (double, MAX (n * n, 1));
  Place *places = g_new0 (Place, n_points);

  for (guint k = 0; k <= n; k++)
    start[k] = k;
  for (guint p = 0; p < n_points; p++)
    {
      /* the last rows are one of a spare column of each family */
      gsize first = g_array_index (asking->start, gsize, asking->n_main);
      const WbCalcPooledRows rows = { n, start, (const size_t *) asking->columns->data + first, (const double *) asking->values->data + first };

      places[p] = (Place) { p, p == 0 ? -INFINITY : 0 };
      if (p == 0 || wb_calc_pooled_predict (fit, p, &rows, mean, covariance) != WB_CALC_OK)
        continue;
      for (guint k = 0; k < n; k++)
        places[p].signature += sqrt (k + 2.0) * log (covariance[k * n + k]);
    }
  qsort (places, n_points, sizeof *places, compare_places);
  return places;
}

/* Which point of the spreads each draw is of, in shares of their weights and in an order of chance. Caller frees. */
static guint *
share_draws (const Asking *asking,
             guint64       seed)
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

static guint64
seed_of (const WbCraftForetell *self,
         guint64                what)
{
  guint64 state = self->seed + 0x9e3779b97f4a7c15u * (what + 1);

  return wb_calc_random_split (&state);
}

static void
alloc_figure (const Asking *asking)
{
  const WbCraftForetell *self = asking->self;
  gsize n = MAX ((gsize) self->n * self->n_draws, 1);
  WbCraftForetoldFigure *into = asking->into;

  into->told = TRUE;
  into->base = g_new (double, n);
  into->stage[0] = g_new (double, n);
  into->stage[1] = g_new (double, n);
  into->per_kelvin = g_new (double, self->n_draws);
  into->pour_sd = g_new (double, self->n_draws);
  if (asking->model->belief->figure == WB_FIGURE_POOL_LIMIT)
    {
      into->pace = g_new (double, n);
      into->pace_stage[0] = g_new (double, self->n_draws);
      into->pace_stage[1] = g_new (double, self->n_draws);
    }
  if (asking->mm_row != NOWHERE)
    into->per_mm = g_new (double, self->n_draws);
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
      if (asking->look_row[stage][look] != NOWHERE)
        into->look[stage][look] = g_new (double, self->n_draws);
}

/* The answers of one draw, `value` a row, `deviates` of what was never tried, go where they belong. */
static void
put_draw (const Asking *asking,
          guint         draw,
          const double *value,
          const double *deviates,
          const double *kin_sd)
{
  const WbCraftForetell *self = asking->self;
  WbCraftForetoldFigure *into = asking->into;
  gsize at = (gsize) draw * self->n;

  for (guint i = 0; i < self->n; i++)
    {
      into->base[at + i] = value[i];
      for (guint s = 0; s < 2; s++)
        into->stage[s][at + i] = value[asking->stage_row[s]] + (asking->here_row[s][i] != NOWHERE ? value[asking->here_row[s][i]] : 0);
      if (into->pace != NULL)
        into->pace[at + i] = value[asking->pace_row[i]];
    }
  for (guint k = 0; k < asking->fresh->len; k++)
    {
      const Fresh *fresh = &g_array_index (asking->fresh, Fresh, k);
      double add = fresh->factor * kin_sd[fresh->kin] * deviates[fresh->deviate];
      double *where = fresh->stage < 0 ? into->base : fresh->stage == 2 ? into->pace : into->stage[fresh->stage];

      if (fresh->recipe != NOWHERE)
        where[at + fresh->recipe] += add;
      for (guint i = 0; i < self->n && fresh->recipe == NOWHERE; i++)
        where[at + i] += add;
    }
  into->per_kelvin[draw] = value[asking->kelvin_row];
  into->pour_sd[draw] = asking->model->family[WB_CRAFT_KIN_POUR] != NOWHERE ? kin_sd[WB_CRAFT_KIN_POUR] : 0;
  if (into->per_mm != NULL)
    into->per_mm[draw] = value[asking->mm_row];
  for (guint s = 0; s < 2 && into->pace != NULL; s++)
    into->pace_stage[s][draw] = value[asking->pace_stage_row[s]];
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
      if (into->look[stage][look] != NULL)
        into->look[stage][look][draw] = value[asking->look_row[stage][look]];
}

/* Room for the draws of one point. */
typedef struct
{
  double *mean, *root, *z, *value, *deviates;
  double  kin_sd[WB_CRAFT_N_KINS];
} Room;

/*
 * Standard deviates of a draw. Those of the recipes' levels are partly common to all figures: a wick that feeds more melts wider, burns taller and
 * heats more, and where the models are wrong about how much, they are wrong alike.
 */
static void
draw_deviates (const Asking *asking,
               guint         draw,
               WbCalcRandom *random,
               Room         *room)
{
  double strength = asking->model->belief->strength, own = sqrt (1 - strength * strength);
  const float *common = asking->common + (gsize) draw * asking->n_common;
  guint n = asking->self->n;

  for (guint r = 0; r < asking->n_main; r++)
    {
      room->z[r] = wb_calc_random_normal (random);
      if (r < n)
        room->z[r] = strength * common[r] + own * room->z[r];
    }
  for (guint d = 0; d < asking->n_deviates; d++)
    if (asking->used[d])
      {
        room->deviates[d] = wb_calc_random_normal (random);
        if (n + d < asking->n_common)
          room->deviates[d] = strength * common[n + d] + own * room->deviates[d];
      }
}

static gboolean
find_point (const Asking *asking,
            guint         point,
            Room         *room)
{
  const WbCalcPooledRows rows = { asking->n_rows, (const size_t *) asking->start->data, (const size_t *) asking->columns->data,
                                  (const double *) asking->values->data };

  if (wb_calc_pooled_predict (asking->model->fit, point, &rows, room->mean, room->root) != WB_CALC_OK)
    return FALSE;
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    if (asking->model->family[kin] != NOWHERE)
      room->kin_sd[kin] = sqrt (fmax (room->root[(gsize) asking->kin_row[kin] * asking->n_rows + asking->kin_row[kin]], 0));
  take_root (room->root, asking->n_main, asking->n_rows);
  return TRUE;
}

static void
draw_point (const Asking *asking,
            guint64       seed,
            const guint  *point_of,
            guint         point,
            Room         *room)
{
  gboolean found = FALSE;

  for (guint draw = 0; draw < asking->self->n_draws; draw++)
    {
      WbCalcRandom random;

      if (point_of[draw] != point)
        continue;
      if (!found && !find_point (asking, point, room))
        g_error ("the foretold rows are not the model's");
      found = TRUE;
      /* a generator a draw, so that which point it is of changes no other draw */
      wb_calc_random_init (&random, seed, draw);
      draw_deviates (asking, draw, &random, room);
      for (guint r = 0; r < asking->n_main; r++)
        {
          const double *row = room->root + (gsize) r * asking->n_rows;

          room->value[r] = room->mean[r];
          for (guint k = 0; k <= r; k++)
            room->value[r] += row[k] * room->z[k];
        }
      put_draw (asking, draw, room->value, room->deviates, room->kin_sd);
    }
}

typedef struct
{
  const WbCraftForetell *self;
  const guint           *series_of;
  guint                  n_series;
  const float           *common;
  guint                  n_common;
} Job;

static void
foretell_model (WbCraftWorkers *workers,
                guint           model,
                gpointer        data)
{
  const Job *job = data;
  const WbCalcPooled *fit = job->self->school->models[model].fit;
  guint64 seed = seed_of (job->self, model);
  g_autofree guint *point_of = NULL;
  Asking asking;
  Room room;

  if (fit == NULL)
    return;
  asking_init (&asking, job->self, model, job->series_of, job->n_series);
  asking.common = job->common;
  asking.n_common = job->n_common;
  alloc_figure (&asking);
  room = (Room) { g_new (double, asking.n_rows), g_new (double, (gsize) asking.n_rows * asking.n_rows), g_new (double, asking.n_rows),
                  g_new (double, asking.n_rows), g_new (double, MAX (asking.n_deviates, 1)), { 0 } };
  point_of = share_draws (&asking, seed);
  for (guint point = 0; point < wb_calc_pooled_get_n_points (fit); point++)
    draw_point (&asking, seed, point_of, point, &room);
  g_free (room.mean);
  g_free (room.root);
  g_free (room.z);
  g_free (room.value);
  g_free (room.deviates);
  asking_clear (&asking);
}

/* ---- the door ---- */

/* Recipes of one series have one number. Caller frees. */
static guint *
number_series (GArray *seats,
               guint  *n_series)
{
  guint *number = g_new (guint, MAX (seats->len, 1));
  guint n = 0;

  for (guint i = 0; i < seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (seats, WbCraftSeat, i);

      number[i] = NOWHERE;
      for (guint k = 0; k < i && number[i] == NOWHERE; k++)
        if (g_strcmp0 (g_array_index (seats, WbCraftSeat, k).series, seat->series) == 0)
          number[i] = number[k];
      if (number[i] == NOWHERE)
        number[i] = n++;
    }
  *n_series = n;
  return number;
}

/* Mean over the lessons, with one that says 1: a bent law is rare. */
static double
pool_exponent (const WbCraftSchool *school)
{
  double sum = 1, n = 1;

  for (guint i = 0; i < school->lessons->len; i++)
    {
      const WbLesson *lesson = g_ptr_array_index (school->lessons, i);

      for (guint k = 0; k < lesson->figures->len; k++)
        {
          const WbLessonFigure *figure = &g_array_index (lesson->figures, WbLessonFigure, k);

          if (figure->figure != WB_FIGURE_POOL_LIMIT || !(figure->exponent > 0))
            continue;
          sum += figure->exponent;
          n++;
          break;
        }
    }
  return sum / n;
}

/* Standard deviates that all figures share a part of. Caller frees. */
static float *
draw_common (const WbCraftForetell *self,
             guint                  n_common)
{
  float *common = g_new (float, MAX ((gsize) self->n_draws * n_common, 1));

  for (guint draw = 0; draw < self->n_draws; draw++)
    {
      WbCalcRandom random;

      wb_calc_random_init (&random, self->seed, draw);
      for (guint k = 0; k < n_common; k++)
        common[(gsize) draw * n_common + k] = (float) wb_calc_random_normal (&random);
    }
  return common;
}

WbCraftForetell *
wb_craft_foretell_new (const WbCraftSchool         *school,
                       const WbCraftLadderQuestion *question,
                       GArray                      *seats,
                       guint                        n_draws,
                       guint64                      seed)
{
  WbCraftForetell *self = g_new0 (WbCraftForetell, 1);
  guint n_series;
  g_autofree guint *series_of = number_series (seats, &n_series);
  g_autofree float *common = NULL;
  Job job = { self, series_of, n_series, NULL, seats->len + count_common (seats->len, n_series) };
  guint64 rooms;

  self->school = school;
  self->question = question;
  self->seats = g_array_ref (seats);
  self->n = seats->len;
  self->n_draws = n_draws;
  self->seed = seed;
  self->exponent = pool_exponent (school);
  self->cold_c = WB_CRAFT_ROOM_COLD_C;
  self->warm_c = WB_CRAFT_ROOM_WARM_C;
  if (isfinite (question->room_cold_c) && isfinite (question->room_warm_c) && (question->room_cold_c != 0 || question->room_warm_c != 0))
    {
      self->cold_c = MIN (question->room_cold_c, question->room_warm_c);
      self->warm_c = MAX (question->room_cold_c, question->room_warm_c);
    }
  self->room_c = g_new (double, MAX (n_draws, 1));
  rooms = seed_of (self, WB_CRAFT_SCHOOL_N_MODELS);
  for (guint draw = 0; draw < n_draws; draw++)
    {
      WbCalcRandom random;

      wb_calc_random_init (&random, rooms, draw);
      self->room_c[draw] = self->cold_c + (self->warm_c - self->cold_c) * wb_calc_random_uniform (&random);
    }
  job.common = common = draw_common (self, job.n_common);
  wb_craft_workers_run (WB_CRAFT_SCHOOL_N_MODELS, foretell_model, &job, NULL, NULL);
  return self;
}

static void
figure_clear (WbCraftForetoldFigure *figure)
{
  g_free (figure->base);
  g_free (figure->stage[0]);
  g_free (figure->stage[1]);
  g_free (figure->pace);
  g_free (figure->pace_stage[0]);
  g_free (figure->pace_stage[1]);
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
      g_free (figure->look[stage][look]);
  g_free (figure->per_kelvin);
  g_free (figure->per_mm);
  g_free (figure->pour_sd);
}

void
wb_craft_foretell_free (WbCraftForetell *self)
{
  if (self == NULL)
    return;
  for (guint model = 0; model < WB_CRAFT_SCHOOL_N_MODELS; model++)
    figure_clear (&self->figures[model]);
  g_array_unref (self->seats);
  g_free (self->room_c);
  g_free (self);
}

double
wb_craft_foretell_get_pace (const WbCraftForetell *self,
                            WbStage                stage,
                            guint                  draw,
                            guint                  recipe)
{
  const WbCraftForetoldFigure *figure = &self->figures[WB_CRAFT_SCHOOL_GROWTH];
  double pace = figure->pace[(gsize) draw * self->n + recipe];

  return stage == WB_STAGE_UPPER ? pace : pace + figure->pace_stage[stage - 1][draw];
}

double
wb_craft_foretell_get (const WbCraftForetell *self,
                       guint                  model,
                       WbStage                stage,
                       WbLessonLook                 look,
                       guint                  draw,
                       guint                  recipe,
                       double                 room_c)
{
  const WbCraftForetoldFigure *figure = &self->figures[model];
  WbFigure of = self->school->models[model].belief->figure;
  gsize at = (gsize) draw * self->n + recipe;
  double y = figure->base[at] + figure->per_kelvin[draw] * (room_c - WB_CRAFT_SCHOOL_ROOM_C);

  if (stage != WB_STAGE_UPPER)
    y += figure->stage[stage - 1][at];
  if (figure->look[stage][look] != NULL)
    y += figure->look[stage][look][draw];
  if (figure->per_mm != NULL)
    y += figure->per_mm[draw]
         * wb_craft_school_shortfall (wb_craft_foretell_get (self, WB_CRAFT_SCHOOL_GROWTH, stage, WB_LESSON_LOOK_END, draw, recipe, room_c),
                                      wb_craft_foretell_get_pace (self, stage, draw, recipe), self->question->inner_diameter_mm);
  return wb_craft_school_unbend (of, y);
}

double
wb_craft_foretell_candle_sd (const WbCraftForetell *self,
                             guint                  draw)
{
  return hypot (self->school->models[WB_CRAFT_SCHOOL_GROWTH].sample_sd, self->figures[WB_CRAFT_SCHOOL_GROWTH].pour_sd[draw]);
}
