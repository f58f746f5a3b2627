/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"
#include "wb-craft-highest-private.h"
#include "wb-craft-ratings-private.h"

G_BEGIN_DECLS

/*
 * What the burns that count say of a figure, on its scale: WbCraftMeanValue. room_c
 * stands in where a burn has no room temperature. Of the worst of each burn `highest`
 * tells, if given; NULL: as it was read. Caller unrefs.
 */
GArray *wb_craft_estimates_gather (const WbDataset      *data,
                                   const WbCraftFigures *figures,
                                   WbFigure              figure,
                                   WbStage               stage,
                                   gboolean              worst,
                                   const WbCraftHighest *highest,
                                   double                room_c);

/* Mean room of the burns read, °C: figures that lean on it are told at this. */
double  wb_craft_estimates_find_room (const WbDataset      *data,
                                      const WbCraftFigures *figures);

/* NULL: nobody rated it there. */
const WbCraftRatings *wb_craft_estimates_find_ratings (const WbCraftEstimates *self,
                                                       WbFigure                figure,
                                                       WbStage                 stage);

G_END_DECLS
