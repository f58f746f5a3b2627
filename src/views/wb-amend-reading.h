/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-reading.h"

G_BEGIN_DECLS

/*
 * The form of one reading as it stands in the record: its minute, what was
 * taken in the fields and units that it was read in, and its words. What was
 * not taken can be added. A field that is left alone keeps its stored value whole.
 *
 * Signals: "changed", when the person changed something; "activate", on Enter.
 */
#define WB_TYPE_AMEND_READING (wb_amend_reading_get_type ())
G_DECLARE_FINAL_TYPE (WbAmendReading, wb_amend_reading, WB, AMEND_READING, GtkWidget)

/* reading: copied. inner_mm: of the vessel, its wider axis. */
GtkWidget *wb_amend_reading_new       (const WbReading *reading, double inner_mm, gboolean us_units);
/* Adds the field of a column, if it is not there, and puts the keyboard into it. */
void       wb_amend_reading_ask_also  (WbAmendReading *self, WbColumn column);
/* Shows the words at what is wrong, and goes there; TRUE: it may be saved. */
gboolean   wb_amend_reading_check     (WbAmendReading *self);
/* The reading with what was changed, id and entry as they were. Caller frees. */
WbReading *wb_amend_reading_dup       (WbAmendReading *self);
/* A column's field (WbReadingField), for focus and tests; NULL: not shown. Any of the pool's columns gives the pool's. */
GtkWidget *wb_amend_reading_get_field (WbAmendReading *self, WbColumn column);

G_END_DECLS
