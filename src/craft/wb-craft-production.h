/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-batch.h"

G_BEGIN_DECLS

/*
 * A number of candles of one recipe, shared out over melts that the pot holds. Each melt is a sheet of its own (wb-craft-batch.h),
 * overage included, for each pot keeps some. Masses in g.
 */

/* More than these is a slip of the pen. */
#define WB_CRAFT_PRODUCTION_MOST_VESSELS 2000
#define WB_CRAFT_PRODUCTION_MOST_MELTS 60
/* One melt above this asks what the pot holds, g: the program's own bound, no source. */
#define WB_CRAFT_PRODUCTION_POT_G 3000.0

typedef struct
{
  guint              candles;
  WbCraftBatchSheet *sheet;
} WbCraftMelt;

typedef struct
{
  guint      vessels;
  double     pot_g;      /* no melt is heavier, overage included; NAN: one pot holds all */
  guint      small_melts; /* how many they would be in pots of WB_CRAFT_PRODUCTION_POT_G, where pot_g is NAN; 0: a candle is heavier */
  GArray    *melts;      /* WbCraftMelt: the larger ones first, by at most one candle */
  /* of all melts, as weighed out */
  double     total_g, wax_g, oil_g;
  double     dye_g;      /* NAN: none, or not known */
  double     dye_drops;  /* NAN: not counted */
  double     additive_g; /* NAN: none */
} WbCraftProduction;

/*
 * one: the input of a single candle; its number of candles is not looked at. NULL and WB_RECORD_ERROR_RANGE in words where the numbers
 * are impossible, a candle does not fit into the pot, or there are too many melts; or as wb_craft_batch_sheet_new says.
 */
WbCraftProduction *wb_craft_production_new  (const WbCraftBatchInput *one, guint vessels, double pot_g, GError **error);
void               wb_craft_production_free (WbCraftProduction *self);
/* Melts of as many candles, which are weighed alike, from `first` on: how many; 0: none are left. */
guint              wb_craft_production_count_alike (const WbCraftProduction *self, guint first);
/*
 * Where nobody told what the pot holds and all in one is heavier than WB_CRAFT_PRODUCTION_POT_G: that, what it would be in pots of
 * that mass, and what to tell. A sentence or several. NULL: nothing to ask. Translated; caller frees.
 */
char              *wb_craft_production_dup_pot_doubt (const WbCraftProduction *self, gboolean us_units);
/* "3 melts: 2 of 17 candles, 1 of 16"; "one melt of 12 candles". Translated; caller frees. */
char              *wb_craft_production_dup_melts (const WbCraftProduction *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbCraftProduction, wb_craft_production_free)

G_END_DECLS
