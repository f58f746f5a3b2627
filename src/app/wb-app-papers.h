/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench.h"
#include "wb-app-calendar.h"
#include "wb-app-pour.h"
#include "wb-report-document.h"

G_BEGIN_DECLS

/*
 * The papers of the bench from what the window has loaded: for preview, print
 * and PDF; labels are wb-app-labels.h. paper is a WbReportPaper, below 0 the notebook's. Main thread; each takes a few milliseconds. Caller frees.
 */

/* The batch sheet; NULL where the batch has no sheet: its `refusal` says why. */
WbReportDocument *wb_app_papers_batch_new  (WbAppPour *pour, guint batch, int paper);
/*
 * The evening's log sheet: what is alight or fit to light of one experiment (0: of the first one at the bench), by its
 * protocol; empty rows where nothing is. NULL before the bench is loaded, or where it has no sample of that experiment.
 */
WbReportDocument *wb_app_papers_log_new    (WbAppBench *bench, const WbNotebook *notebook, gint64 experiment, int paper);
/*
 * The plan of the bench of an experiment, by the calendar's evenings; places with codes where the notebook says how many stand in a
 * row, so that the bench shuffles them. NULL before the calendar is loaded, or where no sample of the experiment is poured and burns on.
 */
WbReportDocument *wb_app_papers_bench_plan_new (WbAppCalendar *calendar, WbAppBench *bench, const WbNotebook *notebook, gint64 experiment, int paper);

G_END_DECLS
