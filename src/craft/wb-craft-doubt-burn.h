/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-doubt.h"

G_BEGIN_DECLS

/*
 * Values that can hardly be beside the other readings of their burn: a
 * misplaced decimal point, a pool that shrinks and grows on, a minute out of
 * its place. As in wb-craft-doubt.h nothing is refused. All bounds: common
 * practice, no source.
 */

/* What of a reading is held against the others of its burn; NAN: not taken. */
typedef struct
{
  double   minute;                    /* since lighting */
  double   pool_mm;                   /* the diameter, whichever way it was read; at the wall: at least */
  double   first_mm, second_mm;       /* diameters as they were typed: pool_mm, or pool_a_mm and pool_b_mm */
  double   depth_mm;
  double   flame_mm, flame_max_mm;
  double   vessel_c, base_c, room_c;
  int      event;                     /* WbEvent of the vessel as a whole; -1: none */
  WbColumn first_column;              /* where first_mm stood */
  gboolean burning;                   /* tells of a candle that burns, or of one still warm */
  gboolean flame;                     /* a flame is told of */
} WbCraftBurnReading;

/* Values as WbReading holds them; inner_mm of the vessel. */
void wb_craft_burn_reading_take (WbCraftBurnReading *self, double minute, const double values[WB_N_COLUMNS], double inner_mm);

/* A doubt about one of a burn's readings, and the one that it is held against: both places in the array that was given. */
typedef struct
{
  WbCraftDoubt doubt;
  guint        reading, other;
} WbCraftBurnDoubt;

/*
 * The readings of one burn in any order: kinds DECIMAL, SHRUNK, SWOLLEN and ENDED. WbCraftBurnDoubt, by column and then by minute;
 * empty: none. At most one ENDED. With fewer than three readings of a value none is held against the others. Caller unrefs.
 */
GArray  *wb_craft_doubts_find_in_burn (const WbCraftBurnReading *readings, guint n);

/* How many minutes of a log follow one another within their burns, and how many of these steps lead back. */
typedef struct
{
  guint64 n, back;
} WbCraftLogSteps;

/*
 * The minutes of one burn in the order in which they were written down, which are counted into `steps` (may be NULL). TRUE: just
 * one of three or more stands out of an order that rises otherwise, kind MISPLACED.
 */
gboolean wb_craft_doubt_order (const WbCraftBurnReading *readings, guint n, WbCraftLogSteps *steps, WbCraftBurnDoubt *doubt);
/* Is the order of that log one in which a minute out of its place says anything? A shuffled one says nothing. */
gboolean wb_craft_log_steps_rise (const WbCraftLogSteps *self);

G_END_DECLS
