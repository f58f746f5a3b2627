/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-shuffles-private.h"

#include "wb-calc-random.h"
#include "wb-craft-figures.h"
#include "wb-craft-workers-private.h"

typedef struct
{
  const WbCraftKinship *kinship;
  WbCraftShuffles      *shuffles;
} Job;

static void
shuffle_candles (const WbCraftKinship *kinship,
                 WbCalcRandom         *random,
                 guint8               *order)
{
  double own[WB_N_FIGURES][WB_CRAFT_N_STRATA];

  for (guint figure = 0; figure < WB_N_FIGURES; figure++)
    {
      double mixed[WB_CRAFT_N_STRATA];

      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        own[figure][k] = wb_calc_random_normal (random);
      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        {
          mixed[k] = kinship->root == NULL ? own[figure][k] : 0;
          for (guint other = 0; kinship->root != NULL && other <= figure; other++)
            mixed[k] += kinship->root[figure * kinship->n + other] * own[other][k];
        }
      for (guint k = 0; k < WB_CRAFT_N_STRATA; k++)
        {
          guint8 rank = 0;

          for (guint other = 0; other < WB_CRAFT_N_STRATA; other++)
            rank += mixed[other] < mixed[k] || (mixed[other] == mixed[k] && other < k);
          order[figure * WB_CRAFT_N_STRATA + k] = rank;
        }
    }
}

static void
shuffle_block (WbCraftWorkers *workers,
               guint           block,
               gpointer        data)
{
  const Job *job = data;
  WbCraftShuffles *self = job->shuffles;
  guint first = block * WB_CALC_RANDOM_BLOCK, last = MIN (first + WB_CALC_RANDOM_BLOCK, self->n_draws);
  WbCalcRandom random;

  wb_calc_random_init (&random, self->seed, block);
  for (guint draw = first; draw < last; draw++)
    {
      shuffle_candles (job->kinship, &random, self->order + (gsize) draw * WB_N_FIGURES * WB_CRAFT_N_STRATA);
      self->candle[draw] = (guint8) wb_calc_random_below (&random, WB_CRAFT_N_STRATA);
      self->luck[draw] = wb_calc_random_uniform (&random);
    }
}

WbCraftShuffles *
wb_craft_shuffles_new (const WbCraftKinship *kinship,
                       guint64               seed,
                       guint                 n_draws)
{
  WbCraftShuffles *self = g_new0 (WbCraftShuffles, 1);
  Job job = { kinship, self };

  self->seed = seed;
  self->n_draws = n_draws;
  self->order = g_new (guint8, (gsize) MAX (n_draws, 1) * WB_N_FIGURES * WB_CRAFT_N_STRATA);
  self->candle = g_new (guint8, MAX (n_draws, 1));
  self->luck = g_new (double, MAX (n_draws, 1));
  wb_craft_workers_run ((guint) wb_calc_random_n_blocks (n_draws), shuffle_block, &job, NULL, NULL);
  return self;
}

void
wb_craft_shuffles_free (WbCraftShuffles *self)
{
  if (self == NULL)
    return;
  g_free (self->order);
  g_free (self->candle);
  g_free (self->luck);
  g_free (self);
}
