/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-figures.h"

G_BEGIN_DECLS

/* From here down a candle is watched: the last inch of wax, mm. 13 mm left is the usual advice to a candle's user (common practice). */
#define WB_CRAFT_LAST_INCH_MM 25.4

/* What tells how fast the wax sinks, the best first. */
typedef enum
{
  WB_CRAFT_PACE_SAMPLE,  /* what the sample itself lost */
  WB_CRAFT_PACE_CELL,    /* what others of its combination lost */
  WB_CRAFT_PACE_GIVEN,   /* foretold elsewhere, and handed in */
  WB_CRAFT_PACE_USUAL,   /* nothing was weighed: what is usual (of a last inch the upper end of it) */
  WB_CRAFT_PACE_NONE     /* not even the height or the mass of its fill is known */
} WbCraftPace;

/* When a burn comes into the last inch: the one alight, else the next one. */
typedef struct
{
  WbCraftPace pace;
  double      g_per_h;        /* NAN where pace is NONE */
  double      level_mm;       /* of the wax when the burn is lit, from the base; NAN where not known */
  double      last_inch_min;  /* minute of the burn; 0: from the first; NAN: not known */
  double      end_min;        /* minute at which the protocol's residue is left; NAN: it states none, or not known */
} WbCraftLastInch;

/*
 * Wax at the start of the burn, by the share of the fill that is left, less what the pace takes, against the volume of the
 * lowest 25.4 mm. The vessel's section is that of its diameters at base, middle and fill line, straight between them, and of its
 * upper one where the others are not recorded; the wax stands level. Check: 76.2 mm straight, 0.90 g/cm3, 5 g/h sink
 * 1.22 mm/h (arithmetic).
 */
void wb_craft_last_inch_foretell (const WbDataset *data, const WbCraftFigures *figures, guint sample, WbCraftLastInch *self);

G_END_DECLS
