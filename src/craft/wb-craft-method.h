/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-batch.h"
#include "wb-cure.h"

G_BEGIN_DECLS

/* The steps of a pour: a wax's own method or the usual one, what of it a batch has, and the words and cautions of each. */

/* What a batch has to do with its melt. */
typedef struct { gboolean scented, coloured, held_back; } WbCraftMethodOf;

/*
 * The usual method of a wax that has none of its own, WbMethodStep in order, from its temperatures, whether it crystallises and what
 * is held back of it; common practice, no source. Turning over is never in it.
 */
GPtrArray *wb_craft_method_usual    (const WbWax *wax);
/* The wax's own steps (WbMethodStep, of any waxes, in any order; may be NULL) copied in order; where it has none, the usual ones. */
GPtrArray *wb_craft_method_of       (const WbWax *wax, const GPtrArray *steps);
/* Of these the ones that the batch needs, as WbBatchStep without a batch, numbered from 1. */
GPtrArray *wb_craft_method_plan     (const GPtrArray *method, WbCraftMethodOf of);

/*
 * The first step after the pour that is not done (WbBatchStep in order); a cure is no moment of the pour. G_MAXUINT: none.
 */
guint       wb_craft_method_find_waiting (const GPtrArray *steps);
/* Whether its later steps are still asked for: from the pour to the day after. Who does not write them down is not asked for days. */
gboolean    wb_craft_method_is_near      (const WbBatch *batch, WbDay today);

/* "heat the wax" with a capital: a heading. Translated; caller frees. */
char       *wb_craft_method_dup_title   (int kind);
/*
 * What to do at a step, lines. sheet, cure: NULL where not known, then no masses and no days are told. Translated; caller frees.
 */
char       *wb_craft_method_dup_words   (const WbBatchStep *step, const WbCraftBatchSheet *sheet, const WbCure *cure, gboolean us_units);
/* What can hurt at a step (WbStepKind), in the order in which hands would need it; NULL: nothing of its own. Translated, static. */
const char *wb_craft_method_get_caution (int kind);
/*
 * Cautions of heating, fragrance (where there is any) and pouring whose step a maker's own method does not have: they are told before
 * all steps. steps: WbBatchStep. Translated, static; caller frees the array.
 */
GPtrArray  *wb_craft_method_find_cautions_left (const GPtrArray *steps, gboolean scented);
/* "Flash point of the oil: 82 °C.", or that it is not on record. Translated; caller frees; NULL: there is no oil. */
char       *wb_craft_method_dup_flash   (const WbFragrance *fragrance, gboolean us_units);
/*
 * What is wrong with the temperature measured at a step, and what to do: the oil's flash point is reached while it is in the pot (from
 * the fragrance on; in any step of a method that has none), or it is hotter by more than WB_CRAFT_METHOD_BAND_K than the step asks for,
 * where that asks for nothing than the wax is heated to. steps: WbBatchStep in order, as measured; at: which. wax, fragrance: may be
 * NULL. Translated; caller frees; NULL: nothing.
 */
char       *wb_craft_method_dup_too_hot (const GPtrArray *steps, guint at, const WbWax *wax, const WbFragrance *fragrance, gboolean us_units);
/* The same of weighing out undiluted oil. */
const char *wb_craft_method_get_caution_of_oil (void);

/* A measured temperature is off its plan when it differs by more than this, K; common practice, no source. */
#define WB_CRAFT_METHOD_BAND_K 3.0
/* A step is late when it was done later than its minutes after the one before by more than this share of them, and five minutes. */
#define WB_CRAFT_METHOD_LATE_SHARE 0.25
/*
 * Where the steps that were done left the plan, a line each: "pour: 58 °C, planned 62 °C", and where the melt reached the flash point of
 * its oil (NULL: none). steps: WbBatchStep in order. Empty: nowhere. Translated; caller frees the array (char *).
 */
GPtrArray  *wb_craft_method_deviations  (const GPtrArray *steps, const WbFragrance *fragrance, gboolean us_units);
/*
 * Steps that were done a minute or more before one that comes before them: a slip of the pen, or another order. A line each: "Heat the wax:
 * done 30 Nov, 16:02, before Warm the vessels, done 30 Nov, 16:48". steps: WbBatchStep in order. Translated; caller frees the array (char *).
 */
GPtrArray  *wb_craft_method_find_disorder (const GPtrArray *steps);

G_END_DECLS
