/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-notebook.h"

G_BEGIN_DECLS

/*
 * Where what is half done of that kind stands, by the notebook's UUID and its place too: a copy has its UUID, and is another notebook.
 * NULL: its identity is not known. Caller frees.
 */
char *wb_app_draft_dup_path   (WbAppNotebook *notebook, const char *kind);
/* Adds the group as it stands in `from`. */
void  wb_app_draft_copy_group (GKeyFile *file, GKeyFile *from, const char *group);
/* What stands in such a file; empty where there is none, or it cannot be read. Waits for the disk: for a thread. */
GKeyFile *wb_app_draft_read (const char *path);

G_END_DECLS
