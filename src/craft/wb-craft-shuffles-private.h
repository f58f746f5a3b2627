/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-candles-private.h"
#include "wb-craft-kinship-private.h"

G_BEGIN_DECLS

/*
 * What all cells of all groups share in the draws of a score: which candle has which
 * stratum of each figure (ranks of normal numbers that go together as the figures do: Iman
 * and Conover, Communications in Statistics B 11 (1982) 311-334; without kinship every
 * pairing is as likely), which candle stands for the next one, and its luck. A block of
 * 256 draws comes from a generator of seed and block.
 */
typedef struct
{
  guint64  seed;
  guint    n_draws;
  guint8  *order;   /* n_draws × figures × strata: the stratum of each candle */
  guint8  *candle;  /* n_draws */
  double  *luck;    /* n_draws, uniform */
} WbCraftShuffles;

WbCraftShuffles *wb_craft_shuffles_new  (const WbCraftKinship *kinship, guint64 seed, guint n_draws);
void             wb_craft_shuffles_free (WbCraftShuffles *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftShuffles, wb_craft_shuffles_free)

G_END_DECLS
