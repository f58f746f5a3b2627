/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-cell-grid.h"

G_BEGIN_DECLS

/*
 * How a person gives the vessels, wicks and scents of a grid another order: a name is dragged onto another of its kind, or, with the
 * focus on it or on one of its cells, Alt and an arrow key moves it. The grid tells it by its signal "moved".
 */

/* That widget names, or is, what `cell` (the first of it) belongs to; a name can be dragged and dropped on. */
void     wb_cell_order_add         (GtkWidget *widget, WbCellGridPart part, guint cell);
/* Once a grid. */
void     wb_cell_order_follow_keys (WbCellGrid *grid);
/* Whether two cells (of WbCellGridItem) differ in that part, and are of a grid whose order a person gives: one of ticks. */
gboolean wb_cell_order_can_move    (const GArray *items, WbCellGridPart part, guint cell, guint other);

G_END_DECLS
