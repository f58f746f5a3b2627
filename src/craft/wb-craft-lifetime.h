/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-last-inch.h"

G_BEGIN_DECLS

/* What a wick takes, g/h: 3 to 7 are plausible, 5 the middle; common practice, no source. */
#define WB_CRAFT_USUAL_LOW_G_PER_H 3.0
#define WB_CRAFT_USUAL_G_PER_H 5.0
#define WB_CRAFT_USUAL_HIGH_G_PER_H 7.0

/* A candle before it is lit. */
typedef struct
{
  const WbVessel   *vessel;
  const WbWax      *wax;       /* NULL: not chosen */
  const WbProtocol *protocol;
  double            fill_g;    /* wax and oil; NAN: what fills the vessel to its line */
  double            height_mm; /* of the fill; NAN: the vessel's, else by fill and section */
  guint             wicks;     /* 0 means 1 */
  double            g_per_h;   /* of the whole candle, foretold elsewhere; NAN: not known, a usual one stands */
} WbCraftLifetimeBasis;

/*
 * A candle's life to its protocol's stated end. Burns are whole lightings of the protocol's length, the last of them perhaps
 * shorter. NAN: not known.
 */
typedef struct
{
  WbCraftPace pace;         /* what g_per_h rests on; NONE: nothing below is known but what was done */
  double      g_per_h;      /* of the whole candle */
  double      fill_g;
  int         end_rule;     /* WbEndRule */
  double      end_mm;       /* wax that is left at the end; NAN: the rule is another */
  double      burn_s;       /* length of a burn */
  double      burns;        /* from the first to the end, those that are done among them */
  double      grams;        /* burnt over them */
  double      hours;        /* alight over them */
  gboolean    ended;        /* burnt to the end, set aside or kept: no burn is left */
  guint       burns_done;   /* the one that is alight among them */
  gboolean    alight;       /* the last of them is not over yet */
  double      burns_left;
  double      burns_left_low, burns_left_high; /* at the ends of what is usual, where the pace is no more than usual; else as burns_left */
  double      grams_left;   /* until the end */
} WbCraftLifetime;

/*
 * To a residue: fill less what stands below that height by the vessel's section (diameters at base, middle and fill line, straight
 * between them), over what it takes an hour, over the protocol's burn. Until it goes out by itself: all of the fill, though some
 * wax stays in most vessels. For a number of burns: that number, or the burns until nothing is left where those are fewer. Fill,
 * burn and what it takes above 0; anything else: NAN. Check: 200 g in a straight vessel 80 mm high, 10 mm left, 5 g/h, 4 h: 175 g,
 * 35 h, 9 burns (arithmetic).
 */
void  wb_craft_lifetime_foretell  (const WbCraftLifetimeBasis *basis, WbCraftLifetime *self);

/*
 * Of a sample, burnt or not: what is left by the last mass that was read, else by the minutes alight at its pace. The pace is what
 * the sample lost, else what others of its combination did, else the usual one. A burn that is alight is taken as burnt to
 * its length. A sample that has not come to its end has at least one burn left.
 */
void  wb_craft_lifetime_of_sample (const WbDataset *data, const WbCraftFigures *figures, guint sample, WbCraftLifetime *self);

/* "About 9 burns of 4 h until 10 mm of wax are left: 175 g at 5.0 g/h, what is usual ..."; of one that was burnt, with what is done
 * and left. Translated; caller frees. */
char *wb_craft_lifetime_dup_words (const WbCraftLifetime *self, gboolean us_units);

G_END_DECLS
