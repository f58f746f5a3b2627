/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-answer.h"
#include "wb-report-options.h"

G_BEGIN_DECLS

/*
 * The customer's test report: the answer first and how sure it is, what was not
 * tested, how it was tested, ranking and reasons, charts of the leading
 * combinations, limits with their sources, what was set aside, deviations,
 * conditions, lots, cautions, and the figures with the method as an appendix.
 * Reads the answer and computes nothing that the answer should hold. No answer
 * is too empty for a report. Caller frees.
 */
WbReportDocument *wb_report_test_new (const WbCraftAnswer *answer, const WbReportOptions *options);

G_END_DECLS
