/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-log-mapping.h"

G_BEGIN_DECLS

/*
 * One column of a maker's sheet: what it is read as, in which unit, at which
 * minute, and how its words are read. Every change is written into the column
 * at once; signal "changed".
 */
#define WB_TYPE_MAPPING_EDITOR (wb_mapping_editor_get_type ())
G_DECLARE_FINAL_TYPE (WbMappingEditor, wb_mapping_editor, WB, MAPPING_EDITOR, GtkWidget)

/* Borrows column and examples (a strv) until the next call; NULL: nothing to edit. */
void wb_mapping_editor_set_column (WbMappingEditor *self, WbLogMappingColumn *column, char **examples);

G_END_DECLS
