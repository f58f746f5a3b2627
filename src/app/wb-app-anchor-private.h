/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

G_BEGIN_DECLS

/*
 * What this program remembers of a notebook, outside of it: the fingerprint of
 * the last entry that it wrote, in the person's state folder, by the
 * notebook's UUID and its path. A copy elsewhere has none, so a backup raises no alarm.
 */

/* The notebook's UUID as text; NULL where it cannot be read. Caller frees. */
char    *wb_app_anchor_dup_uuid (WbStore *store);
/* What wb_app_anchor_dup_key() says of a notebook that cannot be read, by its UUID and its path. Caller frees. */
char    *wb_app_anchor_dup_key_of (const char *uuid, const char *notebook);
/* A file name for what is remembered of this notebook at this place; NULL where the notebook cannot be read. Caller frees. */
char    *wb_app_anchor_dup_key (WbStore *store);
/* Notes the last entry. What cannot be written is let be: an anchor is one more witness, not a condition. */
void     wb_app_anchor_write (WbStore *store);
/*
 * Compares the file with what was noted. TRUE where it fits or nothing was noted; else *finding (caller frees)
 * says in a sentence what does not, and *entry which entry.
 */
gboolean wb_app_anchor_check (WbStore *store, char **finding, gint64 *entry);

G_END_DECLS
