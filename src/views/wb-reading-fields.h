/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"

G_BEGIN_DECLS

/*
 * The fields of one reading of one sample, a line each: words, control, last
 * value; in a vessel of several wicks flame and mushroom have a line a wick. First what the protocol asks at the moment, in its order, then what
 * was typed for another moment already, then what happened. Enter goes from
 * line to line.
 *
 * Signals: "done", on Enter in the last line that is asked or in one behind it;
 * "changed", when something was typed; "finished", when a value stands;
 * "told", when what is wrong changed: the fields keep no line for it.
 */
#define WB_TYPE_READING_FIELDS (wb_reading_fields_get_type ())
G_DECLARE_FINAL_TYPE (WbReadingFields, wb_reading_fields, WB, READING_FIELDS, GtkWidget)

GtkWidget *wb_reading_fields_new         (void);
/* Whose reading it is. What was typed of another goes; set_ask is to follow. */
void       wb_reading_fields_set_sample  (WbReadingFields *self, WbAppBenchSample *sample, gboolean us_units);
void       wb_reading_fields_set_ask     (WbReadingFields *self, WbAppAsk ask);
/* Kind of the burn that is to be lit: a throw burn's distance and blindness are stated at its lighting. From the next ask on. */
void       wb_reading_fields_set_kind    (WbReadingFields *self, WbBurnKind kind);
/* What was read of the room last in this evening's session, with whichever sample: °C and WbDraught; NAN: not read. */
void       wb_reading_fields_set_evening (WbReadingFields *self, double room_c, double draught);
/* Puts a value where one is asked and nothing stands, which does not count as typed; NAN: none. */
void       wb_reading_fields_propose     (WbReadingFields *self, WbColumn column, double value);
/* Adds the field of a column that is not asked, and puts the keyboard into it. */
void       wb_reading_fields_ask_also    (WbReadingFields *self, WbColumn column);
/* Says anew what was last read. */
void       wb_reading_fields_update      (WbReadingFields *self);
/* NAN where not taken. Of several wicks the largest stands for the vessel. */
void       wb_reading_fields_get_values  (WbReadingFields *self, double values[WB_N_COLUMNS]);
/* What is typed as WbReading, values only: of the vessel, and one a wick at which something was read; at least one. Caller frees. */
GPtrArray *wb_reading_fields_dup_readings (WbReadingFields *self);
/* Shows every wrong field and gives the first, borrowed; NULL: none is. */
GtkWidget *wb_reading_fields_check       (WbReadingFields *self);
/* What is wrong with the first field that is, "Flame height: …", or that it has no last time; NULL: nothing was told. Caller frees. */
char      *wb_reading_fields_dup_problem (WbReadingFields *self);
gboolean   wb_reading_fields_get_touched (WbReadingFields *self);
/*
 * Writes what stands in the touched fields, and puts it back; set_ask is to follow. late: but for what was of its hour alone, of
 * which the words are given ("Room: 21"; caller frees); NULL: nothing was left out.
 */
void       wb_reading_fields_keep        (WbReadingFields *self, GKeyFile *file, const char *group);
char      *wb_reading_fields_put_back    (WbReadingFields *self, GKeyFile *file, const char *group, gboolean late);
/* FALSE: nothing is asked. */
gboolean   wb_reading_fields_focus_first (WbReadingFields *self);
/* That happened, as if the person had chosen it; of several wicks the keyboard is where it is asked at which. */
void       wb_reading_fields_say_event   (WbReadingFields *self, WbEvent event);
/* Opens the list of what happened. */
void       wb_reading_fields_open_event  (WbReadingFields *self);
/* The vessel's, else the first wick's. NULL: it is not asked now. */
GtkWidget *wb_reading_fields_get_field   (WbReadingFields *self, WbColumn column);
/* wick: 0 for the vessel. */
GtkWidget *wb_reading_fields_get_wick_field (WbReadingFields *self, guint wick, WbColumn column);

G_END_DECLS
