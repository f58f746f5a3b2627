/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"
#include "wb-store-records.h"

G_BEGIN_DECLS

/*
 * Called for each row; `row` is good until it returns. A cell that holds its
 * column's default is left not given. FALSE stops, and *error must then be set.
 */
typedef gboolean (*WbStoreExportRow) (const WbLogRow *row, gpointer data, GError **error);

/*
 * The readings of one experiment, or of all (0), as burn-log rows in order of
 * experiment (title), sample (code), burn, time, rater, event; streamed, in one consistent
 * read. `row->line` counts from 2, the header being line 1. `row->extra` has
 * one place for each of wb_store_list_extra_columns(), empty string where nothing is kept.
 */
gboolean wb_store_export (WbStore *self, gint64 experiment, WbStoreExportRow callback, gpointer data, GError **error);

G_END_DECLS
