/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"

G_BEGIN_DECLS

/*
 * What the burns that count say of a figure, on its scale: WbCraftMeanValue. room_c
 * stands in where a burn has no room temperature. Caller unrefs.
 */
GArray *wb_craft_estimates_gather (const WbDataset      *data,
                                   const WbCraftFigures *figures,
                                   WbFigure              figure,
                                   WbStage               stage,
                                   gboolean              worst,
                                   double                room_c);

G_END_DECLS
