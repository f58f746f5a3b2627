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

/* How the candles were cured and filled that a signature rests on: those that were burnt before it. */
typedef struct
{
  double cure_days;    /* before a candle is lit: the longer of the next two, and one day at least */
  double tested_days;  /* the shortest after which one of them was lit, whole days; NAN: nobody noted it */
  double sheet_days;   /* as the materials' sheets say; NAN: they do not */
  double smell_days;   /* before its scent is judged, never less than cure_days; NAN: nobody states it, or there is none */
  double fill_low_g, fill_high_g; /* of their wax and oil; NAN: not noted */
} WbCraftCovered;

/* cell: index of what was chosen. */
void       wb_craft_covered_take      (WbCraftCovered *self, const WbDataset *data, const WbDecision *decision, guint cell);
/* How long it cures, what was tested and what the sheet says: sentences. Translated; caller frees. */
char      *wb_craft_covered_dup_cure  (const WbCraftCovered *self);
/* "328.9 to 330.7 g"; NULL: not noted. Caller frees. */
char      *wb_craft_covered_dup_fill  (const WbCraftCovered *self, gboolean us_units);
/*
 * That a fill in g lies outside of those that were burnt, a sentence; NULL: it does not, or nobody knows. What was weighed scatters about
 * what was planned: the planned fill may lie beside all of it by as much as they lie apart, and by WB_CRAFT_COVERED_FILL_SHARE of it.
 * Translated; caller frees.
 */
char      *wb_craft_covered_dup_fill_lack (const WbCraftCovered *self, double fill_g, gboolean us_units);

/* The program's own, no source. */
#define WB_CRAFT_COVERED_FILL_SHARE 0.01

G_END_DECLS
