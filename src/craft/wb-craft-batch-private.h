/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-batch.h"

G_BEGIN_DECLS

/* Of every share that is printed and reckoned with. */
#define WB_CRAFT_BATCH_PCT_PLACES 4

/* The part of a blend that is what the others leave. */
guint wb_craft_batch_find_largest (const GArray *parts);

/* Adds every step of the sheet's arithmetic as a line that a pocket calculator can follow. */
void  wb_craft_batch_tell (WbCraftBatchSheet       *sheet,
                           const WbCraftBatchInput *input);

/* Adds what the maker should think about before the pot is warm. */
void  wb_craft_batch_warn (WbCraftBatchSheet       *sheet,
                           const WbCraftBatchInput *input);

G_END_DECLS
