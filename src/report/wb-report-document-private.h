/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <pango/pangocairo.h>

#include "wb-chart-layout.h"
#include "wb-report-document.h"

G_BEGIN_DECLS

#define WB_REPORT_MARGIN 56.0
#define WB_REPORT_HEAD 40.0     /* between the upper margin's edge and the text */
#define WB_REPORT_FOOT 24.0
#define WB_REPORT_BODY_PT 10.0

typedef struct _WbReportPiece WbReportPiece;

/* What is never cut. Draws itself at the current origin, `width` wide. */
struct _WbReportPiece
{
  double         height;
  double         gap;        /* white before it, dropped at the top of a page */
  gboolean       keep_next;  /* stays on one page with the piece behind it */
  gboolean       breaks;     /* a page begins here */
  WbReportPiece *head;       /* repeated at the top of a page that begins with this piece; borrowed */
  void         (*draw) (const WbReportPiece *self, cairo_t *cr, double width);
  void         (*free_data) (WbReportPiece *self);
  /* what draw needs, by kind of piece */
  PangoLayout   *layout;
  int            line;       /* of the layout; -1: all of it */
  double         indent;
  WbChartLayout *chart;
  gpointer       data;
  /* of a heading */
  int            level;      /* 0: no heading */
  char          *text;
};

/* A piece at a place. */
typedef struct
{
  const WbReportPiece *piece;
  guint                page;
  double               y;
} WbReportPlaced;

struct _WbReportDocument
{
  WbReportPaper paper;
  double        width, height;
  char         *title, *subject, *author;
  char         *letterhead, *letterhead_lines;
  char         *foot, *mark;
  PangoContext *context;
  GPtrArray    *pieces;      /* WbReportPiece */
  GPtrArray    *heads;       /* WbReportPiece: heads of tables */
  GArray       *placed;      /* WbReportPlaced; NULL before the pages are made */
  guint         n_pages;
};

double         wb_report_document_get_text_width (const WbReportDocument *self);
WbReportPiece *wb_report_piece_new    (WbReportDocument *self);
void           wb_report_piece_free   (WbReportPiece *piece);
/* A layout in the document's type. */
PangoLayout   *wb_report_layout_new   (const WbReportDocument *self, const char *text, double size_pt, PangoWeight weight, double width);
/* Height in points. */
double         wb_report_layout_get_height (PangoLayout *layout);
/* Breaks the document into pages. */
void           wb_report_pages_make   (WbReportDocument *self);
double         wb_report_pages_get_top (const WbReportDocument *self, guint page);

G_END_DECLS
