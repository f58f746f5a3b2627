/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-instant.h"

G_BEGIN_DECLS

/*
 * When something was seen: empty for now, a time of day ("19:40": the last
 * one that has been), one of a day ("2 Mar, 19:40"), or how long ago ("-5", "5 min", "1 h 20 min"). What was
 * understood stands beside the field, what cannot be below it.
 *
 * Signals: "changed", when the person typed; "activate", on Enter; "told", when what was understood, or the problem, is another.
 */
#define WB_TYPE_TIME_ENTRY (wb_time_entry_get_type ())
G_DECLARE_FINAL_TYPE (WbTimeEntry, wb_time_entry, WB, TIME_ENTRY, GtkWidget)

GtkWidget  *wb_time_entry_new          (const char *label);
/* Accessible name. */
void        wb_time_entry_set_label    (WbTimeEntry *self, const char *label);
/* Nothing before it is taken; unknown: up to two days ago. why: the words of the refusal; copied. */
void        wb_time_entry_set_earliest (WbTimeEntry *self, WbInstant earliest, const char *why);
/* What is asked about may lie days back: a time of day is the first one after `from`, and how long after it stands beside. */
void        wb_time_entry_set_from     (WbTimeEntry *self, WbInstant from);
/* A time of day is the first one that is not before it, and says nothing of how long after; unknown: the last one that has been. */
void        wb_time_entry_set_first    (WbTimeEntry *self, WbInstant first);
/* Shows the field alone: whoever holds it tells what was understood, and the problem. */
void        wb_time_entry_set_compact  (WbTimeEntry *self, gboolean compact);
/* NULL: none is shown. */
const char *wb_time_entry_get_problem  (WbTimeEntry *self);
void        wb_time_entry_set_text     (WbTimeEntry *self, const char *text);
const char *wb_time_entry_get_text     (WbTimeEntry *self);
/* Worked out at this moment. FALSE: it cannot be taken, and the words are shown. An unknown instant means now. */
gboolean    wb_time_entry_get          (WbTimeEntry *self, WbInstant *instant);
/* What its text meant when it was `now`; unknown: then, or it is no time. Nothing is refused and nothing shown. */
WbInstant   wb_time_entry_get_at       (WbTimeEntry *self, WbInstant now);

/* An empty field says that it did not happen yet: no "now" stands beside it. Whoever asks looks at the text first. */
void        wb_time_entry_set_optional (WbTimeEntry *self, gboolean optional);
/* Where nobody counts minutes: "1600" and "905" are times of day, and no other bare number is taken; "5 min" and "-5" are. */
void        wb_time_entry_set_by_clock (WbTimeEntry *self, gboolean by_clock);

G_END_DECLS
