/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/*
 * The customer's test report as it would be printed, page by page; written as a
 * PDF and printed from here. What it holds is chosen beside it and remembered on this computer.
 *
 * Actions: page.write-pdf, page.write-key, page.choose-logo, page.remove-logo, page.print, page.previous-page, page.next-page,
 * page.paper (s: "a4", "letter").
 */
#define WB_TYPE_REPORT_PAGE (wb_report_page_get_type ())
G_DECLARE_FINAL_TYPE (WbReportPage, wb_report_page, WB, REPORT_PAGE, WbPage)

/* What its file is called, without an ending: the experiment's code, unless names are kept back. Caller frees. */
char *wb_report_page_dup_name (WbReportPage *self);
/* Writes what is shown, without asking where: what page.write-pdf does once the file is chosen. */
void wb_report_page_write (WbReportPage *self, const char *path);
/* The same of page.write-key. */
void wb_report_page_write_key (WbReportPage *self, const char *path);
/* The same of page.choose-logo. */
void wb_report_page_keep_logo (WbReportPage *self, const char *path);

G_END_DECLS
