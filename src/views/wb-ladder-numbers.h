/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-ladder.h"
#include "wb-desk.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* All wicks that a ladder was chosen from, in numbers: chances, then what is foretold at the top and at the bottom of the fill. Filled once it is opened. */
#define WB_TYPE_LADDER_NUMBERS (wb_ladder_numbers_get_type ())
G_DECLARE_FINAL_TYPE (WbLadderNumbers, wb_ladder_numbers, WB, LADDER_NUMBERS, GtkWidget)

/* ladder: borrowed until the next call; both NULL: nothing is shown. */
void wb_ladder_numbers_set (WbLadderNumbers *self, WbDesk *desk, const WbCraftLadder *ladder);

G_END_DECLS
