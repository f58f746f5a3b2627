/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-dataset.h"
#include "wb-report-document.h"

G_BEGIN_DECLS

/*
 * The two papers of a signed decision: the recipe card, and the production batch sheet for a number of vessels. paper is a
 * WbReportPaper, below 0 the notebook's.
 */

typedef struct
{
  guint  vessels;
  double pot_g;         /* what the pot holds; NAN: all in one melt */
  double overage_pct;
  double hold_back_pct;
  double resolution_g;  /* of the balance */
  /* which lots are to be poured: codes, borrowed; NULL: written by hand on the sheet. One that the signature does not cover is warned of there. */
  const char *wax_lot, *oil_lot, *wick_lot;
  gboolean takes_oil;   /* set by init, for the caller: a recipe without fragrance has no oil_lot, and one that is told is REFUSED */
} WbAppProductionTerms;

/* For twelve vessels, as the newest melt of the decision's scent in its experiment was poured, else as usual. decision: of the data set. */
void              wb_app_production_terms_init  (WbAppProductionTerms *terms, const WbDataset *data, const WbDecision *decision);
/* The same, read from the notebook here and now: for commands. */
gboolean          wb_app_production_terms_read_sync (WbAppNotebook *notebook, gint64 decision, WbAppProductionTerms *terms, GError **error);

/* Off the main thread. terms NULL: the card; else the production sheet. UNKNOWN where no such decision is signed; REFUSED in words. */
void              wb_app_decision_papers_async  (WbAppNotebook *notebook, gint64 decision, const WbAppProductionTerms *terms, int paper,
                                                 GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
/* The caller's, broken into pages, to be used by one thread at a time. */
WbReportDocument *wb_app_decision_papers_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
/* The same here and now: for commands. */
WbReportDocument *wb_app_decision_papers_sync   (WbAppNotebook *notebook, gint64 decision, const WbAppProductionTerms *terms, int paper, GError **error);

/* As a PDF, whole or not at all, over an existing file, never over the notebook. */
gboolean          wb_app_decision_papers_write_sync (WbAppNotebook *notebook, WbReportDocument *document, const char *path, GError **error);

G_END_DECLS
