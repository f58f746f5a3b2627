/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-log-row.h"
#include "wb-material.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * Materials as CSV (RFC 4180, UTF-8). The column "record" names a row's table: vessel, wax, wick, fragrance, dye, additive, and
 * what belongs to one of them: wick_guide, fragrance_part, method_step, lot. All other columns are the fields of those record
 * types by their names, numbers in the stored unit with a point. A part's row names its owner by the owner's own columns (name;
 * series and size; name and inner_diameter_mm), a lot's besides by the kind in "of"; "wax" and "part" hold names. Written,
 * an empty cell is a value that is not known; read, it leaves what is there as it is. Text that a spreadsheet would run as a
 * formula has an apostrophe before it (wb-exchange-text.h). Identity is that of wb-material.h.
 */

/* The kinds that a file may be of: those six types, in the order of the shelf; ends with NULL. */
const WbRecordType *const *wb_exchange_shelf_kinds (void);
/* By its table's name; NULL: there is no such kind. */
const WbRecordType *wb_exchange_shelf_find_kind (const char *name);

/* What a row may be: the kinds, then what belongs to them; ends with NULL. */
const WbRecordType *const *wb_exchange_shelf_types (void);
/* The reference field by which a part names its owner; NULL: it is a kind. */
const WbFieldSpec  *wb_exchange_shelf_get_owner (const WbRecordType *part);
/* The other reference of a part ("wax" of a guide, "part" of a blend); NULL: none. */
const WbFieldSpec  *wb_exchange_shelf_get_other (const WbRecordType *part);
/* The fields by which people tell two of a kind apart; ends with NULL. */
const char *const  *wb_exchange_shelf_get_identity (const WbRecordType *kind);

/*
 * Writes the rows of `kind` with what belongs to them, NULL: all, whole or not at all. records: of all kinds and parts, for what
 * they refer to. Errors: those of GIO.
 */
gboolean wb_exchange_shelf_write (GFile *file, GPtrArray *records, const WbRecordType *kind, GCancellable *cancellable, GError **error);

/* One row as it was read; what it refers to is not looked up yet. */
typedef struct
{
  guint64             line;
  const WbRecordType *type;
  gpointer            record; /* WbRecord of that type: the cells of its own columns */
  guint64             given;  /* bit i: field i has a value in the file */
  gpointer            owner;  /* of a part: a WbRecord of the owner's kind with its identity; NULL: a kind's row */
  char               *other;  /* name of a guide's wax, of a blend's part; NULL: none */
} WbExchangeShelfRow;

typedef struct
{
  GPtrArray *rows;    /* WbExchangeShelfRow, in the order of the file */
  GPtrArray *refused; /* WbLogRemark */
  char     **columns; /* of the file; strv */
  char     **unknown; /* those that say nothing here; strv */
} WbExchangeShelf;

/*
 * Reads it: cells parted by commas, semicolons or tabs, numbers with a point, with a comma too where none parts the cells. kind: of
 * a file without the column "record"; NULL: it must have that. Whether a required value is missing is for the caller, who knows
 * what is there. Errors: those of GIO; WB_EXCHANGE_ERROR_HEADER for a column that is missing or doubled,
 * WB_EXCHANGE_ERROR_FORMAT for what is no sheet at all, or longer than 10 000 rows or 32 MiB.
 */
WbExchangeShelf *wb_exchange_shelf_read (GFile *file, const WbRecordType *kind, GCancellable *cancellable, GError **error);
/* NULL is let pass. */
void             wb_exchange_shelf_free (WbExchangeShelf *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (WbExchangeShelf, wb_exchange_shelf_free)

G_END_DECLS
