/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-job.h"
#include "wb-app-notebook.h"
#include "wb-craft-answer.h"
#include "wb-report-test.h"

G_BEGIN_DECLS

/* What of a report a person chose. */
typedef struct
{
  int      paper;      /* WbReportPaper; below 0: the notebook's */
  guint    left_out;   /* 1 << WbReportSection, each */
  guint    photos;     /* at most; WB_REPORT_PHOTOS_MOST at most */
  gboolean anonymous;  /* materials and codes have other names, as the key says; see wb-craft-alias.h */
} WbAppReportChoice;

#define WB_APP_REPORT_CHOICE_INIT { -1, 0, WB_REPORT_PHOTOS_MOST, FALSE }

/*
 * As a setting of this computer keeps it: "without=rings,life;photos=8;anonymous". What cannot be read is as it is in
 * WB_APP_REPORT_CHOICE_INIT. The paper is none of it: it is the notebook's, or chosen anew. Caller frees the text.
 */
void              wb_app_report_choice_parse  (WbAppReportChoice *choice, const char *text);
char             *wb_app_report_choice_format (const WbAppReportChoice *choice);

/*
 * An answer's test report. choice: copied; NULL: all of it. The same answer, choice,
 * program, fonts and date (SOURCE_DATE_EPOCH, else the clock) give the same bytes. Where names are to be others, the data are
 * read anew and the answer is worked out of them again. job may be NULL; it tells how far it is and stops between pages.
 */

/* Off the main thread: the report for preview and print, broken into pages. */
void              wb_app_report_make_async   (WbAppNotebook *notebook, WbCraftAnswer *answer, const WbAppReportChoice *choice, WbAppJob *job,
                                              GAsyncReadyCallback callback, gpointer user);
/* The caller's, to be used on one thread at a time. */
WbReportDocument *wb_app_report_make_finish  (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* Off the main thread: a PDF, whole or not at all, over an existing one; never over the notebook itself. */
void              wb_app_report_write_async  (WbAppNotebook *notebook, WbCraftAnswer *answer, const WbAppReportChoice *choice, const char *path,
                                              WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
/* The same of the key to the report in which names are others. */
void              wb_app_report_write_key_async (WbAppNotebook *notebook, WbCraftAnswer *answer, const WbAppReportChoice *choice, const char *path,
                                                 WbAppJob *job, GAsyncReadyCallback callback, gpointer user);
/* Ends both. */
gboolean          wb_app_report_write_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* The same here and now: for commands. key_path: of the key, NULL: none is written. */
gboolean          wb_app_report_write_sync   (WbAppNotebook *notebook, WbCraftAnswer *answer, const WbAppReportChoice *choice, const char *path,
                                              const char *key_path, GError **error);

/*
 * Number and hash of the last entry that the answer rests on, "NUMBER:HEX" as
 * the check takes it: for WbReportOptions.fingerprint. "" where the answer rests on no entry; NULL on error. Blocks.
 */
char             *wb_app_report_dup_fingerprint_sync (WbAppNotebook *notebook, const WbCraftAnswer *answer, GError **error);

G_END_DECLS
