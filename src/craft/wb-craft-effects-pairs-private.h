/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-calc-anova.h"
#include "wb-craft-effects-model-private.h"
#include "wb-craft-levels-private.h"

G_BEGIN_DECLS

/*
 * Compares all pairs of `factor`'s levels that share a combination of the others. `model` NULL:
 * by plain means of the samples and the residual of `anova`; a difference below `least` is
 * what adding up leaves.
 */
void wb_craft_effects_compare (WbCraftEffects            *self,
                               const WbCraftLevels       *levels,
                               WbCraftFactor              factor,
                               const WbCalcAnova         *anova,
                               double                     least,
                               const WbCraftEffectsModel *model);
/* Holds the comparisons against self->margin. */
void wb_craft_effects_judge_alike (WbCraftEffects *self);

/* What one step up adds: the least squares line over step through the combinations' values. */
void wb_craft_effects_find_slope (WbCraftEffects            *self,
                                  const WbDataset           *data,
                                  const WbCraftEffectsModel *model);

/* Sample spread, counts and what the aims ask; wb_craft_effects_set_margin does the rest. */
void wb_craft_effects_prepare_needed (WbCraftEffects            *self,
                                      const WbDataset           *data,
                                      const WbCraftLevels       *levels,
                                      const WbCalcAnova         *anova,
                                      const WbCraftEffectsModel *model);

G_END_DECLS
