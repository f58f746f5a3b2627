/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-loads-private.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/* Every experiment as a list shows it: WbAppExperiment, by id. The caller frees the array, which owns them. */
GPtrArray *wb_app_listing_read (WbStore *store, WbAppLoads *loads, GError **error);

G_END_DECLS
