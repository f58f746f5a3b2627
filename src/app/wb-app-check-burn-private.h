/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-check-burn.h"
#include "wb-app-loads-private.h"

G_BEGIN_DECLS

/* The same on a connection of the caller's. */
GPtrArray *wb_app_check_burns_read (WbStore *store, WbAppLoads *loads, gint64 experiment, GError **error);

G_END_DECLS
