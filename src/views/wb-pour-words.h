/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-cure.h"

G_BEGIN_DECLS

/* The sentences of a pour: what to do at each step, what it can do to hands, and when the candles are fit. */

typedef enum
{
  WB_POUR_STEP_WEIGH,
  WB_POUR_STEP_HEAT,
  WB_POUR_STEP_SCENT,   /* fragrance into the melt */
  WB_POUR_STEP_POUR,
  WB_POUR_STEP_SECOND,  /* second pour */
  WB_POUR_STEP_CURE,
  WB_POUR_N_STEPS
} WbPourStep;

/* Translated, static; NULL: none at this step. */
const char *wb_pour_words_get_caution (WbPourStep step);
/* What to do; NULL: nothing at this step of this batch. Caller frees. */
char       *wb_pour_words_dup_step    (WbPourStep step, const WbAppPourBatch *batch, const WbWax *wax, gboolean us_units);
/* Warnings of the sheet that belong to this step, a line each; NULL: none. Caller frees. */
char       *wb_pour_words_dup_warning (WbPourStep step, const WbCraftBatchSheet *sheet);
/* A mass as a balance shows it, in grams, and in ounces beside them where those are read. Caller frees. */
char       *wb_pour_words_dup_mass    (double g, gboolean us_units);
/* The two dates of candles poured on that day, a sentence each; where no cure is stated it says so. Caller frees. */
char       *wb_pour_words_dup_cure    (const WbCure *cure, WbDay poured_on);

G_END_DECLS
