/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-earlier.h"
#include "wb-craft-growth-private.h"
#include "wb-craft-means-private.h"

G_BEGIN_DECLS

/* Of ln D∞ between samples; factor 0: nothing was learnt. self may be NULL. */
WbCraftSpread    wb_craft_earlier_get_spread (const WbCraftEarlier *self);
/* What a measured figure is fitted with: its own opinions, that on samples as it was learnt. self may be NULL. */
WbCraftMeanPrior wb_craft_earlier_get_prior  (const WbCraftEarlier *self, WbFigure figure);

G_END_DECLS
