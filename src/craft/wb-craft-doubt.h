/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * Values that can hardly be: a slip of the pen or of the thumb, °F for °C, a
 * scale that was not set to nought. A doubt is asked about once; nothing is
 * refused that could be true. All bounds: common practice, no source.
 */

typedef enum
{
  WB_CRAFT_DOUBT_BELOW_VESSEL, /* a mass; bound: the empty vessel's, g */
  WB_CRAFT_DOUBT_ABOVE_FILL,   /* a mass; bound: vessel and fill, g */
  WB_CRAFT_DOUBT_GAINED,       /* a mass; bound: what it weighed before, g */
  WB_CRAFT_DOUBT_HALVED,       /* a mass; bound: what it weighed before, g */
  WB_CRAFT_DOUBT_SLOW,         /* a mass; value and bound: what that burns of wax, and the least that is plausible, g/h */
  WB_CRAFT_DOUBT_FAST,         /* the same; bound: the most that is plausible */
  WB_CRAFT_DOUBT_DEEP,         /* the depth; bound: the wax that stands in the vessel at most, mm */
  WB_CRAFT_DOUBT_EARLY,        /* a full pool; value and bound: its minute, and before which it can hardly be */
  WB_CRAFT_DOUBT_HOT,          /* a temperature; bound: above it °F is suspected, °C */
  WB_CRAFT_DOUBT_COLD,         /* a temperature; bound: below it °C typed for °F is suspected, °C */
  WB_CRAFT_DOUBT_LEAP,         /* flame or temperature; bound: what it was before, in the column's unit */
  WB_CRAFT_DOUBT_TALL,         /* a flame; bound: hardly a candle's is taller, mm */
  WB_CRAFT_DOUBT_DECIMAL,      /* any of pool, depth, flame, temperature; bound: what it is beside it, in the column's unit */
  WB_CRAFT_DOUBT_SHRUNK,       /* the pool's diameter; bound: what it was before, mm */
  WB_CRAFT_DOUBT_SWOLLEN,      /* the pool's diameter; bound: what it is after, mm */
  WB_CRAFT_DOUBT_EARLIER,      /* the minute, well before the bound: that of the last reading */
  WB_CRAFT_DOUBT_MISPLACED,    /* the minute; bound: that of the reading which stands beside it in the log */
  WB_CRAFT_DOUBT_ENDED,        /* the minute; bound: that in which the flame went out */
  WB_CRAFT_DOUBT_LONG,         /* the minute; bound: the longest that a burn is likely to last, min */
  WB_CRAFT_DOUBT_AGAIN,        /* the throw; bound: how it was rated a minute ago or less, in the same burn */
  WB_CRAFT_DOUBT_FUTURE,       /* a day (WbDay); bound: today */
  WB_CRAFT_DOUBT_AFTER_BURN,   /* a day of a pour; bound: that of the first burn */
  WB_N_CRAFT_DOUBTS
} WbCraftDoubtKind;

typedef struct
{
  WbCraftDoubtKind kind;
  WbColumn         column; /* WB_N_COLUMNS: the minute, or a day */
  double           value;
  double           bound;
} WbCraftDoubt;

/*
 * What a mass with its vessel is held against, each NAN where not known: the empty vessel with its wick, wax and oil, what it
 * weighed before. FALSE: no doubt. At most the first of BELOW_VESSEL, ABOVE_FILL, GAINED.
 */
gboolean wb_craft_doubt_mass (double mass_g, double tare_g, double fill_g, double before_g, WbCraftDoubt *doubt);
/* An outside temperature of the vessel, column VESSEL_C or BASE_C. */
gboolean wb_craft_doubt_heat (WbColumn column, double celsius, WbCraftDoubt *doubt);
/* A flame, column FLAME_MM or FLAME_MAX_MM: the value alone. */
gboolean wb_craft_doubt_flame (WbColumn column, double flame_mm, WbCraftDoubt *doubt);
/* A throw of a burn that was rated `before` so many minutes earlier or later: within a minute it is a slip, or the same once more. */
gboolean wb_craft_doubt_again (double throw, double before, double apart_min, WbCraftDoubt *doubt);
/* A burn on a day before its candle was poured. WB_DAY_NONE: not known, no doubt. */
gboolean wb_craft_doubt_day  (WbDay poured_on, WbDay burnt_on);

/* A temperature of the melt, from the pot to the pour, that is more likely in the other scale. NAN: not measured, no doubt. */
gboolean wb_craft_doubt_melt (double celsius);
/* What was weighed, or read off a ruler, is not half of what it was to be, or more than twice. Either NAN: no doubt. */
gboolean wb_craft_doubt_weighed (double mass_g, double planned_g);

/* What is known when a reading comes; NAN where not known. */
typedef struct
{
  double   tare_g, fill_g;
  double   mass_g;               /* what it weighed before, in whichever burn */
  double   burnt_min;            /* alight since it weighed mass_g, until this reading */
  guint    n_wicks;              /* 0: not known */
  double   inner_mm;             /* of the vessel */
  double   level_mm;             /* the wax when this burn was lit */
  double   pool_mm;              /* the pool before, in this burn */
  double   before[WB_N_COLUMNS]; /* values before, in this burn */
  double   last_min;             /* of the last reading of this burn */
  gboolean alight;               /* a look on the next day comes late, and is no burn */
} WbCraftDoubtBasis;

/* The day of a pour, held against its first burn and today; WB_DAY_NONE: not known. At most one doubt. */
gboolean wb_craft_doubt_pour (WbDay poured_on, WbDay burnt_on, WbDay today, WbCraftDoubt *doubt);

/* Nothing known, not alight. */
void     wb_craft_doubt_basis_init (WbCraftDoubtBasis *self);
/* A reading of this burn, after all that was taken before; its minute may be NAN. inner_mm must stand already. */
void     wb_craft_doubt_basis_take (WbCraftDoubtBasis *self, const double values[WB_N_COLUMNS], double elapsed_min);
/* The burn was one before: of it, only what the candle weighed last holds on. */
void     wb_craft_doubt_basis_end_burn (WbCraftDoubtBasis *self);
/*
 * What a mass tells of consumption: 3 to 7 g/h a wick is plausible, and below 1.5 or above 12 g/h is asked about (common
 * practice, no source; pillars measured 4.4 to 7.3 g/h, Indoor Air 31 (2021), abstract). Over less than an hour alight the
 * scale's own step rules it, and nothing is said; nor where the mass is doubted by itself.
 */
gboolean wb_craft_doubt_consumption (double mass_g, double before_g, double burnt_min, guint n_wicks, WbCraftDoubt *doubt);
/* WbCraftDoubt, in the order of the enumeration's subjects: mass, depth, temperatures, flame, pool, minute; empty: none. Caller unrefs. */
GArray  *wb_craft_doubts_find      (const double values[WB_N_COLUMNS], double elapsed_min, const WbCraftDoubtBasis *basis);

G_END_DECLS
