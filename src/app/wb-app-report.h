/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-craft-answer.h"
#include "wb-report-test.h"

G_BEGIN_DECLS

/*
 * Writes an answer's test report as a PDF, whole or not at all, over an
 * existing one. paper below 0: the notebook's. The same answer, program, fonts
 * and date (SOURCE_DATE_EPOCH, else the clock) give the same bytes. Blocks.
 */
gboolean wb_app_report_write_sync (WbAppNotebook *notebook, const WbCraftAnswer *answer, int paper, const char *path, GError **error);

/*
 * Number and hash of the last entry that the answer rests on, "NUMBER:HEX" as
 * the check takes it: for WbReportOptions.fingerprint. "" where the answer rests on no entry; NULL on error. Blocks.
 */
char    *wb_app_report_dup_fingerprint_sync (WbAppNotebook *notebook, const WbCraftAnswer *answer, GError **error);

G_END_DECLS
