/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/* Every experiment as a list shows it: WbAppExperiment, by id. The caller frees the array, which owns them. */
GPtrArray *wb_app_listing_read (WbStore *store, GError **error);

G_END_DECLS
