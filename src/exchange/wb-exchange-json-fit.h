/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-effects.h"
#include "wb-craft-ladder.h"

G_BEGIN_DECLS

/* The JSON of `fit`; `stage` is the one that the estimates are of. Caller frees. */
char *wb_exchange_json_fit     (const WbDataset *data, const WbCraftEstimates *estimates, WbStage stage);
/* The JSON of `effects`. Caller frees. */
char *wb_exchange_json_effects (const WbDataset *data, const WbCraftEffects *effects);
/* The JSON of `ladder`. `notebook` may be NULL. Caller frees. */
char *wb_exchange_json_ladder  (const WbNotebook *notebook, const WbCraftLadder *ladder);

G_END_DECLS
