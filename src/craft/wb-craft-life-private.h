/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-burn.h"

G_BEGIN_DECLS

/*
 * A sample's life: minutes alight, masses, consumption, stage of each of its
 * burns. Fills these in `burns`, the sample's own in order; `least_left` gets the
 * least share of the fill that was left, for OF_LIFE of what it burnt until its end
 * (0 there, however much wax stays in the vessel), NAN where neither is known. Gives
 * what the stages rest on; for NO_FILL and NO_MASS every burn stays in the upper.
 */
WbCraftThirds wb_craft_life_weigh (const WbDataset *data,
                                   guint            sample,
                                   WbCraftBurn     *burns,
                                   guint            n,
                                   double          *least_left);

/* TRUE when the sample was burnt to the end that its protocol states. */
gboolean wb_craft_life_ended (const WbDataset   *data,
                              guint              sample,
                              const WbCraftBurn *burns,
                              guint              n,
                              double             least_left);

/* The fill of a sample, g: as recorded, else from its first mass and tare, else from its height; NAN where none is known. */
double   wb_craft_life_fill_g (const WbDataset   *data,
                               guint              sample,
                               const WbCraftBurn *burns,
                               guint              n);

/* Height of the fill, mm: as recorded, else from its mass and the vessel's section. */
double   wb_craft_life_height_mm (const WbDataset   *data,
                                  guint              sample,
                                  const WbCraftBurn *burns,
                                  guint              n);

G_END_DECLS
