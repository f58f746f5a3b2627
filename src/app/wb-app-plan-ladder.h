/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-plan.h"
#include "wb-craft-ladder.h"

G_BEGIN_DECLS

/*
 * A wick ladder on its way into the plan of an experiment: as a value that an action takes, so that the place that asks for a ladder and
 * the one that plans need not know each other.
 */
#define WB_APP_PLAN_LADDER_FORMAT "(xxxaxuddisss)"

/*
 * vessel, fragrance: ids, 0 where none was chosen. What is planned are the ladder's wicks, in the question's number and wax, several as far apart as
 * wb_craft_ladder_spacing_mm says, to the mm. Floating.
 */
GVariant *wb_app_plan_ladder_pack (const WbCraftLadder *ladder, gint64 vessel, gint64 wax, gint64 fragrance);
/*
 * Into a plan that holds nothing yet: vessel, wax, wicks, scent, and, in the note, what the choice rests on. Without a fragrance a load
 * above 0 leaves the scent open, and without a vessel of the materials the vessel is open: the plan says that they are missing.
 */
void      wb_app_plan_ladder_fill (WbAppPlan *plan, GVariant *packed);

/*
 * The load that a ladder begins with, % of its basis: the highest of the newest experiment, since a wick has the most fragrance to burn.
 * cells: WbCell of every experiment; those that are left out do not count. FALSE: there is none.
 */
gboolean  wb_app_plan_ladder_find_load (const GPtrArray *cells, double *load_pct, WbBasis *basis);

G_END_DECLS
