/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-mapping.h"

G_BEGIN_DECLS

/*
 * What a mapping makes of a sheet's first rows: how many, which are refused by
 * which rule or doubted, and those that are read, as a table of the burn log's columns. Signal "name": the fragrance is to be named.
 */
#define WB_TYPE_MAPPING_PREVIEW (wb_mapping_preview_get_type ())
G_DECLARE_FINAL_TYPE (WbMappingPreview, wb_mapping_preview, WB, MAPPING_PREVIEW, GtkWidget)

/* The preview's content is copied. Both NULL: it is on its way. */
void  wb_mapping_preview_show       (WbMappingPreview *self, const WbAppMappingPreview *preview, const GError *error);
/* Rows that are read. */
guint wb_mapping_preview_get_n_rows (WbMappingPreview *self);

G_END_DECLS
