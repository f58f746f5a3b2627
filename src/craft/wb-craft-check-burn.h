/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"

G_BEGIN_DECLS

/*
 * A check burn (of a later batch, of a reference) beside what was approved: each of its figures against the standard burns of
 * the decided combination in the same third of the life. What one new burn may show is told by a prediction interval,
 *   mean ± t(1 - a/2; n - 1) s sqrt (1 + 1/n)
 * on the figure's own scale (Hahn and Meeker, Statistical Intervals, 1991, ch. 4), a = 5 %. The burns of one candle are taken as
 * separate ones: where there are many of few candles it is somewhat narrow. Readings are whole millimetres and degrees: no
 * spread counts as less than a reading's own, its step over the square root of 12. What was approved are the burns lit before
 * it was signed. Of a check burn cut short only what does not rest on its length is compared (consumption, the time to a full
 * pool); a highest flame or a vessel that is over what was approved at the full length is over it all the same.
 */

typedef enum
{
  WB_CRAFT_CHECK_FLAME,        /* mm at the end */
  WB_CRAFT_CHECK_FLAME_MAX,    /* mm, highest seen */
  WB_CRAFT_CHECK_VESSEL,       /* degC at the end; by its rise over the room */
  WB_CRAFT_CHECK_DEPTH,        /* mm at the end */
  WB_CRAFT_CHECK_POOL,         /* mm at the end; at the wall it is as wide as the vessel */
  WB_CRAFT_CHECK_FULL_POOL,    /* h, first reading at the wall */
  WB_CRAFT_CHECK_CONSUMPTION,  /* g/h */
  WB_CRAFT_CHECK_HANG_UP,      /* mm at the end */
  WB_CRAFT_N_CHECKS
} WbCraftCheckFigure;

typedef enum
{
  WB_CRAFT_CHECK_NOT_READ,     /* the check burn does not say */
  WB_CRAFT_CHECK_TOO_FEW,      /* fewer than two approved burns do */
  WB_CRAFT_CHECK_CUT_SHORT,    /* it rests on the length of a burn, and this one was cut short */
  WB_CRAFT_CHECK_WITHIN,
  WB_CRAFT_CHECK_ABOVE,
  WB_CRAFT_CHECK_BELOW
} WbCraftCheckState;

typedef struct
{
  WbCraftCheckState state;
  double            value;     /* stored unit; NAN: not read */
  guint             n;         /* approved burns that were read for it */
  double            low, high; /* what one new burn may show; NAN: too few */
} WbCraftCheck;

typedef struct
{
  guint        burn;           /* index in its data set */
  guint        sample;
  int          number;         /* of the burn */
  char        *code;           /* of the sample */
  char        *approved;       /* code of the experiment whose decision it is held against; NULL: no decision is of its recipe */
  WbStage      stage;
  gboolean     broken;         /* the vessel cracked in it, whatever the limits say */
  gboolean     crossed;        /* it crossed a limit, by a reading or a logger's file */
  char        *limits;         /* which, in words; NULL: none but the crack */
  gboolean     cut_short;      /* it ended well before the approved burns did */
  double       alight_min;     /* minutes with a flame; NAN */
  double       length_min;     /* that an approved burn lasts by its protocol; NAN: nothing to hold it against */
  WbCraftCheck checks[WB_CRAFT_N_CHECKS];
} WbCraftCheckBurn;

/* The two ends, for n values of that mean and standard deviation; FALSE, and both NAN, for n < 2 or a spread that is no number. */
gboolean          wb_craft_check_interval  (double mean, double sd, guint n, double *low, double *high);

/*
 * burn: index, of kind check. approved: with the cell that was decided, signed_at (unknown: all its burns count); NULL: nothing to
 * hold it against. Caller frees.
 */
WbCraftCheckBurn *wb_craft_check_burn_new  (const WbDataset *data, const WbCraftFigures *figures, guint burn,
                                            const WbDataset *approved, const WbCraftFigures *approved_figures, guint cell,
                                            WbInstant signed_at);
void              wb_craft_check_burn_free (WbCraftCheckBurn *self);

/* "Vessel at the end"; translated, static. */
const char       *wb_craft_check_get_label (WbCraftCheckFigure figure);
/* "hotter than approved: 71 °C against 52 to 60 °C", "within what was approved: ...", "too few to compare"; NULL: not read. Caller frees. */
char             *wb_craft_check_dup_text  (WbCraftCheckFigure figure, const WbCraftCheck *check, gboolean us_units);
/* The whole in a sentence: "Within what was approved in HF-1: 6 figures.", or which are not. Caller frees. */
char             *wb_craft_check_burn_dup_text (const WbCraftCheckBurn *self, gboolean us_units);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftCheckBurn, wb_craft_check_burn_free)

G_END_DECLS
