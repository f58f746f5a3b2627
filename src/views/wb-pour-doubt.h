/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-pour.h"
#include "wb-record-form.h"

G_BEGIN_DECLS

#define WB_POUR_DOUBT_ALL (~0u)

/*
 * Lines of wb_craft_pot_find() of those kinds (bits of WbCraftPotKind), and, where it is still to pour, what to do if a limit
 * is crossed. NULL: none. Caller frees.
 */
char *wb_pour_doubt_dup_pot (const GPtrArray *lines, guint kinds, gboolean to_pour);
/* The same at the fields of the masses: the load at the oil's, where that was weighed. */
void  wb_pour_doubt_show_pot (WbRecordForm *form, const WbBatch *actual, const GPtrArray *lines, gboolean to_pour);
/*
 * What is hard to believe of what was typed of a pour, a line each: a melt in the other scale, a mass, a load or a height that is not as meant.
 * "": nothing. poured: WbAppPouredSample. Caller frees.
 */
char *wb_pour_doubt_dup (const WbAppPourBatch *batch, const WbDataset *data, const WbBatch *actual, const GArray *poured, gboolean us_units);
/* The same of its lots: used up, or of another material by the list. Asked about, never refused: what was weighed out is what counts. */
char *wb_pour_doubt_dup_lots (WbAppPour *pour, const WbAppPourBatch *batch, const WbBatch *actual, const char *wick_lot, const GArray *wick_lots,
                              const char *vessel_lot);

G_END_DECLS
