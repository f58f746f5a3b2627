/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "wb-evenings-out.h"

G_BEGIN_DECLS

/*
 * On which days of the week there is time for a session at the bench, a toggle a day under the language's names of them, when such
 * an evening begins, and which single evenings are left out: typed as one line, with what was understood of it below; what is past is
 * not shown, and stays. What is wrong is said below. Signals: "changed", when the person changed it; "activate", on Enter in a line.
 */
#define WB_TYPE_EVENINGS_ENTRY (wb_evenings_entry_get_type ())
G_DECLARE_FINAL_TYPE (WbEveningsEntry, wb_evenings_entry, WB, EVENINGS_ENTRY, GtkWidget)

/* Shows these as stored; begins_min: minutes after midnight, WB_INTEGER_NONE: not said. */
void       wb_evenings_entry_set         (WbEveningsEntry *self, WbEvenings evenings, gint64 begins_min);
WbEvenings wb_evenings_entry_get_days    (WbEveningsEntry *self);
/* The evenings left out, as stored text (wb-evenings-out.h). */
void       wb_evenings_entry_set_out     (WbEveningsEntry *self, const char *out);
/* As it is to be stored, with what is past; NULL: none is left out. Caller frees. */
char      *wb_evenings_entry_dup_out     (WbEveningsEntry *self);
void       wb_evenings_entry_take_stored_out (WbEveningsEntry *self, const char *out);
/* WB_INTEGER_NONE: nothing stands there, or no time of day. */
gint64     wb_evenings_entry_get_begins  (WbEveningsEntry *self);
/* Says what is wrong and takes the keyboard there; TRUE: nothing is. */
gboolean   wb_evenings_entry_check       (WbEveningsEntry *self);
/* It holds something else than what was set. */
gboolean   wb_evenings_entry_get_touched (WbEveningsEntry *self);
/* What was set anew is what is stored; what was typed meanwhile stays. */
void       wb_evenings_entry_take_stored (WbEveningsEntry *self, WbEvenings evenings, gint64 begins_min);

G_END_DECLS
