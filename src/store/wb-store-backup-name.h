/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * What the backups that the program makes by itself are called, and where they lie: in the person's data folder, one folder a
 * notebook by its UUID, "2026-03-02T180000Z 000000123 0f3a9c11.wickbench": when (UTC), number of the last entry, and the mark of
 * the place where the notebook stood, so that a copy of a notebook which goes its own way is not taken for the first one. Where it was
 * put back to an earlier state, its numbers were given anew: then the mark of that branch stands behind, "... 0f3a9c11
 * 5e1c22d0.wickbench"; what was made before a newer program changed the form of the file says of which version it is, "... 0f3a9c11
 * version-1.wickbench".
 */

/* The folder of all notebooks (uuid NULL), or of one. Caller frees. */
char *wb_store_backup_dup_folder (const char *uuid);
/* The mark of the place of a notebook. */
void  wb_store_backup_mark       (const char *notebook, char mark[9]);
/* branch: as wb_store_dup_branch(), NULL or empty: none. version: of the file before a migration; 0: not made before one. NULL: no such time has a name. Caller frees. */
char *wb_store_backup_dup_name   (gint64 made_us, gint64 entry, const char *mark, const char *branch, int version);

G_END_DECLS
