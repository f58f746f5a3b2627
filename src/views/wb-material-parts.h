/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-query.h"
#include "wb-craft-stock.h"

G_BEGIN_DECLS

/*
 * What belongs to one material: its lots, a wick's recommendations, a blend's
 * parts. Each row opens its form; adding and deleting save at once, as entries of their own.
 */
#define WB_TYPE_MATERIAL_PARTS (wb_material_parts_get_type ())
G_DECLARE_FINAL_TYPE (WbMaterialParts, wb_material_parts, WB, MATERIAL_PARTS, GtkWidget)

/* type: of the parts; owner_field: their reference to `owner`. Everything is copied or referenced; NULL notebook clears. */
void wb_material_parts_show (WbMaterialParts *self, WbAppNotebook *notebook, const WbAppMaterials *materials,
                             const WbRecordType *type, const char *owner_field, gint64 owner, const char *title);
/* Of lots, as shown last: what is left of each stands in its row, and `words` below; NULL: nothing of it. */
void wb_material_parts_set_stock (WbMaterialParts *self, const WbCraftStock *stock, gconstpointer material, const char *words);

G_END_DECLS
