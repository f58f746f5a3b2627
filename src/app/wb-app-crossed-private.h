/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-loads-private.h"
#include "wb-craft-answer.h"
#include "wb-craft-touched.h"

G_BEGIN_DECLS

/*
 * Adds what candles of that cell's recipe crossed anywhere in the notebook, by the newest entry behind `since` that says so, one
 * WbCraftCrossedSince a sample. What says so is the reading, that its burn is of the sample, that the sample is of the cell and
 * counts, and where the limit lies: a candle that is moved to the recipe later crosses later. stamps: as of wb_app_stamp_list. Only
 * experiments that have the vessel with the wick are read. known: leaves out what a reason of that answer tells of the same
 * combination and limit; NULL: nothing is known.
 */
gboolean wb_app_crossed_read (WbStore *store, WbAppLoads *loads, GHashTable *stamps, const WbAppBenchLoad *own, guint cell,
                              gint64 decision, gint64 since, const WbCraftAnswer *known, GPtrArray *into, GError **error);

G_END_DECLS
