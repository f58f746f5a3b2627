/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"
#include "wb-material.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Materials of one kind as CSV: vessels, waxes, wicks, fragrances, dyes or
 * additives. Columns are the names of the record's fields, in any order;
 * numbers in stored units; enumerations by their words, flags yes or no, days
 * ISO 8601. What points at another record (a supplier's recommendation, a
 * part of a blend) is not in it.
 */

/* Kinds that can be written and read; ends with NULL. */
const WbRecordType *const *wb_exchange_material_types (void);

/* `records` of one of these types. A column that no record fills is left out. Whole or not at all. */
gboolean   wb_exchange_material_write (GFile *file, const WbRecordType *type, const GPtrArray *records, gboolean invented,
                                       GCancellable *cancellable, GError **error);
/*
 * New records, not stored yet; the array owns them. `type` NULL: the kind
 * whose columns the header has. A row that breaks a rule is left out and told
 * in `remarks` (WbLogRemark); an unknown column is passed over and told there
 * with the header's line. Errors: those of the file; WB_EXCHANGE_ERROR_HEADER, _FORMAT.
 */
GPtrArray *wb_exchange_material_read  (GFile *file, const WbRecordType *type, GPtrArray *remarks, GCancellable *cancellable,
                                       GError **error);

G_END_DECLS
