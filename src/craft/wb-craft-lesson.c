/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-lesson.h"

#include <math.h>

#include "wb-craft-batch.h"
#include "wb-craft-burn-private.h"
#include "wb-craft-crossed.h"
#include "wb-craft-earlier-private.h"
#include "wb-craft-estimates-private.h"
#include "wb-craft-means-private.h"
#include "wb-craft-peaks-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-stops-private.h"
#include "wb-craft-verdict-private.h"
#include "wb-craft-vessel-private.h"

/* What the pieces of a lesson are made from. */
typedef struct
{
  const WbDataset        *data;
  const WbCraftFigures   *figures;
  const WbCraftLimits    *limits;
  const WbCraftEstimates *estimates;
  WbLesson               *lesson;
  guint                  *place;     /* of a cell of the data among the lesson's; G_MAXUINT: it is none of them */
} Job;

/* The file has one zero. */
static double
plain (double x)
{
  return x == 0 ? 0 : x;
}

/* The first of its limits that was crossed by a sample that counts, one of heat before others; NULL: none. */
static const WbCraftLimit *
find_crossed (const Job *job,
              guint      cell)
{
  const WbCraftLimit *first = NULL;

  for (guint i = 0; job->limits != NULL && i < job->limits->n_limits; i++)
    {
      const WbCraftLimit *limit = wb_craft_limits_get (job->limits, cell, i);

      if (limit->state != WB_CRAFT_LIMIT_CROSSED)
        continue;
      if (wb_craft_limit_is_of_heat (((const WbLimit *) g_ptr_array_index (job->data->limits, i))->kind))
        return limit;
      first = first != NULL ? first : limit;
    }
  return first;
}

static void
tell_crossed (const Job    *job,
              guint         cell,
              WbLessonCell *into)
{
  const WbCraftLimit *crossed = find_crossed (job, cell);
  const WbLimit *limit;

  into->crossed_limit = -1;
  into->crossed_at = into->crossed_stop = into->crossed_min = NAN;
  into->uncleared = job->limits != NULL && wb_craft_verdict_is_uncleared (job->limits, cell);
  into->cracked = wb_craft_crossed_find_crack (job->data, cell) != G_MAXUINT;
  if (crossed == NULL)
    return;
  limit = g_ptr_array_index (job->data->limits, crossed->limit);
  into->crossed = TRUE;
  into->crossed_heat = wb_craft_limit_is_of_heat (limit->kind);
  into->crossed_limit = limit->kind;
  into->crossed_at = plain (crossed->worst);
  into->crossed_stop = plain (limit->stop_at);
  into->crossed_house = limit->house;
  into->crossed_logged = crossed->logged;
  into->crossed_min = plain (crossed->elapsed_min);
  if (crossed->burn != G_MAXUINT)
    into->crossed_burn = wb_dataset_get_burn (job->data, crossed->burn)->number;
  if (crossed->sample != G_MAXUINT)
    into->crossed_sample = g_strdup (wb_dataset_get_sample (job->data, crossed->sample)->code);
}

/* Mean room over the burns that count and are over; NAN: nobody read it. */
static double
find_room (const Job *job,
           guint      cell)
{
  double sum = 0;
  guint n = 0;

  for (guint i = 0; i < job->figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &job->figures->burns[i];

      if (burn->cell != cell || isnan (burn->room_c) || !wb_craft_burn_is_done (job->data, burn))
        continue;
      sum += burn->room_c;
      n++;
    }
  return n > 0 ? plain (sum / n) : NAN;
}

static double
find_reach (const Job *job,
            guint      cell)
{
  double reach = NAN;

  for (guint i = 0; i < job->figures->n_samples; i++)
    if (wb_craft_verdict_counts (job->data, i, cell) && !isnan (job->figures->life_left[i]))
      reach = fmax (reach, CLAMP (1 - job->figures->life_left[i], 0, 1));
  return reach;
}

static void
tell_recipe (const Job    *job,
             guint         cell,
             WbLessonCell *into)
{
  const WbDataset *data = job->data;
  const WbCell *record = wb_dataset_get_cell (data, cell);
  const WbWick *wick = wb_dataset_get_wick (data, cell);
  const WbVessel *vessel = wb_dataset_get_vessel (data, cell);
  const WbFragrance *fragrance = wb_dataset_get_fragrance (data, cell);

  into->cell = record->record.id;
  into->wick = record->wick;
  into->vessel = record->vessel;
  into->wax = data->experiment != NULL ? data->experiment->wax : 0;
  into->fragrance = record->fragrance;
  into->dye = data->experiment != NULL ? data->experiment->dye : 0;
  into->series = g_strdup (wick->series);
  into->size = g_strdup (wick->size);
  into->step = wick->step;
  into->vessel_name = g_strdup (vessel->name);
  into->wax_name = g_strdup (data->wax != NULL ? data->wax->name : NULL);
  into->scent = g_strdup (fragrance != NULL ? fragrance->name : NULL);
  into->wall = vessel->wall;
  into->inner_mm = wb_craft_vessel_inner_mm (vessel, WB_STAGE_UPPER);
  into->stated_pct = plain (record->load_pct);
  into->basis = record->load_basis;
  into->load_pct = plain (record->load_basis == WB_BASIS_TOTAL ? wb_craft_load_to_wax_pct (record->load_pct) : record->load_pct);
  into->wicks = (guint) CLAMP (record->wick_count, 1, 12);
  into->headspace_mm = plain (vessel->headspace_mm);
}

static void
add_cells (Job *job)
{
  for (guint i = 0; i < job->estimates->n_cells; i++)
    {
      const WbCraftCell *of = &job->estimates->cells[i];
      WbLessonCell cell = { .samples = of->samples, .burns = of->burns };

      tell_crossed (job, i, &cell);
      job->place[i] = G_MAXUINT;
      if (of->burns == 0 && !cell.crossed && !cell.uncleared && !cell.cracked)
        continue;
      tell_recipe (job, i, &cell);
      cell.room_c = find_room (job, i);
      cell.reach = find_reach (job, i);
      job->place[i] = job->lesson->cells->len;
      g_array_append_val (job->lesson->cells, cell);
    }
}

static void
add_growth (const Job *job,
            WbStage    stage)
{
  for (guint i = 0; i < job->estimates->n_cells; i++)
    {
      const WbCraftGrowth *growth = &job->estimates->cells[i].stage_growth[stage];
      gboolean fitted = wb_craft_fit_status_is_fitted (growth->status) && !isnan (growth->log_limit) && !isnan (growth->log_tau);
      WbLessonFigure figure = {
        .cell = job->place[i], .figure = WB_FIGURE_POOL_LIMIT, .stage = stage, .look = WB_LESSON_LOOK_END, .status = growth->status,
        .samples = growth->samples, .burns = growth->burns,
        .mean = fitted ? plain (growth->log_limit) : NAN, .variance = fitted ? plain (growth->var_limit) : NAN,
        .pace = fitted ? plain (growth->log_tau) : NAN, .pace_variance = fitted ? plain (growth->var_tau) : NAN,
        .covariance = fitted ? plain (growth->cov) : NAN, .df = fitted ? plain (growth->df) : NAN,
        .pace_df = fitted ? plain (growth->df_tau) : NAN, .exponent = fitted ? plain (growth->exponent) : NAN,
        .sample_sd = fitted ? plain (growth->sample_sd) : NAN, .burn_sd = fitted ? plain (growth->burn_sd) : NAN,
        .at_wall_h = plain (growth->at_wall_h), .short_h = plain (growth->short_h),
      };

      if (figure.cell != G_MAXUINT && growth->status != WB_CRAFT_FIT_NO_READINGS && growth->burns > 0)
        g_array_append_val (job->lesson->figures, figure);
    }
}

static void
add_estimate (const Job             *job,
              guint                  cell,
              WbFigure               figure,
              WbStage                stage,
              WbLessonLook           look,
              const WbCraftEstimate *estimate,
              const WbCraftEstimate *spreads)
{
  WbLessonFigure row = {
    .cell = job->place[cell], .figure = figure, .stage = stage, .look = look,
    .samples = estimate->samples, .burns = estimate->burns,
    .mean = plain (estimate->mean), .variance = plain (estimate->se * estimate->se), .df = plain (estimate->df),
    .pace = NAN, .pace_variance = NAN, .covariance = NAN, .pace_df = NAN, .exponent = NAN,
    .sample_sd = plain (spreads->sample_sd), .burn_sd = plain (spreads->burn_sd),
    .offset = figure == WB_FIGURE_VESSEL ? plain (job->estimates->room_c) : 0,
    .at_wall_h = NAN, .short_h = NAN,
  };

  if (row.cell != G_MAXUINT && !isnan (row.mean))
    g_array_append_val (job->lesson->figures, row);
}

/* Each cell for itself, from those values; zeroed where they tell nothing. Caller frees. */
static WbCraftEstimate *
dup_means (const Job            *job,
           WbFigure              figure,
           const GArray         *values,
           const WbCraftHighest *highest)
{
  guint n = job->estimates->n_cells;
  WbCraftEstimate *estimates = g_new0 (WbCraftEstimate, MAX (n, 1));
  WbCraftMeanPrior prior = wb_craft_earlier_get_prior (job->estimates->earlier, figure);

  if (highest != NULL)
    prior.reader_sd = highest->reader_sd;
  wb_craft_means_fill (values->len > 0 ? wb_craft_means_find (job->estimates->memo, values, n, NULL, &prior, NULL, NULL) : NULL,
                       values, n, estimates);
  return estimates;
}

/* Ratings are told by a model of their own; how they spread between candles and burns, by their plain values. */
static void
add_ends (const Job *job,
          WbFigure   figure,
          WbStage    stage)
{
  g_autofree WbCraftEstimate *plain_means = NULL;

  if (wb_craft_scale_is_rating (figure))
    {
      g_autoptr (GArray) values = wb_craft_estimates_gather (job->data, job->figures, figure, stage, FALSE, NULL, job->estimates->room_c);

      plain_means = dup_means (job, figure, values, NULL);
    }
  for (guint i = 0; i < job->estimates->n_cells; i++)
    {
      const WbCraftEstimate *estimate = &job->estimates->cells[i].stage_figure[stage][figure];

      add_estimate (job, i, figure, stage, WB_LESSON_LOOK_END, estimate, plain_means != NULL ? &plain_means[i] : estimate);
    }
}

static void
add_highest (const Job            *job,
             const WbCraftHighest *highest,
             WbFigure              figure,
             WbStage               stage,
             WbLessonLook          look)
{
  g_autoptr (GArray) values
      = look == WB_LESSON_LOOK_PEAK
          ? wb_craft_peaks_gather (job->data, job->figures, figure, stage, highest, job->estimates->room_c)
          : wb_craft_estimates_gather (job->data, job->figures, figure, stage, TRUE, highest, job->estimates->room_c);
  g_autofree WbCraftEstimate *estimates = dup_means (job, figure, values, highest);

  for (guint i = 0; i < job->estimates->n_cells; i++)
    add_estimate (job, i, figure, stage, look, &estimates[i], &estimates[i]);
}

static void
add_figure (const Job *job,
            WbFigure   figure)
{
  /* none where the figure has one value a burn */
  g_autoptr (WbCraftHighest) highest = wb_craft_highest_new (job->data, job->figures, figure, job->estimates->room_c);

  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    {
      add_ends (job, figure, stage);
      if (highest == NULL)
        continue;
      add_highest (job, highest, figure, stage, WB_LESSON_LOOK_WORST);
      if (figure == WB_FIGURE_FLAME || figure == WB_FIGURE_VESSEL)
        add_highest (job, highest, figure, stage, WB_LESSON_LOOK_PEAK);
    }
}

static int
compare_figures (gconstpointer a,
                 gconstpointer b)
{
  const WbLessonFigure *one = a, *other = b;

  if (one->cell != other->cell)
    return one->cell < other->cell ? -1 : 1;
  if (one->figure != other->figure)
    return one->figure < other->figure ? -1 : 1;
  if (one->stage != other->stage)
    return one->stage < other->stage ? -1 : 1;
  return (int) one->look - (int) other->look;
}

static double
find_stop (const WbDataset *data,
           WbFigure         figure)
{
  double stop = wb_craft_stops_get (data, figure);

  return isfinite (stop) ? stop : NAN;
}

WbLesson *
wb_craft_lesson_new (const WbDataset        *data,
                     const WbCraftFigures   *figures,
                     const WbCraftLimits    *limits,
                     const WbCraftEstimates *estimates)
{
  WbLesson *self;
  g_autofree guint *place = NULL;
  Job job;

  g_return_val_if_fail (data != NULL && figures != NULL && estimates != NULL, NULL);

  self = wb_lesson_new ();
  place = g_new (guint, MAX (estimates->n_cells, 1));
  job = (Job) { data, figures, limits, estimates, self, place };
  self->experiment = data->experiment != NULL ? data->experiment->record.id : 0;
  self->code = g_strdup (data->experiment != NULL ? data->experiment->code : NULL);
  self->protocol = data->experiment != NULL ? data->experiment->protocol : 0;
  self->last_entry = data->last_entry;
  self->version = WB_CRAFT_LESSON_VERSION;
  self->flame_stop = find_stop (data, WB_FIGURE_FLAME);
  self->vessel_stop = find_stop (data, WB_FIGURE_VESSEL);
  add_cells (&job);
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    add_growth (&job, stage);
  for (WbFigure figure = 0; figure < WB_N_FIGURES && self->cells->len > 0; figure++)
    if (figure != WB_FIGURE_FULL_POOL && figure != WB_FIGURE_POOL_LIMIT && figure != WB_FIGURE_TAU && figure != WB_FIGURE_SCORE)
      add_figure (&job, figure);
  g_array_sort (self->figures, compare_figures);
  return self;
}
