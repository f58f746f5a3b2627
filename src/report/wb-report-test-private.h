/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-report-test.h"

#include "wb-plot.h"
#include "wb-report-words-private.h"

G_BEGIN_DECLS

/* The test report while it is written; all borrowed. */
typedef struct
{
  WbReportDocument      *document;
  const WbCraftAnswer   *answer;
  const WbDataset       *data;
  const WbReportOptions *options;
  gboolean               us;      /* units of the reader */
} WbReportTest;

/* The cell by what tells it apart in its group. Caller frees. */
char    *wb_report_test_dup_cell  (const WbReportTest *test, const WbCraftGroup *group, guint cell);
/* Of a sample. Caller frees. */
char    *wb_report_test_dup_code  (const WbReportTest *test, guint sample);
/* Of a group. Caller frees. */
char    *wb_report_test_dup_title (const WbReportTest *test, const WbCraftGroup *group);
/* "Flame 51.0 mm, 225 min into burn 12 of sample B6CF-3"; "–" where nothing was read. In the reader's unit. Caller frees. */
char    *wb_report_test_dup_worst (const WbReportTest *test, const WbCraftLimit *limit);
/* A limit's bound in the reader's unit; "none allowed". Caller frees. */
char    *wb_report_test_dup_bound (const WbReportTest *test, const WbLimit *limit);
/* Whether a section is to be there. */
gboolean wb_report_test_wants    (const WbReportTest *test, WbReportSection section);
gboolean wb_report_test_is_aside  (const WbSample *sample);
void     wb_report_test_say       (const WbReportTest *test, const char *format, ...) G_GNUC_PRINTF (2, 3);
void     wb_report_test_point     (const WbReportTest *test, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* A chart as wide as the text, as high as its kind wants on a page; one that cannot be made says why in its place. */
void     wb_report_test_add_chart (const WbReportTest *test, WbPlotKind kind, const WbPlotOptions *options);

/* Adds the row of one cell. */
typedef void (*WbReportTestRow) (const WbReportTest *test, WbReportTable *table, guint cell, const char *name);
/* A row for each cell, in the grid's order, under a band for each group where there are several. */
void           wb_report_test_add_rows  (const WbReportTest *test, WbReportTable *table, WbReportTestRow add);
/* A table of two columns without a head: what, and what of it. */
WbReportTable *wb_report_test_facts_new (void);
/* An empty value leaves the row out. */
void           wb_report_test_facts_add (WbReportTable *facts, const char *what, const char *value);

/* How the protocol departs from the timing that it names, one translated clause each; empty: it follows it. Caller frees. */
GPtrArray     *wb_report_test_departures (const WbReportTest *test);

/* Was any candle lit? Else there is a plan, and no result to tell. */
gboolean wb_report_test_is_burnt    (const WbReportTest *test);
/* Combinations that have samples: those that are ranked. */
guint    wb_report_test_count_cells (const WbReportTest *test);
/* Whether what it chose is not in the experiment any more. */
gboolean wb_report_test_is_chosen_gone (const WbReportTest *test, const WbDecision *decision);
/* What was chosen; of a combination that is gone, that it is. Caller frees. */
char    *wb_report_test_dup_chosen   (const WbReportTest *test, const WbDecision *decision);
/* Sentences on how a decision stands. Caller frees. */
char    *wb_report_test_dup_standing (const WbReportTest *test, const WbDecision *decision);

/* The sections, in the order in which they stand. */
void  wb_report_test_add_front      (const WbReportTest *test);
void  wb_report_test_add_untested   (const WbReportTest *test);
void  wb_report_test_add_summary    (const WbReportTest *test);
/* Nothing where the front has it all. */
void  wb_report_test_add_full       (const WbReportTest *test);
void  wb_report_test_add_answers    (const WbReportTest *test);
void  wb_report_test_add_decisions  (const WbReportTest *test);
void  wb_report_test_add_method     (const WbReportTest *test);
void  wb_report_test_add_ranking    (const WbReportTest *test);
void  wb_report_test_add_charts     (const WbReportTest *test);
void  wb_report_test_add_limits     (const WbReportTest *test);
void  wb_report_test_add_deviations (const WbReportTest *test);
void  wb_report_test_add_conditions (const WbReportTest *test);
/* Nothing where none was burnt. */
void  wb_report_test_add_check_burns (const WbReportTest *test);
/* Nothing where there are none. */
void  wb_report_test_add_photos     (const WbReportTest *test);
/* Nothing where nobody looked. */
void  wb_report_test_add_looks      (const WbReportTest *test);
/* The appendix's part of the ranking. */
void  wb_report_test_add_numbers    (const WbReportTest *test);
void  wb_report_test_add_cautions   (const WbReportTest *test);
void  wb_report_test_add_figures    (const WbReportTest *test);

G_END_DECLS
