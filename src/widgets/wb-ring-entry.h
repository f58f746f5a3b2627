/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * The ring of hard wax left at the four sides of a vessel, 0 at the wall: four
 * small fields, called by the clock. Enter goes from side to side.
 *
 * Signals: "changed", when the person typed; "activate", on Enter in the last;
 * "told", when the words of what is wrong changed.
 */
#define WB_TYPE_RING_ENTRY (wb_ring_entry_get_type ())
G_DECLARE_FINAL_TYPE (WbRingEntry, wb_ring_entry, WB, RING_ENTRY, GtkWidget)

/* unit: of a bare number. widest_mm: the widest ring permitted. */
GtkWidget  *wb_ring_entry_new        (WbUnit unit, double widest_mm);
/* Shows what the four columns hold. */
void        wb_ring_entry_set_values (WbRingEntry *self, const double values[WB_N_COLUMNS]);
/* Writes the four columns, NAN where not taken; touches no other. */
void        wb_ring_entry_get_values (WbRingEntry *self, double values[WB_N_COLUMNS]);
void        wb_ring_entry_clear      (WbRingEntry *self);
gboolean    wb_ring_entry_is_blank   (WbRingEntry *self);
/* Shows the words at what is wrong; TRUE: it may be saved. */
gboolean    wb_ring_entry_check      (WbRingEntry *self);
/* As of a quantity's entry. */
void        wb_ring_entry_set_told_elsewhere (WbRingEntry *self, gboolean told_elsewhere);
/* Of the first side that is wrong; NULL: none. */
const char *wb_ring_entry_get_problem (WbRingEntry *self);

G_END_DECLS
