/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-lot.h"
#include "wb-dataset.h"

G_BEGIN_DECLS

/* What a candle is made of, each material with the lots of it that went in: the way back from a sample or a decision. */
typedef struct
{
  gconstpointer material; /* WbVessel, WbWax, WbWick, WbFragrance, WbDye or WbAdditive; borrowed from the data set */
  char         *lots;     /* "W-107", "F-1, F-2"; NULL: none is told */
} WbCraftLotPart;

/* Of one sample, in the order vessel, wax, wick, fragrance, dye, additive; what it has none of is left out. Caller frees. */
GPtrArray *wb_craft_lot_parts_of_sample (const WbDataset *data, guint sample);
/*
 * Of a decision of the data set: the lots of those samples of its combination that were burnt before it was signed and are not set
 * aside. What was poured since, or never lit, is not what it rests on. Empty where its combination is not there.
 */
GPtrArray *wb_craft_lot_parts_of_decision (const WbDataset *data, const WbDecision *decision);
/* Whether it was poured, by its day or its melt. */
gboolean   wb_craft_lot_is_poured       (const WbSample *sample);

/* The part whose material, or what its blend is or was mixed of, has that id; blends: WbFragrancePart, old versions too. NULL: none. */
const WbCraftLotPart *wb_craft_lot_parts_find (const GPtrArray *parts, gint64 material, const GPtrArray *blends);
/* "Dunmarl soft W-107; Brosk B4 K-42": those of which a lot is told; NULL: of none. Caller frees. */
char      *wb_craft_lot_parts_dup_text  (const GPtrArray *parts);

G_END_DECLS
