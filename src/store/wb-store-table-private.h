/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "wb-record.h"
#include "wb-store-digest-private.h"

#include <sqlite3.h>

G_BEGIN_DECLS

/*
 * A record type as its table. Everything that is true of every kind of record
 * is said here once: names of columns, how a field is bound, read and hashed.
 */
typedef struct
{
  const WbRecordType *type;
  guint               index;      /* place in wb_record_types() */
  gboolean            is_reading; /* counts its own ids and has no row in object */
  const WbFieldSpec  *uuid;       /* NULL: the kind has none */
  char               *insert;     /* id, entry, seq, previous, deleted, fields */
  char               *insert_many; /* the same for WB_STORE_MANY rows */
  int                 n_columns;  /* of one row of an insert */
  char               *columns;    /* "v.id, v.entry, v.deleted, fields of v": what wb_store_table_read() reads */
  char               *current;    /* a condition on v: the version that is there now */
  char               *load;       /* newest version of ?1, deleted or not */
  char               *load_before; /* newest version of ?1 older than entry ?2 */
} WbStoreTable;

/* Rows that go into one insert where there are many: from here on, more of them save little. */
#define WB_STORE_MANY 16

/* Columns before the fields in `columns` and in `insert`. */
#define WB_STORE_TABLE_READ_HEAD 3
#define WB_STORE_TABLE_INSERT_HEAD 5

typedef enum { WB_STORAGE_INTEGER, WB_STORAGE_REAL, WB_STORAGE_TEXT, WB_STORAGE_BLOB } WbStoreStorage;

/* Number of tables; [n] in the order of wb_record_types(). Thread-safe, static. */
guint               wb_store_table_count (void);
const WbStoreTable *wb_store_table_nth   (guint index);
const WbStoreTable *wb_store_table_find  (const WbRecordType *type);
const WbStoreTable *wb_store_table_named (const char *name);

/* What a field is stored as. A whole number and a word known by its digit are INTEGER, other words TEXT. */
WbStoreStorage wb_store_field_storage (const WbFieldSpec *field);
/* 2 for an instant, else 1. Names are NAME, or NAME_us and NAME_offset_s. */
guint          wb_store_field_columns (const WbFieldSpec *field);

/* Binds one field at `index` (and the next for an instant); leaves NULL what is not known. Text is borrowed until the next step. */
void     wb_store_field_bind   (const WbFieldSpec *field, gconstpointer record, sqlite3_stmt *statement, int index);
/*
 * Binds a version, whose entry is the record's, to the parameters after `first`
 * (0 for the only row of an insert); the statement's bindings have been cleared.
 */
void     wb_store_table_bind   (const WbStoreTable *self, gconstpointer record, gint64 seq, gint64 previous,
                                sqlite3_stmt *statement, int first);
/* A record from a row of `columns`; caller owns it. A word that this version does not know is read as not known. */
gpointer wb_store_table_read   (const WbStoreTable *self, sqlite3_stmt *statement);
/* The same into a record of this type, whose texts must be NULL. */
void     wb_store_table_read_into (const WbStoreTable *self, sqlite3_stmt *statement, gpointer record);
/* The values of a version, from the record: as wb-store-digest-private.h says. */
void     wb_store_table_digest (const WbStoreTable *self, gconstpointer record, gint64 seq, gint64 previous,
                                WbStoreDigest *digest);

G_END_DECLS
