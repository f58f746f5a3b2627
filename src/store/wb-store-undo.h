/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-records.h"

G_BEGIN_DECLS

/*
 * Taking back. An entry is taken back by a further entry, which gives every
 * row that the first one wrote its version before that. Nothing is removed
 * from the record. Undo walks backwards over the EDIT entries, however often
 * it is called and however often the program was restarted; redo walks
 * forwards again until there is a new EDIT.
 */

/* The entry that undo would take back now; NULL without error: none. Caller owns it. */
WbEntry *wb_store_get_undo (WbStore *self, GError **error);
/* The newest import, command or restore that undo would pass over now; NULL without error: none. Caller owns it. */
WbEntry *wb_store_get_passed (WbStore *self, GError **error);
/* The undo that redo would take back now; NULL without error: none. Its `why` is that of the entry undone. */
WbEntry *wb_store_get_redo (WbStore *self, GError **error);

/* Takes back the newest EDIT entry not yet taken back. CONFLICT if a later entry changed the same rows (the message
 * names it), MISSING if there is nothing to undo. `entry`, which may be NULL, is the new entry. */
gboolean wb_store_undo (WbStore *self, const char *who, WbInstant now, gint64 *entry, GError **error);
gboolean wb_store_redo (WbStore *self, const char *who, WbInstant now, gint64 *entry, GError **error);

/* Takes back one given entry, an import among them: the person has been asked. CREATE and MIGRATION are refused. */
gboolean wb_store_take_back (WbStore *self, gint64 number, const char *who, WbInstant now, gint64 *entry,
                             GError **error);

G_END_DECLS
