/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The combinations of an experiment as a table: a line a wick under its
 * vessel, a column a scent. Each can be switched on and off, as can a line, a
 * column or a vessel at once by its heading, or shows its samples' codes. Signal "toggled" (GArray of guint cells, gboolean on):
 * the person did it, all of them in one step. Signal "moved" (WbCellGridPart as int, guint cell, guint other): the person gave the
 * vessel, wick or scent of a cell the place of the other cell's, by dragging its name or with Alt and an arrow key (wb-cell-order.h).
 */
#define WB_TYPE_CELL_GRID (wb_cell_grid_get_type ())
G_DECLARE_FINAL_TYPE (WbCellGrid, wb_cell_grid, WB, CELL_GRID, GtkWidget)

typedef struct
{
  gint64    vessel_id; /* two vessels may be called the same, rounded */
  char     *vessel, *wick, *scent;
  char     *name;   /* all three, for who does not see the table */
  char     *text;   /* what stands in the field; NULL: a tick */
  gboolean  on;
} WbCellGridItem;

typedef enum { WB_CELL_GRID_VESSEL, WB_CELL_GRID_WICK, WB_CELL_GRID_SCENT, WB_CELL_GRID_CELL } WbCellGridPart;

/* WbCellGridItem with a function that clears it: what to fill the grid with. Caller unrefs. */
GArray         *wb_cell_grid_items_new (void);
/* Keeps a reference: they are not changed any more. Where only the ticks differ from before they alone change. */
void            wb_cell_grid_fill      (WbCellGrid *self, const GArray *items);
/* WbCellGridItem that it is filled with, borrowed; NULL: it was never filled. */
const GArray   *wb_cell_grid_get_items (WbCellGrid *self);
/* As the person does it; emits "moved" where they differ in that part and can be moved. */
void            wb_cell_grid_move      (WbCellGrid *self, WbCellGridPart part, guint cell, guint other);
/* The tick of a cell, for tests and focus; NULL: none. */
GtkCheckButton *wb_cell_grid_get_tick  (WbCellGrid *self, guint cell);
/* The tick of the first heading of those words, for tests; NULL: none. */
GtkCheckButton *wb_cell_grid_find_heading (WbCellGrid *self, const char *name);

G_END_DECLS
