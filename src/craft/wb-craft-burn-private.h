/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-burn.h"

G_BEGIN_DECLS

/* Is this a standard burn of a sample that was not set aside? */
gboolean wb_craft_burn_counts (const WbDataset   *data,
                               const WbCraftBurn *burn);

/* May this burn speak of the figure? Only like kinds are compared, at the end of the protocol's burn; throw has burns of its own. */
gboolean wb_craft_burn_speaks (const WbDataset   *data,
                               const WbCraftBurn *burn,
                               WbFigure           figure);

G_END_DECLS
