/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-app-bench.h"
#include "wb-reading-details.h"
#include "wb-save-mark.h"

G_BEGIN_DECLS

/*
 * What is asked of one sample at one moment, and what was typed of it: the
 * fields of the protocol in its order, then event, note and time. Enter goes on
 * to the next field. It saves nothing: its page does, by the actions of its
 * buttons and on these signals.
 *
 * Signals: "done", on Enter in the last field; "changed", when something was
 * typed; "finished", when a value stands that limits may be looked up for.
 */
#define WB_TYPE_READING_PANEL (wb_reading_panel_get_type ())
G_DECLARE_FINAL_TYPE (WbReadingPanel, wb_reading_panel, WB, READING_PANEL, GtkWidget)

GtkWidget        *wb_reading_panel_new         (WbAppBenchSample *sample, gboolean us_units);
/* Gives the panel to a sample, as if it were made for it anew: to make one takes the main thread three times as long. */
void              wb_reading_panel_set_sample  (WbReadingPanel *self, WbAppBenchSample *sample, gboolean us_units);
WbAppBenchSample *wb_reading_panel_get_sample  (WbReadingPanel *self);
/* Another moment's fields; what was typed already stays, whether it is asked then or not. */
void              wb_reading_panel_set_ask     (WbReadingPanel *self, WbAppAsk ask);
WbAppAsk          wb_reading_panel_get_ask     (WbReadingPanel *self);
/* The moment that was next when the panel last moved on by itself: a person who turned to another is not turned back. */
WbAppAsk          wb_reading_panel_get_due     (WbReadingPanel *self);
/* Moves on to that moment. */
void              wb_reading_panel_set_due     (WbReadingPanel *self, WbAppAsk due);
/* Asks one column more, and puts the keyboard into it. */
void              wb_reading_panel_ask_also    (WbReadingPanel *self, WbColumn column);
/* Name of a moment in the action "page.ask": "round"; and back (-1: none). */
const char       *wb_reading_panel_get_ask_name (WbAppAsk ask);
int               wb_reading_panel_find_ask    (const char *name);
/* Says anew how the sample stands and what was last read. */
void              wb_reading_panel_update      (WbReadingPanel *self);
void              wb_reading_panel_focus_first (WbReadingPanel *self);
/* Puts the keyboard into a part: "event" (its list opens), "note", "place", "time". */
void              wb_reading_panel_focus_part  (WbReadingPanel *self, const char *part);
/* Scrolls to the field with the keyboard, where it is in this panel; once the panel has its place. */
void              wb_reading_panel_show_focus  (WbReadingPanel *self);
/* That happened, as if it had been chosen: where it can befall one wick of several, the keyboard goes to which. */
void              wb_reading_panel_say_event   (WbReadingPanel *self, WbEvent event);
gboolean          wb_reading_panel_get_touched (WbReadingPanel *self);
/* The same, or something of a lighting stands there. */
gboolean          wb_reading_panel_is_half_typed (WbReadingPanel *self);
/* Writes all that stands there into a group, and puts it back into a panel that was just given to the sample, with words that say so. */
void              wb_reading_panel_keep        (WbReadingPanel *self, GKeyFile *file, const char *group);
void              wb_reading_panel_put_back    (WbReadingPanel *self, GKeyFile *file, const char *group);
/* Shows every wrong field and puts the keyboard into the first; TRUE: none is. */
gboolean          wb_reading_panel_check       (WbReadingPanel *self);
/* Words of a doubt that the person has answered for these values: it is not asked again. NULL: none. */
void              wb_reading_panel_set_sworn   (WbReadingPanel *self, const char *doubt);
const char       *wb_reading_panel_get_sworn   (WbReadingPanel *self);
/* What happened, as typed; wick: at which of several, NAN: of the vessel. WB_N_EVENTS: nothing. */
WbEvent           wb_reading_panel_get_event   (WbReadingPanel *self, double *wick);
/* The flame that drowned is out: that it went out by itself goes with the reading. */
void              wb_reading_panel_set_out     (WbReadingPanel *self, gboolean out);
/* What the values typed here tell was seen to: it is noted with the reading. */
void              wb_reading_panel_set_seen_to (WbReadingPanel *self, gboolean seen_to);
/*
 * What is typed, as new WbReading of one moment: of the vessel, and one a wick of several; at least one. Minutes by its time,
 * NAN for now. Caller frees.
 */
GPtrArray        *wb_reading_panel_dup_readings (WbReadingPanel *self);
/* The same with their values alone, also of an unfinished panel. */
GPtrArray        *wb_reading_panel_dup_looks   (WbReadingPanel *self);
/* The values alone, also of an unfinished panel; of several wicks the largest. */
void              wb_reading_panel_get_values  (WbReadingPanel *self, double values[WB_N_COLUMNS]);
/* When it was seen; unknown: now. Only after a check. */
WbInstant         wb_reading_panel_get_time    (WbReadingPanel *self);
/* For lighting. */
double            wb_reading_panel_get_trim    (WbReadingPanel *self);
WbBurnKind        wb_reading_panel_get_kind    (WbReadingPanel *self);
const char       *wb_reading_panel_get_place   (WbReadingPanel *self);
/* The place where it is a number of the bench, from 1; 0: it is none. */
guint             wb_reading_panel_get_place_number (WbReadingPanel *self);
/* Proposes a place, where the person has not typed or emptied it and is not at it. */
void              wb_reading_panel_propose_place (WbReadingPanel *self, const char *place);
/* What "=" takes over where the sample itself has no last value; NAN: nothing. */
void              wb_reading_panel_set_evening (WbReadingPanel *self, double room_c, double draught);
/* Proposes from how far a throw is smelt, where it is asked and not typed; NAN: no proposal. */
void              wb_reading_panel_propose_distance (WbReadingPanel *self, double metres);
/* TRUE: the throw is rated in the burn that the panel is about, or stated for the one that it lights. */
gboolean          wb_reading_panel_asks_throw  (WbReadingPanel *self);
/* What becomes of a rating of the throw, or what a lighting would spoil of one; NULL: nothing is to be said. */
void              wb_reading_panel_set_throw_words (WbReadingPanel *self, const char *words);
/* Who rates, and with what a temperature is read; borrowed. */
WbReadingDetails *wb_reading_panel_get_details (WbReadingPanel *self);
/* detail: the reason of a failure in words; NULL: none. */
void              wb_reading_panel_set_saving  (WbReadingPanel *self, WbSaveState state, const char *detail);
WbSaveState       wb_reading_panel_get_saving  (WbReadingPanel *self);
/* The field of a column, for tests and focus; NULL: it is not asked now. */
GtkWidget        *wb_reading_panel_get_field   (WbReadingPanel *self, WbColumn column);

/* The same of a wick; 0: of the vessel. */
GtkWidget        *wb_reading_panel_get_wick_field (WbReadingPanel *self, guint wick, WbColumn column);

/* What was noted last at the bench, the latest first: a digit in the empty note notes it again. Five are shown. */
void              wb_reading_panel_set_quick_notes (WbReadingPanel *self, const char *const *notes);

G_END_DECLS
