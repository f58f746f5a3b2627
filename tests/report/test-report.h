/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "report-bench.h"
#include "wb-report-test.h"

/* Each adds the tests of one subject. */
void    test_document_add (void);
void    test_filling_add  (void);
void    test_layout_add   (void);
void    test_customer_add (void);
void    test_glance_add   (void);
void    test_choice_add   (void);
void    test_papers_add   (void);
void    test_decision_papers_add (void);
void    test_labels_add   (void);
void    test_label_scan_add (void);

/* What a tool (poppler's, qpdf) says of a PDF; option may be NULL. Fails the test where it fails. Caller frees. */
char   *test_report_ask   (GBytes *pdf, const char *tool, const char *option);
/* The text of each page, as pdftotext sees it; ends with an empty one. Caller frees. */
char  **test_report_read  (GBytes *pdf);
/* White space of any kind and length as one space: lines break where they like. Caller frees. */
char   *test_report_squeeze (const char *text);
/* The document's PDF with the bench's date. Caller frees. */
GBytes *test_report_print (WbReportDocument *document);
/* Whether a text stands on a page or, page -1, on any; white space counts as one space. */
gboolean test_report_says (char **pages, int page, const char *text);
