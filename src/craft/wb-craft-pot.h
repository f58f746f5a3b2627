/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-material.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/* What was really weighed into a melt against what was meant: told at the field, asked about at the mark, a deviation afterwards. */

/* A mass is off its plan when it differs by more than this share of it, and so is a load; common practice, no source. */
#define WB_CRAFT_POT_OFF_SHARE 0.05

typedef enum
{
  WB_CRAFT_POT_WAX,  /* the wax's mass is off its plan */
  WB_CRAFT_POT_OIL,  /* the oil's mass is */
  WB_CRAFT_POT_LOAD, /* the load of both as weighed is */
  WB_CRAFT_POT_MOST, /* from here on a limit is crossed: more than the wax holds by its supplier */
  WB_CRAFT_POT_IFRA  /* over the oil's IFRA limit of the finished candle, category 12 */
} WbCraftPotKind;

/* A sentence without its full stop, translated. */
typedef struct { WbCraftPotKind kind; char *text; } WbCraftPotLine;

/*
 * WbCraftPotLine by kind, each kind once; empty: as it was meant, or nothing was weighed. batch: masses in g, planned and weighed; of wax
 * and oil the one that was not weighed counts as planned, and the line says so. wax, fragrance: NULL where not known. Never fails; caller
 * unrefs the array, which frees what it holds.
 */
GPtrArray *wb_craft_pot_find (const WbBatch *batch, const WbWax *wax, const WbFragrance *fragrance, gboolean us_units);

G_END_DECLS
