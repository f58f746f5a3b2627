/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-options.h"

G_BEGIN_DECLS

/*
 * Labels for samples, on sheets of labels by their dimensions or on a roll: the
 * code large, what it is, when it was poured, when it is fit to burn and fit to
 * smell, a QR code, and TEST SAMPLE, NOT FOR SALE OR GIFT on each.
 */

typedef struct
{
  WbUuid      uuid;        /* the sample's; what the QR code says */
  const char *code;
  const char *cell;        /* "Tern 76 mm · S-3 · Harbour mist 8 %"; NULL: blind */
  const char *experiment;  /* its code; NULL: none */
  WbDay       poured_on;   /* WB_DAY_NONE: a line to write on */
  WbDay       burn_from;   /* WB_DAY_NONE: left out */
  WbDay       smell_from;
} WbReportLabel;

/* All in mm. A roll of single labels is a page of one label. */
typedef struct
{
  double page_width, page_height;
  double left, top;                /* of the first label */
  double width, height;            /* of a label */
  double pitch_x, pitch_y;         /* from one label's edge to the next one's */
  guint  columns, rows;
} WbReportLabelSheet;

typedef enum
{
  WB_REPORT_LABELS_A4_24,      /* 70 x 37 mm, 3 x 8 */
  WB_REPORT_LABELS_A4_21,      /* 63.5 x 38.1 mm, 3 x 7 */
  WB_REPORT_LABELS_LETTER_30,  /* 2 5/8 x 1 in, 3 x 10 */
  WB_REPORT_LABELS_LETTER_10,  /* 4 x 2 in, 2 x 5 */
  WB_REPORT_LABELS_ROLL_62,    /* 62 x 29 mm, one a page */
  WB_REPORT_LABELS_N
} WbReportLabelPreset;

typedef enum
{
  WB_REPORT_LABELS_ERROR_SIZE,  /* a label is smaller than its text, or the labels do not fit on the page */
  WB_REPORT_LABELS_ERROR_START  /* there is no such place on the sheet */
} WbReportLabelsError;

#define WB_REPORT_LABELS_ERROR (wb_report_labels_error_quark ())
GQuark wb_report_labels_error_quark (void);

/* Dimensions by their usual measures; no maker's name. */
WbReportLabelSheet wb_report_label_sheet_preset     (WbReportLabelPreset preset);
const char        *wb_report_label_preset_get_label (WbReportLabelPreset preset); /* translated */

/*
 * `first`: place on the first sheet at which to start, from 0, row by row. `outlines`: each label's edge is drawn,
 * for an alignment print and for plain paper that is cut. n 0: an alignment print of empty places.
 * NULL with WB_REPORT_LABELS_ERROR.
 */
WbReportDocument  *wb_report_labels_new (const WbReportLabel *labels, guint n, const WbReportLabelSheet *sheet, guint first,
                                         gboolean outlines, const WbReportOptions *options, GError **error);

G_END_DECLS
