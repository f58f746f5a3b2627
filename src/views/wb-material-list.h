/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Materials of one kind with a search above them. Signal "chosen" (gint64 id), only for what the person chose. */
#define WB_TYPE_MATERIAL_LIST (wb_material_list_get_type ())
G_DECLARE_FINAL_TYPE (WbMaterialList, wb_material_list, WB, MATERIAL_LIST, GtkWidget)

/* Records of one type, shown in their order; copied. NULL: none. */
void wb_material_list_fill         (WbMaterialList *self, GPtrArray *records, GPtrArray *lots, gboolean us_units);
/* Marks what is open, 0: nothing. Emits nothing. */
void wb_material_list_select       (WbMaterialList *self, gint64 id);
void wb_material_list_clear_search (WbMaterialList *self);
void wb_material_list_focus_search (WbMaterialList *self);

G_END_DECLS
