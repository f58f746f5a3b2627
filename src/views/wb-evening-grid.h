/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-evening.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The cells of a paper sheet: samples down, moments and their fields across, a time for all in the head of each moment.
 * Sample codes and heads stay in sight while the rest is scrolled. By keyboard as a table: arrows, Tab; Enter goes as one
 * reads the paper, along a moment's fields, then to the next sample, then to the next moment. It passes over the time of a sample
 * where the head gives one for all, and over the kind of its burn.
 *
 * Signals: "cell" (uint row, uint column), where the keyboard has come to; "done", on Enter in the last cell; "locked" (uint row,
 * uint column), when a key did nothing in a cell because the record has it.
 */
#define WB_TYPE_EVENING_GRID (wb_evening_grid_get_type ())
G_DECLARE_FINAL_TYPE (WbEveningGrid, wb_evening_grid, WB, EVENING_GRID, GtkWidget)

/* NULL: none; lays all out. */
void       wb_evening_grid_set_evening (WbEveningGrid *self, WbAppEvening *evening);
/* What the sheet says of its cells. */
void       wb_evening_grid_update      (WbEveningGrid *self);
void       wb_evening_grid_focus       (WbEveningGrid *self, guint row, guint column);
/* TRUE: Enter passes over no cell. */
void       wb_evening_grid_set_every   (WbEveningGrid *self, gboolean every);
/* The entry of a cell, row WB_APP_EVENING_ALL in the head; NULL: there is none. Borrowed. */
GtkWidget *wb_evening_grid_get_entry   (WbEveningGrid *self, guint row, guint column);

G_END_DECLS
