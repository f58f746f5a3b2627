/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"
#include "world-truth.h"

/*
 * A test of the next vessel in rounds: five or six sizes of one series, one candle of each to begin with, then
 * WORLD_ROUND more a round, each burnt to its end, shared out by a strategy, until the program's leading wick is said to
 * be the best or as good as it with 9 of 10. A strategy sees what the program sees, never the truth; all strategies get the
 * same candles of a cell, in the same order.
 */

#define WORLD_ROUND 3
#define WORLD_MOST_SAMPLES 16      /* of a cell */
#define WORLD_MOST_BURNT 48        /* of the whole test: then it is given up */
#define WORLD_SURE 0.9

/* Fills the share of each cell of the next candles, summing to 1; all 0: none is wanted. */
typedef void (*WorldShare) (const WbCraftAnswer *answer, double *shares);

typedef struct
{
  guint    cells, rounds;
  gboolean sure;        /* was ever told so */
  guint    samples;     /* candles burnt until it was, or until given up */
  gboolean best, near;  /* of what then led: truly the best of the test, or within 0.05 of it, in this pour */
  gboolean allowed;     /* or within 0.05 of the best of those of which no candle crossed a limit: none other may be recommended */
  gboolean sure_and_near; /* going on where it was not even that: both came true, after */
  guint    samples_until_both;
} WorldRounds;

/* trace: a line a round, may be NULL. */
WorldRounds world_rounds_run (const World *self, WorldShare share, GString *trace);

/* Strategies. */
void world_share_equal   (const WbCraftAnswer *answer, double *shares);
/* As many to each of which p_best is 2 % or more. */
void world_share_running (const WbCraftAnswer *answer, double *shares);
/* As the program advises; where it advises no burns, none are wanted. */
void world_share_advised (const WbCraftAnswer *answer, double *shares);

/* The first counts[c] candles of each cell of a data set, with its records; caller owns it. From any thread. */
WbDataset *world_take_samples (const WbDataset *all, const guint *counts);
