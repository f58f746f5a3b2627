/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-effects.h"

G_BEGIN_DECLS

/* Of all that was read; caller frees. */
WbCraftEffects    *test_craft_effects   (const WbDataset *data, WbFigure figure);
/* NULL: the grid does not carry it. */
const WbCraftTerm *test_craft_find_term (const WbCraftEffects *self, const char *key);
/* A sample of one burn with that value at its end. */
void               test_craft_add_value (WbDataset *data, guint cell, const char *code, WbColumn column, double value);

G_END_DECLS
