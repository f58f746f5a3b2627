/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-picks.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * What lies side by side, in its order, each with the swatch that it has in the chart. By keyboard: Alt+Up and Alt+Down move the
 * line that has it, Delete takes it away, Enter opens its samples or its readings (signal "opened", uint index). A line whose answer is not
 * there says so.
 */
#define WB_TYPE_PICK_LIST (wb_pick_list_get_type ())
G_DECLARE_FINAL_TYPE (WbPickList, wb_pick_list, WB, PICK_LIST, GtkWidget)

GtkWidget  *wb_pick_list_new      (void);
/* NULL: none. Takes a reference, and follows them. */
void        wb_pick_list_set      (WbPickList *self, WbPicks *picks);
/* What a line says; borrowed, NULL: there is no such line. */
const char *wb_pick_list_get_text (WbPickList *self, guint index);

G_END_DECLS
