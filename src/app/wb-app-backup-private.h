/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-backup.h"
#include "wb-store.h"

G_BEGIN_DECLS

/*
 * Holds the record against every backup of it that can be found: those made from a window, whose places are
 * remembered in the person's state folder, those that
 * this program made by itself of the notebook in this place, and those that stand beside it since a newer program brought it up.
 * TRUE where all fit or there are none; else *finding (caller frees) names the first that does not, and *entry the entry.
 */
gboolean wb_app_backup_check (WbStore *store, char **finding, gint64 *entry);

/* Adds the paths (char *, the array's own) of the backups that were made by hand of the notebook of this UUID at this place. */
void     wb_app_backup_add_remembered (GPtrArray *paths, const char *uuid, const char *notebook);
/* The same of those that a migration left beside it. */
void     wb_app_backup_add_beside     (GPtrArray *paths, const char *notebook);

G_END_DECLS
