/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-estimates-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-burn-private.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-means-private.h"
#include "wb-craft-scale-private.h"

#define COVERAGE 0.9
#define USUAL_ROOM_C 22.0  /* where no burn of the experiment has a room temperature */

static const WbCraftEstimate no_estimate = {
  .told = { NAN, NAN, NAN }, .mean = NAN, .se = NAN, .df = NAN, .sample_sd = NAN, .burn_sd = NAN,
};

/* Mean room of the burns read: figures that lean on it are told at this. */
static double
mean_room (const WbDataset      *data,
           const WbCraftFigures *figures)
{
  double sum = 0;
  guint n = 0;

  for (guint i = 0; i < figures->n_burns; i++)
    if (!isnan (figures->burns[i].room_c) && wb_craft_burn_counts (data, &figures->burns[i]))
      {
        sum += figures->burns[i].room_c;
        n++;
      }
  return n > 0 ? sum / n : USUAL_ROOM_C;
}

GArray *
wb_craft_estimates_gather (const WbDataset      *data,
                           const WbCraftFigures *figures,
                           WbFigure              figure,
                           WbStage               stage,
                           gboolean              worst,
                           double                room_c)
{
  GArray *values = g_array_new (FALSE, FALSE, sizeof (WbCraftMeanValue));

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];
      WbCraftMeanValue value = { NAN, burn->cell, burn->sample, 0, burn->room_c };

      if (!wb_craft_burn_speaks (data, burn, figure) || (stage != WB_STAGE_ALL && burn->stage != stage))
        continue;
      value.number = wb_dataset_get_burn (data, burn->burn)->number;
      value.y = wb_craft_scale_from (figure, wb_craft_burn_get (burn, figure, worst),
                                     isnan (burn->room_c) ? room_c : burn->room_c);
      if (!isnan (value.y))
        g_array_append_val (values, value);
    }
  return values;
}

static void
tell (WbCraftEstimate *estimate,
      WbFigure         figure)
{
  double half = wb_calc_student_quantile (1 - (1 - COVERAGE) / 2, estimate->df) * estimate->se;

  if (isnan (estimate->mean))
    return;
  estimate->told = (WbCraftInterval) {
    wb_craft_scale_to (figure, estimate->mean, estimate->offset),
    wb_craft_scale_to (figure, estimate->mean - half, estimate->offset),
    wb_craft_scale_to (figure, estimate->mean + half, estimate->offset)
  };
}

/* What all figures of a stage need to be estimated. */
typedef struct
{
  const WbDataset      *data;
  const WbCraftFigures *figures;
  WbCraftColumns        columns;
  double                room_c;
  WbCraftKeepGoing      keep_going;
  gpointer              user;
  double                done;
  gboolean              stopped;
} Job;

static bool
on_keep_going (void *user)
{
  Job *job = user;

  if (job->keep_going != NULL && !job->keep_going (job->done, job->user))
    job->stopped = TRUE;
  return !job->stopped;
}

/* Ratings by their own model; the figures of a mean stand beside what is told, for charts. */
static void
estimate_ratings (Job              *job,
                  const GArray     *values,
                  WbFigure          figure,
                  WbStage           stage,
                  WbCraftEstimates *self,
                  WbCraftEstimate  *estimates)
{
  const WbCraftRatings *ratings = wb_craft_estimates_find_ratings (self, figure, stage);

  wb_craft_means_fill (NULL, values, self->n_cells, estimates);
  if (ratings == NULL)
    {
      WbCraftRatings *made = wb_craft_ratings_new (job->data, values, &job->columns, figure, stage, on_keep_going, job);

      if (made == NULL)
        return;
      g_ptr_array_add (self->ratings, made);
      ratings = made;
    }
  for (guint i = 0; i < self->n_cells; i++)
    {
      if (estimates[i].burns == 0)
        continue;
      estimates[i].told = wb_craft_ratings_tell (ratings, i);
      estimates[i].mean = estimates[i].told.value;
      estimates[i].se = (estimates[i].told.high - estimates[i].told.low) / (2 * wb_calc_normal_quantile (1 - (1 - COVERAGE) / 2));
      estimates[i].df = INFINITY;
    }
}

static void
estimate_figure (Job              *job,
                 WbFigure          figure,
                 WbStage           stage,
                 gboolean          worst,
                 WbCraftEstimates *self,
                 WbCraftEstimate  *estimates)
{
  g_autoptr (GArray) values = wb_craft_estimates_gather (job->data, job->figures, figure, stage, worst, job->room_c);
  WbCraftMeanPrior prior = wb_craft_scale_get_prior (figure);
  g_autoptr (WbCraftMeans) means = NULL;

  for (guint i = 0; i < self->n_cells; i++)
    {
      estimates[i] = no_estimate;
      estimates[i].log_scale = wb_craft_scale_is_log (figure);
      estimates[i].offset = figure == WB_FIGURE_VESSEL ? job->room_c : 0;
    }
  if (values->len == 0 || job->stopped)
    return;
  if (wb_craft_scale_is_rating (figure))
    {
      estimate_ratings (job, values, figure, stage, self, estimates);
      return;
    }
  means = wb_craft_means_new (values, self->n_cells, NULL, &prior);
  wb_craft_means_fill (means, values, self->n_cells, estimates);
  for (guint i = 0; i < self->n_cells; i++)
    tell (&estimates[i], figure);
}

static gboolean
is_estimated (WbFigure figure)
{
  return figure != WB_FIGURE_FULL_POOL && figure != WB_FIGURE_POOL_LIMIT && figure != WB_FIGURE_TAU
         && figure != WB_FIGURE_SCORE;
}

static void
blank_figure (WbFigure          figure,
              WbCraftEstimates *self)
{
  for (guint i = 0; i < self->n_cells; i++)
    {
      self->cells[i].figure[figure] = no_estimate;
      for (WbStage s = 0; s < WB_N_STAGES; s++)
        self->cells[i].stage_figure[s][figure] = self->cells[i].stage_worst[s][figure] = no_estimate;
    }
}

/* Every figure by stage, at its end and at its worst, and over the stages asked for; FALSE: stopped. */
static gboolean
estimate_figures (Job              *job,
                  WbStage           asked,
                  guint             bits,
                  WbCraftEstimates *self)
{
  g_autofree WbCraftEstimate *estimates = g_new0 (WbCraftEstimate, MAX (self->n_cells, 1));
  /* where one stage alone was burnt, its answer is the whole one's */
  guint only = asked == WB_STAGE_ALL && bits != 0 && (bits & (bits - 1)) == 0 ? (guint) g_bit_nth_lsf (bits, -1) : WB_N_STAGES;

  for (WbFigure figure = 0; figure < WB_N_FIGURES && !job->stopped; figure++)
    {
      job->done = 0.1 * figure / WB_N_FIGURES;
      blank_figure (figure, self);
      if (!is_estimated (figure))
        continue;
      for (WbStage s = 0; s < WB_N_STAGES; s++)
        {
          estimate_figure (job, figure, s, FALSE, self, estimates);
          for (guint i = 0; i < self->n_cells; i++)
            self->cells[i].stage_figure[s][figure] = estimates[i];
          estimate_figure (job, figure, s, TRUE, self, estimates);
          for (guint i = 0; i < self->n_cells; i++)
            self->cells[i].stage_worst[s][figure] = estimates[i];
        }
      if (only == WB_N_STAGES)
        estimate_figure (job, figure, asked, FALSE, self, estimates);
      for (guint i = 0; i < self->n_cells; i++)
        self->cells[i].figure[figure] = only == WB_N_STAGES ? estimates[i] : self->cells[i].stage_figure[only][figure];
    }
  return !job->stopped;
}

static void
count_burns (const WbDataset      *data,
             const WbCraftFigures *figures,
             WbCraftEstimates     *self)
{
  guint last_sample = G_MAXUINT;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];

      if (!wb_craft_burn_counts (data, burn))
        continue;
      self->cells[burn->cell].burns++;
      if (burn->sample != last_sample)
        self->cells[burn->cell].samples++;
      last_sample = burn->sample;
    }
}

/* Stages in which standard burns that count were made, as bits. */
static guint
stages_burnt (const WbDataset      *data,
              const WbCraftFigures *figures)
{
  guint bits = 0;

  for (guint i = 0; i < figures->n_burns; i++)
    if (wb_craft_burn_counts (data, &figures->burns[i]))
      bits |= 1u << figures->burns[i].stage;
  return bits;
}

/* Spread between candles that earlier experiments have shown, mean of squares; nothing where none had a second sample. */
static WbCraftSpread
earlier_spread (const GPtrArray *earlier)
{
  double sum = 0, weight = 0;

  for (guint i = 0; earlier != NULL && i < earlier->len; i++)
    {
      const WbCraftEstimates *estimates = g_ptr_array_index (earlier, i);
      guint spare = 0;
      double of_this = NAN;

      for (guint cell = 0; cell < estimates->n_cells; cell++)
        {
          const WbCraftGrowth *growth = &estimates->cells[cell].growth;

          if ((growth->status != WB_CRAFT_FIT_OK && growth->status != WB_CRAFT_FIT_BENT) || isnan (growth->sample_sd))
            continue;
          spare += growth->samples - 1;
          of_this = growth->sample_sd;
        }
      if (spare == 0)
        continue;
      sum += spare * of_this * of_this;
      weight += spare;
    }
  if (!(weight > 0) || !(sum > 0))
    return (WbCraftSpread) { 0, 0 };
  return (WbCraftSpread) { sqrt (sum / weight), weight };
}

/*
 * One fit a stage, and one over what was asked for. Where only one stage was
 * burnt its fit is the whole one's.
 */
static gboolean
estimate_growth (const WbDataset      *data,
                 const WbCraftFigures *figures,
                 WbStage               asked,
                 WbCraftSpread         earlier,
                 WbCraftKeepGoing      keep_going,
                 gpointer              user,
                 WbCraftEstimates     *self)
{
  g_autofree WbCraftGrowth *growth = g_new0 (WbCraftGrowth, MAX (self->n_cells, 1));
  guint bits = stages_burnt (data, figures);
  gboolean one_stage = (bits & (bits - 1)) == 0;

  for (guint stage = 0; stage <= WB_N_STAGES; stage++)
    {
      if (stage == WB_STAGE_ALL && one_stage && asked == WB_STAGE_ALL && bits != 0)
        {
          for (guint i = 0; i < self->n_cells; i++)
            self->cells[i].growth = self->cells[i].stage_growth[g_bit_nth_lsf (bits, -1)];
          break;
        }
      if (keep_going != NULL && !keep_going (0.1 + 0.2 * stage, user))
        return FALSE;
      if (!wb_craft_growth_estimate (data, figures, stage == WB_STAGE_ALL ? asked : stage, earlier, keep_going, user,
                                     0.1 + 0.2 * stage, growth))
        return FALSE;
      for (guint i = 0; i < self->n_cells; i++)
        *(stage == WB_STAGE_ALL ? &self->cells[i].growth : &self->cells[i].stage_growth[stage]) = growth[i];
    }
  return TRUE;
}

WbCraftEstimates *
wb_craft_estimates_new (const WbDataset      *data,
                        const WbCraftFigures *figures,
                        WbStage               stage,
                        const GPtrArray      *earlier,
                        WbCraftKeepGoing      keep_going,
                        gpointer              user)
{
  g_autoptr (WbCraftEstimates) self = g_new0 (WbCraftEstimates, 1);
  Job job = { .data = data, .figures = figures, .room_c = mean_room (data, figures), .keep_going = keep_going, .user = user };
  WbCraftSpread spread;
  gboolean going_on;

  g_return_val_if_fail (data != NULL && figures != NULL, NULL);

  self->n_cells = data->cells->len;
  self->cells = g_new0 (WbCraftCell, self->n_cells);
  for (guint i = 0; i < self->n_cells; i++)
    self->cells[i].cell = i;
  count_burns (data, figures, self);
  self->ratings = g_ptr_array_new_with_free_func ((GDestroyNotify) wb_craft_ratings_free);
  self->room_c = job.room_c;
  wb_craft_columns_init (&job.columns, data);
  going_on = estimate_figures (&job, stage, stages_burnt (data, figures), self);
  wb_craft_columns_clear (&job.columns);
  if (!going_on)
    return NULL;
  spread = earlier_spread (earlier);
  self->earlier_sd = spread.sd;
  self->earlier_df = spread.df;
  if (!estimate_growth (data, figures, stage, spread, keep_going, user, self))
    return NULL;
  return g_steal_pointer (&self);
}

void
wb_craft_estimates_free (WbCraftEstimates *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->ratings, g_ptr_array_unref);
  g_free (self->cells);
  g_free (self);
}

const WbCraftRatings *
wb_craft_estimates_find_ratings (const WbCraftEstimates *self,
                                 WbFigure                figure,
                                 WbStage                 stage)
{
  for (guint i = 0; self->ratings != NULL && i < self->ratings->len; i++)
    {
      const WbCraftRatings *ratings = g_ptr_array_index (self->ratings, i);

      if (ratings->figure == figure && ratings->stage == stage)
        return ratings;
    }
  return NULL;
}
