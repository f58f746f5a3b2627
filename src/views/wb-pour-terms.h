/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-pour-draft.h"
#include "wb-quantity-entry.h"

G_BEGIN_DECLS

/* What is the same for all batches that are not poured, as fields: overage, hold-back, steps of the balance, in this order. */

void     wb_pour_terms_set_up (WbQuantityEntry *const terms[WB_POUR_N_TERMS]);
/* Gives the pour what was typed. FALSE: nothing was, or a field cannot be read yet, and the sheets stay as they were. */
gboolean wb_pour_terms_take   (WbQuantityEntry *const terms[WB_POUR_N_TERMS], WbAppPour *pour);
/* Those of the first batch that is not poured, where nobody has typed. batches: WbAppPourBatch. */
void     wb_pour_terms_fill   (WbQuantityEntry *const terms[WB_POUR_N_TERMS], const GPtrArray *batches);
/* Shows what is wrong; TRUE: nothing is. */
gboolean wb_pour_terms_check  (WbQuantityEntry *const terms[WB_POUR_N_TERMS]);

G_END_DECLS
