/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-touched.h"
#include "wb-craft-decision.h"

G_BEGIN_DECLS

/*
 * The maker's decisions: how each stands, what a new one would say, signing and withdrawing. A decision is for one vessel, wax and
 * scent; signed anew it takes the place of the one before in its own record, so that the history keeps both.
 */

/* A decision that was taken back by its maker. */
typedef struct
{
  gint64    cell;
  gint64    entry;     /* in which it was */
  char     *who;       /* NULL: not known */
  WbInstant at;
  char     *why;       /* the entry's words */
} WbAppWithdrawn;

/* Those of one experiment. */
typedef struct
{
  GPtrArray *decisions; /* WbAppTouched */
  GPtrArray *withdrawn; /* WbAppWithdrawn, oldest first; those that undo brought back are none */
} WbAppDecisions;

/* NULL is let pass. */
void                wb_app_decisions_free   (WbAppDecisions *self);
/* Of the group's vessel, wax and scent; NULL: none. Borrowed. data: the experiment's. */
const WbAppTouched *wb_app_decisions_find   (const WbAppDecisions *self, const WbDataset *data, const WbCraftGroup *group);
/* The last one that was withdrawn for it, where none is signed; NULL. */
const WbAppWithdrawn *wb_app_decisions_find_withdrawn (const WbAppDecisions *self, const WbDataset *data, const WbCraftGroup *group);
void                wb_app_decisions_async  (WbAppNotebook *notebook, gint64 experiment, GCancellable *cancellable,
                                             GAsyncReadyCallback callback, gpointer user);
WbAppDecisions     *wb_app_decisions_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
WbAppDecisions     *wb_app_decisions_sync   (WbAppNotebook *notebook, gint64 experiment, GError **error);

/* What may be signed for one group of an answer. */
typedef struct
{
  WbCraftAnswer *answer;    /* held */
  guint          group;
  GPtrArray     *proposals; /* WbCraftDecision, a combination each, in the order of the ranking */
  GPtrArray     *earlier;   /* WbDecision of the same vessel, wax and scent in the experiment: the first is signed anew, others go */
  guint          undecided; /* other groups of the answer without a decision */
  gint64         entry;     /* the newest of the notebook: what is recorded behind it reopens what is signed */
  gboolean       stale;     /* the experiment's record is another than the answer rests on: cannot be signed */
} WbAppDecisionDraft;

/* NULL is let pass. */
void                wb_app_decision_draft_free (WbAppDecisionDraft *self);
/* Reads what the answer does not know: crossings of the same recipes in other experiments. */
void                wb_app_decision_draft_async  (WbAppNotebook *notebook, WbCraftAnswer *answer, guint group, GCancellable *cancellable,
                                                  GAsyncReadyCallback callback, gpointer user);
WbAppDecisionDraft *wb_app_decision_draft_finish (WbAppNotebook *notebook, GAsyncResult *result, GError **error);
WbAppDecisionDraft *wb_app_decision_draft_sync   (WbAppNotebook *notebook, WbCraftAnswer *answer, guint group, GError **error);

/* A record of the proposal as it may be edited: signed by nobody yet, in the place of the earlier one. Caller frees. */
WbDecision         *wb_app_decision_draft_dup_record (const WbAppDecisionDraft *self, guint index);

/*
 * Signs: the record of the draft's combination with the texts and the name as they are now, its crossings as the draft tells them
 * whatever the record says; its moment is that of the clock. finish:
 * the experiment is finished with it. One entry. REFUSED without a name, without a reason where the proposal needs one, and where
 * the draft is stale: what would be kept of verdict and chances is not what its entry says.
 */
void     wb_app_decision_sign_async      (WbAppNotebook *notebook, const WbAppDecisionDraft *draft, guint index, const WbDecision *record,
                                          gboolean finish, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer user);
gboolean wb_app_decision_sign_finish     (WbAppNotebook *notebook, GAsyncResult *result, GError **error);

/* Takes a decision back: one entry, which says why. REFUSED without a reason. End with wb_app_decision_sign_finish. */
void     wb_app_decision_withdraw_async  (WbAppNotebook *notebook, const WbAppTouched *decision, const char *why, GCancellable *cancellable,
                                          GAsyncReadyCallback callback, gpointer user);

/*
 * Finishes an experiment of which nothing is chosen: one entry, which says why. REFUSED without a reason. End with
 * wb_app_decision_sign_finish.
 */
void     wb_app_decision_none_async      (WbAppNotebook *notebook, const WbExperiment *experiment, const char *why, GCancellable *cancellable,
                                          GAsyncReadyCallback callback, gpointer user);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppDecisions, wb_app_decisions_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbAppDecisionDraft, wb_app_decision_draft_free)

G_END_DECLS
