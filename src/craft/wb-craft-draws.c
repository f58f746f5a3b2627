/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-draws-private.h"

#include <math.h>

#include "wb-calc-random.h"
#include "wb-craft-aims-private.h"
#include "wb-craft-columns-private.h"
#include "wb-craft-earlier-private.h"
#include "wb-craft-estimates-private.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-highest-private.h"
#include "wb-craft-lend-private.h"
#include "wb-craft-means-private.h"
#include "wb-craft-peaks-private.h"
#include "wb-craft-scale-private.h"
#include "wb-craft-vessel-private.h"
#include "wb-craft-workers-private.h"

#define FITS_SHARE 0.7 /* of the progress told */
#define DEVIATES_SHARE 0.8

typedef struct
{
  const WbDataset        *data;
  const WbCraftFigures   *figures;
  const WbCraftEstimates *estimates;
  WbCraftColumns          columns;
  guint64                 seed;
  guint                   n_draws;
  GPtrArray              *fits;     /* Fit */
  /* once they stand */
  const WbCraftKinship   *kinship;
  const float            *deviates; /* of every fit, n_draws × width each */
  gsize                   width;
} Job;

WbCraftLook
wb_craft_look_of (const WbCraftAim *aim)
{
  switch (aim->figure)
    {
    case WB_FIGURE_DEPTH:
    case WB_FIGURE_FLAME:
    case WB_FIGURE_VESSEL:
      return aim->worst ? WB_CRAFT_LOOK_WORST : WB_CRAFT_LOOK_END;
    default: /* a burn has one */
      return WB_CRAFT_LOOK_END;
    }
}

static void
draw_free (gpointer data)
{
  WbCraftDraw *self = data;

  g_free (self->level);
  g_free (self->pace);
  g_free (self->sample_sd);
  g_free (self->burn_sd);
  g_free (self->lent);
  g_free (self->read);
  g_free (self);
}

static WbCraftDraw *
draw_alloc (const Job  *job,
            WbFigure    figure,
            WbStage     stage,
            WbCraftLook look)
{
  WbCraftDraw *self = g_new0 (WbCraftDraw, 1);
  gsize n = (gsize) job->n_draws * MAX (job->data->cells->len, 1);

  self->figure = figure;
  self->stage = stage;
  self->look = look;
  self->growth = figure == WB_FIGURE_FULL_POOL;
  self->log_scale = wb_craft_scale_is_log (figure);
  self->offset = figure == WB_FIGURE_VESSEL ? job->estimates->room_c : 0;
  self->exponent = 1;
  self->level = g_new (double, n);
  self->pace = self->growth ? g_new (double, n) : NULL;
  self->sample_sd = g_new (double, job->n_draws);
  self->burn_sd = g_new (double, job->n_draws);
  self->read = g_new0 (gboolean, MAX (job->data->cells->len, 1));
  wb_craft_scale_get_ends (figure, &self->low, &self->high);
  return self;
}

/* A seed of its own for every figure, stage and look. */
static guint64
seed_of (const Job         *job,
         const WbCraftDraw *draw)
{
  guint64 state = job->seed + 0x9e3779b9u * (guint64) (1 + draw->figure + WB_N_FIGURES * (draw->stage + WB_N_STAGES * (guint) draw->look));

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

/* A figure's fit on the way to its draws. */
typedef struct
{
  WbCraftDraw  *draw;
  WbCraftPools *pools;       /* of growth; NULL: none came about */
  const WbCraftMeans *means; /* the memo's */
  double       *deviations;  /* of each sample within its cell; NULL: not known */
  gboolean      stands;
} Fit;

static void
fit_free (gpointer data)
{
  Fit *self = data;

  g_clear_pointer (&self->draw, draw_free);
  g_clear_pointer (&self->pools, wb_craft_pools_free);
  g_free (self->deviations);
  g_free (self);
}

static gboolean
on_keep_going (double   done,
               gpointer user)
{
  return wb_craft_workers_go_on (user);
}

static gboolean
fit_growth (const Job      *job,
            WbCraftWorkers *workers,
            Fit            *fit)
{
  WbCraftSpread earlier = wb_craft_earlier_get_spread (job->estimates->earlier);
  WbCraftDraw *draw = fit->draw;

  for (guint cell = 0; cell < job->data->cells->len; cell++)
    draw->read[cell] = job->estimates->cells[cell].stage_growth[draw->stage].readings > 0;
  fit->pools = wb_craft_pools_new (job->estimates->memo, job->data, job->figures, draw->stage, &job->columns, earlier,
                                   on_keep_going, workers);
  if (fit->pools == NULL)
    return draw_wall (job, draw);
  draw->exponent = wb_craft_pools_get_exponent (fit->pools);
  fit->deviations = wb_craft_pools_dup_deviations (fit->pools, job->data->samples->len);
  return TRUE;
}

/* Each sample's mean less its cell's. */
static double *
dup_raw_deviations (const Job    *job,
                    const GArray *values)
{
  guint n_samples = job->data->samples->len, n_cells = job->data->cells->len;
  double *sums = g_new0 (double, MAX (n_samples, 1));
  g_autofree guint *n = g_new0 (guint, MAX (n_samples, 1)), *n_of_cell = g_new0 (guint, MAX (n_cells, 1));
  g_autofree double *of_cell = g_new0 (double, MAX (n_cells, 1));

  for (guint i = 0; i < values->len; i++)
    {
      const WbCraftMeanValue *value = &g_array_index (values, WbCraftMeanValue, i);

      sums[value->sample] += value->y;
      n[value->sample]++;
      of_cell[value->cell] += value->y;
      n_of_cell[value->cell]++;
    }
  for (guint i = 0; i < n_samples; i++)
    {
      guint cell = g_array_index (job->data->sample_cell, guint, i);

      sums[i] = n[i] > 0 ? sums[i] / n[i] - of_cell[cell] / n_of_cell[cell] : NAN;
    }
  return sums;
}

static bool
on_fit_going (void *user)
{
  return wb_craft_workers_go_on (user);
}

static gboolean
fit_values (const Job      *job,
            WbCraftWorkers *workers,
            Fit            *fit)
{
  WbCraftDraw *draw = fit->draw;
  g_autoptr (WbCraftHighest) highest
      = draw->look != WB_CRAFT_LOOK_END ? wb_craft_highest_new (job->data, job->figures, draw->figure, job->estimates->room_c) : NULL;
  g_autoptr (GArray) values
      = draw->look == WB_CRAFT_LOOK_PEAK
          ? wb_craft_peaks_gather (job->data, job->figures, draw->figure, draw->stage, highest, job->estimates->room_c)
          : wb_craft_estimates_gather (job->data, job->figures, draw->figure, draw->stage, draw->look != WB_CRAFT_LOOK_END, highest,
                                       job->estimates->room_c);
  WbCraftMeanPrior prior = wb_craft_earlier_get_prior (job->estimates->earlier, draw->figure);

  if (highest != NULL)
    prior.reader_sd = highest->reader_sd;
  if (values->len == 0)
    return FALSE;
  for (guint i = 0; i < values->len; i++)
    draw->read[g_array_index (values, WbCraftMeanValue, i).cell] = TRUE;
  if (wb_craft_scale_is_rating (draw->figure))
    {
      /* ratings have been drawn when they were estimated */
      draw->ratings = wb_craft_estimates_find_ratings (job->estimates, draw->figure, draw->stage);
      fit->deviations = dup_raw_deviations (job, values);
      return draw->ratings != NULL;
    }
  fit->means = wb_craft_means_find (job->estimates->memo, values, job->data->cells->len, &job->columns, &prior,
                                    on_fit_going, workers);
  if (fit->means != NULL)
    fit->deviations = wb_craft_means_dup_deviations (fit->means, job->data->samples->len);
  return fit->means != NULL;
}

/* Lists a figure, unless it is there. */
static void
list (const Job  *job,
      WbFigure    figure,
      WbStage     stage,
      WbCraftLook look)
{
  Fit *fit;

  for (guint i = 0; i < job->fits->len; i++)
    {
      const WbCraftDraw *draw = ((const Fit *) g_ptr_array_index (job->fits, i))->draw;

      if (draw->figure == figure && draw->stage == stage && draw->look == look)
        return;
    }
  fit = g_new0 (Fit, 1);
  fit->draw = draw_alloc (job, figure, stage, look);
  g_ptr_array_add (job->fits, fit);
}

static void
find_fit (WbCraftWorkers *workers,
          guint           index,
          gpointer        data)
{
  const Job *job = data;
  Fit *fit = g_ptr_array_index (job->fits, index);

  fit->stands = fit->draw->growth ? fit_growth (job, workers, fit) : fit_values (job, workers, fit);
}

/* Standard normal deviates of a fit, n_draws × width, independent of those of the others. */
static void
make_deviates (WbCraftWorkers *workers,
               guint           f,
               gpointer        data)
{
  const Job *job = data;
  float *deviates = (float *) job->deviates + (gsize) f * job->n_draws * job->width;

  for (guint block = 0; block < wb_calc_random_n_blocks (job->n_draws); block++)
    {
      gsize first = (gsize) block * WB_CALC_RANDOM_BLOCK, last = MIN (first + WB_CALC_RANDOM_BLOCK, job->n_draws);
      guint64 state = job->seed + 0x5bd1e995u * (guint64) (f + 1);
      WbCalcRandom random;

      wb_calc_random_init (&random, wb_calc_random_split (&state), block);
      for (gsize i = first * job->width; i < last * job->width; i++)
        deviates[i] = (float) wb_calc_random_normal (&random);
    }
}

/* The deviates of one fit, that go with those of the others as the figures do. */
static double *
mix_deviates (const Job            *job,
              const WbCraftKinship *kinship,
              guint                 f,
              const float          *deviates,
              gsize                 width)
{
  gsize n = (gsize) job->n_draws * width;
  double *z = g_new0 (double, MAX (n, 1));

  for (guint g = 0; g <= f; g++)
    {
      double share = kinship->root[f * kinship->n + g];

      for (gsize i = 0; share != 0 && i < n; i++)
        z[i] += share * deviates[g * n + i];
    }
  return z;
}

/* The same for a growth fit, which has paces among its numbers: those go with nothing. */
static double *
spread_deviates (const Job          *job,
                 const WbCraftDraw  *draw,
                 const WbCraftPools *pools,
                 const double       *z,
                 gsize               width)
{
  gsize n_shared, n_local, n_all = wb_craft_pools_get_n_deviates (pools, &n_shared, &n_local);
  gsize n_cells = job->data->cells->len, n_common = width - n_cells;
  double *spread = g_new (double, MAX (n_all * job->n_draws, 1));

  for (guint block = 0; block < wb_calc_random_n_blocks (job->n_draws); block++)
    {
      WbCalcRandom random;

      wb_calc_random_init (&random, seed_of (job, draw), block);
      for (gsize i = (gsize) block * WB_CALC_RANDOM_BLOCK; i < MIN ((block + 1) * WB_CALC_RANDOM_BLOCK, job->n_draws); i++)
        {
          const double *from = z + i * width;
          double *to = spread + i * n_all;

          for (gsize j = 0; j < n_shared; j++)
            to[j] = j < n_common ? from[j] : wb_calc_random_normal (&random);
          for (gsize cell = 0; cell < n_cells; cell++)
            for (gsize j = 0; j < n_local; j++)
              to[n_shared + cell * n_local + j] = j == 0 ? from[n_common + cell] : wb_calc_random_normal (&random);
        }
    }
  return spread;
}

static void
draw_fit (WbCraftWorkers *workers,
          guint           f,
          gpointer        data)
{
  const Job *job = data;
  Fit *fit = g_ptr_array_index (job->fits, f);
  WbCraftDraw *draw = fit->draw;
  g_autofree double *z = NULL, *spread = NULL;

  if (!wb_craft_workers_go_on (workers) || (fit->pools == NULL && fit->means == NULL))
    return;
  z = mix_deviates (job, job->kinship, f, job->deviates, job->width);
  if (fit->means != NULL)
    {
      fit->stands = wb_craft_means_draw (fit->means, seed_of (job, draw), job->n_draws, z, draw->level, draw->sample_sd, draw->burn_sd);
      return;
    }
  spread = spread_deviates (job, draw, fit->pools, z, job->width);
  if (!wb_craft_workers_go_on (workers))
    return;
  fit->stands = wb_craft_pools_draw (fit->pools, seed_of (job, draw), job->n_draws, spread, draw->level, draw->pace, draw->sample_sd,
                                     draw->burn_sd);
}

/* All draws, jointly: what errs for one figure of a cell errs for those that go with it. FALSE: stopped. */
static gboolean
draw_fits (Job          *job,
           WbCraftDraws *self,
           WbCraftProgress     *progress)
{
  guint n = job->fits->len;
  g_autofree const double **deviations = g_new0 (const double *, MAX (n, 1));
  g_autofree float *deviates = NULL;
  WbCraftKinship kinship;
  gboolean done;

  job->width = job->columns.n + WB_CRAFT_MEANS_N_COVARIATES + job->data->cells->len;
  job->deviates = deviates = g_new (float, MAX ((gsize) n * job->n_draws * job->width, 1));
  for (guint f = 0; f < n; f++)
    deviations[f] = ((const Fit *) g_ptr_array_index (job->fits, f))->deviations;
  wb_craft_kinship_init (&kinship, deviations, n, job->data->samples->len);
  job->kinship = &kinship;
  progress->from = FITS_SHARE;
  progress->to = DEVIATES_SHARE;
  done = wb_craft_workers_run (n, make_deviates, job, wb_craft_progress_on_part, progress);
  progress->from = DEVIATES_SHARE;
  progress->to = 1;
  done = done && wb_craft_workers_run (n, draw_fit, job, wb_craft_progress_on_part, progress);
  for (guint f = 0; f < n && done; f++)
    {
      Fit *fit = g_ptr_array_index (job->fits, f);

      if (fit->stands)
        g_ptr_array_add (self->all, g_steal_pointer (&fit->draw));
    }
  wb_craft_kinship_clear (&kinship);
  if (done)
    wb_craft_lend_stages (self, job->seed);
  return done;
}

/* How the figures of a candle go together, whatever the stage: the first fit of each tells. */
static void
relate_candles (const Job       *job,
                const GPtrArray *fits,
                WbCraftDraws    *self)
{
  const double *deviations[WB_N_FIGURES] = { NULL };

  for (guint f = 0; f < fits->len; f++)
    {
      const Fit *fit = g_ptr_array_index (fits, f);

      if (fit->draw != NULL && deviations[fit->draw->figure] == NULL)
        deviations[fit->draw->figure] = fit->deviations;
    }
  wb_craft_kinship_init (&self->candles, deviations, WB_N_FIGURES, job->data->samples->len);
}

static void
list_all (Job *job)
{
  static const WbFigure watched[] = { WB_FIGURE_FLAME, WB_FIGURE_VESSEL };
  g_autoptr (GArray) aims = wb_craft_aims_new (job->data);

  for (guint i = 0; i < aims->len; i++)
    {
      const WbCraftAim *aim = &g_array_index (aims, WbCraftAim, i);

      list (job, aim->figure, aim->stage, wb_craft_look_of (aim));
      /* a third that a cell has not come to is lent by what was seen there in the same way */
      for (WbStage stage = 0; stage < WB_N_STAGES && wb_craft_look_of (aim) == WB_CRAFT_LOOK_WORST; stage++)
        list (job, aim->figure, stage, WB_CRAFT_LOOK_WORST);
    }
  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    for (guint i = 0; i < G_N_ELEMENTS (watched); i++)
      list (job, watched[i], stage, WB_CRAFT_LOOK_PEAK);
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
  g_autoptr (WbCraftDraws) self = g_new0 (WbCraftDraws, 1);
  g_autoptr (GPtrArray) fits = g_ptr_array_new_with_free_func (fit_free);
  Job job = { .data = data, .figures = figures, .estimates = estimates, .seed = seed, .n_draws = n_draws, .fits = fits };
  WbCraftProgress progress = { keep_going, user, 0, FITS_SHARE };
  gboolean done;

  self->n_draws = n_draws;
  self->n_cells = data->cells->len;
  self->all = g_ptr_array_new_with_free_func (draw_free);
  wb_craft_columns_init (&job.columns, data);
  list_all (&job);
  done = wb_craft_workers_run (fits->len, find_fit, &job, wb_craft_progress_on_part, &progress);
  for (guint i = fits->len; i > 0; i--)
    if (!((const Fit *) g_ptr_array_index (fits, i - 1))->stands)
      g_ptr_array_remove_index (fits, i - 1);
  relate_candles (&job, fits, self);
  done = done && draw_fits (&job, self, &progress);
  if (done)
    self->shuffles = wb_craft_shuffles_new (&self->candles, seed, n_draws);
  wb_craft_columns_clear (&job.columns);
  return done ? g_steal_pointer (&self) : NULL;
}

void
wb_craft_draws_free (WbCraftDraws *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->all);
  wb_craft_kinship_clear (&self->candles);
  wb_craft_shuffles_free (self->shuffles);
  g_free (self);
}

const WbCraftDraw *
wb_craft_draws_find (const WbCraftDraws *self,
                     WbFigure            figure,
                     WbStage             stage,
                     WbCraftLook         look)
{
  for (guint i = 0; i < self->all->len; i++)
    {
      const WbCraftDraw *draw = g_ptr_array_index (self->all, i);

      if (draw->figure == figure && draw->stage == stage && draw->look == look)
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
