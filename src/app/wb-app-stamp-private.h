/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store.h"

G_BEGIN_DECLS

/*
 * How fresh an experiment is: the newest entry that touched it, or any of the
 * records that experiments share (materials, protocols, profiles), since a
 * corrected vessel changes every figure that rests on it.
 */

/* Of an experiment, and of all of them together: an answer that other experiments speak in rests on those as well. */
typedef struct
{
  gint64 own;
  gint64 whole;
} WbAppStamp;

/* Experiment ids (gint64 *) to stamps (gint64 *). NULL with an error. */
GHashTable *wb_app_stamp_list (WbStore *store, GError **error);
/* 0: no such experiment. */
gint64      wb_app_stamp_find (GHashTable *stamps, gint64 experiment);
/* Of all experiments in the list together: another one when any of them comes, goes or changes. */
gint64      wb_app_stamp_find_whole (GHashTable *stamps);
/* The shared part alone. */
gint64      wb_app_stamp_get_shared (WbStore *store);

G_END_DECLS
