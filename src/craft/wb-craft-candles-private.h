/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define WB_CRAFT_N_STRATA 15 /* equal-chance candles of a recipe in every draw */

/*
 * The candles of some of the draws of a score, evenly spaced: what each aim found
 * them worth, so that they can be weighed anew without drawing again. At most 128
 * draws; fewer where cells and aims are many, so that it stays within 16 MB.
 */
typedef struct
{
  guint  n_cells;
  guint  n_aims;
  guint  every;  /* one of so many draws is kept */
  guint  n_kept;
  float *worth;  /* aims × cells × kept × strata: ln of the desirability, -INFINITY where that is 0 */
  float *under;  /* cells × kept × strata: chance that no limit is crossed */
} WbCraftCandles;

WbCraftCandles *wb_craft_candles_new       (guint n_cells, guint n_aims, guint n_draws);
void            wb_craft_candles_free      (WbCraftCandles *self);
/* Where one aim, or the limits, keep the strata of a cell in that draw; NULL: the draw is not kept. self may be NULL. */
float          *wb_craft_candles_get_worth (WbCraftCandles *self, guint aim, guint cell, guint draw);
float          *wb_craft_candles_get_under (WbCraftCandles *self, guint cell, guint draw);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftCandles, wb_craft_candles_free)

G_END_DECLS
