/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stddef.h>
#include <stdint.h>

#include "wb-calc-status.h"

/*
 * Incomplete block designs: treatments that do not all fit into one block are put into several so that their comparisons within
 * blocks lose as little as can be.
 *
 * With R and K the diagonal matrices of replications and block sizes and N the treatments × blocks matrix of how often a treatment
 * stands in a block, the reduced normal equations of treatments have the matrix C = R - N K^-1 N'. The canonical efficiency
 * factors are the eigenvalues of R^-1/2 C R^-1/2 but for the one that is always 0; their harmonic mean is the design's efficiency:
 * the share of the information on comparisons that is left, against one block that held all. It is 1 where every block holds
 * all in the same proportions, and lambda v / (r k) for a balanced incomplete block design. Sources: O. Kempthorne, The efficiency
 * factor of an incomplete block design, Ann. Math. Statist. 27 (1956) 846; James and Wilkinson, Biometrika 58 (1971) 279 (from
 * memory).
 */

/* More says nothing that a bench needs, and its matrices grow with the square. */
#define WB_CALC_BLOCKS_MOST_TREATMENTS 1000
#define WB_CALC_BLOCKS_MOST_PLOTS 10000

/* The plots of a block stand together, block by block. */
typedef struct
{
  size_t        n_treatments;  /* at least 1 */
  const size_t *replications;  /* of each treatment, at least 1 */
  size_t        n_blocks;      /* at least 1 */
  const size_t *sizes;         /* of each block, at least 1; they add up to what the replications do */
} WbCalcBlocksLayout;

typedef struct
{
  double efficiency;  /* 0 to 1; 0 where it is not connected, 1 for a single treatment */
  double smallest;    /* least of the canonical efficiency factors */
  double bound;       /* mean of the canonical efficiency factors, which their harmonic mean is not above; where replications or
                         sizes are equal it is the same for every design that repeats nothing */
  bool   connected;   /* every treatment can be compared with every other within blocks, if by way of others */
  bool   balanced;    /* every pair of treatments is together in blocks equally often */
  size_t together_low, together_high; /* how often a pair is, the least and the most: sum over blocks of n_i n_j; 0 for a single treatment */
  size_t repeats;     /* plots that hold a treatment that their block has already */
} WbCalcBlocksFigures;

/* `done` 0 to 1; `efficiency` of the best design so far, NaN: none yet. false: stop. On the thread that called. */
typedef bool (*WbCalcBlocksKeepGoing) (double done, double efficiency, void *user);

typedef struct
{
  uint64_t              seed;
  size_t                n_tries;    /* starts; 0: as many as are usually enough */
  size_t                n_moves;    /* exchanges tried a start; 0: as many as are usually enough */
  const size_t         *held;       /* a plot: the treatment that it keeps, SIZE_MAX: any; NULL: any everywhere */
  WbCalcBlocksKeepGoing keep_going; /* NULL: always */
  void                 *user;
} WbCalcBlocksOptions;

/*
 * Figures of a design, `treatments` a plot each. WB_CALC_BAD_INPUT: no treatments, blocks or plots, too many of them, sums or
 * treatments that do not fit the layout; WB_CALC_NO_MEMORY, WB_CALC_NOT_CONVERGED (the eigenvalues).
 */
WbCalcStatus wb_calc_blocks_measure (const WbCalcBlocksLayout *layout,
                                     const size_t             *treatments,
                                     WbCalcBlocksFigures      *figures);

/*
 * Looks for a design of the highest efficiency, into `treatments` (a plot each) and `figures` (may be NULL). No treatment stands
 * twice in a block where that can be avoided. Exchanges of two plots of different blocks, each judged by what it does to the sum
 * of the inverses of the canonical efficiency factors (a change of rank 2: Sherman, Morrison and Woodbury), uphill steps allowed
 * by a temperature that falls (simulated annealing), from several starts; it ends early where no design can be better. The same
 * seed and options give the same design. Where there are too few plots for any design to be connected, the first deal stands. On WB_CALC_CANCELLED the best design so far is there if there is one (figures' efficiency
 * is NaN if not): whoever has no more time may take it. Otherwise fails as wb_calc_blocks_measure, and for a held treatment that is in
 * more plots than its replications.
 */
WbCalcStatus wb_calc_blocks_search  (const WbCalcBlocksLayout  *layout,
                                     const WbCalcBlocksOptions *options,
                                     size_t                    *treatments,
                                     WbCalcBlocksFigures       *figures);
