/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"
#include "wb-app-plan.h"
#include "wb-craft-touched.h"

G_BEGIN_DECLS

/*
 * A decision with what changed behind it. A newer decision for the same vessel, wax and scent takes its place: a list of touched
 * ones has no such, nor one behind which nothing changed.
 */
typedef struct
{
  gatomicrefcount ref_count;
  gint64     decision;
  gint64     experiment;
  char      *experiment_code;
  char      *cell;            /* "Hob, 76.2 mm · B4 · Quimber leaf 8 %" */
  char      *lots;            /* what it rests on: "Dunmarl soft W-107; Brosk B4 K-42"; NULL: no lot is told */
  char      *signed_by;       /* NULL: not told */
  WbInstant  signed_at;
  GPtrArray *changes;         /* WbCraftTouched */
  guint      open;            /* of them, of which nothing came yet */
  WbDecision *record;
  char      *replaced_by;     /* code of the experiment whose newer decision took its place; NULL: none did */
} WbAppTouched;

WbAppTouched *wb_app_touched_ref   (WbAppTouched *self);
/* NULL is let pass. */
void          wb_app_touched_unref (WbAppTouched *self);
/* The newest experiment that is to confirm one of its changes; 0: none. */
gint64        wb_app_touched_get_test (const WbAppTouched *self);

/* Ids (gint64) of the decisions that do not stand as they were signed: reopened, or in test. touched: WbAppTouched. Caller frees. */
GArray       *wb_app_touched_dup_reopened (const GPtrArray *touched);

/* Blocks: WbAppTouched of the whole notebook, or of one experiment's decisions. */
GPtrArray    *wb_app_touched_list_sync (WbAppNotebook *notebook, gint64 experiment /* 0: all */, GError **error);

/*
 * All touched decisions of a notebook: reads them off the main thread, and again when something changed that can touch one.
 * Signal "changed".
 */
#define WB_TYPE_APP_TOUCHED_LIST (wb_app_touched_list_get_type ())
G_DECLARE_FINAL_TYPE (WbAppTouchedList, wb_app_touched_list, WB, APP_TOUCHED_LIST, GObject)

WbAppTouchedList *wb_app_touched_list_new  (WbAppNotebook *notebook);
/* WbAppTouched, borrowed until the next change; empty before they are read. */
const GPtrArray  *wb_app_touched_list_get  (WbAppTouchedList *self);
/* Borrowed; NULL: that decision is not touched. */
WbAppTouched     *wb_app_touched_list_find (WbAppTouchedList *self, gint64 decision);

/*
 * Writes that no test is needed for the changes that are open, and why: one entry. REFUSED without a reason.
 */
void     wb_app_touched_explain_async  (WbAppNotebook *notebook, const WbAppTouched *self, const char *why, GCancellable *cancellable,
                                        GAsyncReadyCallback callback, gpointer user);
gboolean wb_app_touched_explain_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/*
 * Fills a plan that was just made with the confirmation test of the changes that are open: the decision's vessel, wax, dye,
 * scent and protocol; its wick, the one below and the one above in its series by step, as many and as far apart. What the
 * series has not is said in the question. Saving the plan writes the WbConfirmation records in the same entry. data: the
 * decision's experiment.
 */
void     wb_app_touched_fill_plan      (const WbAppTouched *self, const WbDataset *data, WbAppPlan *plan);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppTouched, wb_app_touched_unref)

G_END_DECLS
