/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-cure.h"
#include "wb-report-label-sheet.h"
#include "wb-report-options.h"

G_BEGIN_DECLS

/*
 * Labels for samples, on sheets of labels by their dimensions or on a roll: the
 * code large, what it is, when it was poured, when it is fit to burn and fit to
 * smell, a QR code, and TEST SAMPLE, NOT FOR SALE OR GIFT on each. The cards of the bench are wb-report-cards.h.
 */

typedef struct
{
  WbUuid      uuid;        /* the sample's; what the QR code says */
  const char *code;
  const char *cell;        /* "Tern 76 mm · S-3 · Harbour mist 8 %"; NULL: not told */
  const char *experiment;  /* its code; NULL: none */
  guint       blind_code;  /* above 0: blind. These digits stand for the code, and what it is is not told */
  WbDay       poured_on;   /* WB_DAY_NONE: a line to write on */
  WbCureFit   burn_from;   /* day WB_DAY_NONE: left out */
  WbCureFit   smell_from;
  gboolean    reference;   /* kept, not to be burnt: says so instead of the two days above, and has no boxes for burns */
  WbDay       keep_until;  /* of a reference; WB_DAY_NONE: left out */
} WbReportLabel;

typedef enum
{
  WB_REPORT_LABELS_ERROR_SIZE,  /* a label is smaller than its text, or the labels do not fit on the page */
  WB_REPORT_LABELS_ERROR_START  /* there is no such place on the sheet */
} WbReportLabelsError;

#define WB_REPORT_LABELS_ERROR (wb_report_labels_error_quark ())
GQuark wb_report_labels_error_quark (void);

/*
 * `first`: place on the first sheet at which to start, from 0, row by row. `outlines`: each label's edge is drawn,
 * for plain paper that is cut. n 0: an alignment print, on which each place shows its edge, its middle and its number.
 * NULL with WB_REPORT_LABELS_ERROR: its words name the sample, and the smallest sizes that would do.
 */
WbReportDocument  *wb_report_labels_new (const WbReportLabel *labels, guint n, const WbReportLabelSheet *sheet, guint first,
                                         gboolean outlines, const WbReportOptions *options, GError **error);

G_END_DECLS
