/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-school-private.h"

#include <math.h>
#include <string.h>

#include "wb-craft-school-kept-private.h"
#include "wb-craft-workers-private.h"

#define HOUSE_FLAME_MM 50.0   /* house limits of a notebook without any */
#define HOUSE_VESSEL_C 77.0
#define WALL_PASSES 4         /* after which the sites of walls hardly move */
/* Factors of families differ by so little that it means nothing, for the axes of a curvature that is the same in two directions are any. */
#define FACTOR_APART 0.005

static int
compare_lessons (gconstpointer a,
                 gconstpointer b)
{
  const WbLesson *one = *(const WbLesson *const *) a, *other = *(const WbLesson *const *) b;

  if (one->experiment != other->experiment)
    return one->experiment < other->experiment ? -1 : 1;
  return g_strcmp0 (one->code, other->code);
}

/* ---- who sits where ---- */

static void
seat_lesson (WbCraftSchool  *self,
             const WbLesson *lesson)
{
  guint next = 0;

  for (guint i = 0; i < lesson->cells->len; i++)
    {
      const WbLessonCell *cell = &g_array_index (lesson->cells, WbLessonCell, i);
      WbCraftSeat seat = { .lesson = lesson, .cell = cell, .index = i, .step = cell->step, .wicks = MAX (cell->wicks, 1), .wall = cell->wall,
                           .inner_mm = cell->inner_mm, .load_pct = cell->load_pct };

      while (next < lesson->figures->len && g_array_index (lesson->figures, WbLessonFigure, next).cell < i)
        next++;
      for (seat.first = next; next < lesson->figures->len && g_array_index (lesson->figures, WbLessonFigure, next).cell == i; next++)
        seat.n_figures++;
      if (cell->series == NULL || cell->step == WB_INTEGER_NONE || !(cell->inner_mm > 0))
        continue;
      wb_craft_register_seat (&self->names, &seat, cell->series, cell->size, cell->wax_name, TRUE);
      seat.level[WB_CRAFT_LEVEL_POUR] = self->names.n_pours;
      self->n_burnt += cell->burns > 0;
      g_array_append_val (self->seats, seat);
    }
  self->names.n_pours++;
}

/* The tightest stops of the lessons' limits; the house's where there are none. */
static void
learn_stops (WbCraftSchool  *self,
             const WbLesson *lesson)
{
  if (lesson->flame_stop > 0)
    self->flame_stop = MIN (self->flame_stop, lesson->flame_stop);
  if (lesson->vessel_stop > 0)
    self->vessel_stop = MIN (self->vessel_stop, lesson->vessel_stop);
}

/* What questions read of the lessons' figures beside the models: the upper third's curves, and the exponent of the law, with one that says 1: a bent one is rare. */
static void
learn_curves (WbCraftSchool *self)
{
  double sum = 1, n = 1;

  g_array_set_size (self->curves, 0);
  for (guint i = 0; i < self->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (self->seats, WbCraftSeat, i);
      WbCraftCurve curve = { NAN, NAN, NAN, NAN };

      for (guint k = seat->first; k < seat->first + seat->n_figures; k++)
        {
          const WbLessonFigure *figure = &g_array_index (seat->lesson->figures, WbLessonFigure, k);

          if (figure->figure == WB_FIGURE_POOL_LIMIT && figure->stage == WB_STAGE_UPPER)
            {
              curve = (WbCraftCurve) { figure->mean, figure->pace, figure->exponent, figure->at_wall_h };
              break;
            }
        }
      g_array_append_val (self->curves, curve);
    }
  for (guint i = 0; i < self->lessons->len; i++)
    {
      const WbLesson *lesson = g_ptr_array_index (self->lessons, i);

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
  self->exponent = sum / n;
}

/* ---- fitting ---- */

typedef struct
{
  WbCraftSchool     *school;
  const WbCraftKept *kept;
  gboolean           failed[WB_CRAFT_SCHOOL_N_MODELS];
} Job;

/* The families of a model, in their order; known: the spreads are those given, else the usual ones. Returns how many. */
static gsize
put_families (const WbCraftSchoolModel *model,
              const double             *log_spreads,
              gboolean                  known,
              WbCalcPooledFamily       *families)
{
  gsize n = 0;

  for (WbCraftKin kin = 0; kin < WB_CRAFT_N_KINS; kin++)
    if (model->family[kin] != G_MAXUINT)
      {
        const WbCraftKinBelief *belief = &model->belief->kin[kin];
        double factor = belief->factor * (1 + FACTOR_APART * n);

        /* of a spread whose logarithm is normal the mean square is the median's times exp (2 factor^2), so that the median lies below what is stated */
        families[n] = (WbCalcPooledFamily) { belief->usual * exp (-factor * factor), factor };
        if (known)
          families[n] = (WbCalcPooledFamily) { log_spreads != NULL ? exp (log_spreads[n]) : belief->usual, 0 };
        n++;
      }
  return n;
}

static WbCalcPooledRows
get_rows (const WbCraftSchoolModel *model)
{
  return (WbCalcPooledRows) { model->y->len, (const size_t *) model->start->data, (const size_t *) model->columns->data,
                              (const double *) model->values->data };
}

/* known: the spreads are those given, else the usual ones, and nothing is searched for. */
static WbCalcStatus
try_fit (WbCraftSchoolModel *model,
         const double       *log_spreads,
         const double       *curvature,
         gboolean            known)
{
  const WbCalcPooledRows rows = get_rows (model);
  WbCalcPooledFamily families[WB_CRAFT_N_KINS];
  gsize n = put_families (model, log_spreads, known, families);

  g_clear_pointer (&model->fit, wb_calc_pooled_free);
  return wb_calc_pooled_fit_on (&rows, (const double *) model->y->data, (const double *) model->noise->data,
                                (const WbCalcPooledCoefficient *) model->coefficients->data, model->coefficients->len, families, n,
                                log_spreads, curvature, &model->fit);
}

/*
 * Lessons that contradict each other badly may have no mode that the search finds from where it begins: then from the usual spreads, and
 * else these stand.
 */
static gboolean
fit_model (WbCraftSchoolModel *model,
           const double       *log_spreads,
           const double       *curvature)
{
  return try_fit (model, log_spreads, curvature, FALSE) == WB_CALC_OK
         || (log_spreads != NULL && try_fit (model, NULL, NULL, FALSE) == WB_CALC_OK)
         || try_fit (model, NULL, NULL, TRUE) == WB_CALC_OK;
}

/* Goes on from what was kept of the model. */
static gboolean
fit_on (WbCraftSchoolModel *model,
        const WbCraftKept  *kept)
{
  const double *curvature, *spreads = wb_craft_kept_get_spreads (kept, model, &curvature);

  return fit_model (model, spreads, curvature);
}

static gboolean
has_rows (const WbCraftSchoolModel *model)
{
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
      if (model->read[stage][look])
        return TRUE;
  return FALSE;
}

/*
 * Where cells were at the wall whenever read, what that says depends on what the others say: a few passes with the spreads that
 * are found without them, then the spreads are looked for with them.
 */
static gboolean
fit_growth (Job            *job,
            WbCraftWorkers *workers)
{
  WbCraftSchoolModel *growth = &job->school->models[WB_CRAFT_SCHOOL_GROWTH];
  g_autofree double *found = NULL, *curvature = NULL;
  gsize n;

  if (growth->walls->len == 0)
    return fit_on (growth, job->kept);
  for (guint i = 0; i < growth->walls->len; i++)
    g_array_index (growth->walls, WbCraftWall, i).noise = INFINITY;
  wb_craft_school_put_walls (job->school);
  if (!fit_on (growth, job->kept))
    return FALSE;
  n = wb_calc_pooled_get_n_families (growth->fit);
  found = g_memdup2 (wb_calc_pooled_get_log_spreads (growth->fit), n * sizeof (double));
  curvature = g_memdup2 (wb_calc_pooled_get_curvature (growth->fit), n * n * sizeof (double));
  for (guint pass = 0; pass < WALL_PASSES && wb_craft_workers_go_on (workers); pass++)
    {
      wb_craft_school_move_walls (job->school);
      if (try_fit (growth, found, NULL, TRUE) != WB_CALC_OK)
        return FALSE;
    }
  wb_craft_school_move_walls (job->school);
  return fit_model (growth, found, curvature);
}

static void
fit_piece (WbCraftWorkers *workers,
           guint           piece,
           gpointer        data)
{
  Job *job = data;
  WbCraftSchoolModel *model = &job->school->models[piece];

  if (piece != WB_CRAFT_SCHOOL_GROWTH)
    wb_craft_school_model_learn (model, job->school);
  if (!has_rows (model))
    return;
  job->failed[piece] = piece == WB_CRAFT_SCHOOL_GROWTH ? !fit_growth (job, workers)
                                                       : !fit_on (model, job->kept);
}

/* What is believed is a part of what a fit rests on: one that was kept under other beliefs is none of these lessons. */
static void
add_beliefs (guint8 fingerprint[32])
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  gsize length = 32;

  g_checksum_update (sum, fingerprint, 32);
  g_checksum_update (sum, (const guchar *) wb_craft_school_get_belief (0), WB_CRAFT_SCHOOL_N_MODELS * sizeof (WbCraftSchoolBelief));
  g_checksum_get_digest (sum, fingerprint, &length);
}

/* ---- the door ---- */

static WbCraftSchool *
school_alloc (const GPtrArray *lessons)
{
  WbCraftSchool *self = g_new0 (WbCraftSchool, 1);

  self->lessons = g_ptr_array_new ();
  self->seats = g_array_new (FALSE, TRUE, sizeof (WbCraftSeat));
  self->curves = g_array_new (FALSE, FALSE, sizeof (WbCraftCurve));
  self->exponent = 1;
  self->flame_stop = HOUSE_FLAME_MM;
  self->vessel_stop = HOUSE_VESSEL_C;
  wb_craft_register_init (&self->names);
  for (guint i = 0; i < lessons->len; i++)
    g_ptr_array_add (self->lessons, g_ptr_array_index (lessons, i));
  g_ptr_array_sort (self->lessons, compare_lessons);
  for (guint i = 0; i < self->lessons->len; i++)
    {
      seat_lesson (self, g_ptr_array_index (self->lessons, i));
      learn_stops (self, g_ptr_array_index (self->lessons, i));
    }
  return self;
}

/* Everything but what the figures say. */
static WbCraftSchool *
school_begin (const GPtrArray *lessons,
              const GPtrArray *guides,
              const GPtrArray *wicks,
              const GPtrArray *waxes)
{
  WbCraftSchool *self = school_alloc (lessons);

  for (guint i = 0; i < guides->len; i++)
    {
      WbCraftSeat seat;

      wb_craft_school_seat_guide (self, g_ptr_array_index (guides, i), wicks, waxes, TRUE, &seat);
    }
  wb_craft_kept_fingerprint (self->lessons, guides, wicks, waxes, self->fingerprint);
  add_beliefs (self->fingerprint);
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    wb_craft_school_model_init (&self->models[i], self, i);
  return self;
}

WbCraftSchool *
wb_craft_school_new (const GPtrArray  *lessons,
                     const GPtrArray  *guides,
                     const GPtrArray  *wicks,
                     const GPtrArray  *waxes,
                     GBytes           *kept,
                     WbCraftKeepGoing  keep_going,
                     gpointer          user)
{
  g_autoptr (WbCraftSchool) self = NULL;
  g_autoptr (WbCraftKept) before = NULL;
  Job job = { NULL };

  g_return_val_if_fail (lessons != NULL && guides != NULL && wicks != NULL && waxes != NULL, NULL);

  self = school_begin (lessons, guides, wicks, waxes);
  before = wb_craft_kept_read (kept);
  if (before != NULL && wb_craft_kept_recall (before, self))
    {
      self->recalled = g_bytes_ref (kept);
      return g_steal_pointer (&self);
    }
  learn_curves (self);
  if (self->n_burnt == 0)
    return g_steal_pointer (&self);
  job = (Job) { .school = self, .kept = before };
  wb_craft_school_model_learn (&self->models[WB_CRAFT_SCHOOL_GROWTH], self);
  wb_craft_school_learn_guides (self, guides, wicks, waxes);
  if (!wb_craft_workers_run (WB_CRAFT_SCHOOL_N_MODELS, fit_piece, &job, keep_going, user))
    return NULL;
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    if (job.failed[i])
      g_clear_pointer (&self->models[i].fit, wb_calc_pooled_free);
  return g_steal_pointer (&self);
}

WbCraftSchool *
wb_craft_school_recall (const GPtrArray *lessons,
                        const GPtrArray *guides,
                        const GPtrArray *wicks,
                        const GPtrArray *waxes,
                        GBytes          *kept)
{
  g_autoptr (WbCraftSchool) self = NULL;
  g_autoptr (WbCraftKept) before = NULL;

  g_return_val_if_fail (lessons != NULL && guides != NULL && wicks != NULL && waxes != NULL, NULL);

  before = wb_craft_kept_read (kept);
  if (before == NULL)
    return NULL;
  self = school_begin (lessons, guides, wicks, waxes);
  if (!wb_craft_kept_recall (before, self))
    return NULL;
  self->recalled = g_bytes_ref (kept);
  return g_steal_pointer (&self);
}

void
wb_craft_school_free (WbCraftSchool *self)
{
  if (self == NULL)
    return;
  for (guint i = 0; i < WB_CRAFT_SCHOOL_N_MODELS; i++)
    wb_craft_school_model_clear (&self->models[i]);
  wb_craft_register_clear (&self->names);
  g_array_unref (self->seats);
  g_array_unref (self->curves);
  g_clear_pointer (&self->recalled, g_bytes_unref);
  g_ptr_array_unref (self->lessons);
  g_free (self);
}

gboolean
wb_craft_school_is_taught (const WbCraftSchool *self)
{
  g_return_val_if_fail (self != NULL, FALSE);
  return self->models[WB_CRAFT_SCHOOL_GROWTH].fit != NULL;
}

GBytes *
wb_craft_school_get_kept (const WbCraftSchool *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  return self->recalled != NULL ? g_bytes_ref (self->recalled) : wb_craft_kept_write (self);
}

gboolean
wb_craft_school_is_kept (const WbCraftSchool *self,
                         GBytes              *kept)
{
  g_return_val_if_fail (self != NULL, FALSE);
  return self->recalled != NULL && kept != NULL && g_bytes_equal (self->recalled, kept);
}
