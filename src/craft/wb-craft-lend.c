/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-craft-lend-private.h"

#include <math.h>
#include <stdlib.h>

#include "wb-calc-random.h"
#include "wb-craft-scale-private.h"

/* In units of a figure's scale, no source: what a third may differ from another where no cell has both; what a cell may differ from the others' shift. */
#define SHIFT_SD 0.08
#define OWN_SD 0.04
#define POOL_UNIT 0.4   /* pools change less from third to third than flames, depths and walls do */

/* The nearest third in which the cell was read, the earlier of two; NULL: none. */
static const WbCraftDraw *
find_lender (const WbCraftDraws *draws,
             const WbCraftDraw  *draw,
             guint               cell)
{
  const WbCraftDraw *lender = NULL;

  for (WbStage stage = 0; stage < WB_N_STAGES; stage++)
    {
      const WbCraftDraw *other = wb_craft_draws_find (draws, draw->figure, stage, draw->look);

      if (other == NULL || other == draw || !other->read[cell])
        continue;
      if (lender == NULL || abs ((int) stage - (int) draw->stage) < abs ((int) lender->stage - (int) draw->stage))
        lender = other;
    }
  return lender;
}

static double
unit_of (const WbCraftDraw *draw)
{
  WbCraftMeanPrior prior = wb_craft_scale_get_prior (draw->figure);

  return draw->growth ? POOL_UNIT : prior.unit;
}

/* How far the cells with both thirds shift from one to the other, one a draw; NULL: no cell has both. Caller frees. */
static double *
find_shifts (const WbCraftDraws *draws,
             const WbCraftDraw  *draw,
             const WbCraftDraw  *lender,
             guint              *n_both)
{
  double *shifts = g_new0 (double, MAX (draws->n_draws, 1));

  *n_both = 0;
  for (guint cell = 0; cell < draws->n_cells; cell++)
    if (draw->read[cell] && lender->read[cell])
      {
        (*n_both)++;
        for (guint i = 0; i < draws->n_draws; i++)
          shifts[i] += draw->level[(gsize) i * draws->n_cells + cell] - lender->level[(gsize) i * draws->n_cells + cell];
      }
  for (guint i = 0; i < draws->n_draws && *n_both > 0; i++)
    shifts[i] /= *n_both;
  if (*n_both == 0)
    g_clear_pointer (&shifts, g_free);
  return shifts;
}

/* Draws the shifts towards 0 as far as they are less sure than the opinion, which is normal with `opinion_sd`. */
static void
temper (double *shifts,
        guint   n,
        double  own_variance,
        double  opinion_sd)
{
  double mean = 0, variance = 0, opinion = opinion_sd * opinion_sd, said;

  for (guint i = 0; i < n; i++)
    mean += shifts[i] / n;
  for (guint i = 0; i < n; i++)
    variance += (shifts[i] - mean) * (shifts[i] - mean) / n;
  said = variance + own_variance;
  for (guint i = 0; i < n && variance > 0; i++)
    shifts[i] = mean * opinion / (opinion + said) + (shifts[i] - mean) * sqrt (opinion / (opinion + said));
}

static void
lend_level (const WbCraftDraws *draws,
            WbCraftDraw        *draw,
            const WbCraftDraw  *lender,
            guint               cell,
            guint64             seed)
{
  double unit = unit_of (draw), own = OWN_SD * unit;
  guint n_both;
  g_autofree double *shifts = find_shifts (draws, draw, lender, &n_both);

  if (shifts != NULL)
    temper (shifts, draws->n_draws, own * own / n_both, SHIFT_SD * unit);
  for (guint block = 0; block < wb_calc_random_n_blocks (draws->n_draws); block++)
    {
      WbCalcRandom random;

      wb_calc_random_init (&random, seed, block);
      for (guint i = block * WB_CALC_RANDOM_BLOCK; i < MIN ((block + 1) * WB_CALC_RANDOM_BLOCK, draws->n_draws); i++)
        {
          gsize first = (gsize) i * draws->n_cells;
          double z_shift = wb_calc_random_normal (&random), z_own = wb_calc_random_normal (&random);
          double shift = shifts != NULL ? shifts[i] + own / sqrt (n_both) * z_shift : SHIFT_SD * unit * z_shift;

          draw->level[first + cell] = lender->level[first + cell] + shift + own * z_own;
          if (draw->growth)
            draw->pace[first + cell] = lender->pace[first + cell];
        }
    }
}

void
wb_craft_lend_stages (WbCraftDraws *draws,
                      guint64       seed)
{
  for (guint d = 0; d < draws->all->len; d++)
    {
      WbCraftDraw *draw = g_ptr_array_index (draws->all, d);

      if (draw->look == WB_CRAFT_LOOK_PEAK) /* limits are not borrowed */
        continue;
      for (guint cell = 0; cell < draws->n_cells; cell++)
        {
          const WbCraftDraw *lender = draw->read[cell] ? NULL : find_lender (draws, draw, cell);
          guint64 state = seed + 0xc2b2ae3du * (guint64) (1 + d + (gsize) draws->all->len * cell);

          if (lender == NULL)
            continue;
          if (draw->ratings == NULL)
            lend_level (draws, draw, lender, cell, wb_calc_random_split (&state));
          else
            {
              if (draw->lent == NULL)
                draw->lent = g_new0 (const WbCraftRatings *, draws->n_cells);
              draw->lent[cell] = lender->ratings;
            }
        }
    }
}
