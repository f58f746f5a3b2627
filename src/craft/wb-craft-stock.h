/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-blend.h"
#include "wb-sample.h"

G_BEGIN_DECLS

/*
 * What is left of the materials and what they cost, for makers who keep stock (WbNotebook.keeps_stock). It only tells:
 * nothing asks it for leave. Amounts are g, of vessels and wicks pieces; money is in the notebook's currency. What is
 * not known is NAN. Plain arithmetic, no source.
 */
typedef struct _WbCraftStock WbCraftStock;

/* All of the notebook, each a GPtrArray of records that the call only reads. */
typedef struct
{
  GPtrArray *lots, *batches, *samples, *cells, *experiments;
  GPtrArray *parts; /* WbFragrancePart, as they are now */
  const WbCraftBlends *blends; /* what was poured of a blend took off its parts by what it was then; NULL: as it is now */
} WbCraftStockInput;

WbCraftStock *wb_craft_stock_new  (const WbCraftStockInput *input);
void          wb_craft_stock_free (WbCraftStock *self);

/*
 * The amounts of its lots that are not used up, less what poured melts and samples took that name those lots, and less what
 * was poured without naming one as far as it does not fit into lots that are used up; never below 0, nor is a lot. Of a blend without lots of its own: as much as its parts make up.
 * NAN: no lot tells an amount.
 */
double        wb_craft_stock_get_left     (const WbCraftStock *self, gint64 material);
/* The same of one lot; NAN where its amount is not known. A lot that is used up has 0 left. */
double        wb_craft_stock_get_lot_left (const WbCraftStock *self, gint64 lot);
/*
 * Poured of a material that has lots, without naming one of them: it is in what is left of the material, and in that of no
 * lot. 0: nothing.
 */
double        wb_craft_stock_get_unnamed  (const WbCraftStock *self, gint64 material);
/*
 * Of a g or a piece, from the lot that came in last of those that tell price and amount, used up or not; of a blend
 * without such lots its parts' by their shares.
 */
double        wb_craft_stock_get_price    (const WbCraftStock *self, gint64 material);
/* How much is lacking where `needed` is wanted; 0: enough; NAN: not known what is left. */
double        wb_craft_stock_get_short    (const WbCraftStock *self, gint64 material, double needed);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftStock, wb_craft_stock_free)

G_END_DECLS
