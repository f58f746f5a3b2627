/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-draft.h"
#include "wb-dataset.h"
#include "wb-quantity-entry.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * What is half typed in the sheets of an experiment's pour, into the notebook's draft and back: a group a batch, by the experiment's
 * UUID and the name that its sheet has in the stack. Nothing is a record before it is marked; marked, it is forgotten.
 */

/* It stands in the sheet as an earlier program left it. */
gboolean wb_pour_draft_is_of_before   (GtkWidget *sheet);
/* A WbPourSheet or a WbPouredSheet in which something stands that was typed. */
gboolean wb_pour_draft_is_touched     (GtkWidget *sheet);
/* All sheets as they stand. */
void     wb_pour_draft_keep           (WbAppDraft *draft, const WbDataset *data, GtkStack *sheets);
/* Into a sheet in which nobody has typed; nothing where nothing was kept, or it is not read yet. */
void     wb_pour_draft_put_back       (WbAppDraft *draft, const WbDataset *data, GtkWidget *sheet, const char *name);
void     wb_pour_draft_put_all_back   (WbAppDraft *draft, const WbDataset *data, GtkStack *sheets);
/* Of batches that are no more as they were typed into: poured, or planned otherwise. */
void     wb_pour_draft_forget_gone    (WbAppDraft *draft, const WbDataset *data, GtkStack *sheets);

/* What is the same for all batches: overage, hold-back, steps of the balance. */
#define WB_POUR_N_TERMS 3
void     wb_pour_draft_keep_terms     (WbAppDraft *draft, const WbDataset *data, WbQuantityEntry *const terms[WB_POUR_N_TERMS]);
void     wb_pour_draft_put_terms_back (WbAppDraft *draft, const WbDataset *data, WbQuantityEntry *const terms[WB_POUR_N_TERMS]);

G_END_DECLS
