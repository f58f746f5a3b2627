/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-alias.h"
#include "wb-craft-answer.h"
#include "wb-report-batch.h"
#include "wb-report-bench-plan.h"
#include "wb-report-cards.h"
#include "wb-report-log-sheet.h"

/* Papers of an invented workshop, for the tests of this room and for eyes. */

#define REPORT_BENCH_DATE "2026-03-02T08:07:00+00:00"

/*
 * Two vessels, two scents, three wicks, two candles each, burnt to their end:
 * letterhead, question, dates, a sample set aside, a deviation, a throw burn, instruments, raters, lots. One object for all who ask: computing takes its time.
 */
WbCraftAnswer    *report_bench_answer_get  (void);
/* The same once more, to be changed; fits that rest on the same bytes are taken over, as in those below. */
WbCraftAnswer    *report_bench_answer_new  (void);
/* The same once more from the start. */
WbCraftAnswer    *report_bench_answer_anew (void);
/* The same with a logger's file over a limit: 85 °C at the wall in minute 130 of the first burn. */
WbCraftAnswer    *report_bench_logged_new  (void);
/* The same with every text speaking of its materials, under other names. The caller owns the alias. */
WbCraftAnswer    *report_bench_anonymous_new (WbCraftAlias **alias);
/* The same from the start. */
WbCraftAnswer    *report_bench_anonymous_anew (WbCraftAlias **alias);
/* Planned, nothing burnt. */
WbCraftAnswer    *report_bench_planned_new (void);
WbCraftAnswer    *report_bench_left_out_new (void);
/* Nothing planned. */
WbCraftAnswer    *report_bench_empty_new   (void);
/* Every combination crosses a limit. */
WbCraftAnswer    *report_bench_hopeless_new (void);
/* As the first, with `name` for every name. */
WbCraftAnswer    *report_bench_named_new   (const char *name);
void              report_bench_options     (WbReportOptions *options);

WbReportDocument *report_bench_batch_new   (const WbReportOptions *options);
/* The same without a fragrance. */
WbReportDocument *report_bench_control_new (const WbReportOptions *options);
WbReportDocument *report_bench_log_new     (const WbReportOptions *options, guint rows);
/* Two cohorts of 6 on a bench of 8 in rows of 4; with evenings and places, or with both to be filled in. */
WbReportDocument *report_bench_plan_new    (const WbReportOptions *options, gboolean planned);
/* One of so many samples and evenings on so many places. */
WbReportDocument *report_bench_plan_large_new (const WbReportOptions *options, guint samples, guint evenings, guint places, guint columns);
/* Cards that lie or fold. blind: each has three digits, 417 and on. Fails the test on an error. */
WbReportDocument *report_bench_cards_new   (const WbReportOptions *options, guint n, WbReportPaper paper, gboolean folds, gboolean blind);
/* `n` labels on a preset's sheet; the same. */
WbReportDocument *report_bench_labels_new  (const WbReportOptions *options, guint n, WbReportLabelPreset preset, guint first);
/* Label i as the sheet has it; the texts are static. */
WbReportLabel     report_bench_label       (guint i);
