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

/*
 * Ratings have ends: a cell whose mean stands near one varies less than a cell in
 * the middle. The pooled spreads are scaled to each cell as m (top − m) has it,
 * m drawn half a step from the end it stands at, so that none is taken for exact.
 */
static void
bend_ratings (WbCraftEstimate *estimates,
              guint            n_cells,
              WbFigure         figure)
{
  double low, high, sum = 0;
  guint n = 0;

  wb_craft_scale_get_ends (figure, &low, &high);
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < n_cells; i++)
      {
        WbCraftEstimate *estimate = &estimates[i];
        double pull, m, local;

        if (estimate->burns == 0)
          continue;
        pull = 0.5 / (estimate->burns + 1);
        m = estimate->mean - low;
        m = m + pull * ((high - low) - 2 * m);
        local = m * (high - low - m);
        if (pass == 0)
          {
            sum += local * estimate->burns;
            n += estimate->burns;
            continue;
          }
        local = sqrt (local / (sum / n));
        estimate->se *= local;
        estimate->sample_sd *= local;
        estimate->burn_sd *= local;
      }
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

static void
estimate_figure (const WbDataset      *data,
                 const WbCraftFigures *figures,
                 WbFigure              figure,
                 WbStage               stage,
                 gboolean              worst,
                 double                room_c,
                 WbCraftEstimate      *estimates)
{
  g_autoptr (GArray) values = wb_craft_estimates_gather (data, figures, figure, stage, worst, room_c);
  g_autoptr (WbCraftMeans) means = NULL;
  WbCraftMeanPrior prior = wb_craft_scale_get_prior (figure);
  guint n_cells = data->cells->len;

  for (guint i = 0; i < n_cells; i++)
    {
      estimates[i] = no_estimate;
      estimates[i].log_scale = wb_craft_scale_is_log (figure);
      estimates[i].offset = figure == WB_FIGURE_VESSEL ? room_c : 0;
    }
  if (values->len == 0)
    return;
  means = wb_craft_means_new (values, n_cells, NULL, &prior);
  wb_craft_means_fill (means, values, n_cells, estimates);
  if (wb_craft_scale_is_rating (figure))
    bend_ratings (estimates, n_cells, figure);
  for (guint i = 0; i < n_cells; i++)
    tell (&estimates[i], figure);
}

static gboolean
is_estimated (WbFigure figure)
{
  return figure != WB_FIGURE_FULL_POOL && figure != WB_FIGURE_POOL_LIMIT && figure != WB_FIGURE_TAU
         && figure != WB_FIGURE_SCORE;
}

static void
estimate_figures (const WbDataset      *data,
                  const WbCraftFigures *figures,
                  WbStage               stage,
                  WbCraftEstimates     *self)
{
  g_autofree WbCraftEstimate *estimates = g_new0 (WbCraftEstimate, MAX (self->n_cells, 1));
  double room_c = self->room_c = mean_room (data, figures);

  for (WbFigure figure = 0; figure < WB_N_FIGURES; figure++)
    {
      if (!is_estimated (figure))
        {
          for (guint i = 0; i < self->n_cells; i++)
            {
              self->cells[i].figure[figure] = no_estimate;
              for (WbStage s = 0; s < WB_N_STAGES; s++)
                self->cells[i].stage_figure[s][figure] = self->cells[i].stage_worst[s][figure] = no_estimate;
            }
          continue;
        }
      estimate_figure (data, figures, figure, stage, FALSE, room_c, estimates);
      for (guint i = 0; i < self->n_cells; i++)
        self->cells[i].figure[figure] = estimates[i];
      for (WbStage s = 0; s < WB_N_STAGES; s++)
        {
          estimate_figure (data, figures, figure, s, FALSE, room_c, estimates);
          for (guint i = 0; i < self->n_cells; i++)
            self->cells[i].stage_figure[s][figure] = estimates[i];
          estimate_figure (data, figures, figure, s, TRUE, room_c, estimates);
          for (guint i = 0; i < self->n_cells; i++)
            self->cells[i].stage_worst[s][figure] = estimates[i];
        }
    }
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
  WbCraftSpread spread;

  g_return_val_if_fail (data != NULL && figures != NULL, NULL);

  self->n_cells = data->cells->len;
  self->cells = g_new0 (WbCraftCell, self->n_cells);
  for (guint i = 0; i < self->n_cells; i++)
    self->cells[i].cell = i;
  count_burns (data, figures, self);
  estimate_figures (data, figures, stage, self);
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
  g_free (self->cells);
  g_free (self);
}
