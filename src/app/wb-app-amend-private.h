/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-app-amend.h"
#include "wb-store-records.h"

G_BEGIN_DECLS

/* The entries that amend have this word for the record page; the reason follows the first ": " of their `why`. */
#define WB_APP_AMEND_TOPIC "amend"

/*
 * From all versions of one record, oldest first, as WbRecord (borrowed). NULL without error: it is gone, and by no amendment,
 * so that there is nothing to show; NULL with error: its entries could not be read.
 */
WbAppAmendItem *wb_app_amend_item_new (WbStore *store, GPtrArray *versions, int burn, GError **error);
void            wb_app_amend_item_set_ends_burn (WbAppAmendItem *self);
/* The same version of the same record, told the same way. */
gboolean        wb_app_amend_item_is_same (WbAppAmendItem *self, WbAppAmendItem *other);

/* WbAppReaderFunc: data is the sample's id (gint64 *); the result a GPtrArray of WbAppAmendItem, in the list's order. */
gpointer        wb_app_amend_read_thread (WbStore *store, gpointer data, GCancellable *cancellable, GError **error);

G_END_DECLS
