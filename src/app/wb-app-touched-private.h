/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-loads-private.h"
#include "wb-app-touched.h"

G_BEGIN_DECLS

/* WbAppTouched of one experiment's decisions (0: of all), on a connection of the caller's. */
GPtrArray *wb_app_touched_read (WbStore *store, WbAppLoads *loads, gint64 experiment, GError **error);
/* The same of every decision, touched, replaced or neither. */
GPtrArray *wb_app_touched_read_all (WbStore *store, WbAppLoads *loads, gint64 experiment, GError **error);

G_END_DECLS
