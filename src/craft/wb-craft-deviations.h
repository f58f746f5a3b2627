/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-crossing.h"
#include "wb-craft-figures.h"

G_BEGIN_DECLS

/* Where a burn left its protocol: recorded, never forbidden. Told at the bench as it arises, and counted in the report. */
typedef enum
{
  WB_CRAFT_DEVIATION_TRIM,       /* off the stated trim, or lit untrimmed */
  WB_CRAFT_DEVIATION_COOLING,    /* lit before it had cooled */
  WB_CRAFT_DEVIATION_ROOM,       /* a reading of the room outside the stated range */
  WB_CRAFT_DEVIATION_DRAUGHT,
  WB_CRAFT_DEVIATION_CUT_SHORT,
  WB_CRAFT_DEVIATION_OVERRUN,
  WB_CRAFT_DEVIATION_CURE,       /* lit before the wax had cured */
  WB_CRAFT_DEVIATION_CROSSED,    /* lit again after a burn that crossed a limit */
  WB_CRAFT_DEVIATION_BURNT_ON,   /* over a limit, and not put out */
  WB_CRAFT_DEVIATION_COMPANY,    /* throw rated while another scented candle burnt in the room */
  WB_CRAFT_DEVIATION_OTHER_KIND, /* no standard burn */
  WB_CRAFT_N_DEVIATIONS
} WbCraftDeviationCode;

typedef struct
{
  WbCraftDeviationCode code;
  double               minute; /* of the burn, at which it was first seen; NAN: of the burn as a whole */
} WbCraftDeviation;

/*
 * WbCraftDeviation of one burn, by code, each code once. alight_min: minutes that a burn which is alight has lasted by now: such a one has not
 * been cut short yet; NAN: it is over. What was not measured or not stated is no deviation. Caller unrefs.
 */
GArray     *wb_craft_deviations_find       (const WbDataset *data, const WbCraftFigures *figures, const WbCraftCrossing *crossings, guint burn,
                                            double alight_min);
const char *wb_craft_deviation_get_label   (WbCraftDeviationCode code); /* translated: "Draught noted" */
/* With its minute: "Draught noted, at 60 min". Caller frees. */
char       *wb_craft_deviation_dup_text    (const WbCraftDeviation *deviation);

G_END_DECLS
