/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-decision-papers.h"
#include "wb-app-labels.h"
#include "wb-app-papers.h"
#include "wb-app-touched.h"
#include "wb-host.h"

G_BEGIN_DECLS

/*
 * The workshop's own papers, each shown in a WbPaperDialog; where there is none
 * to show, the reason is told in the window of `where`.
 */

/* The batch sheet of one of the pour's batches, with the terms that are set there. */
void wb_paperwork_batch  (GtkWidget *where, WbAppPour *pour, guint batch);
/*
 * Labels or cards for its samples, laid out in a thread. sheet: as in WbAppLabelSheets; once they are printed, or written as a PDF, the
 * next print on that sheet begins behind them. NULL: it is no sheet that is gone on with.
 */
void wb_paperwork_labels (GtkWidget *where, WbAppPour *pour, guint batch, const WbAppLabelsTerms *terms, const char *sheet);
/* The places of a sheet of labels, to see whether the printer meets them. */
void wb_paperwork_alignment (GtkWidget *where, WbAppPour *pour, const WbReportLabelSheet *sheet);
/* The log sheet for an evening with an experiment's samples. */
void wb_paperwork_log    (WbHost *host, gint64 experiment);
/* The plan of the bench with an experiment's evenings, places and cohorts. */
void wb_paperwork_bench_plan (WbHost *host, gint64 experiment);
/* The recipe card of a signed decision, read and laid out off the main thread. */
void wb_paperwork_recipe_card (GtkWidget *where, WbAppNotebook *notebook, const WbAppTouched *decision);

G_END_DECLS
