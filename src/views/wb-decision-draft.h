/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-draft.h"
#include "wb-experiment.h"
#include "wb-record-form.h"

G_BEGIN_DECLS

/*
 * What is half typed into the decisions of one experiment: a group a recipe, by the experiment's UUID and the combination's id, and
 * one for who signs, which is the same of all. It stands in the notebook's draft until it is signed or forgotten. Main thread.
 */
typedef struct _WbDecisionDraft WbDecisionDraft;

/* draft NULL: kept as long as this lives, for a notebook that can be read only. experiment is copied from. */
WbDecisionDraft *wb_decision_draft_new  (WbAppDraft *draft, const WbExperiment *experiment);
/* NULL is let pass. */
void             wb_decision_draft_free (WbDecisionDraft *self);

/* Keeps what the person typed into the form; nothing where nobody did. recipe: the words of that combination. */
void     wb_decision_draft_keep       (WbDecisionDraft *self, gint64 cell, const char *recipe, WbRecordForm *form);
/*
 * Types it into the form, which shows a proposal for that combination. A notebook that was put back to an earlier state may have given
 * the number to another: under other words another text is kept. TRUE: an earlier dialog left some of it.
 */
gboolean wb_decision_draft_put_back   (WbDecisionDraft *self, gint64 cell, const char *recipe, WbRecordForm *form);
/* Of one cell, whichever recipe it was, but for who signs. */
void     wb_decision_draft_forget     (WbDecisionDraft *self, gint64 cell);
/* Who signs. */
void     wb_decision_draft_forget_signer (WbDecisionDraft *self);
gboolean wb_decision_draft_is_empty   (WbDecisionDraft *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbDecisionDraft, wb_decision_draft_free)

G_END_DECLS
