/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-draft.h"
#include "wb-app-today.h"

G_BEGIN_DECLS

/* Takes the texts. */
WbAppDue *wb_app_due_new   (WbAppDueKind kind, char *title, char *detail, gint64 experiment, gint64 sample, WbInstant at, gboolean overdue);
/* Before it is shown: the decision that it speaks of. */
void      wb_app_due_set_decision (WbAppDue *self, gint64 decision);
/* The same: the combination. */
void      wb_app_due_set_cell (WbAppDue *self, gint64 cell);
/* The same: the code of a batch, copied. */
void      wb_app_due_set_batch (WbAppDue *self, const char *code);
gboolean  wb_app_due_equal (WbAppDue *a, WbAppDue *b);
/* By kind, then moment, then title. A GCompareFunc on pointers to WbAppDue *. */
int       wb_app_due_order (gconstpointer a, gconstpointer b);

/* Steps of batches (WbAppOpenPour) that wait and are near today. */
void      wb_app_due_add_steps  (GPtrArray *due, const GPtrArray *pours, GListModel *experiments);
/* What waits half typed beside the notebook, a line each. materials, pour, decision: its drafts of these kinds; experiments: WbAppExperiment. */
void      wb_app_due_add_drafts (GPtrArray *due, WbAppDraft *materials, WbAppDraft *pour, WbAppDraft *decision, GListModel *experiments);

G_END_DECLS
