/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <pango/pangocairo.h>

#include "wb-chart-layout.h"
#include "wb-report-document.h"

G_BEGIN_DECLS

/* Points. */
#define WB_REPORT_MARGIN 56.0
#define WB_REPORT_EDGE 40.0     /* above the head and under the foot */
#define WB_REPORT_FOOT 30.0
#define WB_REPORT_BODY_PT 9.5
#define WB_REPORT_SMALL_PT 8.0
#define WB_REPORT_ALERT 24.0    /* the safety-alert symbol, 8.5 mm; EN 15494:2019 asks for 5 mm at least (as told by a test laboratory) */

typedef struct _WbReportPiece WbReportPiece;

/* What is never cut. Draws itself at the current origin, `width` wide. */
struct _WbReportPiece
{
  double         height;
  double         gap;        /* white before it, dropped at the top of a page */
  double         asked, least; /* a chart: the height that it is to have, and that down to which it is set to fit; least 0: fixed */
  gboolean       keep_next;  /* stays on one page with the piece behind it */
  gboolean       breaks;     /* a page begins here */
  WbReportPiece *head;       /* repeated at the top of a page that begins with this piece; borrowed */
  WbReportPiece *band;       /* the same, under the head: what group the rows are of */
  void         (*draw) (const WbReportPiece *self, cairo_t *cr, double width);
  void         (*say) (const WbReportPiece *self, GString *text); /* appends what it says, for who cannot see it; NULL: nothing */
  void         (*free_data) (WbReportPiece *self);
  /* what draw needs, by kind of piece */
  PangoLayout   *layout;
  int            line;       /* of the layout; -1: all of it */
  double         indent;
  gboolean       bullet;     /* a point begins here */
  gboolean       point;      /* a line of a point */
  gboolean       figure;     /* a picture, to who listens to the page */
  WbChart       *picture;    /* whose layout `chart` is */
  WbChartLayout *chart;      /* NULL before the pages are made, and where it cannot be laid out: `layout` then says why */
  gpointer       data;
  /* of a heading */
  int            level;      /* 0: no heading */
  char          *text;
};

/* A piece at a place: points from the page's top left corner. */
typedef struct
{
  const WbReportPiece *piece;
  guint                page;
  double               x, y;
} WbReportPlaced;

struct _WbReportDocument
{
  double        width, height;
  gboolean      bare;        /* no frame; pieces stand where wb_report_document_place says */
  double        scale;       /* of what stands between head and foot; pieces are laid out in points of before it */
  char         *title, *subject, *author;
  char         *letterhead, *letterhead_lines;
  char         *foot, *mark;
  cairo_surface_t *logo;     /* of the letterhead; NULL: none */
  PangoContext *context;
  GPtrArray    *pieces;      /* WbReportPiece */
  GPtrArray    *heads;       /* WbReportPiece: heads of tables */
  int           contents_at; /* piece before which the contents stand; -1: none */
  const WbReportPiece *appendix; /* with which the appendix begins, on a page of its own; NULL: there is none */
  guint         appendix_page; /* from 0, once the pages are made */
  guint         whole_from;  /* piece; as wb_report_document_begin_whole says */
  GArray       *placed;      /* WbReportPlaced; NULL before the pages are made */
  guint         n_pages;
};

/* In points before the scale, as the height below. */
double         wb_report_document_get_text_width  (const WbReportDocument *self);
/* Of a page but the first, which may have less. */
double         wb_report_document_get_text_height (const WbReportDocument *self);
WbReportPiece *wb_report_piece_new    (WbReportDocument *self);
void           wb_report_piece_free   (WbReportPiece *piece);
/* Takes the piece. */
void           wb_report_document_add_piece (WbReportDocument *self, WbReportPiece *piece);

/* A layout in the document's type, text as Pango wraps it; width 0: as wide as it comes. */
PangoLayout   *wb_report_layout_new   (const WbReportDocument *self, const char *text, double size_pt, PangoWeight weight, double width);
/* At most so many lines, the last one ended by an ellipsis. */
void           wb_report_layout_limit (PangoLayout *layout, int lines);
/* Height and width in points. */
double         wb_report_layout_get_height (PangoLayout *layout);
double         wb_report_layout_get_width  (PangoLayout *layout);
/* Of lines [first, end), the space between them included. */
double         wb_report_layout_get_lines_height (PangoLayout *layout, int first, int end);
/* Lines [first, end) at a place. */
void           wb_report_layout_draw_lines (PangoLayout *layout, cairo_t *cr, double x, double y, int first, int end);

/* The safety-alert symbol, `size` points high and wide. */
void           wb_report_draw_alert   (cairo_t *cr, double x, double y, double size);

/* A document of pages of that size without margins, head or foot: labels. */
WbReportDocument *wb_report_document_new_bare (double width, double height, const char *title, const char *subject);
/* Takes the piece; the page is made. */
void           wb_report_document_place (WbReportDocument *self, WbReportPiece *piece, guint page, double x, double y);

/* Of a list of points the first two stay on one page, and the last two; one alone is a paragraph. */
void           wb_report_points_keep  (WbReportDocument *self);

/* Of a piece that is not fixed: lays its chart out at the height that it came to. */
void           wb_report_chart_lay_out (WbReportDocument *self, WbReportPiece *piece);

/* Breaks the document into pages. */
void           wb_report_pages_make   (WbReportDocument *self);
/* What a page (from 0) is called: "3", or "A-1" in the appendix. Caller frees. */
char          *wb_report_pages_dup_label (WbReportDocument *self, guint page);
/* Page (from 0) and place of a piece; FALSE if it is not placed. */
gboolean       wb_report_pages_find   (WbReportDocument *self, const WbReportPiece *piece, guint *page, double *y);

/* Where a page's text begins and ends. */
double         wb_report_frame_get_top    (const WbReportDocument *self, guint page);
double         wb_report_frame_get_bottom (const WbReportDocument *self);
void           wb_report_frame_draw       (const WbReportDocument *self, cairo_t *cr, guint page);

/* One piece a row of two entries, before piece `contents_at`. */
void           wb_report_contents_insert  (WbReportDocument *self);

G_END_DECLS
