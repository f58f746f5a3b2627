/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-batch.h"
#include "wb-craft-touched.h"
#include "wb-report-options.h"

G_BEGIN_DECLS

/* A signed decision and what its papers tell of it; everything is borrowed while one is made. */
typedef struct
{
  const WbDataset         *data;     /* of its experiment */
  const WbDecision        *decision; /* of the data set */
  guint                    cell;     /* index of what was chosen */
  const GPtrArray         *steps;    /* WbBatchStep, as the wax's method asks of this recipe, in order */
  const WbCraftBatchSheet *sheet;    /* of one candle, nothing for the pot; NULL: its fill is not known */
  const char              *no_sheet; /* why not, a sentence; NULL with a sheet */
  WbCraftStanding          standing;
  const GPtrArray         *changes;  /* WbCraftTouched of the decision; NULL: none */
  const char              *state;    /* how it stands, sentences */
  const WbProtocol        *protocol; /* as it was when the decision was signed; NULL: as it is in the data */
} WbReportRecipe;

/*
 * The recipe card: a page for the wall above the pouring table. What is chosen with all of its sizes and shares, the lots
 * approved, temperatures, cure, how its user burns it, under which conditions it was approved, what it rests on, what was not tested,
 * and whether it still stands. One page wherever that can be: what would not fit is set smaller, and then lots, reasons and note give
 * their first sentences and say where the rest stands. What was not tested, what was crossed, the conditions and what ends the approval
 * are never shortened: where they ask for more, it has further pages.
 */
WbReportDocument *wb_report_recipe_card_new (const WbReportRecipe *recipe, const WbReportOptions *options);

G_END_DECLS
