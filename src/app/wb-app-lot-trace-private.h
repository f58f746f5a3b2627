/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-bench-private.h"
#include "wb-app-loads-private.h"
#include "wb-app-lot-trace.h"
#include "wb-craft-lot-part.h"

G_BEGIN_DECLS

/* The material of that id, of whichever table; caller frees. NULL with UNKNOWN where there is none. */
gpointer     wb_app_lot_load_material  (WbStore *store, gint64 material, GError **error);
/* What one sample, or one decision, is and rests on. us_units: of the words of a limit. */
WbAppLotUse *wb_app_lot_use_of_sample   (const WbAppBenchLoad *load, guint sample, gboolean us_units);
WbAppLotUse *wb_app_lot_use_of_decision (const WbAppBenchLoad *load, const WbDecision *decision);
/* Index of a cell in the data set by its id; G_MAXUINT: none. */
guint        wb_app_lot_find_cell       (const WbDataset *data, gint64 cell);
GPtrArray   *wb_app_lot_uses_new        (void);

G_END_DECLS
