/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-effects.h"
#include "wb-craft-levels-private.h"

G_BEGIN_DECLS

/* The factor whose levels are compared: the wick, else the first that varies; at least one must. */
WbCraftFactor wb_craft_effects_get_compared (const WbCraftLevels *levels);

/*
 * What the terms and comparisons of `self` say, in its figure's unit. `rare`: what
 * was left out of a score, or "". Caller frees.
 */
char         *wb_craft_effects_dup_finding  (const WbCraftEffects *self,
                                             const WbCraftLevels  *levels,
                                             const char           *rare);

/* The slope in a maker's words, NULL where there is none; and how many samples would be needed. Caller frees. */
char         *wb_craft_effects_dup_slope    (const WbCraftEffects *self,
                                             const WbDataset      *data);
char         *wb_craft_effects_dup_needed   (const WbCraftEffects *self);

/* A value of the figure in its unit. Caller frees. */
char         *wb_craft_effects_dup_value    (WbFigure figure,
                                             double   value);

G_END_DECLS
