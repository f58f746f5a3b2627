/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-loads-private.h"
#include "wb-app-touched.h"

G_BEGIN_DECLS

/* WbAppTouched of one experiment's decisions (0: of all), on a connection of the caller's. */
GPtrArray *wb_app_touched_read (WbStore *store, WbAppLoads *loads, gint64 experiment, GError **error);
/* The same of every decision, touched, replaced or neither. */
GPtrArray *wb_app_touched_read_all (WbStore *store, WbAppLoads *loads, gint64 experiment, GError **error);

/*
 * What a decision for that cell (index) of the load would not cover were it signed now: WbCraftTouched, lots that were not burnt. decision:
 * id of the one that would be signed anew, whose reasons still stand; 0: none.
 */
GPtrArray *wb_app_touched_read_not_burnt (WbStore *store, WbAppBenchLoad *load, guint cell, gint64 decision, GError **error);

G_END_DECLS
