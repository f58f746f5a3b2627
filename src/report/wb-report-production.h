/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-production.h"
#include "wb-report-recipe-card.h"

G_BEGIN_DECLS

/*
 * The production batch sheet: a number of vessels of a signed recipe, in as many melts as the pot asks for. First the order with the
 * lots approved and boxes for those that are used, then the pour step by step with its cautions, then a page of record a
 * melt. Borrowed while the sheet is made.
 */
typedef struct
{
  WbReportRecipe           recipe;
  const WbCraftProduction *production;
  double                   overage_pct, hold_back_pct;
} WbReportProduction;

WbReportDocument *wb_report_production_new (const WbReportProduction *production, const WbReportOptions *options);

G_END_DECLS
