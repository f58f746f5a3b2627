/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-page.h"

G_BEGIN_DECLS

/*
 * The customer's test report as it would be printed, page by page; written as a
 * PDF and printed from here.
 *
 * Actions: page.write-pdf, page.print, page.previous-page, page.next-page,
 * page.paper (s: "a4", "letter").
 */
#define WB_TYPE_REPORT_PAGE (wb_report_page_get_type ())
G_DECLARE_FINAL_TYPE (WbReportPage, wb_report_page, WB, REPORT_PAGE, WbPage)

/* Writes what is shown, without asking where: what page.write-pdf does once the file is chosen. */
void wb_report_page_write (WbReportPage *self, const char *path);

G_END_DECLS
