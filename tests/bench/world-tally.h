/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "lab-tally.h"
#include "world-ask.h"

/* Counts over the worlds of one variant after one number of earlier experiments. */

/* Wicks that were burnt before in some vessel, and the others. */
typedef enum { WORLD_TRIED, WORLD_UNTRIED, WORLD_ALL, WORLD_N_WICKS } WorldWicks;

/* Intervals of one figure at one place. */
typedef struct
{
  guint   n, none, held, under, over; /* under: the truth lies below the interval */
  guint   next_held;                  /* the same intervals against the next pour */
  GArray *widths, *informed, *oracle, *oracle_pour; /* double: of the truth; where that is never, none */
  guint   errors;                     /* where value and truth are both told */
  double  error, error_square;        /* ln (value / truth), sums */
} WorldCover;

typedef struct
{
  guint      earlier, worlds, by_history;
  double     asked;
  WorldPick  ways[WORLD_N_WAYS];      /* sums */
  guint      told[WORLD_N_WAYS], n_said[WORLD_N_WAYS];
  LabBand    bands[WORLD_N_CHANCES][LAB_N_BANDS];
  WorldCover covers[WORLD_N_PLACES][WORLD_N_SAID][WORLD_N_WICKS];
} WorldTally;

WorldTally *world_tally_new   (guint earlier);
void        world_tally_free  (WorldTally *self);
/* In the order of the worlds, so that sums are the same however many threads asked. */
void        world_tally_add   (WorldTally *self, const WorldAnswer *answer);
/* The middle one; sorts. NAN of none. */
double      world_median      (GArray *values);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WorldTally, world_tally_free)
