/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-craft-beside.h"
#include "wb-text-table.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The figures of what lies side by side: a column each, the verdicts and limits first, then a line a figure, the better one marked in words with its reason. Worked
 * out in a thread. Property "ready" (boolean, notified): what was shown last is there.
 */
#define WB_TYPE_BESIDE_TABLE (wb_beside_table_get_type ())
G_DECLARE_FINAL_TYPE (WbBesideTable, wb_beside_table, WB, BESIDE_TABLE, GtkWidget)

GtkWidget   *wb_beside_table_new       (void);
/* Copied, with references on the answers; 0: empty. */
void         wb_beside_table_show      (WbBesideTable *self, const WbCraftPick *picks, gsize n_picks, gboolean us_units);
gboolean     wb_beside_table_get_ready (WbBesideTable *self);
/* Borrowed, for tests. */
WbTextTable *wb_beside_table_get_table (WbBesideTable *self);

G_END_DECLS
