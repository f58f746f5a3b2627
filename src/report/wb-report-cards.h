/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-labels.h"

G_BEGIN_DECLS

/*
 * Cards for the tile in front of a sample at the bench: the code readable at arm's length, what it is, its dates, boxes to tick
 * its burns, the QR code, and TEST SAMPLE, NOT FOR SALE OR GIFT. They lie flat, or fold in the middle and stand, and say the
 * same on both sides.
 */

/* Cards of 92 × 66 mm on plain paper, cut apart: eight that lie, four that fold. */
WbReportLabelSheet wb_report_cards_sheet (WbReportPaper paper, gboolean folds);
/* The rest as in wb_report_labels_new; of a card that folds, the sheet tells the whole height. */
WbReportDocument  *wb_report_cards_new   (const WbReportLabel *labels, guint n, const WbReportLabelSheet *sheet, guint first, gboolean outlines,
                                          gboolean folds, const WbReportOptions *options, GError **error);

G_END_DECLS
