/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Small files in the person's state folder: what the program keeps for itself beside the notebooks. Any thread. */

/* The folder of one kind of them: "running", "anchors". Caller frees. */
char    *wb_app_state_dup_folder (const char *kind);
/*
 * Writes the text, for the person's eyes only, into a file whose folders are made where they are missing. Whole or not at all, should
 * the program end meanwhile; not synced, so that nobody waits for the disk: after a power cut it may be the text before. FALSE
 * (WB_APP_ERROR): it could not be written, and what stood there stands there still.
 */
gboolean wb_app_state_write      (const char *path, const char *text, GError **error);

/*
 * The same from a thread of its own, so that the caller waits for nothing; NULL: the file is removed. Of what is asked for one path
 * while an earlier one waits only the newest is written. FALSE (WB_APP_ERROR): the last one for this path could not be written; this
 * one is tried all the same.
 */
gboolean wb_app_state_write_soon (const char *path, const char *text, GError **error);
/* The last one for this path could not be written. */
gboolean wb_app_state_has_failed (const char *path);
/* Waits until all of them are written: before such a file is read, and before the program ends. */
void     wb_app_state_settle     (void);

G_END_DECLS
