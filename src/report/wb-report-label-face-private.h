/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <qrencode.h>

#include "wb-report-document-private.h"
#include "wb-report-labels.h"

G_BEGIN_DECLS

#define WB_REPORT_POINTS_PER_MM (72.0 / 25.4)

/*
 * What a label and a card have in common: the code large, what it is and its dates beneath, a QR code at the right, the caution
 * at the foot. A kind says how large.
 */
typedef struct
{
  double largest_pt, smallest_pt;  /* of the text */
  double code_pt;                  /* of the code at most */
  double code_factor;              /* how much larger it is than the text */
  double qr_share;                 /* of the width, at most */
  guint  boxes;                    /* to tick a burn each; 0: none */
} WbReportLabelKind;

typedef struct
{
  double       width, height;      /* points */
  double       pad;                /* white about the text */
  PangoLayout *code, *cell, *dates, *caution; /* NULL: an empty place */
  PangoLayout *burns;              /* before the boxes; NULL: none */
  PangoLayout *number[12];         /* in the boxes */
  guint        n_boxes;
  double       box;                /* points a side */
  QRcode      *qr;
  double       qr_size;
} WbReportLabelFace;

/* The type that the labels of a sheet have come to: none is set larger than the one before it, so that they look alike. */
typedef struct { double size, larger; } WbReportLabelType; /* points; how much larger than usual the digits of a blind one; 0: none was set yet */

/*
 * Fills a face of that size in the largest type that fits, but no larger than `type` has come to; FALSE where none does, and
 * nothing is to be drawn.
 */
gboolean wb_report_label_face_fill  (WbReportLabelFace *self, const WbReportDocument *document, const WbReportLabel *from,
                                     const WbReportOptions *options, const WbReportLabelKind *kind, WbReportLabelType *type);
/* TRUE: in its smallest type it fits a face of that size (points). */
gboolean wb_report_label_face_fits  (const WbReportDocument *document, double width, double height, double pad, const WbReportLabel *from,
                                     const WbReportOptions *options, const WbReportLabelKind *kind);
/* At the current origin. */
void     wb_report_label_face_draw  (const WbReportLabelFace *self, cairo_t *cr);
/* Appends what it says, a line a text. */
void     wb_report_label_face_say   (const WbReportLabelFace *self, GString *text);
void     wb_report_label_face_clear (WbReportLabelFace *self);

/* A kind of paper of faces on a sheet. folds: each stands on its lower half, and says the same to who sits behind it. */
WbReportDocument *wb_report_label_sheet_print (const WbReportLabel *labels, guint n, const WbReportLabelSheet *sheet, guint first,
                                               gboolean outlines, const WbReportOptions *options, const WbReportLabelKind *kind,
                                               gboolean folds, const char *title, GError **error);

G_END_DECLS
