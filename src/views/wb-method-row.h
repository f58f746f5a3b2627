/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-material.h"
#include "wb-quantity.h"

G_BEGIN_DECLS

/*
 * One step of a wax's method: its name, temperature, minutes, how it is done, and the arrows that move it. Part of WbMethodEditor.
 * Signals: "changed", the person typed; "move" (int: -1 earlier, 1 later); "dropped" (guint: the row of that place was dropped here);
 * "remove".
 */
#define WB_TYPE_METHOD_ROW (wb_method_row_get_type ())
G_DECLARE_FINAL_TYPE (WbMethodRow, wb_method_row, WB, METHOD_ROW, GtkWidget)

/* step: copied. unit: of bare temperatures. */
GtkWidget          *wb_method_row_new          (const WbMethodStep *step, WbUnit unit);
/* The step as it was read; borrowed. */
const WbMethodStep *wb_method_row_get_step     (WbMethodRow *self);
/* It is stored under this id, by this entry. */
void                wb_method_row_set_stored   (WbMethodRow *self, gint64 id, gint64 entry);
/* Its place in the method, from 0. */
void                wb_method_row_set_place    (WbMethodRow *self, guint place);
/* With what the fields hold, and its place as position; caller frees. */
WbMethodStep       *wb_method_row_dup_step     (WbMethodRow *self);
/* Shows what is wrong, with the keyboard there; TRUE: nothing is. */
gboolean            wb_method_row_check        (WbMethodRow *self);
/* The button that leaves it out. */
void                wb_method_row_focus_remove (WbMethodRow *self);
/* What the row holds, right or wrong, as the i-th of a group; and what is typed of it back. */
void                wb_method_row_keep         (WbMethodRow *self, GKeyFile *file, const char *group, guint i);
void                wb_method_row_put_back     (WbMethodRow *self, GKeyFile *file, const char *group, guint i);
/* That step as it was kept, its id 0 where it was not stored; NULL: of no known kind. Caller frees. */
WbMethodStep       *wb_method_row_dup_kept     (GKeyFile *file, const char *group, guint i);

G_END_DECLS
