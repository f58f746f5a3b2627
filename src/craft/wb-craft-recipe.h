/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

/*
 * Whether two combinations, each of its data set of one notebook, are one recipe: what a decision was signed for, and what a later
 * burn may be held against. Every material counts with its share; shares that neither tells are alike.
 */

/* Vessel, wax, scent, dye, additive, each with how much of it. */
gboolean wb_craft_recipe_is_same_candle (const WbDataset *a, guint cell_a, const WbDataset *b, guint cell_b);
/* The same with the wick, how many and how far apart: all of it. */
gboolean wb_craft_recipe_is_same        (const WbDataset *a, guint cell_a, const WbDataset *b, guint cell_b);

G_END_DECLS
