/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-test.h"

#include "wb-craft-answer.h"
#include "wb-plot.h"

G_BEGIN_DECLS

/* The test report while it is written; all borrowed. */
typedef struct
{
  WbReportDocument    *document;
  const WbCraftAnswer *answer;
  const WbReportOptions *options;
} WbReportTest;

/* A value in the reader's unit, "–" where there is none. Caller frees. */
char *wb_report_test_dup_value    (const WbReportTest *test, WbUnit stored, double value, int decimals);
/* "3.3 h (3.0 to 3.7)"; an end that is not there is said. Caller frees. */
char *wb_report_test_dup_interval (const WbReportTest *test, WbUnit stored, WbCraftInterval interval, int decimals);
/* "82 in 100". Caller frees. */
char *wb_report_test_dup_chance   (double chance);
/* The cell by what tells it apart in its group. Caller frees. */
char *wb_report_test_dup_cell     (const WbReportTest *test, const WbCraftGroup *group, guint cell);
void  wb_report_test_say          (const WbReportTest *test, const char *format, ...) G_GNUC_PRINTF (2, 3);
void  wb_report_test_point        (const WbReportTest *test, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* The sections, in the order in which they stand. */
void  wb_report_test_add_answers    (const WbReportTest *test);
void  wb_report_test_add_untested   (const WbReportTest *test);
void  wb_report_test_add_method     (const WbReportTest *test);
void  wb_report_test_add_ranking    (const WbReportTest *test);
void  wb_report_test_add_charts     (const WbReportTest *test);
void  wb_report_test_add_limits     (const WbReportTest *test);
void  wb_report_test_add_conditions (const WbReportTest *test);
void  wb_report_test_add_cautions   (const WbReportTest *test);
void  wb_report_test_add_figures    (const WbReportTest *test);

G_END_DECLS
