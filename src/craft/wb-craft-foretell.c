/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-foretell-private.h"

#include <math.h>
#include <string.h>

#include "wb-calc-random.h"
#include "wb-craft-asking-private.h"
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
draw_deviates (const WbCraftAsking *asking,
               guint                draw,
               WbCalcRandom        *random,
               Room                *room)
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
find_point (const WbCraftAsking *asking,
            guint                point,
            Room                *room)
{
  const WbCalcPooledRows rows = { asking->n_rows, (const size_t *) asking->start->data, (const size_t *) asking->columns->data,
                                  (const double *) asking->values->data };

  if (wb_calc_pooled_predict (asking->model->fit, point, &rows, room->mean, room->root) != WB_CALC_OK)
    return FALSE;
  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    if (asking->model->family[kin] != WB_CRAFT_ASKING_NOWHERE)
      room->kin_sd[kin] = sqrt (fmax (room->root[(gsize) asking->kin_row[kin] * asking->n_rows + asking->kin_row[kin]], 0));
  take_root (room->root, asking->n_main, asking->n_rows);
  return TRUE;
}

static void
draw_point (const WbCraftAsking *asking,
            guint64              seed,
            const guint         *point_of,
            guint                point,
            Room                *room)
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
  WbCraftAsking asking;
  Room room;

  if (fit == NULL)
    return;
  wb_craft_asking_init (&asking, job->self, model, job->series_of, job->n_series);
  asking.common = job->common;
  asking.n_common = job->n_common;
  alloc_figure (&asking);
  room = (Room) { g_new (double, asking.n_rows), g_new (double, (gsize) asking.n_rows * asking.n_rows), g_new (double, asking.n_rows),
                  g_new (double, asking.n_rows), g_new (double, MAX (asking.n_deviates, 1)), { 0 } };
  point_of = wb_craft_asking_share_draws (&asking, seed);
  for (guint point = 0; point < wb_calc_pooled_get_n_points (fit); point++)
    draw_point (&asking, seed, point_of, point, &room);
  g_free (room.mean);
  g_free (room.root);
  g_free (room.z);
  g_free (room.value);
  g_free (room.deviates);
  wb_craft_asking_clear (&asking);
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
  Job job = { self, series_of, n_series, NULL, seats->len + wb_craft_asking_count_common (seats->len, n_series) };
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
