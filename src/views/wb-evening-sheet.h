/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-evening.h"
#include "wb-evening-grid.h"
#include "wb-host.h"

G_BEGIN_DECLS

/*
 * The window in which an evening is typed in from paper. What is half typed is kept when it closes, or the program ends, and
 * is there again when it is opened next. One window an experiment.
 */
#define WB_TYPE_EVENING_SHEET (wb_evening_sheet_get_type ())
G_DECLARE_FINAL_TYPE (WbEveningSheet, wb_evening_sheet, WB, EVENING_SHEET, GtkWindow)

/* Shows it in front of the host's window; where the experiment has nothing to type in, the window says so. */
void           wb_evening_sheet_open        (WbHost *host, gint64 experiment);
/* Borrowed. */
WbAppEvening  *wb_evening_sheet_get_evening (WbEveningSheet *self);
WbEveningGrid *wb_evening_sheet_get_grid    (WbEveningSheet *self);

G_END_DECLS
