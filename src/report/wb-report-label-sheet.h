/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * A sheet of labels or cards by its dimensions: sheets of a grid, a roll (a page of one label), and a person's own. All
 * lengths in mm, from the paper's top left corner.
 */
typedef struct
{
  double page_width, page_height;  /* 10 to 2000 */
  double left, top;                /* of the first label */
  double width, height;            /* of a label */
  double pitch_x, pitch_y;         /* from one label's edge to the next one's */
  guint  columns, rows;            /* 1 to 100 */
  double shift_x, shift_y;         /* right and down, of a printer that prints askew; -WB_REPORT_LABEL_MOST_SHIFT to + */
} WbReportLabelSheet;

#define WB_REPORT_LABEL_MOST_SHIFT 10.0

typedef enum
{
  WB_REPORT_LABELS_A4_24,      /* 70 x 37 mm, 3 x 8 */
  WB_REPORT_LABELS_A4_21,      /* 63.5 x 38.1 mm, 3 x 7 */
  WB_REPORT_LABELS_LETTER_30,  /* 2 5/8 x 1 in, 3 x 10 */
  WB_REPORT_LABELS_LETTER_10,  /* 4 x 2 in, 2 x 5 */
  WB_REPORT_LABELS_ROLL_62,    /* 62 x 29 mm, one a page */
  WB_REPORT_LABELS_N
} WbReportLabelPreset;

/* Dimensions by their usual measures; no maker's name. */
WbReportLabelSheet wb_report_label_sheet_preset     (WbReportLabelPreset preset);
const char        *wb_report_label_preset_get_label (WbReportLabelPreset preset); /* translated */
const char        *wb_report_label_preset_get_key   (WbReportLabelPreset preset); /* "a4-24": stands in the settings */

/* The measures of a sheet, as a form asks for them. */
typedef enum
{
  WB_REPORT_LABEL_PAGE_WIDTH, WB_REPORT_LABEL_PAGE_HEIGHT,
  WB_REPORT_LABEL_WIDTH, WB_REPORT_LABEL_HEIGHT,
  WB_REPORT_LABEL_COLUMNS, WB_REPORT_LABEL_ROWS,
  WB_REPORT_LABEL_LEFT, WB_REPORT_LABEL_TOP,
  WB_REPORT_LABEL_PITCH_X, WB_REPORT_LABEL_PITCH_Y,
  WB_REPORT_LABEL_SHIFT_X, WB_REPORT_LABEL_SHIFT_Y,
  WB_REPORT_LABEL_N_MEASURES
} WbReportLabelMeasure;

/* "pitch-x": stands in files, never translated. */
const char *wb_report_label_measure_get_key   (WbReportLabelMeasure measure);
/* "From label to label, across": translated. */
const char *wb_report_label_measure_get_label (WbReportLabelMeasure measure);
/* Columns and rows are whole numbers; the others mm. */
double      wb_report_label_sheet_get         (const WbReportLabelSheet *self, WbReportLabelMeasure measure);
void        wb_report_label_sheet_set         (WbReportLabelSheet *self, WbReportLabelMeasure measure, double value);

/*
 * NULL: labels of these measures lie on the page, none on another. Else a translated sentence, its lengths in mm or in inches,
 * and in `measure` (may be NULL) the one to look at. Caller frees.
 */
char       *wb_report_label_sheet_dup_problem (const WbReportLabelSheet *self, gboolean us_units, WbReportLabelMeasure *measure);
/* Of one page; 0 where columns or rows are. */
guint       wb_report_label_sheet_get_places  (const WbReportLabelSheet *self);

G_END_DECLS
