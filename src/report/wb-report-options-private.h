/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-options.h"

G_BEGIN_DECLS

/* A document with the options' letterhead and mark; what stands at the foot is told with the fingerprint where there is one. Caller frees. */
WbReportDocument *wb_report_options_begin (const WbReportOptions *options, const char *title, const char *subject, const char *foot);
/* The day of the paper for people. Caller frees. */
char             *wb_report_options_dup_day (const WbReportOptions *options);

G_END_DECLS
