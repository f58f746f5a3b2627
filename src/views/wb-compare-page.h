/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/*
 * What the burns say: for each vessel and scent the answer in a sentence, how
 * sure it is, the ranking with its reasons, and one chart at a time beside it. Reads
 * the notebook's answer and computes nothing.
 *
 * Actions: page.chart (s, stateful: the kind's key), page.group (i, stateful), page.figure (i, stateful: WbFigure, -1 the
 * chart's own), page.stage (i, stateful: WbStage), page.save-chart, page.stop.
 */
#define WB_TYPE_COMPARE_PAGE (wb_compare_page_get_type ())
G_DECLARE_FINAL_TYPE (WbComparePage, wb_compare_page, WB, COMPARE_PAGE, WbPage)

G_END_DECLS
