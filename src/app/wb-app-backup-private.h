/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-backup.h"
#include "wb-store.h"

G_BEGIN_DECLS

/*
 * Holds the record against every backup of it that can be found: those made from a window, whose places are
 * remembered in the person's state folder, and those that stand beside it since a newer program brought it up.
 * TRUE where all fit or there are none; else *finding (caller frees) names the first that does not, and *entry the entry.
 */
gboolean wb_app_backup_check (WbStore *store, char **finding, gint64 *entry);

G_END_DECLS
