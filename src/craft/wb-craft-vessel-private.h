/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-dataset.h"

G_BEGIN_DECLS

#define WB_CRAFT_MM_PER_INCH 25.4

/*
 * Inner diameter, mm, at a stage of the fill: the one at the fill line, in the
 * middle, near the base, as far as the vessel's record has them; of a vessel
 * that is not round the wider axis, which the pool reaches last.
 */
double wb_craft_vessel_inner_mm (const WbVessel *vessel,
                                 WbStage         stage);

/* One hour per inch of inner diameter, in h; common practice, no source. */
double wb_craft_vessel_due_h    (const WbVessel *vessel,
                                 WbStage         stage);

/*
 * Of the fill, the share that stands below a share of its height, and the height, as a share, below which that share of the fill
 * stands; all 0 to 1. The section is that of the diameters at base, middle and fill line, straight between them, and of its upper one
 * where the others are not recorded.
 */
double wb_craft_vessel_volume_below (const WbVessel *vessel,
                                     double          share);
double wb_craft_vessel_height_of    (const WbVessel *vessel,
                                     double          volume);

/* Mean section over the height of the fill, mm2. */
double wb_craft_vessel_section_mm2  (const WbVessel *vessel);
/* Height of so many grams in it, mm; NAN where that cannot be told. */
double wb_craft_vessel_height_mm    (const WbVessel *vessel,
                                     double          density,
                                     double          fill_g);

G_END_DECLS
