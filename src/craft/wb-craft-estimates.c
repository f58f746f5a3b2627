/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-estimates-private.h"

#include <math.h>

#include "wb-calc-quantile.h"
#include "wb-craft-burn-private.h"
#include "wb-craft-earlier-private.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-means-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-workers-private.h"

#define COVERAGE 0.9
#define USUAL_ROOM_C 22.0  /* where no burn of the experiment has a room temperature */

static const WbCraftEstimate no_estimate = {
  .told = { NAN, NAN, NAN }, .mean = NAN, .se = NAN, .df = NAN, .sample_sd = NAN, .burn_sd = NAN,
};

double
wb_craft_estimates_find_room (const WbDataset      *data,
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
                           const WbCraftHighest *highest,
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
      if (worst && highest != NULL)
        value.y = highest->burn[i];
      else
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

/* What all figures and stages share. */
typedef struct
{
  const WbDataset      *data;
  const WbCraftFigures *figures;
  WbCraftColumns        columns;
  double                room_c;
  WbStage               asked;
  GArray               *pieces;
  WbCraftEstimates     *estimates; /* where each piece has places of its own */
} Job;

/* One figure at a stage, at its end and at its worst, or WB_STAGE_ALL: over what was asked for. Growth is the full pool. */
typedef struct
{
  WbFigure figure;
  WbStage  stage;
} Piece;

static bool
on_keep_going (void *user)
{
  return wb_craft_workers_go_on (user);
}

static gboolean
on_growth_going (double   done,
                 gpointer user)
{
  return wb_craft_workers_go_on (user);
}

static gpointer *
place_of_ratings (const WbCraftEstimates *self,
                  WbFigure                figure,
                  WbStage                 stage)
{
  return &g_ptr_array_index (self->ratings, figure * (WB_N_STAGES + 1) + stage);
}

/* Ratings by their own model; the figures of a mean stand beside what is told, for charts. */
static void
estimate_ratings (const Job       *job,
                  WbCraftWorkers  *workers,
                  const GArray    *values,
                  WbFigure         figure,
                  WbStage          stage,
                  WbStage          place,
                  WbCraftEstimate *estimates)
{
  WbCraftEstimates *self = job->estimates;
  gpointer *kept = place_of_ratings (self, figure, place);
  const WbCraftRatings *ratings = *kept;

  wb_craft_means_fill (NULL, values, self->n_cells, estimates);
  if (ratings == NULL)
    ratings = wb_craft_ratings_find (self->memo, job->data, values, &job->columns, figure, stage, on_keep_going, workers);
  if (ratings == NULL)
    return;
  *kept = (gpointer) ratings;
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

/* `place`: the stage as it was asked, WB_STAGE_ALL for all that was. */
static void
estimate_figure (const Job       *job,
                 WbCraftWorkers  *workers,
                 WbFigure         figure,
                 WbStage          place,
                 gboolean         worst,
                 WbCraftEstimate *estimates)
{
  WbCraftEstimates *self = job->estimates;
  WbStage stage = place == WB_STAGE_ALL ? job->asked : place;
  g_autoptr (GArray) values = wb_craft_estimates_gather (job->data, job->figures, figure, stage, worst, NULL, job->room_c);
  WbCraftMeanPrior prior = wb_craft_earlier_get_prior (self->earlier, figure);

  for (guint i = 0; i < self->n_cells; i++)
    {
      estimates[i] = no_estimate;
      estimates[i].log_scale = wb_craft_scale_is_log (figure);
      estimates[i].offset = figure == WB_FIGURE_VESSEL ? job->room_c : 0;
    }
  if (values->len == 0 || !wb_craft_workers_go_on (workers))
    return;
  if (wb_craft_scale_is_rating (figure))
    {
      estimate_ratings (job, workers, values, figure, stage, place, estimates);
      return;
    }
  wb_craft_means_fill (wb_craft_means_find (self->memo, values, self->n_cells, NULL, &prior, on_keep_going, workers), values, self->n_cells, estimates);
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

static void
estimate_piece (WbCraftWorkers *workers,
                guint           index,
                gpointer        data)
{
  const Job *job = data;
  const Piece *piece = &g_array_index (job->pieces, Piece, index);
  WbCraftCell *cells = job->estimates->cells;
  guint n = job->estimates->n_cells;
  gboolean all = piece->stage == WB_STAGE_ALL;

  if (piece->figure == WB_FIGURE_FULL_POOL)
    {
      g_autofree WbCraftGrowth *growth = g_new0 (WbCraftGrowth, MAX (n, 1));

      wb_craft_growth_estimate (job->estimates->memo, job->data, job->figures, all ? job->asked : piece->stage,
                                wb_craft_earlier_get_spread (job->estimates->earlier), on_growth_going, workers, 0, growth);
      for (guint i = 0; i < n; i++)
        *(all ? &cells[i].growth : &cells[i].stage_growth[piece->stage]) = growth[i];
      return;
    }

  g_autofree WbCraftEstimate *estimates = g_new0 (WbCraftEstimate, MAX (n, 1));

  estimate_figure (job, workers, piece->figure, piece->stage, FALSE, estimates);
  for (guint i = 0; i < n; i++)
    *(all ? &cells[i].figure[piece->figure] : &cells[i].stage_figure[piece->stage][piece->figure]) = estimates[i];
  if (all)
    return;
  estimate_figure (job, workers, piece->figure, piece->stage, TRUE, estimates);
  for (guint i = 0; i < n; i++)
    cells[i].stage_worst[piece->stage][piece->figure] = estimates[i];
}

/* What lasts first, so that no thread is left alone with it at the end. */
static void
list_pieces (Job     *job,
             gboolean with_all)
{
  guint n_stages = with_all ? WB_N_STAGES + 1 : WB_N_STAGES;

  for (guint pass = 0; pass < 3; pass++)
    for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
      for (guint stage = 0; stage < n_stages; stage++)
        {
          /* all stages have the most burns */
          Piece piece = { figure, with_all ? (stage + WB_STAGE_ALL) % (WB_N_STAGES + 1) : stage };
          guint turn = figure == WB_FIGURE_FULL_POOL ? 0 : wb_craft_scale_is_rating (figure) ? 1 : 2;

          if (turn == pass && (turn == 0 || is_estimated (figure)))
            g_array_append_val (job->pieces, piece);
        }
}

/* Where one stage alone was burnt, its answer is the whole one's. */
static void
copy_stage (WbCraftEstimates *self,
            guint             stage)
{
  for (guint i = 0; i < self->n_cells; i++)
    {
      self->cells[i].growth = self->cells[i].stage_growth[stage];
      for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
        self->cells[i].figure[figure] = self->cells[i].stage_figure[stage][figure];
    }
}

static void
count_burns (const WbDataset      *data,
             const WbCraftFigures *figures,
             WbStage               stage,
             WbCraftEstimates     *self)
{
  guint last_sample = G_MAXUINT;

  for (guint i = 0; i < figures->n_burns; i++)
    {
      const WbCraftBurn *burn = &figures->burns[i];

      if (!wb_craft_burn_counts (data, burn) || (stage != WB_STAGE_ALL && burn->stage != stage))
        continue;
      self->cells[burn->cell].alight += burn->alight;
      if (burn->alight)
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

WbCraftEstimates *
wb_craft_estimates_new_after (WbCraftMemo          *before,
                              const WbDataset      *data,
                              const WbCraftFigures *figures,
                              WbStage               stage,
                              WbCraftEarlier       *earlier,
                              WbCraftKeepGoing      keep_going,
                              gpointer              user)
{
  g_autoptr (WbCraftEstimates) self = g_new0 (WbCraftEstimates, 1);
  Job job = { .data = data, .figures = figures, .room_c = wb_craft_estimates_find_room (data, figures), .asked = stage,
              .estimates = self };
  guint bits = stages_burnt (data, figures);
  gboolean one_stage = stage == WB_STAGE_ALL && bits != 0 && (bits & (bits - 1)) == 0;
  gboolean done;

  g_return_val_if_fail (data != NULL && figures != NULL, NULL);

  self->n_cells = data->cells->len;
  self->cells = g_new0 (WbCraftCell, self->n_cells);
  for (guint i = 0; i < self->n_cells; i++)
    self->cells[i].cell = i;
  count_burns (data, figures, stage, self);
  self->memo = wb_craft_memo_new (before);
  self->ratings = g_ptr_array_new ();
  g_ptr_array_set_size (self->ratings, WB_N_FIGURES * (WB_N_STAGES + 1));
  self->room_c = job.room_c;
  self->earlier = earlier != NULL ? wb_craft_earlier_ref (earlier) : NULL;
  for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
    blank_figure (figure, self);
  wb_craft_columns_init (&job.columns, data);
  job.pieces = g_array_new (FALSE, FALSE, sizeof (Piece));
  list_pieces (&job, !one_stage);
  done = wb_craft_workers_run (job.pieces->len, estimate_piece, &job, keep_going, user);
  g_array_unref (job.pieces);
  wb_craft_columns_clear (&job.columns);
  if (one_stage)
    copy_stage (self, (guint) g_bit_nth_lsf (bits, -1));
  return done ? g_steal_pointer (&self) : NULL;
}

WbCraftEstimates *
wb_craft_estimates_new (const WbDataset      *data,
                        const WbCraftFigures *figures,
                        WbStage               stage,
                        WbCraftEarlier       *earlier,
                        WbCraftKeepGoing      keep_going,
                        gpointer              user)
{
  return wb_craft_estimates_new_after (NULL, data, figures, stage, earlier, keep_going, user);
}

void
wb_craft_estimates_free (WbCraftEstimates *self)
{
  if (self == NULL)
    return;
  g_clear_pointer (&self->ratings, g_ptr_array_unref);
  g_clear_pointer (&self->earlier, wb_craft_earlier_unref);
  wb_craft_memo_unref (self->memo);
  g_free (self->cells);
  g_free (self);
}

const WbCraftRatings *
wb_craft_estimates_find_ratings (const WbCraftEstimates *self,
                                 WbFigure                figure,
                                 WbStage                 stage)
{
  return self->ratings != NULL ? *place_of_ratings (self, figure, stage) : NULL;
}
