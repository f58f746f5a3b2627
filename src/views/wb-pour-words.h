/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-cure.h"

G_BEGIN_DECLS

/* The sentences of a pour that are of this batch: masses, warnings, and when the candles are fit. Those of its steps: wb-craft-method.h. */

/* "9 × Tern, 80 mm: 284.0 g each", a line a vessel, at the first pour; NULL: not known. Caller frees. */
char       *wb_pour_words_dup_fills   (const WbAppPourBatch *batch, gboolean us_units);
/* Warnings of the sheet, a line each; NULL: none. Caller frees. */
char       *wb_pour_words_dup_warnings (const WbCraftBatchSheet *sheet);
/* The dates of candles poured then, a sentence each; where no cure is stated it says so. NULL: the pour is not known. Caller frees. */
char       *wb_pour_words_dup_cure    (const WbCure *cure, WbDay poured_on, WbInstant poured_at);

G_END_DECLS
