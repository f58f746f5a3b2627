/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ladder.h"

G_BEGIN_DECLS

/* What a ladder says beside its answer, in a maker's words, once for the window and the command line. Every text belongs to the caller. */

/* Translated: "Larch L-3"; never without its series. */
char *wb_craft_ladder_step_dup_name    (const WbCraftLadderStep *step);
/* Translated: "recipe best of all: 42 in 100 · next candle right: 80 in 100 · over a limit of heat: 3 in 100"; NULL: no chance is known. */
char *wb_craft_ladder_step_dup_chances (const WbCraftLadderStep *step);
/*
 * How sure the ladder is, in sentences that follow its answer, which tells its chance of holding the best: what one size more would
 * add, the best run of neighbours beside it, that none is right. NULL: no chance is known.
 */
char *wb_craft_ladder_dup_sureness     (const WbCraftLadder *self);
/* What would give it a basis, or a better one, in sentences; NULL: it rests on earlier burns. */
char *wb_craft_ladder_dup_advice       (const WbCraftLadder *self);
/* What it does not say, in sentences: foretold, not tested. */
char *wb_craft_ladder_dup_caution      (const WbCraftLadder *self);

G_END_DECLS
