/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"
#include "wb-craft-answer.h"
#include "wb-report-test.h"

G_BEGIN_DECLS

/*
 * An answer's test report. paper is a WbReportPaper, below 0 the notebook's.
 * The same answer, program, fonts and date (SOURCE_DATE_EPOCH, else the clock)
 * give the same bytes. job may be NULL; it tells how far it is and stops between pages.
 */

/* Off the main thread: the report for preview and print, broken into pages. */
void              wb_app_report_make_async   (WbAppNotebook *notebook, WbCraftAnswer *answer, int paper, WbAppJob *job,
                                              GAsyncReadyCallback callback, gpointer user);
/* The caller's, to be used on one thread at a time. */
WbReportDocument *wb_app_report_make_finish  (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* Off the main thread: a PDF, whole or not at all, over an existing one; never over the notebook itself. */
void              wb_app_report_write_async  (WbAppNotebook *notebook, WbCraftAnswer *answer, int paper, const char *path, WbAppJob *job,
                                              GAsyncReadyCallback callback, gpointer user);
gboolean          wb_app_report_write_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* The same here and now: for commands. */
gboolean          wb_app_report_write_sync   (WbAppNotebook *notebook, WbCraftAnswer *answer, int paper, const char *path, GError **error);

/*
 * Number and hash of the last entry that the answer rests on, "NUMBER:HEX" as
 * the check takes it: for WbReportOptions.fingerprint. "" where the answer rests on no entry; NULL on error. Blocks.
 */
char             *wb_app_report_dup_fingerprint_sync (WbAppNotebook *notebook, const WbCraftAnswer *answer, GError **error);

G_END_DECLS
