/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-school-private.h"

#include <math.h>

#include "wb-craft-growth.h"
#include "wb-craft-growth-private.h"

/*
 * From the lessons to the rows of a model. Errors that go together are not counted twice:
 *
 * - The thirds of a cell come from the same candles. By how much these are off their recipe is a term of the cell's own, with the known
 *   spread of the mean of so many candles; what is left of each summary's variance is the third's.
 * - The end, the worst and the peak of the same burns are one piece of evidence of the level: the end tells it, and the others only by how much
 *   they lie above the end, with a part of the noise, as the readings are the same.
 */

#define LOOK_SHARE 0.3    /* of a summary's variance that the difference of two looks at the same burns has; no source */
#define LOOK_LEAST 0.02   /* and its standard deviation at least */
#define CANDLES_MOST 0.9  /* of a summary's variance that its candles are taken to account for */
#define REPOOL_MOST 5.0   /* by which factor a variance changes when its spreads are those of all lessons */
#define SPREAD_WEIGHT 4.0 /* candles, and burns, that the usual spreads count for */

/* The figures of one cell that a model takes. */
typedef const WbLessonFigure *Looks[WB_N_STAGES][WB_LESSON_N_LOOKS];

typedef struct
{
  WbCraftSchoolModel *model;
  const WbCraftSeat  *seat;
  const Looks        *of;       /* the model's figure */
  const Looks        *growth;   /* the curves; the hang-up leans on them */
  gsize               candles;  /* column of how far its candles are off; G_MAXSIZE: one third alone was read */
  double              candles_variance;
} Desk;

/* Of a mean over so many candles and burns. */
static double
variance_of_mean (double sample_sd,
                  double burn_sd,
                  guint  samples,
                  guint  burns)
{
  return sample_sd * sample_sd / MAX (samples, 1) + burn_sd * burn_sd / MAX (burns, 1);
}

/*
 * Variance of a summary, its candles' and burns' spreads taken as they are over all lessons: those of its own experiment rest on a few candles, and
 * would give the most weight to what differs least by chance.
 */
static double
noise_of (const WbCraftSchoolModel *model,
          const WbLessonFigure     *figure,
          double                    slope)
{
  gboolean peak = figure->look == WB_LESSON_LOOK_PEAK;
  double pooled = variance_of_mean (peak ? model->peak_sample_sd : model->sample_sd, peak ? model->peak_burn_sd : model->burn_sd,
                                    figure->samples, figure->burns);
  double own = variance_of_mean (figure->sample_sd, figure->burn_sd, figure->samples, figure->burns);
  double variance = figure->variance;

  if (!(variance > 0) || !isfinite (variance))
    variance = pooled;
  else if (own > 0)
    variance *= CLAMP (pooled / own, 1 / REPOOL_MOST, REPOOL_MOST);
  return fmax (variance * slope * slope, model->belief->least_noise * model->belief->least_noise);
}

/* How far the mean of its candles may be off, where more than one third tells of them. */
static void
seat_candles (Desk *desk)
{
  guint thirds = 0;
  double variance = INFINITY, least = INFINITY;

  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    {
      const WbLessonFigure *figure = (*desk->of)[stage][WB_LESSON_LOOK_END];
      double slope;

      if (figure == NULL || isnan (figure->mean))
        continue;
      thirds++;
      wb_craft_school_bend (figure->figure, figure->mean, &slope);
      if (figure->sample_sd > 0 && figure->samples > 0)
        variance = fmin (variance, pow (desk->model->sample_sd * slope, 2) / figure->samples);
      least = fmin (least, noise_of (desk->model, figure, slope));
    }
  desk->candles = G_MAXSIZE;
  desk->candles_variance = 0;
  if (thirds < 2 || !isfinite (variance))
    return;
  desk->candles_variance = fmin (variance, CANDLES_MOST * least);
  desk->candles = wb_craft_school_model_add_coefficient (desk->model, 0, sqrt (desk->candles_variance), WB_CALC_POOLED_NO_FAMILY);
}

static void
put_candles (const Desk   *desk,
             double        factor,
             WbCraftTerms *terms)
{
  if (desk->candles != G_MAXSIZE)
    wb_craft_terms_add (terms, desk->candles, factor);
}

/* ln D∞, and ln tau less its regression on that: their errors do not go together. */
static void
learn_curve (const Desk           *desk,
             const WbLessonFigure *figure)
{
  WbCraftTerms level, pace;
  double variance = noise_of (desk->model, figure, 1), own = variance - desk->candles_variance;
  double inflation = variance / fmax (figure->variance, 1e-12);
  double with = figure->variance > 0 ? figure->covariance / figure->variance : 0;
  double rest = inflation * (figure->pace_variance - with * figure->covariance);

  wb_craft_terms_init (&level);
  wb_craft_terms_init (&pace);
  wb_craft_school_model_put (desk->model, desk->seat, figure->stage, TRUE, 1, &level);
  put_candles (desk, 1, &level);
  wb_craft_school_model_add_row (desk->model, &level, figure->mean, own);
  wb_craft_school_model_put_pace (desk->model, desk->seat, figure->stage, TRUE, 1, &pace);
  wb_craft_terms_mix (&pace, &level, -with);
  if (isfinite (figure->pace) && isfinite (rest))
    wb_craft_school_model_add_row (desk->model, &pace, figure->pace - with * figure->mean,
                                   fmax (rest, pow (desk->model->belief->least_noise, 2)));
  wb_craft_terms_clear (&level);
  wb_craft_terms_clear (&pace);
}

/* At the wall whenever it was read: a row without weight, until the others say something of it. */
static void
learn_wall (const Desk           *desk,
            const WbLessonFigure *figure,
            guint                 seat)
{
  WbCraftWall wall = { .seat = seat, .stage = figure->stage, .early_h = figure->short_h > 0 ? figure->short_h : 0, .late_h = figure->at_wall_h };

  if (!(figure->at_wall_h > 0) || !(desk->seat->inner_mm > 0))
    return;
  wall.row = desk->model->y->len;
  g_array_append_val (desk->model->walls, wall);
  {
    WbCraftTerms terms;

    wb_craft_terms_init (&terms);
    wb_craft_school_model_put (desk->model, desk->seat, figure->stage, TRUE, 1, &terms);
    wb_craft_school_model_add_row (desk->model, &terms, 0, 1);
    wb_craft_terms_clear (&terms);
  }
}

/* A row of the end, or of the worst where no end was told. FALSE: left out. */
static gboolean
learn_level (const Desk           *desk,
             const WbLessonFigure *figure,
             gboolean              is_end)
{
  const WbLessonFigure *curve = (*desk->growth)[figure->stage][WB_LESSON_LOOK_END];
  WbCraftTerms terms;
  double slope, y = wb_craft_school_bend (figure->figure, figure->mean, &slope);
  double noise = noise_of (desk->model, figure, slope) - (is_end ? desk->candles_variance : 0);

  if (figure->figure == WB_FIGURE_HANG_UP && (curve == NULL || (isnan (curve->mean) && !(curve->at_wall_h > 0))))
    return FALSE;
  wb_craft_terms_init (&terms);
  wb_craft_school_model_put (desk->model, desk->seat, figure->stage, TRUE, 1, &terms);
  if (figure->figure == WB_FIGURE_HANG_UP && isfinite (curve->mean) && isfinite (curve->pace))
    wb_craft_terms_add (&terms, WB_CRAFT_TERM_SHORTFALL, wb_craft_school_shortfall (curve->mean, curve->pace, desk->seat->inner_mm));
  if (is_end)
    put_candles (desk, 1, &terms);
  else
    wb_craft_terms_add (&terms, (figure->look == WB_LESSON_LOOK_WORST ? WB_CRAFT_TERM_WORST : WB_CRAFT_TERM_PEAK) + figure->stage, 1);
  wb_craft_school_model_add_row (desk->model, &terms, y, fmax (noise, pow (desk->model->belief->least_noise, 2) / 4));
  wb_craft_terms_clear (&terms);
  return TRUE;
}

/* By how much a look lies above another of the same burns: a row of the shifts alone. */
static void
learn_shift (const Desk           *desk,
             const WbLessonFigure *figure,
             const WbLessonFigure *from)
{
  WbCraftTerms terms;
  double noise = LOOK_SHARE * noise_of (desk->model, figure, 1);

  wb_craft_terms_init (&terms);
  wb_craft_terms_add (&terms, (figure->look == WB_LESSON_LOOK_WORST ? WB_CRAFT_TERM_WORST : WB_CRAFT_TERM_PEAK) + figure->stage, 1);
  if (from->look == WB_LESSON_LOOK_WORST)
    wb_craft_terms_add (&terms, WB_CRAFT_TERM_WORST + figure->stage, -1);
  wb_craft_school_model_add_row (desk->model, &terms, figure->mean - from->mean, fmax (noise, LOOK_LEAST * LOOK_LEAST));
  wb_craft_terms_clear (&terms);
}

static void
learn_stage (const Desk *desk,
             WbStage     stage)
{
  const WbLessonFigure *from = NULL;

  for (WbLessonLook look = 0; look < WB_LESSON_N_LOOKS; look++)
    {
      const WbLessonFigure *figure = (*desk->of)[stage][look];

      if (figure == NULL || isnan (figure->mean))
        continue;
      if (from == NULL && !learn_level (desk, figure, look == WB_LESSON_LOOK_END))
        continue;
      if (from != NULL)
        learn_shift (desk, figure, from);
      else
        from = figure;
      desk->model->read[stage][look] = TRUE;
    }
}

static void
learn_cell (Desk  *desk,
            guint  seat)
{
  seat_candles (desk);
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    {
      const WbLessonFigure *figure = (*desk->of)[stage][WB_LESSON_LOOK_END];

      if (desk->model->belief->figure != WB_FIGURE_POOL_LIMIT)
        learn_stage (desk, stage);
      else if (figure != NULL && isfinite (figure->mean))
        learn_curve (desk, figure);
      else if (figure != NULL && figure->status == WB_CRAFT_FIT_ALL_AT_WALL)
        learn_wall (desk, figure, seat);
      else
        continue;
      if (desk->model->belief->figure == WB_FIGURE_POOL_LIMIT)
        desk->model->read[stage][WB_LESSON_LOOK_END] = TRUE;
    }
}

/* ---- spreads between candles and burns ---- */

/* Mean of squares over the lessons with the usual one, none of which is the cell's own. */
typedef struct { double squares, weight; } Spread;

static void
spread_add (Spread *self,
            double  sd,
            double  weight)
{
  if (!(sd >= 0) || !(weight > 0))
    return;
  self->squares += weight * sd * sd;
  self->weight += weight;
}

static void
learn_spreads (WbCraftSchoolModel  *self,
               const WbCraftSchool *school)
{
  Spread sample = { SPREAD_WEIGHT * pow (self->belief->sample_sd, 2), SPREAD_WEIGHT };
  Spread burn = { SPREAD_WEIGHT * pow (self->belief->burn_sd, 2), SPREAD_WEIGHT };
  Spread peak_sample = sample, peak_burn = burn;

  for (guint i = 0; i < school->lessons->len; i++)
    {
      const WbLesson *lesson = g_ptr_array_index (school->lessons, i);

      for (guint k = 0; k < lesson->figures->len; k++)
        {
          const WbLessonFigure *figure = &g_array_index (lesson->figures, WbLessonFigure, k);
          gboolean peak = figure->look == WB_LESSON_LOOK_PEAK;

          if (figure->figure != self->belief->figure || figure->samples == 0)
            continue;
          spread_add (peak ? &peak_sample : &sample, figure->sample_sd, figure->samples - 1.0);
          spread_add (peak ? &peak_burn : &burn, figure->burn_sd, peak ? figure->samples - 1.0 : (double) figure->burns - figure->samples);
        }
    }
  self->sample_sd = sqrt (sample.squares / sample.weight);
  self->sample_df = sample.weight;
  self->burn_sd = sqrt (burn.squares / burn.weight);
  self->burn_df = burn.weight;
  self->peak_sample_sd = sqrt (peak_sample.squares / peak_sample.weight);
  self->peak_burn_sd = sqrt (peak_burn.squares / peak_burn.weight);
  self->peak_df = peak_sample.weight;
}

void
wb_craft_school_model_learn (WbCraftSchoolModel  *self,
                             const WbCraftSchool *school)
{
  learn_spreads (self, school);
  for (guint i = 0; i < school->seats->len; i++)
    {
      const WbCraftSeat *seat = &g_array_index (school->seats, WbCraftSeat, i);
      Looks of = { { NULL } }, growth = { { NULL } };
      Desk desk = { .model = self, .seat = seat, .of = (const Looks *) &of, .growth = (const Looks *) &growth };

      for (guint k = seat->first; k < seat->first + seat->n_figures; k++)
        {
          const WbLessonFigure *figure = &g_array_index (seat->lesson->figures, WbLessonFigure, k);

          if (figure->stage >= WB_N_STAGES || figure->look >= WB_LESSON_N_LOOKS)
            continue;
          if (figure->figure == self->belief->figure)
            of[figure->stage][figure->look] = figure;
          if (figure->figure == WB_FIGURE_POOL_LIMIT)
            growth[figure->stage][figure->look] = figure;
        }
      learn_cell (&desk, i);
    }
}
