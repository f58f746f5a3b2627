/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/* The line that counts down while a row is lit or snuffed: who is next, in how long, and a way to stop. Hidden while no row is on. */
#define WB_TYPE_ROW_BAR (wb_row_bar_get_type ())
G_DECLARE_FINAL_TYPE (WbRowBar, wb_row_bar, WB, ROW_BAR, GtkWidget)

/* bench NULL: none. */
void wb_row_bar_update (WbRowBar *self, WbAppBench *bench);

G_END_DECLS
