/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-plan.h"
#include "wb-cell-grid.h"

G_BEGIN_DECLS

/* The grid of an experiment, while it is planned and once it is stored; both stand in the order that its maker gave them. */

/* Ticks. unit: of the distance between several wicks. */
void wb_plan_cells_fill            (WbCellGrid *grid, WbAppPlan *plan, WbUnit unit);
/* The samples' codes. */
void wb_plan_cells_fill_with_codes (WbCellGrid *grid, const WbDataset *data);

G_END_DECLS
