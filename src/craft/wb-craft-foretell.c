/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-private.h"

#include <math.h>
#include <string.h>

#include "wb-calc-random.h"
#include "wb-craft-foretell-joint-private.h"
#include "wb-craft-workers-private.h"

#define SINGULAR 1e-10   /* of a variance, below which nothing is left of it once the others are known */

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

static guint64
seed_of (const WbCraftForetell *self,
         guint64                what)
{
  guint64 state = self->seed + 0x9e3779b97f4a7c15u * (what + 1);

  return wb_calc_random_split (&state);
}

static void
alloc_figure (const WbCraftAsking *asking)
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
  if (asking->mm_row != WB_CRAFT_ASKING_NOWHERE)
    into->per_mm = g_new (double, self->n_draws);
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
      if (asking->look_row[stage][look] != WB_CRAFT_ASKING_NOWHERE)
        into->look[stage][look] = g_new (double, self->n_draws);
}

/* The answers of one draw, `value` a row, `deviates` of what was never tried, go where they belong. */
static void
put_draw (const WbCraftAsking *asking,
          guint                draw,
          const double        *value,
          const double        *deviates,
          const double        *kin_sd)
{
  const WbCraftForetell *self = asking->self;
  WbCraftForetoldFigure *into = asking->into;
  gsize at = (gsize) draw * self->n;

  for (guint i = 0; i < self->n; i++)
    {
      into->base[at + i] = value[i];
      for (guint s = 0; s < 2; s++)
        into->stage[s][at + i] = value[asking->stage_row[s]] + (asking->here_row[s][i] != WB_CRAFT_ASKING_NOWHERE ? value[asking->here_row[s][i]] : 0);
      if (into->pace != NULL)
        into->pace[at + i] = value[asking->pace_row[i]];
    }
  for (guint k = 0; k < asking->fresh->len; k++)
    {
      const WbCraftFresh *fresh = &g_array_index (asking->fresh, WbCraftFresh, k);
      double add = fresh->factor * kin_sd[fresh->kin] * deviates[fresh->deviate];
      double *where = fresh->stage < 0 ? into->base : fresh->stage == 2 ? into->pace : into->stage[fresh->stage];

      if (fresh->recipe != WB_CRAFT_ASKING_NOWHERE)
        where[at + fresh->recipe] += add;
      for (guint i = 0; i < self->n && fresh->recipe == WB_CRAFT_ASKING_NOWHERE; i++)
        where[at + i] += add;
    }
  into->per_kelvin[draw] = value[asking->kelvin_row];
  into->pour_sd[draw] = asking->model->family[WB_CRAFT_KIN_POUR] != WB_CRAFT_ASKING_NOWHERE ? kin_sd[WB_CRAFT_KIN_POUR] : 0;
  if (into->per_mm != NULL)
    into->per_mm[draw] = value[asking->mm_row];
  for (guint s = 0; s < 2 && into->pace != NULL; s++)
    into->pace_stage[s][draw] = value[asking->pace_stage_row[s]];
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
      if (into->look[stage][look] != NULL)
        into->look[stage][look][draw] = value[asking->look_row[stage][look]];
}

/* Room for the draws of a model. */
typedef struct
{
  WbCraftPoint point;
  double      *z, *value, *deviates;
  double       kin_sd[WB_CRAFT_N_KINS];
} Room;

/* Deviates of what was never tried; of what all figures share, partly the factor's. */
static void
draw_deviates (const WbCraftAsking *asking,
               const double        *factors,
               WbCalcRandom        *random,
               double              *deviates)
{
  double strength = asking->model->belief->strength, own = sqrt (1 - strength * strength);

  for (guint d = 0; d < asking->n_deviates; d++)
    if (asking->used[d])
      {
        deviates[d] = wb_calc_random_normal (random);
        if (d < asking->n_common)
          deviates[d] = strength * factors[d] + own * deviates[d];
      }
}

/* The main rows, given the factors. */
static void
draw_rows (const WbCraftAsking *asking,
           const double        *factors,
           WbCalcRandom        *random,
           Room                *room)
{
  const WbCraftPoint *point = &room->point;
  guint n_items = asking->items->len;

  for (guint r = 0; r < asking->n_main; r++)
    room->z[r] = wb_calc_random_normal (random);
  for (guint r = 0; r < asking->n_main; r++)
    {
      const double *row = point->covariance + (gsize) r * asking->n_rows, *gain = point->gain + (gsize) r * n_items;

      room->value[r] = point->mean[r];
      for (guint k = 0; k <= r; k++)
        room->value[r] += row[k] * room->z[k];
      for (guint k = 0; k < n_items; k++)
        room->value[r] += gain[k] * factors[point->factor[k]];
    }
}

static void
find_point (const WbCraftAsking *asking,
            guint                point,
            Room                *room)
{
  wb_craft_point_find (&room->point, asking, point);
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    room->kin_sd[kin] = wb_craft_asking_get_kin_sd (asking, point, kin);
  take_root (room->point.covariance, asking->n_main, asking->n_rows);
}

static void
draw_point (const WbCraftAsking *asking,
            const double        *factors,
            guint64              seed,
            const guint         *point_of,
            guint                point,
            Room                *room)
{
  gboolean found = FALSE;

  for (guint draw = 0; draw < asking->self->n_draws; draw++)
    {
      const double *of_draw = factors + (gsize) draw * asking->n_common;
      WbCalcRandom random;

      if (point_of[draw] != point)
        continue;
      if (!found)
        find_point (asking, point, room);
      found = TRUE;
      /* a generator a draw, so that which point it is of changes no other draw */
      wb_calc_random_init (&random, seed, draw);
      draw_rows (asking, of_draw, &random, room);
      draw_deviates (asking, of_draw, &random, room->deviates);
      put_draw (asking, draw, room->value, room->deviates, room->kin_sd);
    }
}

typedef struct
{
  const WbCraftForetell *self;
  WbCraftAsking          askings[WB_CRAFT_SCHOOL_N_MODELS]; /* self NULL: nobody read it */
  const double          *factors;
} Job;

static void
foretell_model (WbCraftWorkers *workers,
                guint           model,
                gpointer        data)
{
  const Job *job = data;
  const WbCraftAsking *asking = &job->askings[model];
  guint64 seed = seed_of (job->self, model);
  g_autofree guint *point_of = NULL;
  Room room;

  if (asking->self == NULL)
    return;
  alloc_figure (asking);
  room = (Room) { .z = g_new (double, asking->n_main + 1), .value = g_new (double, asking->n_main + 1),
                  .deviates = g_new (double, asking->n_deviates + 1) };
  wb_craft_point_init (&room.point, asking);
  point_of = wb_craft_asking_share_draws (asking, seed);
  for (guint point = 0; point < wb_calc_pooled_get_n_points (asking->model->fit); point++)
    draw_point (asking, job->factors, seed, point_of, point, &room);
  wb_craft_point_clear (&room.point);
  g_free (room.z);
  g_free (room.value);
  g_free (room.deviates);
}

/* All figures, by their models. */
static void
foretell_all (WbCraftForetell *self,
              const guint     *series_of,
              guint            n_series)
{
  g_autofree double *factors = NULL;
  Job job = { .self = self };
  guint n_common = 0;

  for (guint model = 0; model < WB_CRAFT_SCHOOL_N_MODELS; model++)
    if (self->school->models[model].fit != NULL)
      {
        wb_craft_asking_init (&job.askings[model], self, model, series_of, n_series);
        n_common = job.askings[model].n_common;
      }
  job.factors = factors = wb_craft_foretell_draw_factors (self, job.askings, WB_CRAFT_SCHOOL_N_MODELS, n_common);
  wb_craft_workers_run (WB_CRAFT_SCHOOL_N_MODELS, foretell_model, &job, NULL, NULL);
  for (guint model = 0; model < WB_CRAFT_SCHOOL_N_MODELS; model++)
    if (job.askings[model].self != NULL)
      wb_craft_asking_clear (&job.askings[model]);
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

      number[i] = WB_CRAFT_ASKING_NOWHERE;
      for (guint k = 0; k < i && number[i] == WB_CRAFT_ASKING_NOWHERE; k++)
        if (g_strcmp0 (g_array_index (seats, WbCraftSeat, k).series, seat->series) == 0)
          number[i] = number[k];
      if (number[i] == WB_CRAFT_ASKING_NOWHERE)
        number[i] = n++;
    }
  *n_series = n;
  return number;
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
  guint64 rooms;

  self->school = school;
  self->question = question;
  self->seats = g_array_ref (seats);
  self->n = seats->len;
  self->n_draws = n_draws;
  self->seed = seed;
  self->exponent = school->exponent;
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
  foretell_all (self, series_of, n_series);
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
                       WbLessonLook           look,
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
