/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-touched.h"

G_BEGIN_DECLS

/*
 * Which lots a signed decision covers: those of the samples that were burnt before it was signed, and those of which its maker said
 * why they need no test. Whoever pours its recipe from another is told so, before the pot is hot.
 */

typedef struct
{
  char    *code;
  gboolean covered;
} WbCraftLotOffer;

/*
 * What there is of a material of its recipe: the burnt lots first, as they were burnt, whether or not the notebook has a record of
 * them; then those of the notebook that are not used up, the covered ones before the others. data: its experiment's. changes:
 * WbCraftTouched of it; NULL: none. lots: WbLot of the notebook. parts: WbFragrancePart, of whose blends lots may be poured. Each code
 * once; WbCraftLotOffer, caller frees.
 */
GPtrArray *wb_craft_covered_offer (const WbDataset *data, const WbDecision *decision, const GPtrArray *changes, gint64 material,
                                   const GPtrArray *lots, const GPtrArray *parts);

/*
 * Those of the text's codes that it does not cover, a sentence: "Wax lot W-112 of Dunmarl soft is not covered by the signature ...";
 * NULL: it covers all, or the text names none, or the material is none of its recipe. Caller frees.
 */
char      *wb_craft_covered_dup_lack (const WbDataset *data, const WbDecision *decision, const GPtrArray *changes, gint64 material, const char *text);

G_END_DECLS
