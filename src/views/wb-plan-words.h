/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-query.h"
#include "wb-craft-grid.h"

G_BEGIN_DECLS

/* Sentences about a plan and what it comes to. All translated; caller frees. */

/* A material of the list by its id; "?" where it is not there. */
char *wb_plan_words_dup_material (const GPtrArray *records, gint64 id);
/* "Sedge S-3", "2 × Sedge S-3, 30 mm apart" in the unit of `length`. */
char *wb_plan_words_dup_wick     (const GPtrArray *wicks, const WbCell *cell, WbUnit length);
/* "Harbour mist 8 % of the wax", "no fragrance"; a load that is not known yet is "?". */
char *wb_plan_words_dup_scent    (const GPtrArray *fragrances, const WbCell *cell);
/* "12 samples of 4 combinations". */
char *wb_plan_words_dup_heading  (const WbCraftGridTotals *totals);
/* Masses, the wait until it is answered, and bench, a line each; mass: the unit that people read. */
char *wb_plan_words_dup_totals   (const WbCraftGridTotals *totals, const WbNotebook *settings, WbUnit mass);
/* What it costs and what is lacking of the needs (WbCraftGridNeed), a line each; NULL: nothing is known of either. */
char *wb_plan_words_dup_stock    (const GArray *needs, const WbCraftStock *stock, const WbAppMaterials *materials, const WbNotebook *settings,
                                  WbUnit mass);

/* What the letters in the codes of an experiment's samples stand for: "In the codes: J no fragrance, F Harbour mist 8 %." NULL: there are none, or
 * they do not tell. Caller frees. */
char *wb_plan_words_dup_code_key (const WbDataset *data);

G_END_DECLS
