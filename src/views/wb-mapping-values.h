/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-log-mapping.h"

G_BEGIN_DECLS

/*
 * What a maker's sheet does not say: a fixed value for each column of the burn
 * log that no column of the sheet is read as, needed ones first. Every change
 * is written into the mapping at once; signal "changed".
 */
#define WB_TYPE_MAPPING_VALUES (wb_mapping_values_get_type ())
G_DECLARE_FINAL_TYPE (WbMappingValues, wb_mapping_values, WB, MAPPING_VALUES, GtkWidget)

/* Borrows the mapping until the next call. To be called again when its columns have changed. */
void wb_mapping_values_set (WbMappingValues *self, WbLogMapping *mapping);
/* The keyboard to the field of that column. FALSE: a column of the sheet is read as it, and there is no field. */
gboolean wb_mapping_values_focus (WbMappingValues *self, const char *target);

G_END_DECLS
