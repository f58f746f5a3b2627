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

G_END_DECLS
