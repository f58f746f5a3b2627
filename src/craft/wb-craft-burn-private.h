/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-burn.h"

G_BEGIN_DECLS

/* Is this a standard burn of a sample that was not set aside? */
gboolean wb_craft_burn_counts (const WbDataset   *data,
                               const WbCraftBurn *burn);

/* Does it count, and is it over? One that is alight has no end yet: it counts for limits and for the pool's growth only. */
gboolean wb_craft_burn_is_done (const WbDataset   *data,
                                const WbCraftBurn *burn);

/* May this burn speak of the figure? Only like kinds are compared, at the end of the protocol's burn; throw has burns of its own. */
gboolean wb_craft_burn_speaks (const WbDataset   *data,
                               const WbCraftBurn *burn,
                               WbFigure           figure);

/* Minutes that the protocol lets a burn last; the house's where it states none. */
double   wb_craft_burn_get_length_min (const WbDataset *data);
/* Whether so many minutes with a flame end well before the burns of that protocol do. FALSE where they are not known (NAN). */
gboolean wb_craft_burn_is_cut_short   (const WbDataset *data, double alight_min);

G_END_DECLS
