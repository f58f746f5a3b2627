/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-draws-private.h"

G_BEGIN_DECLS

/*
 * A cell whose burns have not come to a third yet: what it would show there is drawn
 * from its own nearest third that was read, shifted as far as the cells that have both
 * thirds were seen to shift, with a spread for what it may do otherwise. The other
 * cells' line over the steps alone, as the fit of one third has it, would know nothing
 * of the cell's own burns. Cells that were read nowhere stay as their fit drew them.
 */
void wb_craft_lend_stages (WbCraftDraws *draws,
                           guint64       seed);

G_END_DECLS
