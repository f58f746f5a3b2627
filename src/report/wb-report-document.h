/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "wb-chart.h"
#include "wb-report-picture.h"

G_BEGIN_DECLS

/*
 * A paged document on its way to paper: blocks in reading order, broken into
 * pages, drawn on any cairo target. One page-drawing function serves the PDF,
 * the printer and the preview. Lengths are points; Pango lays text out at 72
 * dpi without hinting, so that every target breaks the same lines.
 *
 * A block falls into pieces that are never cut: a line, a table's row, a
 * chart. A heading stays with what follows, a table repeats its head on each
 * page, a paragraph leaves no single line behind.
 *
 * Texts are UTF-8, already translated, and copied. Built and read by one thread
 * at a time, which need not be the same: a document has fonts of its own.
 */

typedef enum { WB_REPORT_A4, WB_REPORT_LETTER } WbReportPaper;

typedef enum
{
  WB_REPORT_TEXT_BODY,
  WB_REPORT_TEXT_LEAD,   /* the answer: larger */
  WB_REPORT_TEXT_SMALL,  /* sources, notes */
  WB_REPORT_TEXT_STRONG,
  WB_REPORT_TEXT_SUM     /* a sum, in figures of one width */
} WbReportTextStyle;

typedef enum { WB_REPORT_LEFT, WB_REPORT_RIGHT, WB_REPORT_CENTRE } WbReportAlign;

typedef struct _WbReportDocument WbReportDocument;

/* `title` and `subject` are document information too; `author` may be NULL. */
WbReportDocument *wb_report_document_new  (WbReportPaper paper, const char *title, const char *subject, const char *author);
void              wb_report_document_free (WbReportDocument *self);
/* Stands at the head of the first page, and shorter on the others: name, then lines; both may be NULL. */
void              wb_report_document_set_letterhead (WbReportDocument *self, const char *name, const char *lines);
/* Beside it on the first page, at most 5 cm wide and 2 cm high; copied. NULL: none. */
void              wb_report_document_set_logo (WbReportDocument *self, const WbReportPicture *logo);
/* Stands at the foot of every page beside the page number. */
void              wb_report_document_set_foot (WbReportDocument *self, const char *text);
/* A word across the head of every page ("Invented data"); NULL: none. */
void              wb_report_document_set_mark (WbReportDocument *self, const char *text);

/* Long edge across. Before the first block. */
void              wb_report_document_set_landscape (WbReportDocument *self);
/* All but head and foot smaller by this factor, above 0 to 1: for what has to fit on one page. Before the first block. */
void              wb_report_document_set_scale (WbReportDocument *self, double scale);

/* The document's own title in large letters, one line under it; `below` may be NULL. */
void              wb_report_document_add_title     (WbReportDocument *self, const char *text, const char *below);
/* The headings of level 1 that come behind, with their pages, linked. Once a document. */
void              wb_report_document_add_contents  (WbReportDocument *self);
/* Level 1 or 2; in the document's outline. */
void              wb_report_document_add_heading   (WbReportDocument *self, int level, const char *text);
void              wb_report_document_add_paragraph (WbReportDocument *self, WbReportTextStyle style, const char *text);
/* One point of a list. */
void              wb_report_document_add_point     (WbReportDocument *self, const char *text);
/* The safety-alert symbol and WARNING in bold capitals, then the text, in a box. */
void              wb_report_document_add_warning   (WbReportDocument *self, const char *text);
/* An answer set off from the text: what it is about, what it is, how sure; title and body may be NULL. */
void              wb_report_document_add_answer    (WbReportDocument *self, const char *title, const char *lead, const char *body);
/* As wide as the page's text. Holds a reference. */
void              wb_report_document_add_chart     (WbReportDocument *self, WbChart *chart, double height);
void              wb_report_document_add_space     (WbReportDocument *self, double height);
/* What was added last stays on one page with what is added next. */
void              wb_report_document_keep_with_next (WbReportDocument *self);
void              wb_report_document_add_page_break (WbReportDocument *self);
/* What comes behind is the appendix: it begins on a page of its own, and its pages are and so on. Once a document. */
void              wb_report_document_begin_appendix (WbReportDocument *self);
/* All that is added between the two stays on one page, as far as a page holds it. Not nested. */
void              wb_report_document_begin_whole   (WbReportDocument *self);
void              wb_report_document_end_whole     (WbReportDocument *self);

typedef struct _WbReportTable WbReportTable;

/*
 * Column heads (NULL: none) and their alignment, n each; a share of 0 takes the width that its content needs, others
 * share what is left. A row of more lines than a page holds goes on on the next one.
 */
WbReportTable    *wb_report_table_new       (guint n, const char *const *heads, const WbReportAlign *aligns, const double *shares);
/* n cells; NULL is an empty one. `strong` sets the row off. */
void              wb_report_table_add_row   (WbReportTable *table, const char *const *cells, gboolean strong);
/* A line across all columns that says what the rows behind it are of; repeated where they go on on a new page. */
void              wb_report_table_add_band  (WbReportTable *table, const char *text);
/* Cells to write into are ruled boxes of at least this height: for sheets that are filled in by hand. 0: none. */
void              wb_report_table_set_boxes (WbReportTable *table, double height);
/* For one that was not added after all. */
void              wb_report_table_free      (WbReportTable *table);
/* Takes the table. */
void              wb_report_document_add_table (WbReportDocument *self, WbReportTable *table);

/* Ends the building; how many pages there are. Idempotent. */
guint             wb_report_document_get_n_pages (WbReportDocument *self);
/* Page size in points. */
void              wb_report_document_get_size    (const WbReportDocument *self, double *width, double *height);
/* Draws a page (from 0) at the current origin. */
void              wb_report_document_draw_page   (WbReportDocument *self, cairo_t *cr, guint page);
/* What stands on a page (from 0), as text with a line a paragraph, row or chart. Caller frees. */
char             *wb_report_document_dup_page_text (WbReportDocument *self, guint page);
/* Number of the page (from 0) on which a heading stands, -1 if there is none of that text. */
int               wb_report_document_find_heading (WbReportDocument *self, const char *text);

/*
 * The PDF's bytes. `created`: ISO 8601 instant for the document information, or NULL for
 * SOURCE_DATE_EPOCH or else the clock. Same document, fonts and date: same bytes. NULL with G_IO_ERROR.
 */
GBytes           *wb_report_document_dup_pdf     (WbReportDocument *self, const char *created, GError **error);
/* How far it is, 0 to 1; FALSE: stop. */
typedef gboolean (*WbReportKeepGoing) (double done, gpointer user);
/* The same, asked before each page; G_IO_ERROR_CANCELLED once it is told to stop. */
GBytes           *wb_report_document_dup_pdf_while (WbReportDocument *self, const char *created, WbReportKeepGoing keep_going, gpointer user,
                                                    GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbReportDocument, wb_report_document_free)

G_END_DECLS
