/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-estimates.h"

G_BEGIN_DECLS

/*
 * What one sample says of a figure, in its stored unit: the mean over its burns
 * that count, for growth its own curve, for the score the desirability of its own
 * figures under the aims that its experiment can judge. One value a sample of the
 * data set, NAN where it says nothing, INFINITY for a full melt pool that never
 * comes. Caller frees. To `rare` go the names of aims that are left out of every
 * score because fewer than half of the samples have a value for them.
 */
double *wb_craft_sample_values (const WbDataset        *data,
                                const WbCraftFigures   *figures,
                                const WbCraftEstimates *estimates,
                                WbFigure                figure,
                                GString                *rare);

G_END_DECLS
