/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-highest-private.h"

G_BEGIN_DECLS

/*
 * The worst of all burns of a candle at a stage, one value a sample, on the figure's scale: WbCraftMeanValue, whose number is how many
 * burns they were. A burn that crossed a limit and speaks of no figure stands in with what was read. Caller unrefs.
 */
GArray *wb_craft_peaks_gather (const WbDataset      *data,
                               const WbCraftFigures *figures,
                               WbFigure              figure,
                               WbStage               stage,
                               const WbCraftHighest *highest,
                               double                room_c);

G_END_DECLS
