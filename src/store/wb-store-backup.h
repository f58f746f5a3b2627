/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-check.h"

G_BEGIN_DECLS

/*
 * A copy by SQLite's backup API, whole as of one moment, while others may go
 * on reading and writing. Never replaces a file: CONFLICT if `path` exists.
 * Written under a name beside `path`, synced, then given its own, so that a
 * broken copy never bears it. `progress` may be NULL.
 */
gboolean wb_store_backup (WbStore *self, const char *path, WbStoreProgress progress, gpointer data, GError **error);

G_END_DECLS
