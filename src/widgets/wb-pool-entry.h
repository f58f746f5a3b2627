/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * The melt pool as a ruler over the vessel finds it: one diameter, two at
 * right angles, or "full" in place of either; or the ring of hard wax left at
 * the four sides. F marks a diameter as full; X (or ×) in the first goes on to a
 * second; R turns to the ring, and back.
 *
 * Signals: "changed", when the person typed; "activate", on Enter in the last
 * diameter shown; "told", when the words of what is wrong changed.
 */
#define WB_TYPE_POOL_ENTRY (wb_pool_entry_get_type ())
G_DECLARE_FINAL_TYPE (WbPoolEntry, wb_pool_entry, WB, POOL_ENTRY, GtkWidget)

/* unit: of a bare number. widest_mm: the largest diameter permitted. */
GtkWidget  *wb_pool_entry_new         (WbUnit unit, double widest_mm);
/* Asks both diameters; a person may turn to either way later. */
void        wb_pool_entry_set_two     (WbPoolEntry *self, gboolean two);
/* Asks the ring instead; what the other way held goes. */
void        wb_pool_entry_set_ring    (WbPoolEntry *self, gboolean ring);
gboolean    wb_pool_entry_get_two     (WbPoolEntry *self);
/* Shows what those columns hold. */
void        wb_pool_entry_set_values  (WbPoolEntry *self, const double values[WB_N_COLUMNS]);
/* Writes the pool's columns and the ring's, NAN where not taken; touches no other. */
void        wb_pool_entry_get_values  (WbPoolEntry *self, double values[WB_N_COLUMNS]);
/* Shows the words at what is wrong; TRUE: it may be saved. */
gboolean    wb_pool_entry_check       (WbPoolEntry *self);
gboolean    wb_pool_entry_get_touched (WbPoolEntry *self);
/* Words of another's; NULL takes them off. */
void        wb_pool_entry_set_problem (WbPoolEntry *self, const char *text);

/* As of a quantity's entry. */
void        wb_pool_entry_set_told_elsewhere (WbPoolEntry *self, gboolean told_elsewhere);
/* Of the first diameter that is wrong; NULL: none. */
const char *wb_pool_entry_get_problem (WbPoolEntry *self);

G_END_DECLS
