/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"
#include "wb-store-change.h"

G_BEGIN_DECLS

/*
 * Burn-log rows into the record, in two passes over the same file.
 *
 * Pass 1 judges row after row and writes nothing to the notebook: what the
 * rows so far and the record say of each experiment, wick, sample, burn and
 * observation is kept in a temporary database of its own. Pass 2 writes what
 * was accepted, as one entry.
 *
 * A row is a set of statements about its observation, burn, sample, wick and
 * experiment; an empty cell states nothing. A row all of whose statements
 * are known already is KNOWN. One that contradicts an earlier row or the
 * record is REFUSED, and none of its statements count. Otherwise it is
 * ACCEPTED: it makes new records, or completes those that are there.
 *
 * A reading that was taken out or amended since stays so: the row that it was
 * is KNOWN, with a remark. What an undo or taking back an import ended counts
 * as never made.
 */

typedef enum { WB_IMPORT_ACCEPTED, WB_IMPORT_KNOWN, WB_IMPORT_REFUSED } WbImportVerdict;

typedef struct _WbStoreImport WbStoreImport;

/*
 * `store` may be NULL: the notebook does not exist yet. It is borrowed until
 * wb_store_import_free(). `extra_columns` are the names of the file's unknown
 * columns in the order of WbLogRow.extra; NULL: none. Errors: FULL, FAILED.
 */
WbStoreImport *wb_store_import_new  (WbStore *store, const char *const *extra_columns, GError **error);
void           wb_store_import_free (WbStoreImport *self);

/*
 * Pass 1, one row. Remarks (WbLogRemark) are appended: of a refused row why,
 * naming the line or record contradicted; of another what is worth saying.
 * Rows come in the file's order, with growing lines. FALSE only with an error (FULL, DAMAGED, FAILED).
 */
gboolean wb_store_import_judge (WbStoreImport *self, const WbLogRow *row, WbImportVerdict *verdict,
                                GPtrArray *remarks, GError **error);

/*
 * Pass 2. `store` is the one of wb_store_import_new(), or the one made since
 * if that was NULL. CONFLICT if the notebook has another last entry than when pass 1 began: judge anew.
 * `source` is the file's name, kept with each reading.
 */
gboolean wb_store_import_begin (WbStoreImport *self, WbStore *store, const char *source, const char *who,
                                WbInstant now, GError **error);
/* The same row again, in the same order; one that was not accepted is passed over. */
gboolean wb_store_import_put   (WbStoreImport *self, const WbLogRow *row, GError **error);
/* `entry` is 0 if there was nothing to write; may be NULL. */
gboolean wb_store_import_commit (WbStoreImport *self, gint64 *entry, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbStoreImport, wb_store_import_free)

G_END_DECLS
