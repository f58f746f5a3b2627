/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"

G_BEGIN_DECLS

/* A material as a list shows it; immutable, with a copy of its record. */
#define WB_TYPE_MATERIAL_ITEM (wb_material_item_get_type ())
G_DECLARE_FINAL_TYPE (WbMaterialItem, wb_material_item, WB, MATERIAL_ITEM, GObject)

/* lots: WbLot of the notebook, of which its own codes are searched; NULL: none. */
WbMaterialItem *wb_material_item_new         (gconstpointer record, gboolean us_units, GPtrArray *lots);
gconstpointer   wb_material_item_get_record  (WbMaterialItem *self);
gint64          wb_material_item_get_id      (WbMaterialItem *self);
const char     *wb_material_item_get_title   (WbMaterialItem *self);
const char     *wb_material_item_get_summary (WbMaterialItem *self);
/* Title, summary, note or the codes of its lots hold every word of the text, whatever the case. */
gboolean        wb_material_item_matches     (WbMaterialItem *self, const char *text);

G_END_DECLS
