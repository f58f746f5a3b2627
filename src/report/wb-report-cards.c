/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "wb-report-cards.h"

#include <glib/gi18n-lib.h>

#include "wb-report-label-face-private.h"

/* mm */
#define CARD_WIDTH 92.0
#define CARD_HEIGHT 66.0

/* Sizes in which a code is read from 70 cm and more, and the rest standing before it; common practice, no source. */
static const WbReportLabelKind card_kind = {
  .largest_pt = 12, .smallest_pt = 7, .code_pt = 46, .code_factor = 4, .qr_share = 0.3, .boxes = 12
};

WbReportLabelSheet
wb_report_cards_sheet (WbReportPaper paper,
                       gboolean      folds)
{
  double page_width = paper == WB_REPORT_LETTER ? 215.9 : 210, page_height = paper == WB_REPORT_LETTER ? 279.4 : 297;
  double height = CARD_HEIGHT * (folds ? 2 : 1);
  guint rows = folds ? 2 : 4;

  return (WbReportLabelSheet) {
    .page_width = page_width, .page_height = page_height,
    .left = (page_width - 2 * CARD_WIDTH) / 2, .top = (page_height - rows * height) / 2,
    .width = CARD_WIDTH, .height = height, .pitch_x = CARD_WIDTH, .pitch_y = height, .columns = 2, .rows = rows,
  };
}

WbReportDocument *
wb_report_cards_new (const WbReportLabel      *labels,
                     guint                     n,
                     const WbReportLabelSheet *sheet,
                     guint                     first,
                     gboolean                  outlines,
                     gboolean                  folds,
                     const WbReportOptions    *options,
                     GError                  **error)
{
  g_return_val_if_fail (sheet != NULL && options != NULL && (labels != NULL || n == 0), NULL);

  return wb_report_label_sheet_print (labels, n, sheet, first, outlines, options, &card_kind, folds, _("Bench cards"), error);
}
