/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-store-table-private.h"
#include "wb-store-records.h"

G_BEGIN_DECLS

/*
 * What makes a record the same as another: wax, fragrance, dye and additive by
 * name, wick by series and size, vessel by name and inner diameter, sample by
 * experiment and code, burn by sample and number, and so on. Deleted ones have
 * given up their name.
 */

/* FALSE with CONFLICT, naming what is taken, if another record that is there has the identity of this one. */
gboolean wb_store_identity_is_free (WbStore *store, const WbStoreTable *table, gconstpointer record, GError **error);
/* Id of the record that is there with the identity of this one, itself aside; 0: none, -1: error. */
gint64   wb_store_identity_find    (WbStore *store, const WbStoreTable *table, gconstpointer record, GError **error);
/* For people: "Wax “Harrow blend”". Caller frees. */
char    *wb_store_identity_dup_words (gconstpointer record);

/* Whether a record that refers by this field is only a part of the one referred to, and goes with it. */
gboolean wb_store_field_is_part_of (const WbRecordType *type, const WbFieldSpec *field);
/* "3 × Sample, 1 × Batch"; NULL if only parts refer to it. Caller frees. */
char    *wb_store_uses_dup_words (const GArray *uses);

G_END_DECLS
