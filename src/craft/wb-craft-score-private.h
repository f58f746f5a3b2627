/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-aims-private.h"
#include "wb-craft-candles-private.h"
#include "wb-craft-draws-private.h"
#include "wb-craft-judge-private.h"

G_BEGIN_DECLS

/*
 * The score of a group of cells. In every draw each recipe's figures
 * are those of the experiment's joint draws; its candles stand for 15 equal-chance strata of
 * the spread between candles, strata of different figures paired at random (Latin
 * hypercube: McKay, Beckman and Conover, Technometrics 21 (1979) 239-245). A
 * candle's score is the weighted geometric mean of the desirabilities of all aims
 * (Derringer and Suich 1980), times the chance that no reading limit is crossed in
 * its burns: a candle that crosses scores 0. The recipe's score of the draw is the
 * mean over its candles.
 */
typedef struct
{
  guint    n_cells;
  guint    n_draws;
  double  *recipe;        /* n_draws × n_cells */
  double  *candle;        /* n_draws × n_cells: one candle of each draw */
  double  *p_cross;       /* a cell */
  double  *crossing;      /* n_draws × n_cells: chance in that draw that the next candle crosses a limit */
  gboolean *tested;       /* a cell: has it read anything that a limit measures? else p_cross is 0 and means nothing */
  double  *cross_squares; /* a cell: mean over the draws of the square of a draw's chance */
  GArray  *aims;          /* WbCraftAim: all of the profile */
  gboolean asks;          /* is there an aim that a cell of the group has? else every score is 0 and means nothing */
  gboolean *dropped;      /* an aim: no cell of the group has it */
  double  *desirability;  /* aims × cells: expected, of the next candle; NAN where dropped */
  gboolean *borrowed;     /* aims × cells */
  WbCraftCandles *candles; /* of some of the draws */
} WbCraftScore;

/*
 * members: cells with burns that count. One of which a sample crossed a limit has a score
 * all the same: what its next candle is worth. That it must not win is the ranking's. NULL: stopped.
 */
WbCraftScore *wb_craft_score_new  (const WbDataset    *data,
                                   const WbCraftDraws *draws,
                                   const guint        *members,
                                   guint               n,
                                   guint64             seed,
                                   WbCraftKeepGoing    keep_going,
                                   gpointer            user);
void          wb_craft_score_free (WbCraftScore *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftScore, wb_craft_score_free)

G_END_DECLS
