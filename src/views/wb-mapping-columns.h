/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-log-mapping.h"

G_BEGIN_DECLS

/*
 * The columns of a maker's sheet, each with what stands in it and what it is
 * read as; beside them the one chosen, to change. Signal "changed".
 */
#define WB_TYPE_MAPPING_COLUMNS (wb_mapping_columns_get_type ())
G_DECLARE_FINAL_TYPE (WbMappingColumns, wb_mapping_columns, WB, MAPPING_COLUMNS, GtkWidget)

/* Borrows both until the next call, and adds a column that is passed over for each of the sheet that the mapping does not name. */
void wb_mapping_columns_set (WbMappingColumns *self, WbLogMapping *mapping, const WbLogHead *head);
/* Chooses a column, as a click does. */
void wb_mapping_columns_choose (WbMappingColumns *self, const char *source);

G_END_DECLS
