/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-draws-private.h"

#include <math.h>

#include "wb-calc-random.h"
#include "wb-craft-aims-private.h"
#include "wb-craft-columns-private.h"
#include "wb-craft-estimates-private.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-means-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-vessel-private.h"

typedef struct
{
  const WbDataset        *data;
  const WbCraftFigures   *figures;
  const WbCraftEstimates *estimates;
  WbCraftColumns          columns;
  guint64                 seed;
  guint                   n_draws;
  WbCraftKeepGoing        keep_going;
  gpointer                user;
} Job;

static void
draw_free (gpointer data)
{
  WbCraftDraw *self = data;

  g_free (self->level);
  g_free (self->pace);
  g_free (self->sample_sd);
  g_free (self->burn_sd);
  g_free (self->read);
  g_free (self);
}

static WbCraftDraw *
draw_alloc (const Job *job,
            WbFigure   figure,
            WbStage    stage,
            gboolean   worst)
{
  WbCraftDraw *self = g_new0 (WbCraftDraw, 1);
  gsize n = (gsize) job->n_draws * MAX (job->data->cells->len, 1);

  self->figure = figure;
  self->stage = stage;
  self->worst = worst;
  self->growth = figure == WB_FIGURE_FULL_POOL;
  self->log_scale = wb_craft_scale_is_log (figure);
  self->offset = figure == WB_FIGURE_VESSEL ? job->estimates->room_c : 0;
  self->exponent = 1;
  self->burns = 1;
  self->level = g_new (double, n);
  self->pace = self->growth ? g_new (double, n) : NULL;
  self->sample_sd = g_new (double, job->n_draws);
  self->burn_sd = g_new (double, job->n_draws);
  self->read = g_new0 (gboolean, MAX (job->data->cells->len, 1));
  wb_craft_scale_get_ends (figure, &self->low, &self->high);
  return self;
}

/* A seed of its own for every figure, stage and way of reading. */
static guint64
seed_of (const Job         *job,
         const WbCraftDraw *draw)
{
  guint64 state = job->seed + 0x9e3779b9u * (guint64) (1 + draw->figure + WB_N_FIGURES * (draw->stage + WB_N_STAGES * draw->worst));

  return wb_calc_random_split (&state);
}

/*
 * Where no curve came of the pools but some were seen at the wall: full some time
 * before the first of them, each time as likely; a cell that was not read, any time
 * to twice when it is due. Told as a curve whose level is twice the diameter.
 */
static gboolean
draw_wall (const Job   *job,
           WbCraftDraw *draw)
{
  guint n = job->data->cells->len;
  gboolean any = FALSE;

  for (guint cell = 0; cell < n; cell++)
    any = any || (draw->read[cell] && !isnan (job->estimates->cells[cell].stage_growth[draw->stage].at_wall_h));
  for (guint block = 0; any && block < wb_calc_random_n_blocks (job->n_draws); block++)
    {
      WbCalcRandom random;

      wb_calc_random_init (&random, seed_of (job, draw), block);
      for (guint i = block * WB_CALC_RANDOM_BLOCK; i < MIN ((block + 1) * WB_CALC_RANDOM_BLOCK, job->n_draws); i++)
        {
          for (guint cell = 0; cell < n; cell++)
            {
              const WbVessel *vessel = wb_dataset_get_vessel (job->data, cell);
              double at = job->estimates->cells[cell].stage_growth[draw->stage].at_wall_h;
              double latest = isnan (at) ? 2 * wb_craft_vessel_due_h (vessel, draw->stage) : at;

              draw->level[(gsize) i * n + cell] = log (2 * wb_craft_vessel_inner_mm (vessel, draw->stage));
              draw->pace[(gsize) i * n + cell] = log (latest * wb_calc_random_uniform (&random) / G_LN2);
            }
          draw->sample_sd[i] = draw->burn_sd[i] = 0;
        }
    }
  return any;
}

static gboolean
draw_growth (const Job   *job,
             WbCraftDraw *draw)
{
  WbCraftSpread earlier = { job->estimates->earlier_sd, job->estimates->earlier_df };
  g_autoptr (WbCraftPools) pools = wb_craft_pools_new (job->data, job->figures, draw->stage, &job->columns, earlier,
                                                       NULL, NULL);

  for (guint cell = 0; cell < job->data->cells->len; cell++)
    draw->read[cell] = job->estimates->cells[cell].stage_growth[draw->stage].readings > 0;
  if (pools == NULL)
    return draw_wall (job, draw);
  draw->exponent = wb_craft_pools_get_exponent (pools);
  return wb_craft_pools_draw (pools, seed_of (job, draw), job->n_draws, NULL, draw->level, draw->pace, draw->sample_sd, draw->burn_sd);
}

static gboolean
draw_means (const Job   *job,
            WbCraftDraw *draw)
{
  g_autoptr (GArray) values
      = wb_craft_estimates_gather (job->data, job->figures, draw->figure, draw->stage, draw->worst, job->estimates->room_c);
  WbCraftMeanPrior prior = wb_craft_scale_get_prior (draw->figure);
  g_autoptr (WbCraftMeans) means = NULL;
  g_autoptr (GHashTable) samples = g_hash_table_new (NULL, NULL);

  if (values->len == 0)
    return FALSE;
  for (guint i = 0; i < values->len; i++)
    {
      const WbCraftMeanValue *value = &g_array_index (values, WbCraftMeanValue, i);

      draw->read[value->cell] = TRUE;
      g_hash_table_add (samples, GUINT_TO_POINTER (value->sample + 1));
    }
  draw->burns = MAX ((double) values->len / g_hash_table_size (samples), 1);
  means = wb_craft_means_new (values, job->data->cells->len, &job->columns, &prior);
  return means != NULL
         && wb_craft_means_draw (means, seed_of (job, draw), job->n_draws, NULL, draw->level, draw->sample_sd, draw->burn_sd);
}

/* Adds the draws of a figure, unless they are there or no cell has it. */
static void
add (const Job    *job,
     WbFigure      figure,
     WbStage       stage,
     gboolean      worst,
     WbCraftDraws *self)
{
  WbCraftDraw *draw;

  if (wb_craft_draws_find (self, figure, stage, worst) != NULL)
    return;
  draw = draw_alloc (job, figure, stage, worst);
  if (draw->growth ? draw_growth (job, draw) : draw_means (job, draw))
    g_ptr_array_add (self->all, draw);
  else
    draw_free (draw);
}

WbCraftDraws *
wb_craft_draws_new (const WbDataset        *data,
                    const WbCraftFigures   *figures,
                    const WbCraftEstimates *estimates,
                    guint64                 seed,
                    guint                   n_draws,
                    WbCraftKeepGoing        keep_going,
                    gpointer                user)
{
  static const WbFigure watched[] = { WB_FIGURE_FLAME, WB_FIGURE_VESSEL };
  g_autoptr (WbCraftDraws) self = g_new0 (WbCraftDraws, 1);
  g_autoptr (GArray) aims = wb_craft_aims_new (data);
  Job job = { .data = data, .figures = figures, .estimates = estimates, .seed = seed, .n_draws = n_draws };
  guint n_all = aims->len + G_N_ELEMENTS (watched) * WB_N_STAGES;
  gboolean stopped = FALSE;

  self->n_draws = n_draws;
  self->n_cells = data->cells->len;
  self->all = g_ptr_array_new_with_free_func (draw_free);
  wb_craft_columns_init (&job.columns, data);
  for (guint i = 0; i < n_all && !stopped; i++)
    {
      if (i < aims->len)
        {
          const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, i);

          add (&job, aim->figure, aim->stage, aim->worst, self);
        }
      else
        add (&job, watched[(i - aims->len) % G_N_ELEMENTS (watched)], (i - aims->len) / G_N_ELEMENTS (watched), TRUE, self);
      stopped = keep_going != NULL && !keep_going ((double) i / n_all, user);
    }
  wb_craft_columns_clear (&job.columns);
  return stopped ? NULL : g_steal_pointer (&self);
}

void
wb_craft_draws_free (WbCraftDraws *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->all);
  g_free (self);
}

const WbCraftDraw *
wb_craft_draws_find (const WbCraftDraws *self,
                     WbFigure            figure,
                     WbStage             stage,
                     gboolean            worst)
{
  for (guint i = 0; i < self->all->len; i++)
    {
      const WbCraftDraw *draw = g_ptr_array_index (self->all, i);

      if (draw->figure == figure && draw->stage == stage && draw->worst == worst)
        return draw;
    }
  return NULL;
}

gboolean
wb_craft_draw_is_read (const WbCraftDraw *self,
                       const guint       *members,
                       guint              n)
{
  for (guint i = 0; i < n; i++)
    if (self->read[members[i]])
      return TRUE;
  return FALSE;
}
