/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-chart-view.h"
#include "wb-craft-ladder.h"
#include "wb-desk.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The drawing of a wick ladder, at the top of the fill, at its bottom, or both. */
#define WB_TYPE_LADDER_DRAWING (wb_ladder_drawing_get_type ())
G_DECLARE_FINAL_TYPE (WbLadderDrawing, wb_ladder_drawing, WB, LADDER_DRAWING, GtkWidget)

/* ladder: borrowed until the next call; both NULL: nothing is drawn, and the widget hides itself. */
void         wb_ladder_drawing_set       (WbLadderDrawing *self, WbDesk *desk, const WbCraftLadder *ladder);
/* NULL: there is nothing to draw. */
WbChartView *wb_ladder_drawing_get_chart (WbLadderDrawing *self);
/* Asks where to; nothing where nothing is drawn. */
void         wb_ladder_drawing_save      (WbLadderDrawing *self);

G_END_DECLS
