/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-production.h"
#include "wb-report-recipe-card.h"

G_BEGIN_DECLS

/*
 * The production batch sheet: a number of vessels of a signed recipe, in as many melts as the pot asks for. First the order with the
 * lots approved and boxes for those that are used, then the pour step by step with its cautions, then pages of record for all melts
 * that are weighed alike, with a column each. Borrowed while the sheet is made.
 */
typedef struct
{
  WbReportRecipe           recipe;
  const WbCraftProduction *production;
  double                   overage_pct, hold_back_pct;
  const char              *wax_lot, *oil_lot, *wick_lot; /* codes of what is to be poured; NULL: written by hand */
  const GPtrArray         *lacking; /* char *: of these lots, what the signature does not cover, sentences; NULL: nothing */
} WbReportProduction;

WbReportDocument *wb_report_production_new (const WbReportProduction *production, const WbReportOptions *options);

G_END_DECLS
